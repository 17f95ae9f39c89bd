"""A ship under every class: the same numbers as seven designs, each failure a row, offered scantlings left aside."""

from __future__ import annotations

import csv
import io
import json
from functools import cache

import numpy as np
import pytest
from pypdf import PdfReader
from tests.scantlings.ships import Document, Edit, arranged, measured, redesigned, ship

from beltwright.drawing.class_chart import ClassBar, class_chart
from beltwright.report.classes import FORMAT, STATED, class_documents, class_lines
from beltwright.rules.registry import rule_set
from beltwright.weights.classes import MET, NO_RESULT, NOT_MET, ClassComparison, compare_classes, mass_of, of_class
from beltwright.weights.steel import steel_weight

CLASSES = ("PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7")


def compared(*edits: Edit) -> ClassComparison:
    return compare_classes(ship(*edits), rule_set("polar_iacs_2019"), measured(), arranged())


@cache
def plain() -> ClassComparison:
    """The small test ship, made once."""
    return compared()


@cache
def bulbous() -> ClassComparison:
    """The same with a bulb: no formula for PC1 to PC5."""
    return compared(lambda doc: doc["ice"].update(bulbous_bow=True))


@pytest.mark.parametrize("ice_class", ["PC2", "PC4", "PC7"])
def test_each_class_is_what_a_design_of_its_own_gives(ice_class: str) -> None:
    alone = redesigned(lambda doc: doc["ice"].update(ice_class=ice_class))
    weight = steel_weight(alone)
    found = plain().of(ice_class)
    assert found.design is not None
    assert found.weight is not None
    for table in ("plating", "frames"):
        one, other = getattr(found.design, table), getattr(alone, table)
        assert np.array_equal(one["ratio"].data, other["ratio"].data, equal_nan=True)
    assert found.design.frames.labels("section").tolist() == alone.frames.labels("section").tolist()
    assert found.weight.modelled_t == weight.modelled_t
    row = CLASSES.index(ice_class)
    summary = plain().summary
    assert summary["modelled_t"].data[row] == weight.modelled_t
    assert summary["plating_t"].data[row] + summary["frames_t"].data[row] == pytest.approx(weight.modelled_t, rel=1e-12)
    assert summary["frames_t"].data[row] == mass_of(weight, "frames")
    # the greatest requirement of the bow, read from the plating itself
    bow = alone.plating.labels("hull_area") == "B"
    assert summary["thickness_required_B_mm"].data[row] == alone.plating["thickness_required_mm"].data[bow].max()
    areas = plain().areas
    at = int(np.flatnonzero((areas.labels("ice_class") == ice_class) & (areas.labels("hull_area") == "B"))[0])
    frames = alone.frames.labels("hull_area") == "B"
    assert areas["modulus_required_cm3"].data[at] == np.nanmax(alone.frames["modulus_required_cm3"].data[frames])
    assert areas.labels("governing_panel")[at] in alone.plating.labels("id")[bow]


def test_loads_by_hand() -> None:
    """Outside the bow, below 10 kt: F = 0.36 CFC 10^0.64 and Q = 0.639 F^0.61 CFD with Table 1 for each class."""
    crushing = (17.69, 9.89, 6.06, 4.50, 3.10, 2.40, 1.80)
    patch = (2.01, 1.75, 1.53, 1.42, 1.31, 1.17, 1.11)
    summary = plain().summary
    for row, (cfc, cfd) in enumerate(zip(crushing, patch, strict=True)):
        force = 0.36 * cfc * 10.0**0.64
        line = 0.639 * force**0.61 * cfd
        assert summary["other_force_mn"].data[row] == pytest.approx(force, rel=1e-12)
        assert summary["other_line_load_mn_per_m"].data[row] == pytest.approx(line, rel=1e-12)
        assert summary["other_patch_width_m"].data[row] == pytest.approx(force / line, rel=1e-12)
        assert summary["other_patch_height_m"].data[row] == pytest.approx(force / line / 3.6, rel=1e-12)
    assert set(summary["displacement_other_kt"].data) == {10.0}
    assert set(summary["displacement_bow_kt"].data) == {5.0}


def test_a_stronger_class_never_asks_for_less() -> None:
    summary = plain().summary
    for name in ("bow_force_mn", "bow_line_load_mn_per_m", "bow_greatest_pressure_mpa", "thickness_required_B_mm"):
        assert (np.diff(summary[name].data) < 0.0).all(), name
    met = [row for row, one in enumerate(plain().results) if one.outcome == MET]
    assert len(met) > 3
    assert (np.diff(summary["modelled_t"].data[met]) < 0.0).all()
    own = CLASSES.index("PC4")
    assert summary["own"].data.tolist() == [row == own for row in range(7)]
    assert summary["more_than_own_t"].data[own] == 0.0
    assert summary["more_than_own_t"].data[0] == pytest.approx(
        summary["modelled_t"].data[0] - summary["modelled_t"].data[own], rel=1e-12
    )


