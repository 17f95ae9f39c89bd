"""UR S11.5 against closed forms worked by hand: Euler, plates in compression and shear, yielding above half yield."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.formula import formula_of, plain
from beltwright.core.outcome import is_met, utilisation
from beltwright.core.provenance import Status
from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET
from beltwright.rules.protocol import GirderRule
from beltwright.rules.strength_iacs import s11_5_2_elastic_buckling as s11_5_2
from beltwright.rules.strength_iacs import s11_5_3_critical_stress as s11_5_3
from beltwright.rules.strength_iacs import s11_5_4_working_stress as s11_5_4
from beltwright.rules.strength_iacs.documents import DOCUMENT
from beltwright.rules.strength_iacs.tables import TABLES

E = 2.06e5
CLAUSES = (
    *(getattr(s11_5_2, name) for name in (
        "stiffening_coefficient", "factor_along", "compression_factor", "elastic_compression", "shear_factor",
        "elastic_shear", "elastic_column", "elastic_web",
    )),
    s11_5_3.critical_compression, s11_5_3.shear_yield, s11_5_3.critical_shear,
    s11_5_4.bending_stress, s11_5_4.shear_stress,
)  # fmt: skip


def array(*values: float) -> np.ndarray:
    return np.array(values)


def factor(*, along: bool, c: float, short: float, long: float, psi: float = 1.0) -> float:
    found = s11_5_2.compression_factor(
        stiffeners_along=np.array([along]), factor_along=s11_5_2.factor_along(stress_ratio=array(psi)),
        stiffening_coefficient=array(c), short_side_m=array(short),
        long_side_m=array(long), stress_ratio=array(psi),
    )  # fmt: skip
    return float(found[0])


def test_plate_in_compression_against_the_thin_plate() -> None:
    # closed form: sigma = k pi^2 E / (12 (1 - nu^2)) (t/s)^2, k = 4 for a long plate; 0.9 E stands for 0.9038 E
    assert factor(along=True, c=9.9, short=0.6, long=1.6) == 4.0  # 8.4/2.1
    stress = s11_5_2.elastic_compression(
        compression_factor=array(4.0), thickness_net_mm=array(10.0), short_side_m=array(0.6)
    )[0]
    assert stress == pytest.approx(0.9 * 4.0 * E * (10.0 / 600.0) ** 2, rel=1e-12)  # 206.0
    thin_plate = 4.0 * pi**2 * E / (12.0 * (1.0 - 0.3**2)) * (10.0 / 600.0) ** 2
    assert stress == pytest.approx(thin_plate, rel=0.005)


def test_plate_across_the_compression_by_hand() -> None:
    # hand: c 1.21, s/l = 0.4/1.6 = 0.25: 1.21 (1 + 0.0625)^2 2.1/2.1 = 1.36598
    assert factor(along=False, c=1.21, short=0.4, long=1.6) == pytest.approx(1.21 * 1.0625**2, rel=1e-12)
    # a wide plate without help from its edges: (1 + (s/l)^2)^2, the exact factor of a simply supported plate
    assert factor(along=False, c=1.0, short=0.4, long=1.6) == pytest.approx((1.0 + 0.25**2) ** 2, rel=1e-12)
    assert factor(along=True, c=1.0, short=0.4, long=1.6, psi=0.0) == pytest.approx(8.4 / 1.1, rel=1e-12)
    assert factor(along=False, c=1.0, short=0.4, long=1.6, psi=0.0) == pytest.approx(1.0625**2 * 2.1 / 1.1, rel=1e-12)


def test_stiffening_coefficients() -> None:
    words = np.array(["floor", "angle", "tee", "bulb", "flat"])
    assert s11_5_2.stiffening_coefficient(edge_stiffener=words).tolist() == [1.3, 1.21, 1.21, 1.1, 1.05]
    with pytest.raises(InputError, match="edge_stiffener"):
        s11_5_2.stiffening_coefficient(edge_stiffener=np.array(["rope"]))


def test_plate_in_shear_by_hand() -> None:
    # hand: k = 5.34 + 4 (0.6/1.6)^2 = 5.9025; tau = 0.9 * 5.9025 * E (10/600)^2 = 303.97
    k = s11_5_2.shear_factor(short_side_m=array(0.6), long_side_m=array(1.6))
    assert k[0] == pytest.approx(5.9025, rel=1e-12)
    tau = s11_5_2.elastic_shear(shear_factor=k, thickness_net_mm=array(10.0), short_side_m=array(0.6))[0]
    assert tau == pytest.approx(0.9 * 5.9025 * E / 3600.0, rel=1e-12)


def test_column_against_euler() -> None:
    # closed form: pi^2 E I/(A l^2), I 2000 cm4, A 80 cm2, l 2.4 m; 0.001 stands for pi^2/10^4 = 0.00098696
    stress = s11_5_2.elastic_column(inertia_net_cm4=array(2000.0), area_net_cm2=array(80.0), span_m=array(2.4))[0]
    assert stress == pytest.approx(0.001 * E * 2000.0 / (80.0 * 5.76), rel=1e-12)
    euler = pi**2 * E * 2000.0e4 / (80.0e2 * 2400.0**2)
    assert stress == pytest.approx(euler, rel=0.014)
    assert stress > euler


def test_web_by_hand() -> None:
    stress = s11_5_2.elastic_web(web_net_mm=array(8.0), web_height_mm=array(160.0))[0]
    assert stress == pytest.approx(3.8 * E * 0.0025, rel=1e-12)


def test_critical_stress_on_both_sides_of_half_the_yield() -> None:
    half = 355.0 / 2.0
    found = s11_5_3.critical_compression(elastic_mpa=array(half - 1.0, half, half + 1.0, 1e9), yield_mpa=array(355.0))
    # hand: elastic below; 355 (1 - 355/(4*177.5)) = 177.5 at the border; 355 (1 - 355/714) above; the yield far above
    assert found == pytest.approx([176.5, 177.5, 355.0 * (1.0 - 355.0 / 714.0), 355.0], rel=1e-6)
    near = s11_5_3.critical_compression(elastic_mpa=array(half * (1 - 1e-9), half * (1 + 1e-9)), yield_mpa=array(355.0))
    assert near[1] == pytest.approx(near[0], rel=3e-9)  # value continuous
    step = 1e-3  # and slope: both branches rise with slope one at the border
    for low in (half - step, half):
        pair = s11_5_3.critical_compression(elastic_mpa=array(low, low + step), yield_mpa=array(355.0))
        assert np.diff(pair)[0] / step == pytest.approx(1.0, rel=1e-4)


def test_critical_shear_on_both_sides_of_half_the_yield_in_shear() -> None:
    yield_shear = s11_5_3.shear_yield(yield_mpa=array(355.0))
    assert yield_shear[0] == pytest.approx(355.0 / sqrt(3.0), rel=1e-12)
    t = float(yield_shear[0])
    found = s11_5_3.critical_shear(elastic_shear_mpa=array(t / 2 - 1, t / 2, t / 2 + 1), shear_yield_mpa=yield_shear)
    assert found == pytest.approx([t / 2 - 1, t / 2, t * (1.0 - t / (4.0 * (t / 2 + 1)))], rel=1e-12)


def test_working_stresses_by_hand() -> None:
    bending = s11_5_4.bending_stress(
        still_water_moment_mnm=array(120.0), ice_moment_mnm=array(90.0), modulus_m3=array(2.1)
    )
    assert bending[0] == pytest.approx(100.0, rel=1e-12)
    for positive, negative, total in ((15.0, -7.0, 27.0), (3.0, -7.0, 19.0)):
        shear = s11_5_4.shear_stress(
            still_water_shear_mn=array(12.0), ice_shear_positive_mn=array(positive),
            ice_shear_negative_mn=array(negative), shear_area_m2=array(0.3),
        )  # fmt: skip
        assert shear[0] == pytest.approx(total / 0.3, rel=1e-12)


def rule() -> GirderRule:
    assert RULE_SET.girder is not None
    return RULE_SET.girder


def columns(given: dict[str, Any]) -> dict[str, np.ndarray]:
    return {name: np.atleast_1d(value) for name, value in given.items()}


def test_plate_checks_turn_at_their_limits() -> None:
    plate = {
        "thickness_net_mm": 10.0, "short_side_m": 0.6, "long_side_m": 1.6, "stress_ratio": 1.0,
        "stiffeners_along": True, "edge_stiffener": "flat", "yield_mpa": 355.0,
    }  # fmt: skip
    critical = 355.0 * (1.0 - 355.0 / (4.0 * 206.0))  # elastic 206.0 is above 177.5
    t = 355.0 / sqrt(3.0)
    shear = t * (1.0 - t / (4.0 * 0.9 * 5.9025 * E / 3600.0))
    for share, met in ((1.0 - 1e-9, True), (1.0 + 1e-9, False)):
        out = rule().plate.run(columns({**plate, "compression_mpa": share * critical, "shear_mpa": share * shear}))
        for check in rule().plate.checks:
            assert bool(is_met(utilisation(out[check.required], out[check.offered]))[0]) is met, check.name


def test_stiffener_checks_turn_at_their_limits() -> None:
    stiffener = {
        "inertia_net_cm4": 2000.0, "area_net_cm2": 80.0, "span_m": 2.4, "web_net_mm": 3.0, "web_height_mm": 200.0,
        "yield_mpa": 355.0, "section_kind": "tee", "flange_breadth_mm": 150.0, "flange_net_mm": 20.0,
        "plate_net_mm": 12.0, "spacing_m": 0.6, "stress_ratio": 1.0,
    }  # fmt: skip
    column = 0.001 * E * 2000.0 / (80.0 * 5.76)  # 894
    limits = (355.0 * (1.0 - 355.0 / (4.0 * column)) / 1.1, 3.8 * E * 0.000225)  # the web fails elastically at 176.1
    assert limits[1] < 355.0 / 2.0
    for check, limit in zip(rule().stiffener.checks[:2], limits, strict=True):  # turning over: test_torsion.py
        for share, met in ((1.0 - 1e-9, True), (1.0 + 1e-9, False)):
            out = rule().stiffener.run(columns({**stiffener, "compression_mpa": share * limit}))
            assert bool(is_met(utilisation(out[check.required], out[check.offered]))[0]) is met, check.name


def test_all_of_it_is_recalled_and_says_so() -> None:
    """What is not listed above stands in s11_5_2_2_torsion and agrees with a theory of its own."""
    others = [clause for name, clause in DOCUMENT.clauses.items() if name not in {one.name for one in CLAUSES}]
    assert {clause.ref for clause in others} == {"S11.5.2.2.2"}
    assert all(clause.status in (Status.MEMORY, Status.MEMORY_CHECKED) for clause in others)
    for clause in CLAUSES:
        assert clause.status is Status.MEMORY
        assert clause.citation.startswith("UR S11 S11.5")
        printed = plain(formula_of(clause).result, {})
        assert printed
    for table in TABLES:
        assert all(cell.status is Status.MEMORY for cell in table.cells.values())
