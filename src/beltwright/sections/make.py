"""Making single sections from their dimensions, with the range of each dimension."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.sections.kinds import SectionKind, Shapes
from beltwright.sections.table import GrossSection, section_table

# What a shipyard could conceivably use; outside it is a slip (choice of this program, see DECISIONS.md).
_RANGE_MM = {
    "web height": (20.0, 5000.0),
    "web thickness": (3.0, 100.0),
    "flange breadth": (15.0, 2000.0),
    "flange thickness": (3.0, 150.0),
}


def flat_bar(height_mm: float, web_thickness_mm: float) -> GrossSection:
    """Return a flat bar, both dimensions in mm.

    >>> flat_bar(150, 12).name, flat_bar(150, 12).area_cm2
    ('FB150x12', 18.0)
    """
    name = f"FB{_mm(height_mm)}x{_mm(web_thickness_mm)}"
    _check(name, {"web height": height_mm, "web thickness": web_thickness_mm})
    if height_mm < web_thickness_mm:
        what = "a flat bar stands on its narrow side: give depth x thickness"
        raise InputError(name, what, value=height_mm, unit="mm", allowed=f"{_mm(web_thickness_mm)} mm or more")
    return _one(name, SectionKind.FLAT_BAR, web_height=height_mm, web=web_thickness_mm)


def tee(
    web_height_mm: float, web_thickness_mm: float, flange_breadth_mm: float, flange_thickness_mm: float
) -> GrossSection:
    """Return a built-up tee: web height (to the flange) x thickness, flange breadth x thickness, all in mm.

    >>> tee(300, 15, 100, 18).name, tee(300, 15, 100, 18).height_mm
    ('T300x15+100x18', 318.0)
    """
    name = f"T{_plates(web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm)}"
    return _built(
        name, SectionKind.BUILT_TEE, web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm, 0.0
    )


def built_angle(
    web_height_mm: float, web_thickness_mm: float, flange_breadth_mm: float, flange_thickness_mm: float
) -> GrossSection:
    """Return a built-up angle: as a tee, but the flange flush with the back of the web; all in mm.

    >>> built_angle(250, 12, 90, 15).flange_eccentricity_mm
    39.0
    """
    name = f"L{_plates(web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm)}"
    shift = (flange_breadth_mm - web_thickness_mm) / 2.0
    return _built(
        name, SectionKind.BUILT_ANGLE, web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm, shift
    )


def built_up(
    web_height_mm: float,
    web_thickness_mm: float,
    flange_breadth_mm: float,
    flange_thickness_mm: float,
    flange_eccentricity_mm: float,
) -> GrossSection:
    """Return a built-up section whose flange centre stands ``flange_eccentricity_mm`` off the web's mid-plane.

    >>> built_up(300, 15, 100, 18, 20).name
    'B300x15+100x18e20'
    """
    plates = _plates(web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm)
    name = f"B{plates}e{_mm(flange_eccentricity_mm)}"
    return _built(
        name,
        SectionKind.BUILT_UP,
        web_height_mm,
        web_thickness_mm,
        flange_breadth_mm,
        flange_thickness_mm,
        flange_eccentricity_mm,
    )


def plain_angle(
    height_mm: float, web_thickness_mm: float, flange_breadth_mm: float, flange_thickness_mm: float
) -> GrossSection:
    """Return a rolled angle that is in no list, corner radii left out: whole leg on the plate, then the free leg [mm].

    >>> plain_angle(200, 10, 90, 10).name
    'L200x90x10'
    """
    name = f"L{_mm(height_mm)}x{_mm(flange_breadth_mm)}x{_mm(web_thickness_mm)}"
    if flange_thickness_mm != web_thickness_mm:
        name += f"/{_mm(flange_thickness_mm)}"
    shift = (flange_breadth_mm - web_thickness_mm) / 2.0
    web_height_mm = height_mm - flange_thickness_mm
    kind = SectionKind.ROLLED_ANGLE
    return _built(name, kind, web_height_mm, web_thickness_mm, flange_breadth_mm, flange_thickness_mm, shift)


def shapes_from(kind: SectionKind, count: int, **given: Any) -> Shapes:
    """Return shapes of one kind from the dimensions given as arrays or numbers [mm]; those left out are zero."""
    columns = {name: np.zeros(count) for name in Shapes.__dataclass_fields__ if name != "kind"}
    unknown = set(given) - set(columns)
    if unknown:
        raise TypeError(f"shapes have no {sorted(unknown)}")
    columns |= {name: np.broadcast_to(np.asarray(value, dtype=np.float64), (count,)) for name, value in given.items()}
    if "height" not in given:
        columns["height"] = columns["web_height"] + columns["flange"]
    return Shapes(kind=np.full(count, kind.value), **{name: np.array(value) for name, value in columns.items()})


def _built(name: str, kind: SectionKind, hw: float, tw: float, bf: float, tf: float, shift: float) -> GrossSection:
    """One section of two plates, checked."""
    _check(name, {"web height": hw, "web thickness": tw, "flange breadth": bf, "flange thickness": tf})
    if bf < tw:
        what = "the flange must be at least as broad as the web is thick"
        raise InputError(name, what, value=bf, unit="mm", allowed=f"{_mm(tw)} mm or more")
    if not abs(shift) <= (bf - tw) / 2.0:
        what = "the flange must cover the web: its eccentricity is too great"
        raise InputError(name, what, value=shift, unit="mm", allowed=f"up to {_mm((bf - tw) / 2.0)} mm either way")
    return _one(name, kind, web_height=hw, web=tw, flange_breadth=bf, flange=tf, flange_shift=shift)


def _one(name: str, kind: SectionKind, **dimensions: float) -> GrossSection:
    """One section of plates from checked dimensions."""
    shapes = shapes_from(kind, 1, **dimensions)
    status = Status.CHOICE if kind is SectionKind.ROLLED_ANGLE else Status.COMPUTED
    return section_table(name=np.array([name]), shapes=shapes, status=np.array([status.value])).row(0)


def _check(name: str, dimensions: dict[str, float]) -> None:
    """Refuse a dimension that is not a number in its range."""
    for what, value in dimensions.items():
        low, high = _RANGE_MM[what]
        if not low <= value <= high:
            raise InputError(name, f"{what} out of range", value=value, unit="mm", allowed=f"{low:g} to {high:g} mm")


def _plates(hw: float, tw: float, bf: float, tf: float) -> str:
    """Web and flange as written in a name."""
    return f"{_mm(hw)}x{_mm(tw)}+{_mm(bf)}x{_mm(tf)}"


def _mm(value: float) -> str:
    """A dimension as written in a name."""
    return f"{value:.10g}"
