"""The formats that come with the program: how each is recognised, and the parent's side of reading it."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from beltwright.core.errors import InputError
from beltwright.hull.patch import RawHull, SplinePatch
from beltwright.hull.readers.child import DEFAULT_LIMITS, Arrays, ChildLimits, Record, run_child
from beltwright.hull.readers.registry import Reader, register
from beltwright.hull.readers.returned import patches_from, texts
from beltwright.hull.units import METRES_PER

_STEP_UNITS = {
    "metre": "m", "meter": "m", "millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm",
    "decimetre": "dm", "kilometre": "km", "inch": "in", "foot": "ft", "yard": "yd",
}  # fmt: skip
_IGES_UNITS = {"1": "in", "2": "mm", "4": "ft", "6": "m", "7": "km", "10": "cm"}
_WRITE_UNITS = {"m": "M", "mm": "MM", "in": "INCH", "ft": "FT"}


def _read_step(path: Path, limits: ChildLimits) -> RawHull:
    return _read_cad(path, limits, "step")


def _read_iges(path: Path, limits: ChildLimits) -> RawHull:
    return _read_cad(path, limits, "iges")


def _read_cad(path: Path, limits: ChildLimits, form: str) -> RawHull:
    """Read STEP or IGES; coordinates come back in the file's one unit, or in metres where it mixes or invents units."""
    source = str(path)
    record, arrays = run_child("read-cad", {"path": str(path.resolve()), "format": form}, source=source, limits=limits)
    notes = list(texts(record, "notes", source))
    unit, unit_mm = _step_unit(record, source, notes) if form == "step" else _iges_unit(record, path, notes)
    patches = patches_from(record, arrays, source, scale=1.0 / unit_mm)
    return RawHull(patches=patches, length_unit=unit, source=path.name, format=form, notes=tuple(notes))


def _step_unit(record: Record, source: str, notes: list[str]) -> tuple[str | None, float]:
    """Return a STEP file's unit and its length [mm]; the kernel reads 1 as 1 mm where the file states no unit."""
    stated = texts(record, "units", source)
    names = {name.lower() for name in stated if name.strip()}
    if not names:
        return None, 1.0
    if len(stated) > len([name for name in stated if name.strip()]):
        raise InputError(source, "some of its parts state a length unit and others none", value=", ".join(names))
    units = {_STEP_UNITS.get(name) for name in names}
    if len(units) == 1 and None not in units:
        unit = str(units.pop())
        return unit, METRES_PER[unit] / METRES_PER["mm"]
    notes.append(f"the file's lengths are in {', '.join(sorted(names))}; all were brought to metres")
    return "m", 1000.0


def _iges_unit(record: Record, path: Path, notes: list[str]) -> tuple[str | None, float]:
    """Return an IGES file's unit and its length [mm]; a file that names none is read as inches by the kernel."""
    (flag,) = texts(record, "units", str(path)) or ("",)
    if _iges_unit_is_blank(path):
        return None, METRES_PER["in"] / METRES_PER["mm"]
    if flag == "3":  # a name that the kernel does not know: it left the numbers as they are
        notes.append("the file names a length unit that is not known")
        return None, 1.0
    unit = _IGES_UNITS.get(flag)
    if unit is not None:
        return unit, METRES_PER[unit] / METRES_PER["mm"]
    notes.append(f"the file's length unit has flag {flag}; all was brought to metres")
    return "m", 1000.0


def _iges_unit_is_blank(path: Path) -> bool:
    """Return whether the global section names no unit: flag blank or 3 ("see the name"), and the name blank."""
    with path.open("rb") as stream:
        head = stream.read(20_000).decode("latin-1")
    text = "".join(line[:72] for line in head.splitlines() if line[72:73] == "G")
    fields = _iges_fields(text)
    return len(fields) >= 15 and fields[13].strip() in ("", "3") and not fields[14].strip()


def _iges_fields(text: str) -> list[str]:
    """Split an IGES global section into fields; ``nH`` strings may hold the separator."""
    fields, current, i = [], "", 0
    separator = ","
    if text[:2] == "1H":
        separator, i, fields = text[2], 4, [text[:3]]
    while i < len(text):
        digits = current.strip()
        if text[i] == "H" and digits.isdigit():
            count = int(digits)
            current += text[i : i + 1 + count]
            i += 1 + count
        elif text[i] in (separator, ";"):
            fields.append(current)
            current = ""
            i += 1
        else:
            current += text[i]
            i += 1
    return fields


def _read_3dm(path: Path, limits: ChildLimits) -> RawHull:
    source = str(path)
    record, arrays = run_child("read-3dm", {"path": str(path.resolve())}, source=source, limits=limits)
    units = texts(record, "units", source)
    return RawHull(
        patches=patches_from(record, arrays, source), length_unit=units[0] if units else None, source=path.name,
        format="3dm", notes=texts(record, "notes", source),
    )  # fmt: skip


def _read_mesh(path: Path, limits: ChildLimits, form: str) -> RawHull:
    """Read a mesh; none of the mesh formats states a unit."""
    source = str(path)
    record, arrays = run_child("read-mesh", {"path": str(path.resolve()), "format": form}, source=source, limits=limits)
    return RawHull(
        patches=patches_from(record, arrays, source), length_unit=None, source=path.name, format=form,
        notes=texts(record, "notes", source),
    )  # fmt: skip


