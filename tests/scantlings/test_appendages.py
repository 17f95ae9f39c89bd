"""Stem, stern frame and appendages: their grades beside those of the shell, what is refused and what is named."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.scantlings.appendages import check_appendages
from beltwright.scantlings.design import Design
from beltwright.scantlings.grade_story import explain_appendage, told_grades

STEM = {"name": "stem plate", "kind": "stem frame", "x_m": 47.0, "lowest_m": 2.0, "highest_m": 5.0}
RUDDER = {"name": "rudder", "kind": "rudder", "x_m": 0.5, "lowest_m": 0.2, "highest_m": 1.6}
PARTS = (
    {**STEM, "thickness_as_built_mm": 28.0, "grade": "EH36"},
    {**STEM, "name": "thin stem plate", "thickness_as_built_mm": 28.0, "grade": "DH36"},
    {**RUDDER, "thickness_as_built_mm": 22.0, "grade": "AH36"},
    {**RUDDER, "name": "rudder at its support", "thickness_as_built_mm": 22.0, "grade": "AH36",
     "stress_concentration": True},
    {**RUDDER, "name": "horn", "kind": "rudder horn", "made_of": "casting"},
    {**STEM, "name": "ice knife", "kind": "ice knife"},
)  # fmt: skip


def parts(*given: dict[str, Any]) -> ships.Edit:
    return lambda doc: doc.update(appendages=list(given))


@cache
def design() -> Design:
    return ships.redesigned(parts(*PARTS))


def rows() -> dict[str, dict[str, Any]]:
    table = design().grades
    assert table is not None
    own = np.flatnonzero(table.labels("kind") == "appendage")
    return {str(table.labels("id")[row]): table.row(int(row)) for row in own}


def test_plates_of_appendages_are_graded_by_hand() -> None:
    """kind: hand. PC4; the stem over LIWL - 0.3 m, class II, 28 mm: EH by Table 8. The rudder lies below it: class II,
    22 mm: AH by UR S6; under concentrated stress class III: DH.
    """
    found = {name: (row["material_class"], row["position"], row["grade_demanded"], row["outcome"])
             for name, row in rows().items()}  # fmt: skip
    assert found == {
        "stem plate": ("II", "both", "EH36", "met"),
        "thin stem plate": ("II", "both", "EH36", "not met"),
        "rudder": ("II", "submerged", "AH36", "met"),
        "rudder at its support": ("III", "submerged", "DH36", "not met"),
    }
    assert rows()["rudder at its support"]["governing"].startswith("UR S6 Table 7: III, 20-25 mm")
    assert rows()["stem plate"]["governing"].startswith("UR I2 Table 8: II, PC1 to PC5, 25-30 mm")


def test_they_stand_behind_the_shell_and_change_nothing_there() -> None:
    bare, table = ships.baseline().grades, design().grades
    assert bare is not None
    assert table is not None
    assert table.rows == bare.rows + 4
    shell = table.where(np.arange(bare.rows))
    for name in ("id", "grade_demanded", "outcome", "material_class"):
        assert shell.labels(name).tolist() == bare.labels(name).tolist()
    assert set(bare.labels("part")) == {""}


def test_what_fails_and_what_is_not_checked_is_told() -> None:
    told = [str(f) for f in design().findings if f.kind.code == "BW490"]
    assert len(told) == 1
    assert "grades of stem and appendages: 2 members; worst" in told[0]
    assert not design().all_met
    unchecked = [f"{f.where}: {f.message}" for f in design().findings if f.kind.code == "BW496"]
    assert unchecked == [
        "appendage horn: rudder horn: a casting has no grade of plate",
        "appendage ice knife: ice knife: no thickness is given",
    ]
    assert design().grades_run is not None
    assert design().grades_run.basis[-1] == (
        "Stem, stern frame and appendages as described: checked are stem plate, thin stem plate, rudder, rudder at its "
        "support; not checked are horn, ice knife."
    )
    bare = ships.baseline().grades_run
    assert bare is not None
    assert "not described in ship.toml" in bare.basis[-1]


def test_each_has_a_trace_down_to_the_description() -> None:
    told = explain_appendage(design(), "rudder at its support")
    assert told.trace["class_of_appendage"].value == "III"
    assert told.trace["class_of_part"].value == "II"
    assert told.trace["grade_demanded"].value == "D"
    assert told.trace["thickness_as_built_mm"].origin == "ship.toml: appendages"
    assert "is asked for DH36; offered AH36: not met" in told.headline
    stories = told_grades(design())
    assert [area for area, _ in stories][1:] == ["rudder"]  # D asked for, A offered: rank 3 over 1
    assert len(told_grades(ships.baseline())) == 1
    with pytest.raises(InputError, match=r"appendage: there is none of this name.*stem plate, thin stem plate"):
        explain_appendage(design(), "horn")
    with pytest.raises(InputError, match="none is checked"):
        explain_appendage(ships.baseline(), "horn")


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ((STEM, STEM), r"appendages\[2\].name: this name is taken already; found stem plate"),
        (({**STEM, "highest_m": 2.0},), r"appendages\[1\].highest_m: must lie above the lowest point; found 2 m"),
        (({**STEM, "made_of": "casting", "grade": "A"},), r"appendages\[1\].grade: a casting has no grade of plate"),
        (({**STEM, "stress_concentration": True},), r"stress_concentration: is asked of plates of a rudder only"),
        (({**STEM, "grade": "EH37"},), r"appendages\[1\].grade"),
    ],
)
def test_what_cannot_be_is_refused(given: tuple[dict[str, Any], ...], message: str) -> None:
    with pytest.raises(InputError, match=message):
        check_appendages(ships.ship(parts(*given)), Findings())


def test_a_doubtful_grade_is_named() -> None:
    findings = Findings()
    check_appendages(ships.ship(parts({**STEM, "grade": "EH27S"})), findings)
    assert [f.where for f in findings.items] == ["ship.toml: appendages[1].grade"]
