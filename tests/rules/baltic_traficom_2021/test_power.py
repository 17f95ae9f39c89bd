"""Chapter 3 and Annex II: the engine output. Sample ships of Annex I: printed; the rest by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import CLASSES, column, facts

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.baltic_traficom_2021 import annex_ii_power as annex
from beltwright.rules.baltic_traficom_2021 import c3_2_2_power as c3
from beltwright.rules.baltic_traficom_2021 import c3_2_4_existing_power as existing
from beltwright.rules.baltic_traficom_2021.power import outside_ranges, required_power

# Annex I, Table I-1 (read in a transcript): number, class, alpha, phi1, propeller, new and existing output [kW].
# Common: L 150, B 25, T 9, L_BOW 45, L_PAR 70, A_wf 500, D_p 5, phi2 30. phi1 = 90 are bulbous bows.
SAMPLES = [
    (1, "IA Super", 24.0, 90.0, "controllable pitch", 7840.0, 9192.0),
    (2, "IA", 24.0, 90.0, "controllable pitch", 4941.0, 6614.0),
    (4, "IC", 24.0, 90.0, "controllable pitch", 2253.0, None),
    (5, "IA Super", 24.0, 30.0, "controllable pitch", 6799.0, 8466.0),
    (8, "IA", 20.0, 30.0, "controllable pitch", 5017.0, 6614.0),
    (9, "IB", 24.0, 90.0, "fixed pitch", 3872.0, None),
]
# worked out from the text beside the printed outputs: parts of the resistance [N]
PARTS = {
    1: {"layers": 190691, "brash_at_bow_n": 420036, "brash_along_side_n": 81343, "bow_area_resistance_n": 27714,
        "channel_resistance_n": 719784},
    2: {"channel_resistance_n": 529092},
    4: {"channel_resistance_n": 313482},
    5: {"layers": 125459, "channel_resistance_n": 654551},
    8: {"channel_resistance_n": 534475},
    9: {"channel_resistance_n": 418669},
}  # fmt: skip


def sample(number: int, basis: str = "3.2.2", **changed: Any) -> dict[str, np.ndarray]:
    _, ice_class, alpha, phi1, drive, _, _ = next(row for row in SAMPLES if row[0] == number)
    return facts(
        **{
            "ice_class": ice_class,
            "power_basis": basis,
            "drive": drive,
            "bulbous_bow": phi1 == 90.0,
            "draught_m": (9.0, 9.0),
            "bow_length_m": (45.0, 45.0),
            "parallel_length_m": (70.0, 70.0),
            "bow_waterline_area_m2": (500.0, 500.0),
            "waterline_angle_quarter_deg": (alpha, alpha),
            "stem_rake_deg": (30.0, 30.0),  # a bulbous bow takes 90 whatever its stem
            "bow_rake_quarter_deg": (30.0, 30.0),
            **changed,
        }
    )


@pytest.mark.parametrize("number", [row[0] for row in SAMPLES])
def test_sample_ships_by_3_2_2(number: int) -> None:
    found = required_power(sample(number))
    printed = next(row[5] for row in SAMPLES if row[0] == number)
    assert found.required_kw == pytest.approx(printed, abs=1.0)
    trace = found.traces["engine output, upper ice waterline"]
    values = {name: float(node.value) for name, node in trace.items() if node.unit.symbol == "N"}
    values["layers"] = values["layer_breaking_n"] + values["layer_sliding_n"]
    for name, expected in PARTS[number].items():
        assert values[name] == pytest.approx(expected, abs=0.51)


@pytest.mark.parametrize(("number", "printed"), [(row[0], row[6]) for row in SAMPLES if row[6] is not None])
def test_sample_ships_by_3_2_4(number: int, printed: float) -> None:
    assert required_power(sample(number, "3.2.4")).required_kw == pytest.approx(printed, abs=1.0)


def test_sample_ship_8_is_at_the_floor_of_the_shape_factor() -> None:
    trace = required_power(sample(8)).traces["engine output, lower ice waterline"]
    assert trace["bow_shape_factor"].value == 0.45


def test_existing_factors_are_those_of_3_2_2_at_two_rakes() -> None:
    # 1 + 0.021 x 90 = 2.89, 1 + 0.063 x 90 = 6.67; at 40 degrees 1.84 and 3.52
    for bulb, rake in ((True, 90.0), (False, 40.0)):
        bow = existing.existing_bow(bulbous_bow=column(bulb))
        assert existing.existing_breaking_factor(bow=bow)[0] == pytest.approx(1.0 + 0.021 * rake, abs=1e-12)
        assert existing.existing_sliding_factor(bow=bow)[0] == pytest.approx(1.0 + 0.063 * rake, abs=1e-12)


def test_existing_resistance_by_hand() -> None:
    # IA Super, no bulb, L 100, B 20, T 5: LT/B2 = 1.25, cube 1.953 -> 5; H_M 1, H_F = 0.26 + sqrt(20)
    h = 0.26 + math.sqrt(20.0)
    c1 = 10.3 * 20 * 100 / (10.0 / 20 + 1) + 1.84 * (45.8 * 20 + 2.94 * 100 + 5.8 * 20 * 100)
    c2 = 3.52 * (1530 + 170 * 20) + 400 * (1 + 1.2 * 5 / 20) * 400 / 10.0
    expected = c1 + c2 + 460 * (h + 1) ** 2 * (20 + 0.658 * h) + 18.7 * 100 * h**2 + 825 * 5.0 * 20 / 4
    ship = sample(5, "3.2.4", perpendicular_length_m=100.0, breadth_m=20.0, draught_m=(5.0, 5.0))
    trace = required_power(ship).traces["engine output, upper ice waterline"]
    assert trace["layer_breaking_n"].value == pytest.approx(c1, rel=1e-12)
    assert trace["layer_sliding_n"].value == pytest.approx(c2, rel=1e-12)
    assert trace["channel_resistance_n"].value == pytest.approx(expected, rel=1e-12)
    ia = {**ship, "ice_class": column("IA")}
    trace = required_power(ia).traces["engine output, upper ice waterline"]
    assert trace["channel_resistance_n"].value == pytest.approx(expected - c1 - c2, rel=1e-12)
    assert existing.existing_layer_breaking.ref == existing.existing_layer_sliding.ref == "3.2.4"
    assert existing.existing_resistance.symbol == "R_CH"


def test_both_draughts_are_worked_out_and_the_greater_output_counts() -> None:
    deep, shallow = sample(2), sample(2, draught_m=(9.0, 5.0))
    assert required_power(shallow).required_kw == required_power(deep).required_kw
    turned = required_power(sample(2, draught_m=(5.0, 9.0)))
    assert turned.required_kw == required_power(deep).required_kw
    assert turned.choices == ("engine output by 3.2.2, governed by the lower ice waterline",)
    assert required_power(shallow).choices == ("engine output by 3.2.2, governed by the upper ice waterline",)
    assert list(turned.traces) == ["engine output, upper ice waterline", "engine output, lower ice waterline"]
    node = turned.traces["engine output, lower ice waterline"]["draught_m"]
    assert node.value == 9.0


def test_parts_by_hand() -> None:
    def one(clause: Any, **given: float) -> float:
        return float(clause(**{name: column(value) for name, value in given.items()})[0])

    # psi = atan(tan 30 / sin 30) = atan(2 / sqrt 3)
    psi = math.degrees(math.atan(2.0 / math.sqrt(3.0)))
    found = one(c3.flare_angle, bow_rake_quarter_deg=30.0, waterline_angle_quarter_deg=30.0)
    assert found == pytest.approx(psi, abs=1e-12)
    shape = 0.15 * math.sqrt(3.0) / 2.0 + math.sin(math.radians(psi)) * 0.5
    found = one(c3.bow_shape_factor, bow_rake_quarter_deg=30.0, flare_angle_deg=psi, waterline_angle_quarter_deg=30.0)
    assert found == pytest.approx(shape, abs=1e-12)
    assert one(c3.flare_factor, flare_angle_deg=45.0) == 0.0
    assert one(c3.flare_factor, flare_angle_deg=45.001) == pytest.approx(0.047 * 45.001 - 2.115, abs=1e-12)
    assert one(c3.flare_factor, flare_angle_deg=44.9) == 0.0
    assert one(c3.displaced_thickness, channel_thickness_m=0.8, breadth_m=20.0) == pytest.approx(4.26)
    assert one(c3.brash_along_side, parallel_length_m=70.0, displaced_thickness_m=5.0) == 42 * 70 * 25
    found = one(c3.brash_at_bow, bow_shape_factor=0.5, displaced_thickness_m=4.0, channel_thickness_m=1.0,
                breadth_m=20.0, flare_factor=0.5)  # fmt: skip
    assert found == pytest.approx(845 * 0.5 * 25 * 22)
    found = one(c3.bow_area_resistance, slenderness_cube=10.0, bow_waterline_area_m2=300.0,
                perpendicular_length_m=100.0)  # fmt: skip
    assert found == 825 * 10 * 3
    found = one(c3.power_by_resistance, propeller_factor=2.0, channel_resistance_n=400e3, propeller_diameter_m=4.0)
    assert found == pytest.approx(2.0 * 8000.0 / 4.0)


@pytest.mark.parametrize(
    ("draught", "cube"),  # L 100, B 10: L T/B2 = T; cubes 4.913, 5, 5.088.., 19.9, 20 by hand
    [(1.7, 5.0), (5.0 ** (1 / 3), 5.0), (1.72, 1.72**3), (2.71, 2.71**3), (20.0 ** (1 / 3), 20.0), (2.72, 20.0)],
)
def test_slenderness_cube_is_held_between_5_and_20(draught: float, cube: float) -> None:
    found = c3.slenderness_cube(
        perpendicular_length_m=column(100.0), draught_m=column(draught), breadth_m=column(10.0)
    )  # fmt: skip
    assert found[0] == pytest.approx(cube, rel=1e-12)


@pytest.mark.parametrize(("ice_class", "thickness", "least"), [("IA Super", 1.0, 2800.0), ("IA", 1.0, 1000.0),
                                                               ("IB", 0.8, 1000.0), ("IC", 0.6, 1000.0)])  # fmt: skip
def test_channel_and_least_power_by_class(ice_class: str, thickness: float, least: float) -> None:
    assert c3.channel_thickness(ice_class=column(ice_class))[0] == thickness
    assert c3.least_power(ice_class=column(ice_class))[0] == least
    required = c3.power_required(power_by_resistance_kw=column([least - 1, least, least + 1]), least_power_kw=least)
    assert required.tolist() == [least, least, least + 1]


def test_propeller_factors_follow_from_the_bollard_pull() -> None:
    # second way: pull T = K (P D)^(2/3) with K = 0.78, 0.98, 1.12 for 1 to 3 screws; 0.8 T = R at 5 knots gives
    # P = (0.8 K)^-1.5 R^1.5 / D; fixed pitch at nine tenths of it
    for count, k in (("1", 0.78), ("2", 0.98), ("3", 1.12)):
        for drive, part in (("controllable pitch", 1.0), ("electric or hydraulic", 1.0), ("fixed pitch", 0.9)):
            factor = c3.propeller_factor(propeller_count=column(count), drive=column(drive))[0]
            assert factor == pytest.approx((0.8 * k) ** -1.5 / part, abs=0.011)


def test_consolidated_layer_only_for_ia_super() -> None:
    for ice_class in CLASSES[1:]:
        trace = required_power(facts(ice_class=ice_class)).traces["engine output, upper ice waterline"]
        assert trace["layer_breaking_n"].value == trace["layer_sliding_n"].value == 0.0
    assert c3.layer_breaking.symbol == "C_1"
    assert c3.layer_sliding.symbol == "C_2"
    assert c3.channel_resistance.symbol == "R_CH"


@given(st.floats(0.5, 0.99), st.sampled_from(CLASSES))
def test_power_falls_with_a_greater_propeller_and_a_weaker_class(part: float, ice_class: str) -> None:
    whole = required_power(facts(ice_class=ice_class)).required_kw
    assert required_power(facts(ice_class=ice_class, propeller_diameter_m=5.0 * part)).required_kw >= whole
    powers = [required_power(facts(ice_class=name)).required_kw for name in CLASSES]
    assert powers == sorted(powers, reverse=True)


def test_stem_rake_used() -> None:
    found = c3.stem_rake_used(bulbous_bow=column([True, False]), stem_rake_deg=column([30.0, 30.0]))
    assert found.tolist() == [90.0, 30.0]


# Annex II


def annex_ship(**changed: Any) -> dict[str, np.ndarray]:
    return facts(**{"ice_class": "IB", "power_basis": "Annex II", "drive": "fixed pitch",
                    "stem_rake_deg": (45.0, 10.0), **changed})  # fmt: skip


def test_annex_by_hand() -> None:
    # f1 1.0, f2 = 45/200 + 0.675 = 0.9, product 0.9; f3 = 1.2 x 25 / 12000^(1/3) = 1.3103; 0.22 x 12000 + 370 = 3010
    f3 = 1.2 * 25.0 / 12000.0 ** (1 / 3)
    found = required_power(annex_ship())
    assert found.required_kw == pytest.approx(0.9 * f3 * 3010.0, rel=1e-12)
    assert list(found.traces) == ["engine output, upper ice waterline"]  # the stem at the greatest draught
    assert [str(note) for note in found.findings] == ["BW521 caution: engine output: by Annex II"]
    ic = required_power(annex_ship(ice_class="IC")).required_kw
    assert ic == pytest.approx(0.9 * f3 * 0.18 * 12000.0, rel=1e-12)


@pytest.mark.parametrize(("ice_class", "power"), [("IB", 6970.0), ("IC", 5400.0)])
def test_annex_is_continuous_at_30000_t(ice_class: str, power: float) -> None:
    # printed factors: 0.22 x 30000 + 370 = 0.13 x 30000 + 3070 = 6970; 0.18 x 30000 = 0.11 x 30000 + 2100 = 5400
    ratios = []
    for displacement, half in ((29999.9999, "below 30000"), (30000.0, "from 30000")):
        trace = required_power(annex_ship(ice_class=ice_class, displacement_upper_t=displacement)).traces
        node = trace["engine output, upper ice waterline"]
        assert node["displacement"].value == half
        ratios.append(
            float(node["annex_displacement_factor"].value) * displacement + float(node["annex_fixed_power_kw"].value)
        )
    assert ratios == pytest.approx([power, power], rel=1e-7)


def test_annex_limits() -> None:
    def one(clause: Any, **given: Any) -> float:
        return float(clause(**{name: column(value) for name, value in given.items()})[0])

    assert one(annex.annex_propeller_factor, drive="fixed pitch") == 1.0
    assert one(annex.annex_propeller_factor, drive="controllable pitch") == 0.9
    assert one(annex.annex_stem_factor, bulbous_bow=True, stem_rake_deg=20.0) == 1.1
    assert one(annex.annex_stem_factor, bulbous_bow=False, stem_rake_deg=84.0) == pytest.approx(1.095)
    assert one(annex.annex_stem_factor, bulbous_bow=False, stem_rake_deg=86.0) == 1.1
    assert one(annex.annex_shape_product, annex_propeller_factor=0.9, annex_stem_factor=0.94) == 0.85
    assert one(annex.annex_shape_product, annex_propeller_factor=0.9, annex_stem_factor=1.0) == 0.9
    assert one(annex.annex_displacement, displacement_upper_t=80001.0) == 80000.0
    assert one(annex.annex_displacement, displacement_upper_t=79999.0) == 79999.0
    assert one(annex.annex_breadth_factor, breadth_m=16.0, annex_displacement_t=8000.0) == 1.0  # 1.2 x 16/20 = 0.96
    assert one(annex.annex_breadth_factor, breadth_m=20.0, annex_displacement_t=8000.0) == pytest.approx(1.2)
    assert annex.annex_half(annex_displacement_t=column([29999.0, 30000.0])).tolist() == ["below 30000", "from 30000"]
    given = {"ice_class": "IC", "displacement": "from 30000"}
    assert one(annex.annex_displacement_factor, **given) == 0.11
    assert one(annex.annex_fixed_power, **given) == 2100.0
    least = {"annex_shape_product": 0.85, "annex_breadth_factor": 1.0, "annex_displacement_factor": 0.18,
             "annex_fixed_power_kw": 0.0}  # fmt: skip
    assert one(annex.annex_power_required, annex_displacement_t=4000.0, **least) == 740.0  # 612
    assert one(annex.annex_power_required, annex_displacement_t=5000.0, **least) == pytest.approx(765.0)


# What is refused


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"power_basis": "3.2.3"}, "ship: power_basis: no such clause; found 3.2.3; allowed: 3.2.2, 3.2.4, Annex II"),
        ({"draught_m": 9.0},
         (
             "ship: draught_m: one value at each ice waterline; found 1; allowed: 2 values: upper, lower"
         )),
        ({"draught_m": (9.0, math.nan)},
         (
             "engine output: row 1: draught_m: outside its range; found nan m; allowed: 0.1 to 50"
         )),
        ({"bow_rake_quarter_deg": (0.0, 30.0)},
         (
             "engine output: row 0: bow_rake_quarter_deg: outside its range; found 0 deg; allowed: 0.1 to 90"
         )),
        ({"propeller_count": "4"}, "FSICR Table 3-1: no such propeller_count; found 4; allowed: 1, 2, 3"),
        ({"drive": "sail"},
         (
             "FSICR Table 3-1: no such drive; found sail; allowed: controllable pitch, electric or hydraulic,"
             " fixed pitch"
         )),
        ({"breadth_m": []}, "ship: breadth_m: is missing; allowed: a value"),
    ],
)  # fmt: skip
def test_bad_facts_are_named(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as refused:
        required_power(facts(**changed))
    assert str(refused.value) == message


def test_a_missing_fact_is_named() -> None:
    ship = facts()
    del ship["propeller_diameter_m"]
    with pytest.raises(InputError, match="ship: propeller_diameter_m: is missing"):
        required_power(ship)


@pytest.mark.parametrize(("basis", "ice_class"), [("3.2.4", "IB"), ("3.2.4", "IC"), ("Annex II", "IA"),
                                                  ("Annex II", "IA Super")])  # fmt: skip
def test_a_clause_is_for_its_own_classes(basis: str, ice_class: str) -> None:
    with pytest.raises(ScopeError, match=f"{basis} is for .*, the ship is {ice_class}"):
        required_power(facts(power_basis=basis, ice_class=ice_class))


def test_ranges_are_cautions() -> None:
    assert required_power(sample(2)).findings == ()
    notes = required_power(sample(2, propeller_diameter_m=4.0, waterline_angle_quarter_deg=(24.0, 14.0))).findings
    assert [str(note) for note in notes] == [
        "BW516 caution: engine output: alpha: 14; 15 to 55 deg",
        "BW516 caution: engine output: D_p/T: 0.444; 0.45 to 0.75 -",
    ]


RANGES = {  # quantity: fact, what it is divided by, ends (recalled)
    "alpha": ("waterline_angle_quarter_deg", 1.0, 15.0, 55.0),
    "phi1": ("stem_rake_deg", 1.0, 25.0, 90.0),
    "phi2": ("bow_rake_quarter_deg", 1.0, 10.0, 90.0),
    "T": ("draught_m", 1.0, 4.0, 15.0),
    "L_BOW/L": ("bow_length_m", 150.0, 0.15, 0.40),
    "L_PAR/L": ("parallel_length_m", 150.0, 0.25, 0.75),
    "A_wf/(L B)": ("bow_waterline_area_m2", 3750.0, 0.09, 0.27),
    "D_p/T": ("propeller_diameter_m", 9.0, 0.45, 0.75),
}


@pytest.mark.parametrize("quantity", RANGES)
def test_both_ends_of_a_range(quantity: str) -> None:
    name, scale, least, most = RANGES[quantity]
    for end, sign in ((least, -1.0), (most, 1.0)):
        for step, outside in ((1e-6, False), (-1e-6, True)):
            value = end * scale * (1.0 - sign * step)
            if name == "draught_m" and quantity == "T":
                value = end * (1.0 - sign * step)
            ship = sample(2, **{name: (value,) if name == "propeller_diameter_m" else (value, value)})
            where = [note.where for note in outside_ranges(ship)]
            assert (f"engine output: {quantity}" in where) is outside, (end, step)


def test_length_and_breadth_ranges() -> None:
    for name, quantity, least, most in (
        ("perpendicular_length_m", "L", 65.0, 250.0),
        ("breadth_m", "B", 11.0, 40.0),
    ):
        for value, outside in ((least, False), (least - 0.01, True), (most, False), (most + 0.01, True)):
            where = [note.where for note in outside_ranges(sample(2, **{name: value}))]
            assert (f"engine output: {quantity}" in where) is outside
