"""The profile with hull areas: waterlines, borders dimensioned from both ends and by frame, and tables."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.panelfills import panel_fills
from beltwright.drawing.paper import (
    FILING_MARGIN,
    MARGIN,
    TITLE_HEIGHT,
    TITLE_WIDTH,
    Paper,
    border,
    choose_paper,
    notes,
    scale_bar,
    table,
    title_block,
)
from beltwright.drawing.picture import AreaBorder, ShipPicture, StationPicture
from beltwright.drawing.registry import Sheet
from beltwright.drawing.scene import Element, Filled, Group, Layer, Lines, Plot, Scene, Words, dimension, line
from beltwright.drawing.sheets.legend import (
    LEGEND_WIDTH,
    LEVEL_LAYERS,
    draught_table,
    legend,
    longest_of_each_name,
    name_along,
    sides_words,
    spread_names,
)
from beltwright.drawing.sheets.rulers import FRAME_RULER_HEIGHT, frame_ruler, girth_ruler

TITLE = "Profile with hull areas and ice waterlines"
_RULER_WIDTH, _NAMES = 14.0, 34.0
_ABOVE, _BELOW = 12.0, 12.0
_DIMENSION_STEP = 6.5
_STRIP = TITLE_HEIGHT + 16.0
_SHORT_M = 8.0  # a border shorter than this has no name of its own
_NOTES = (
    "Hull areas, levels and borders are projected from the shell onto the centre plane; port side shown.",
    (
        "x is from the aft perpendicular, forward positive; z from the baseline, up. Distances from the stem "
        "are from its "
        "fore side at the upper ice waterline."
    ),
    "Openings: height is measured along the girth, so that they look lower on flared sides.",
    "A panel that a border crosses is filled as the area whose factor it takes.",
)
_OF_STATIONS = "Stations are where the hull angles for the bow loads are read, on the upper ice waterline."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """The sheet being drawn."""

    picture: ShipPicture
    paper: Paper
    plot: Plot
    low_x: float
    high_x: float
    low_z: float
    high_z: float
    rows: int

    @property
    def foot(self) -> float:
        """The paper height of the lowest point of the profile."""
        return self.plot.at(0.0, self.low_z)[1]


def draw(picture: ShipPicture) -> Scene:
    """Draw the profile of a ship."""
    board = _board(picture)
    words = _names(board)
    dimensions = _dimensions(board)
    groups = (
        Group(name="hull areas", items=tuple(_areas(board))),
        Group(name="structure", items=tuple(_structure(board))),
        Group(name="waterlines and borders", items=tuple(_lines(board))),
        Group(name="rulers", items=tuple(_rulers(board))),
        Group(name="names", items=tuple(words)),
        Group(name="dimensions", items=tuple(dimensions)),
        Group(name="labels", items=tuple(_labels(board, [*words, *dimensions]))),
        border(board.paper),
        Group(name="tables", items=tuple(_strip(board))),
        title_block(board.paper, picture.title, TITLE, f"1:{board.paper.scale}"),
    )
    return Scene(
        width_mm=board.paper.width_mm,
        height_mm=board.paper.height_mm,
        title=f"{picture.title.ship}: {TITLE.lower()}",
        description="Side profile with ice waterlines, hull areas, dimensions of their borders, draughts and angles.",
        groups=groups,
    )


def _transverse(picture: ShipPicture) -> list[AreaBorder]:
    """The transverse borders that have a place, from aft forward."""
    found = [b for b in picture.borders if b.transverse and b.x_m is not None]
    return sorted(found, key=lambda b: b.x_m or 0.0)


def _board(picture: ShipPicture) -> _Board:
    """Choose the paper and place the profile on it."""
    outline = picture.profile_outline
    (low_x, low_z), (high_x, high_z) = outline.min(axis=0), outline.max(axis=0)
    low_x = min(float(low_x), 0.0)
    rows = 2 * len({b.x_m for b in _transverse(picture)}) if picture.borders else 0
    beside = FILING_MARGIN + MARGIN + _RULER_WIDTH + _NAMES + 12.0
    below = _BELOW + _DIMENSION_STEP * (rows + 1)
    above_below = 2 * MARGIN + FRAME_RULER_HEIGHT + _ABOVE + below + _STRIP
    paper = choose_paper(float(high_x) - low_x, float(high_z - low_z), beside, above_below)
    x, y, width, height = paper.inner
    mm = paper.mm_per_m
    free_x = width - (float(high_x) - low_x) * mm - _RULER_WIDTH - _NAMES
    free_y = height - float(high_z - low_z) * mm - FRAME_RULER_HEIGHT - _ABOVE - below - _STRIP
    plot = Plot(
        paper_x=x + _RULER_WIDTH + 0.5 * free_x,
        paper_y=y + _STRIP + below + 0.5 * free_y,
        reference=(low_x, float(low_z)),
        scale_mm_per_m=mm,
    )
    return _Board(
        picture=picture, paper=paper, plot=plot, low_x=low_x, high_x=float(high_x), low_z=float(low_z),
        high_z=float(high_z), rows=rows,
    )  # fmt: skip


def _areas(board: _Board) -> list[Element]:
    """Panels projected on the profile, one shape per hull area."""
    panels = board.picture.panels
    return [*panel_fills(panels, [panel.profile for panel in panels], board.plot)]


def _structure(board: _Board) -> list[Element]:
    """Outline, levels and bulkheads."""
    picture = board.picture
    items: list[Element] = [
        Lines(layer=LEVEL_LAYERS[level.kind], runs=(board.plot.place(level.profile),)) for level in picture.levels
    ]
    items += [Lines(layer=Layer.BULKHEAD, runs=(board.plot.place(b.profile),)) for b in picture.bulkheads]
    openings = tuple(board.plot.place(opening.profile) for opening in picture.openings)
    if openings:
        items += [Filled(fill="opening", rings=openings), Lines(layer=Layer.OPENING, runs=openings, closed=True)]
    items.append(Lines(layer=Layer.SHELL, runs=(board.plot.place(picture.profile_outline),), closed=True))
    return items


def _lines(board: _Board) -> list[Element]:
    """Borders, waterlines and station marks."""
    picture, plot = board.picture, board.plot
    return [
        Lines(layer=Layer.HULL_AREA_BORDER, runs=tuple(plot.place(b.curve.profile) for b in picture.borders)),
        Lines(layer=Layer.UPPER_WATERLINE, runs=(plot.place(picture.upper.profile),)),
        Lines(layer=Layer.LOWER_WATERLINE, runs=(plot.place(picture.lower.profile),)),
        Lines(layer=Layer.ANGLE, runs=tuple(_station_tick(plot, station) for station in picture.stations)),
    ]


def _station_tick(plot: Plot, station: StationPicture) -> FloatArray:
    """A short upright mark through a station's point."""
    x, y = plot.at(station.point[0], station.point[2])
    return np.array([(x, y - 2.0), (x, y + 2.0)])


