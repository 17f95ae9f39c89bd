"""The plates of a ship on the shell expansion before and after sizing, tinted by thickness, one above the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.lettering import text_width
from beltwright.drawing.scene import Anchor, Element, Filled, Group, Layer, Lines, Plot, Scene, Words, line, rectangle

_WIDTH, _LEFT, _RIGHT = 170.0, 9.0, 3.0
_GAP, _HEAD, _LEGEND, _RULER = 9.0, 5.0, 12.0, 5.0
_STEPS = 7
_SIZE = 1.9  # type of the thicknesses [mm]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateShape:
    """A plate on the expansion: rings (n, 2) of x and girth [m], thickness [mm], a place inside for its label."""

    rings: tuple[FloatArray, ...]
    thickness_mm: float
    label_at: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateView:
    """One way to plate the shell, with what stands above it."""

    title: str
    plates: tuple[PlateShape, ...]


def plate_comparison(views: Sequence[PlateView], title: str) -> Scene:
    """Return the picture: the views one below the other, on one scale of thickness."""
    points = np.concatenate([ring for view in views for plate in view.plates for ring in plate.rings])
    low, high = points.min(axis=0), points.max(axis=0)
    scale = (_WIDTH - _LEFT - _RIGHT) / float(high[0] - low[0])
    tall = float(high[1] - low[1]) * scale
    height = len(views) * (_HEAD + tall + _RULER) + (len(views) - 1) * _GAP + _LEGEND
    edges = _edges([plate.thickness_mm for view in views for plate in view.plates])
    groups = []
    for number, view in enumerate(views):
        bottom = height - (number + 1) * (_HEAD + tall + _RULER) - number * _GAP + _RULER
        plot = Plot(paper_x=_LEFT, paper_y=bottom, reference=(float(low[0]), float(low[1])), scale_mm_per_m=scale)
        groups += [
            Group(name=f"plates {number + 1}", items=tuple(_plates(view, plot, edges))),
            Group(name=f"thickness {number + 1}", items=tuple(_labels(view, plot))),
            Group(name=f"scale {number + 1}", items=tuple(_rulers(view, plot, low, high, tall))),
        ]
    groups.append(Group(name="legend", items=tuple(_legend(edges))))
    told = "; ".join(f"{view.title}: {len(view.plates)} plates" for view in views)
    return Scene(width_mm=_WIDTH, height_mm=height, title=title, groups=tuple(groups),
                 description=f"Plate thickness as built on the shell expansion, port side. {told}.")  # fmt: skip


def _edges(thickness: Sequence[float]) -> FloatArray:
    """The borders between tints [mm], whole or half millimetres."""
    least, most = min(thickness), max(thickness)
    step = max(np.ceil(2.0 * (most - least) / _STEPS) / 2.0, 0.5)
    first = np.floor(2.0 * least) / 2.0
    return np.asarray(first + step * np.arange(_STEPS + 1))


def _tint(thickness: float, edges: FloatArray) -> str:
    return f"thickness-{int(np.clip(np.searchsorted(edges, thickness, side='right') - 1, 0, _STEPS - 1))}"


def _plates(view: PlateView, plot: Plot, edges: FloatArray) -> Iterator[Element]:
    """The plates, tinted, with their edges."""
    for plate in view.plates:
        rings = tuple(plot.place(ring) for ring in plate.rings)
        yield Filled(fill=_tint(plate.thickness_mm, edges), rings=rings)
    yield Lines(layer=Layer.SHELL_THIN, closed=True,
                runs=tuple(plot.place(ring) for plate in view.plates for ring in plate.rings))  # fmt: skip


def _labels(view: PlateView, plot: Plot) -> Iterator[Element]:
    """The thickness on every plate that has room for it."""
    for plate in view.plates:
        text = f"{plate.thickness_mm:g}"
        wide, tall = np.ptp(np.concatenate([plot.place(ring) for ring in plate.rings]), axis=0)
        x, y = plot.at(*plate.label_at)
        if _room(plate, plot, (x, y), text) and wide > text_width(text, _SIZE) and tall > _SIZE:
            yield Words(at=(x, y - 0.35 * _SIZE), text=text, size_mm=_SIZE, anchor=Anchor.MIDDLE)


def _room(plate: PlateShape, plot: Plot, at: tuple[float, float], text: str) -> bool:
    """Whether a level box around the words lies inside the plate."""
    import shapely

    shape = shapely.union_all([shapely.Polygon(plot.place(ring)).buffer(0.0) for ring in plate.rings])
    half = 0.5 * text_width(text, _SIZE) + 0.2
    return bool(shape.covers(shapely.box(at[0] - half, at[1] - 0.5 * _SIZE, at[0] + half, at[1] + 0.5 * _SIZE)))


def _rulers(view: PlateView, plot: Plot, low: FloatArray, high: FloatArray, tall: float) -> Iterator[Element]:
    """Title, length and girth in metres."""
    bottom = plot.paper_y
    yield Words(at=(_LEFT, bottom + tall + 2.0), text=view.title, size_mm=2.6, bold=True)
    yield line(Layer.AXIS, (_LEFT, bottom), (_WIDTH - _RIGHT, bottom))
    for x in np.arange(np.ceil(low[0] / 10.0) * 10.0, high[0], 10.0) + 0.0:  # never -0
        at, _ = plot.at(float(x), 0.0)
        yield line(Layer.AXIS, (at, bottom), (at, bottom - 1.0))
        yield Words(at=(at, bottom - 3.4), text=f"{x:g}", size_mm=1.9, anchor=Anchor.MIDDLE, layer=Layer.QUIET_WORDS)
    for girth in np.arange(0.0, high[1], 5.0):
        _, at = plot.at(0.0, float(girth))
        yield line(Layer.AXIS, (_LEFT - 1.0, at), (_LEFT, at))
        yield Words(at=(_LEFT - 1.6, at - 0.6), text=f"{girth:g}", size_mm=1.9, anchor=Anchor.END,
                    layer=Layer.QUIET_WORDS)  # fmt: skip


def _legend(edges: FloatArray) -> Iterator[Element]:
    """The tints with their thicknesses, and what the axes are."""
    width, y = 16.0, 4.5
    for step in range(_STEPS):
        x = _LEFT + step * (width + 1.0)
        ring = np.array([(x, y), (x + width, y), (x + width, y + 3.0), (x, y + 3.0)])
        yield Filled(fill=f"thickness-{step}", rings=(ring,))
        yield rectangle(Layer.BOX, x, y, width, 3.0)
        yield Words(at=(x + 0.5 * width, y - 2.8), text=f"{edges[step]:g} to {edges[step + 1]:g}", size_mm=1.9,
                    anchor=Anchor.MIDDLE)  # fmt: skip
    yield Words(at=(_LEFT + _STEPS * (width + 1.0) + 2.0, y + 0.6), text="mm as built; x, girth in m", size_mm=1.9,
                layer=Layer.QUIET_WORDS)  # fmt: skip
