"""The shell expansion: true girth of each section over true length, with hull areas, frames, levels and scantlings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.lettering import text_width, wrap
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
    title_block,
)
from beltwright.drawing.picture import ShipPicture
from beltwright.drawing.regions import Region, lines_between, regions_of, seams_and_butts, uncovered
from beltwright.drawing.registry import Sheet
from beltwright.drawing.scene import Element, Filled, Group, Layer, Lines, Plot, Scene
from beltwright.drawing.sheets.legend import (
    LEGEND_WIDTH,
    LEVEL_LAYERS,
    RENEWAL_WIDTH,
    UNASKED,
    area_table,
    border_names,
    draught_table,
    legend,
    longest_of_each_name,
    name_along,
    renewal_table,
)
from beltwright.drawing.sheets.rulers import FRAME_RULER_HEIGHT, frame_ruler, girth_ruler

TITLE = "Shell expansion, port side"
_RULER_WIDTH, _AIR, _NAMES = 14.0, 9.0, 10.0
_STRIP = TITLE_HEIGHT + 14.0
_TABLES = 62.0  # the height that the tables between picture and strip take
LEAST_REGION_MM2 = 60.0  # a smaller region of plating on the paper has no label of its own
_OF_PLATE_MM = 2.0  # type of the words on a physical plate
_PLATE_MM, _BESIDE_MM = 2.5, 36.0  # type of the plates' labels; the widest words beside the shell
_AFT_SHARE, _TRANSOM_M2 = 0.1, 1.0  # an empty corner of the outline this far aft and this large is a transom's
_LEAST_AREA_TABLE = 224.0  # below this width the tables of areas and of renewal do not stand side by side
_SHORT_M = 8.0  # a border shorter than this has no name of its own
_NOTES = (
    (
        "Horizontal: true distance along the ship. Vertical: true girth of each section from the keel's centreline. "
        "Lengths, areas, masses and spans are taken from the surface, never from this sheet."
    ),
    "Port side shown; starboard is its mirror image.",
    "Thickness is as built, in mm, with the grade. A star marks what the program proposes; the rest is given.",
    "Frame sections are as built. Web frames are drawn thick, intermediate frames broken.",
    (
        "A panel that a hull-area border crosses takes the larger factor and the larger addition. Mean p is that of "
        "the area's own load patch; load of: whose load asks for the area's thickest plate."
    ),
    "Each group of plates is labelled once for each piece of shell that hangs together and has room for the words.",
)
_OF_PLATES = (
    "Seams and butts are those of the plates laid by the search for the least structure; each plate has thickness, "
    "grade and its name: column from aft / strake from the keel. Frames are lettered once for each group."
)
_OF_RENEWAL = (
    "Renew below: net required and 0.5 mm. It differs from panel to panel; panels.csv gives each one's own value."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """The sheet being drawn: paper, plot, and the picture's window on the paper."""

    picture: ShipPicture
    paper: Paper
    plot: Plot
    low_x: float
    high_x: float
    top: float
    tables: bool

    @property
    def window(self) -> tuple[float, float, float, float]:
        """The picture's window on the paper [mm]."""
        x0, y0 = self.plot.at(self.low_x, 0.0)
        x1, y1 = self.plot.at(self.high_x, self.top)
        return x0 - 4.0, y0 - _AIR, x1 - x0 + 8.0, y1 - y0 + _AIR + 1.0


def draw(picture: ShipPicture) -> Scene:
    """Draw the shell expansion of a ship."""
    board = _board(picture)
    placer = LabelPlacer(window=board.window)
    placer.shun(board.plot.place(b.curve.expansion) for b in picture.borders)
    placer.shun(board.plot.place(curve.expansion) for curve in (picture.upper, picture.lower))
    regions = regions_of(picture.panels)
    placer.shun([board.plot.place(picture.expansion_outline)])
    labels = _labels(board, placer, regions)
    groups = (
        Group(name="hull areas", items=tuple(_areas(board))),
        Group(name="framing", items=tuple(_framing(board))),
        Group(name="levels", items=tuple(_levels(board))),
        Group(name="plate borders", items=tuple(_plate_borders(board, regions))),
        Group(name="waterlines and borders", items=tuple(_lines(board))),
        Group(name="rulers", items=(*frame_ruler(picture.frame_marks, board.plot, _ruler_base(board)), *_girth(board))),
        Group(name="border names", items=tuple(border_names(picture, board.plot, _ruler_base(board) - 6.0))),
        Group(name="callouts", items=tuple(labels)),
        border(board.paper),
        Group(name="legend", items=tuple(_strip(board))),
        title_block(board.paper, picture.title, TITLE, f"1:{board.paper.scale}"),
    )
    return Scene(
        width_mm=board.paper.width_mm,
        height_mm=board.paper.height_mm,
        title=f"{picture.title.ship}: {TITLE.lower()}",
        description="Shell expansion with hull areas, frames, levels, ice waterlines and scantlings.",
        groups=groups,
    )


