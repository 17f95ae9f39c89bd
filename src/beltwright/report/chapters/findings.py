"""Findings: what the engineer must see, the heaviest first."""

from __future__ import annotations

from beltwright.core.findings import Finding, Severity
from beltwright.drawing.backends.typesetter import quoted
from beltwright.report.markup import heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_ORDER = (Severity.BLOCK, Severity.CAUTION, Severity.NOTE)


def findings(material: Material) -> Written:
    """Every finding with its number, place, sentence and advice."""
    parts = [heading(1, "Findings")]
    if not material.findings:
        parts.append(paragraph("None."))
    for severity in _ORDER:
        parts += [_told(found) for found in material.findings if found.kind.severity is severity]
    return Written(markup="".join(parts))


def _told(found: Finding) -> str:
    """One finding."""
    return (
        f"#finding(code: {quoted(found.kind.code)}, severity: {quoted(found.kind.severity.value)}, where: "
        f"{quoted(found.where)}, message: {quoted(found.message)}, advice: {quoted(found.kind.advice)})\n"
    )


CHAPTERS = (Chapter(id="findings", title="Findings", write=findings),)
