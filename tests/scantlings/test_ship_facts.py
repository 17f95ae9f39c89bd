"""Facts of the ship as a whole: a barge of planes against hand calculations, a real hull against a second way."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.hull import closed_form as cf
from tests.scantlings import ships

from beltwright.core.chain import Quantity
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import Unit
from beltwright.rules.baltic_traficom_2021.ruleset import FACTS
from beltwright.rules.baltic_traficom_2021.tables import ABRASION, PROPELLER_FACTORS
from beltwright.rules.registry import available, rule_set
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.measure import measure_hull
from beltwright.scantlings.ship_facts import check_told, known_facts, ship_facts, side
from beltwright.ship.model import Ship

BARGE = cf.wedge_barge()
UPPER_M, AFT_M, FORE_M = 5.0, 3.4, 2.8  # the lower line falls forward by 0.6 m over 66 m


def told(doc: dict[str, Any]) -> None:
    """The barge's description: 66 m between perpendiculars, tank top rising from 1.0 to 1.6 m over its bow."""
    doc["hull"].update(depth_m=8.0, length_between_perpendiculars_m=66.0, class_rule_length_m=64.5)
    doc["waterlines"] = {
        "upper": [{"x_m": 0.0, "draught_m": UPPER_M}],
        "lower": [{"x_m": 0.0, "draught_m": AFT_M}, {"x_m": 66.0, "draught_m": FORE_M}],
    }
    doc["frames"] = [
        {"from_frame": 0, "to_frame": 80, "spacing_m": 0.7}, {"from_frame": 80, "to_frame": 120, "spacing_m": 0.6},
    ]  # fmt: skip
    doc["levels"] = [
        {"name": "tank top", "kind": "inner bottom", "height_m": 1.0, "height_forward_m": 1.6, "from_frame": 0,
         "to_frame": 100},
        {"name": "deck", "kind": "deck", "height_m": 8.0},
    ]  # fmt: skip
    doc["propulsion"].update(
        engine_power_kw=2400.0, propeller_count=2, drive="fixed pitch", propeller_diameter_m=2.2,
        propeller_clearance_m=0.7, service_speed_kn=12.5,
    )  # fmt: skip


def barge(*edits: ships.Edit) -> Ship:
    """The barge's description with changes."""
    return ships.ship(told, *edits)


@cache
def measured() -> HullMeasures:
    """The barge measured, once."""
    return measure_hull(barge(), (), ships.placed(tuple(BARGE.patches)), Findings())


def facts(*edits: ships.Edit, findings: Findings | None = None) -> tuple[dict[str, np.ndarray], dict[str, str]]:
    """The facts of the Baltic rules."""
    return ship_facts(barge(*edits), measured(), Findings() if findings is None else findings, FACTS)


def test_what_is_told_comes_from_its_field() -> None:
    found, origins = facts()
    assert set(found) == set(origins) == {quantity.name for quantity in FACTS}
    assert all(origins.values())
    assert found["engine_power_kw"].tolist() == [2400.0]
    assert found["propeller_count"].tolist() == ["2"]
    assert found["drive"].tolist() == ["fixed pitch"]
    assert found["power_basis"].tolist() == ["3.2.2"]
    assert found["approved_abrasion_mm"].tolist() == [2.0]
    assert found["class_rule_length_m"].tolist() == [64.5]
    assert found["perpendicular_length_m"].tolist() == [66.0]
    assert origins["engine_power_kw"] == "ship.toml: propulsion.engine_power_kw"


def test_length_breadth_and_displacement() -> None:
    """kind: hand. At 5 m the stem stands at 60 + 5 tan 35/tan 25 = 67.508 m; displacement from prisms, below.

    The bow's triangle is the same at every height, so the volume under 5 m is 5 m times the waterplane: bow
    12 x 12.867/2, stern 12 x 16.485/2, side 12 x (60 - 12.867 - 16.485) at z = 0, longer by 1.5016 m per metre of
    height at the mean height 2.5 m.
    """
    found, _ = facts()
    assert found["breadth_m"][0] == pytest.approx(12.0, abs=1e-9)
    assert found["fore_perpendicular_aft_of_stem_m"][0] == pytest.approx(67.5080 - 66.0, abs=1e-4)
    assert found["waterline_extreme_length_m"][0] == pytest.approx(67.5080, abs=1e-4)
    plane = 12.0 * (0.5 * 12.86704 + 0.5 * 16.48486 + 60.0 - 12.86704 - 16.48486 + 1.501600 * 2.5)
    assert found["displacement_upper_t"][0] == pytest.approx(1.025 * 5.0 * plane + 6.0, rel=1e-6)


