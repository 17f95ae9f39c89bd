"""Letters of steel grades: what the rule asks at a thickness is part of the choice; the least that will do is taken."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.scantlings import ships
from tests.sizing import small

from beltwright.core.errors import InputError
from beltwright.core.outcome import is_met
from beltwright.scantlings.design import Design
from beltwright.sizing.fit import ask, framings_of
from beltwright.sizing.size import Sized, size
from beltwright.sizing.trial import Trial

pytestmark = pytest.mark.slow
LETTERS = "ADEF"


def steel(grade: str, **sizing: object) -> Design:
    """The small ship with plates and frames of one grade."""
    return ships.redesigned(lambda d: d.update(steel={"plate_grade": grade, "frame_grade": grade}, sizing=sizing))


def trial(design: Design) -> Trial:
    return framings_of(design, framed=False)["side"][0][1]


def test_grades_tried_are_those_of_the_design() -> None:
    """kind: second-method. Every panel and span at the thickness it has, against the table of the whole design."""
    design = ships.baseline()
    table = design.grades
    assert table is not None
    made = trial(design)
    thickness, ratio = table["thickness_as_built_mm"].data, table["ratio"].data
    panels = design.arrangement.panels.rows
    for kind, first, rows in (("plate", 0, panels), ("frame", panels, design.arrangement.frames.rows)):
        tries = made.panel_grades if kind == "plate" else made.span_grades
        known = [k for k in range(rows) if not np.isnan(ratio[first + k])]
        assert len(known) > 100
        for t in np.unique(thickness[first : first + rows][known]):
            mine = np.array([k for k in known if thickness[first + k] == t])
            found = tries(mine, np.array([t]), ["EH36"])[:, 0, 0]
            assert found == pytest.approx(ratio[first + mine])


@cache
def warm() -> Sized:
    """Plates and frames of AH36, colder letters allowed."""
    return size(steel("AH36"))


def test_what_is_too_warm_is_taken_colder_and_weighs_the_same() -> None:
    """A letter changes no strength: the least mass is that of the ship of EH36, and every grade is met."""
    assert warm().found.price == small.sized().found.price
    grades = {grade for grade in warm().laid.grade if grade}
    assert "EH36" in grades
    assert grades <= {"AH36", "DH36", "EH36", "FH36"}
    table = warm().design.grades
    assert table is not None
    members = table.labels("kind") != "appendage"
    assert "not met" not in table.labels("outcome")[members]


def test_no_letter_is_colder_than_it_has_to_be() -> None:
    """kind: second-method. One letter less on any plate, at its thickness, and some panel asks for more."""
    made, checked = warm(), 0
    one = trial(steel("AH36"))
    for plate, (thickness, grade) in enumerate(zip(made.laid.thickness_mm, made.laid.grade, strict=True)):
        if grade and grade[0] != "A":
            warmer = LETTERS[LETTERS.index(grade[0]) - 1] + grade[1:]
            panels = made.cover.panel[made.cover.plate == plate]
            assert not is_met(one.panel_grades(panels, np.array([thickness]), [warmer])[:, 0, 0]).all()
            assert is_met(one.panel_grades(panels, np.array([thickness]), [grade])[:, 0, 0]).all()
            checked += 1
    assert checked > 3


def test_any_letter_is_cheaper_where_less_cold_steel_will_do() -> None:
    given = size(steel("EH36", objective="cost", grade_letters="as given"))
    any_letter = size(steel("EH36", objective="cost", grade_letters="any"))
    assert any_letter.found.price < given.found.price
    assert {grade[0] for grade in any_letter.laid.grade if grade} & {"A", "D"}
    table = any_letter.design.grades
    assert table is not None
    assert "not met" not in table.labels("outcome")[table.labels("kind") != "appendage"]


def test_letters_as_given_that_are_too_warm_are_refused_with_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        size(steel("AH36", grade_letters="as given"))
    told = str(caught.value)
    assert "asks for a colder grade (steel grade, UR I2 I2.12.1); the nearest is" in told
    assert " AH36 at 1." in told or " AH36 at 2." in told or " AH36 at 4." in told or " AH36 at 3." in told


def test_a_frame_that_is_too_warm_is_refused_with_the_nearest() -> None:
    """One thick section only, of AH36: 30 mm of flange, and no plate that would ask for more."""
    sizing = {"grade_letters": "as given", "profiles": ["T650x18+300x30"]}
    steels = {"plate_grade": "EH36", "frame_grade": "AH36"}
    design = ships.redesigned(lambda d: d.update(steel=steels, sizing=sizing))
    with pytest.raises(InputError, match=r"frame \S+ asks for a colder grade \(.*nearest is AH36 at 30 mm at"):
        size(design)


def test_a_plate_given_without_a_grade_takes_the_letter_that_will_do() -> None:
    """hand: a line of 38 mm without a grade on a ship of AH36; one with AH36 stated is refused."""
    line = {"hull_area": "Mi", "zone": "side", "thickness_as_built_mm": 38.0}
    free = ships.redesigned(lambda d: d.update(steel={"plate_grade": "AH36", "frame_grade": "EH36"}, plates=[line]))
    made = size(free)
    thick = [grade for t, grade in zip(made.laid.thickness_mm, made.laid.grade, strict=True) if t == 38.0]
    assert thick
    assert set(thick) <= {"EH36", "DH36", "FH36"}
    bound = ships.redesigned(
        lambda d: d.update(steel={"plate_grade": "AH36", "frame_grade": "EH36"}, plates=[{**line, "grade": "AH36"}])
    )
    with pytest.raises(InputError, match=r"with the 38 mm given .*asks for a colder grade"):
        size(bound)


def test_a_rule_set_without_grades_leaves_letters_alone() -> None:
    values = ask(small.with_settings(grade_letters="any")).values
    assert values.letters_of(("EH36",)) == ("EH36", "AH36", "DH36", "FH36")
    from beltwright.scantlings.sectionstock import SectionStock
    from beltwright.sizing.values import Values

    ship = small.with_settings(grade_letters="any").ship
    assert Values(ship, SectionStock(ship), graded=False).plate_grades == ("EH36",)
