"""UR I2.4 and I2.11. Expected numbers: by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import AREAS, CLASSES, POLAR, column, loads, panel

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.polar_iacs_2019 import i2_4_plating as plating
from beltwright.rules.polar_iacs_2019.i2_11_corrosion import internal_addition, protection, shell_addition
from beltwright.rules.protocol import InputLimit


def test_bottom_areas() -> None:
    found = plating.bottom(load_area=column(AREAS))
    assert [area for area, yes in zip(AREAS, found, strict=True) if yes] == ["BIb", "Mb", "Sb"]


@pytest.mark.parametrize(
    ("omega", "share"), [(0.0, 0.0), (20.0, 0.0), (21.0, 0.02), (45.0, 0.5), (69.0, 0.98), (70.0, 1.0), (90.0, 1.0)]
)
def test_transverse_share(omega: float, share: float) -> None:
    # hand: (Omega - 20)/50 between 0 and 1
    found = plating.transverse_share(bottom=np.array([False, True]), omega_deg=column(omega))
    assert found.tolist() == [pytest.approx(share, abs=1e-15), 1.0]


@pytest.mark.parametrize(
    ("span", "expected"),
    [  # hand, s = 0.4: a - 0.1; patch 0.8
        (2.4, 0.8),
        (0.9, 0.8),
        (0.89, 0.79),
        (0.3, 0.2),
        (0.1001, 0.0001),
        (0.1, 0.8),  # nothing is left: the patch stands and the panel is out of scope
        (0.05, 0.8),
    ],
)
def test_plate_patch_height(span: float, expected: float) -> None:
    found = plating.plate_patch_height(span_m=column(span), spacing_m=column(0.4), patch_height_m=column(0.8))
    assert found[0] == pytest.approx(expected, abs=1e-12)


def test_net_thickness_transverse() -> None:
    # hand: 500 x 0.4 x sqrt(1.00 x 1.40 x 5.0/355) / (1 + 0.4/(2 x 0.8)) = 200 x sqrt(0.0197183) / 1.25 = 22.4675
    found = plating.net_thickness_transverse(
        spacing_m=column(0.4),
        area_factor=column(1.0),
        plating_peak_transverse=column(1.4),
        pressure_mpa=column(5.0),
        yield_mpa=column(355.0),
        plate_patch_height_m=column(0.8),
    )
    assert found[0] == pytest.approx(200.0 * math.sqrt(7.0 / 355.0) / 1.25, rel=1e-12)
    assert found[0] == pytest.approx(22.4675, abs=0.00005)


def longitudinal(spacing: float, height: float, length: float = 2.4) -> float:
    found = plating.net_thickness_longitudinal(
        spacing_m=column(spacing),
        area_factor=column(0.55),
        plating_peak_longitudinal=column(1.6),
        pressure_mpa=column(4.0),
        yield_mpa=column(355.0),
        patch_height_m=column(height),
        plate_length_m=column(length),
    )
    return float(found[0])


def test_net_thickness_longitudinal_patch_higher_than_spacing() -> None:
    # hand: 500 x 0.5 x sqrt(0.55 x 1.6 x 4/355) / (1 + 0.5/4.8)
    expected = 250.0 * math.sqrt(3.52 / 355.0) / (1.0 + 0.5 / 4.8)
    assert longitudinal(0.5, 0.7) == pytest.approx(expected, rel=1e-12)
    assert longitudinal(0.5, 5.0) == pytest.approx(expected, rel=1e-12)


def test_net_thickness_longitudinal_patch_lower_than_spacing() -> None:
    # hand: b/s = 0.7/0.8 = 0.875; sqrt(1.75 - 0.765625) = 0.992157
    expected = 400.0 * math.sqrt(3.52 / 355.0) * math.sqrt(1.75 - 0.765625) / (1.0 + 0.8 / 4.8)
    assert longitudinal(0.8, 0.7) == pytest.approx(expected, rel=1e-12)


@given(st.floats(0.2, 1.5))
def test_net_thickness_longitudinal_is_continuous_at_equal_height_and_spacing(spacing: float) -> None:
    below, at, above = (longitudinal(spacing, spacing * k) for k in (1.0 - 1e-9, 1.0, 1.0 + 1e-9))
    assert below == pytest.approx(at, rel=1e-9)
    assert above == pytest.approx(at, rel=1e-12)


@pytest.mark.parametrize(
    ("stringer", "support", "to_support", "expected"),
    [(False, 2.5, 1.5, 2.5), (True, 2.5, 1.5, 1.5), (True, 2.5, 3.0, 2.5)],
)
def test_plate_length(stringer: bool, support: float, to_support: float, expected: float) -> None:
    found = plating.plate_length(
        load_distributing_stringer=column(stringer),
        support_distance_m=column(support),
        stringer_to_support_m=column(to_support),
    )
    assert found[0] == expected


@pytest.mark.parametrize(("share", "expected"), [(0.0, 30.0), (0.25, 27.5), (1.0, 20.0)])
def test_net_thickness_interpolates(share: float, expected: float) -> None:
    found = plating.net_thickness(
        transverse_share=column(share),
        net_thickness_transverse_mm=column(20.0),
        net_thickness_longitudinal_mm=column(30.0),
    )
    assert found[0] == expected


@pytest.mark.parametrize(
    ("share", "span", "inside"),
    [(1.0, 0.11, True), (1.0, 0.1, False), (0.01, 0.1, False), (0.0, 0.1, True), (0.5, 0.2, True)],
)
def test_plating_in_scope(share: float, span: float, inside: bool) -> None:
    found = plating.plating_in_scope(transverse_share=column(share), span_m=column(span), spacing_m=column(0.4))
    assert bool(found[0]) is inside


def test_thickness_required() -> None:
    found = plating.thickness_required(
        in_scope=np.array([True, False]), thickness_net_mm=column(20.0), addition_mm=column(2.5)
    )
    assert found.tolist() == [22.5, math.inf]


def test_shell_addition_follows_protection() -> None:
    # recalled: Table 6, bow, PC4: 2.5 protected, 5.0 unprotected
    words = protection(effective_protection=np.array([True, False]))
    assert words.tolist() == ["protected", "unprotected"]
    found = shell_addition(ice_class=column("PC4"), hull_area=column("B"), protection=words)
    assert found.tolist() == [2.5, 5.0]


def test_internal_addition() -> None:
    assert internal_addition(structure=column("internal"))[0] == 1.0


# The chain


def run(**changed: object) -> dict[str, np.ndarray]:
    return POLAR.plating.run(panel(**changed))


def test_chain_bow_panel_by_hand() -> None:
    # hand: patch 0.8 m, 5 MPa; s 0.4, a 2.4: b = min(0.8, 2.3) = 0.8; PPF 1.4; as test_net_thickness_transverse; + 2.5
    found = run()
    net = 200.0 * math.sqrt(7.0 / 355.0) / 1.25
    assert found["thickness_net_mm"][0] == pytest.approx(net, rel=1e-12)
    assert found["addition_mm"][0] == 2.5
    assert found["thickness_required_mm"][0] == pytest.approx(net + 2.5, rel=1e-12)


def test_chain_takes_load_factor_and_addition_from_their_own_areas() -> None:
    # hand: load outside the bow 0.7 m, 4 MPa; factor of BIi 0.80; addition of Mi 2.0
    found = run(load_area="Mi", factor_area="BIi", addition_area="Mi")
    expected = 200.0 * math.sqrt(0.80 * 1.4 * 4.0 / 355.0) / (1.0 + 0.4 / 1.4)
    assert found["thickness_net_mm"][0] == pytest.approx(expected, rel=1e-12)
    assert found["addition_mm"][0] == 2.0


def test_chain_longitudinal_with_and_without_stringer() -> None:
    # hand: PPF 1.72; b 0.8 >= s 0.4; l 2.5, with a load-distributing stringer 1.5
    root = 200.0 * math.sqrt(1.72 * 5.0 / 355.0)
    assert run(omega_deg=10.0)["thickness_net_mm"][0] == pytest.approx(root / (1.0 + 0.4 / 5.0), rel=1e-12)
    found = run(omega_deg=10.0, load_distributing_stringer=True)
    assert found["thickness_net_mm"][0] == pytest.approx(root / (1.0 + 0.4 / 3.0), rel=1e-12)


def test_chain_bottom_plating_is_always_transverse() -> None:
    found = run(load_area="BIb", factor_area="BIb", addition_area="BIb", omega_deg=0.0)
    expected = 200.0 * math.sqrt(0.40 * 1.4 * 4.0 / 355.0) / (1.0 + 0.4 / 1.4)
    assert found["thickness_net_mm"][0] == pytest.approx(expected, rel=1e-12)


def test_chain_with_the_icebreaker_table() -> None:
    plain = run(load_area="Si", factor_area="Si", addition_area="Si")
    notation = run(load_area="Si", factor_area="Si", addition_area="Si", icebreaker=True)
    ratio = notation["thickness_net_mm"][0] / plain["thickness_net_mm"][0]
    assert ratio == pytest.approx(math.sqrt(0.80 / 0.60), rel=1e-12)


def test_chain_is_continuous_where_oblique_framing_begins_and_ends() -> None:
    at = {omega: run(omega_deg=omega)["thickness_net_mm"][0] for omega in (19.9, 20.0, 20.0001, 69.9999, 70.0, 80.0)}
    assert at[19.9] == at[20.0]
    assert at[70.0] == at[80.0]
    assert at[20.0001] == pytest.approx(at[20.0], rel=1e-5)
    assert at[69.9999] == pytest.approx(at[70.0], rel=1e-5)


def test_chain_refuses_a_span_without_patch_height() -> None:
    with pytest.raises(ScopeError, match=r"row 1.*quarter of the spacing"):
        run(span_m=[2.4, 0.1])
    bare = POLAR.plating.chain.run(panel(span_m=0.1))
    assert bare["thickness_required_mm"][0] == math.inf
    assert np.isfinite(run(span_m=0.1, omega_deg=10.0)["thickness_required_mm"][0])


@pytest.mark.parametrize(
    "name",
    [limit.column for limit in POLAR.plating.limits],
)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_chain_refuses_impossible_inputs(name: str, bad: float) -> None:
    with pytest.raises(InputError, match=f"row 0: {name}"):
        run(**{name: bad})


@pytest.mark.parametrize("limit", POLAR.plating.limits, ids=lambda limit: limit.column)
def test_limits_from_both_sides(limit: InputLimit) -> None:
    for good in (limit.least, limit.most):
        limit.check("plate", {limit.column: column(good)})
    for bad in (limit.least - 1e-9, limit.most * (1.0 + 1e-9)):
        with pytest.raises(InputError, match=f"{limit.least:g} to {limit.most:g}"):
            limit.check("plate", {limit.column: column(bad)})


def test_every_numeric_input_has_a_limit() -> None:
    for rule in (POLAR.plating, POLAR.framing):
        numeric = {n for n, q in rule.chain.inputs.items() if q.unit.symbol not in ("label", "flag")}
        assert numeric == {limit.column for limit in rule.limits}


@given(st.sampled_from(CLASSES[:-1]), st.sampled_from(["B", "BIi", "BIl", "BIb", "Mi", "Ml", "Si", "Sl"]))
def test_stronger_class_never_thinner_for_equal_load(ice_class: str, area: str) -> None:
    weaker = CLASSES[CLASSES.index(ice_class) + 1]
    if area == "BIi" and weaker in ("PC6", "PC7"):
        return  # there the bow's load acts with factor 1.00: PC6 may be thicker than PC5, by design
    where = {"load_area": area, "factor_area": area, "addition_area": area}
    strong, weak = (run(ice_class=c, **where)["thickness_required_mm"][0] for c in (ice_class, weaker))
    assert strong >= weak


@given(
    st.floats(0.2, 1.2),
    st.floats(0.001, 0.3),
    st.floats(0.3, 5.0),
    st.floats(0.0, 90.0),
    st.floats(235.0, 500.0),
)
def test_monotonic_in_pressure_and_yield(s: float, more: float, a: float, omega: float, yield_mpa: float) -> None:
    given_ = {"spacing_m": s, "span_m": a + s, "omega_deg": omega}
    base = run(**given_, yield_mpa=yield_mpa)["thickness_required_mm"][0]
    assert run(**given_, yield_mpa=yield_mpa * (1.0 + more))["thickness_required_mm"][0] < base
    assert run(**given_, yield_mpa=yield_mpa, bow_pressure_mpa=5.0 * (1.0 + more))["thickness_required_mm"][0] > base
    assert run(**given_, yield_mpa=yield_mpa, bow_patch_height_m=0.8 * (1.0 + more))["thickness_required_mm"][0] >= base


@given(st.floats(0.2, 0.9), st.floats(0.001, 0.1), st.sampled_from([0.0, 45.0, 90.0]))
def test_monotonic_in_spacing_for_a_long_span(s: float, more: float, omega: float) -> None:
    # within these spans and spacings the fall of the peak factor never outweighs the spacing itself
    two = run(spacing_m=[s, s + more], span_m=4.0, support_distance_m=4.0, omega_deg=omega)["thickness_required_mm"]
    assert two[1] > two[0]


@given(
    st.fixed_dictionaries(
        {
            name: st.one_of(st.floats(), st.floats(0.01, 5.0))
            for name in ("spacing_m", "span_m", "yield_mpa", "omega_deg", "bow_pressure_mpa", "bow_patch_height_m")
        }
    )
)
def test_never_a_number_that_is_not_one(changed: dict[str, float]) -> None:
    try:
        found = run(**changed)
    except (InputError, ScopeError):
        return
    assert np.isfinite(found["thickness_required_mm"]).all()


def test_ship_columns_serve_every_row() -> None:
    assert all(len(values) == 1 for values in loads().values())
    assert len(run(spacing_m=[0.3, 0.4, 0.5])["thickness_required_mm"]) == 3
