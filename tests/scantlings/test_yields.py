"""The yield stress by as-built thickness: plates that grow into a weaker band, sections, thicknesses not made."""

from __future__ import annotations

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.scantlings.yields import SectionYields, by_thickness


def words(*values: str) -> np.ndarray:
    return np.array(values, dtype=np.str_)


def test_yield_by_thickness_on_both_sides_of_a_band() -> None:
    """kind: second copy. EH460: 460 up to 50 mm, 430 over it, 390 over 100 mm; EH36 355 throughout."""
    grades = words("EH460", "EH460", "EH460", "EH460", "EH36", "EH460", "EH36")
    found = by_thickness(grades, [50.0, 50.01, 100.0, 100.01, 99.0, np.nan, np.nan], where="test")
    assert found.tolist() == [460.0, 430.0, 430.0, 390.0, 355.0, 460.0, 355.0]


@pytest.mark.parametrize(("grade", "thickness", "allowed"), [
    ("EH36", 100.01, "over 0 to 100 mm"), ("EH47", 50.0, "over 50 to 100 mm"), ("EH460", 251.0, "over 0 to 50 mm"),
    ("EH460", 0.0, "over 0 to 50 mm"),
])  # fmt: skip
def test_a_thickness_that_is_not_made_is_refused(grade: str, thickness: float, allowed: str) -> None:
    with pytest.raises(InputError, match=rf"plates: steel grade {grade}: the grade is not made in .*{allowed}"):
        by_thickness(words(grade), [thickness], where="plates")


def test_sections_take_the_yield_of_their_thicker_part() -> None:
    yields = SectionYields(words("EH460", "EH36", "EH47"), np.array([12.0, 50.0, 51.0]))
    spans = np.array([0, 0, 0, 1, 2, 2])
    found = yields.of(spans, np.array([0, 1, 2, 2, 1, 2]))
    assert found[[0, 1, 2, 3, 5]].tolist() == [460.0, 460.0, 430.0, 355.0, 460.0]
    assert np.isnan(found[4])  # not made so thin: no check is met without a yield


def test_a_strong_grade_can_be_used_for_plates_and_frames() -> None:
    """EH500 is 500 MPa up to 50 mm: the net thickness goes with 1/yield^0.5. kind: hand."""
    strong = ships.redesigned(lambda doc: doc.update(steel={"plate_grade": "EH500", "frame_grade": "EH500"}))
    plain = ships.baseline()
    asked = plain.plating["thickness_net_required_mm"].applies
    assert set(strong.plating["yield_mpa"].data[asked]) == {500.0}
    net = [design.plating["thickness_net_required_mm"].data[asked] for design in (strong, plain)]
    assert net[0] == pytest.approx(net[1] * (355.0 / 500.0) ** 0.5, rel=1e-9)
    assert strong.frames["yield_mpa"].applies.all()
    assert "BW311" in {finding.kind.code for finding in strong.findings}
    mass = [design.frames["mass_kg_per_m"].data for design in (strong, plain)]
    assert np.nansum(mass[0]) < np.nansum(mass[1])


def test_a_proposed_plate_that_grows_into_a_weaker_band_keeps_growing() -> None:
    """kind: second-method. AH420: 420 MPa up to 50 mm, 390 over it. The fixed point from below, group by group."""

    def heavy(doc: ships.Document) -> None:
        doc["steel"] = {"plate_grade": "AH420", "frame_grade": "AH420"}
        doc["ice"]["ice_class"] = "PC1"
        doc["stock"] = {"floor_mm": 50.5}  # every plate lies in the second band

    design = ships.redesigned(heavy)
    thickness, yields = design.plating["thickness_as_built_mm"].data, design.plating["yield_mpa"].data
    assert (thickness >= 50.5).all()
    assert set(yields) == {390.0}
    assert (design.plating["ratio"].data[design.plating["ratio"].applies] <= 1.0).all()


def test_a_given_plate_takes_the_yield_of_its_own_band() -> None:
    def given(doc: ships.Document) -> None:
        doc["plates"] = [{"hull_area": "Mi", "thickness_as_built_mm": t, "grade": "EH550"} for t in (50.0,)]

    def thicker(doc: ships.Document) -> None:
        given(doc)
        doc["plates"][0]["thickness_as_built_mm"] = 50.5

    for edit, stress in ((given, 550.0), (thicker, 530.0)):
        design = ships.redesigned(edit)
        rows = design.plating.labels("hull_area") == "Mi"
        assert set(design.plating["yield_mpa"].data[rows]) == {stress}


def test_a_grade_that_is_not_made_in_a_given_or_proposed_thickness_is_refused() -> None:
    def plates(doc: ships.Document) -> None:
        doc["plates"] = [{"hull_area": "Mi", "thickness_as_built_mm": 120.0}]

    with pytest.raises(InputError, match=r"grade of a plate: steel grade EH36: the grade is not made .* found 120 mm"):
        ships.redesigned(plates)
    with pytest.raises(InputError, match=r"grade of a plate: steel grade EH47: .*allowed: over 50 to 100 mm: 460 MPa"):
        ships.redesigned(lambda doc: doc["steel"].update(plate_grade="EH47"))
    with pytest.raises(InputError, match=r"grade of a frame: steel grade EH47"):
        ships.redesigned(lambda doc: doc["steel"].update(frame_grade="EH47"))
