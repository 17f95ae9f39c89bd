"""Every document of one design as bytes by file name: booklet, drawings, tables, result file."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from beltwright.drawing.backends.pdf import to_pdf
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.standard import standard_sheets
from beltwright.report.booklet import booklet_files, typeset_booklet
from beltwright.report.from_design import material_of
from beltwright.report.material import Material
from beltwright.report.registry import ChapterRegistry
from beltwright.report.result_json import result_text
from beltwright.report.tables import csv_files
from beltwright.scantlings.design import Design
from beltwright.weights.steel import SteelWeight


def documents(design: Design, weight: SteelWeight, inputs_sha256: str) -> dict[str, bytes]:
    """Return every document by file name; the same inputs give the same bytes."""
    return documents_of(material_of(design, weight, inputs_sha256))


def documents_of(material: Material, chapters: ChapterRegistry | None = None) -> dict[str, bytes]:
    """Return every document of the material; the booklet is typeset beside the drawings.

    ``chapters`` are those of the booklet, the standard ones where not given.
    It is written before they are begun: typesetting, the longest piece, leaves the processor's other core to them.
    """
    written = booklet_files(material, chapters)
    with ThreadPoolExecutor(max_workers=1) as beside:
        booklet = beside.submit(typeset_booklet, written)
        found: dict[str, bytes] = {}
        for sheet in standard_sheets().all():
            scene = sheet.draw(material.picture)
            svg = to_svg(scene)
            found[f"{sheet.id}.svg"] = svg.encode("utf-8")
            found[f"{sheet.id}.pdf"] = to_pdf(scene, svg)
        found |= {name: text.encode("utf-8") for name, text in csv_files(material).items()}
        found["result.json"] = result_text(material).encode("utf-8")
        found["booklet.pdf"] = booklet.result()
    return dict(sorted(found.items()))
