"""What comes of the web frames and stringers: their spans, what is given for them, and one run for each rule."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.columns import ColumnTable
from beltwright.core.units import BoolArray
from beltwright.rules.protocol import About, SupportRule
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.support_lines import GivenScantlings
from beltwright.scantlings.support_spans import SupportSpans


@dataclass(frozen=True, slots=True, kw_only=True)
class KindRun:
    """The run of one rule on the spans of its kinds.

    The run's table has a row for every span, filled for those of these kinds. ``required`` (m,) says for
    ``run.members`` whether the rule set requires a direct calculation.
    """

    asked: SupportRule
    run: MemberRun
    required: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportRun:
    """The web frames and stringers: their spans, what is given for them, their table, and a run for each rule."""

    spans: SupportSpans
    given: GivenScantlings
    table: ColumnTable
    runs: tuple[KindRun, ...]

    @property
    def shown_here(self) -> bool:
        """Whether the rules' own checks show the strength of every kind, so that none needs a calculation besides."""
        checks = [check.about for one in self.runs for check in one.asked.rule.checks]
        return About.STRENGTH in checks and About.STRESS not in checks
