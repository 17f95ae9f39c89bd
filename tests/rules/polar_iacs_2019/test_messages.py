"""Every refusal, finding and choice of the polar rules, word for word: one line with field, value, unit, allowed."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import POLAR, angles, design, facts, panel

from beltwright.core.errors import ExitCode, InputError, ScopeError, ToolError
from beltwright.rules.polar_iacs_2019 import bow_form, hull_areas
from beltwright.rules.protocol import Guard, InputLimit, Override
from beltwright.rules.registry import available, rule_set

STEEP = (2.0, 4.0, 6.0, 8.0)
BOW = Override(key="overrides.bow_form", reason="model tests")
STERN = Override(key="overrides.azimuthing_stern_factors", reason="letter 7")


def areas(overrides: tuple[Override, ...] = (), **changed: Any) -> Any:
    return POLAR.areas(facts(**changed), overrides)


def classify(x: float = 60.0, up: float = 0.0) -> Any:
    one = np.ones(1)
    return areas().classify(x * one, up * one, 0.0 * one, 90.0 * one, one)


def refused(ship: dict[str, Any], bow: dict[str, Any], overrides: tuple[Override, ...] = ()) -> Any:
    return design(facts(**ship), angles(**bow), overrides)


REFUSALS: list[tuple[type[ToolError], Any, str]] = [
    (
        InputError,
        lambda: rule_set("none"),
        f"ship.toml: ice.rules: no such rule set; found none; allowed: {', '.join(available())}",
    ),
    (
        InputError,
        lambda: areas(ice_class="IA"),
        "ship: ice_class: no such Polar Class; found IA; allowed: PC1, PC2, PC3, PC4, PC5, PC6, PC7",
    ),
    (
        InputError,
        lambda: areas(stem_to_ap_m=-1.0),
        (
            "ship: stem_to_ap_m: fore side of the stem at the upper ice waterline to the aft perpendicular; "
            "found -1 m; allowed: 1e-09 to 1000"
        ),
    ),
    (
        InputError,
        lambda: areas(stem_baseline_aft_of_stem_m=-1.0),
        (
            "ship: stem_baseline_aft_of_stem_m: intersection of the stem line with the baseline; "
            "found -1 m; allowed: 0 to 1000"
        ),
    ),
    (
        ScopeError,
        lambda: areas(azimuthing_propulsion=True),
        (
            "outside the rule's scope: stern area factors Si and Sl: the ship has azimuthing or podded "
            "units, for which "
            "these factors are specially considered (UR I2 I2.3.5(iii)); to go on, write your reason under "
            "overrides.azimuthing_stern_factors"
        ),
    ),
    (
        InputError,
        lambda: areas((Override(key=STERN.key, reason=" "),), azimuthing_propulsion=True),
        "overrides.azimuthing_stern_factors: the reason is empty; allowed: a written reason",
    ),
    (
        InputError,
        lambda: classify(x=math.nan),
        "hull areas: aft_of_stem_m: is not a number; allowed: finite metres",
    ),
    (
        InputError,
        lambda: classify(up=math.inf),
        "hull areas: above_upper_m: is not a number; allowed: finite metres",
    ),
    (
        InputError,
        lambda: refused({"displacement_upper_kt": 14000.0}, {}),
        (
            "ship: displacement_upper_kt: displacement in kilotonnes (1 kt = 1000 t); found 14000 kt; "
            "allowed: more than 0 up to 1000"
        ),
    ),
    (
        InputError,
        lambda: refused({"alpha_ten_aft_of_stem_m": 24.01}, {"x": (3.0, 9.0, 15.0, 21.1234)}),
        (
            "angles: aft_of_stem_m: the angles are not those of the middles of the bow's sub-regions; "
            "found [ 3. 9. 15. 21.123] m; allowed: [ 3.001 9.004 15.006 21.009]"
        ),
    ),
    (
        ScopeError,
        lambda: refused({}, {"beta_prime": STEEP}),
        (
            "outside the rule's scope: bow form: PC4, stem angle 30.0 degrees, "
            "beta' at the foremost sub-region 2.0 degrees: "
            "not covered by I2.3.1(v) to (vii) (UR I2 I2.3.1(viii)); to go on, write your reason under "
            "overrides.bow_form"
        ),
    ),
    (
        ScopeError,
        lambda: refused({}, {"beta_prime": (40.0, 34.0, -0.5, 14.0)}),
        (
            "outside the rule's scope: bow sub-region 3: beta' is -0.50 degrees; "
            "the formula needs above 0 up to 90 for the standard formula (UR I2 I2.3.1(viii))"
        ),
    ),
    (
        ScopeError,
        lambda: refused({}, {"alpha": (30.0, math.nan, 22.0, 15.0)}),
        (
            "outside the rule's scope: bow sub-region 2: alpha does not apply; "
            "the formula needs above 0 up to 90 (UR I2 I2.3.1(viii))"
        ),
    ),
    (
        ScopeError,
        lambda: refused({"stem_baseline_aft_of_stem_m": 100.0}, {"x": (12.5, 37.5, 62.5, 87.5)}),
        "outside the rule's scope: bow sub-region 4: the shape factor is not positive so far aft (UR I2 I2.3.2.1(iii))",
    ),
    (
        InputError,
        lambda: POLAR.plating.run(panel(spacing_m=[0.4, -0.4])),
        "shell plating: row 1: spacing_m: outside its range; found -0.4 m; allowed: 0.001 to 1000",
    ),
    (
        ScopeError,
        lambda: POLAR.plating.run(panel(span_m=[2.4, 2.4, 0.1])),
        (
            "outside the rule's scope: shell plating: row 2: the span is not more than a quarter of the spacing: "
            "the transverse formula leaves no patch height (UR I2 I2.4.2)"
        ),
    ),
    (
        ScopeError,
        lambda: Guard(column="c", what="w", reason="r", ref="f").check({"c": np.array([True, False])}),
        "outside the rule's scope: w: row 1: r (f)",
    ),
    (
        InputError,
        lambda: InputLimit(column="c", unit="u", least=1.0, most=2.0).check("m", {"c": np.array([1.0, 2.5])}),
        "m: row 1: c: outside its range; found 2.5 u; allowed: 1 to 2",
    ),
]


@pytest.mark.parametrize(("kind", "work", "message"), REFUSALS, ids=[message[:50] for _, _, message in REFUSALS])
def test_refusals_word_for_word(kind: type[ToolError], work: Any, message: str) -> None:
    with pytest.raises(kind) as caught:
        work()
    assert str(caught.value) == message
    assert caught.value.exit_code == (ExitCode.OUT_OF_SCOPE if kind is ScopeError else ExitCode.BAD_INPUT)


STEM = "stem angle 30.0 degrees, beta' at the foremost sub-region"
FINDINGS: list[tuple[dict[str, Any], dict[str, Any], tuple[Override, ...], tuple[str, ...]]] = [
    ({}, {}, (), ()),
    ({"stem_to_rudder_m": 122.0}, {}, (), ("BW401 note: ship length: stem to rudder 122.000 m, held at 120.280 m",)),
    (
        {"displacement_upper_kt": 4.0},
        {},
        (),
        ("BW402 note: displacement: 4.000 kt; bow formulas 5.000 kt, others 10.000 kt",),
    ),
    (
        {"ice_class": "PC6"},
        {"beta_prime": STEEP},
        (),
        (
            (
                f"BW403 caution: bow: PC6, {STEM} 2.0 degrees, outside I2.3.1(v); beta' within 0 and 10 "
                f"degrees at every "
                "sub-region: formula for vertical sides (I2.3.1(vi))"
            ),
        ),
    ),
    (
        {"ice_class": "PC7", "bulbous_bow": True},
        {},
        (),
        (
            (
                "BW403 caution: bow: PC7 with a bulbous bow: formula for vertical sides at every sub-region, "
                "not less than "
                "the standard formula with fa = 0.6 and AR = 1.3 (I2.3.1(vii))"
            ),
        ),
    ),
    (
        {"alpha_ten_aft_of_stem_m": 20.0, "stem_baseline_aft_of_stem_m": 24.0},
        {},
        (),
        ("BW404 note: aft border of the bow: 24.00 m aft of the stem; 10 degrees lie at 20.00 m",),
    ),
    (
        {"operates_astern": True},
        {},
        (),
        ("BW405 caution: aft part: bow from 90.00 m, bow intermediate from 73.20 m aft of the stem",),
    ),
    (
        {"azimuthing_propulsion": True},
        {},
        (STERN,),
        ("BW406 caution: overrides.azimuthing_stern_factors: reason: letter 7",),
    ),
    ({}, {}, (STERN,), ()),
    ({"azimuthing_propulsion": True, "operates_astern": True}, {}, (STERN,), ("BW405 caution: aft part",)),
    (
        {},
        {"beta_prime": STEEP},
        (BOW,),
        (f"BW406 caution: overrides.bow_form: PC4, {STEM} 2.0 degrees; reason: model tests",),
    ),
    (
        {"bulbous_bow": True},
        {},
        (BOW,),
        (f"BW406 caution: overrides.bow_form: PC4 with a bulbous bow, {STEM} 40.0 degrees; reason: model tests",),
    ),
    (
        {"parallel_end_forward_of_ap_m": 117.0},
        {},
        (),
        ("BW407 caution: midbody: bow intermediate and stern meet 36.80 m aft of the stem",),
    ),
]


@pytest.mark.parametrize(("ship", "bow", "overrides", "expected"), FINDINGS)
def test_findings_word_for_word(
    ship: dict[str, Any], bow: dict[str, Any], overrides: tuple[Override, ...], expected: tuple[str, ...]
) -> None:
    found = [str(finding) for finding in design(facts(**ship), angles(**bow), overrides)[1].findings]
    assert len(found) == len(expected)
    for text, wanted in zip(found, expected, strict=True):
        assert text == wanted or (wanted.endswith("aft part") and text.startswith(wanted))


CHOICES: list[tuple[dict[str, Any], dict[str, Any], tuple[Override, ...], tuple[str, ...]]] = [
    (
        {},
        {},
        (),
        (
            f"standard bow formula: {STEM} 40.0 degrees, within I2.3.1(v)",
            "largest F from sub-region 2, largest Q from sub-region 4, largest P from sub-region 1",
            "area factors from Table 4",
        ),
    ),
    (
        {"ice_class": "PC6", "icebreaker": True, "operates_astern": True},
        {},
        (),
        (
            f"standard bow formula: {STEM} 40.0 degrees, within I2.3.1(v)",
            "largest F from sub-region 2, largest Q from sub-region 4, largest P from sub-region 1",
            "area factors from Table 5 (notation Icebreaker)",
            "PC6: the icebelt of the bow intermediate region, BIi, takes the bow's load (I2.3.1(iii))",
            "operates astern: the aft part takes the requirements of bow and bow intermediate (I2.2.6)",
        ),
    ),
    (
        {"azimuthing_propulsion": True},
        {"beta_prime": (9.0, 20.0, 20.0, 20.0)},
        (STERN, BOW),
        (
            (
                f"PC4, {STEM} 9.0 degrees: outside I2.3.1(v) to (vii), carried on by the written reason; "
                "formula by sub-region: standard, standard, standard, standard"
            ),
            "largest F from sub-region 1, largest Q from sub-region 1, largest P from sub-region 2",
            "area factors from Table 4",
            "azimuthing units: stern factors Si and Sl from Table 4, carried by the written reason: letter 7",
        ),
    ),
    (
        {"ice_class": "PC7"},
        {"beta_prime": (0.0, 5.0, 12.0, 20.0)},
        (BOW,),
        (
            (
                f"PC7, {STEM} 0.0 degrees: outside I2.3.1(v) to (vii), carried on by the written reason; "
                "formula by sub-region: vertical-sided, vertical-sided, standard, standard"
            ),
            "largest F from sub-region 1, largest Q from sub-region 1, largest P from sub-region 1",
            (
                "vertical-sided or bulbous bow: the certificate states that the ship does not ram intentionally "
                "(UR I1 I1.1.6, recalled)"
            ),
            "area factors from Table 4",
            "PC7: the icebelt of the bow intermediate region, BIi, takes the bow's load (I2.3.1(iii))",
        ),
    ),
]


@pytest.mark.parametrize(("ship", "bow", "overrides", "expected"), CHOICES)
def test_choices_word_for_word(
    ship: dict[str, Any], bow: dict[str, Any], overrides: tuple[Override, ...], expected: tuple[str, ...]
) -> None:
    assert design(facts(**ship), angles(**bow), overrides)[1].choices == expected


def test_override_keys_are_where_the_refusals_say() -> None:
    assert BOW.key == bow_form.BOW_FORM_KEY
    assert STERN.key == hull_areas.STERN_FACTORS_KEY


def test_names_of_the_borders() -> None:
    names = [border.name for border in areas().borders]
    assert names == [
        "aft border of the bow", "aft border of bow intermediate", "forward border of the stern",
        "upper edge of the ice belt", "lower edge of the ice belt", "border of lower and bottom areas",
    ]  # fmt: skip
    astern = [border.name for border in areas(operates_astern=True).borders]
    assert (astern[2], astern[6]) == ("forward border of the aft bow area", "aft bow intermediate begins")
    assert [border.ref for border in areas(operates_astern=True).borders] == [
        "UR I2 I2.2.4", "UR I2 Figure 1", "UR I2 Figure 1", "UR I2 Figure 1", "UR I2 Figure 1", "UR I2 I2.2.5",
        "UR I2 I2.2.6",
    ]  # fmt: skip
    top, low, flat = areas().borders[3:]
    assert (top.above, top.below) == ("", "B, BIi, Mi, Si")
    assert (low.above, low.below) == ("BIi, Mi, Si", "BIl, Ml, Sl")
    assert (flat.above, flat.below) == ("BIl, Ml, Sl", "BIb, Mb, Sb")


def test_the_angles_of_each_station_say_where_they_were_read() -> None:
    traces = design(facts(), angles(), ())[1].traces
    places = angles()["aft_of_stem_m"]
    for n in range(1, 5):
        trace = traces[f"station {n}"]
        where = f"hull surface on the upper ice waterline, {float(places[n - 1]):.3f} m aft of the stem"
        assert trace[f"alpha_{n}_deg"].origin == where
        assert trace[f"beta_prime_{n}_deg"].origin == where
        assert trace[f"sub_region_{n}"].origin == "the bow's four equal parts, counted from the stem"


def test_a_limit_names_the_member_where_it_knows_the_names() -> None:
    """A column of one value that serves every row belongs to none of them; without names the row's number stands."""
    limit, names = InputLimit(column="c", unit="m", least=1.0, most=2.0), np.array(["F1/L1", "F2/L1"])
    limit.check("plate", {"c": np.array([1.0, 2.0])}, names)
    for values, called in (([1.0, np.nan], "F2/L1"), ([0.5, 2.0], "F1/L1"), ([2.5], "all of them")):
        with pytest.raises(InputError, match=f"^plate: {called}: c: outside its range; found "):
            limit.check("plate", {"c": np.array(values)}, names)
    with pytest.raises(InputError, match=r"^plate: row 1: c: outside its range; found nan m; allowed: 1 to 2"):
        limit.check("plate", {"c": np.array([1.0, np.nan])})
