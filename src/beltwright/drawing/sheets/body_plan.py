"""The body plan with hull angles: sections with beta, the waterline with alpha, buttocks with gamma."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.paper import (
    A_SIZES,
    FILING_MARGIN,
    MARGIN,
    TITLE_HEIGHT,
    Paper,
    border,
    notes,
    scale_bar,
    table,
    title_block,
)
from beltwright.drawing.paper import choose_paper as choose
from beltwright.drawing.picture import ShipPicture, StationPicture
from beltwright.drawing.registry import Sheet
from beltwright.drawing.scene import Anchor, Dot, Element, Group, Layer, Lines, Plot, Scene, Words, line
from beltwright.drawing.sheets.angles import alpha_marks, beta_marks, gamma_marks
from beltwright.drawing.sheets.profile import ANGLE_COLUMNS, angle_row

TITLE = "Body plan with hull angles at the load stations"
_GAP = 14.0
_NOTES = (
    "α: waterline angle from the centreline. γ: buttock angle from horizontal.",
    "β: frame angle from vertical in the transverse plane. β′: the same in the plane square to the waterline.",
    "Angles are read on the upper ice waterline at the places marked. A dash means the angle does not apply there.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Views:
    """The three views: body plan, waterline plan and profile of the bow, at one scale."""

    paper: Paper
    body: Plot
    plan: Plot
    bow: Plot
    half_breadth: float
    height: float
    from_x: float
    to_x: float


def draw(picture: ShipPicture) -> Scene:
    """Draw the body plan and the two views of the bow."""
    views = _views(picture)
    x, y, width, _ = views.paper.inner
    foot = [
        *table(
            x + 6.0,
            y + TITLE_HEIGHT,
            "Hull angles at UIWL, degrees",
            ANGLE_COLUMNS,
            [angle_row(s) for s in picture.stations],
        ),
        *scale_bar(x + 6.0, y + 4.0, views.paper.mm_per_m),
    ]
    left = x + 6.0 + sum(w for _, w in ANGLE_COLUMNS) + 10.0
    room = x + width - 186.0 - left - 8.0
    if room > 60.0:
        foot += notes(left, y + TITLE_HEIGHT, min(room, 180.0), "Notes", _NOTES)
    groups = (
        Group(name="body plan", items=tuple(_body(picture, views))),
        Group(name="waterline plan", items=tuple(_plan(picture, views))),
        Group(name="bow profile", items=tuple(_bow(picture, views))),
        border(views.paper),
        Group(name="tables", items=tuple(foot)),
        title_block(views.paper, picture.title, TITLE, f"1:{views.paper.scale}"),
    )
    return Scene(
        width_mm=views.paper.width_mm,
        height_mm=views.paper.height_mm,
        title=f"{picture.title.ship}: {TITLE.lower()}",
        description="Body plan with frame angles, waterline with waterline angles, bow profile with buttock angles.",
        groups=groups,
    )


def _views(picture: ShipPicture) -> _Views:
    """Choose the paper and place the three views: body plan left, plan over profile right."""
    outline = picture.profile_outline
    half = max(float(points[:, 0].max()) for _, points in picture.sections)
    low, height = float(outline[:, 1].min()), float(outline[:, 1].max())
    to_x = float(outline[:, 0].max())
    aftmost = min((s.point[0] for s in picture.stations), default=0.7 * to_x)
    from_x = aftmost - 0.12 * (to_x - aftmost) - 2.0
    tall = height - low + half + 1.0
    paper = choose(
        2 * half + to_x - from_x,
        tall,
        FILING_MARGIN + MARGIN + 3 * _GAP,
        2 * MARGIN + 3 * _GAP + TITLE_HEIGHT + 12.0,
        longest_mm=A_SIZES["A1"][0],
    )
    x, y, width, inner_height = paper.inner
    mm = paper.mm_per_m
    free = width - (2 * half + to_x - from_x) * mm
    base = y + TITLE_HEIGHT + 12.0 + 0.5 * (inner_height - TITLE_HEIGHT - 12.0 - tall * mm - _GAP)
    body_base = y + TITLE_HEIGHT + 12.0 + 0.5 * (inner_height - TITLE_HEIGHT - 12.0 - (height - low) * mm)
    body = Plot(paper_x=x + free / 3 + half * mm, paper_y=body_base, reference=(0.0, low), scale_mm_per_m=mm)
    right = x + 2 * free / 3 + 2 * half * mm
    bow = Plot(paper_x=right, paper_y=base, reference=(from_x, low), scale_mm_per_m=mm)
    plan = Plot(
        paper_x=right, paper_y=base + (height - low + 1.0) * mm + _GAP, reference=(from_x, 0.0), scale_mm_per_m=mm
    )
    return _Views(
        paper=paper, body=body, plan=plan, bow=bow, half_breadth=half, height=height, from_x=from_x, to_x=to_x
    )


def _middle_x(picture: ShipPicture) -> float:
    """The x that parts the aft sections (left) from the forward ones (right)."""
    return 0.5 * (float(picture.profile_outline[:, 0].min()) + float(picture.profile_outline[:, 0].max()))


def _body(picture: ShipPicture, views: _Views) -> list[Element]:
    """Sections thin, the load stations' sections heavy with their arcs; aft sections to the left."""
    plot, middle = views.body, _middle_x(picture)
    thin = tuple(plot.place(_sided(points, x < middle)) for x, points in picture.sections)
    heavy = tuple(plot.place(_sided(s.section, False)) for s in picture.stations)
    half, upper = views.half_breadth, float(np.interp(middle, *picture.upper.profile.T))
    items: list[Element] = [
        line(Layer.AXIS, plot.at(0.0, plot.reference[1]), plot.at(0.0, views.height + 0.8)),
        line(Layer.UPPER_WATERLINE, plot.at(-half - 0.6, upper), plot.at(half + 0.6, upper)),
        Lines(layer=Layer.SHELL_THIN, runs=thin),
        Lines(layer=Layer.SHELL, runs=heavy),
        Words(at=_raised(plot.at(0.0, views.height), 24.0), text="Body plan, seen from ahead", size_mm=2.8,
              anchor=Anchor.MIDDLE, bold=True),
    ]  # fmt: skip
    placer = LabelPlacer(window=_window(plot, -half - 3.0, half + 4.0, plot.reference[1] - 1.0, views.height + 3.0))
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.shun(heavy)
    return items + _marked(picture.stations, placer, plot, "beta", plot.at(0.0, views.height)[1] + 4.0)