def test_draughts() -> None:
    """kind: hand. The lower line at the forward perpendicular, and half way: (3.4 + 2.8)/2."""
    found, origins = facts()
    assert found["forward_draught_lower_m"][0] == pytest.approx(2.8, abs=1e-12)
    assert found["draught_m"] == pytest.approx([5.0, 3.1], abs=1e-12)
    assert "x 33.000 m" in origins["draught_m"]
    shorter = facts(lambda doc: doc["hull"].update(length_between_perpendiculars_m=55.0))[0]
    assert shorter["forward_draught_lower_m"][0] == pytest.approx(3.4 - 0.6 * 55.0 / 66.0, abs=1e-12)


def test_keel_frames_and_tank_top() -> None:
    """kind: hand. The keel ends at x = 60 m; frame 80 stands at 56 m, so that is frame 80 + 4/0.6 = 86.667.

    Five spaces aft of it is frame 81.667, still of 0.6 m. The tank top ends at frame 100 (x = 68 m) and is lowest
    where the side begins, x = 67.508 - 12.867 = 54.641 m: 1 + 0.6 x 54.641/68.
    """
    found, origins = facts()
    assert found["keel_departure_aft_of_stem_m"][0] == pytest.approx(7.5080, abs=2e-3)  # 1 mm up the stem: 1.5 mm
    assert found["main_frame_spacing_m"][0] == pytest.approx(0.6, abs=1e-9)
    assert "frame 81.67 to 86.67" in origins["main_frame_spacing_m"]
    assert found["floor_top_height_m"][0] == pytest.approx(1.0 + 0.6 * 54.641 / 68.0, abs=1e-4)
    assert facts(lambda doc: doc["hull"].update(floor_top_height_m=0.9))[0]["floor_top_height_m"].tolist() == [0.9]


def test_frame_spaces_across_a_change_and_beyond_the_table() -> None:
    """kind: hand. 0.6 m from frame 83 (x = 58.1 m) on: 3.167 spaces of 0.6 m and 1.833 of 0.7 m, mean 0.63667 m."""
    rows = [
        {"from_frame": 0, "to_frame": 83, "spacing_m": 0.7}, {"from_frame": 83, "to_frame": 120, "spacing_m": 0.6},
    ]  # fmt: skip
    found, _ = facts(lambda doc: doc.update(frames=rows))
    assert found["main_frame_spacing_m"][0] == pytest.approx((3.16667 * 0.6 + 1.83333 * 0.7) / 5.0, abs=1e-3)
    short = [{"from_frame": 0, "to_frame": 80, "spacing_m": 0.7}]
    with pytest.raises(InputError, match="frames: does not reach over the fore foot; found 0 to 80"):
        facts(lambda doc: doc.update(frames=short), lambda doc: doc["levels"][0].update(to_frame=80))


def test_no_tank_top_in_the_bow() -> None:
    found, origins = facts(lambda doc: doc["levels"][0].update(to_frame=60))
    assert found["floor_top_height_m"].tolist() == [0.0]
    assert "no inner bottom" in origins["floor_top_height_m"]


def test_the_parallel_side_by_waterline() -> None:
    """kind: hand. It begins 12.867 m aft of the stem of its own height and ends at 6/tan 20 = 16.485 m, within 1 mm.

    Heights run from 2.8 - 0.6 x (67.508 - 66)/66 .. - 2 m, here clear of the keel, to 5 + 2 m in steps below 0.5 m.
    """
    found, _ = facts()
    z = found["waterline_height_m"]
    shift = 1.501600  # tan 35 / tan 25, forward per metre of height
    lowest = AFT_M - 0.6 * (60.0 + 8.0 * shift) / 66.0 - 2.0  # at the hull's fore end
    assert (z[0], z[-1]) == pytest.approx((lowest, 7.0), abs=1e-5)
    assert (np.diff(z) > 0.0).all()
    assert np.diff(z).max() <= 0.5
    millimetre = 0.001 / np.tan(np.radians(25.0)), 0.001 / np.tan(np.radians(20.0))
    start = 60.0 + z * shift - 12.86704 + millimetre[0]
    assert found["side_start_aft_of_stem_m"] == pytest.approx(67.5080 - start, abs=1e-4)
    assert found["side_end_aft_of_stem_m"] == pytest.approx(67.5080 - 16.48486 + millimetre[1], abs=1e-4)


