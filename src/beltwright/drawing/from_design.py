"""From the design to the picture: the only module of the drawings that knows the design's own types."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from beltwright import __version__
from beltwright.arrangement.model import Trace
from beltwright.core.cautions import CAUTIONS
from beltwright.core.columns import ColumnTable
from beltwright.core.units import FloatArray
from beltwright.drawing.from_hull import hull_lines
from beltwright.drawing.picture import (
    AreaBorder,
    AreaPicture,
    Callout,
    FrameMark,
    PanelPicture,
    PlatePicture,
    ShellCurve,
    ShipPicture,
    TitleData,
)
from beltwright.drawing.shapes import straightened, thinned
from beltwright.hull.section import sections
from beltwright.rules.protocol import Strengthens, TransverseBorder
from beltwright.scantlings.areas import codes_strengthening
from beltwright.scantlings.design import BorderCurve, Design

_FLAT_END_M = 0.02  # a border that runs this little along the ship while its girth changes lies on a flat end
_SAG_M = 0.002  # how far a drawn line may leave the true one: 0.02 mm on paper at 1:100


def picture_of(design: Design, inputs_sha256: str, plates: tuple[PlatePicture, ...] = ()) -> ShipPicture:
    """Return the picture of a design; ``inputs_sha256`` is the hash of everything the user gave.

    ``plates`` are the physical plates where they were laid.
    """
    arrangement, lines = design.arrangement, hull_lines(design)
    return ShipPicture(
        title=title_of(design, inputs_sha256),
        panels=_panels(design),
        frame_callouts=_frame_callouts(design),
        frames=_runs(arrangement.frame_traces, lambda kind: kind != "intermediate frame"),
        intermediate_frames=_runs(arrangement.frame_traces, lambda kind: kind == "intermediate frame"),
        web_frames=_runs(arrangement.web_traces, lambda _: True),
        levels=tuple(_curve(trace) for trace in arrangement.level_traces),
        bulkheads=tuple(_curve(trace) for trace in arrangement.bulkhead_traces),
        openings=_openings(design),
        borders=tuple(_border(design, curve) for curve in design.borders if len(curve.expansion) > 1),
        areas=_areas(design),
        upper=lines.upper,
        lower=lines.lower,
        expansion_outline=lines.expansion_outline,
        profile_outline=lines.profile_outline,
        waterline_plan=lines.waterline_plan,
        sections=lines.sections,
        stations=lines.stations,
        frame_marks=_frame_marks(design),
        stem_x_m=design.measures.stem_x_m,
        draughts=_draughts(design),
        cautions=tuple(f"{head}. {words}" for head, words in CAUTIONS),
        plates=plates,
    )


def title_of(design: Design, inputs_sha256: str) -> TitleData:
    """Return what stands in every title block."""
    identity = design.ship.ship
    rules = "; ".join(f"{document.short} {document.edition}" for document in design.rules.documents)
    name = design.rules.rule_length
    length = design.areas.trace[name].value if name in design.areas.trace else float("nan")
    return TitleData(
        ship=identity.name,
        owner=identity.owner,
        yard=identity.yard,
        designer=identity.designer,
        revision=identity.revision,
        ice_class=design.ship.ice.ice_class,
        rules=rules,
        displacement_kt=design.measures.upper.displacement_kt,
        length_m=float(length),
        input_hash=inputs_sha256,
        program_version=__version__,
    )


def _areas(design: Design) -> tuple[AreaPicture, ...]:
    """The hull areas with what the area table says of them."""
    table = design.area_table
    rows = {str(code): row for row, code in enumerate(table["code"].data)}

    def said(code: str, *names: str, decimals: int = 2) -> str:
        columns = [table[name] for name in names if name in table]
        row = rows[code]
        if not columns or not all(column.applies[row] for column in columns):
            return "–"
        words = [f"{column.data[row]:.{decimals}f}" for column in columns]
        return " to ".join(dict.fromkeys(words))

    return tuple(
        AreaPicture(
            code=area.code,
            title=area.title,
            strengthened=area.strengthened,
            area_factor=said(area.code, "area_factor"),
            pressure=said(area.code, "pressure_avg_mpa"),
            governing_load=str(table["governing_load_area"].data[rows[area.code]]) or "–",
            plating=said(area.code, "thickness_least_mm", "thickness_most_mm", decimals=1),
            frames=str(table["frame_sections"].data[rows[area.code]]) or "–",
            net_required=said(area.code, "net_least_mm", "net_most_mm", decimals=1),
            renewal=said(area.code, "renewal_least_mm", "renewal_most_mm", decimals=1),
        )
        for area in design.areas.areas
    )


def _panels(design: Design) -> tuple[PanelPicture, ...]:
    """Every panel's outline, area and group."""
    table, shapes = design.plating, design.arrangement.panel_shapes
    framed = set(codes_strengthening(design.areas, Strengthens.FRAMING))
    columns = (table.labels(name).tolist() for name in ("id", "hull_area", "touched", "group", "outcome"))
    flat = straightened(shapes.outline_expansion, _SAG_M, edges=4)
    seen = straightened(shapes.outline[:, :, [0, 2]], _SAG_M, edges=4)
    return tuple(
        PanelPicture(
            id=name,
            outline=flat[row],
            profile=seen[row],
            hull_area=area,
            group=group,
            met=outcome != "not met",
            plate=_plate_words(table, row),
            unasked="" if area else _unasked(touched, framed, design.areas.outside),
        )
        for row, (name, area, touched, group, outcome) in enumerate(zip(*columns, strict=True))
    )


