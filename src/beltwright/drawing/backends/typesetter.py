"""The typesetter: files in memory to PDF bytes, without network, system fonts or today's date."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

FIXED_TIMESTAMP = 0  # seconds since 1970: the same input gives the same bytes


def typeset(files: Mapping[str, bytes], *, tagged: bool = True) -> bytes:
    """Return the PDF of ``main.typ`` among the given files; the same files give the same bytes.

    Raises typst.TypstError if the source does not compile.
    """
    import typst

    compiled: bytes = typst.compile(
        cast(Any, dict(files)),  # a mapping of names to bytes is accepted, the type stub does not say so
        format="pdf",
        ignore_system_fonts=True,
        timestamp=FIXED_TIMESTAMP,
        pdf_tags=tagged,
    )
    return compiled


def quoted(text: str) -> str:
    """Return words as a typst string: nothing in them can be code."""
    escaped = "".join(character if character.isprintable() else " " for character in text)
    return '"' + escaped.replace("\\", "\\\\").replace('"', '\\"') + '"'
