"""Polar Code: categories, icing as items of weight, extent of ice damage. Expected numbers: by hand."""

from __future__ import annotations

import os
import re

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.formula import formula_of, plain, typst
from beltwright.rules.polar_code_imo_2017 import part_ib_1_daily_low, tables  # noqa: F401 - registers its clauses
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT
from beltwright.rules.polar_code_imo_2017.icing import IcedDeck, IcedSide, icing_allowance
from beltwright.rules.polar_code_imo_2017.introduction_2_categories import category_by_ice, usual_category
from beltwright.rules.polar_code_imo_2017.part_ia_4_icing_and_damage import (
    area_with_small_parts,
    damage_depth,
    damage_height,
    damage_highest_place,
    damage_length,
    deck_ice,
    moment_with_small_parts,
    side_ice,
)
from beltwright.rules.polaris_imo_2016.tables import CLASSES, ICE_TYPES

DECK = IcedDeck(name="forecastle deck", area_m2=100.0, x_m=70.0, y_m=0.0, z_m=12.0)
SIDE = IcedSide(name="hull above the waterline", area_m2=200.0, x_m=45.0, z_m=9.0)


def test_category_by_ice_of_the_design() -> None:
    """Less than thin first-year ice C, from thin first-year ice B, from medium first-year ice A."""
    assert "".join(category_by_ice(ice_type=np.array(ICE_TYPES))) == "CCCC" + "BB" + "AAAAAA"


def test_usual_category_of_each_class() -> None:
    assert "".join(usual_category(ice_class=np.array(CLASSES))) == "AAAAA" + "BB" + "CCCCC"


def test_ice_masses_by_hand() -> None:
    # deck 30 x 100 = 3000 kg; side 7.5 x (1.05 x 200 = 210) = 1575 kg each; moment 1.10 x 200 x 9 = 1980 m3
    assert deck_ice(deck_area_m2=np.array([100.0]))[0] == 3000.0
    area = area_with_small_parts(lateral_area_m2=np.array([200.0]))
    assert area[0] == pytest.approx(210.0, abs=1e-12)
    assert side_ice(area_with_small_parts_m2=area)[0] == pytest.approx(1575.0, abs=1e-9)
    moment = moment_with_small_parts(lateral_area_m2=np.array([200.0]), centre_height_m=np.array([9.0]))
    assert moment[0] == pytest.approx(1980.0, abs=1e-9)


def test_icing_as_items_of_weight_by_hand() -> None:
    # 3.000 t at (70, 0, 12) and 2 x 1.575 = 3.150 t at (45, 0, 1980 / 210 = 9.428571)
    found = icing_allowance([DECK], [SIDE])
    assert found.mass_t == pytest.approx(6.15, abs=1e-12)
    assert found.table.labels("kind").tolist() == ["deck", "sides"]
    assert found.table.values("mass_t") == pytest.approx([3.0, 3.15], abs=1e-12)
    assert found.table.values("area_m2") == pytest.approx([100.0, 210.0], abs=1e-12)
    assert found.table.values("vcg_m")[1] == pytest.approx(9.0 * 1.10 / 1.05, abs=1e-12)
    expected = (
        (3.0 * 70.0 + 3.15 * 45.0) / 6.15,
        0.0,
        (3.0 * 12.0 + 3.15 * 1980.0 / 210.0) / 6.15,
    )
    assert found.centre_m == pytest.approx(expected, abs=1e-12)


def test_decks_to_one_side_and_sides_alone() -> None:
    port = IcedDeck(name="gangway", area_m2=10.0, x_m=1.0, y_m=4.0, z_m=5.0)
    found = icing_allowance([port], [])
    assert found.mass_t == pytest.approx(0.3, abs=1e-12)
    assert found.centre_m == pytest.approx((1.0, 4.0, 5.0), abs=1e-12)
    assert icing_allowance([], [SIDE]).centre_m[1] == 0.0


def test_a_part_split_in_two_weighs_the_same() -> None:
    half = IcedSide(name="half", area_m2=100.0, x_m=45.0, z_m=9.0)
    whole, parts = icing_allowance([DECK], [SIDE]), icing_allowance([DECK], [half, half])
    assert parts.mass_t == pytest.approx(whole.mass_t, rel=1e-14)
    assert parts.centre_m == pytest.approx(whole.centre_m, rel=1e-14)


@pytest.mark.parametrize("area", [0.0, -1.0, np.nan, np.inf])
def test_a_surface_without_area_is_refused(area: float) -> None:
    with pytest.raises(InputError, match="icing: x: area_m2: is no area"):
        icing_allowance([], [IcedSide(name="x", area_m2=area, x_m=1.0, z_m=1.0)])


@pytest.mark.parametrize("place", [(np.nan, 0.0, 1.0), (1.0, np.inf, 1.0), (1.0, 0.0, np.nan)])
def test_a_place_that_is_no_number_is_refused(place: tuple[float, float, float]) -> None:
    x, y, z = place
    with pytest.raises(InputError, match="is not a number"):
        icing_allowance([IcedDeck(name="x", area_m2=1.0, x_m=x, y_m=y, z_m=z)], [])
    with pytest.raises(InputError, match="no surface is given"):
        icing_allowance([], [])


def test_extent_of_ice_damage_by_hand() -> None:
    # L = 100 m: 4.5 m forward, 1.5 m elsewhere; T = 8 m: height 1.6 m, but not more than the length; up to 9.6 m
    length = damage_length(upper_waterline_length_m=np.array([100.0, 100.0]), centred_forward=np.array([True, False]))
    assert length == pytest.approx([4.5, 1.5], abs=1e-12)
    height = damage_height(upper_draught_m=np.array([8.0, 8.0]), damage_length_m=length)
    assert height == pytest.approx([1.6, 1.5], abs=1e-12)
    assert damage_highest_place(upper_draught_m=np.array([8.0]))[0] == pytest.approx(9.6, abs=1e-12)
    assert float(damage_depth()) == 760.0


def test_every_cell_of_the_tables_is_read_by_a_clause() -> None:
    for table in tables.TABLES:
        clauses = [clause for clause in DOCUMENT.clauses.values() if clause.table is table]
        for place in table.cells:
            keys = dict(zip(table.keys, place, strict=True))
            assert any(all(keys[k] == v for k, v in fixed.items()) for c in clauses for fixed in c.reads), (
                table.name,
                place,
            )


@pytest.mark.skipif("MUTANT_UNDER_TEST" in os.environ, reason="the formulas' source is then not the clause's own")
def test_every_clause_prints() -> None:
    assert len(DOCUMENT.clauses) == 14
    for clause in DOCUMENT.clauses.values():
        formula = formula_of(clause)
        printed = plain(formula.result, {})
        assert all(re.search(rf"\b{name}\b", printed) for name in clause.parameters)
        assert typst(formula.result, {name: chr(97 + k) for k, name in enumerate(clause.parameters)})
        assert clause.title
        assert clause.__doc__
