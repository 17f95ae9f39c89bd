"""Groups of frames that take one section, the plates they stand on, and which sections pass on which plates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.outcome import is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.sizing.problem import Candidate, FrameGroup, Stand
from beltwright.sizing.trial import OnPlates, Trial
from beltwright.sizing.values import Values
from beltwright.weights.shellplates import Cover

HARDEST = 1  # pairs of span and plate that are hard from the start, for each plate and each section tried
_BATCH = 400  # sections tried at a time, cheapest first
Choice = tuple[int, int, int, str]  # price, other price, row of the stock, grade
_BEYOND = 1.6  # where profiles are bounded in number, sections are tried up to this multiple of the safe one's price


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateSteel:
    """What a plate may be."""

    thickness_mm: float
    grade: str

    @property
    def yield_mpa(self) -> float:
        """The yield stress at this thickness [MPa]."""
        return _yield_mpa(self.thickness_mm, self.grade)


@cache
def _yield_mpa(thickness_mm: float, grade: str) -> float:
    thickness = np.array([thickness_mm])
    return float(hull_steels().yields_MPa(np.array([grade]), as_built_thickness_mm=thickness)[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Frames that take one section: their spans (m,), and the pairs (q,) of span and plate they stand on.

    ``pair_span`` indexes ``span``, ``pair_plate`` the sized plates; ``addition_mm`` is what is taken off the plate for
    its net thickness. ``members`` are the groups of spans that run on into each other and so are one.
    """

    name: str
    members: tuple[str, ...]
    zone: int
    option: int
    span: IntArray
    length_m: float
    pair_span: IntArray
    pair_plate: IntArray
    addition_mm: FloatArray


def frame_groups(
    trial: Trial, cover: Cover, row_of: Mapping[int, int], zone: str, place: tuple[int, int], values: Values
) -> list[Group]:
    """Return the groups of a zone; ``place`` are the numbers of zone and option, ``row_of`` finds sized plates."""
    frames = trial.arrangement.frames
    asked = trial.asked[frames.labels("zone")[trial.asked] == zone]
    heads, own = _joined(trial, asked, values), trial.group[asked]
    lengths, covers = frames.values("length_m"), _plates_of_panels(cover)
    found = []
    for name in dict.fromkeys(heads.tolist()):
        span = asked[heads == name]
        pairs = [pair for pair in _pairs(trial, span, covers) if pair[1] in row_of]
        bare = sorted(set(range(len(span))) - {row for row, _, _ in pairs})
        if bare:
            where = f"frame {frames.labels('id')[span[bare[0]]]}"
            allowed = "a least plate for it, stock.floor_mm in ship.toml"
            raise InputError(where, "stands on shell of which no plate is asked", allowed=allowed)
        found.append(
            Group(
                name=name,
                members=tuple(dict.fromkeys(own[heads == name].tolist())),
                zone=place[0],
                option=place[1],
                span=span,
                length_m=float(lengths[span].sum()),
                pair_span=np.array([row for row, _, _ in pairs], dtype=np.int64),
                pair_plate=np.array([row_of[plate] for _, plate, _ in pairs], dtype=np.int64),
                addition_mm=np.array([addition for _, _, addition in pairs], dtype=np.float64),
            )
        )
    return found


