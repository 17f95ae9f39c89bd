"""4.4 frames. Expected numbers: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import AREA, BALTIC, P1, REGIONS, column, frame, panel

from beltwright.core.errors import InputError, ScopeError
from beltwright.core.outcome import is_met, utilisation
from beltwright.rules.baltic_traficom_2021 import c4_4_2_transverse_frames as c4_4_2
from beltwright.rules.baltic_traficom_2021 import c4_4_3_longitudinal_frames as c4_4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_4_framing_general as c4_4_4
from beltwright.rules.baltic_traficom_2021.members import FRAMING, PLATING

ALONG = {"omega_deg": 0.0}


def asked(**changed: Any) -> tuple[float, float]:
    found = FRAMING.run(frame(**changed))
    return float(found["section_modulus_required_cm3"][0]), float(found["shear_area_required_cm2"][0])


def ratios(**changed: Any) -> dict[str, float]:
    out = FRAMING.chain.run(frame(**changed))
    return {c.name: float(utilisation(out[c.required], out[c.offered])[0]) for c in FRAMING.checks}


@pytest.mark.parametrize(
    ("region", "modulus", "area"), [("Bow", 334.14, 9.532), ("Midbody", 165.22, 4.714), ("Stern", 126.35, 3.604)]
)
def test_transverse_by_hand(region: str, modulus: float, area: float) -> None:
    # m_t = 7 x 6/(7 - 5 x 0.3/2.4) = 42/6.375 = 6.58824; p s h l/(m_t 355) 1e6; sqrt 3 x 1.2 p h s/(2 x 355) 1e4
    p = P1[region]
    z = p * 0.4 * 0.3 * 2.4 / (42.0 / 6.375 * 355.0) * 1e6
    a = math.sqrt(3.0) * 1.2 * p * 0.3 * 0.4 / 710.0 * 1e4
    assert asked(load_area=AREA[region]) == (pytest.approx(z, rel=1e-12), pytest.approx(a, rel=1e-12))
    assert (z, a) == (pytest.approx(modulus, abs=0.006), pytest.approx(area, abs=0.0006))


@pytest.mark.parametrize(
    ("region", "modulus", "area"), [("Bow", 422.07, 43.753), ("Midbody", 208.70, 21.635), ("Stern", 159.60, 16.544)]
)
def test_longitudinal_by_hand(region: str, modulus: float, area: float) -> None:
    # l_a = l = 2.4: c_a 0.5; f4 = 1 - 0.2 x 0.75 = 0.85; f4 p h l2/(13.3 x 355) 1e6; f5 = 2.16
    p = 0.5 * P1[region]
    z = 0.85 * p * 0.3 * 2.4**2 / (13.3 * 355.0) * 1e6
    a = math.sqrt(3.0) * 0.85 * 2.16 * p * 0.3 * 2.4 / 710.0 * 1e4
    assert asked(load_area=AREA[region], **ALONG) == (pytest.approx(z, rel=1e-12), pytest.approx(a, rel=1e-12))
    assert (z, a) == (pytest.approx(modulus, abs=0.006), pytest.approx(area, abs=0.0006))


@pytest.mark.parametrize(
    ("boundary", "m0"),
    [
        ("top wing tanks", 7.0),
        ("tank top to one deck", 6.0),
        ("several decks or stringers", 5.7),
        ("two decks only", 5.0),
    ],
)
def test_boundary_conditions(boundary: str, m0: float) -> None:
    assert c4_4_2.boundary_transverse(boundary=column(boundary))[0] == m0
    assert asked(boundary=boundary)[0] == pytest.approx(asked()[0] * 6.0 / m0)


def test_a_point_load_at_mid_span_gives_m_0() -> None:
    # second way: for h -> 0 m_t = m_0, so that the moment is the force p h s times l/m_0
    found = c4_4_2.moment_factor_transverse(
        boundary_transverse=column(6.0), load_height_m=column(1e-12), span_m=column(2.4)
    )
    assert found[0] == pytest.approx(6.0, abs=1e-9)


def test_longitudinal_modulus_against_a_beam_formula() -> None:
    # second way: m = 13.3 lies between a clamped beam under even load (12 at the ends) and mid-span (24)
    assert 12.0 < c4_4_3.boundary_longitudinal(ends=column("continuous with brackets"))[0] < 24.0


@pytest.mark.parametrize(("given_m", "taken"), [(0.0, 13.3), (12.0, 12.0), (13.3, 13.3), (14.0, 13.3)])
def test_agreed_boundary(given_m: float, taken: float) -> None:
    found = c4_4_3.boundary_taken(agreed_boundary=column(given_m), boundary_longitudinal=column(13.3))
    assert found[0] == taken
    assert asked(agreed_boundary=given_m, **ALONG)[0] == pytest.approx(asked(**ALONG)[0] * 13.3 / taken)
    assert asked(agreed_boundary=given_m) == asked()


@pytest.mark.parametrize(("share", "holds"), [(0.1499, False), (0.15, True), (1.0, True)])
def test_little_of_the_span_in_the_zone(share: float, holds: bool) -> None:
    assert (asked(strengthened_share=share) == (0.0, 0.0)) is not holds
    assert asked(strengthened_share=share, **ALONG) == asked(**ALONG)  # of transverse frames only
    least = FRAMING.run(frame(strengthened_share=share))["web_thickness_least_mm"][0]
    assert (least == 0.0) is not holds
    found = c4_4_2.transverse_holds(
        framing_asked=column([True, False, True]), transverse_counts=column([True, True, False]),
        strengthened_share=column(share),
    )  # fmt: skip
    assert found.tolist() == [holds, False, False]


def test_framing_beside_the_belt_is_strengthened_as_in_it() -> None:
    for region in ("B", "M", "S"):
        assert asked(load_area=f"{region}A") == asked(load_area=f"{region}L") == asked(load_area=region)
    assert asked(load_area="FF") == asked(load_area="UB") == asked(load_area="B")
    assert asked(load_area="FK") == (0.0, 0.0)
    assert c4_4_2.framing_asked(load_area=column(["FK", "BL"])).tolist() == [False, True]


def test_oblique_frames_take_the_greater_of_each() -> None:
    across, along = asked(), asked(**ALONG)
    greater = tuple(max(pair) for pair in zip(across, along, strict=True))
    assert asked(omega_deg=45.0) == greater
    given_ = {"in_scope": column(True), "transverse_holds": column(True), "longitudinal_holds": column(True)}
    assert (
        c4_4_4.modulus_required(modulus_transverse_cm3=column(9.0), modulus_longitudinal_cm3=column(5.0), **given_)[0]
        == 9.0
    )
    assert c4_4_4.shear_area_required(
        shear_area_transverse_cm2=column(3.0), shear_area_longitudinal_cm2=column(7.0), **given_
    )[0] == 7.0  # fmt: skip
    for clause, own in (
        (c4_4_2.modulus_transverse, "Z"), (c4_4_2.shear_area_transverse, "A"),
        (c4_4_3.modulus_longitudinal, "Z"), (c4_4_3.shear_area_longitudinal, "A"),
    ):  # fmt: skip
        assert clause.symbol == own


# Scope


@pytest.mark.parametrize(
    ("changed", "inside"),
    [
        ({"span_m": 0.3}, True),  # the load as high as the span
        ({"span_m": 0.2999}, False),
        ({"span_m": 0.2}, False),  # where 7 - 5 h/l is below 0
        ({"span_m": 0.2, **ALONG}, True),
        ({"load_area": "BL", "spacing_m": 0.0601, **ALONG}, True),  # h/s = 4.99
        ({"load_area": "BL", "spacing_m": 0.06, **ALONG}, False),  # f4 = 0
        ({"spacing_m": 0.16, **ALONG}, False),  # f2 of the shell beside it
        ({"load_area": "BL", "spacing_m": 0.16, **ALONG}, True),
        ({"span_m": 0.2, "strengthened_share": 0.1}, True),
        ({"load_area": "FK", "spacing_m": 0.06, **ALONG}, True),
    ],
)
def test_scope(changed: dict[str, Any], inside: bool) -> None:
    bare = FRAMING.chain.run(frame(**changed))
    assert bool(bare["in_scope"][0]) is inside
    numbers = [bare[c.required][0] for c in FRAMING.checks]
    assert not np.isnan(numbers).any()
    if inside:
        assert np.isfinite(numbers).all()
        FRAMING.run(frame(**changed))
    else:
        assert [
            bare[n][0] for n in ("section_modulus_required_cm3", "shear_area_required_cm2", "web_thickness_least_mm")
        ] == [math.inf] * 3
        with pytest.raises(ScopeError, match="outside the rule's scope: local frames: row 0: the load is higher"):
            FRAMING.run(frame(**changed))


def test_scope_clauses() -> None:
    assert c4_4_3.neighbour_factor(load_height_m=column(0.3), spacing_m=column([0.4, 0.06]))[0] == pytest.approx(0.85)
    holds = c4_4_3.longitudinal_holds(
        framing_asked=column([True, True, False]), longitudinal_counts=column([True, False, True])
    )
    assert holds.tolist() == [True, False, False]
    found = c4_4_4.framing_in_scope(
        transverse_holds=column([False, True]), load_height_m=column(0.3), span_m=column(0.2),
        longitudinal_holds=column(False), neighbour_factor=column(-1.0), plating_in_scope=column(False),
        ends_held=column(False),
    )  # fmt: skip
    assert found.tolist() == [True, False]
    short = {"load_height_m": column(0.3), "span_m": column(0.2), "plating_in_scope": column(True)}
    held = c4_4_4.framing_in_scope(
        transverse_holds=column([True, True, False]), longitudinal_holds=column([False, False, True]),
        neighbour_factor=column([1.0, 1.0, 0.0]), ends_held=column([True, False, True]), **short,
    )  # fmt: skip
    assert held.tolist() == [True, False, False]  # a load as high as five spacings of longitudinals stays out of scope
    strong = c4_4_4.frame_strengthened(
        transverse_holds=column([True, False, False]), longitudinal_holds=column([False, True, False])
    )
    assert strong.tolist() == [True, True, False]


# Web thickness


@pytest.mark.parametrize(
    ("kind", "height", "yield_mpa", "expected"),
    [
        ("tee", 250.0, 355.0, 9.0),  # 250 x 18.8414/805 = 5.85; half of the net shell 8.17
        ("flat", 200.0, 355.0, 200.0 * math.sqrt(355.0) / 282.0),  # 13.36
        ("bulb", 600.0, 355.0, 600.0 * math.sqrt(355.0) / 805.0),  # 14.04
        ("angle", 250.0, 235.0, (667.0 * 0.4 * math.sqrt((1.3 - 4.2 / 2.55**2) * 0.75 * P1["Bow"] / 235.0)) / 2.0),
    ],
)
def test_web_thickness(kind: str, height: float, yield_mpa: float, expected: float) -> None:
    found = FRAMING.run(frame(section_kind=kind, web_height_mm=height, yield_mpa=yield_mpa))
    assert found["web_thickness_least_mm"][0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("omega", [0.0, 45.0, 90.0])
def test_half_net_shell_is_the_plating_of_the_same_place_with_the_frames_yield(omega: float) -> None:
    plate = PLATING.run(panel(omega_deg=omega, yield_mpa=235.0))
    half = c4_4_4.web_thickness_least(
        frame_strengthened=column(True), in_scope=column(True), web_height_mm=column(1.0), yield_mpa=column(235.0),
        web_constant=column(805.0), shell_net_mm=plate["thickness_required_mm"] - 2.0,
    )  # fmt: skip
    found = FRAMING.run(frame(omega_deg=omega, yield_mpa=235.0, web_height_mm=1.0))
    assert found["web_thickness_least_mm"][0] == pytest.approx(half[0], rel=1e-12)
    assert half[0] > 9.0
    # the formulas fall with the root of the yield stress: another way to the same half
    other = PLATING.run(panel(omega_deg=omega))["thickness_required_mm"][0] - 2.0
    assert half[0] == pytest.approx(other / 2.0 * math.sqrt(355.0 / 235.0), rel=1e-12)


def test_web_constant() -> None:
    assert c4_4_4.web_constant(section_kind=column(["flat", "bulb", "angle", "tee"])).tolist() == [282, 805, 805, 805]


# Brackets and tripping


def test_longitudinals_want_brackets() -> None:
    assert ratios(**ALONG)["brackets"] == 1.0
    assert ratios(end_brackets=False, **ALONG)["brackets"] == math.inf
    assert ratios(end_brackets=False)["brackets"] == 0.0
    assert c4_4_3.brackets_asked(longitudinal_holds=column([True, False])).tolist() == [1.0, 0.0]
    assert c4_4_3.brackets_fitted(end_brackets=column([True, False])).tolist() == [1.0, 0.0]


SHORT = {  # where frames of at most 4 m are supported: bow, midbody, stern
    "IA Super": (True, True, True), "IA": (True, True, False), "IB": (True, False, False), "IC": (True, False, False),
}  # fmt: skip


@pytest.mark.parametrize("ice_class", SHORT)
def test_tripping_by_class_and_region(ice_class: str) -> None:
    for region, short in zip(REGIONS, SHORT[ice_class], strict=True):
        word = c4_4_4.tripping_of_short_frames(ice_class=column(ice_class), region=column(region))
        assert word[0] == ("yes" if short else "no")
        own = {"ice_class": ice_class, "load_area": AREA[region], "section_kind": "angle", "tripping_support_m": 2.0}
        assert ratios(span_m=4.0, **own)["support against tripping"] == pytest.approx(2.0 / 1.3 if short else 0.0)
        assert ratios(span_m=4.001, **own)["support against tripping"] == pytest.approx(2.0 / 1.3)


@pytest.mark.parametrize(
    ("kind", "web_angle", "wanted"),
    [("tee", 90.0, False), ("tee", 89.9, True), ("flat", 90.0, False), ("flat", 60.0, True), ("bulb", 90.0, True),
     ("angle", 90.0, True)],
)  # fmt: skip
def test_tripping_by_section(kind: str, web_angle: float, wanted: bool) -> None:
    found = ratios(section_kind=kind, web_angle_deg=web_angle, tripping_support_m=1.4)["support against tripping"]
    assert found == pytest.approx(1.4 / 1.3 if wanted else 0.0)
    assert ratios(section_kind=kind, web_angle_deg=web_angle, load_area="FK")["support against tripping"] == 0.0


@pytest.mark.parametrize(("distance", "met"), [(1.3, True), (1.301, False)])
def test_limit_of_tripping(distance: float, met: bool) -> None:
    found = ratios(section_kind="bulb", tripping_support_m=distance)["support against tripping"]
    assert bool(is_met(np.array(found))) is met
    assert c4_4_4.tripping_distance_most(limit=column("supports against tripping"))[0] == 1.3
    asked_ = c4_4_4.tripping_asked(
        frame_strengthened=column(True), section_kind=column("bulb"), web_angle_deg=column(90.0), span_m=column(2.0),
        tripping_of_short_frames=column(["yes", "no"]),
    )  # fmt: skip
    assert asked_.tolist() == [True, False]
    shown = c4_4_4.tripping_distance(tripping_asked=asked_, tripping_support_m=column(distance))
    assert shown.tolist() == [distance, 0.0]


# Offered


@pytest.mark.parametrize("omega", [0.0, 90.0])
def test_offered_section_is_compared(omega: float) -> None:
    z, a = asked(omega_deg=omega)
    for name, column_name, need in (("section modulus", "section_modulus_cm3", z), ("shear area", "shear_area_cm2", a)):
        for part, met in ((1.001, True), (0.999, False)):
            found = ratios(omega_deg=omega, **{column_name: need * part})[name]
            assert bool(is_met(np.array(found))) is met
            assert found == pytest.approx(1.0 / part)
    assert c4_4_4.modulus_offered(section_modulus_cm3=column(5.0))[0] == 5.0
    assert c4_4_4.shear_area_offered(shear_area_cm2=column(5.0))[0] == 5.0


@given(st.floats(0.3, 0.9), st.floats(1.0, 4.0), st.floats(1.0, 1.3), st.sampled_from([0.0, 45.0, 90.0]))
def test_requirement_grows_with_span_spacing_and_load(s: float, span: float, m: float, omega: float) -> None:
    own = {"spacing_m": s, "span_m": span, "omega_deg": omega}
    z, a = asked(**own)
    assert asked(**{**own, "span_m": span * m})[0] >= z * (1 - 1e-12)
    more = asked(**{**own, "bow_size_factor": 0.48 * m}), asked(**{**own, "bow_size_factor": 0.48})
    assert all(x >= y * (1 - 1e-12) for x, y in zip(*more, strict=True))
    wider = asked(**{**own, "spacing_m": s * m})
    assert wider[0] >= z * (1 - 1e-12)
    assert wider[1] >= a * (1 - 1e-12)
    for region in ("M", "S"):
        assert all(x <= y for x, y in zip(asked(**{**own, "load_area": region}), (z, a), strict=True))


@pytest.mark.parametrize("name", [limit.column for limit in FRAMING.limits])
def test_a_number_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(InputError, match=f"local frames: row 0: {name}: outside its range; found nan"):
        FRAMING.run(frame(**{name: math.nan}))


def test_an_unknown_row_of_table_4_7_is_refused() -> None:
    with pytest.raises(InputError, match="FSICR Table 4-7: no such boundary; found free"):
        asked(boundary="free")


def test_rule() -> None:
    assert BALTIC.framing is FRAMING
    assert FRAMING.result in FRAMING.chain.outputs
    assert set(FRAMING.shown.values()) <= set(FRAMING.chain.outputs)
    assert [(c.name, c.applies) for c in FRAMING.checks] == [
        ("shear area", ""), ("section modulus", ""), ("web thickness", ""), ("brackets", "longitudinal_holds"),
        ("support against tripping", "tripping_asked"),
    ]  # fmt: skip
