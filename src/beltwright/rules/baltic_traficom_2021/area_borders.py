"""Where the hull areas begin and end: the code of a point, and the borders as lines for drawing and splitting."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.core.units import FloatArray, LabelArray
from beltwright.rules.protocol import Border, HeightBorder, TransverseBorder

_LETTERS: Final = {"bow": "B", "midbody": "M", "stern": "S"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaEdges:
    """The numbers that part the hull areas.

    ``bow_aft_m`` and ``midbody_aft_m`` (k,) are the aft borders [m aft of the stem] at the heights ``height_m`` (k,)
    [m above the baseline]; between them they run straight, beyond them they stay. ``extents`` are those of the chain
    by name [m].
    """

    height_m: FloatArray
    bow_aft_m: FloatArray
    midbody_aft_m: FloatArray
    extents: Mapping[str, float]
    fore_foot: bool
    upper_belt: bool

    def has(self, code: str) -> bool:
        """Return whether the class has an area."""
        if code == "UB":
            return self.upper_belt
        if code == "FK":
            return self.fore_foot and self.floor_top_m > 0.0
        return self.fore_foot or code != "FF"

    @property
    def floor_top_m(self) -> float:
        """Height of the tank top or the top of floors in the bow [m above the baseline]."""
        return self.extents["floor_top_height_m"]

    def region(self, aft_of_stem_m: FloatArray, height_m: FloatArray) -> LabelArray:
        """Return the region's letter of points (n,); a point on a border belongs to the region forward of it."""
        bow = np.interp(height_m, self.height_m, self.bow_aft_m)
        midbody = np.interp(height_m, self.height_m, self.midbody_aft_m)
        return np.where(aft_of_stem_m <= bow, "B", np.where(aft_of_stem_m <= midbody, "M", "S")).astype(np.str_)

    def code(
        self, aft_of_stem_m: FloatArray, above_upper_m: FloatArray, above_lower_m: FloatArray, height_m: FloatArray
    ) -> LabelArray:
        """Return the area code of points (n,), "" where nothing is asked for."""
        region = self.region(aft_of_stem_m, height_m)
        above = above_upper_m > self._of(region, "belt_top_{}_m")
        below = ~above & (above_lower_m < -self._of(region, "belt_bottom_{}_m"))
        code = np.where(above, self._above(region, aft_of_stem_m, above_upper_m), region)
        return np.where(below, self._below(region, aft_of_stem_m, above_lower_m, height_m), code).astype(np.str_)

    def _above(self, region: LabelArray, aft_of_stem_m: FloatArray, above_upper_m: FloatArray) -> LabelArray:
        """The code of points above the ice belt."""
        framed = above_upper_m <= self._of(region, "framing_top_{}_m")
        code = np.where(framed, np.char.add(region, "A"), "")
        if not self.upper_belt:
            return code
        inside = aft_of_stem_m <= self.extents["upper_belt_aft_m"]
        upper = inside & (above_upper_m <= self.extents["upper_belt_top_m"])
        return np.where(upper, "UB", code)

    def _below(
        self, region: LabelArray, aft_of_stem_m: FloatArray, above_lower_m: FloatArray, height_m: FloatArray
    ) -> LabelArray:
        """The code of points below the ice belt; an unlimited depth ends at the tank top or the top of floors."""
        depth = self._of(region, "framing_bottom_{}_m")
        over_floors = height_m >= self.floor_top_m
        framed = (above_lower_m >= -depth) & (np.isfinite(depth) | over_floors)
        code = np.where(framed, np.char.add(region, "L"), "")
        if not self.fore_foot:
            return code
        foot = aft_of_stem_m <= self.extents["fore_foot_aft_m"]
        return np.where(foot, np.where(over_floors, "FF", "FK"), code)

    def _of(self, region: LabelArray, name: str) -> FloatArray:
        """An extent by the region's letter."""
        bow, midbody, stern = (self.extents[name.format(key)] for key in _LETTERS)
        return np.where(region == "B", bow, np.where(region == "M", midbody, stern))

    def reach(self, key: str) -> FloatArray:
        """Return the foremost and the aftmost place of a region [m aft of the stem]."""
        end = max(self.extents["waterline_extreme_length_m"], float(self.midbody_aft_m.max()))
        ends = {
            "bow": (0.0, self.bow_aft_m.max()),
            "midbody": (self.bow_aft_m.min(), self.midbody_aft_m.max()),
            "stern": (self.midbody_aft_m.min(), end),
        }
        return np.array(ends[key])


