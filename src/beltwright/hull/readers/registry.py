"""The readers that are known: each recognises its files by content first, by suffix second.

To add a reader, write a function ``read(path, limits) -> RawHull`` and call ``register(Reader(...))`` once, at import
of its module; a name or suffix that is taken is refused. Anything that parses hostile binary data runs in a child.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from beltwright.hull.patch import RawHull
from beltwright.hull.readers.child import ChildLimits

HEAD_BYTES = 65_536


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """One file format.

    Attributes
    ----------
    name : the format's short name, e.g. ``step``
    title : how messages call it, e.g. ``STEP``
    suffixes : file name endings, lower case with the dot
    recognises : takes the file's first bytes and its size; True where the content is surely this format
    read : takes the path and the child's limits and returns the raw hull
    """

    name: str
    title: str
    suffixes: tuple[str, ...]
    recognises: Callable[[bytes, int], bool]
    read: Callable[[Path, ChildLimits], RawHull]


_READERS: dict[str, Reader] = {}


def register(reader: Reader) -> None:
    """Add a reader; its name and suffixes must be free."""
    for other in _READERS.values():
        shared = set(other.suffixes) & set(reader.suffixes)
        if other.name == reader.name or shared:
            raise ValueError(f"reader {reader.name!r} clashes with {other.name!r} ({', '.join(sorted(shared))})")
    _READERS[reader.name] = reader


def readers() -> tuple[Reader, ...]:
    """Return every registered reader in order of registration."""
    return tuple(_READERS.values())


def by_content(head: bytes, size: int) -> Reader | None:
    """Return the reader that recognises the content, or None."""
    return next((r for r in _READERS.values() if r.recognises(head, size)), None)


def by_suffix(suffix: str) -> Reader | None:
    """Return the reader of a file name ending, or None."""
    return next((r for r in _READERS.values() if suffix.lower() in r.suffixes), None)
