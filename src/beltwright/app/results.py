"""What a project gives: the design, its weight, and where they come from."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.scantlings.design import Design
from beltwright.scantlings.fingerprint import result_fingerprint
from beltwright.scantlings.ship_checks import ship_check_table
from beltwright.scantlings.support_groups import supports_table
from beltwright.weights.steel import SteelWeight


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """The results of the main job.

    ``inputs_sha256`` is the hash of everything the user gave, ``result_sha256`` that of everything the numbers rest on:
    inputs, program version, rule editions, table cells with their standing, written reasons.
    """

    design: Design
    weight: SteelWeight
    inputs_sha256: str

    @property
    def result_sha256(self) -> str:
        """The hash of everything that the numbers rest on, see ``scantlings.fingerprint``."""
        return result_fingerprint(self.design, self.inputs_sha256)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that was noticed, in the order of the work."""
        return (*self.design.findings, *self.weight.findings)

    @property
    def tables(self) -> dict[str, ColumnTable]:
        """The results as named tables of unit-carrying columns.

        ``hull areas``, ``plating`` and ``frames`` (requirements and scantlings), ``panels`` and ``frame spans`` (their
        geometry, row for row), ``web frames and stringers`` and their ``direct calculation`` (load cases handed over),
        ``plated structures``, ``checklist``, ``steel weight``; ``steel grades``, ``longitudinal strength`` and
        ``girder buckling``, ``stem``, ``ship as a whole`` where the rule set has such a chapter.
        """
        design = self.design
        return {
            "hull areas": design.area_table,
            "plating": design.plating,
            "panels": design.arrangement.panels,
            "frames": design.frames,
            "frame spans": design.arrangement.frames,
            "web frames and stringers": supports_table(design.supports_run),
            "direct calculation": design.load_cases,
            "plated structures": design.plated,
            "checklist": design.checklist,
            "steel weight": self.weight.table,
            **({} if design.grades is None else {"steel grades": design.grades}),
            **({} if design.stem is None else {"stem": design.stem.table}),
            **(
                {}
                if design.ship_checks is None
                else {"ship as a whole": ship_check_table(design.ship_checks, design.fact_origins)}
            ),
            **(
                {}
                if design.girder is None
                else {"longitudinal strength": design.girder.stations, "girder buckling": design.girder.buckling}
            ),
        }
