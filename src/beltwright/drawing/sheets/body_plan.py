"""The body plan with hull angles: sections with beta, the waterline with alpha, buttocks with gamma."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.paper import (
    FILING_MARGIN,
    MARGIN,
    TITLE_HEIGHT,
    TITLE_WIDTH,
    Paper,
    border,
    fit_paper,
    notes,
    notes_height,
    scale_bar,
    table,
    title_block,
)
from beltwright.drawing.picture import ShipPicture, StationPicture
from beltwright.drawing.registry import Sheet
from beltwright.drawing.scene import Dot, Element, Group, Layer, Lines, Plot, Scene, Words, line
from beltwright.drawing.sheets.angles import alpha_marks, beta_marks, gamma_marks
from beltwright.drawing.sheets.profile import ANGLE_COLUMNS, angle_row
from beltwright.drawing.sheets.sections import belt_edges, section_numbers, waterline_across

TITLE = "Body plan"
_WITH_ANGLES = "Body plan with hull angles at the load stations"
_GAP, _HEAD, _ROWS = 12.0, 8.0, 22.0  # between views; a view's title; rows of values over the body plan
_LONGEST_MM = 630.0
_TABLE, _BAR = 36.0, 10.0  # heights of the table of angles and of the scale bar
_ANGLES_WIDTH = sum(width for _, width in ANGLE_COLUMNS)
_NOTES = (
    "Numbers on the sections are frame numbers; sections aft of midlength stand left, forward ones right.",
    "Ticks mark where the borders of hull areas that run along the side cross each section; a broken line joins them.",
)
_OF_ANGLES = (
    "Heavy sections stand at the load stations.",
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
    groups = (
        Group(name="body plan", items=tuple(_body(picture, views))),
        Group(name="waterline plan", items=tuple(_plan(picture, views))),
        Group(name="bow profile", items=tuple(_bow(picture, views))),
        border(views.paper),
        Group(name="tables", items=tuple(_tables(picture, views))),
        title_block(views.paper, picture.title, _sheet_title(picture), f"1:{views.paper.scale}"),
    )
    return Scene(
        width_mm=views.paper.width_mm,
        height_mm=views.paper.height_mm,
        title=f"{picture.title.ship}: {_sheet_title(picture).lower()}",
        description="Body plan with frame angles, waterline with waterline angles, bow profile with buttock angles."
        if picture.stations
        else "Body plan, waterline and profile of the bow.",
        groups=groups,
    )


def _sheet_title(picture: ShipPicture) -> str:
    """The sheet's title; without load stations no angles are shown."""
    return _WITH_ANGLES if picture.stations else TITLE


def _notes(picture: ShipPicture) -> tuple[str, ...]:
    """The notes; those on angles where there are load stations."""
    return (*_NOTES, *(_OF_ANGLES if picture.stations else ()))


def _tables(picture: ShipPicture, views: _Views) -> list[Element]:
    """Under the body plan: angles, scale bar, notes and cautions."""
    x, y, _, _ = views.paper.inner
    left, width = x + 6.0, _column(views.half_breadth, views.paper.mm_per_m)
    words = notes_height(width, _notes(picture)) + notes_height(width, picture.cautions)
    air = max(views.body.paper_y - y - _GAP - _TABLE - words - _BAR, 0.0) / 4.0
    top = views.body.paper_y - _GAP - min(air, 20.0)
    under = top - _TABLE - min(air, 20.0)
    warned = under - notes_height(width, _notes(picture)) - min(air, 12.0)
    rows = [angle_row(station) for station in picture.stations]
    items = [
        *(table(left, top, "Hull angles at UIWL, degrees", ANGLE_COLUMNS, rows) if rows else ()),
        *notes(left, under, width, "Notes", _notes(picture)),
        *notes(left, warned, width, "Cautions", picture.cautions),
        *scale_bar(left, y + 4.0, views.paper.mm_per_m),
    ]
    return items


def _column(half: float, mm: float) -> float:
    """The width [mm] of the left column: the body plan's, and not less than the table's."""
    return max(2.0 * half * mm + 8.0, _ANGLES_WIDTH)


