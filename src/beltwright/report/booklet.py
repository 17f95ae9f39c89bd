"""The calculation booklet: typeset without network or system fonts; the same material gives the same bytes."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files

from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.report.markup import array, words
from beltwright.report.material import Material
from beltwright.report.registry import ChapterRegistry
from beltwright.report.standard import standard_chapters

TITLE = "Calculation of ice strengthening"
OUTCOMES = {
    "met": "all requirements met; see the findings for what is open or not checked",
    "not met": "requirements not met; see the findings for which, and for what is open or not checked",
}


def booklet_files(
    material: Material, chapters: ChapterRegistry | None = None, *, title: str = TITLE, outcome: str = ""
) -> dict[str, bytes]:
    """Return the typst sources and pictures of the booklet by file name; ``main.typ`` is the whole.

    ``outcome`` is told on the first page; where it is blank, that of the design.
    """
    written = [chapter.write(material) for chapter in (chapters or standard_chapters()).all()]
    source = '#import "style.typ": *\n' + _opening(material, title, outcome) + "".join(part.markup for part in written)
    style = files("beltwright.report").joinpath("typst", "style.typ").read_bytes()
    found = {"main.typ": source.encode("utf-8"), "style.typ": style}
    for part in written:
        found.update({name: picture.encode("utf-8") for name, picture in part.pictures.items()})
    return found


def booklet_pdf(material: Material, chapters: ChapterRegistry | None = None) -> bytes:
    """Return the booklet as PDF."""
    return typeset_booklet(booklet_files(material, chapters))


def typeset_booklet(written: Mapping[str, bytes]) -> bytes:
    """Return the PDF of a booklet's files (see ``booklet_files``)."""
    return typeset(written, tagged=False)


def _open_words(material: Material) -> str:
    """What is open: not shown to meet the rules."""
    spans = f"{material.open_supports} web frame spans and stringer bays (one side)"
    stem = ", the stem" if material.open_stem else ""
    return f"{spans}{stem}, {material.open_items} clauses of the checklist"


def _opening(material: Material, heading: str, outcome: str) -> str:
    """Page set-up, the first page with the cautions, and the contents."""
    title = material.picture.title
    lines = array(
        words(pair)
        for pair in (
            ("ice class", title.ice_class),
            ("rules", title.rules),
            ("displacement at the upper ice waterline", f"{title.displacement_kt:.3f} kt"),
            ("rule length", f"{title.length_m:.2f} m"),
            *(() if outcome else (("checked", ", ".join(material.checked)),)),
            ("outcome of what is checked", outcome or OUTCOMES[material.outcome]),
            ("open", _open_words(material)),
            ("owner", title.owner),
            ("building yard", title.yard),
            ("design office", title.designer),
            ("revision", title.revision),
            ("inputs, SHA-256", title.input_hash),
            ("result, SHA-256", material.result_hash),
            ("program", f"beltwright {title.program_version}"),
        )
    )
    return (
        f"#show: booklet.with(title: {quoted(heading)}, ship: {quoted(title.ship)}, "
        f"revision: {quoted(title.revision)}, fingerprint: {quoted(title.input_hash[:16])}, "
        f"version: {quoted(title.program_version)}, "
        f"caution: {quoted(SHORT_CAUTION)})\n"
        f"#cover(ship: {quoted(title.ship)}, title: {quoted(heading)}, lines: {lines}, "
        f"cautions: {array(words(pair) for pair in CAUTIONS)})\n"
        "#pagebreak()\n#contents()\n#pagebreak()\n"
    )
