"""Findings on sections: raised for the case, silent for its control."""

from beltwright.sections.catalogue import catalogue
from beltwright.sections.codes import UNLISTED_ANGLE, section_findings
from beltwright.sections.names import sections


def test_an_unlisted_angle_is_named_once() -> None:
    found = section_findings(sections(["L200x90x10", "FB150x12", "L200x90x10"]), where="ship.toml: frame_sections")
    assert [(finding.kind, finding.message) for finding in found] == [
        (UNLISTED_ANGLE, "L200x90x10 is not a listed size")
    ]


def test_the_whole_catalogue_and_built_sections_raise_nothing() -> None:
    assert section_findings(catalogue(), where="catalogue") == ()
    assert section_findings(sections(["T300x15+100x18", "L190x10+90x10"]), where="x") == ()


def test_the_mass_of_an_unlisted_angle_is_low_by_no_more_than_the_advice_says() -> None:
    """Every listed angle against the same legs without radii."""
    listed = catalogue().take(catalogue().shapes.is_rolled_angle)
    plates = listed.web_height_mm * listed.web_thickness_mm + listed.flange_breadth_mm * listed.flange_thickness_mm
    short = 1.0 - plates / 100.0 / listed.area_cm2
    assert 0.005 < short.max() < 0.015
