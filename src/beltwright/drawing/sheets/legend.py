"""What sheets share: the legend of hull areas and lines, names written along lines, labels of borders."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.paper import table
from beltwright.drawing.pens import tint_of_area
from beltwright.drawing.picture import AreaBorder, ShellCurve, ShipPicture
from beltwright.drawing.scene import Element, Filled, Layer, Plot, Words, line, rectangle

LEVEL_LAYERS = {
    "deck": Layer.DECK,
    "inner bottom": Layer.DECK,
    "load-carrying stringer": Layer.STRINGER,
    "load-distributing stringer": Layer.DISTRIBUTING_STRINGER,
}
_SAMPLES = (
    (Layer.UPPER_WATERLINE, "upper ice waterline, UIWL"),
    (Layer.LOWER_WATERLINE, "lower ice waterline, LIWL"),
    (Layer.HULL_AREA_BORDER, "hull-area border"),
    (Layer.DECK, "deck, inner bottom"),
    (Layer.STRINGER, "load-carrying stringer"),
    (Layer.DISTRIBUTING_STRINGER, "load-distributing stringer"),
    (Layer.BULKHEAD, "bulkhead"),
    (Layer.FRAME, "frame"),
    (Layer.INTERMEDIATE_FRAME, "intermediate frame"),
    (Layer.WEB_FRAME, "web frame, floor"),
    (Layer.NOT_MET, "panel whose requirement is not met"),
    (Layer.PLATE_BORDER, "thickness or plate group changes"),
)
LEGEND_WIDTH = 252.0
RENEWAL_LAST, RENEWAL_WIDTH = 38.0, 124.0
UNASKED = "no ice strengthening asked"
_SHIFTS = (0.0, 0.02, -0.02, 0.04, -0.04, 0.06, -0.06, 0.09, -0.09)


def legend(picture: ShipPicture, x: float, top: float, *, framing: bool = True) -> list[Element]:
    """The legend: hull areas present, then lines; ``framing`` includes frames."""
    present = {panel.hull_area for panel in picture.panels}
    areas = [area for area in picture.areas if area.code in present]
    items: list[Element] = [Words(at=(x, top - 3.0), text="Hull areas", size_mm=2.8, bold=True)]
    for number, area in enumerate(areas):
        at_x, at_y = x + 60.0 * (number // 6), top - 9.5 - 6.2 * (number % 6)
        box = rectangle(Layer.BOX, at_x, at_y, 8.0, 4.2)
        items += [Filled(fill=tint_of_area(area.code), rings=box.runs), box]
        items.append(Words(at=(at_x + 10.0, at_y + 1.2), text=area.code, size_mm=2.4, bold=True))
        items.append(Words(at=(at_x + 17.0, at_y + 1.2), text=_cut(area.title, 31), size_mm=2.2))
    if any(panel.unasked for panel in picture.panels):
        at_x, at_y = x + 60.0 * (len(areas) // 6), top - 9.5 - 6.2 * (len(areas) % 6)
        items.append(rectangle(Layer.BOX, at_x, at_y, 8.0, 4.2))
        items.append(Words(at=(at_x + 10.0, at_y + 1.2), text=f"white: {UNASKED}", size_mm=2.2))
    x += 60.0 * 2 + 4.0
    laid = [(Layer.PLATE_BORDER, "seam or butt of the plates laid")] if picture.plates else [_SAMPLES[-1]]
    samples = [*_SAMPLES[:-1], *laid] if framing else _SAMPLES[:7]
    items.append(Words(at=(x, top - 3.0), text="Lines", size_mm=2.8, bold=True))
    for number, (layer, words) in enumerate(samples):
        at_x, at_y = x + 60.0 * (number // 7), top - 7.5 - 5.6 * (number % 7)
        items.append(line(layer, (at_x, at_y), (at_x + 12.0, at_y)))
        items.append(Words(at=(at_x + 14.0, at_y - 0.8), text=_cut(words, 34), size_mm=2.2))
    return items


def draught_table(picture: ShipPicture, x: float, top: float) -> list[Element]:
    """Heights of both ice waterlines at the ends and amidships."""
    columns = (("place", 34.0), ("x m", 18.0), ("UIWL m", 18.0), ("LIWL m", 18.0))
    rows = [(p, f"{a:.2f}", f"{u:.2f}", f"{w:.2f}") for p, a, u, w in picture.draughts]
    return table(x, top, "Ice draughts", columns, rows)


def name_along(
    placer: LabelPlacer,
    run: FloatArray,
    name: str,
    shares: Sequence[float],
    *,
    layer: Layer = Layer.WORDS,
    size_mm: float = 2.0,
    bold: bool = False,
) -> list[Element]:
    """A name written along its own line, just above it and turned with it, at some shares of the line's length."""
    items: list[Element] = []
    for share in shares:
        points, turns = [], []
        for shift in _SHIFTS:
            point, turn = _beside(run, min(max(share + shift, 0.02), 0.98), 0.75 * size_mm)
            points.append(point)
            turns.append(turn)
        label = Label(
            lines=(name,), points=tuple(points), turns_deg=tuple(turns), size_mm=size_mm, bold=bold, leader=False,
            layer=layer,
        )  # fmt: skip
        items += placer.place(label)
    return items