def _board(picture: ShipPicture) -> _Board:
    """Choose the paper and place the picture on it."""
    outline = picture.expansion_outline
    low_x, high_x, top = float(outline[:, 0].min()), float(outline[:, 0].max()), float(outline[:, 1].max())
    beside = FILING_MARGIN + MARGIN + _RULER_WIDTH + _NAMES + 12.0
    above_below = 2 * MARGIN + FRAME_RULER_HEIGHT + 2 * _AIR + _STRIP + 6.0
    paper = choose_paper(high_x - low_x, top, beside, above_below)
    x, y, width, height = paper.inner
    free_x = width - (high_x - low_x) * paper.mm_per_m - _RULER_WIDTH - _NAMES
    free_y = height - top * paper.mm_per_m - FRAME_RULER_HEIGHT - 2 * _AIR - _STRIP
    tables = free_y > _TABLES
    below = _STRIP + (_TABLES if tables else 0.0)
    free_y -= _TABLES if tables else 0.0
    plot = Plot(
        paper_x=x + _RULER_WIDTH + 0.5 * free_x,
        paper_y=y + below + _AIR + 0.5 * free_y,
        reference=(low_x, 0.0),
        scale_mm_per_m=paper.mm_per_m,
    )
    return _Board(picture=picture, paper=paper, plot=plot, low_x=low_x, high_x=high_x, top=top, tables=tables)


def _areas(board: _Board) -> list[Element]:
    """The panels, lightly filled by hull area, one shape per area; panels not met are outlined."""
    panels = board.picture.panels
    items: list[Element] = [*panel_fills(panels, [panel.outline for panel in panels], board.plot)]
    failing = tuple(board.plot.place(panel.outline) for panel in panels if not panel.met)
    if failing:
        items.append(Lines(layer=Layer.NOT_MET, runs=failing, closed=True))
    return items


def _framing(board: _Board) -> list[Element]:
    """Frames thin, intermediate frames broken, web frames thick."""
    picture = board.picture
    families = (
        (Layer.FRAME, picture.frames),
        (Layer.INTERMEDIATE_FRAME, picture.intermediate_frames),
        (Layer.WEB_FRAME, picture.web_frames),
    )
    return [
        Lines(layer=layer, runs=tuple(board.plot.place(run) for run in runs)) for layer, runs in families if len(runs)
    ]


def _levels(board: _Board) -> list[Element]:
    """Decks, stringers, bulkheads, openings and the outline."""
    picture = board.picture
    items: list[Element] = [
        Lines(layer=LEVEL_LAYERS[level.kind], runs=(board.plot.place(level.expansion),)) for level in picture.levels
    ]
    items += [Lines(layer=Layer.BULKHEAD, runs=(board.plot.place(b.expansion),)) for b in picture.bulkheads]
    openings = tuple(board.plot.place(opening.expansion) for opening in picture.openings)
    if openings:
        items += [Filled(fill="opening", rings=openings), Lines(layer=Layer.OPENING, runs=openings, closed=True)]
    items.append(Lines(layer=Layer.SHELL, runs=(board.plot.place(picture.expansion_outline),), closed=True))
    return items


