"""Weight back to draught and load: constructed circles, a hand-checked rise, and the headroom against whole designs."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from tests.scantlings import ships
from tests.sizing import large, small

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.scantlings.build import design_on
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.design import Design
from beltwright.sizing.headroom import headroom
from beltwright.sizing.loop import Pass, close_loop, settle
from beltwright.sizing.size import Sized, size
from beltwright.weights.steel import steel_weight


def steps(steel: Callable[[float], float]) -> Callable[[float], Pass]:
    """A ship whose steel depends on the steel assumed; its state is what it came to."""
    return lambda assumed: Pass(assumed_t=assumed, steel_t=steel(assumed), state=steel(assumed))


def test_a_ship_that_settles_is_passed_until_nothing_changes() -> None:
    """hand: 100 -> 104 -> 105 -> 105: whole tonnes, a tenth of what is carried more comes back as steel."""
    found = settle(steps(lambda a: 100.0 + round(0.25 * (a - 84.0))), 100.0)
    assert [one.steel_t for one in found.passes] == [104.0, 105.0, 105.0]
    assert found.circle == 0
    assert found.last.steel_t == found.last.assumed_t


def test_a_circle_is_found_and_settled_on_its_heaviest() -> None:
    """hand: above 100.5 t the ship takes 100, below 101, and would swing for ever; 101 assumed gives 100: safe."""
    found = settle(steps(lambda a: 100.0 if a > 100.5 else 101.0), 100.0)
    assert found.circle == 2
    assert found.last.assumed_t == 101.0
    assert found.last.steel_t <= found.last.assumed_t


def test_a_longer_circle_that_climbs_when_settled() -> None:
    """hand: 10 -> 12 -> 11 -> 10 is a circle of three; from 12 she comes to 11, no more than assumed."""
    after = {10.0: 12.0, 12.0: 11.0, 11.0: 10.0}
    found = settle(steps(after.__getitem__), 10.0)
    assert found.circle == 3
    assert (found.last.assumed_t, found.last.steel_t) == (12.0, 11.0)


def test_what_never_settles_is_named() -> None:
    with pytest.raises(InputError, match="do not settle"):
        settle(steps(lambda a: a + 1.0), 0.0, most=10)


@pytest.mark.slow
def test_holding_the_draught_costs_deadweight_and_moves_nothing() -> None:
    made = small.sized()
    closed = close_loop(small.with_settings(), (), made, hold="draught", reference_t=200.0)
    assert closed.sized is made
    assert closed.deadweight_change_t == pytest.approx(200.0 - steel_weight(made.design).total_t)
    assert (closed.rise_upper_m, closed.rise_lower_m, len(closed.settled.passes)) == (0.0, 0.0, 1)


@pytest.mark.slow
def test_holding_the_deadweight_raises_the_waterline_by_the_steel_over_the_waterplane() -> None:
    """hand: rise = more steel / (density x waterplane area), within the flare over so small a rise."""
    design, made = small.with_settings(), small.sized()
    steel = steel_weight(made.design).total_t
    closed = close_loop(design, (), made, hold="deadweight", reference_t=steel - 3.0)
    more = closed.settled.last.assumed_t - closed.reference_t
    waterplane = design.measures.upper.hydrostatics.waterplane_m2
    assert closed.rise_upper_m == pytest.approx(more / (1.025 * waterplane), rel=0.02)
    assert closed.settled.last.steel_t <= closed.settled.last.assumed_t + 1e-6
    raised = closed.sized.design.measures.upper.displacement_kt - design.measures.upper.displacement_kt
    assert 1000.0 * raised == pytest.approx(more, abs=1e-3)


@pytest.mark.slow
def test_the_headroom_is_where_a_whole_design_first_fails() -> None:
    """kind: second-method. The whole design with the chosen scantlings just inside and just beyond the band."""
    made = size(heavy())
    room = headroom(made)
    assert room.down < 1.0 < room.up < 1.5
    assert room.first_up.split()[0] in ("plate", "frame")
    assert room.first_down.startswith("plate ")
    for share, met in ((room.up - 1e-4, True), (room.up + 1e-3, False)):
        assert failures(made, share) == (not met), share


def heavy() -> Design:
    """The small ship with eight times her displacement: above the least displacements of the load formulas."""
    base = ships.baseline()
    facts = {k: v * 8.0 if k.startswith("displacement_upper") else v for k, v in base.facts.items()}
    return design_on(
        base.ship, base.rules, base.measures, base.arrangement, Findings(),
        facts_measured=(facts, dict(base.fact_origins)),
    )  # fmt: skip


@pytest.mark.slow
def test_below_the_least_displacements_of_the_formulas_nothing_changes() -> None:
    """Public text of UR I2.3: D is not taken less than a least value, so a small ship's load does not follow hers."""
    room = headroom(small.sized())
    assert (room.first_up, room.first_down) == ("nothing", "nothing")


