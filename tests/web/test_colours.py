"""Colours of panels: order of lightness, words that can be read, classes that stay apart for colour-blind people."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest

from beltwright.app.colouring import Colouring
from beltwright.web.colours import FAILED, NONE, colours_of
from beltwright.web.look import MOST_CLASSES, style_sheet

# Viénot, Brettel and Mollon 1999: what people without the red or the green cone see of linear RGB.
PROTAN = np.array([[0.11238, 0.88762, 0.0], [0.11238, 0.88762, 0.0], [0.00401, -0.00401, 1.0]])
DEUTAN = np.array([[0.29275, 0.70725, 0.0], [0.29275, 0.70725, 0.0], [-0.02234, 0.02234, 1.0]])


def colouring(kind: str, count: int, failed: int | None = None) -> Colouring:
    """A colouring with so many classes beside "nothing asked"."""
    labels = tuple(f"class {k}" for k in range(count + 1))
    words: Any = kind
    return Colouring(
        by="x", title="x", kind=words, classes=np.zeros(1, np.uint8), labels=labels, counts=(1,) * len(labels),
        failed=failed,
    )  # fmt: skip


def linear(colour: str) -> np.ndarray:
    """Linear RGB of a colour (sRGB, IEC 61966-2-1)."""
    part = np.array([int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)])
    return np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2)."""
    return float(linear(colour) @ np.array([0.2126, 0.7152, 0.0722]))


@pytest.mark.parametrize("count", [2, 5, 12])
def test_a_scale_rises_in_lightness(count: int) -> None:
    tones = [luminance(colour) for colour in colours_of(colouring("scale", count))[1:]]
    assert all(b > a for a, b in pairwise(tones))


def test_what_fails_has_a_colour_of_its_own_and_so_has_nothing_asked() -> None:
    made = colours_of(colouring("scale", 6, failed=6))
    assert made[0] == NONE
    assert made[6] == FAILED
    assert made.count(FAILED) == 1


@pytest.mark.parametrize("seen", [np.eye(3), PROTAN, DEUTAN], ids=["all cones", "no red cone", "no green cone"])
def test_names_stay_apart_whoever_looks(seen: np.ndarray) -> None:
    """Distance in linear RGB as seen, beside the step of lightness that a display can show."""
    made = [np.clip(seen @ linear(colour), 0.0, 1.0) for colour in colours_of(colouring("names", 6))[1:]]
    assert min(float(np.linalg.norm(a - b)) for a, b in combinations(made, 2)) > 0.05


def test_dark_words_can_be_read_on_every_name() -> None:
    """WCAG 2.2: at least 4.5 to 1 for words, here in the ink of the pages."""
    ink = luminance("#1b2227")
    for colour in colours_of(colouring("names", 12)):
        assert (luminance(colour) + 0.05) / (ink + 0.05) >= 4.5


def test_the_style_sheet_has_a_rule_for_every_class_and_no_address() -> None:
    sheet = style_sheet()
    for number in range(MOST_CLASSES):
        assert f'[data-class="{number}"]' in sheet
    assert "url(" not in sheet
    assert "http" not in sheet
