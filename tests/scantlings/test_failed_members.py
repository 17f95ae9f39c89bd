"""Members that fail: a failed check with its reason in every table, never NaN, never an exception.

UR I2 I2.17.1: a direct calculation is no way round the formulas of plating and local frames; what fails stays failed.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.columns import ColumnTable
from beltwright.core.outcome import is_met
from beltwright.report.package import documents
from beltwright.report.tables import csv_text
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_frame
from beltwright.scantlings.members import NO_RESULT
from beltwright.weights.steel import steel_weight


def frames_of(section: str) -> ships.Edit:
    """One section for all frames of the side."""
    return lambda doc: doc.setdefault("frame_sections", []).append({"zone": "side", "section": section})


def loose(doc: ships.Document) -> None:
    """Side frames that are simply supported at their upper ends, inside the belt."""
    doc["zones"][0]["upper_end"] = {"fixed": False}


@pytest.fixture(scope="module")
def thin() -> Design:
    """Frames far too weak in shear."""
    return ships.redesigned(frames_of("FB100x8"))


@pytest.fixture(scope="module")
def unheld() -> Design:
    """Frames with loose ends in the ice."""
    return ships.designed(loose)


def prints(table: ColumnTable) -> None:
    """The table can be written, and holds nothing that is not a number, except under a reason."""
    text = csv_text(table)
    assert text.count("\n") == table.rows + 1
    for name, column in table.items():
        if column.data.dtype.kind == "f":
            assert np.isfinite(column.data[column.applies]).all(), name
    assert ",nan" not in text
    assert ",inf" not in text


def test_a_frame_that_fails_in_shear_has_a_finite_ratio_and_names_its_check(thin: Design) -> None:
    """a_1 above 1 (I2.6.3): taken at 1 for the modulus, and the shear check fails with what is needed over what is."""
    run, table = thin.framing_run, thin.frames
    side = np.isin(run.members, np.flatnonzero(table.labels("zone") == "side"))
    members, rows = run.members[side], run.governing[side]
    needed, there = table["shear_area_required_cm2"].data[members], table["shear_area_offered_cm2"].data[members]
    short = needed > there
    assert short.sum() > 100
    assert (run.values["shear_utilisation"][rows][short] == 1.0).all()
    ratio = table["ratio"].data[members]
    assert np.isfinite(ratio).all()
    assert (ratio[short] >= needed[short] / there[short] * (1.0 - 1e-12)).all()
    assert not is_met(ratio[short]).any()
    assert set(table.labels("outcome")[members[short]]) == {"not met"}
    assert set(table.labels("governing")[members]) - {""}
    assert not thin.all_met
    assert "BW440" in {finding.kind.code for finding in thin.findings}
    prints(table)


def test_the_story_of_such_a_frame_says_not_met(thin: Design) -> None:
    row = int(thin.framing_run.members[np.nanargmax(thin.frames["ratio"].data[thin.framing_run.members])])
    assert "NOT met" in explain_frame(thin, str(thin.frames.labels("id")[row])).headline


def test_loose_ends_in_the_ice_are_told_with_a_reason_and_without_a_number(unheld: Design) -> None:
    table = unheld.frames
    failed = (table.labels("zone") == "side") & (table.labels("outcome") == "not met")
    ratio = table["ratio"]
    assert failed.sum() > 100
    assert ratio.reason is not None
    assert set(ratio.reason[failed & ~np.isfinite(ratio.data)]) == {NO_RESULT}
    assert {"BW446", "BW440"} <= {finding.kind.code for finding in unheld.findings}
    prints(table)
    prints(unheld.area_table)
    assert not unheld.all_met


@pytest.mark.slow
def test_every_document_of_a_failing_design_is_made(unheld: Design, thin: Design) -> None:
    for design in (unheld, thin):
        made = documents(design, steel_weight(design), "0" * 64)
        assert b"not met" in made["frames.csv"]
        assert any(name.endswith(".pdf") for name in made)
