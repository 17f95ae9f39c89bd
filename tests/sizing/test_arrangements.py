"""Frame spacings and stringers to choose from: each searched or dropped by a bound that holds, the best one taken."""

from __future__ import annotations

import threading
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from tests.scantlings import ships
from tests.sizing import small
from tests.sizing.brute import least_price
from tests.sizing.random_problems import random_problem

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.ship.model import LevelKind, Ship
from beltwright.ship.sizing import SpacingChoice, StringerChoice
from beltwright.sizing.arrangements import (
    BY_NO_LIMITS,
    BY_PANELS,
    CHOSEN,
    DROPPED,
    NOT_SEARCHED,
    NOTHING,
    SEARCHED,
    Case,
    best_of,
)
from beltwright.sizing.certificate import Certificate, certificate
from beltwright.sizing.certify import certify
from beltwright.sizing.fit import ask, bound, framings_of
from beltwright.sizing.problem import Problem
from beltwright.sizing.size import Sized, size, solved
from beltwright.sizing.solve import Found, solve
from beltwright.sizing.spacing import respaced
from beltwright.sizing.stringers import restringered
from beltwright.sizing.variants import arranged, variants, variants_of
from beltwright.weights.support_weight import support_weight

HULL = (-1.5, 52.13)
WEBS = [{"web_height_mm": 500.0, "web_thickness_as_built_mm": 10.0}]
STRINGERS = [{"web_height_mm": 400.0, "web_thickness_as_built_mm": 10.0}]


def solve_problem(problem: Problem, seconds: float) -> tuple[Problem, Found, int]:
    return problem, solve(problem, seconds=seconds), 1


def relax(problem: Problem, seconds: float) -> int:
    return solve(replace(problem, step_limits=(), most_thicknesses=None, most_profiles=None), seconds=seconds).bound


def test_the_best_of_several_problems_is_that_of_trying_everything() -> None:
    """kind: second-method. Two zones with options each, four problems at a time, loose and tight bounds."""
    rng = np.random.default_rng(3)
    states: list[str] = []
    for start in range(0, 160, 4):
        problems = [random_problem(seed) for seed in range(start, start + 4)]
        least = [least_price(problem) for problem in problems]
        if all(one is None for one in least):
            continue
        bounds = [0 if one is None else max(one - int(rng.integers(0, 80)), 0) for one in least]
        cases = [
            Case(words=(f"case {n}",), bound=lambda b=b: b, question=lambda p=p: p)
            for n, (b, p) in enumerate(zip(bounds, problems, strict=True))
        ]
        best = best_of(cases, solve_problem, relax)
        known = [one for one in least if one is not None]
        assert best.found.price == best.found.bound == min(known), start
        assert best.found.finished
        assert best.number == least.index(min(known)), "of two with one price the first is taken"
        for outcome, own in zip(best.outcomes, least, strict=True):
            states.append(outcome.by or outcome.state)
            assert (outcome.state == NOTHING) <= (own is None)
            if own is not None:
                assert outcome.bound <= own, "a bound is a bound"
                assert outcome.state != DROPPED or outcome.bound >= best.found.price
                assert outcome.state not in (SEARCHED, CHOSEN) or outcome.price == own
    assert {CHOSEN, SEARCHED, NOTHING, BY_PANELS, BY_NO_LIMITS} <= set(states), "every way to come out was met"


def test_a_search_that_is_stopped_says_what_it_did_not_search_and_is_not_proved() -> None:
    """hand: bounds 10 and 20 below the best price: the least of them is all that is proved."""
    problems = [p for p in (random_problem(seed) for seed in range(50)) if least_price(p) is not None][:3]
    price = least_price(problems[0])
    assert price is not None
    stop = threading.Event()

    def once(problem: Problem, seconds: float) -> tuple[Problem, Found, int]:
        stop.set()
        return problem, solve(problem), 1

    cases = [Case(words=(), bound=lambda: 0, question=lambda: problems[0])]
    cases += [Case(words=("late",), bound=lambda b=b: price - b, question=lambda: problems[1]) for b in (20, 10)]
    best = best_of(cases, once, relax, stop=stop)
    assert [one.state for one in best.outcomes] == [CHOSEN, NOT_SEARCHED, NOT_SEARCHED]
    assert not best.found.finished
    assert (best.found.price, best.found.bound, best.own.bound) == (price, price - 20, price)


def test_where_nothing_meets_anywhere_the_first_says_why() -> None:
    none = [p for p in (random_problem(seed) for seed in range(200)) if least_price(p) is None][:2]
    cases = [Case(words=(f"{n}",), bound=lambda: 0, question=lambda p=p: p) for n, p in enumerate(none)]
    with pytest.raises(InputError) as several:
        best_of(cases, solve_problem, relax)
    with pytest.raises(InputError) as alone:
        solve(none[0])
    assert str(several.value) == str(alone.value)


def settings(**given: object) -> Ship:
    return ships.ship(lambda d: d.update(sizing=given))


