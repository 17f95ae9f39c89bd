"""Physical plates on the developed shell: strakes and butts, and which panels every plate covers.

The port half of the shell is laid out flat as x and girth. It is cut across by butts, a quarter of a frame spacing
forward of a frame and never at a web frame or bulkhead, and between two butts into strakes whose seams run in the
middle of a bay between two levels, or between two longitudinals where the bay is too wide: no seam lies on a member
that carries load. Butts are laid just outside the borders of the hull areas first, so that what a border asks for ends
there, and then so that no plate is too long.

A panel that a seam or butt crosses is covered by several plates, and each of them must meet what the panel asks for:
borders of hull areas are rounded outward to the plates' edges.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from beltwright.arrangement.model import Arrangement
from beltwright.core.units import FloatArray, IntArray
from beltwright.scantlings.design import BorderCurve

Shapes = NDArray[np.object_]

OFF_FRAME = 0.25  # a butt lies this share of a frame spacing forward of a frame
LEAST_SHARE = 1e-3  # a plate that covers less of a panel than this does not cover it
BESIDE_M = 0.05  # plates that share less of an edge than this are no neighbours
NARROW = 0.4  # an uppermost strake narrower than this share of the widest plate takes the next seam down


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateSizes:
    """The largest plate that the yard takes [m]."""

    length_m: float = 12.0
    width_m: float = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellPlates:
    """The plates of half a ship.

    ``names`` (p,), e.g. ``C4/S3``: the fourth column from aft, the third strake from the keel. ``outlines`` are
    polygons in x and girth [m]. ``beside`` (b, 2) are pairs of plates that share an edge.
    """

    names: tuple[str, ...]
    outlines: tuple[shapely.Geometry, ...]
    beside: IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Which plates cover which panels: pairs of ``plate`` and ``panel`` (c,), ``share`` (c,) of the panel's area.

    The shares of a panel add up to one. ``panels`` is the number of panels.
    """

    plate: IntArray
    panel: IntArray
    share: FloatArray
    panels: int

    def thinnest(self, thickness_mm: FloatArray) -> IntArray:
        """Return for every panel (n,) the thinnest of the plates (p,) that cover it, -1 where none does.

        A plate without a thickness (NaN) is thinner than any.
        """
        thickness = np.where(np.isnan(thickness_mm), -1.0, thickness_mm)
        order = np.lexsort((self.plate, thickness[self.plate], self.panel))
        first = np.ones(len(order), dtype=bool)
        first[1:] = self.panel[order][1:] != self.panel[order][:-1]
        found = np.full(self.panels, -1, dtype=np.int64)
        found[self.panel[order][first]] = self.plate[order][first]
        return found

    def mean(self, values: FloatArray) -> FloatArray:
        """Return the mean of the plates' values (p,) over every panel's area (n,).

        A plate without a value (NaN) counts as nothing; NaN where no plate with a value covers the panel.
        """
        total, known = np.zeros(self.panels), np.zeros(self.panels, dtype=bool)
        there = ~np.isnan(values[self.plate])
        np.add.at(total, self.panel[there], (self.share * values[self.plate])[there])
        known[self.panel[there]] = True
        return np.where(known, total, np.nan)


def lay_plates(arrangement: Arrangement, borders: Sequence[BorderCurve], sizes: PlateSizes) -> ShellPlates:
    """Return the plates on an arrangement; ``borders`` are those of the hull areas."""
    shapes, tree = _panel_shapes(arrangement)
    butts, seams = _butts(arrangement, borders, sizes), _Seams(arrangement)
    named: list[str] = []
    polygons: list[shapely.Geometry] = []
    for column, (aft, fore) in enumerate(itertools.pairwise(butts), 1):
        laid = seams.strakes(aft, fore, sizes.width_m)
        covering = set(_covered(laid, shapes, tree)[0].tolist())
        strakes = [one for number, one in enumerate(laid) if number in covering]
        named += [f"C{column}/S{strake}" for strake in range(1, len(strakes) + 1)]
        polygons += strakes
    return ShellPlates(names=tuple(named), outlines=tuple(polygons), beside=_beside(polygons))