def _read_stl(path: Path, limits: ChildLimits) -> RawHull:
    with path.open("rb") as stream:
        head = stream.read(4096)
    if not _is_text_stl(head):
        _check_binary_stl(path, head)
    return _read_mesh(path, limits, "stl")


def _check_binary_stl(path: Path, head: bytes) -> None:
    """Refuse a binary STL whose triangle count does not fit the file's length."""
    size = path.stat().st_size
    if len(head) < 84:
        raise InputError(str(path), "is too short for an STL file", value=size, unit="bytes", allowed="84 or more")
    (count,) = struct.unpack("<I", head[80:84])
    if size != 84 + 50 * count:
        what = "its header announces a number of triangles that does not fit its length"
        raise InputError(str(path), what, value=count, unit="triangles", allowed=f"{(size - 84) / 50:.10g}")


def _read_obj(path: Path, limits: ChildLimits) -> RawHull:
    return _read_mesh(path, limits, "obj")


def _read_ply(path: Path, limits: ChildLimits) -> RawHull:
    return _read_mesh(path, limits, "ply")


def _read_offsets(path: Path, _limits: ChildLimits) -> RawHull:
    from beltwright.hull.readers.offsets import read_offsets  # brings scipy's interpolation

    return read_offsets(path)


def _is_step(head: bytes, _size: int) -> bool:
    return head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"ISO-10303-21")


def _is_iges(head: bytes, _size: int) -> bool:
    return head[72:73] in (b"S", b"C") and head[73:80].strip() == b"1"


def _is_3dm(head: bytes, _size: int) -> bool:
    return head.startswith(b"3D Geometry File Format")


def _is_ply(head: bytes, _size: int) -> bool:
    return head.startswith((b"ply\n", b"ply\r"))


def _is_text_stl(head: bytes) -> bool:
    return head.lstrip()[:5].lower() == b"solid" and b"facet" in head and b"\0" not in head


def _is_stl(head: bytes, size: int) -> bool:
    return _is_text_stl(head) or (len(head) >= 84 and size == 84 + 50 * struct.unpack("<I", head[80:84])[0])


def _is_obj(head: bytes, _size: int) -> bool:
    lines = [line.split() for line in head.split(b"\n")[:2000]]
    return b"\0" not in head and sum(1 for w in lines if len(w) >= 4 and w[0] == b"v") >= 3


def _is_offsets(head: bytes, _size: int) -> bool:
    lines = [line.strip().lower() for line in head.split(b"\n") if line.strip() and not line.strip().startswith(b"#")]
    return bool(lines) and all(word in lines[0] for word in (b"station", b"height", b"half_breadth"))


for _reader in (
    Reader(name="step", title="STEP", suffixes=(".step", ".stp", ".p21"), recognises=_is_step, read=_read_step),
    Reader(name="iges", title="IGES", suffixes=(".iges", ".igs"), recognises=_is_iges, read=_read_iges),
    Reader(name="3dm", title="3DM", suffixes=(".3dm",), recognises=_is_3dm, read=_read_3dm),
    Reader(name="ply", title="PLY", suffixes=(".ply",), recognises=_is_ply, read=_read_ply),
    Reader(name="stl", title="STL", suffixes=(".stl",), recognises=_is_stl, read=_read_stl),
    Reader(name="offsets", title="offset table", suffixes=(".csv",), recognises=_is_offsets, read=_read_offsets),
    Reader(name="obj", title="OBJ", suffixes=(".obj",), recognises=_is_obj, read=_read_obj),
):
    register(_reader)


def write_cad(
    path: Path, patches: Sequence[SplinePatch], *, length_unit: str, limits: ChildLimits = DEFAULT_LIMITS
) -> None:
    """Write untrimmed spline faces, given in metres, as STEP or IGES (by suffix) in a stated unit (m, mm, in, ft).

    Raises
    ------
    InputError : for an unknown unit or suffix, a trimmed face, or a file that cannot be written
    """
    reader = by_suffix_or_error(path)
    if length_unit not in _WRITE_UNITS:
        raise InputError(str(path), "unknown length unit", value=length_unit, allowed=", ".join(_WRITE_UNITS))
    arrays: Arrays = {}
    faces = []
    for i, patch in enumerate(patches):
        if patch.trims:
            raise InputError(str(path), f"face {patch.name} is trimmed; only whole faces can be written")
        arrays[f"f{i}_poles"], arrays[f"f{i}_ku"], arrays[f"f{i}_kv"] = (
            patch.poles / METRES_PER["mm"], patch.knots_u, patch.knots_v,
        )  # fmt: skip
        if patch.weights is not None:
            arrays[f"f{i}_w"] = np.asarray(patch.weights)
        faces.append({
            "name": patch.name, "degree_u": patch.degree_u, "degree_v": patch.degree_v, "reversed": patch.reversed,
        })  # fmt: skip
    settings = {"path": str(path.resolve()), "format": reader.name, "unit": _WRITE_UNITS[length_unit], "faces": faces}
    run_child("write-cad", settings, source=str(path), arrays=arrays, limits=limits)


def by_suffix_or_error(path: Path) -> Reader:
    """Return the CAD format of a file name."""
    from beltwright.hull.readers.registry import by_suffix

    reader = by_suffix(path.suffix)
    if reader is None or reader.name not in ("step", "iges"):
        raise InputError(str(path), "unknown ending for a CAD file", value=path.suffix, allowed=".step, .stp, .igs")
    return reader