def test_every_arrangement_of_the_lists_once() -> None:
    """hand: 3 sets of stringers with 0.5, 0.4 and 0.6 m, and 0.4 m at the side, which is as long as the ship.

    The last is 0.4 m everywhere again, but after 0.6 m its web frames stand 1.6 and not 2.0 m apart: 3 x 4.
    """
    ship = settings(
        frame_spacings_m=[0.4, 0.6], spacings=[{"zone": "side", "spacings_m": [0.4]}],
        stringers=[{"zone": "side", "heights_m": [2.4]}, {"zone": "side", "heights_m": []}],
    )  # fmt: skip
    found = variants(ship, HULL)
    assert found[0].choices == ()
    assert found[0].ship is ship
    assert len({one.choices for one in found}) == len(found)
    assert len(found) == 12
    assert ("frames 0.6 m apart", "side: no stringers") in {one.choices for one in found}
    many = settings(
        frame_spacings_m=[0.4, 0.6], stringers=[{"zone": "side", "heights_m": [1.5 + 0.1 * n]} for n in range(26)]
    )
    with pytest.raises(InputError, match=r"too many arrangements; found 81; allowed: 64 or fewer"):
        variants(many, HULL)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"frame_spacings_m": [0.2]}, "sizing.frame_spacings_m: below the least spacing; found 0.2 m"),
        ({"spacings": [{"zone": "no", "spacings_m": [0.4]}]}, "sizing.spacings[1].zone: no such zone; found no"),
        ({"stringers": [{"zone": "no", "heights_m": []}]}, "sizing.stringers[1].zone: no such zone"),
        ({"stringers": [{"zone": "side", "heights_m": [5.9]}]}, "is not between the edges of the zone; found 5.9 m"),
        ({"stringers": [{"zone": "bottom", "heights_m": [1.2]}]}, "found 1.2 m; allowed: below 1"),
    ],
)
def test_a_choice_that_is_bad_by_itself_is_refused(given: dict[str, object], told: str) -> None:
    with pytest.raises(InputError) as caught:
        variants(settings(**given), HULL)
    assert told in str(caught.value)


def test_frames_of_one_zone_another_distance_apart() -> None:
    """hand: bottom from F13 to F82 of 0.5 m, 34.5 m: at 0.4 m 86 frames; 52.13 - 6.5 - 34.4 m forward of it take 23."""
    ship = respaced(ships.ship(), 0.4, HULL, "here", "bottom")
    assert [(one.from_frame, one.to_frame, one.spacing_m) for one in ship.frames] == [
        (-4.0, 13.0, 0.5), (13.0, 99.0, 0.4), (99.0, 122.0, 0.5),
    ]  # fmt: skip
    bottom = next(zone for zone in ship.zones if zone.name == "bottom")
    assert (bottom.from_frame, bottom.to_frame, bottom.web_frame_spacing_m) == (13.0, 99.0, 2.0)
    peak = ships.ship(lambda d: d.update(bulkheads=[{"name": "peak", "frame": -1}]))
    assert respaced(peak, 0.4, HULL, "here").bulkheads[0].frame == -1.0, "x = -0.5 m lies nearest to -0.4 m"


def test_stringers_of_a_zone_take_the_place_of_those_there() -> None:
    ship = restringered(ships.ship(), StringerChoice(zone="side", heights_m=(3.0,)), "here")
    kinds = {level.name: (level.kind, level.height_m) for level in ship.levels}
    assert "stringer" not in kinds
    assert "upper stringer" not in kinds
    assert kinds["side stringer 1"] == (LevelKind.LOAD_CARRYING_STRINGER, 3.0)
    named = ships.ship(lambda d: d.update(plates=[{"from_level": "stringer", "thickness_as_built_mm": 20.0}]))
    with pytest.raises(InputError, match=r"plates\[1\].from_level names a stringer that would be gone; found stringer"):
        restringered(named, StringerChoice(zone="side", heights_m=()), "here")


def test_what_lies_outside_the_zone_stays() -> None:
    """hand: a stringer that rises from 2.0 m at F0 to 3.0 m at F100 is 2.4 m at F40; beyond the zone it goes on so."""

    def edit(doc):  # type: ignore[no-untyped-def]
        doc["levels"][1] = {"name": "stringer", "kind": "load-carrying stringer", "height_m": 2.0,
                            "height_forward_m": 3.0, "from_frame": 0, "to_frame": 100}  # fmt: skip
        doc["zones"][0].update({"from_frame": 40, "to_frame": 60})

    ship = restringered(ships.ship(edit), StringerChoice(zone="side", heights_m=()), "here")
    pieces = {one.name: one for one in ship.levels if one.name.startswith("stringer")}
    aft, fore = pieces["stringer"], pieces["stringer forward"]
    assert (aft.from_frame, aft.to_frame, aft.height_m, aft.height_forward_m) == (0.0, 40.0, 2.0, pytest.approx(2.4))
    assert (fore.from_frame, fore.to_frame, fore.height_m) == (60.0, 100.0, pytest.approx(2.6))