def borders(edges: AreaEdges) -> tuple[Border, ...]:
    """Return the borders: regions across, edges of belt and framing along, the extra areas.

    The tank top or top of floors in the bow, a level plane, has no kind of border of its own and is left out.
    """
    found: list[Border] = [
        _across("aft border of the bow region", "B, BA, BL", "M, MA, ML", edges.height_m, edges.bow_aft_m, "4.1.1"),
        _across("aft border of the midbody region", "M, MA, ML", "S, SA, SL", edges.height_m, edges.midbody_aft_m,
                "4.1.1"),
        *_along(edges, "upper edge of the ice belt", "upper", 1.0, "belt_top_{}_m", ("{}A", "{}"), "Table 4-5"),
        *_along(edges, "lower edge of the ice belt", "lower", -1.0, "belt_bottom_{}_m", ("{}", "{}L"), "Table 4-5"),
        *_along(edges, "top of the strengthened framing", "upper", 1.0, "framing_top_{}_m", ("", "{}A"), "Table 4-6"),
        *_along(edges, "bottom of the strengthened framing", "lower", -1.0, "framing_bottom_{}_m", ("{}L", ""),
                "Table 4-6"),
    ]  # fmt: skip
    if edges.upper_belt:
        aft = edges.extents["upper_belt_aft_m"]
        found.append(
            _across("aft end of the upper bow ice belt", "UB", "BA, MA", np.zeros(1), np.array([aft]), "4.3.1")
        )
        found.append(
            HeightBorder(
                name="top of the upper bow ice belt",
                waterline="upper",
                above="",
                below="UB",
                aft_of_stem_m=np.array([0.0, aft]),
                offset_m=np.full(2, edges.extents["upper_belt_top_m"]),
                ref="FSICR 4.3.1",
            )
        )
    if edges.fore_foot:
        foot = np.array([edges.extents["fore_foot_aft_m"]])
        found.append(_across("aft end of the fore foot", "FF, FK", "BL", np.zeros(1), foot, "4.3.1"))
    return tuple(found)


def _along(
    edges: AreaEdges, name: str, waterline: str, sign: float, extent: str, sides: tuple[str, str], ref: str
) -> list[Border]:
    """The edges at one height of the three regions; regions at equal height share one border."""
    heights: dict[float, list[str]] = {}
    for key in _LETTERS:
        heights.setdefault(edges.extents[extent.format(key)], []).append(key)
    found: list[Border] = []
    for height, keys in heights.items():
        if np.isfinite(height):
            places = np.concatenate([edges.reach(key) for key in keys])
            above, below = (", ".join(filter(None, (side.format(_LETTERS[k]) for k in keys))) for side in sides)
            found.append(
                HeightBorder(
                    name=name if len(keys) == len(_LETTERS) else f"{name}, {' and '.join(keys)}",
                    waterline=waterline,
                    above=above,
                    below=below,
                    aft_of_stem_m=np.array([places.min(), places.max()]),
                    offset_m=np.full(2, sign * height),
                    ref=f"FSICR {ref}",
                )
            )
    return found


def _across(
    name: str, forward: str, aft: str, height_m: FloatArray, aft_of_stem_m: FloatArray, ref: str
) -> TransverseBorder:
    """A border across the side."""
    return TransverseBorder(
        name=name, forward=forward, aft=aft, height_m=height_m, aft_of_stem_m=aft_of_stem_m, ref=f"FSICR {ref}"
    )
