"""The question of a ship's least structure, and the design that an answer makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.hull.section import Sections, sections
from beltwright.hull.shell import Shell
from beltwright.scantlings.build import design_on
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.design import Design
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.ship.model import Orientation, Ship, Zone
from beltwright.ship.sizing import FramingChoice
from beltwright.sizing.bounds import rounded_down, zone_bound
from beltwright.sizing.candidates import Candidates, Option, support_price
from beltwright.sizing.trial import Trial
from beltwright.sizing.values import Values
from beltwright.weights.shellplates import Cover, PlateSizes, ShellPlates, cover_of, lay_plates

AS_DESCRIBED = "as described"
Framings = Mapping[str, Sequence[tuple[str, Trial]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateTable:
    """The plates of half a ship as sized: names, thickness as built (p,) [mm] (NaN: not sized) and grade."""

    plates: ShellPlates
    thickness_mm: FloatArray
    grade: tuple[str, ...]


def ask(
    design: Design,
    *,
    plates: ShellPlates | None = None,
    by_area: bool = False,
    framed: bool = True,
    second: str = "",
    framings: Framings | None = None,
) -> Candidates:
    """Return the problem's candidates for a ship: plates laid, every way to frame each zone tried.

    ``plates`` replaces the plates laid by the ship's own settings; ``by_area`` makes the frames of a zone alike
    throughout each hull area; ``framed`` false leaves every zone as described; ``second`` is another objective in which
    everything is priced too; ``framings`` are the ways to frame each zone where they are made already.

    Raises
    ------
    InputError : a framing choice names no zone or cannot be arranged, or its spacing is below the least one
    """
    ship = design.ship
    laid = lay(design) if plates is None else plates
    stock = SectionStock(ship)
    options = framings_of(design, stock, framed=framed) if framings is None else framings
    values = Values(ship, stock, by_area=by_area, second=second, graded=design.rules.grading is not None)
    zones = [zone.name for zone in ship.zones]
    covered: dict[int, Option] = {}
    for trials in options.values():
        for name, trial in trials:
            if id(trial) not in covered:
                covered[id(trial)] = Option(name=name, trial=trial, cover=cover_of(laid, trial.arrangement))
    return Candidates(zones, [[covered[id(trial)] for _, trial in options[name]] for name in zones], laid, values)


def bound(design: Design, framings: Framings) -> int:
    """Return a bound of the price of a ship's least structure that is quickly had; InputError as :func:`ask`."""
    values = Values(design.ship, SectionStock(design.ship), graded=design.rules.grading is not None)
    total, choices = 0.0, 0
    for zone, trials in framings.items():
        total += min(zone_bound(t, zone, values) + support_price(t, zone, values)[0] for _, t in trials)
        choices += max(t.arrangement.panels.rows for _, t in trials)
    return max(rounded_down(total, choices), 0)


def framings_of(
    design: Design, stock: SectionStock | None = None, *, framed: bool = True, cut: Cutter | None = None
) -> Framings:
    """Return every way to frame each zone, in words, with the ship arranged so; as described first.

    ``framed`` false leaves every zone as described. InputError as :func:`ask`.
    """
    ship, cut = design.ship, Cutter() if cut is None else cut
    stock = SectionStock(ship) if stock is None else stock
    base = AS_DESCRIBED, _trial(design, ship, design.arrangement, stock)
    zones = [zone.name for zone in ship.zones]
    options: dict[str, list[tuple[str, Trial]]] = {name: [base] for name in zones}
    for number, choice in enumerate(ship.sizing.framing if framed else (), 1):
        where = f"ship.toml: sizing.framing[{number}]"
        if choice.zone not in options:
            raise InputError(f"{where}.zone", "no such zone", value=choice.zone, allowed=", ".join(zones))
        other = reframed(ship, {choice.zone: choice}, where)
        arrangement = arrange(other, design.measures.shell, cut=cut)
        options[choice.zone].append((words(choice), _trial(design, other, arrangement, stock)))
    return options


class Cutter:
    """Cuts the shell into sections, and keeps what it has cut: framing a zone otherwise leaves the stations alone."""

    def __init__(self) -> None:
        self._made: dict[bytes, Sections] = {}

    def __call__(self, shell: Shell, x_m: FloatArray) -> Sections:
        """Return the sections at stations (s,) [m]."""
        key = x_m.tobytes()
        if key not in self._made:
            self._made[key] = sections(shell, x_m)
        return self._made[key]


def with_objective(design: Design, objective: str) -> Design:
    """Return the design with another objective in its settings."""
    settings = design.ship.sizing.model_copy(update={"objective": objective})
    return replace(design, ship=design.ship.model_copy(update={"sizing": settings}))