def test_the_bow_at_both_draughts() -> None:
    """kind: hand. At 5 m: bow 12.867 m, side to 16.485 m, triangle of 77.202 m2, angles of the plane.

    The lower line falls by m = 0.6/66 per metre. Stem: x = 60 + z tan 35/tan 25 with z = 3.4 - m x. Where the side
    begins, x is 12.867 m less at the same height, so its height is higher by m times the length L sought and
    L = 12.867 - 1.5016 m L. The plane's waterplane is a triangle still, L x 12 / 2.
    """
    found, origins = facts()
    m, shift, bow = 0.6 / 66.0, 1.501600, 12.86704
    lower = bow / (1.0 + shift * m)
    mm = 0.001 / np.tan(np.radians(25.0))
    assert found["bow_length_m"] == pytest.approx([bow - mm, lower - mm], abs=1e-4)
    stem_lower = (60.0 + AFT_M * shift) / (1.0 + m * shift)
    ends = np.array([67.5080 - bow, stem_lower - lower])
    assert found["parallel_length_m"] == pytest.approx(ends - 16.48486 + mm + 0.00275, abs=1e-4)
    assert found["bow_waterline_area_m2"] == pytest.approx([6.0 * bow, 6.0 * lower], abs=0.03)  # 1 mm of side: 0.026
    assert found["waterline_angle_quarter_deg"] == pytest.approx([25.0, 25.0], abs=1e-6)
    assert found["stem_rake_deg"] == pytest.approx([33.6619, 33.6619], abs=1e-4)
    assert found["bow_rake_quarter_deg"] == pytest.approx([33.6619, 33.6619], abs=1e-4)
    quarter = stem_lower - 0.5 * lower
    assert f"lower x {quarter:.2f}" in origins["bow_rake_quarter_deg"]
    assert "y 3.000 m" in origins["waterline_angle_quarter_deg"]


def test_second_way_on_a_real_hull() -> None:
    """kind: second-method. The small ship's side by half-breadths asked one by one, and its breadth by the form."""
    edit: ships.Edit = lambda doc: doc["hull"].update(length_between_perpendiculars_m=47.5)  # noqa: E731
    wanted = [q for q in FACTS if q.name in ("breadth_m", "waterline_height_m", "side_start_aft_of_stem_m")]
    found, _ = ship_facts(ships.ship(edit), ships.measured(), Findings(), wanted)
    assert found["breadth_m"][0] == pytest.approx(10.5, abs=1e-5)
    shell = ships.measured().shell
    for row in (1, 5):
        z = float(found["waterline_height_m"][row])
        x = np.arange(20.0, 46.0, 0.01)
        hits = shell.crossings(x, np.full(x.size, z))
        y = np.zeros(x.size)
        np.maximum.at(y, hits.query, hits.at.points[:, 1])
        wide = x[y >= y.max() - 0.001]
        assert 47.5 - found["side_start_aft_of_stem_m"][row] == pytest.approx(wide.max(), abs=0.02)


def test_findings_of_the_reading() -> None:
    """The barge's corners are sharp: nothing wanders. A keel at 0.5 m above the baseline is told."""
    findings = Findings()
    facts(findings=findings)
    assert [f.kind.code for f in findings] == []
    raised = tuple(type(p)(**{**_fields(p), "poles": p.poles + np.array([0.0, 0.0, 0.5])}) for p in BARGE.patches)
    measures = measure_hull(barge(), (), ships.placed(raised), findings := Findings())
    wanted = [q for q in FACTS if q.name == "keel_departure_aft_of_stem_m"]
    found, origins = ship_facts(barge(), measures, findings, wanted)
    assert found["keel_departure_aft_of_stem_m"][0] == pytest.approx(measures.stem_x_m - 60.0, abs=2e-3)
    assert "z 0.500 m" in origins["keel_departure_aft_of_stem_m"]
    assert "BW438" in [f.kind.code for f in findings]


def _fields(patch: Any) -> dict[str, Any]:
    return {name: getattr(patch, name) for name in patch.__dataclass_fields__}


def test_a_bow_that_leans_back() -> None:
    """kind: hand. Tumblehome of 5 degrees: the stem leans back, atan(tan 25 / -tan 5) = 100.62 degrees.

    There is no rake of the bow to read; with a bulb the stem counts as 90 degrees, without one it stands as measured.
    """
    back = tuple(cf.wedge_barge(beta_deg=-5.0).patches)
    measures = measure_hull(barge(), (), ships.placed(back), Findings())
    with pytest.raises(InputError, match="rake of the bow at a quarter of the breadth, upper ice waterline: does not "):
        ship_facts(barge(), measures, Findings(), [q for q in FACTS if q.name == "bow_rake_quarter_deg"])
    stem = [q for q in FACTS if q.name == "stem_rake_deg"]
    assert ship_facts(barge(), measures, Findings(), stem)[0]["stem_rake_deg"] == pytest.approx([100.62] * 2, abs=0.01)
    bulb = barge(lambda doc: doc["ice"].update(bulbous_bow=True))
    found, origins = ship_facts(bulb, measures, Findings(), stem)
    assert found["stem_rake_deg"].tolist() == [90.0, 90.0]
    assert "90 degrees at most above a bulb" in origins["stem_rake_deg"]


