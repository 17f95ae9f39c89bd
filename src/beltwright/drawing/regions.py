"""Regions of plating: panels of one group and thickness that hang together, and the lines on which either changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.picture import PanelPicture, PlatePicture

if TYPE_CHECKING:
    from shapely import Geometry

_JOIN_M = 0.02  # panels that lie nearer than this on the expansion hang together
_HOLE_M2 = 0.1  # a hole smaller than this is a gap between panels' outlines
_SHORT_M = 0.25  # regions that meet on less than this only touch at a corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """Panels that hang together and share group, plate and what is asked for; all on the expansion [m].

    ``plate`` is thickness and grade in words, empty where there is none; ``unasked`` names the shell for which the
    class asks no ice strengthening, empty where it asks. ``places`` (n, 2) are the panels' middles, ``area_m2`` the
    region's size on the expansion, ``shape`` its outline.
    """

    plate: str
    unasked: str
    met: bool
    places: FloatArray
    area_m2: float
    shape: Geometry

    def holds(self, width_m: float, height_m: float) -> FloatArray:
        """Return those of the places (n, 2) around which a level box of this size [m] lies inside the region."""
        import shapely

        half = 0.5 * np.array([width_m, height_m])
        boxes = shapely.box(*(self.places - half).T, *(self.places + half).T)
        inside: FloatArray = self.places[shapely.covers(self.shape, boxes)]
        return inside


def regions_of(panels: Sequence[PanelPicture]) -> tuple[Region, ...]:
    """Return the regions of plating, those of one key together, in the order in which keys appear."""
    by_key: dict[tuple[str, str, str], list[PanelPicture]] = {}
    for panel in panels:
        by_key.setdefault((panel.unasked or panel.group, panel.plate, panel.unasked), []).append(panel)
    found: list[Region] = []
    for (_, plate, unasked), members in by_key.items():
        for shape, inside in _connected(members):
            found.append(
                Region(
                    plate=plate,
                    unasked=unasked,
                    met=all(panel.met for panel in inside),
                    places=np.array([panel.outline.mean(axis=0) for panel in inside]),
                    area_m2=float(shape.area),
                    shape=shape,
                )
            )
    return tuple(found)


def lines_between(regions: Sequence[Region]) -> list[FloatArray]:
    """Return the lines (n, 2) [m] on which one region of plating meets another, each once."""
    import shapely

    shapes = [region.shape for region in regions]
    wide = [shape.buffer(2.0 * _JOIN_M, join_style="mitre") for shape in shapes]
    ones, others = shapely.STRtree(shapes).query(wide, predicate="intersects")
    pairs = sorted({(min(i, j), max(i, j)) for i, j in zip(ones.tolist(), others.tolist(), strict=True) if i != j})
    runs: list[FloatArray] = []
    for one, other in pairs:
        shared = shapely.line_merge(shapes[one].boundary.intersection(wide[other]))
        runs += [np.array(part.coords) for part in _parts(shared) if part.length > _SHORT_M]
    return runs


def seams_and_butts(plates: Sequence[PlatePicture], outline: FloatArray, regions: Sequence[Region]) -> list[FloatArray]:
    """Return the lines (n, 2) [m] between physical plates, each once, where there is shell in the picture.

    None runs along the outline (n, 2) of the shell.
    """
    import shapely

    rings = [shapely.linearrings(ring) for plate in plates for ring in plate.rings]
    edge = shapely.linearrings(outline).buffer(2.0 * _JOIN_M)
    shown = shapely.union_all(shapely.buffer([region.shape for region in regions], _JOIN_M, join_style="mitre"))
    lines = shapely.intersection(shapely.union_all(rings, grid_size=1e-4).difference(edge), shown)
    inner = shapely.line_merge(lines)
    return [np.array(part.coords) for part in _parts(inner) if part.length > _SHORT_M]


def uncovered(outline: FloatArray, regions: Sequence[Region]) -> list[tuple[FloatArray, float]]:
    """Return the pieces of an outline (n, 2) that no region covers: a place inside each (2,) and its area [m2]."""
    import shapely

    covered = shapely.union_all(shapely.buffer([region.shape for region in regions], _JOIN_M, join_style="mitre"))
    rest = shapely.Polygon(outline).buffer(0.0).difference(covered).buffer(-2.0 * _JOIN_M)
    return [
        (np.array(part.representative_point().coords)[0], float(part.area))
        for part in _parts(rest)
        if part.geom_type == "Polygon"
    ]


def _connected(panels: Sequence[PanelPicture]) -> list[tuple[Any, list[PanelPicture]]]:
    """The shapes of panels joined where they meet, each with its panels."""
    import shapely

    sizes = [len(panel.outline) for panel in panels]
    rings = shapely.linearrings(
        np.concatenate([panel.outline for panel in panels]), indices=np.repeat(np.arange(len(panels)), sizes)
    )
    grown = shapely.buffer(shapely.polygons(rings), _JOIN_M, join_style="mitre")  # also mends an outline that crosses
    middles = shapely.point_on_surface(grown)
    answer = []
    for piece in _parts(shapely.union_all(grown)):
        inside = [panel for panel, within in zip(panels, shapely.covers(piece, middles), strict=True) if within]
        if inside:
            holes = [ring for ring in piece.interiors if shapely.Polygon(ring).area > _HOLE_M2]
            whole = shapely.Polygon(piece.exterior, holes)
            answer.append((whole.buffer(-_JOIN_M, join_style="mitre"), inside))
    return answer


def _parts(geometry: Any) -> list[Any]:
    """The parts of a geometry, as they lie from aft forward and up, without empty ones."""
    parts = [part for part in getattr(geometry, "geoms", [geometry]) if not part.is_empty]
    return sorted(parts, key=lambda part: tuple(round(value, 6) for value in part.bounds))