def failures(made: Sized, share: float) -> bool:
    """Whether any plate or frame fails with the displacement changed and everything else as sized."""
    design = made.design
    facts = {k: v * share if k.startswith("displacement_upper") else v for k, v in design.facts.items()}
    plating, frames = design.plating, design.frames
    chosen = Chosen(
        thickness_mm=plating["thickness_as_built_mm"].data, plate_grade=plating.labels("grade"),
        mean_mm=plating["thickness_mean_mm"].data, section=frames.labels("section"),
        frame_grade=frames.labels("grade"),
    )  # fmt: skip
    again = design_on(
        design.ship, design.rules, design.measures, design.arrangement, Findings(),
        facts_measured=(facts, dict(design.fact_origins)), drawn=False, chosen=chosen,
    )  # fmt: skip
    return bool(
        (again.plating.labels("outcome") == "not met").any() or (again.frames.labels("outcome") == "not met").any()
    )


def test_an_unknown_way_to_hold_is_refused() -> None:
    with pytest.raises(InputError, match="is not known"):
        close_loop(ships.baseline(), (), None, hold="both", reference_t=1.0)  # type: ignore[arg-type]


@pytest.mark.slow
def test_above_the_displacement_floors_the_loop_moves_load_and_plates_and_settles() -> None:
    """16 kt, above the least displacements of both load formulas (public text of UR I2.3: 5 and 10 kt).

    She was taken for 200 t lighter: she sinks in by that, the load grows, plates get thicker, and the passes settle on
    the steel that was assumed. kind: second-method. The rise by the waterplane, the load's growth by the formula's
    exponent: D to the power 0.64 outside the bow.
    """
    design = large.design()
    assert design.measures.upper.displacement_kt > 15.0
    first = size(design)
    steel = steel_weight(first.design).total_t
    closed = close_loop(design, (), first, hold="deadweight", reference_t=steel - 200.0)
    passes = closed.settled.passes
    assert len(passes) == 3
    assert closed.settled.circle == 0
    assert passes[0].steel_t == pytest.approx(steel)
    assert passes[1].steel_t > passes[0].steel_t, "the load has grown, and with it the steel"
    assert passes[2].steel_t == pytest.approx(passes[2].assumed_t, abs=1e-6)
    upper = design.measures.upper
    more_t = passes[2].assumed_t - (steel - 200.0)
    assert closed.rise_upper_m == pytest.approx(more_t / (1.025 * upper.hydrostatics.waterplane_m2), rel=0.03)
    raised = closed.sized.design
    assert 1000.0 * (raised.measures.upper.displacement_kt - upper.displacement_kt) == pytest.approx(more_t, abs=1e-2)

    def outside(made: Design) -> float:
        return next(patch.force_mn for patch in made.loads.patches if patch.name != "bow")

    ratio = raised.measures.upper.displacement_kt / upper.displacement_kt
    assert outside(raised) / outside(design) == pytest.approx(ratio**0.64, rel=1e-9)
    assert "not met" not in raised.plating.labels("outcome")
