"""Ice waterlines: given as points or as the envelope of loading cases; each hand value is worked out beside it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.hull.hydrostatics import Floating
from beltwright.scantlings.design import IceWaterline
from beltwright.scantlings.waterlines import LOWER, UPPER, ice_waterlines
from beltwright.ship.loading import LoadingCase, parse_loading_cases

HULL_ENDS_M = (-1.5, 52.1277052)


def case(name: str, aft: float, mid: float, fore: float, use: str, density: float = 1.025) -> LoadingCase:
    return LoadingCase(
        case=name, x_aft_m=0.0, draught_aft_m=aft, x_mid_m=23.75, draught_mid_m=mid, x_fore_m=47.5,
        draught_fore_m=fore, density_t_m3=density, use=use,  # type: ignore[arg-type]
    )  # fmt: skip


BALLAST = case("ballast", 3.4, 3.3, 3.2, "lower")


def lines(*cases: LoadingCase) -> tuple[IceWaterline, IceWaterline]:
    """The waterlines of the small ship from loading cases."""
    given = ships.ship(lambda doc: doc.update(waterlines={"loading_cases": "cases.csv"}))
    return ice_waterlines(given, cases, ships.measured().shell)


def heights(line: IceWaterline, *x: float) -> list[float]:
    return line.level.height(np.array(x)).tolist()


def test_points_and_cases_give_the_same_line() -> None:
    by_points = ships.measured()
    upper, lower = lines(case("deep", 3.8, 3.8, 3.8, "upper"), BALLAST)
    for one, other in ((upper, by_points.upper), (lower, by_points.lower)):
        assert heights(one, -1.5, 0.0, 20.0, 50.0) == pytest.approx(heights(other, -1.5, 0.0, 20.0, 50.0), abs=1e-12)
        assert one.hydrostatics.volume_m3 == pytest.approx(other.hydrostatics.volume_m3, rel=1e-9)
    assert upper.name == UPPER
    assert lower.name == LOWER
    assert "envelope of 1 loading cases in cases.csv" in upper.source
    assert by_points.upper.source == "ship.toml: waterlines.upper"


def test_envelope_by_hand() -> None:
    """Trim by the stern 3.9 to 3.5 over trim by the bow 3.4 to 3.8: they cross where 3.9 - 0.4 t = 3.4 + 0.4 t,
    t = 0.625 of 47.5 m = 29.6875 m, at 3.65 m. The lower envelope of the same two lines crosses there too."""
    stern, bow = case("stern", 3.9, 3.7, 3.5, "both"), case("bow", 3.4, 3.6, 3.8, "both")
    upper, lower = lines(stern, bow)
    assert heights(upper, 0.0, 29.6875, 47.5) == pytest.approx([3.9, 3.65, 3.8], abs=1e-12)
    assert heights(lower, 0.0, 29.6875, 47.5) == pytest.approx([3.4, 3.65, 3.5], abs=1e-12)
    # carried on beyond the draught marks to the hull's ends, each along its own governing line
    assert heights(upper, *HULL_ENDS_M) == pytest.approx([
        3.9 + 0.4 * 1.5 / 47.5, 3.8 + 0.4 * (HULL_ENDS_M[1] - 47.5) / 47.5
    ], abs=1e-9)  # fmt: skip


def test_lines_that_cross_beyond_the_marks() -> None:
    """Forward of the last mark the steeper line takes over, on the hull still: 3.80 level over 3.70 + 0.10 (x-23.75)
    /23.75, which reaches 3.80 at the mark and lies 0.0126 m above at x = 50.5 m."""
    upper, _ = lines(case("level", 3.8, 3.8, 3.8, "upper"), case("bow", 3.6, 3.7, 3.8, "upper"), BALLAST)
    assert heights(upper, 47.5, 50.5) == pytest.approx([3.8, 3.8 + 0.1 * 3.0 / 23.75], abs=1e-9)


def test_hog_and_sag_make_a_broken_line() -> None:
    hogged, sagged = case("hogged", 3.7, 3.85, 3.7, "upper"), case("sagged", 3.8, 3.7, 3.8, "upper")
    upper, _ = lines(hogged, sagged, BALLAST)
    # hand: 3.7 + 0.15 t = 3.8 - 0.1 t at t = 0.4 of 23.75 m = 9.5 m; symmetric about amidships
    assert heights(upper, 9.5, 23.75, 38.0) == pytest.approx([3.76, 3.85, 3.76], abs=1e-12)
    assert heights(upper, 0.0, 47.5) == pytest.approx([3.8, 3.8], abs=1e-12)


@given(
    st.lists(
        st.tuples(*[st.floats(3.45, 3.95) for _ in range(3)], st.sampled_from(["upper", "lower", "both"])),
        min_size=1, max_size=4,
    )
)  # fmt: skip
def test_envelope_is_the_extreme_of_the_cases_everywhere(rows: list[tuple[float, float, float, str]]) -> None:
    """At 200 places of the hull, against each case's own broken line; exact where cases cross."""
    from beltwright.scantlings import waterlines as under_test

    cases = [case(f"case {n}", *row) for n, row in enumerate(rows)]
    ship = ships.ship(lambda doc: doc.update(waterlines={"loading_cases": "cases.csv"}))
    x = np.linspace(*HULL_ENDS_M, 200)
    for name, use, pick in ((UPPER, "upper", np.max), (LOWER, "lower", np.min)):
        own = [c for c in cases if c.use in (use, "both")]
        if not own:
            continue
        level, _, _ = under_test._line(ship, tuple(cases), name, HULL_ENDS_M)
        wanted = pick([own_line(c, x) for c in own], axis=0)
        assert level.height(x) == pytest.approx(wanted, abs=1e-9)