def test_waterlines_that_cannot_be_read_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The bow's shell ends at 6 m: the level waterlines above it do not reach the centre plane."""
    low = cf.wedge_barge(depth=6.0).patches[0]
    measures = measure_hull(barge(), (), ships.placed((low, *BARGE.patches[1:])), Findings())
    wanted = [q for q in FACTS if q.name == "waterline_height_m"]
    found, _ = ship_facts(barge(), measures, findings := Findings(), wanted)
    assert found["waterline_height_m"].max() <= 6.0
    assert [f.kind.code for f in findings] == ["BW439"]
    message = next(iter(findings)).message
    assert message.startswith("at 6.")
    assert "7.00 m above the baseline" in message

    def nothing(*_: object) -> None:
        raise InputError("hull", "no outline")

    monkeypatch.setattr(side, "waterline", nothing)
    with pytest.raises(InputError, match="cannot be read on any level waterline"):
        side.side_by_height(barge(), measures, Findings())


@pytest.mark.parametrize(
    ("table", "name", "fact"),
    [
        ("propulsion", "engine_power_kw", "engine_power_kw"),
        ("propulsion", "propeller_count", "propeller_count"),
        ("propulsion", "drive", "drive"),
        ("propulsion", "propeller_diameter_m", "propeller_diameter_m"),
        ("propulsion", "propeller_clearance_m", "propeller_clearance_m"),
        ("propulsion", "service_speed_kn", "service_speed_kn"),
        ("hull", "length_between_perpendiculars_m", "perpendicular_length_m"),
        ("hull", "class_rule_length_m", "class_rule_length_m"),
    ],
)
def test_what_is_not_told_is_named(table: str, name: str, fact: str) -> None:
    """A rule set that wants it refuses, without any hull; one that does not, does not ask."""
    lacking = barge(lambda doc: doc[table].pop(name))
    with pytest.raises(InputError, match=rf"^ship\.toml: {table}\.{name}: this key is missing, the rule set"):
        check_told(lacking, [q for q in FACTS if q.name == fact])
    check_told(lacking, rule_set("polar_iacs_2019").facts)


def test_one_line_says_what_is_allowed() -> None:
    with pytest.raises(InputError) as refused:
        check_told(barge(lambda doc: doc["propulsion"].pop("engine_power_kw")), FACTS)
    assert str(refused.value) == (
        "ship.toml: propulsion.engine_power_kw: this key is missing, the rule set polar_iacs_2019 asks for it: engine "
        "output that the propellers can take continuously in ice, other sources such as shaft motors included; asked "
        "by the Finnish-Swedish rules; allowed: at least 50.0 and at most 200000.0 kW"
    )


def test_every_rule_set_asks_for_known_facts() -> None:
    for rules in available():
        assert {quantity.name for quantity in rule_set(rules).facts} <= known_facts()
    assert {quantity.name for quantity in FACTS} <= known_facts()


def test_an_unknown_fact_is_an_error_of_ours() -> None:
    strange = Quantity(name="colour", symbol="c", unit=Unit("-"), meaning="nothing")
    with pytest.raises(LookupError, match="fact colour: nothing measures it"):
        ship_facts(ships.ship(), ships.measured(), Findings(), [strange])


def test_words_and_the_default_are_those_of_the_rules() -> None:
    """The drives of ship.toml are the columns of Table 3-1; the addition where none is approved is that of 4.3.2."""
    drives = Ship.model_fields["propulsion"].annotation.model_fields["drive"].annotation  # type: ignore[union-attr]
    words = [word for inner in drives.__args__ for word in getattr(inner, "__args__", ())]
    for word in words:
        assert PROPELLER_FACTORS.numbers(np.array(["1"]), np.array([word]))[0] > 0.0
    assert len(words) == 3
    assert ships.ship().ice.abrasion_addition_mm == ABRASION.numbers(np.array(["shell"]))[0]


def test_polar_facts_are_not_more_than_asked() -> None:
    """On demand: neither a forward perpendicular nor any level waterline for rules that do not ask for them."""
    assert set(ships.baseline().facts) == {quantity.name for quantity in rule_set("polar_iacs_2019").facts}
