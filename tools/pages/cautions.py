"""The page of cautions, from the one place that every output reads them from."""

from __future__ import annotations

from beltwright.core.cautions import CAUTIONS

INTRO = """# Cautions

These are printed in every booklet, on every drawing and in the result file.
"""


def page() -> str:
    """Give the page as Markdown."""
    lines = [f"{number}. **{title}.** {text}" for number, (title, text) in enumerate(CAUTIONS, start=1)]
    tail = "What of a rule document is not coded is listed under [rules that are coded](reference/coverage.md).\n"
    return INTRO + "\n" + "\n".join(lines) + "\n\n" + tail
