"""Reading a hull file: the format is recognised by content first, then by suffix; parsers run in a child process."""

from __future__ import annotations

import stat
from dataclasses import replace
from pathlib import Path

from beltwright.core.errors import InputError
from beltwright.hull.patch import RawHull
from beltwright.hull.readers import formats as _formats  # registers the formats that come with the program
from beltwright.hull.readers.child import DEFAULT_LIMITS, ChildLimits
from beltwright.hull.readers.registry import HEAD_BYTES, Reader, by_content, by_suffix, readers, register

__all__ = ["ChildLimits", "Reader", "read_hull", "readers", "register", "write_cad"]

MAX_FILE_BYTES = 200_000_000

write_cad = _formats.write_cad


def read_hull(path: Path | str, *, length_unit: str | None = None, limits: ChildLimits = DEFAULT_LIMITS) -> RawHull:
    """Read a hull file in any known format.

    Parameters
    ----------
    path : the file
    length_unit : the unit of its numbers, where the user states one; it goes before the file's own
    limits : what the parser's child process may use

    Returns
    -------
    RawHull : patches in the file's own axes and unit

    Raises
    ------
    InputError : one line naming the file and what is wrong with it
    """
    path = Path(path)
    head, size = _head(path)
    reader = by_content(head, size)
    named = by_suffix(path.suffix)
    if reader is None:
        reader = named
    if reader is None:
        known = ", ".join(s for r in readers() for s in r.suffixes)
        raise InputError(str(path), "is not a hull file of a known kind", allowed=known)
    raw = reader.read(path, limits)
    if not raw.patches:
        raise InputError(str(path), "holds no surface")
    if named is not None and named is not reader:
        note = f"the file is named {path.suffix} but holds {reader.title} data, and was read as such"
        raw = replace(raw, notes=(*raw.notes, note))
    return raw if length_unit is None else replace(raw, length_unit=length_unit)


def _head(path: Path) -> tuple[bytes, int]:
    """Return a regular file's first bytes and its size, or refuse it."""
    where = str(path)
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise InputError(where, "is a folder, not a hull file")
        if not stat.S_ISREG(status.st_mode):
            raise InputError(where, "is not a regular file")
        if status.st_size == 0:
            raise InputError(where, "is empty")
        if status.st_size > MAX_FILE_BYTES:
            raise InputError(where, "is too large", value=status.st_size, unit="bytes", allowed=f"{MAX_FILE_BYTES}")
        with path.open("rb") as stream:
            return stream.read(HEAD_BYTES), status.st_size
    except FileNotFoundError:
        raise InputError(where, "does not exist") from None
    except (OSError, ValueError) as error:
        raise InputError(where, f"cannot be opened ({getattr(error, 'strerror', None) or error})") from None