class FrameChoices:
    """The sections of one group: those worth trying, and on which plates they pass, by the pairs tried so far."""

    def __init__(self, group: Group, trial: Trial, steels: Sequence[Sequence[PlateSteel]], values: Values) -> None:
        self.group, self._trial, self._steels, self._values = group, trial, steels, values
        self.too_warm: tuple[int, float, str, float] | None = None  # span, thickness [mm], grade, ratio
        self._choices = self._cold_enough(self._given() or self._stocked())
        self._hard = self._hardest()
        self._tried, self._stands = self._try()

    def _stocked(self) -> list[Choice]:
        """Every section to choose from in every grade, cheapest first."""
        group, values = self.group, self._values
        prices = {grade: values.frames(grade, group.length_m, len(group.span)) for grade in values.frame_grades}
        return sorted(
            (price, other, row, grade)
            for grade, own in prices.items()
            for (price, other), row in zip(own.tolist(), values.sections.tolist(), strict=True)
        )

    def _given(self) -> list[Choice]:
        """The section that ship.toml gives to any span of the group, which then binds the whole group; or nothing.

        Where it gives no grade, it is the ship's or another letter of its strength.
        """
        ship, group, values = self._trial.ship, self.group, self._values
        numbers = {int(number) for number in self._trial.given_section()[group.span] if number >= 0}
        named = {(ship.frame_sections[n].section, ship.frame_sections[n].grade) for n in numbers}
        if not named:
            return []
        if len(named) > 1:
            told = " and ".join(sorted(section for section, _ in named))
            raise InputError(f"ship.toml: frame_sections: {group.name}", "frames that run on are given two sections",
                             value=told, allowed="one section, or sizing.alike_through = nothing")  # fmt: skip
        section, own = named.pop()
        row = self._trial.stock.row_of(section)
        grades = values.letters_of((ship.steel.frame_grade,)) if own is None else (own,)
        return sorted((*values.frame(row, grade, group.length_m, len(group.span)), row, grade) for grade in grades)

    def _cold_enough(self, choices: list[Choice]) -> list[Choice]:
        """The choices whose grade will do on every span, of each section and yield the cheapest letter only.

        Without any, ``too_warm`` says which span asks for more than there is.
        """
        rows = np.array([row for _, _, row, _ in choices], dtype=np.int64)
        thick = self._trial.stock.thickest_as_built_mm[rows]
        grades, of_grade = np.unique([grade for *_, grade in choices], return_inverse=True)
        thickness, of_thickness = np.unique(thick, return_inverse=True)
        ratio = self._trial.span_grades(self.group.span, thickness, grades.tolist())
        met = is_met(ratio.max(axis=0))[of_thickness, of_grade]
        levels = np.unique([grade[1:] for grade in grades], return_inverse=True)[1][of_grade]
        kept: dict[tuple[int, int], list[Choice]] = {}
        for k in np.flatnonzero(met).tolist():
            alike = kept.setdefault((int(rows[k]), int(levels[k])), [])
            if not any(one[0] <= choices[k][0] and one[1] <= choices[k][1] for one in alike):
                alike.append(choices[k])
        found = sorted(one for alike in kept.values() for one in alike)
        if not found:
            t, g = (int(k) for k in np.unravel_index(int(np.argmin(ratio.max(axis=0))), ratio.shape[1:]))
            worst = int(np.argmax(ratio[:, t, g]))
            self.too_warm = int(self.group.span[worst]), float(thickness[t]), str(grades[g]), float(ratio[worst, t, g])
        return found

    def choice(self, candidate: int) -> tuple[str, str]:
        """Return section and grade of a candidate."""
        _, _, row, grade = self._choices[self._tried[candidate]]
        return self._values.section_name(row), grade

    def as_group(self) -> FrameGroup:
        """Return the group of the problem."""
        chosen = [self._choices[k] for k in self._tried]
        return FrameGroup(
            name=self.group.name,
            zone=self.group.zone,
            option=self.group.option,
            candidates=tuple(
                Candidate(profile=self._values.section_name(row), grade=grade, price=price, other=other)
                for price, other, row, grade in chosen
            ),
            stands=self._stands,
        )

    def harder(self, candidate: int, plates: Sequence[PlateSteel]) -> bool:
        """Try a candidate on the plates chosen (p,) with all pairs; whether new hard ones were found."""
        _, _, row, grade = self._choices[self._tried[candidate]]
        every = np.arange(len(self.group.pair_span))
        on = self._on(every, [plates[p] for p in self.group.pair_plate])
        ratio = self._trial.worst(on, np.array([row]), grade)[:, 0]
        failed = every[~is_met(ratio)]
        new = [int(q) for q in failed[np.argsort(-ratio[failed], kind="stable")] if int(q) not in set(self._hard)]
        if not new:
            return False
        worst_by_plate: dict[int, int] = {}
        for q in new:
            worst_by_plate.setdefault(int(self.group.pair_plate[q]), q)
        self._hard = sorted({*self._hard, *worst_by_plate.values()})
        self._tried, self._stands = self._try()
        return True

    def nearest(self) -> tuple[str, str, float, int, int, PlateSteel, str]:
        """Return what comes nearest where no section meets.

        That is section and grade, its ratio, the span (its row) and the sized plate that come out worst, what that
        plate is, and the failing check. Each hard pair is taken on the plate that suits it best.
        """
        best: tuple[float, int, int, int] | None = None
        pairs = [(q, c) for q in self._hard for c in range(len(self._steels[int(self.group.pair_plate[q])]))]
        on = self._on(np.array([q for q, _ in pairs]),
                      [self._steels[int(self.group.pair_plate[q])][c] for q, c in pairs])  # fmt: skip
        owner = np.array([q for q, _ in pairs])
        for grade in dict.fromkeys(choice[3] for choice in self._choices):
            own = [k for k, choice in enumerate(self._choices) if choice[3] == grade]
            ratio = self._trial.worst(on, np.array([self._choices[k][2] for k in own], dtype=np.int64), grade)
            easiest = np.stack([ratio[owner == q].min(axis=0) for q in self._hard])
            worst = easiest.max(axis=0)
            k = int(np.argmin(worst))
            if best is None or worst[k] < best[0]:
                hardest = self._hard[int(np.argmax(easiest[:, k]))]
                mine = np.flatnonzero(owner == hardest)
                best = float(worst[k]), own[k], hardest, int(mine[int(np.argmin(ratio[mine, k]))])
        assert best is not None
        found, choice, pair, place = best
        _, _, row, grade = self._choices[choice]
        check = self._trial.failing(on.take(np.array([place])), row, grade)
        span, plate = int(self.group.span[self.group.pair_span[pair]]), int(self.group.pair_plate[pair])
        return self._values.section_name(row), grade, found, span, plate, self._steels[plate][pairs[place][1]], check

    def _on(self, pairs: IntArray, steels: Sequence[PlateSteel]) -> OnPlates:
        """Pairs (m,) on plates of the given steels (m,)."""
        thickness = np.array([steel.thickness_mm for steel in steels])
        return OnPlates(
            span=self.group.span[self.group.pair_span[pairs]],
            net_mm=thickness - self.group.addition_mm[pairs],
            as_built_mm=thickness,
            yield_mpa=np.array([steel.yield_mpa for steel in steels]),
        )

    def _hardest(self) -> list[int]:
        """The pairs that come out worst with two middling sections, on each plate."""
        group, sections = self.group, self._values.sections
        every = np.arange(len(group.pair_span))
        on = self._on(every, [self._steels[p][0] for p in group.pair_plate])
        some = sections[[len(sections) // 4, len(sections) // 2]]
        ratio = self._trial.worst(on, some, self._values.frame_grades[0])
        found: set[int] = set()
        for plate in np.unique(group.pair_plate):
            mine = every[group.pair_plate == plate]
            for column in range(len(some)):
                found.update(mine[np.argsort(-ratio[mine, column], kind="stable")[:HARDEST]].tolist())
        self._first = int(np.argmax(ratio[:, -1]))
        return sorted({*found, self._first})

    def _try(self) -> tuple[list[int], tuple[Stand, ...]]:
        """Try sections, cheapest first; one that a safe one beats in both prices is not worth having.

        Safe is what passes on every plate that there may be. Where profiles are bounded in number a dearer one may be
        needed for the sake of other groups, up to a multiple of the safe one's price.
        """
        hard = np.array(self._hard, dtype=np.int64)
        pairs = [(int(q), int(self.group.pair_plate[q]), c) for q in hard
                 for c in range(len(self._steels[int(self.group.pair_plate[q])]))]  # fmt: skip
        on = self._on(np.array([q for q, _, _ in pairs]), [self._steels[p][c] for _, p, c in pairs])
        plates = np.unique(self.group.pair_plate[hard]).tolist()
        place = {(p, c): [n for n, (_, plate, choice) in enumerate(pairs) if (plate, choice) == (p, c)]
                 for p in plates for c in range(len(self._steels[p]))}  # fmt: skip
        tried: list[int] = []
        tables: dict[int, list[BoolArray]] = {p: [np.zeros((0, len(self._steels[p])), dtype=bool)] for p in plates}
        beaten = _Beaten(1.0 if self._values.most_profiles is None else _BEYOND)
        left = list(range(len(self._choices)))
        while left:
            batch = [k for k in left if not beaten.by_safe(self._choices[k][:2])][:_BATCH]
            left = [k for k in left if batch and k > batch[-1]]
            if not batch:
                break
            met = self._met(on, np.array([q == self._first for q, _, _ in pairs]), batch)
            for p in plates:
                table = np.stack([met[place[p, c]].all(axis=0) for c in range(len(self._steels[p]))], axis=1)
                tables[p].append(table)
            tried += batch
            safe = np.logical_and.reduce([tables[p][-1].all(axis=1) for p in plates])
            for k in np.flatnonzero(safe).tolist():
                beaten.add(self._choices[batch[k]][:2])
        whole = {p: np.concatenate(parts) for p, parts in tables.items()}
        able = np.logical_and.reduce([table.any(axis=1) for table in whole.values()])
        able &= np.array([not beaten.by_safe(self._choices[k][:2]) for k in tried], dtype=bool)
        kept = [k for k, yes in zip(tried, able, strict=True) if yes]
        return kept, tuple(Stand(plate=p, allowed=table[able]) for p, table in whole.items())

    def _met(self, on: OnPlates, first: BoolArray, batch: Sequence[int]) -> BoolArray:
        """Which pairs (m,) pass with which frame choices (b,).

        What fails on every plate of the ``first`` pair passes nowhere, and is not tried on the others.
        """
        grades = np.array([self._choices[k][3] for k in batch])
        rows = np.array([self._choices[k][2] for k in batch], dtype=np.int64)
        met = np.zeros((len(on.span), len(batch)), dtype=bool)
        alive = np.ones(len(batch), dtype=bool)
        for some in (np.flatnonzero(first), np.flatnonzero(~first)):
            for grade in np.unique(grades[alive]):
                own = np.flatnonzero(alive & (grades == grade))
                met[np.ix_(some, own)] = is_met(self._trial.worst(on.take(some), rows[own], str(grade)))
            alive &= met[first].any(axis=0)
        met[:, ~alive] = False
        return met


class _Beaten:
    """Prices in pairs that a safe section beats: both above its own, or above a multiple of both."""

    def __init__(self, beyond: float) -> None:
        self._beyond, self._safe = beyond, list[tuple[float, float]]()

    def add(self, pair: tuple[int, int]) -> None:
        """Count a section with these prices as safe."""
        bound = self._beyond * pair[0], self._beyond * pair[1]
        if not any(safe[0] <= bound[0] and safe[1] <= bound[1] for safe in self._safe):
            self._safe.append(bound)

    def by_safe(self, pair: tuple[int, int]) -> bool:
        """Whether a safe section beats these prices; the same prices are not beaten."""
        return any(safe[0] <= pair[0] and safe[1] <= pair[1] and safe != pair for safe in self._safe)


def _plates_of_panels(cover: Cover) -> dict[int, list[int]]:
    """The plates that cover each panel."""
    found: dict[int, list[int]] = {}
    for plate, panel in zip(cover.plate.tolist(), cover.panel.tolist(), strict=True):
        found.setdefault(panel, []).append(plate)
    return found


def _pairs(trial: Trial, span: IntArray, covers: Mapping[int, Sequence[int]]) -> list[tuple[int, int, float]]:
    """For spans (m,): the row of the span, a plate it stands on, and the addition taken off there."""
    frames, found = trial.arrangement.frames, []
    beside = np.stack([frames["panel_one"].data[span], frames["panel_other"].data[span]], axis=1)
    for row, panels in enumerate(beside.tolist()):
        own: dict[int, float] = {}
        for panel in panels:
            for plate in covers.get(panel, ()) if panel >= 0 else ():
                own[plate] = max(own.get(plate, 0.0), float(trial.addition_mm[panel]))
        found += [(row, plate, addition) for plate, addition in own.items()]
    return found


def _joined(trial: Trial, asked: IntArray, values: Values) -> LabelArray:
    """The group of each span asked (m,); groups that a frame joins through a support have one name."""
    alike_through = values.alike_through
    frames, levels = trial.arrangement.frames, trial.ship.levels
    group = trial.span_area[asked] if values.by_area else trial.group[asked]
    if alike_through == "nothing":
        return group
    through = {level.name for level in levels if alike_through == "every support" or "stringer" in level.kind.value}
    lower, upper = frames.labels("lower_level")[asked], frames.labels("upper_level")[asked]
    across = frames.labels("orientation")[asked] == "transverse"
    number, parent = frames.values("frame")[asked], {str(name): str(name) for name in np.unique(group)}

    def head(name: str) -> str:
        while parent[name] != name:
            name = parent[name]
        return name

    above = {(float(f), str(low)): str(g) for f, low, g, t in zip(number, lower, group, across, strict=True) if t}
    for f, up, g, t in zip(number, upper, group, across, strict=True):
        other = above.get((float(f), str(up)))
        if t and other is not None and str(up) in through:
            one, two = sorted((head(str(g)), head(other)))
            parent[two] = one
    return np.array([head(str(name)) for name in group], dtype=np.str_)
