"""Plates and sections that a search has chosen, in place of those that ``ship.toml`` gives or the program proposes."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.units import FloatArray, LabelArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What is fitted everywhere, in the order of the arrangement's panels (n,) and frame spans (m,).

    ``thickness_mm`` (n,) is the thinnest plate that covers each panel, as built, NaN for none, and ``plate_grade`` (n,)
    its grade; ``mean_mm`` (n,) is the mean thickness over the panel, which weighs. ``section`` (m,) names the section
    of each span, "" for none, and ``frame_grade`` (m,) its grade.
    """

    thickness_mm: FloatArray
    plate_grade: LabelArray
    mean_mm: FloatArray
    section: LabelArray
    frame_grade: LabelArray
