"""From a sizing to what the sheets draw of it: the physical plates on the shell expansion."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from beltwright.core.units import FloatArray
from beltwright.drawing.picture import PlatePicture
from beltwright.drawing.plate_comparison import PlateShape
from beltwright.sizing.fit import PlateTable

_ACROSS, _UP = 13, 9  # places tried on a plate for its words


def plate_shapes(laid: PlateTable) -> Iterator[PlateShape]:
    """Yield the plates that have a thickness as rings with a place inside for the label."""
    for _, _, shape in _shaped(laid):
        yield shape


def plate_pictures(laid: PlateTable) -> tuple[PlatePicture, ...]:
    """Return the plates of a sized ship for the sheets, with name, thickness and grade in words."""
    return tuple(
        PlatePicture(name=name, rings=shape.rings, words=f"{shape.thickness_mm:g} {grade}", places=_places(shape))
        for name, grade, shape in _shaped(laid)
    )


def _shaped(laid: PlateTable) -> Iterator[tuple[str, str, PlateShape]]:
    """Name, grade and shape of every plate that has a thickness."""
    for name, outline, thickness, grade in zip(
        laid.plates.names, laid.plates.outlines, laid.thickness_mm, laid.grade, strict=True
    ):
        parts = _polygons(outline)
        if np.isnan(thickness) or not parts:
            continue
        place = max(parts, key=lambda part: part.area).representative_point()
        yield name, grade, PlateShape(
            rings=tuple(_ring(part) for part in parts), thickness_mm=float(thickness),
            label_at=(float(place.x), float(place.y)),
        )  # fmt: skip


def _places(shape: PlateShape) -> FloatArray:
    """The place for the label, then others inside the plate (k, 2), nearest first."""
    whole = shapely.union_all([shapely.Polygon(ring).buffer(0.0) for ring in shape.rings])
    west, south, east, north = whole.bounds
    grid = np.stack(np.meshgrid(np.linspace(west, east, _ACROSS), np.linspace(south, north, _UP)), axis=-1)
    every = grid.reshape(-1, 2)
    inside = every[shapely.contains_xy(whole, every[:, 0], every[:, 1])]
    first = np.array(shape.label_at)
    order = np.argsort(np.hypot(*(inside - first).T), kind="stable")
    return np.concatenate([first[None], inside[order]])


def _polygons(outline: shapely.Geometry) -> Sequence[shapely.Polygon]:
    """The parts of an outline that have an area."""
    return [one for one in getattr(outline, "geoms", [outline]) if one.geom_type == "Polygon" and one.area > 0]


def _ring(part: shapely.Polygon) -> FloatArray:
    return np.array(part.exterior.coords)[:-1]
