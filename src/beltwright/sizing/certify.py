"""The recheck of a certificate, without the solver's model: every requirement, the price, and the bound a second way.

The ship is read, measured and arranged anew; plates and sections are fitted and every check of the design is run. The
bound is confirmed by trying everything where there is little to try, else by a second solver on a model written here,
plainly and from the rules' tables alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.scantlings.grades import APPENDAGE
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.certificate import ArrangementEntry, Certificate, Verdict
from beltwright.sizing.fit import PlateTable, ask, fit, with_objective
from beltwright.sizing.framegroups import PlateSteel
from beltwright.sizing.problem import price, refuse_what_none_meets
from beltwright.sizing.question import question_hash
from beltwright.sizing.second import by_second_solver, by_trying_all
from beltwright.sizing.variants import Variant, arranged, variants_of
from beltwright.weights.shellplates import widest_step_mm

FEW = 200_000  # designs that are simply tried one after the other
_ROUNDS = 50


def certify(made: Certificate, design: Design, inputs_sha256: str, *, seconds: float = 300.0) -> Verdict:
    """Return the verdict on a certificate of a designed ship; ``seconds`` limits the second solver.

    ``design`` is the ship as its folder describes it, ``inputs_sha256`` the hash of the folder's inputs.
    """
    refused = _identity(made, design, inputs_sha256)
    if refused:
        return Verdict(refused=refused, confirmed=(), open=())
    every = variants_of(design)
    refused = _arrangements(made, every)
    if refused:
        return Verdict(refused=refused, confirmed=(), open=())
    ship = next(one.ship for one in every if one.choices == made.arrangement)
    if ship is None:
        return Verdict(refused=("the arrangement cannot be made",), confirmed=(), open=())
    chosen = arranged(design, ship)
    asked = ask(with_objective(chosen, made.objective), second=made.second.objective)
    if question_hash(asked) != made.question_sha256:
        return Verdict(refused=("the question is not the one that this ship asks",), confirmed=(), open=())
    refused = _units(made, asked) or _answer(made, asked)
    if refused:
        return Verdict(refused=refused, confirmed=(), open=())
    confirmed = ["the ship's inputs and the question are the same"]
    told, words = _requirements(made, chosen, asked)
    confirmed += words
    told += _sums(made, asked)
    if not told:
        confirmed.append(f"the price adds up to {made.price} {made.unit}")
    if told:
        return Verdict(refused=tuple(told), confirmed=tuple(confirmed), open=())
    against, words, left = _bound(made, asked, seconds)
    for entry, variant in zip(made.arrangements, every, strict=False):
        if entry.choices != made.arrangement and not against:
            more = _other(made, entry, variant, design, seconds)
            against, words, left = against + more[0], words + more[1], left + more[2]
    return Verdict(refused=tuple(against), confirmed=(*confirmed, *words), open=tuple(left))


def _arrangements(made: Certificate, every: Sequence[Variant]) -> tuple[str, ...]:
    """Whether the arrangements told are those that the ship's lists make, and the one chosen is among them.

    A point of a front speaks of the arrangement as described alone.
    """
    told = [one.choices for one in made.arrangements]
    wanted = [one.choices for one in every] if not made.second.objective else []
    known = wanted or [every[0].choices]
    if told != wanted:
        return ("the arrangements are not those that there were to choose from",)
    if made.arrangement not in known:
        return (f"there is no arrangement {'; '.join(made.arrangement)}",)
    states = [one.state == "chosen" for one in made.arrangements if one.choices == made.arrangement]
    return () if all(states) else ("the arrangement chosen is another one",)


def _other(made: Certificate, entry: ArrangementEntry, variant: Variant, design: Design, seconds: float
           ) -> tuple[list[str], list[str], list[str]]:  # fmt: skip
    """The same as :func:`_bound` of an arrangement that was not chosen."""
    name = f"arrangement {variant.words}"
    try:
        if variant.ship is None:
            raise InputError(name, variant.note)
        asked = ask(with_objective(arranged(design, variant.ship), made.objective))
        least, way = _least(asked, None, seconds)
    except InputError as error:
        met = entry.state == "nothing meets"
        return [], [f"{name}: {error}"] if met else [], [] if met else [f"{name} was not confirmed: {error}"]
    if least is None:
        return [], [], [f"the bound {entry.bound} of {name} was not confirmed: the second solver did not finish"]
    if entry.state == "nothing meets":
        return [f"{name} can be met, for {least}"], [], []
    if entry.bound > least:
        return [f"the bound {entry.bound} of {name} is above {least}, which {way} finds"], [], []
    if least < made.bound or (made.finished and least < made.price):
        return [f"{way} finds a design of {least} with {name}, below the bound {made.bound}"], [], []
    return [], [f"{name}: {way} finds nothing below {least}"], []


def _identity(made: Certificate, design: Design, inputs_sha256: str) -> tuple[str, ...]:
    """Whether the certificate speaks of this ship."""
    pairs = (
        ("the ship's inputs have another hash", made.inputs_sha256, inputs_sha256),
        ("the ship has another name", made.ship, design.ship.ship.name),
        ("the rule set is another", made.rule_set, design.rules.id),
        ("the ice class is another", made.ice_class, design.ship.ice.ice_class),
    )
    return tuple(f"{words}: {told} in the certificate, {here} here" for words, told, here in pairs if told != here)


def _units(made: Certificate, asked: Candidates) -> tuple[str, ...]:
    """Whether the prices count what the question counts."""
    pairs = ((made.unit, asked.values.unit), (made.second.unit, asked.values.second_unit))
    return tuple(f"the unit of the price is another: {told} in the certificate, {here} here"
                 for told, here in pairs if told != here)  # fmt: skip


def _answer(made: Certificate, asked: Candidates) -> tuple[str, ...]:
    """Whether the answer is one: each plate, zone and group has an entry that was there to choose, and nothing more."""
    told: list[str] = []
    options = {name: [one.name for one in mine] for name, mine in zip(asked.zones, asked.options, strict=True)}
    told += _names("zones", made.framing, options)
    told += [f"zone {name} has no option {taken}" for name, taken in made.framing.items()
             if taken not in options.get(name, [taken])]  # fmt: skip
    names = [asked.plates.names[p] for p in asked.sized.tolist()]
    told += _names("plates", made.plates, names)
    for name, steels in zip(names, asked.steels, strict=True):
        entry = made.plates.get(name)
        if entry is not None and (entry.thickness_mm, entry.grade) not in [(s.thickness_mm, s.grade) for s in steels]:
            told.append(f"plate {name}: {entry.thickness_mm:g} mm {entry.grade} was not there to choose")
    if len(made.sections) < len(made.frames):
        told.append("a group of frames stands twice")
    if told:
        return tuple(told)
    wanted = {
        (asked.zones[group.zone], member): group
        for group in asked.groups
        for member in group.members
        if made.framing[asked.zones[group.zone]] == options[asked.zones[group.zone]][group.option]
    }
    told += _names("frames", {" / ".join(k): v for k, v in made.sections.items()},
                   [" / ".join(k) for k in wanted])  # fmt: skip
    stock = {asked.values.section_name(int(row)) for row in asked.values.sections}
    for (zone, group), (section, grade) in made.sections.items():
        if (section not in stock or grade not in asked.values.frame_grades) and (section, grade) not in asked.given:
            told.append(f"{zone} / {group}: {section} {grade} was not there to choose")
    for own in {id(one): one for one in wanted.values()}.values():
        zone = asked.zones[own.zone]
        if len({made.sections.get((zone, member)) for member in own.members}) > 1:
            told.append(f"{zone} / {own.name}: frames that run on have different sections")
    return tuple(told)


def _names(what: str, given: Mapping[str, object], wanted: Mapping[str, object] | list[str]) -> list[str]:
    """Names that are missing or too many."""
    missing, more = sorted(set(wanted) - set(given)), sorted(set(given) - set(wanted))
    told = [f"{what} without an entry: {', '.join(missing[:3])}"] if missing else []
    return told + ([f"{what} that are not there: {', '.join(more[:3])}"] if more else [])


def laid_of(made: Certificate, asked: Candidates) -> PlateTable:
    """Return the certificate's plates on the ship's own layout."""
    entries = [made.plates.get(name) for name in asked.plates.names]
    return PlateTable(
        plates=asked.plates,
        thickness_mm=np.array([np.nan if entry is None else entry.thickness_mm for entry in entries]),
        grade=tuple("" if entry is None else entry.grade for entry in entries),
    )


def _requirements(made: Certificate, design: Design, asked: Candidates) -> tuple[list[str], list[str]]:
    """Every check of the design with these plates and sections, and the limits between plates."""
    fitted, _, _ = fit(design, made.framing, laid_of(made, asked), made.sections)
    told, counted = [], []
    tables = [("plating", fitted.plating), ("frames", fitted.frames)]
    if fitted.grades is not None:
        sized = fitted.grades.labels("kind") != APPENDAGE
        tables.append(("steel grades", fitted.grades.where(np.flatnonzero(sized))))
    for name, table in tables:
        outcome = table.labels("outcome")
        failed = np.flatnonzero(outcome == "not met")
        if len(failed):
            worst = failed[int(np.nanargmax(table["ratio"].data[failed]))]
            told.append(f"{name}: {len(failed)} checks are not met, first {table.labels('id')[worst]}")
        counted.append(f"{name}: {int((outcome == 'met').sum())} members meet every check")
    laid = laid_of(made, asked)
    values, thickness = asked.values, laid.thickness_mm
    step = np.inf if values.neighbour_step_mm is None else values.neighbour_step_mm
    for a, b in asked.plates.beside.tolist():
        apart = min(step, widest_step_mm(asked.plates, a, b, design.ship.sizing.taper))
        if abs(thickness[a] - thickness[b]) > apart + 1e-9:
            told.append(f"{asked.plates.names[a]} and {asked.plates.names[b]} differ by too much")
    for what, count, most in (
        ("plate thicknesses", len(set(thickness[~np.isnan(thickness)].tolist())), values.most_thicknesses),
        ("profiles", len({section for section, _ in made.sections.values()}), values.most_profiles),
    ):
        if most is not None and count > most:
            told.append(f"{count} {what}, at most {most} are allowed")
    return told, counted


def _sums(made: Certificate, asked: Candidates) -> list[str]:
    """Both prices added up anew, and whether bound and price fit each other."""
    entries = [made.plates[asked.plates.names[p]] for p in asked.sized.tolist()]
    priced = [
        asked.plate_prices(row, PlateSteel(thickness_mm=entry.thickness_mm, grade=entry.grade))
        for row, entry in enumerate(entries)
    ]
    rows = asked.section_rows
    for group in asked.groups:
        zone = asked.zones[group.zone]
        if made.framing[zone] == asked.options[group.zone][group.option].name:
            section, grade = made.sections[zone, group.members[0]]
            priced.append(asked.values.frame(rows[section], grade, group.length_m, len(group.span)))
    for name, prices in zip(asked.zones, asked.support_prices, strict=True):
        names = [one.name for one in asked.options[asked.zones.index(name)]]
        priced.append(prices[names.index(made.framing[name])])
    told, second = [], made.second
    for total, price_told, unit in ((sum(one for one, _ in priced), made.price, made.unit),
                                    (sum(other for _, other in priced), second.price, second.unit)):  # fmt: skip
        if total != price_told:
            told.append(f"the price adds up to {total}, not to {price_told} {unit}")
    if second.most is not None and second.price > second.most:
        told.append(f"{second.price} {second.unit} is more than the {second.most} allowed")
    if made.bound > made.price:
        told.append(f"the bound {made.bound} lies above the price {made.price}")
    if made.finished != (made.bound == made.price):
        told.append("the search is called finished and the bound is not the price, or the other way round")
    return told


def _least(asked: Candidates, most_other: int | None, seconds: float) -> tuple[int | None, str]:
    """The least price found a second way, None where it did not finish, and the way in words."""
    for _ in range(_ROUNDS):
        problem = replace(asked.problem(), most_other=most_other)
        refuse_what_none_meets(problem)
        few = problem.designs <= FEW
        found = by_trying_all(problem) if few else by_second_solver(problem, seconds)
        if found is None:
            break
        if not asked.harder(found):
            way = f"trying all {problem.designs} designs" if few else "a second solver on a second model"
            return price(problem, found), way
    return None, "the second solver"


def _bound(made: Certificate, asked: Candidates, seconds: float) -> tuple[list[str], list[str], list[str]]:
    """Why the bound is refused, what confirms it, and what is left open; of the arrangement chosen."""
    least, way = _least(asked, made.second.most, seconds)
    if least is None:
        return [], [], [f"the bound {made.bound} was not confirmed: the second solver did not finish"]
    if made.bound > least:
        return [f"the bound {made.bound} is above {least}, which {way} finds"], [], []
    if made.finished and made.price > least:
        return [f"{way} finds a design of {least}, less than the price {made.price}"], [], []
    same = "" if way.startswith("trying") else " (both solvers are of one family of code)"
    return [], [f"the bound {made.bound} holds: {way} finds nothing below {least}{same}"], []