def _views(picture: ShipPicture) -> _Views:
    """Choose the paper and place the three views: body plan left, plan over profile right."""
    outline = picture.profile_outline
    half = max(float(section.points[:, 0].max()) for section in picture.sections)
    low, height = float(outline[:, 1].min()), float(outline[:, 1].max())
    to_x = float(outline[:, 0].max())
    aftmost = min((s.point[0] for s in picture.stations), default=0.7 * to_x)
    from_x = aftmost - 0.12 * (to_x - aftmost) - 1.0
    tall, long = height - low, to_x - from_x

    def needs(mm: float) -> tuple[float, float]:
        """Width and height of everything at a scale."""
        column = _column(half, mm)
        words = notes_height(column, _notes(picture)) + notes_height(column, picture.cautions)
        left = _HEAD + _ROWS + tall * mm + _GAP + _TABLE + words + _BAR
        right = 2.0 * (_HEAD + _GAP) + (tall + half) * mm + TITLE_HEIGHT
        right_width = max(long * mm, TITLE_WIDTH)
        return FILING_MARGIN + MARGIN + column + right_width + 2.5 * _GAP, 2 * MARGIN + 6.0 + max(left, right)

    paper = fit_paper(needs, _LONGEST_MM)
    x, y, width, inner_height = paper.inner
    mm = paper.mm_per_m
    column = _column(half, mm)
    free = width - column - long * mm
    top = y + inner_height - 3.0
    right = x + 0.25 * free + column + 0.5 * free
    slack = inner_height - (2.0 * (_HEAD + _GAP) + (tall + half) * mm + TITLE_HEIGHT + 6.0)
    axis = top - _HEAD - half * mm
    base = axis - _GAP - _HEAD - tall * mm - min(max(slack, 0.0) / 3.0, 25.0)
    return _Views(
        paper=paper,
        body=Plot(
            paper_x=x + 0.25 * free + 0.5 * column,
            paper_y=top - _HEAD - _ROWS - tall * mm,
            reference=(0.0, low),
            scale_mm_per_m=mm,
        ),
        plan=Plot(paper_x=right, paper_y=axis, reference=(from_x, 0.0), scale_mm_per_m=mm),
        bow=Plot(paper_x=right, paper_y=base, reference=(from_x, low), scale_mm_per_m=mm),
        half_breadth=half,
        height=height,
        from_x=from_x,
        to_x=to_x,
    )


def _middle_x(picture: ShipPicture) -> float:
    """The x that parts the aft sections (left) from the forward ones (right)."""
    return 0.5 * (float(picture.profile_outline[:, 0].min()) + float(picture.profile_outline[:, 0].max()))


def _body(picture: ShipPicture, views: _Views) -> list[Element]:
    """Sections thin, the load stations' sections heavy with their arcs; aft sections to the left."""
    plot, middle = views.body, _middle_x(picture)
    thin = tuple(plot.place(_sided(section.points, section.x_m < middle)) for section in picture.sections)
    heavy = tuple(plot.place(_sided(s.section, False)) for s in picture.stations)
    half, foot = views.half_breadth, plot.reference[1]
    items: list[Element] = [
        line(Layer.AXIS, plot.at(0.0, foot), plot.at(0.0, views.height + 0.4)),
        *_base_line(plot, -half - 0.4, half + 0.4, foot),
        Lines(layer=Layer.SHELL_THIN, runs=thin),
        Lines(layer=Layer.SHELL, runs=heavy),
        *belt_edges(picture, plot, middle),
        *waterline_across(picture, plot, middle),
        _title(plot, -half, views.height, f"Body plan, seen from ahead, 1:{views.paper.scale}", _ROWS + 3.0),
    ]
    placer = LabelPlacer(window=_window(plot, -half - 0.4, half + 0.4, foot - 0.2, views.height + 2.6))
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.shun(heavy)
    items += _marked(picture.stations, placer, plot, "beta", plot.at(0.0, views.height)[1] + 3.0)
    return items + section_numbers(picture, plot, middle, placer)


