"""A smaller problem with the same optimum: choices that another one beats in every respect are left out."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from beltwright.core.units import BoolArray, IntArray
from beltwright.sizing.problem import FrameGroup, Problem, Solution


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduced:
    """A reduced problem, and which of the whole problem's candidates are left in every group."""

    problem: Problem
    kept: tuple[IntArray, ...]

    def whole(self, solution: Solution) -> Solution:
        """Return a solution of the reduced problem as one of the whole problem."""
        candidates = (int(rows[k]) if k >= 0 else -1 for rows, k in zip(self.kept, solution.candidates, strict=True))
        return replace(solution, candidates=tuple(candidates))


def reduced(problem: Problem) -> Reduced:
    """Return the problem without the frame candidates that cannot stand anywhere or that another one beats.

    A candidate is beaten by one that costs no more, in either price, and is allowed wherever it is. Where
    the number of profiles is bounded, or groups must be alike, a candidate may be needed for the sake of another group:
    there only a candidate of the same profile and grade can beat it, and nothing is lost.
    """
    tied = {group for pair in problem.same_profile for group in pair}
    free = problem.most_profiles is None
    kept = tuple(_kept(group, free=free and g not in tied) for g, group in enumerate(problem.groups))
    groups = tuple(
        replace(
            group,
            candidates=tuple(group.candidates[k] for k in rows),
            stands=tuple(replace(stand, allowed=stand.allowed[rows]) for stand in group.stands),
        )
        for group, rows in zip(problem.groups, kept, strict=True)
    )
    return Reduced(problem=replace(problem, groups=groups), kept=kept)


def _kept(group: FrameGroup, *, free: bool) -> IntArray:
    """The candidates of a group that are worth keeping."""
    count = len(group.candidates)
    able = np.ones(count, dtype=bool)
    for stand in group.stands:
        able &= stand.allowed.any(axis=1)
    order = sorted(
        np.flatnonzero(able).tolist(), key=lambda k: (group.candidates[k].price, group.candidates[k].other, k)
    )
    if not free:
        return np.array(sorted(order), dtype=np.int64)
    allowed: BoolArray = (
        np.concatenate([stand.allowed for stand in group.stands], axis=1)
        if group.stands
        else np.ones((count, 1), dtype=bool)
    )
    kept: list[int] = []
    for k in order:
        own = group.candidates[k].other
        if not any(group.candidates[b].other <= own and (allowed[b] >= allowed[k]).all() for b in kept):
            kept.append(k)
    return np.array(sorted(kept), dtype=np.int64)
