"""Values not confirmed against the printed page: table cells and clauses with their standing."""

from __future__ import annotations

from beltwright.report.cells import gathered
from beltwright.report.markup import grid_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written


def standing(material: Material) -> Written:
    """The lists of cells and clauses that are used but not confirmed."""
    cells = gathered(material.unconfirmed_cells)
    clauses = [(c.citation, c.title, c.status.value, c.note) for c in material.unconfirmed_clauses]
    parts = [
        heading(1, "Values not confirmed against the printed page"),
        paragraph(
            "Every table cell and every equation used above whose text has not been seen on the document's own page. "
            "Each must be confirmed before this booklet leaves the office."
        ),
        heading(2, "Table cells"),
        _list(("cell", "value", "standing", "remark"), cells),
        heading(2, "Equations"),
        _list(("clause", "title", "standing", "remark"), clauses),
    ]
    return Written(markup="".join(parts))


def _list(headers: tuple[str, str, str, str], rows: list[tuple[str, str, str, str]]) -> str:
    """A list, or the word none."""
    if not rows:
        return paragraph("None.")
    widths = ("fill", "46" if headers[1] == "value" else "auto", "24", "fill")
    return grid_table([(h, "", "left", w) for h, w in zip(headers, widths, strict=True)], rows, size_pt=7.5)


CHAPTERS = (Chapter(id="standing", title="Values not confirmed", write=standing),)