def _rulers(board: _Board) -> list[Element]:
    """Frame ruler over the profile, heights to its left, the aft perpendicular."""
    base = board.plot.at(0.0, board.high_z)[1] + _ABOVE
    ap = board.plot.at(0.0, 0.0)[0]
    return [
        *frame_ruler(board.picture.frame_marks, board.plot, base),
        *girth_ruler(
            Plot(
                paper_x=board.plot.paper_x, paper_y=board.plot.at(0.0, 0.0)[1], reference=(board.low_x, 0.0),
                scale_mm_per_m=board.plot.scale_mm_per_m,
            ),
            board.low_x, board.high_z, 6.0, "height above the baseline, m",
        ),
        line(Layer.AXIS, (ap, board.foot - 4.0), (ap, base - 2.0)),
    ]  # fmt: skip


def _names(board: _Board) -> list[Element]:
    """Names of levels and waterlines at the forward end."""
    picture = board.picture
    levels = longest_of_each_name(picture.levels)
    named = [(board.plot.place(level.profile), level.name, Layer.WORDS) for level in levels]
    named += [
        (board.plot.place(c.profile), w, Layer.WATER_WORDS)
        for c, w in ((picture.upper, "UIWL"), (picture.lower, "LIWL"))
    ]
    return spread_names(named, board.plot.at(board.high_x, 0.0)[0] + 6.0)


def _dimensions(board: _Board) -> list[Element]:
    """Each transverse border's lowest place from the stem and from the aft perpendicular, with its frame."""
    plot = board.plot
    ap, stem = plot.at(0.0, 0.0)[0], plot.at(board.picture.stem_x_m, 0.0)[0]
    y = board.foot - _BELOW
    items: list[Element] = []
    seen: set[float] = set()
    floor = y
    for border_ in _transverse(board.picture):
        assert border_.x_m is not None
        if round(border_.x_m, 3) in seen:
            continue
        seen.add(round(border_.x_m, 3))
        x = plot.at(border_.x_m, 0.0)[0]
        words = f"{border_.x_m:.2f} m from the aft perpendicular, {border_.frame}"
        items += dimension((ap, y), (x, y), words)
        y -= _DIMENSION_STEP
        items += dimension((stem, y), (x, y), f"{board.picture.stem_x_m - border_.x_m:.2f} m from the stem")
        items.append(line(Layer.AXIS, (x, y - 1.5), (x, board.foot - 2.0)))
        floor = y
        y -= _DIMENSION_STEP
    if items:
        items.append(line(Layer.AXIS, (ap, floor - 1.5), (ap, board.foot - 2.0)))
        items.append(line(Layer.AXIS, (stem, floor - 1.5), (stem, plot.at(0.0, board.picture.upper.profile[-1, 1])[1])))
    return items