def _plate_borders(board: _Board, regions: Sequence[Region]) -> list[Element]:
    """Seams and butts of the physical plates, else the lines on which the thickness or the group of plates changes."""
    plates = board.picture.plates
    if plates:
        laid = seams_and_butts(plates, board.picture.expansion_outline, regions)
        return [Lines(layer=Layer.PLATE_BORDER, runs=tuple(board.plot.place(run) for run in laid))]
    runs = tuple(board.plot.place(run) for run in lines_between(regions))
    return [Lines(layer=Layer.PLATE_BORDER, runs=runs)] if runs else []


def _lines(board: _Board) -> list[Element]:
    """Hull-area borders, bold, and the two ice waterlines."""
    picture = board.picture
    return [
        Lines(layer=Layer.HULL_AREA_BORDER, runs=tuple(board.plot.place(b.curve.expansion) for b in picture.borders)),
        Lines(layer=Layer.UPPER_WATERLINE, runs=(board.plot.place(picture.upper.expansion),)),
        Lines(layer=Layer.LOWER_WATERLINE, runs=(board.plot.place(picture.lower.expansion),)),
    ]


def _line_names(board: _Board, placer: LabelPlacer) -> list[Element]:
    """Names written along their own lines: waterlines in three places, levels in two, belt edges once."""
    picture, place = board.picture, board.plot.place
    water = Layer.WATER_WORDS
    items = name_along(placer, place(picture.upper.expansion), "UIWL", (0.12, 0.5, 0.84), layer=water)
    items += name_along(placer, place(picture.lower.expansion), "LIWL", (0.16, 0.53, 0.8), layer=water)
    for border_ in picture.borders:
        if border_.transverse or np.ptp(border_.curve.expansion[:, 0]) < _SHORT_M:
            continue
        items += name_along(placer, place(border_.curve.expansion), border_.name, (0.45,), bold=True)
    for level in longest_of_each_name(picture.levels):
        items += name_along(placer, place(level.expansion), level.name, (0.3, 0.66))
    return items


def _labels(board: _Board, placer: LabelPlacer, regions: Sequence[Region]) -> list[Element]:
    """Placed labels: hull areas first, then borders, plates, openings and frames."""
    picture = board.picture
    items = [*_line_names(board, placer)]
    for area in picture.areas:
        places = _central(np.array([p.outline.mean(axis=0) for p in picture.panels if p.hull_area == area.code]))
        if len(places):
            points = tuple((float(x), float(y)) for x, y in board.plot.place(places[:60]))
            items += placer.place(Label(lines=(area.code,), points=points, size_mm=5.0, bold=True, leader=False))
    items += _unexpanded(board, placer, regions)
    items += _plates(board, placer, regions)
    for opening in picture.openings:
        low, high = (board.plot.place(opening.expansion)[k] for k in (0, 2))
        point = (float(0.5 * (low[0] + high[0])), float(high[1]) + 1.8)
        items += placer.place(Label(lines=(opening.name,), points=(point,), size_mm=1.8))
    for callout in sorted(picture.frame_callouts, key=lambda c: (len(c.places), c.group)):
        layer = Layer.QUIET_WORDS if callout.met else Layer.NOT_MET_WORDS
        items += _placed(board, placer, callout.places, callout.lines, 1.8, layer)
    return items


def _plates(board: _Board, placer: LabelPlacer, regions: Sequence[Region]) -> list[Element]:
    """Thickness and grade once on every region of plating large enough, the smallest first; what is not asked for.

    Physical plates, where they were laid, each have their own words in place of the regions'.
    """
    items: list[Element] = []
    laid = bool(board.picture.plates)
    placer.take(board.plot.place(opening.expansion) for opening in board.picture.openings if laid)
    for plate in board.picture.plates:
        points = tuple((float(x), float(y)) for x, y in board.plot.place(plate.places))
        items += placer.place(Label(lines=(plate.words, plate.name), points=points, size_mm=_OF_PLATE_MM))
    least = LEAST_REGION_MM2 / board.paper.mm_per_m**2
    for region in sorted(regions, key=lambda r: (r.area_m2, r.plate, r.unasked)):
        own = "" if laid else region.plate
        lines = tuple(words for words in (f"{region.unasked}: {UNASKED}" if region.unasked else "", own) if words)
        if lines and region.area_m2 >= least:
            layer = Layer.WORDS if region.met else Layer.NOT_MET_WORDS
            width = max(text_width(words, _PLATE_MM) for words in lines) / board.paper.mm_per_m
            inside = region.holds(width, _PLATE_MM * (1.25 * len(lines) - 0.25) / board.paper.mm_per_m)
            if len(inside) or not region.unasked:
                places = inside if len(inside) else region.places
                items += _placed(board, placer, places, lines, _PLATE_MM, layer)
            else:
                items += _beside_shell(board, placer, region, layer)
    return items


