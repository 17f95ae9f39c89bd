"""The main job in stages, each redone only when something that it read has changed.

What a stage read of the description is written down while it runs. If all of that is the same the next time, and so is
what the stages before it gave, the stage would take the same way to the same result; so the result it gave then
stands, with its findings. Nobody has to list what depends on what.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any, Generic, TypeVar, cast

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.core.canonical import fingerprint
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import FloatArray
from beltwright.hull.placing import PlacedHull
from beltwright.hull.section import Sections, sections
from beltwright.hull.shell import Shell
from beltwright.rules.registry import rule_set
from beltwright.scantlings.build import Drawn, check_description, design_on, drawn_parts, stop_at_blocks
from beltwright.scantlings.design import Design, HullMeasures
from beltwright.scantlings.measure import measure_hull, shell_of
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.ship_facts import ShipFacts, ship_facts
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import Ship

Made = TypeVar("Made")
Heard = Callable[[Arrangement, MemberRun, MemberRun], None]
KEPT = 6  # results of a stage that are kept, so that undo and redo find theirs again


class Watched:
    """A description of a ship that writes down which of its parts are read; used wherever a ``Ship`` is."""

    def __init__(self, ship: Ship) -> None:
        self._ship = ship
        self.read: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._ship, name)
        if name in type(self._ship).model_fields:
            self.read[name] = value
        else:  # a method sees everything
            self.read.update({part: getattr(self._ship, part) for part in type(self._ship).model_fields})
        return value


@dataclass(slots=True)
class _Result(Generic[Made]):
    """What a stage gave, with what it stood on."""

    given: tuple[object, ...]
    read: Mapping[str, Any]
    made: Made
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Stage(Generic[Made]):
    """One stage: keeps its last results and gives one of them back where nothing that it read has changed."""

    run: Callable[..., Made]
    results: list[_Result[Made]] = field(default_factory=list)
    runs: int = 0

    def __call__(self, ship: Ship, given: tuple[object, ...], findings: Findings) -> Made:
        """Return the stage's result for a ship and what it is given besides (compared by identity, so kept alive)."""
        for result in self.results:
            same = len(result.given) == len(given) and all(a is b for a, b in zip(result.given, given, strict=True))
            if same and all(getattr(ship, name) == value for name, value in result.read.items()):
                findings.extend(result.findings)
                self.results.remove(result)
                self.results.insert(0, result)
                return result.made
        watched, found = Watched(ship), Findings()
        self.runs += 1
        made = self.run(cast(Ship, watched), *given, found)
        self.results.insert(0, _Result(given=given, read=watched.read, made=made, findings=tuple(found)))
        del self.results[KEPT:]
        findings.extend(found)
        return made


class Stages:
    """The stages of one hull that has been read and placed; thread-safe only by use from one thread at a time."""

    def __init__(self, placed: PlacedHull, cases: tuple[LoadingCase, ...]) -> None:
        self.placed = placed
        self.cases = cases
        self._shell: Shell | None = None
        self._measure: Stage[HullMeasures] = Stage(self._measured)
        self._arrange: Stage[Arrangement] = Stage(self._arranged)
        self._facts: Stage[ShipFacts] = Stage(_facts_of)
        self._sections: dict[bytes, Sections] = {}
        self._drawn: list[tuple[HullMeasures, str, Drawn]] = []

    def design(self, ship: Ship, *, whole: bool = True, heard: Heard | None = None) -> Design:
        """Return the design of the ship as described now, equal to that of a fresh run.

        ``whole`` false leaves out the borders as curves and the shell area of each hull area, unless they stand
        already; plates, frames and everything else are the same. ``heard`` is told plating and framing as soon as they
        stand. Raises InputError and ScopeError as
        ``scantlings.build.design_ship`` does.
        """
        findings = Findings()
        rules = check_description(ship, findings)
        findings.extend(self.placed.findings)
        stop_at_blocks(findings)
        measures = self._measure(ship, (), findings)
        arrangement = self._arrange(ship, (measures.shell,), findings)
        stop_at_blocks(findings)
        facts = self._facts(ship, (measures,), findings)
        key = fingerprint(
            {
                "rules": ship.ice.rules,
                "overrides": ship.overrides.model_dump(mode="json"),
                "facts": {name: [str(value) for value in column.tolist()] for name, column in facts[0].items()},
            }
        )
        drawn = next((made for of, under, made in self._drawn if of is measures and under == key), None)
        design = design_on(
            ship, rules, measures, arrangement, findings, facts_measured=facts,
            drawn=whole if drawn is None else drawn, heard=None if heard is None else partial(heard, arrangement),
        )  # fmt: skip
        if whole and drawn is None:
            self._drawn.insert(0, (measures, key, drawn_parts(design)))
            del self._drawn[KEPT:]
        return design

    def _measured(self, ship: Ship, findings: Findings) -> HullMeasures:
        """The hull measured, on the one shell of this hull."""
        if self._shell is None:
            self._shell = shell_of(self.placed)
        return measure_hull(ship, self.cases, self.placed, findings, shell=self._shell)

    def _arranged(self, ship: Ship, shell: Shell, findings: Findings) -> Arrangement:
        """The arrangement, with its findings."""
        made = arrange(ship, shell, cut=self._cut)
        findings.extend(made.findings)
        return made

    def _cut(self, shell: Shell, x_m: FloatArray) -> Sections:
        """Sections of the one shell; the last few families are kept."""
        key = x_m.tobytes()
        if key not in self._sections:
            while len(self._sections) >= KEPT:
                self._sections.pop(next(iter(self._sections)))
            self._sections[key] = sections(shell, x_m)
        return self._sections[key]


def _facts_of(ship: Ship, measures: HullMeasures, findings: Findings) -> ShipFacts:
    """What the rule set asks of the ship as a whole."""
    return ship_facts(ship, measures, findings, rule_set(ship.ice.rules).facts)