def cover_of(plates: ShellPlates, arrangement: Arrangement) -> Cover:
    """Return which plates cover which panels of an arrangement on the same shell."""
    shapes, tree = _panel_shapes(arrangement)
    plate, panel, area = _covered(plates.outlines, shapes, tree)
    whole = np.zeros(len(shapes))
    np.add.at(whole, panel, area)
    return Cover(plate=plate, panel=panel, share=area / whole[panel], panels=len(shapes))


def least_width_m(outline: shapely.Geometry) -> float:
    """Return the shorter side of the smallest upright box around a plate [m]."""
    west, south, east, north = outline.bounds
    return float(min(east - west, north - south))


def widest_step_mm(plates: ShellPlates, one: int, other: int, taper: float) -> float:
    """Return the greatest difference in thickness of two plates whose taper has room in either [mm].

    The taper is ``taper`` times the difference long and takes less than half of a plate's least width.
    """
    width = min(least_width_m(plates.outlines[one]), least_width_m(plates.outlines[other]))
    return 1000.0 * 0.5 * width / taper


def _panel_shapes(arrangement: Arrangement) -> tuple[Shapes, shapely.STRtree]:
    """The panels on the developed shell, and a tree to find them by place."""
    shapes = shapely.make_valid(shapely.polygons(arrangement.panel_shapes.outline_expansion))
    return shapes, shapely.STRtree(shapes)


def _covered(polygons: Sequence[shapely.Geometry], shapes: Shapes, tree: shapely.STRtree
             ) -> tuple[IntArray, IntArray, FloatArray]:  # fmt: skip
    """Pairs of polygon and panel under it with the area covered, in the order of polygons, then panels."""
    outlines = np.array(polygons, dtype=object)
    plate, panel = tree.query(outlines, predicate="intersects")
    order = np.lexsort((panel, plate))
    plate, panel = plate[order], panel[order]
    area = shapely.area(shapely.intersection(outlines[plate], shapes[panel]))
    kept = area > LEAST_SHARE * shapely.area(shapes[panel])
    return plate[kept], panel[kept], area[kept]


def _beside(polygons: Sequence[shapely.Polygon]) -> IntArray:
    """The pairs of plates that share an edge."""
    grown = [polygon.buffer(1e-6) for polygon in polygons]
    tree = shapely.STRtree(grown)
    pairs = [
        (one, other)
        for one, polygon in enumerate(grown)
        for other in sorted(tree.query(polygon, predicate="intersects").tolist())
        if other > one and shapely.intersection(polygon, grown[other]).length > 2.0 * BESIDE_M
    ]
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)


def _butts(arrangement: Arrangement, borders: Sequence[BorderCurve], sizes: PlateSizes) -> list[float]:
    """The x of the butts, aft first, with the ends of the panels."""
    outline = arrangement.panel_shapes.outline_expansion[..., 0]
    aft, fore = float(outline.min()), float(outline.max())
    x = arrangement.stations.x_m
    barred = {round(trace.expansion[0, 0], 3) for trace in (*arrangement.web_traces, *arrangement.bulkhead_traces)}
    free = np.array([round(float(at), 3) not in barred for at in x[:-1]])
    places = (x[:-1] + OFF_FRAME * np.diff(x))[free]
    places = places[(places > aft + 0.5) & (places < fore - 0.5)]
    fixed = [aft]
    for border in sorted(_across(borders), key=lambda pair: pair[0]):
        outside = places[places < border[0]] if border[1] else places[places > border[2]]
        if len(outside):
            fixed.append(float(outside[-1] if border[1] else outside[0]))
    fixed = sorted({*fixed, fore})
    laid = [fixed[0]]
    for nxt in fixed[1:]:
        while nxt - laid[-1] > sizes.length_m:
            pieces = int(np.ceil((nxt - laid[-1]) / sizes.length_m))
            aim = laid[-1] + (nxt - laid[-1]) / pieces
            near = places[(places > laid[-1] + 0.5) & (places <= laid[-1] + sizes.length_m)]
            laid.append(float(near[np.argmin(np.abs(near - aim))]) if len(near) else aim)
        laid.append(nxt)
    return laid


