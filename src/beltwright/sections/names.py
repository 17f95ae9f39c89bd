"""Names of sections as written in ``ship.toml``.

``FB150x12`` flat bar, depth x thickness; ``HP240x11`` bulb flat of EN 10067, depth x web thickness;
``T300x15+100x18`` built-up tee and ``L250x12+90x15`` built-up angle, web height x thickness + flange breadth x
thickness (web height to the flange); ``B300x15+100x18e20`` built-up section with its flange 20 mm off the web;
``L200x100x10`` rolled angle, leg on the plate x free leg x thickness, ``L300x90x11/16`` with a thicker free leg. All in
mm; capitals or not, and spaces, do not matter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import numpy as np

from beltwright.core.errors import InputError
from beltwright.sections.catalogue import bulb_flats, rolled_angles
from beltwright.sections.kinds import SectionKind
from beltwright.sections.make import built_angle, built_up, flat_bar, plain_angle, tee
from beltwright.sections.table import GrossSection, SectionTable, stack

_N = r"(\d+(?:\.\d+)?)"
NOTATION = "FB150x12, HP240x11, T300x15+100x18, L250x12+90x15, L200x100x10, L300x90x11/16 or B300x15+100x18e20"


def section(name: str, *, where: str = "section") -> GrossSection:
    """Return the section of a name; ``where`` names the field for the error message.

    A name that cannot be read, or a bulb flat that is not made, is an InputError that names the nearest valid one.

    >>> section("hp 240 x 11").name
    'HP240x11'
    """
    plain = re.sub(r"\s+", "", name).replace("×", "x").upper().replace("X", "x")
    for pattern, read in _READERS:
        match = re.fullmatch(pattern, plain)
        if match:
            try:
                return read(*(float(group) for group in match.groups() if group is not None))
            except InputError as error:
                raise InputError(
                    f"{where}: {error.where}", error.what, value=error.value, unit=error.unit, allowed=error.allowed
                ) from None
    raise InputError(where, "this is not the name of a section", value=name, allowed=f"written like {NOTATION}")


def sections(names: Sequence[str], *, where: str = "sections") -> SectionTable:
    """Return the sections of several names as one table, in the order given; each name is read once."""
    read = {name: section(name, where=where) for name in dict.fromkeys(names)}
    return stack([read[name] for name in names])


def bulb(name: str) -> GrossSection:
    """Return a bulb flat of EN 10067 by its name.

    >>> bulb("HP240x11").height_mm
    240.0
    """
    found = section(name)
    if found.kind is not SectionKind.BULB_FLAT:
        raise InputError(name, "not a bulb flat", value=found.kind.value, allowed="a name like HP240x11")
    return found


def _bulb(height_mm: float, web_thickness_mm: float) -> GrossSection:
    """A bulb flat by depth and thickness, or an InputError that names the nearest size."""
    table = bulb_flats()
    off_depth = np.abs(table.height_mm / height_mm - 1.0)
    off_web = np.abs(table.web_thickness_mm / web_thickness_mm - 1.0)
    nearest = int(np.argmin(off_depth * 10.0 + off_web))
    if table.height_mm[nearest] != height_mm or table.web_thickness_mm[nearest] != web_thickness_mm:
        name = f"HP{height_mm:.10g}x{web_thickness_mm:.10g}"
        raise InputError(name, "no such bulb flat in EN 10067", allowed=f"the nearest is {table.name[nearest]}")
    return table.row(nearest)


def _rolled_angle(height_mm: float, breadth_mm: float, web_mm: float, flange_mm: float | None = None) -> GrossSection:
    """A rolled angle of the list, or of the same outline without radii."""
    plain = plain_angle(height_mm, web_mm, breadth_mm, web_mm if flange_mm is None else flange_mm)
    listed = np.flatnonzero(rolled_angles().name == plain.name)
    return rolled_angles().row(int(listed[0])) if len(listed) else plain


_READERS: tuple[tuple[str, Callable[..., GrossSection]], ...] = (
    (rf"FB{_N}x{_N}", flat_bar),
    (rf"HP{_N}x{_N}", _bulb),
    (rf"T{_N}x{_N}\+{_N}x{_N}", tee),
    (rf"L{_N}x{_N}\+{_N}x{_N}", built_angle),
    (rf"B{_N}x{_N}\+{_N}x{_N}E(-?\d+(?:\.\d+)?)", built_up),
    (rf"L{_N}x{_N}x{_N}(?:/{_N})?", _rolled_angle),
)
