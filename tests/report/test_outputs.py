"""Booklet, tables and result file of an invented ship: complete, equal to each other, stable, and safe to open."""

from __future__ import annotations

import csv
import dataclasses
import importlib.util
import io
import json
import math
import re
from pathlib import Path
from types import ModuleType

import jsonschema
import numpy as np
import pytest
from pypdf import PdfReader

from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.booklet import booklet_files, booklet_pdf
from beltwright.report.cells import gathered
from beltwright.report.edition import difference_table, edition_lines
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, ChapterRegistry, Written
from beltwright.report.result_json import result, result_text, schema
from beltwright.report.selection import governing_rows
from beltwright.report.standard import standard_chapters
from beltwright.report.tables import csv_files, csv_text, safe_text
from beltwright.report.terminal import text_table
from beltwright.rules.registry import differences
from beltwright.scantlings.edition import EditionUsed


def _sample() -> ModuleType:
    spec = importlib.util.spec_from_file_location("report_sample", Path(__file__).parent / "sample.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def material() -> Material:
    found: Material = _sample().material()
    return found


@pytest.fixture(scope="module")
def pdf(material: Material) -> bytes:
    return booklet_pdf(material)


@pytest.fixture(scope="module")
def pages(pdf: bytes) -> list[str]:
    return [re.sub(r"\s+", " ", page.extract_text().replace("\xad", "-")) for page in PdfReader(io.BytesIO(pdf)).pages]


def test_the_first_page_carries_every_caution(pages: list[str]) -> None:
    for head, _ in CAUTIONS:
        assert f"{head}." in pages[0]


def test_every_page_carries_the_short_caution_the_inputs_and_its_number(pages: list[str], material: Material) -> None:
    for number, page in enumerate(pages, 1):
        assert SHORT_CAUTION in page
        assert material.picture.title.input_hash[:16] in page
        assert f"page {number} of {len(pages)}" in page


def test_the_booklet_is_not_longer_than_forty_pages(pages: list[str]) -> None:
    assert 10 < len(pages) <= 40


def test_every_chapter_has_a_bookmark_in_order(pdf: bytes) -> None:
    titles = [item.title for item in PdfReader(io.BytesIO(pdf)).outline if not isinstance(item, list)]
    wanted = [
        "Ship and rules",
        "Conventions",
        "Findings",
        "Hull, waterlines and hydrostatics",
        "Hull areas",
        "Hull angles",
        "Design ice loads",
        "Shell plating",
        "Frames",
        "Steel grades",
        "Web frames and stringers",
        "Longitudinal strength in ice",
        "Corrosion, abrasion and renewal",
        "Steel weight",
        "Checklist of clauses without formula",
        "Values not confirmed against the printed page",
    ]
    assert [title.split(" ", 1)[1] if title[0].isdigit() else title for title in titles] == wanted


def test_the_same_material_gives_the_same_bytes(material: Material, pdf: bytes) -> None:
    assert booklet_pdf(material) == pdf


def test_the_booklet_tells_the_numbers_of_the_result_file(material: Material, pages: list[str]) -> None:
    whole = " ".join(pages)
    plain = result(material)
    for patch in plain["patches"]:
        for key in ("force_mn", "width_m", "height_m", "pressure_mpa"):
            assert f"{patch[key]:.3f}" in whole
    for value in plain["areas"]["columns"]["area_m2"]["values"]:
        assert f"{value:.1f}" in whole
    panels = material.panels
    for row, _ in governing_rows(panels):
        assert str(panels.labels("id")[row]) in whole
        assert f"{float(panels['thickness_required_mm'].data[row]):.1f}" in whole


def test_every_unconfirmed_cell_and_clause_is_listed(material: Material) -> None:
    source = booklet_files(material)["main.typ"].decode()
    listed = source[source.index("Values not confirmed against the printed page") :]
    assert material.unconfirmed_cells
    lines = gathered(material.unconfirmed_cells)
    assert all(json.dumps(place, ensure_ascii=False) in listed for place, *_ in lines)
    # gathered lines lose no cell: one value each, or the columns of a record by name
    assert sum(values.count("; ") + 1 for _, values, *_ in lines) == len(material.unconfirmed_cells)
    assert all(clause.citation in listed for clause in material.unconfirmed_clauses)


def test_an_override_is_printed_with_its_reason(material: Material, pages: list[str]) -> None:
    assert any(material.overrides[0].reason.rstrip(".") in page for page in pages)


def test_what_a_user_wrote_cannot_become_code(material: Material) -> None:
    title = dataclasses.replace(
        material.picture.title, ship='#panic("x") "quoted" $x$ \\', owner="*b* `raw` @label <l>"
    )
    hostile = dataclasses.replace(material, picture=dataclasses.replace(material.picture, title=title))
    first = PdfReader(io.BytesIO(booklet_pdf(hostile))).pages[0].extract_text()
    assert '#panic("x")' in first
    assert "*b*" in first


def test_no_number_is_told_twice_between_chapters(material: Material) -> None:
    from beltwright.report.chapters.told import lines_of

    told = [
        line.name
        for part in (material.length_and_displacement, material.border_calculation, *material.load_calculations)
        for line in lines_of(material, part)
    ]
    assert len(told) == len(set(told))
    assert {"rule_length_m", "displacement_bow_kt", "bow_aft_m", "bow_pressure_mpa"} <= set(told)


def test_the_weights_say_what_was_weighed(pages: list[str]) -> None:
    page = " ".join(pages)
    assert "612.4" in page
    assert "780.1" in page
    assert "counts whole, with the hull area whose factor it takes" in page
    assert "Not weighed: 431.7 m² of shell without a thickness, both sides; web frames, floors, stringers." in page


def test_the_outcome_says_what_it_covers(pages: list[str]) -> None:
    assert "requirements not met; see the findings for which" in pages[0]
    assert "2 web frame spans and stringer bays (one side), 14 clauses of the" in pages[0]


def test_border_heights_and_the_load_that_governs_are_printed(pages: list[str]) -> None:
    whole = " ".join(pages)
    assert "in metres above the baseline" in whole
    assert "7.62" in whole
    assert "load that governs" in whole


def test_the_numbers_of_the_sub_regions_are_numbered(material: Material) -> None:
    """No two different numbers of the load calculations stand under one symbol, in the lines or in their formulas."""
    from beltwright.report.chapters.told import lines_of

    lines = [line for told in material.load_calculations for line in lines_of(material, told)]
    by_symbol: dict[str, set[str]] = {}
    for line in lines:
        if line.citation and line.plain is not None:
            by_symbol.setdefault(line.symbol, set()).add(line.name)
    assert [symbol for symbol, names in by_symbol.items() if len(names) > 1] == []
    assert {"F_1", "F_2", "F_3", "F_4", "Q_4", "P_4", "AR_4", "fa_4,1"} <= set(by_symbol)
    greatest = next(line for line in lines if line.name == "bow_force_mn")
    assert greatest.plain is not None
    assert all(f"F_{n}" in greatest.plain.symbols for n in range(1, 5))


def test_a_chapter_registry_refuses_a_second_of_one_id() -> None:
    registry = ChapterRegistry()
    chapter = registry.register(Chapter(id="a", title="A", write=lambda _: Written(markup="")))
    with pytest.raises(ValueError, match="a is registered already"):
        registry.register(chapter)
    assert len(standard_chapters().all()) == 18  # one of them, the ship as a whole, is blank here


def test_the_result_obeys_its_schema(material: Material) -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    jsonschema.Draft202012Validator(schema()).validate(json.loads(result_text(material)))


@pytest.mark.parametrize(
    "break_it",
    [
        lambda r: r.pop("provenance"),
        lambda r: r.update(outcome="perhaps"),
        lambda r: r.update(extra=1),
        lambda r: r["panels"]["columns"].pop("ratio"),
        lambda r: r["panels"]["columns"]["ratio"].pop("unit"),
        lambda r: r["provenance"].update(input_hash="zz"),
    ],
)
def test_the_schema_refuses_a_broken_result(material: Material, break_it) -> None:  # type: ignore[no-untyped-def]
    broken = json.loads(result_text(material))
    break_it(broken)
    assert list(jsonschema.Draft202012Validator(schema()).iter_errors(broken))


def test_what_does_not_apply_is_null_with_its_reason(material: Material) -> None:
    column = json.loads(result_text(material))["panels"]["columns"]["ratio"]
    rows = [row for entry in column["not_applicable"] for row in entry["rows"]]
    assert [row for row, value in enumerate(column["values"]) if value is None] == rows == [material.panels.rows - 1]
    assert column["not_applicable"][0]["reason"] == "no ice requirement"


def test_the_edition_and_what_editions_differ_in_stand_in_the_result(material: Material) -> None:
    plain = json.loads(result_text(material))["edition"]
    assert plain == {
        "rule_set": "not stated", "contract_date": "not stated", "standing": "not stated", "differences": None,
    }  # fmt: skip
    used = EditionUsed(
        rule_set="polar_iacs_2019",
        contract="2024-05-14",
        standing="applies",
        differences=differences("polar_iacs_2019"),
    )
    told = dataclasses.replace(
        material, edition=edition_lines(used), edition_differences=difference_table(used.differences)
    )
    whole = json.loads(result_text(told))
    jsonschema.Draft202012Validator(schema()).validate(whole)
    assert whole["edition"]["contract_date"] == "2024-05-14"
    columns = whole["edition"]["differences"]["columns"]
    assert "I2.2.4" in columns["clause"]["values"]
    assert {"polar_iacs_2016", "polar_iacs_2019"} < set(columns)


def holed(value: float) -> ColumnTable:
    return ColumnTable("t", {"x_m": Column(unit=Unit("m"), meaning="x", data=np.array([1.0, value]))})


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_a_number_without_value_and_reason_never_leaves(material: Material, value: float) -> None:
    with pytest.raises(ValueError, match="gives no reason"):
        csv_text(holed(value))
    with pytest.raises(ValueError, match="not JSON compliant"):
        result_text(dataclasses.replace(material, loads=holed(value)))


def test_every_table_is_written_and_reads_back(material: Material) -> None:
    files = csv_files(material)
    names = [
        "hull_file",
        "hydrostatics",
        "side_ends",
        "stations",
        "loads",
        "borders",
        "areas",
        "panels",
        "frames",
        "weights",
        "supports",
        "direct_calculation",
        "plated_structures",
        "checklist",
        "findings",
    ]
    assert set(files) == {f"{name}.csv" for name in names}
    rows = list(csv.DictReader(io.StringIO(files["panels.csv"])))
    assert len(rows) == material.panels.rows
    for row, ratio in zip(rows[:-1], material.panels["ratio"].data[:-1], strict=True):
        assert float(row["ratio"]) == pytest.approx(float(ratio), rel=1e-9)
    assert rows[-1]["ratio"] == "n/a: no ice requirement"


@pytest.mark.parametrize("text", ["=1+1", "+1", "-2", "@x", "\t=1", " =1", "\n=1", "＝1"])
def test_text_that_could_be_a_formula_is_defused(text: str) -> None:
    assert safe_text(text).startswith("'")


def test_plain_text_and_negative_numbers_stay_as_they_are() -> None:
    assert safe_text("B+BIi") == "B+BIi"
    table = ColumnTable("t", {"x_m": Column(unit=Unit("m"), meaning="x", data=np.array([-1.5]))})
    assert csv_text(table) == "x_m\n-1.5\n"


def test_the_governing_row_of_each_group() -> None:
    def words(data: list[str]) -> Column:
        return Column(unit=Unit("label"), meaning="w", data=np.array(data))

    ratio = Column(
        unit=Unit("-"), meaning="r", data=np.array([0.5, 0.9, 0.7, np.nan]), reason=np.array(["", "", "", "none"])
    )
    table = ColumnTable(
        "t", {"group": words(["a", "a", "b", "c"]), "hull_area": words(["B", "B", "A", "A"]), "ratio": ratio}
    )
    assert governing_rows(table) == [(1, 2), (2, 1)]


def test_the_terminal_table_has_units_under_its_headers(material: Material) -> None:
    text = text_table(
        material.area_table, [("code", "area"), ("area_m2", "shell"), ("thickness_most_mm", "plate")], "Hull areas"
    )
    assert text.splitlines()[0] == "Hull areas"
    assert "m²" in text
    assert "BIi" in text
    assert "nan" not in text
