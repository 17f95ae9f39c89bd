"""Longitudinal strength on a whole ship: what is read from ship.toml, where it is checked, and what is told."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.outcome import NotApplicable
from beltwright.rules.protocol import GirderForce
from beltwright.scantlings import girder as module
from beltwright.scantlings.girder_design import GirderDesign
from beltwright.scantlings.girder_given import check_girder, given_girder

STEM = 47.5
SECTIONS = [
    {"name": "aft", "x_m": 0.0, "modulus_deck_m3": 0.3, "modulus_bottom_m3": 0.4, "shear_area_m2": 0.10},
    {"name": "middle", "x_m": 24.0, "modulus_deck_m3": 0.5, "modulus_bottom_m3": 0.6, "shear_area_m2": 0.12},
    {"name": "stem", "x_m": STEM, "modulus_deck_m3": 0.2, "modulus_bottom_m3": 0.3, "shear_area_m2": 0.15},
]
WATER = [
    {"x_m": 0.0, "bending_moment_sagging_mnm": 0.0, "shear_force_mn": 1.0},
    {"x_m": 20.0, "bending_moment_sagging_mnm": 10.0, "shear_force_mn": 0.5},
]
PLATE = {
    "name": "deck plate", "member": "deck", "thickness_net_mm": 12.0, "spacing_m": 0.6, "length_m": 2.0,
    "framing": "longitudinal",
}  # fmt: skip
STIFFENER = {
    "name": "deck longitudinal", "member": "deck", "section": "HP160x9", "span_m": 2.0, "spacing_m": 0.6,
    "plate_net_mm": 12.0,
}  # fmt: skip


def doc(**changed: Any) -> dict[str, Any]:
    return {"sections": SECTIONS, "still_water": WATER, **changed}


def made(girder: dict[str, Any] | None, *edits: Any) -> tuple[GirderDesign, Findings]:
    """The girder of the small ship with a [hull_girder] section."""
    base = ships.baseline()
    ship = ships.ship(lambda d: d.update({} if girder is None else {"hull_girder": girder}), *edits)
    findings = Findings()
    check_girder(ship, findings)
    found = module.design_girder(
        ship, base.rules, base.measures, base.facts, base.loads, base.areas.trace, findings
    )  # fmt: skip
    assert found is not None
    return found, findings


def codes(findings: Findings) -> list[str]:
    return [finding.kind.code for finding in findings]


def test_without_a_girder_the_demand_stands_and_stresses_are_not_checked() -> None:
    found, findings = made(None)
    assert codes(findings) == ["BW454", "BW450"]  # the small ship's bow is a loose fit
    assert (found.outcome, found.all_met) == ("not checked", True)
    moments = found.stations.values("ice_moment_mnm")
    force = found.result.columns["ice_force_mn"][0]  # type: ignore[union-attr]
    stem = float(ships.baseline().facts["stem_angle_deg"][0])
    length = float(found.result.columns["rule_length_m"][0])  # type: ignore[union-attr]
    assert moments.max() == pytest.approx(0.1 * length * np.sin(np.radians(stem)) ** -0.2 * force, rel=1e-12)
    assert not found.stations["ratio"].applies.any()
    assert found.buckling.rows == 0


def test_sections_are_straight_between_and_the_weaker_steel_counts() -> None:
    sections = [{**SECTIONS[0], "grade": "A"}, {**SECTIONS[1], "grade": "EH36"}, {**SECTIONS[2], "grade": "EH40"}]
    given = given_girder(ships.ship(lambda d: d.update({"hull_girder": doc(sections=sections)})))
    at = given.at(np.array([0.0, 12.0, 24.0, 36.0]))
    assert at["modulus_deck_m3"] == pytest.approx([0.3, 0.4, 0.5, 0.5 - 0.3 * 12.0 / 23.5])
    assert at["yield_mpa"].tolist() == [235.0, 235.0, 355.0, 355.0]
    water = given.still_water(np.array([-1.0, 10.0, 40.0]))
    assert water["still_water_moment_mnm"].tolist() == [0.0, 5.0, 10.0]
    assert water["still_water_shear_mn"].tolist() == [1.0, 0.75, 0.5]
    assert given.covers(np.array([-0.1, 0.0, STEM, STEM + 0.1])).tolist() == [False, True, True, False]


def test_stresses_are_worked_at_the_given_sections() -> None:
    found, findings = made(doc(plates=[PLATE], stiffeners=[STIFFENER]))
    stations = found.stations
    row = stations.labels("place").tolist().index("section middle")
    at = {name: stations[name].data[row] for name in stations}
    total = at["ice_moment_mnm"] + 10.0
    assert at["stress_deck_mpa"] == pytest.approx(total / 0.5, rel=1e-12)
    assert at["stress_bottom_mpa"] == pytest.approx(total / 0.6, rel=1e-12)
    shear = 0.5 + max(at["ice_shear_positive_mn"], -at["ice_shear_negative_mn"])
    assert at["stress_shear_mpa"] == pytest.approx(shear / 0.12, rel=1e-12)
    assert at["shear_total_mn"] == pytest.approx(shear, rel=1e-12)
    assert at["moment_total_mnm"] == pytest.approx(total, rel=1e-12)
    assert at["moment_carried_mnm"] == pytest.approx(0.8 * 0.41 * 845.0 * 0.5, rel=1e-12)
    assert found.outcome == ("met" if found.all_met else "not met")
    assert "BW450" not in codes(findings)
    assert "BW456" not in codes(findings)


def test_a_weak_girder_is_not_met_and_counts() -> None:
    weak = [{**section, "modulus_deck_m3": 0.02} for section in SECTIONS]
    found, findings = made(doc(sections=weak))
    assert (found.outcome, found.all_met) == ("not met", False)
    assert codes(findings) == ["BW454", "BW452", "BW456"]
    assert "stress at deck: ratio" in str(findings.items[1])
    assert found.told is not None
    assert found.told["stress_deck_mpa"].value == pytest.approx(float(found.stations["stress_deck_mpa"].data.max()))


def test_a_length_without_sections_is_named() -> None:
    found, findings = made(doc(sections=SECTIONS[:2]))
    assert "BW451" in codes(findings)
    assert set(found.stations.labels("outcome")) == {"met", "not checked"}


def test_members_are_checked_at_their_worst_place() -> None:
    thin = {**PLATE, "name": "thin", "thickness_net_mm": 4.0}
    side = {**PLATE, "name": "side", "member": "side", "framing": "transverse", "edge_stiffener": "tee"}
    bottom = {**PLATE, "name": "bottom", "member": "bottom"}
    short = {**PLATE, "name": "short", "from_x_m": 20.0, "to_x_m": 24.0}
    found, findings = made(doc(plates=[PLATE, thin, side, bottom, short], stiffeners=[STIFFENER]))
    table = found.buckling
    rows = {(table.labels("name")[k], table.labels("check")[k]): k for k in range(table.rows)}
    deck = found.stations["stress_deck_mpa"].data
    k = rows["deck plate", "plate in compression"]
    assert table["stress_mpa"].data[k] == pytest.approx(deck.max())
    assert table["x_m"].data[k] == found.stations.values("x_m")[int(np.argmax(deck))]
    # hand: 0.9 * 4 * 2.06e5 * (4/600)^2 = 32.96, below half the yield
    k = rows["thin", "plate in compression"]
    assert table["allowed_mpa"].data[k] == pytest.approx(0.9 * 4.0 * 2.06e5 * (4.0 / 600.0) ** 2, rel=1e-12)
    assert table.labels("outcome")[k] == "not met"
    assert any("thin" in finding.where for finding in findings)
    assert table.labels("outcome")[rows["bottom", "plate in compression"]] == "not asked"
    assert table.labels("outcome")[rows["deck plate", "plate in shear"]] == "not asked"
    assert table["ratio"].applies[rows["side", "plate in shear"]]
    within = (found.stations.values("x_m") >= 20.0) & (found.stations.values("x_m") <= 24.0)
    assert table["stress_mpa"].data[rows["short", "plate in compression"]] == pytest.approx(deck[within].max())
    assert [one.title.split(":")[0] for one in found.members_told] == ["thin", "deck longitudinal"]


def test_an_exponent_of_the_users_own_is_used_and_named() -> None:
    reason = "Agreed with class on the lines plan."
    found, findings = made({"bow_exponent": {"value": 0.4, "reason": reason}})
    assert found.exponent == 0.4
    assert isinstance(found.result, GirderForce)
    assert found.result.trace["bow_exponent"].value == 0.4
    assert reason in found.result.trace["bow_exponent"].origin
    assert codes(findings) == ["BW455", "BW450"]
    assert f"the fit gives {found.fit.exponent:.3f}" in str(findings.items[0])
    ship = ships.ship(lambda d: d.update({"hull_girder": {"bow_exponent": {"value": 0.4, "reason": reason}}}))
    assert [one.key for one in module.bow_exponent_override(ship)] == ["hull_girder.bow_exponent"]
    assert module.bow_exponent_override(ships.ship()) == ()


def test_a_loose_fit_is_named_from_its_share_on(monkeypatch: pytest.MonkeyPatch) -> None:
    fit = made(None)[0].fit
    off = abs(fit.worst_m) / (0.5 * fit.breadth_m)
    monkeypatch.setattr(module, "LOOSE_SHARE", off - 1e-9)
    assert "BW454" in codes(made(None)[1])
    monkeypatch.setattr(module, "LOOSE_SHARE", off + 1e-9)
    assert "BW454" not in codes(made(None)[1])


def test_ramming_is_not_considered_with_an_upright_stem() -> None:
    base = ships.baseline()
    facts = {**base.facts, "stem_angle_deg": np.array([85.0])}
    findings = Findings()
    found = module.design_girder(
        base.ship, base.rules, base.measures, facts, base.loads, base.areas.trace, findings
    )  # fmt: skip
    assert found is not None
    assert isinstance(found.result, NotApplicable)
    assert (found.outcome, found.all_met, found.stations.rows, found.buckling.rows) == ("not applicable", True, 0, 0)
    assert codes(findings) == ["BW453"]
    assert not found.fits["ice_force_mn"].applies.any()


@pytest.mark.parametrize("at", [24.0, 24.0005, 20.7])
def test_a_member_at_one_place_is_checked_there(at: float) -> None:
    """Places nearer than 1 mm are one: a member half a millimetre from a section is checked at the section."""
    found, _ = made(doc(plates=[{**PLATE, "from_x_m": at, "to_x_m": at}]))
    stations = found.stations
    near = int(np.argmin(np.abs(stations.values("x_m") - at)))
    row = found.buckling.labels("check").tolist().index("plate in compression")
    assert found.buckling["x_m"].data[row] == stations.values("x_m")[near] == pytest.approx(at, abs=0.001)
    assert found.buckling["stress_mpa"].data[row] == stations["stress_deck_mpa"].data[near]


def test_a_member_without_a_place_in_it_is_refused_and_named() -> None:
    """Three ends a little less than 1 mm from each other are one place with the section: the last is 2.7 mm away."""
    ends = (24.0009, 24.0018, 24.0027)
    plates = [{**PLATE, "name": f"plate {k}", "from_x_m": x, "to_x_m": x} for k, x in enumerate(ends)]
    with pytest.raises(InputError, match=r"plate 1: no place at which stresses are worked.*x 24.0018 to 24.0018 m"):
        made(doc(plates=plates))


@pytest.mark.parametrize(
    ("girder", "words"),
    [
        (doc(sections=SECTIONS[::-1]), r"sections\[2\].x_m: places must go forward"),
        (doc(still_water=WATER[::-1]), r"still_water\[2\].x_m: places must go forward"),
        (doc(still_water=[]), "no permissible still-water loads"),
        ({"plates": [PLATE]}, "plates are given, and no section"),
        (doc(plates=[{**PLATE, "from_x_m": 60.0}]), r"plates\[1\]: does not lie between"),
        (doc(sections=[{**SECTIONS[0], "grade": "EH99"}]), r"sections\[1\].grade: no such hull steel grade"),
        (doc(plates=[{**PLATE, "grade": "EH500"}]), "depends on the as-built thickness"),
        (doc(stiffeners=[{**STIFFENER, "section": "HP1x1"}]), r"stiffeners\[1\].section"),
        (doc(sections=[{**SECTIONS[0], "modulus_deck_m3": 0.0}]), "modulus_deck_m3"),
        ({"bow_exponent": 0.5}, r"bow_exponent: is a table of its own, not a single value; found 0.5; allowed: a table "
         r"with value and reason"),
        ({"bow_exponent": {"value": 0.5}}, r"bow_exponent.reason: this key is missing"),
    ],
)  # fmt: skip
def test_a_girder_that_cannot_be_is_refused(girder: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        check_girder(ships.ship(lambda d: d.update({"hull_girder": girder})), Findings())