def test_a_class_outside_the_rules_is_a_row_with_its_reason() -> None:
    made = bulbous()
    assert [one.outcome for one in made.results[:5]] == [NO_RESULT] * 5
    for one in made.results[:5]:
        assert one.weight is None
        assert one.number("bow_force_mn") is None
        (reason,) = one.reasons
        assert "with a bulbous bow" in reason
        assert "overrides.bow_form" in reason
    assert all(one.design is not None for one in made.results[5:])
    summary = made.summary
    assert np.isnan(summary["modelled_t"].data[:5]).all()
    assert not np.isnan(summary["modelled_t"].data[5:]).any()
    assert np.isnan(summary["more_than_own_t"].data).all(), "the ship's own class, PC4, has no result"
    assert set(made.areas.labels("ice_class").tolist()) == {"PC6", "PC7"}


def test_nothing_in_stock_is_a_row_with_its_reason() -> None:
    made = compared(lambda doc: doc.update(stock={"frame_kinds": ["flat"]}))
    strongest = made.results[0]
    assert strongest.outcome == NOT_MET
    assert any(text.startswith("No section of the catalogue meets every check: frames ") for text in strongest.reasons)
    assert any(text.startswith("A scantling does not meet its requirement: frames: ") for text in strongest.reasons)
    assert strongest.weight is not None


def test_no_class_at_all_still_gives_a_table() -> None:
    """Azimuthing units without a written reason: every class ends at I2.3.5(iii)."""
    made = compared(lambda doc: doc["propulsion"].update(kind="azimuthing units"))
    assert [one.outcome for one in made.results] == [NO_RESULT] * 7
    assert made.area_codes == made.loads == ()
    assert made.areas.rows == 0
    assert all("I2.3.5(iii)" in one.reasons[0] for one in made.results)
    assert "no result" in "\n".join(class_lines(made))
    assert set(class_documents(made, "0" * 64)) == {"classes.csv", "class_areas.csv", "classes.json", "classes.pdf"}


def test_offered_scantlings_are_left_aside() -> None:
    def offer(doc: Document) -> None:
        doc["plates"] = [{"hull_area": "B", "thickness_as_built_mm": 5.0}]
        doc["frame_sections"] = [{"section": "FB100x10"}]

    given = of_class(ship(offer), "PC4")
    assert (given.plates, given.frame_sections, given.ice.ice_class) == ((), (), "PC4")
    made = compared(offer)
    assert made.summary["modelled_t"].data.tolist() == plain().summary["modelled_t"].data.tolist()
    assert {str(word) for word in made.of("PC4").design.plating.labels("source")} <= {"proposed", "none"}  # type: ignore[union-attr]


def test_documents() -> None:
    written = class_documents(plain(), "ab" * 32)
    assert written == class_documents(plain(), "ab" * 32), "the same comparison gives the same bytes"
    rows = list(csv.DictReader(io.StringIO(written["classes.csv"].decode("utf-8"))))
    assert [row["ice_class"] for row in rows] == list(CLASSES)
    for row, told in enumerate(rows):
        assert float(told["modelled_t"]) == pytest.approx(plain().summary["modelled_t"].data[row], rel=1e-9)
    areas = list(csv.DictReader(io.StringIO(written["class_areas.csv"].decode("utf-8"))))
    assert len(areas) == 7 * 10
    told_json = json.loads(written["classes.json"])
    assert (told_json["format"], told_json["own_class"], told_json["input_hash"]) == (FORMAT, "PC4", "ab" * 32)
    assert told_json["classes"]["columns"]["bow_force_mn"]["unit"] == "MN"
    assert set(told_json["reasons"]) == set(CLASSES)
    pages = PdfReader(io.BytesIO(written["classes.pdf"])).pages
    assert 1 <= len(pages) <= 2
    text = " ".join(" ".join(page.extract_text().split()) for page in pages)
    for sentence in STATED:
        assert sentence.split(",")[0] in text.replace("- ", ""), sentence
    assert f"{plain().summary['total_t'].data[3]:.1f}" in text


def test_terminal_text_has_every_class_and_what_is_stated() -> None:
    lines = list(class_lines(plain()))
    assert lines[0].startswith("Small test ship, classes of UR I2 Rev.4")
    whole = "\n".join(lines)
    assert "PC4 *" in whole
    assert all(sentence in lines for sentence in STATED)
    assert max(len(line) for line in whole.splitlines() if line.startswith(" ")) < 160
    for one in plain().results:
        assert (f"{one.ice_class}, {one.outcome}: " in whole) == bool(one.reasons)


@pytest.mark.parametrize(
    "bars",
    [
        (),
        (ClassBar(name="A", plating_t=None, frames_t=None, thickness_mm=None, said="no result", own=True),),
        tuple(
            ClassBar(name=f"PC{n}", plating_t=10.0**n, frames_t=3.0, thickness_mm=5.0 * n, said="not met", own=n == 2)
            for n in range(1, 8)
        ),
    ],
)
def test_the_picture_keeps_its_words_on_the_sheet(bars: tuple[ClassBar, ...]) -> None:
    scene = class_chart(bars, "greatest required thickness, hull area B")
    for words in scene.words():
        assert words.box.min() >= 0.0, words.text
        assert words.box[:, 0].max() <= scene.width_mm, words.text
        assert words.box[:, 1].max() <= scene.height_mm, words.text
    assert {bar.name for bar in bars} <= {words.text for words in scene.words()}