def _plan(picture: ShipPicture, views: _Views) -> list[Element]:
    """The upper ice waterline of the bow with the waterline angles."""
    plot = views.plan
    curve = picture.waterline_plan[picture.waterline_plan[:, 0] >= views.from_x]
    items: list[Element] = [
        line(Layer.AXIS, plot.at(views.from_x, 0.0), plot.at(views.to_x, 0.0)),
        Lines(layer=Layer.SHELL, runs=(plot.place(curve),)),
        Words(
            at=_raised(plot.at(views.from_x, views.half_breadth), 5.0),
            text="Upper ice waterline",
            size_mm=2.8,
            bold=True,
        ),
    ]
    placer = LabelPlacer(window=_window(plot, views.from_x, views.to_x + 3.0, -0.5, views.half_breadth + 1.5))
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.shun([plot.place(curve)])
    return items + _marked(picture.stations, placer, plot, "alpha")


def _bow(picture: ShipPicture, views: _Views) -> list[Element]:
    """The bow profile: stem, buttocks through the stations, and the buttock angles."""
    plot = views.bow
    window = _window(plot, views.from_x, views.to_x + 3.0, plot.reference[1] - 0.5, views.height + 1.0)
    outline = plot.place(_clipped(picture.profile_outline, views.from_x))
    buttocks = tuple(plot.place(s.buttock[s.buttock[:, 0] >= views.from_x]) for s in picture.stations)
    upper = picture.upper.profile[picture.upper.profile[:, 0] >= views.from_x]
    items: list[Element] = [
        Lines(layer=Layer.SHELL, runs=(outline,)),
        Lines(layer=Layer.UPPER_WATERLINE, runs=(plot.place(upper),) if len(upper) else ()),
        Lines(layer=Layer.SHELL_THIN, runs=tuple(run for run in buttocks if len(run))),
        Words(
            at=_raised(plot.at(views.from_x, views.height), 3.0),
            text="Bow profile with buttocks",
            size_mm=2.8,
            bold=True,
        ),
    ]
    placer = LabelPlacer(window=window)
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.shun([outline, *buttocks])
    return items + _marked(picture.stations, placer, plot, "gamma")


def _marked(
    stations: tuple[StationPicture, ...], placer: LabelPlacer, plot: Plot, which: str, row_mm: float | None = None
) -> list[Element]:
    """The angle marks of every station and their values, clear of each other; ``row_mm`` [mm] sets them in a row."""
    items: list[Element] = []
    values: list[Label] = []
    for station in stations:
        marks = {"alpha": alpha_marks, "beta": beta_marks, "gamma": gamma_marks}[which](station, plot)
        items += marks.elements
        placer.shun(run for element in marks.elements if isinstance(element, Lines) for run in element.runs)
        places = marks.words_at
        if row_mm is not None:
            x, y = marks.point
            places = tuple((x, row_mm + 3.6 * step) for step in range(4))
            items.append(line(Layer.TANGENT, (x, y), (x, row_mm - 1.6)))
        values.append(
            Label(
                lines=(f"{station.name}: {marks.words}",),
                points=places,
                size_mm=2.2,
                layer=Layer.ANGLE_WORDS,
            )
        )
        items.append(Dot(layer=Layer.ANGLE, centre=marks.point, radius_mm=0.7))
    for label in values:
        items += placer.place(label)
    return items


def _sided(points: FloatArray, left: bool) -> FloatArray:
    """A section (y, z) mirrored to the left where wanted."""
    sided: FloatArray = points * np.array([-1.0 if left else 1.0, 1.0])
    return sided


def _raised(point: tuple[float, float], by_mm: float) -> tuple[float, float]:
    """A paper place moved up."""
    return point[0], point[1] + by_mm


def _window(plot: Plot, x0: float, x1: float, y0: float, y1: float) -> tuple[float, float, float, float]:
    """A window on the paper from corners in metres."""
    left, low = plot.at(x0, y0)
    right, high = plot.at(x1, y1)
    return left, low, right - left, high - low


def _clipped(outline: FloatArray, from_x: float) -> FloatArray:
    """The part of the closed profile outline forward of ``from_x``, as one open run from keel to deck."""
    import shapely

    low, high = outline.min(axis=0) - 1.0, outline.max(axis=0) + 1.0
    kept = shapely.intersection(shapely.Polygon(outline).buffer(0), shapely.box(from_x, low[1], high[0], high[1]))
    ring = np.array(kept.exterior.coords)[:-1]
    start = int(np.argmin(ring[:, 0] * 1e3 + ring[:, 1]))
    ring = np.roll(ring, -start, axis=0)
    return ring if ring[1, 0] > from_x + 1e-6 else np.roll(ring, -1, axis=0)[::-1]


SHEET = Sheet(id="body-plan", title=TITLE, draw=draw)