def test_what_supports_weigh_by_hand() -> None:
    """hand: 500 x 10 mm web, 39.25 kg/m; every span's length by it, both sides; a stringer's bays by 31.4 kg/m."""
    design = ships.redesigned(lambda d: d.update(web_frames=WEBS, stringers=STRINGERS))
    made = support_weight(design.ship, design.arrangement, design.areas, design.measures)
    assert not made.unknown.any()
    frames = design.arrangement.frames
    webs = frames.labels("role") == "web frame"
    length = float(frames.values("length_m")[webs & (frames.labels("zone") == "bottom")].sum())
    assert made.by_grade("bottom")["EH36"][0] == pytest.approx(2.0 * length * 500.0 * 10.0 * 7.85e-3)
    stringer = made.kind == "stringer"
    assert set(np.round(made.kg_per_m[stringer], 6)) == {31.4}
    assert made.length_m[stringer].sum() > 80.0, "two stringers of about 47 m on one side"


@cache
def several() -> Design:
    """The small ship with two frame spacings and two sets of stringers to choose from, few sections and steps."""
    sizing = {
        "frame_spacings_m": [0.6], "stringers": [{"zone": "side", "heights_m": [3.1]}],
        "spacing_least_m": 0.3,
    }  # fmt: skip
    return ships.redesigned(lambda d: d.update(web_frames=WEBS, stringers=STRINGERS, sizing=sizing))


@cache
def best() -> Sized:
    return size(several())


@cache
def one_by_one() -> tuple[int, ...]:
    """Each arrangement solved by itself."""
    found = []
    for variant in variants_of(several()):
        assert variant.ship is not None
        found.append(solved(ask(arranged(several(), variant.ship)))[1].price)
    return tuple(found)


@pytest.mark.slow
def test_the_arrangement_chosen_is_the_best_of_all_solved_one_by_one() -> None:
    """kind: second-method. And the quick bound is a bound of each."""
    prices = one_by_one()
    assert len(prices) == 4
    assert best().found.finished
    assert best().found.price == best().found.bound == min(prices)
    every = variants_of(several())
    assert best().arrangement == every[prices.index(min(prices))].choices
    for variant, outcome, price in zip(every, best().outcomes, prices, strict=True):
        assert variant.ship is not None
        assert outcome.words == variant.choices
        made = arranged(several(), variant.ship)
        quick = bound(made, framings_of(made))
        assert 0 < quick <= price
        assert outcome.bound <= price
        assert outcome.price in (None, price)
        if outcome.price is None:
            assert outcome.state == DROPPED
            assert outcome.bound >= best().found.price
    assert best().supports > 0
    assert "not met" not in best().design.plating.labels("outcome")
    assert "not met" not in best().design.frames.labels("outcome")


@pytest.mark.slow
def test_progress_tells_the_best_over_all_arrangements_and_no_bound_of_one_alone() -> None:
    heard: list[tuple[int | None, int | None]] = []
    assert size(several(), heard=lambda best, bound: heard.append((best, bound))).found.price == best().found.price
    found = [one for one, _ in heard if one is not None]
    assert found == sorted(found, reverse=True)
    assert {bound for _, bound in heard} <= {None}


@cache
def certified() -> Certificate:
    return certificate(best(), small.INPUTS)


@pytest.mark.slow
def test_the_certificate_covers_every_arrangement() -> None:
    told = certify(certified(), several(), small.INPUTS)
    assert told.holds, told.refused
    assert told.open == ()
    assert sum(line.startswith("arrangement ") for line in told.confirmed) == 3


@pytest.mark.slow
@pytest.mark.parametrize(
    ("what", "told"),
    [
        ("an arrangement left out", "the arrangements are not those"),
        ("another arrangement chosen", "chosen is another one"),
        ("no such arrangement", "there is no arrangement"),
        ("a bound of another arrangement raised", "which a second solver"),
        ("an arrangement that can be met called impossible", "can be met, for"),
    ],
)
def test_a_certificate_that_hides_an_arrangement_is_refused(what: str, told: str) -> None:
    made = certified()
    other = next(n for n, one in enumerate(made.arrangements) if one.choices != made.arrangement)
    entries = list(made.arrangements)
    changes: dict[str, dict[str, object]] = {
        "an arrangement left out": {"arrangements": made.arrangements[:-1]},
        "another arrangement chosen": {"arrangement": entries[other].choices},
        "no such arrangement": {"arrangement": ("frames 0.7 m apart",)},
    }
    entries[other] = entries[other].model_copy(
        update={"bound": 10**12} if "raised" in what else {"state": "nothing meets"}
    )
    changed = changes.get(what, {"arrangements": tuple(entries)})
    refused = certify(made.model_copy(update=changed), several(), small.INPUTS).refused
    assert any(told in line for line in refused), refused


@pytest.mark.slow
def test_supports_that_are_not_given_make_no_choice() -> None:
    design = ships.redesigned(lambda d: d.update(sizing={"frame_spacings_m": [0.6]}))
    with pytest.raises(InputError, match=r"what a web frame weighs is not known, and a choice of spacing"):
        size(design)


def test_settings_are_read() -> None:
    given = settings(spacings=[{"zone": "side", "spacings_m": [0.4]}]).sizing
    assert given.spacings == (SpacingChoice(zone="side", spacings_m=(0.4,)),)
