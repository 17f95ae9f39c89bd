"""Least price by trying everything: an axis of an array for every plate and group, nothing shared with the solver."""

from __future__ import annotations

import itertools

import numpy as np

from beltwright.sizing.problem import Problem


def least_price(problem: Problem) -> int | None:
    """Return the least price of all designs that keep every requirement, None where there is none."""
    found = [int(total[keeps].min()) for total, _, keeps in _all(problem) if keeps.any()]
    return min(found, default=None)


def front(problem: Problem) -> list[tuple[int, int]]:
    """Return every pair of prices of which no other design has one less and the other not more, by the first price."""
    pairs = {
        pair
        for total, other, keeps in _all(problem)
        for pair in zip(total[keeps].tolist(), other[keeps].tolist(), strict=True)
    }
    kept: list[tuple[int, int]] = []
    for pair in sorted(pairs):
        if not kept or pair[1] < kept[-1][1]:
            kept.append(pair)
    return kept


def _all(problem: Problem):  # type: ignore[no-untyped-def]
    """Price, other price and what is kept of all designs, for each way to take the zones' options."""
    for options in itertools.product(*(range(len(zone.options)) for zone in problem.zones)):
        yield _under(problem, options)


def _under(problem: Problem, options: tuple[int, ...]):  # type: ignore[no-untyped-def]
    """All designs with the zones' options fixed."""
    here = [g for g, group in enumerate(problem.groups) if options[group.zone] == group.option]
    sizes = [len(plate.choices) for plate in problem.plates] + [len(problem.groups[g].candidates) for g in here]
    axis_of = {g: len(problem.plates) + k for k, g in enumerate(here)}

    def along(values, *axes: int):  # type: ignore[no-untyped-def]
        shape = [1] * len(sizes)
        for axis in axes:
            shape[axis] = sizes[axis]
        order = np.argsort(axes)
        return np.transpose(np.asarray(values), order).reshape(shape)

    total = np.zeros(sizes, dtype=np.int64) + sum(
        zone.prices[k] for zone, k in zip(problem.zones, options, strict=True)
    )
    beside = np.zeros(sizes, dtype=np.int64) + sum(
        zone.others[k] for zone, k in zip(problem.zones, options, strict=True) if zone.others
    )
    keeps = np.ones(sizes, dtype=bool)
    thick = [np.array([c.thickness_mm for c in plate.choices]) for plate in problem.plates]
    for p, plate in enumerate(problem.plates):
        total = total + along([c.price for c in plate.choices], p)
        beside = beside + along([c.other for c in plate.choices], p)
    for g in here:
        total = total + along([c.price for c in problem.groups[g].candidates], axis_of[g])
        beside = beside + along([c.other for c in problem.groups[g].candidates], axis_of[g])
        for stand in problem.groups[g].stands:
            keeps = keeps & along(stand.allowed, axis_of[g], stand.plate)
    for need in problem.needs:
        if options[need.zone] == need.option:
            keeps = keeps & along(need.allowed, need.plate)
    for limit in problem.step_limits:
        apart = np.abs(thick[limit.one][:, None] - thick[limit.other][None, :]) <= limit.most_mm
        keeps = keeps & along(apart, limit.one, limit.other)
    for one, other in problem.same_plate:
        keeps = keeps & along(_like(_plates(problem, one), _plates(problem, other)), one, other)
    for one, other in problem.same_profile:
        if one in axis_of and other in axis_of:
            keeps = keeps & along(
                _like(_sections(problem, one), _sections(problem, other)), axis_of[one], axis_of[other]
            )
    if problem.most_thicknesses is not None:
        used = [
            _any([along(t == value, p) for p, t in enumerate(thick)], sizes)
            for value in np.unique(np.concatenate(thick))
        ]
        keeps = keeps & (sum(u.astype(int) for u in used) <= problem.most_thicknesses)
    if problem.most_profiles is not None and here:
        names = sorted({c.profile for g in here for c in problem.groups[g].candidates})
        used = [
            _any([along([c.profile == name for c in problem.groups[g].candidates], axis_of[g]) for g in here], sizes)
            for name in names
        ]
        keeps = keeps & (sum(u.astype(int) for u in used) <= problem.most_profiles)
    if problem.most_other is not None:
        keeps = keeps & (beside <= problem.most_other)
    return (total, beside, np.broadcast_to(keeps, sizes))


def _any(parts, sizes):  # type: ignore[no-untyped-def]
    found = np.zeros(sizes, dtype=bool)
    for part in parts:
        found = found | part
    return found


def _plates(problem: Problem, plate: int) -> list[tuple[object, object]]:
    return [(c.thickness_mm, c.grade) for c in problem.plates[plate].choices]


def _sections(problem: Problem, group: int) -> list[tuple[object, object]]:
    return [(c.profile, c.grade) for c in problem.groups[group].candidates]


def _like(first: list[tuple[object, object]], second: list[tuple[object, object]]) -> object:
    return np.array([[a == b for b in second] for a in first])