def _labels(board: _Board, fixed: list[Element]) -> list[Element]:
    """Names of hull areas and stations, clear of each other."""
    picture, plot = board.picture, board.plot
    left, low = plot.at(board.low_x, board.low_z)
    right, high = plot.at(board.high_x, board.high_z)
    placer = LabelPlacer(window=(left - 2.0, low - 1.0, right - left + 6.0, high - low + _ABOVE - 3.0))
    placer.take(item.box for item in fixed if isinstance(item, Words))
    placer.shun(plot.place(b.curve.profile) for b in picture.borders)
    placer.shun(plot.place(curve.profile) for curve in (picture.upper, picture.lower))
    items: list[Element] = []
    for area in picture.areas:
        centres = np.array(
            [p.profile.mean(axis=0) for p in picture.panels if p.hull_area == area.code and len(p.profile)]
        )
        if len(centres):
            middle = np.median(centres, axis=0)
            order = np.argsort(np.hypot(0.3 * (centres[:, 0] - middle[0]), centres[:, 1] - middle[1]), kind="stable")
            points = tuple((float(x), float(y)) for x, y in plot.place(centres[order][:80]))
            items += placer.place(Label(lines=(area.code,), points=points, size_mm=4.0, bold=True, leader=False))
    for border_ in picture.borders:
        if not border_.transverse and np.ptp(border_.curve.profile[:, 0]) > _SHORT_M:
            items += name_along(placer, plot.place(border_.curve.profile), border_.name, (0.4,), bold=True)
    for border_ in _transverse(picture):
        assert border_.x_m is not None
        x = plot.at(border_.x_m, 0.0)[0]
        points = tuple((x, high + 4.0 + step) for step in (0.0, 2.0))
        items += placer.place(Label(lines=(sides_words(border_),), points=points, size_mm=2.6, bold=True))
    for station in picture.stations:
        x, y = plot.at(station.point[0], station.point[2])
        label = Label(lines=(station.name,), points=((x, y + 4.0), (x, y - 4.0)), size_mm=2.2, layer=Layer.ANGLE_WORDS)
        items += placer.place(label)
    return items


def _strip(board: _Board) -> list[Element]:
    """Draught table, angle table, notes and cautions."""
    picture = board.picture
    x, y, width, _ = board.paper.inner
    top = y + TITLE_HEIGHT + 2.0
    items = draught_table(picture, x + 6.0, top)
    left = x + 104.0
    if picture.stations:
        rows = [angle_row(station) for station in picture.stations]
        items += table(left, top, "Hull angles at UIWL, degrees", ANGLE_COLUMNS, rows)
        left += sum(w for _, w in ANGLE_COLUMNS) + 10.0
    room = x + width - TITLE_WIDTH - left - 8.0
    if room > LEGEND_WIDTH + 60.0:
        items += legend(picture, left, top, framing=False)
        left, room = left + LEGEND_WIDTH - 50.0, room - LEGEND_WIDTH + 50.0
    if room > 60.0:
        items += notes(left, top, min(room, 150.0), "Notes", (*_NOTES, *((_OF_STATIONS,) if picture.stations else ())))
    if room > 280.0:
        items += notes(left + 160.0, top, min(room - 160.0, 240.0), "Cautions", picture.cautions)
    items += scale_bar(x + 6.0, y + 4.0, board.paper.mm_per_m)
    return items


ANGLE_COLUMNS = (
    ("station", 24.0),
    ("frame", 16.0),
    ("aft of stem m", 24.0),
    ("α", 14.0),
    ("γ", 14.0),
    ("β", 14.0),
    ("β′", 14.0),
)


def angle_row(station: StationPicture) -> tuple[str, ...]:
    """One row of the angle table; an angle that does not apply is a dash."""
    angles = (station.alpha_deg, station.gamma_deg, station.beta_deg, station.beta_prime_deg)
    return (
        station.name,
        station.frame or "–",
        f"{station.aft_of_stem_m:.2f}",
        *("–" if a is None else f"{a:.1f}" for a in angles),
    )


SHEET = Sheet(id="profile", title=TITLE, draw=draw)