def _beside_shell(board: _Board, placer: LabelPlacer, region: Region, layer: Layer) -> list[Element]:
    """What is not asked for, of a region too narrow for the words: beside the shell, joined to it by a leader."""
    before = placer.shunned
    placer.shun((board.plot.place(run) for run in board.picture.frames), step_mm=0.5)
    lines = tuple(wrap(f"{region.unasked}: {UNASKED}", _PLATE_MM, _BESIDE_MM))
    items = _placed(board, placer, region.places, lines, _PLATE_MM, layer)
    placer.shunned = before
    return items


def _unexpanded(board: _Board, placer: LabelPlacer, regions: Sequence[Region]) -> list[Element]:
    """Says so where a raked transom leaves a corner of the outline without panels."""
    items: list[Element] = []
    aft = board.low_x + _AFT_SHARE * (board.high_x - board.low_x)
    for place, area_m2 in uncovered(board.picture.expansion_outline, regions):
        if place[0] < aft and area_m2 > _TRANSOM_M2:
            items += _placed(board, placer, place[None], ("transom,", "not", "expanded"), 1.8, Layer.QUIET_WORDS)
    return items


def _placed(
    board: _Board, placer: LabelPlacer, places: FloatArray, lines: tuple[str, ...], size_mm: float, layer: Layer
) -> list[Element]:
    """Words at the calmest of some places on the expansion (n, 2)."""
    points = tuple((float(x), float(y)) for x, y in board.plot.place(_central(places)[:120]))
    return placer.place(Label(lines=lines, points=points, size_mm=size_mm, layer=layer))


def _central(places: FloatArray) -> FloatArray:
    """Places by distance from their middle, nearest first; lengthwise distance counts less than girth."""
    if len(places) == 0:
        return places
    middle = np.median(places, axis=0)
    order = np.argsort(np.hypot(0.3 * (places[:, 0] - middle[0]), places[:, 1] - middle[1]), kind="stable")
    return places[order]


def _ruler_base(board: _Board) -> float:
    """The height of the frame ruler's line on the paper."""
    return board.plot.at(0.0, board.top)[1] + _AIR + 2.0


def _girth(board: _Board) -> list[Element]:
    """The girth ruler, left of the picture."""
    return girth_ruler(board.plot, board.low_x, board.top, 6.0, "girth from the keel's centreline, m")


def _strip(board: _Board) -> list[Element]:
    """The strip under the picture: legend, notes, scale bar, cautions."""
    x, y, width, _ = board.paper.inner
    top = y + TITLE_HEIGHT
    items = legend(board.picture, x + 6.0, top)
    left = x + 6.0 + LEGEND_WIDTH
    room = x + width - TITLE_WIDTH - left - 8.0
    renewed = any(area.renewal != "–" for area in board.picture.areas)
    told = (*_NOTES[:-1], _OF_PLATES) if board.picture.plates else _NOTES
    items += notes(left, top, min(room, 200.0), "Notes", (*told, *((_OF_RENEWAL,) if renewed else ())))
    if room > 330.0:
        items += notes(left + 212.0, top, min(room - 212.0, 260.0), "Cautions", board.picture.cautions)
    items += scale_bar(x + 6.0, y + 4.0, board.paper.mm_per_m)
    if board.tables:
        above = y + _STRIP + _TABLES - 6.0
        items += draught_table(board.picture, x + 6.0, above)
        beside = x + 6.0 + 112.0
        room = x + width - 6.0 - RENEWAL_WIDTH - 14.0 - beside
        both = room >= _LEAST_AREA_TABLE
        wide = min(room if both else width - 130.0, 460.0)
        items += area_table(board.picture, beside, above, wide)
        items += renewal_table(board.picture, beside + wide + 14.0, above) if both else []
    return items


SHEET = Sheet(id="shell-expansion", title=TITLE, draw=draw)