def _across(borders: Sequence[BorderCurve]) -> list[tuple[float, bool, float]]:
    """The borders that run up the side: their aftmost x, whether the heavier area lies forward, their foremost x."""
    found = []
    for border in borders:
        x = border.expansion[:, 0]
        if np.ptp(x) < 1.0 and np.ptp(border.expansion[:, 1]) > 1.0:
            found.append((float(x.min()), "stern" not in border.border.name, float(x.max())))
    return found


class _Seams:
    """Where seams may run: by girth along the middles of bays, and between longitudinals in the lowest bay."""

    def __init__(self, arrangement: Arrangement) -> None:
        outline = arrangement.panel_shapes.outline_expansion.reshape(-1, 2)
        self._x = np.unique(np.round(outline[:, 0], 3))
        self._top = np.full(len(self._x), -np.inf)
        np.maximum.at(self._top, np.searchsorted(self._x, np.round(outline[:, 0], 3)), outline[:, 1])
        self._levels = [self._girth(arrangement, level.name) for level in arrangement.levels]
        spacing = arrangement.panels["spacing_m"].data
        along = arrangement.panels.labels("orientation") == "longitudinal"
        self._strip = float(np.median(spacing[along])) if along.any() else 0.6

    def _girth(self, arrangement: Arrangement, name: str) -> FloatArray:
        """The girth of a level at every x: 0 where the hull lies above it, the upper edge where it lies below."""
        pieces = [trace.expansion for trace in arrangement.level_traces if trace.name == name]
        if not pieces:
            return np.zeros(len(self._x))
        line = np.concatenate(pieces)
        line = line[np.argsort(line[:, 0], kind="stable")]
        girth = np.interp(self._x, line[:, 0], line[:, 1])
        outside = (self._x < line[0, 0] - 0.5) | (self._x > line[-1, 0] + 0.5)
        below_top: FloatArray = np.minimum(np.where(outside, 0.0, girth), self._top)
        return below_top

    def strakes(self, aft: float, fore: float, width_m: float) -> list[shapely.Polygon]:
        """Return the plates between two butts, keel first."""
        inside = self._x[(self._x > aft + 1e-3) & (self._x < fore - 1e-3)]
        x = np.concatenate([[aft], inside, [fore]])
        levels = [np.interp(x, self._x, line) for line in self._levels]
        top = np.interp(x, self._x, self._top)
        lines = [np.zeros(len(x)), *levels]
        places = [0.5 * (low + high) for low, high in itertools.pairwise(lines[1:])]
        if places:
            first = places[0]
            count = int(np.floor(float(first.max()) / self._strip))
            own = [np.minimum((k + 0.5) * self._strip, first) for k in range(1, count)]
            places = [*own, *places]
        seams = [np.zeros(len(x)), *_chosen(places, top, width_m), top]
        found = []
        for low, high in itertools.pairwise(seams):
            ring = np.concatenate([np.column_stack([x, low]), np.column_stack([x, high])[::-1]])
            polygon = shapely.make_valid(shapely.Polygon(ring))
            if polygon.area > 0.0:
                found.append(polygon)
        return found


def _chosen(places: Sequence[FloatArray], top: FloatArray, width_m: float) -> list[FloatArray]:
    """The seams, each as far from the last as the width allows; the uppermost strake is not left a narrow strip."""
    chosen: list[int] = []

    def below(count: int) -> FloatArray:
        return places[chosen[count - 1]] if count else np.zeros(len(top))

    for k, place in enumerate(places):
        following = places[k + 1] if k + 1 < len(places) else top
        if float((following - below(len(chosen))).max()) > width_m and float((place - below(len(chosen))).max()) > 0.2:
            chosen.append(k)
    while chosen and float((top - below(len(chosen))).max()) < NARROW * width_m:
        before = chosen[-2] if len(chosen) > 1 else -1
        if chosen[-1] - 1 <= before or float((top - places[chosen[-1] - 1]).max()) > width_m:
            break
        chosen[-1] -= 1
    return [places[k] for k in chosen]
