"""Hull steel grades: values as recalled or read (the data file says which), look-ups, refusals."""

from importlib.resources import files

import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.recordtable import parse_records
from beltwright.materials.hull_steel import SteelTable, hull_steels, plate_mass_kg_per_m2, yield_MPa

TEXT = files("beltwright.materials").joinpath("data", "hull_steel.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("grade", "yield_expected", "impact", "tensile", "k"),
    [  # UR W11 as reproduced in secondary publications (see the data file); EH47 from UR W31, recalled
        ("A", 235, 20, (400, 520), 1.0),
        ("E", 235, -40, (400, 520), 1.0),
        ("AH32", 315, 0, (440, 570), 0.78),
        ("DH36", 355, -20, (490, 630), 0.72),
        ("EH36", 355, -40, (490, 630), 0.72),
        ("FH40", 390, -60, (510, 660), 0.68),
    ],
)
def test_ordinary_grades(grade, yield_expected, impact, tensile, k) -> None:
    steel = hull_steels().steel(grade)
    band = steel.band()
    assert yield_MPa(grade) == yield_expected
    assert (steel.impact_temperature_C, steel.k_factor) == (impact, k)
    assert (band.tensile_min_MPa, band.tensile_max_MPa) == tensile
    assert band.status is Status.SECONDARY


def test_the_table_is_ordered_as_strength_should_be() -> None:
    table = hull_steels()
    for grade in table.grades:
        steel = table.steel(grade)
        yields = [band.yield_MPa for band in steel.bands]
        assert yields == sorted(yields, reverse=True)
        for band in steel.bands:
            assert band.yield_MPa < band.tensile_min_MPa < band.tensile_max_MPa
        letter, impact = grade[0], steel.impact_temperature_C
        normal = {"A": 20, "B": 0, "D": -20, "E": -40}
        assert impact == (normal[letter] if len(grade) == 1 else {"A": 0, "D": -20, "E": -40, "F": -60}[letter])


def test_grades_of_many_bands_need_a_thickness() -> None:
    table = hull_steels()
    assert table.steel("EH500").family == "w16"
    assert table.steel("EH500").k_factor is None
    assert table.steel("EH500").bands[0].status is Status.MEMORY
    with pytest.raises(InputError, match="EH500: the yield stress depends on the as-built thickness: give it"):
        table.yield_MPa("EH500")
    assert table.yield_MPa("EH500", as_built_thickness_mm=50.0) == 500.0  # a band reaches up to its limit
    assert table.yield_MPa("EH500", as_built_thickness_mm=50.1) == 480.0
    assert table.yields_MPa(["EH36", "EH500"], as_built_thickness_mm=[20.0, 120.0]).tolist() == [355.0, 440.0]
    assert table.yields_MPa(["EH36", "A"]).tolist() == [355.0, 235.0]


@pytest.mark.parametrize("thickness", [0.0, -5.0, 100.5, float("nan")])
def test_a_thickness_the_grade_is_not_made_in_is_refused(thickness: float) -> None:
    with pytest.raises(
        InputError, match=r"EH36: the grade is not made in this as-built thickness; found .* mm; allowed: over 0 to 100"
    ):
        yield_MPa("EH36", as_built_thickness_mm=thickness)


@pytest.mark.parametrize(("name", "nearest"), [("EH35", "EH36"), ("DH 36", "DH36"), ("FH41", "FH40")])
def test_an_unknown_grade_is_refused_with_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(
        InputError, match=rf"ship.toml: steel: no such hull steel grade.*the nearest is {nearest}; grades: A, B, D"
    ):
        yield_MPa(name, where="ship.toml: steel")


def test_small_letters_and_spaces_do_not_matter() -> None:
    assert yield_MPa(" eh36 ") == 355.0


def test_one_changed_cell_moves_the_look_up() -> None:
    line = next(line for line in TEXT.splitlines() if line.startswith("EH36,"))
    changed = SteelTable(parse_records(TEXT.replace(line, line.replace(",355,", ",345,")), "changed.csv"))
    assert changed.yield_MPa("EH36") == 345.0
    assert changed.yield_MPa("DH36") == 355.0
    assert changed.header["document"].startswith("IACS UR W11")


def test_bands_must_follow_on() -> None:
    line = next(line for line in TEXT.splitlines() if line.startswith("EH500,w16,50,100"))
    with pytest.raises(InputError, match=r"changed.csv: line .*: the bands of a grade must follow on; found 60 mm"):
        SteelTable(parse_records(TEXT.replace(line, line.replace("w16,50,", "w16,60,")), "changed.csv"))


def test_mass_of_plating_by_hand() -> None:
    assert float(plate_mass_kg_per_m2(25.0)) == pytest.approx(196.25)  # hand: 7.85 x 25


def test_cells_used_are_those_of_the_grades_named() -> None:
    cells = hull_steels().cells_used(["eh36", "EH500"])
    assert [cell.value for cell in cells if cell.keys[1][1] == "yield_MPa"] == [355, 500, 480, 440]
    assert {cell.status for cell in cells} == {Status.SECONDARY, Status.MEMORY}
    with pytest.raises(InputError, match="no such hull steel grade"):
        hull_steels().cells_used(["EH3"])


def test_a_square_metre_of_35_mm_plate() -> None:
    """About 605 lb: common practice, no source."""
    assert float(plate_mass_kg_per_m2(35.0)) / 0.45359237 == pytest.approx(605, abs=1.0)