def _beside(run: FloatArray, share: float, above_mm: float) -> tuple[tuple[float, float], float]:
    """A place above a line at a share of its length, and the line's angle there, read from the left [deg]."""
    ordered = run if run[0, 0] <= run[-1, 0] else run[::-1]
    length = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ordered, axis=0).T))])
    at = share * length[-1]
    reach = min(8.0, 0.02 * length[-1])
    (x0, x1), (y0, y1) = (np.interp([at - reach, at + reach], length, ordered[:, k]) for k in (0, 1))
    turn = float(np.degrees(np.arctan2(y1 - y0, x1 - x0)))
    x, y = (float(np.interp(at, length, ordered[:, k])) for k in (0, 1))
    normal = np.radians(turn + 90.0)
    return (x + above_mm * float(np.cos(normal)), y + above_mm * float(np.sin(normal))), turn


def longest_of_each_name(curves: Sequence[ShellCurve]) -> list[ShellCurve]:
    """Of curves in pieces, the longest piece of each name."""
    best: dict[str, ShellCurve] = {}
    for curve in curves:
        known = best.get(curve.name)
        if known is None or np.ptp(curve.profile[:, 0]) > np.ptp(known.profile[:, 0]):
            best[curve.name] = curve
    return list(best.values())


def sides_words(border: AreaBorder) -> str:
    """The areas on either side of a border: what the codes of a side share, or all of them."""
    return " | ".join(_shared(side) for side in border.sides)


def _shared(side: str) -> str:
    """The common beginning of several codes, or all of them where there is none."""
    codes = side.split(", ")
    same = 0
    while all(len(code) > same and code[same] == codes[0][same] for code in codes):
        same += 1
    return codes[0][:same] or side


def _cut(text: str, most: int) -> str:
    """A name no longer than a number of characters."""
    return text if len(text) <= most else text[: most - 1] + "…"


def area_table(picture: ShipPicture, x: float, top: float, width: float) -> list[Element]:
    """Each hull area's factor, mean pressure, plating and frame sections, as the design has them."""
    columns = (
        ("area", 14.0),
        ("", 52.0),
        ("area factor", 22.0),
        ("mean p, MPa", 24.0),
        ("load of", 16.0),
        ("plating, mm", 30.0),
        ("", 4.0),
    )
    frames = max(width - sum(w for _, w in columns), 60.0)
    rows = [
        (area.code, area.title, area.area_factor, area.pressure, area.governing_load, area.plating, "", area.frames)
        for area in picture.areas
        if area.strengthened
    ]
    return table(x, top, "Scantlings by hull area, as built", (*columns, ("frames", frames)), rows, words=(0, 1, 7))


def renewal_table(picture: ShipPicture, x: float, top: float) -> list[Element]:
    """Each hull area's plating: net thickness required, as built, and the thickness below which it is renewed.

    Areas without a thickness for renewal are left out; nothing is drawn if there is none at all.
    """
    columns = (("area", 14.0), ("net required, mm", 38.0), ("as built, mm", 34.0), ("renew below, mm", RENEWAL_LAST))
    rows = [(area.code, area.net_required, area.plating, area.renewal) for area in picture.areas if area.renewal != "–"]
    return table(x, top, "Renewal of plating: least to most of the panels", columns, rows) if rows else []


def border_names(picture: ShipPicture, plot: Plot, y: float) -> list[Element]:
    """The names of transverse borders on one level over the picture, each joined to its border's upper end."""
    placer = LabelPlacer(window=(0.0, y - 3.0, 1e6, 6.0))
    items: list[Element] = []
    seen: set[float] = set()
    for border in picture.borders:
        if border.x_m is None or round(border.x_m, 2) in seen:
            continue
        seen.add(round(border.x_m, 2))
        run = plot.place(border.curve.expansion)
        x, top = (float(v) for v in run[int(np.argmax(run[:, 1]))])
        points = tuple((x + shift, y) for shift in (0.0, 12.0, -12.0, 24.0, -24.0, 36.0, -36.0))
        words = f"{sides_words(border)}  {border.frame}"
        placed = placer.place(Label(lines=(words,), points=points, size_mm=2.2, bold=True, leader=False))
        items += [*placed, *([line(Layer.LEADER, (x, y - 1.8), (x, top))] if placed else [])]
    return items


def spread_names(named: Sequence[tuple[FloatArray, str, Layer]], x: float, size_mm: float = 2.0) -> list[Element]:
    """Names of lines in a column at ``x`` [mm], each joined to its line's forward end, spread so that none overlap."""
    ends = [(run[int(np.argmax(run[:, 0]))], name, layer) for run, name, layer in named]
    ends.sort(key=lambda entry: float(entry[0][1]))
    items: list[Element] = []
    for (end, name, layer), y in zip(ends, _spread([float(e[1]) for e, _, _ in ends], 1.6 * size_mm), strict=True):
        items.append(line(Layer.LEADER, (float(end[0]), float(end[1])), (x - 2.0, y), (x - 0.6, y)))
        items.append(Words(at=(x, y - 0.35 * size_mm), text=_cut(name, 20), size_mm=size_mm, layer=layer))
    return items


def _spread(wanted: Sequence[float], step: float) -> list[float]:
    """Heights at least a step apart, as near as may be to the wanted ones (rising)."""
    placed: list[float] = []
    for height in wanted:
        placed.append(max(height, placed[-1] + step) if placed else height)
    shift = float(np.mean(np.array(placed) - np.array(wanted))) if placed else 0.0
    return [height - shift for height in placed]
