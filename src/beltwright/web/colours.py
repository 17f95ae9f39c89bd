"""Colours of panels: scales that rise in lightness, names that colour-blind people can tell apart, and what fails."""

from __future__ import annotations

from typing import Final

from beltwright.app.colouring import Colouring

# Points of a scale from blue to yellow whose lightness rises evenly; in between it is straight.
_SCALE: Final = ((0, 32, 77), (60, 77, 110), (111, 111, 116), (160, 150, 112), (209, 191, 96), (255, 234, 70))
# Nine colours after Okabe and Ito and after Tol, light enough for dark words.
_NAMES: Final = (
    "#8ec5e8", "#f0c35a", "#8fd0b4", "#e3a5c7", "#c9b28f", "#b9d36b", "#e8a27c", "#a9b3e0", "#cfd4d8", "#7fb0a8",
    "#d9d07a", "#c48fb0",
)  # fmt: skip
NONE, FAILED = "#e6eaec", "#d5432a"


def colours_of(colouring: Colouring) -> list[str]:
    """Return the colour of each class, as hexadecimal; class 0 and what fails have their own."""
    count = len(colouring.labels) - 1
    if colouring.kind == "scale":
        steps = count - (1 if colouring.failed is not None else 0)
        inner = [_at(k / max(steps - 1, 1)) for k in range(steps)]
        inner += [FAILED] * (count - steps)
    else:
        inner = [_NAMES[k % len(_NAMES)] for k in range(count)]
    found = [NONE, *inner]
    if colouring.failed is not None:
        found[colouring.failed] = FAILED
    return found


def _at(share: float) -> str:
    """The colour at a share of the scale."""
    place = min(max(share, 0.0), 1.0) * (len(_SCALE) - 1)
    low = min(int(place), len(_SCALE) - 2)
    part = place - low
    mixed = (round(a + part * (b - a)) for a, b in zip(_SCALE[low], _SCALE[low + 1], strict=True))
    return "#" + "".join(f"{value:02x}" for value in mixed)
