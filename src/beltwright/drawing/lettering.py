"""Lettering: one technical typeface of fixed width, so that every word can be measured exactly.

The typeface is DejaVu Sans Mono, which the PDF compiler carries; other fixed-width typefaces that a browser may take
instead are no wider by more than a hundredth. Metrics are fractions of the type size, read from the font's tables.
"""

from __future__ import annotations

import unicodedata

import numpy as np

from beltwright.core.units import FloatArray

FAMILY = "DejaVu Sans Mono"
FALLBACK = "Menlo,Consolas,'Liberation Mono',monospace"  # where the family is not there
ADVANCE, ASCENT, DESCENT, CAP_HEIGHT = 0.602, 0.76, 0.24, 0.729
_ALIGN = {"start": 0.0, "middle": 0.5, "end": 1.0}


def text_width(text: str, size_mm: float) -> float:
    """Return the width [mm] of one line of words; accents that combine take no room."""
    return ADVANCE * size_mm * sum(1 for character in text if not unicodedata.combining(character))


def text_box(at: tuple[float, float], text: str, size_mm: float, anchor: str, turned_deg: float) -> FloatArray:
    """Return the corners (4, 2) of the box around words whose baseline's anchor is at ``at``, turned anticlockwise."""
    width = text_width(text, size_mm)
    left = -_ALIGN[anchor] * width
    low, high = -DESCENT * size_mm, ASCENT * size_mm
    corners = np.array([(left, low), (left + width, low), (left + width, high), (left, high)])
    turn = np.radians(turned_deg)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    turned: FloatArray = corners @ rotation + np.array(at)
    return turned


def boxes_overlap(first: FloatArray, second: FloatArray, clearance_mm: float = 0.0) -> bool:
    """Return whether two convex boxes (4, 2) come closer than a clearance (negative: overlap by more than that)."""
    for box in (first, second):
        edges = np.roll(box, -1, axis=0) - box
        normals = np.stack([-edges[:2, 1], edges[:2, 0]], axis=1)
        normals = normals / np.maximum(np.hypot(normals[:, 0], normals[:, 1]), 1e-12)[:, None]
        a, b = first @ normals.T, second @ normals.T
        gap = np.maximum(a.min(axis=0) - b.max(axis=0), b.min(axis=0) - a.max(axis=0))
        if bool((gap >= clearance_mm).any()):
            return False
    return True


def shorten(text: str, size_mm: float, width_mm: float) -> str:
    """Return the words cut with an ellipsis so that they fit a width [mm]."""
    if text_width(text, size_mm) <= width_mm:
        return text
    keep = max(int(width_mm / (ADVANCE * size_mm)) - 1, 0)
    return text[:keep].rstrip() + "…"


def wrap(text: str, size_mm: float, width_mm: float) -> list[str]:
    """Return the words broken into lines that fit a width [mm]."""
    import textwrap

    return textwrap.wrap(text, max(int(width_mm / (ADVANCE * size_mm)), 8))