def _unasked(touched: str, framed: set[str], outside: str) -> str:
    """What shell is called of whose plating nothing is asked; where framing is strengthened, the word plating too."""
    if not touched:
        return outside
    return f"{touched}, plating" if framed & set(touched.split("+")) else touched


def _frame_callouts(design: Design) -> tuple[Callout, ...]:
    """One callout per group of frames and section, with the middle of each span on the expansion."""
    table, line = design.frames, design.arrangement.frame_shapes.expansion
    places = line[:, line.shape[1] // 2]
    found: dict[tuple[str, str], list[int]] = {}
    sections = table.labels("section").tolist()
    for row, (group, section) in enumerate(zip(table.labels("group").tolist(), sections, strict=True)):
        if section:
            found.setdefault((group, f"{section}{_star(table, row)}"), []).append(row)
    outcome = table.labels("outcome")
    return tuple(
        Callout(group=group, lines=(said,), places=places[rows], met=not bool((outcome[rows] == "not met").any()))
        for (group, said), rows in sorted(found.items())
    )


def _plate_words(table: ColumnTable, row: int) -> str:
    """Thickness and grade; nothing where there is no thickness."""
    column = table["thickness_as_built_mm"]
    return f"{column.data[row]:g} {table['grade'].data[row]}{_star(table, row)}" if column.applies[row] else ""


def _star(table: ColumnTable, row: int) -> str:
    """The mark of what the program proposes."""
    return " *" if str(table["source"].data[row]) == "proposed" else ""


def _runs(traces: Sequence[Trace], wanted: Callable[[str], bool]) -> tuple[FloatArray, ...]:
    """The lines of members of a kind on the expansion."""
    runs = [trace.expansion for trace in traces if wanted(trace.kind)]
    return tuple(straightened(np.stack(runs), _SAG_M)) if runs else ()


def _curve(trace: Trace) -> ShellCurve:
    """A line of structure as a curve."""
    return ShellCurve(
        name=trace.name,
        kind=trace.kind,
        expansion=thinned(trace.expansion, _SAG_M),
        profile=thinned(trace.points[:, [0, 2]], _SAG_M),
    )


def _openings(design: Design) -> tuple[ShellCurve, ...]:
    """Openings as rectangles in length and girth, and what they look like on the profile."""
    found = []
    for opening in design.ship.openings:
        if opening.side == "starboard":
            continue
        low, high = opening.x_m - 0.5 * opening.length_m, opening.x_m + 0.5 * opening.length_m
        cut = sections(design.measures.shell, np.array([low, opening.x_m, high]))
        centre = cut.at_heights(np.array([opening.z_m]))
        middle = centre.girth_m[(centre.section == 1) & centre.main]
        if len(middle) == 0:
            continue
        up = 0.5 * opening.height_m
        box = np.array([(low, middle[0] - up), (high, middle[0] - up), (high, middle[0] + up), (low, middle[0] + up)])
        total = cut.girth_total_m[[0, 2, 2, 0]]
        if not bool(((box[:, 1] >= 0.0) & (box[:, 1] <= total)).all()):
            continue
        corners = cut.at_girth(np.array([0, 2, 2, 0]), box[:, 1]).at.points
        found.append(ShellCurve(name=opening.name, kind="opening", expansion=box, profile=corners[:, [0, 2]]))
    return tuple(found)


def _border(design: Design, curve: BorderCurve) -> AreaBorder:
    """A border's piece with its sides, and for a transverse one where it stands at the upper ice waterline."""
    border = curve.border
    transverse = isinstance(border, TransverseBorder)
    line = ShellCurve(
        name=border.name,
        kind="border",
        expansion=thinned(curve.expansion if transverse else _along_side(curve.expansion), _SAG_M),
        profile=thinned(curve.points[:, [0, 2]], _SAG_M),
    )
    outside = design.areas.outside
    aft_side, fore_side = (_joined((pair[k] for pair in curve.sides), outside) for k in (0, 1))
    if not transverse:
        return AreaBorder(
            name=border.name, sides=(aft_side, fore_side), curve=line, transverse=False, aft_of_stem_m=None, x_m=None,
            frame="",
        )  # fmt: skip
    x = _x_at_upper(design, curve)
    frame = float(design.arrangement.stations.frame_of(x))
    return AreaBorder(
        name=border.name, sides=(aft_side, fore_side), curve=line, transverse=True,
        aft_of_stem_m=design.measures.stem_x_m - x, x_m=x, frame=f"Fr {frame:.2f}",
    )  # fmt: skip


def _along_side(run: FloatArray) -> FloatArray:
    """A border along the ship without its part on a flat transom, where all girths stand at one x."""
    aft = float(run[:, 0].min())
    on_end = run[:, 0] < aft + _FLAT_END_M
    if np.ptp(run[on_end, 1]) < _FLAT_END_M:
        return run
    corner = int(np.argmax(np.where(on_end, run[:, 1], -np.inf)))
    on_end[corner] = False
    return run[~on_end]


def _x_at_upper(design: Design, curve: BorderCurve) -> float:
    """Where a transverse border meets the upper ice waterline, or comes nearest to it [m from AP]."""
    above = curve.points[:, 2] - design.measures.upper.level.height(curve.points[:, 0])
    return float(curve.points[int(np.argmin(np.abs(above))), 0])


def _joined(codes: Iterable[str], outside: str) -> str:
    """Area codes, each once, in words."""
    return ", ".join(dict.fromkeys(code or outside for code in codes))


def _frame_marks(design: Design) -> tuple[FrameMark, ...]:
    """Every main frame."""
    stations = design.arrangement.stations
    return tuple(
        FrameMark(label=str(number), number=float(number), x_m=x)
        for number, x in zip(stations.numbers.tolist(), stations.x_m.tolist(), strict=True)
    )


def _draughts(design: Design) -> tuple[tuple[str, float, float, float], ...]:
    """Heights of both ice waterlines at the stem, amidships and at the aft perpendicular."""
    stem = design.measures.stem_x_m
    places = (("stem", stem), ("amidships", 0.5 * stem), ("aft perpendicular", 0.0))
    x = np.array([place for _, place in places])
    upper, lower = design.measures.upper.level.height(x), design.measures.lower.level.height(x)
    return tuple((name, at, float(u), float(w)) for (name, at), u, w in zip(places, upper, lower, strict=True))
