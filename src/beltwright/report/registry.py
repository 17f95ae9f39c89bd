"""The registry of chapters: what the booklet consists of, in order; an id may be taken only once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from beltwright.report.material import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A written chapter: its typst markup, and the pictures it shows by file name."""

    markup: str
    pictures: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A chapter: its id, its title and what writes it."""

    id: str
    title: str
    write: Callable[[Material], Written]


class ChapterRegistry:
    """Chapters by id, in the order of registration."""

    def __init__(self) -> None:
        self._chapters: dict[str, Chapter] = {}

    def register(self, chapter: Chapter) -> Chapter:
        """Register a chapter; raises ValueError if its id is taken."""
        if chapter.id in self._chapters:
            raise ValueError(f"chapter {chapter.id} is registered already")
        self._chapters[chapter.id] = chapter
        return chapter

    def all(self) -> tuple[Chapter, ...]:
        """Return every chapter in order."""
        return tuple(self._chapters.values())
