"""How the pages look: the style sheet of this package, the pens of the drawings, and a rule per class of panels."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Final

from beltwright.drawing.backends.live import live_style

MOST_CLASSES: Final = 40
DRAWING: Final = ".drawing-view"


@cache
def style_sheet() -> str:
    """Return the style sheet of all pages."""
    classes = [f'{DRAWING} [data-class="{number}"]{{fill:var(--class-{number})}}' for number in range(MOST_CLASSES)]
    parts = [live_style(DRAWING), live_style(f"body.body--dark {DRAWING}", dark=True), *classes]
    own = (files("beltwright.web") / "look.css").read_text("utf-8")
    return "\n".join([own, *parts])