def _plan(picture: ShipPicture, views: _Views) -> list[Element]:
    """The upper ice waterline of the bow with the waterline angles."""
    plot = views.plan
    curve = picture.waterline_plan[picture.waterline_plan[:, 0] >= views.from_x]
    items: list[Element] = [
        line(Layer.AXIS, plot.at(views.from_x, 0.0), plot.at(views.to_x, 0.0)),
        Lines(layer=Layer.SHELL, runs=(plot.place(curve),)),
        _title(plot, views.from_x, views.half_breadth, f"Upper ice waterline of the bow, 1:{views.paper.scale}", 3.0),
        Words(at=_raised(plot.at(views.from_x, 0.0), 0.8), text="centreline", size_mm=1.8, layer=Layer.QUIET_WORDS),
    ]
    placer = LabelPlacer(window=_window(plot, views.from_x, views.to_x, -0.5, views.half_breadth + 0.5))
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.take(_boxes_along(plot.place(curve)))
    return items + _marked(picture.stations, placer, plot, "alpha")


def _bow(picture: ShipPicture, views: _Views) -> list[Element]:
    """The bow profile: stem, buttocks through the stations, and the buttock angles."""
    plot, foot = views.bow, views.bow.reference[1]
    outline = plot.place(_clipped(picture.profile_outline, views.from_x))
    buttocks = tuple(plot.place(s.buttock[s.buttock[:, 0] >= views.from_x]) for s in picture.stations)
    waters = ((picture.upper, Layer.UPPER_WATERLINE, "UIWL"), (picture.lower, Layer.LOWER_WATERLINE, "LIWL"))
    items: list[Element] = [
        Lines(layer=Layer.SHELL, runs=(outline,)),
        Lines(layer=Layer.SHELL_THIN, runs=tuple(run for run in buttocks if len(run))),
        *_base_line(plot, views.from_x, views.to_x, foot),
        _title(plot, views.from_x, views.height, f"Bow profile with buttocks, 1:{views.paper.scale}", 3.0),
    ]
    for water, layer, name in waters:
        run = plot.place(_from(water.profile, views.from_x))
        if len(run) > 1:
            items.append(Lines(layer=layer, runs=(run,)))
            aft = run[int(np.argmin(run[:, 0]))]
            at = (float(aft[0]) + 1.0, float(aft[1]) + 0.7)
            items.append(Words(at=at, text=name, size_mm=1.8, layer=Layer.WATER_WORDS, halo=True))
    placer = LabelPlacer(window=_window(plot, views.from_x, views.to_x, foot - 0.5, views.height + 0.2))
    placer.take(item.box for item in items if isinstance(item, Words))
    placer.take(_boxes_along(outline))
    placer.shun([*buttocks, *(run for item in items[2:] if isinstance(item, Lines) for run in item.runs)])
    return items + _marked(picture.stations, placer, plot, "gamma")


def _from(run: FloatArray, from_x: float) -> FloatArray:
    """The part of a line (n, 2) of (x, z), that runs along the ship, forward of ``from_x``."""
    ordered = run[np.argsort(run[:, 0], kind="stable")]
    forward = ordered[ordered[:, 0] > from_x]
    first = (from_x, float(np.interp(from_x, *ordered.T)))
    return np.concatenate([[first], forward]) if len(forward) else forward


def _base_line(plot: Plot, from_m: float, to_m: float, foot: float) -> list[Element]:
    """The base line under a view, by name."""
    left, right = plot.at(from_m, 0.0), plot.at(to_m, 0.0)
    under = min(left[1], plot.at(from_m, foot)[1]) - 3.0
    words = Words(at=(left[0], under), text="base line, z = 0", size_mm=1.8, layer=Layer.QUIET_WORDS)
    return [line(Layer.AXIS, left, right), words]


def _title(plot: Plot, x_m: float, top_m: float, text: str, above_mm: float) -> Words:
    """A view's title over its upper left corner."""
    return Words(at=_raised(plot.at(x_m, top_m), above_mm), text=text, size_mm=2.8, bold=True)


def _boxes_along(run: FloatArray, step_mm: float = 1.0) -> list[FloatArray]:
    """Small boxes along a line (n, 2) [mm], so that no words stand on it."""
    length = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
    at = np.arange(0.0, length[-1] + step_mm, step_mm)
    corners = 0.4 * np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
    centres = np.stack([np.interp(at, length, run[:, 0]), np.interp(at, length, run[:, 1])], axis=1)
    return [corners + centre for centre in centres]


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


SHEET = Sheet(id="body-plan", title=_WITH_ANGLES, draw=draw)