def own_line(c: LoadingCase, x: np.ndarray) -> np.ndarray:
    """A case's broken line: two straight parts, each carried on beyond its mark."""
    aft = c.draught_aft_m + (c.draught_mid_m - c.draught_aft_m) * (x - c.x_aft_m) / (c.x_mid_m - c.x_aft_m)
    fore = c.draught_mid_m + (c.draught_fore_m - c.draught_mid_m) * (x - c.x_mid_m) / (c.x_fore_m - c.x_mid_m)
    return np.where(x < c.x_mid_m, aft, fore)


def test_greatest_displacement_of_the_cases() -> None:
    """The deepest case in light water can displace less mass than a slightly shallower one in salt water."""
    fresh, salt = case("river", 3.82, 3.82, 3.82, "upper", 1.000), case("sea", 3.80, 3.80, 3.80, "upper", 1.025)
    upper, _ = lines(fresh, salt, BALLAST)
    floating = Floating(ships.measured().shell)
    volumes = [floating.at(lines(c, BALLAST)[0].level).volume_m3 for c in (fresh, salt)]
    masses = [(volumes[0] * 1.000 + 6.0) / 1000.0, (volumes[1] * 1.025 + 6.0) / 1000.0]  # 6 t of shell
    assert volumes[0] > volumes[1]
    assert masses[0] < masses[1]
    assert upper.displacement_from == "sea"
    assert upper.displacement_kt == pytest.approx(masses[1], rel=1e-9)
    assert heights(upper, 20.0) == pytest.approx([3.82])


def test_allowance_is_counted_once() -> None:
    """hand: with 6 t outside the moulded surface the displacement is 0.006 kt more than volume times density."""
    upper = ships.measured().upper
    assert upper.displacement_kt == pytest.approx(upper.hydrostatics.volume_m3 * 1.025e-3 + 0.006, rel=1e-12)


@pytest.mark.parametrize(
    ("points", "cases", "told"),
    [
        ({}, (), "waterlines.upper: the upper ice waterline is not given"),
        ({"upper": [{"x_m": 0.0, "draught_m": 3.8}]}, (), "waterlines.lower: the lower ice waterline is not given"),
        (
            {"loading_cases": "cases.csv", "lower": [{"x_m": 0.0, "draught_m": 3.3}]},
            (case("deep", 3.8, 3.8, 3.8, "both"),),
            "the lower ice waterline is given twice",
        ),
        ({"loading_cases": "cases.csv"}, (BALLAST,), "cases.csv: no case makes the upper ice waterline"),
        (
            {"upper": [{"x_m": 0.0, "draught_m": 6.0}], "lower": [{"x_m": 0.0, "draught_m": 3.3}]},
            (),
            "does not reach up to the upper ice waterline",
        ),
        (
            {"upper": [{"x_m": 0.0, "draught_m": 3.0}, {"x_m": 47.5, "draught_m": 3.8}],
             "lower": [{"x_m": 0.0, "draught_m": 3.2}, {"x_m": 47.5, "draught_m": 3.0}]},
            (),
            "lies above the upper ice waterline at x -1.500 m; found 3.206315789 m; allowed: at most 2.975 m there",
        ),
        ({"upper": [{"x_m": 0.0, "draught_m": 3.0}, {"x_m": 0.0, "draught_m": 3.8}],
          "lower": [{"x_m": 0.0, "draught_m": 3.2}]}, (), "positions must rise"),
    ],
)  # fmt: skip
def test_refusals(points: dict[str, object], cases: tuple[LoadingCase, ...], told: str) -> None:
    given = ships.ship(lambda doc: doc.update(waterlines=points))
    with pytest.raises(InputError) as caught:
        ice_waterlines(given, cases, ships.measured().shell)
    assert told in str(caught.value)


def test_cases_from_a_table() -> None:
    """The same envelope through the CSV that a user writes."""
    header = "case,x_aft_m,draught_aft_m,x_mid_m,draught_mid_m,x_fore_m,draught_fore_m,density_t_m3,use"
    text = f"{header}\nstern,0,3.9,23.75,3.7,47.5,3.5,1.025,both\nbow,0,3.4,23.75,3.6,47.5,3.8,1.025,both\n"
    upper, lower = lines(*parse_loading_cases(text, "cases.csv"))
    assert heights(upper, 0.0, 29.6875, 47.5) == pytest.approx([3.9, 3.65, 3.8], abs=1e-12)
    assert lower.source == "envelope of 2 loading cases in cases.csv"
