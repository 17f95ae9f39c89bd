"""The chapters of this package, in the order of the booklet."""

from __future__ import annotations

from collections.abc import Sequence

from beltwright.report.chapters import (
    checklist,
    findings,
    form,
    frames,
    girder,
    grades,
    hull_areas,
    loads,
    plating,
    renewal,
    ship,
    ship_checks,
    standing,
    stem,
    supports,
    weights,
)
from beltwright.report.registry import Chapter, ChapterRegistry


def standard_chapters(sizing: Sequence[Chapter] = ()) -> ChapterRegistry:
    """Return a registry with the chapters of this package; ``sizing`` stands before the plating that it chose."""
    registry = ChapterRegistry()
    hydrostatics, angles = form.CHAPTERS
    chapters = (
        *ship.CHAPTERS, *findings.CHAPTERS, hydrostatics, *hull_areas.CHAPTERS, angles, *loads.CHAPTERS,
        *ship_checks.CHAPTERS, *sizing, *plating.CHAPTERS, *frames.CHAPTERS, *grades.CHAPTERS, *supports.CHAPTERS,
        *stem.CHAPTERS, *girder.CHAPTERS, *renewal.CHAPTERS, *weights.CHAPTERS, *checklist.CHAPTERS, *standing.CHAPTERS,
    )  # fmt: skip
    for chapter in chapters:
        registry.register(chapter)
    return registry