def lay(design: Design) -> ShellPlates:
    """Return the physical plates of a design's shell."""
    given = design.ship.sizing
    sizes = PlateSizes(length_m=given.plate_length_m, width_m=given.plate_width_m)
    return lay_plates(design.arrangement, design.borders, sizes)


def fit(
    design: Design, framing: Mapping[str, str], laid: PlateTable, sections: Mapping[tuple[str, str], tuple[str, str]]
) -> tuple[Design, Cover, Ship]:
    """Return the design with plates, sections and framing fitted, what covers its panels, and the ship framed so.

    ``framing`` names the option of every zone in the words of :func:`words`.
    """
    choices = {
        choice.zone: choice for choice in design.ship.sizing.framing if framing.get(choice.zone) == words(choice)
    }
    ship = reframed(design.ship, choices, "ship.toml: sizing.framing") if choices else design.ship
    arrangement = arrange(ship, design.measures.shell) if choices else design.arrangement
    cover = cover_of(laid.plates, arrangement)
    spans = Trial(
        ship, design.rules, design.measures, arrangement, design.areas, design.loads, SectionStock(ship), design.facts
    )  # fmt: skip
    chosen = _chosen(ship, arrangement, cover, laid, spans, sections)
    findings = Findings()
    findings.extend(arrangement.findings)
    made = design_on(
        ship, design.rules, design.measures, arrangement, findings,
        facts_measured=(dict(design.facts), dict(design.fact_origins)), chosen=chosen,
    )  # fmt: skip
    return made, cover, ship


def _chosen(ship: Ship, arrangement: Arrangement, cover: Cover, laid: PlateTable, trial: Trial,
            sections: Mapping[tuple[str, str], tuple[str, str]]) -> Chosen:  # fmt: skip
    """Plates and sections by panel and span."""
    plate = cover.thinnest(laid.thickness_mm)
    there = plate >= 0
    thickness = np.where(there, laid.thickness_mm[plate], np.nan)
    grades = np.array([*laid.grade, ""])[plate]
    grade = np.where(np.isnan(thickness) | (grades == ""), ship.steel.plate_grade, grades)
    frames = arrangement.frames
    names = [("", ship.steel.frame_grade)] * frames.rows
    zone, group = frames.labels("zone"), trial.group
    for span in trial.asked.tolist():
        names[span] = sections.get((str(zone[span]), str(group[span])), names[span])
    return Chosen(
        thickness_mm=thickness,
        plate_grade=grade.astype(np.str_),
        mean_mm=cover.mean(laid.thickness_mm),
        section=np.array([name for name, _ in names], dtype=np.str_),
        frame_grade=np.array([own for _, own in names], dtype=np.str_),
    )


def _trial(design: Design, ship: Ship, arrangement: Arrangement, stock: SectionStock) -> Trial:
    """The ship arranged so."""
    return Trial(ship, design.rules, design.measures, arrangement, design.areas, design.loads, stock, design.facts)


def words(choice: FramingChoice) -> str:
    """Return a framing choice in words."""
    parts: Sequence[str] = (
        choice.orientation or "",
        "" if choice.spacing_m is None else f"{choice.spacing_m:g} m apart",
        {None: "", True: "with intermediate frames", False: "without intermediate frames"}[choice.intermediate_frames],
        "" if choice.web_frame_spacing_m is None else f"webs {choice.web_frame_spacing_m:g} m apart",
    )
    return ", ".join(part for part in parts if part) or AS_DESCRIBED


def reframed(ship: Ship, choices: Mapping[str, FramingChoice], where: str) -> Ship:
    """Return the ship with some zones framed otherwise; InputError for a spacing below the least one."""
    least = ship.sizing.spacing_least_m
    zones = []
    for zone in ship.zones:
        choice = choices.get(zone.name)
        if choice is None:
            zones.append(zone)
            continue
        if choice.spacing_m is not None and choice.spacing_m < least:
            raise InputError(f"{where}.spacing_m", "below the least spacing", value=choice.spacing_m, unit="m",
                             allowed=f"{least:g} m or more")  # fmt: skip
        zones.append(_framed(zone, choice))
    return ship.model_copy(update={"zones": tuple(zones)})


def _framed(zone: Zone, choice: FramingChoice) -> Zone:
    """A zone with a framing choice."""
    changed = {name: value for name, value in choice.model_dump(exclude={"zone"}).items() if value is not None}
    if "orientation" in changed:
        changed["orientation"] = Orientation(changed["orientation"])
        if changed["orientation"] is Orientation.TRANSVERSE:
            changed["spacing_m"] = None
    return zone.model_copy(update=changed)
