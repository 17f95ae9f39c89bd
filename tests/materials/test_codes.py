"""Findings on steel grades: raised for the case, silent for its control."""

import pytest

from beltwright.materials.codes import NOT_IN_W11, STRONG_STEEL, grade_findings
from beltwright.materials.hull_steel import hull_steels


@pytest.mark.parametrize(
    ("grade", "kinds"),
    [
        ("EH36", []),
        ("FH40", []),
        ("A", []),
        ("EH27S", [NOT_IN_W11]),
        ("EH47", [STRONG_STEEL]),
        ("EH500", [STRONG_STEEL]),
    ],
)
def test_grades(grade: str, kinds: list) -> None:
    found = grade_findings(hull_steels().steel(grade), where="ship.toml: steel.plate_grade")
    assert [finding.kind for finding in found] == kinds
    assert all(grade in finding.message for finding in found)
