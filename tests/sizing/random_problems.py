"""Small random problems: two zones with options, plates in one or both, frames on plates, limits of all kinds."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from beltwright.sizing.problem import Candidate, FrameGroup, Need, Plate, PlateChoice, Problem, Stand, StepLimit, Zone


def random_problem(seed: int, *, large: bool = False) -> Problem:
    """Return a problem whose requirements grow and fall like those of a ship, with some that do not."""
    rng = np.random.default_rng(seed)
    steps = [10.0, 10.5, 11.0, 12.0, 13.5, 15.0][: 5 if large else rng.integers(2, 5)]
    grades = ["B", "EH36"][: 1 if large else rng.integers(1, 3)]
    zones = tuple(
        Zone(name=f"zone {z}", options=tuple("ab"[: rng.integers(1, 3)]), prices=(0, 0)[:2]) for z in range(2)
    )
    zones = tuple(
        Zone(name=z.name, options=z.options, prices=tuple(int(v) for v in rng.integers(0, 30, len(z.options))))
        for z in zones
    )
    plates = []
    for p in range(4 if large else int(rng.integers(2, 4))):
        size = int(rng.integers(5, 40))
        choices = tuple(
            PlateChoice(thickness_mm=t, grade=g, price=int(size * t * (1.0 if g == "B" else 1.07)))
            for t in steps
            for g in grades
        )
        plates.append(Plate(name=f"plate {p}", choices=choices))
    count = len(plates[0].choices)
    needs, groups = [], []
    for z, zone in enumerate(zones):
        mine = [p for p in range(len(plates)) if p % 2 == z or rng.random() < 0.3]
        for k in range(len(zone.options)):
            for p in mine:
                least = {g: int(rng.integers(0, max(len(steps) - 1, 1))) for g in grades}
                allowed = np.array([steps.index(c.thickness_mm) >= least[c.grade] for c in plates[p].choices])
                if rng.random() < 0.1:
                    allowed &= rng.random(count) < 0.8
                needs.append(Need(plate=p, zone=z, option=k, allowed=allowed, why="the rule"))
            for f in range(1 if large else int(rng.integers(1, 3))):
                number = 4 if large else int(rng.integers(2, 5))
                candidates = tuple(
                    Candidate(profile=f"P{int(rng.integers(0, 5))}-{c}", grade="B", price=int(rng.integers(20, 200)))
                    if rng.random() < 0.5
                    else Candidate(profile=f"P{c}", grade="B", price=int(rng.integers(20, 200)))
                    for c in range(number)
                )
                stands = tuple(
                    Stand(plate=p, allowed=rng.random((number, 1)) < np.linspace(0.3, 1.1, count)[None, :])
                    for p in rng.choice(mine, size=min(2, len(mine)), replace=False).tolist()
                ) if mine else ()  # fmt: skip
                groups.append(
                    FrameGroup(name=f"group {z}{k}{f}", zone=z, option=k, candidates=candidates, stands=stands)
                )
    pairs = [(a, b) for a in range(len(groups)) for b in range(a + 1, len(groups))]
    return Problem(
        unit="g",
        plates=tuple(plates),
        zones=zones,
        needs=tuple(needs),
        groups=tuple(groups),
        step_limits=tuple(
            StepLimit(one=p, other=p + 1, most_mm=float(rng.choice([0.5, 1.0, 2.0])))
            for p in range(len(plates) - 1)
            if rng.random() < 0.5
        ),
        same_profile=tuple(pairs[int(rng.integers(len(pairs)))] for _ in range(1 if rng.random() < 0.3 else 0)),
        same_plate=((0, len(plates) - 1),) if rng.random() < 0.2 else (),
        most_thicknesses=int(rng.integers(1, 4)) if rng.random() < 0.6 else None,
        most_profiles=int(rng.integers(1, 4)) if rng.random() < 0.5 else None,
    )


def with_other_prices(problem: Problem, seed: int) -> Problem:
    """Return the problem with a second price of every choice, near to the first or opposed to it."""
    rng = np.random.default_rng(seed)

    def other(price: int) -> int:
        return int(rng.integers(0, 60)) if rng.random() < 0.6 else price + int(rng.integers(0, 9))

    return replace(
        problem,
        other_unit="thousandths of EUR",
        plates=tuple(
            replace(plate, choices=tuple(replace(c, other=other(c.price)) for c in plate.choices))
            for plate in problem.plates
        ),
        zones=tuple(replace(zone, others=tuple(other(v) for v in zone.prices)) for zone in problem.zones),
        groups=tuple(
            replace(group, candidates=tuple(replace(c, other=other(c.price)) for c in group.candidates))
            for group in problem.groups
        ),
    )
