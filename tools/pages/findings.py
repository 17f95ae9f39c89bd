"""The page of numbered findings, from the codes that the rooms register."""

from __future__ import annotations

from beltwright.core.findings import FindingCode, Severity, all_codes
from pages._modules import every_module, table

RANGES = {
    "BW0": "Input and use",
    "BW1": "Hull form and its file",
    "BW2": "Arrangement",
    "BW3": "Materials and sections",
    "BW4": "Rules and scantlings",
    "BW5": "Weights",
    "BW6": "Report",
    "BW7": "Submitted drawings",
    "BW8": "Voyage",
}
MEANING = {
    Severity.NOTE: "shown; there is nothing to do",
    Severity.CAUTION: "the result stands, but look before you use it",
    Severity.BLOCK: "no result is given until it is answered",
}


def page() -> str:
    """Give the page as Markdown."""
    every_module()
    codes = all_codes()
    intro = (
        "# Findings\n\n"
        "A finding is something the program noticed about the inputs or the results. Findings are numbered, collected "
        "and printed together, on the screen, in the booklet and in the result file.\n\n"
    )
    parts = [intro, table(["severity", "what it means"], [[s.value, MEANING[s]] for s in Severity])]
    for prefix, title in RANGES.items():
        found = [code for code in codes if code.code.startswith(prefix)]
        if found:
            parts.append(f"\n## {title}\n\n" + table(["code", "severity", "what", "what to do"], _rows(found)))
    return "".join(parts)


def _rows(codes: list[FindingCode]) -> list[list[str]]:
    return [[f"**{code.code}**", code.severity.value, code.title, code.advice] for code in codes]
