"""The documents of the demo ships, made by the whole path: complete, consistent, nothing overlapping."""

from __future__ import annotations

import csv
import io
import itertools
import json
import re
from pathlib import Path

import jsonschema
import pytest
from pypdf import PdfReader

from beltwright.app.project import Project
from beltwright.app.results import Results
from beltwright.drawing.from_design import picture_of
from beltwright.drawing.lettering import boxes_overlap
from beltwright.drawing.picture import ShipPicture
from beltwright.drawing.standard import standard_sheets
from beltwright.report.package import documents
from beltwright.report.result_json import schema

pytestmark = pytest.mark.slow
SHIPS = ("quillan-frostmark", "merrow-tarn", "merrow-tarn-upright")
TABLES = [
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
    "findings",
]
SHEETS = ("shell-expansion", "profile", "body-plan")


@pytest.fixture(scope="module", params=SHIPS)
def results(request: pytest.FixtureRequest, root: Path) -> Results:
    found: Results = Project(root / "examples" / request.param).results
    return found


@pytest.fixture(scope="module")
def files(results: Results) -> dict[str, bytes]:
    return documents(results.design, results.weight, results.inputs_sha256)


@pytest.fixture(scope="module")
def picture(results: Results) -> ShipPicture:
    return picture_of(results.design, results.inputs_sha256)


@pytest.fixture(scope="module")
def plain(files: dict[str, bytes]) -> dict:  # type: ignore[type-arg]
    loaded: dict = json.loads(files["result.json"])  # type: ignore[type-arg]
    return loaded


@pytest.fixture(scope="module")
def pages(files: dict[str, bytes]) -> list[str]:
    reader = PdfReader(io.BytesIO(files["booklet.pdf"]))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def test_every_document_is_there(files: dict[str, bytes]) -> None:
    wanted = {"booklet.pdf", "result.json", *(f"{name}.csv" for name in TABLES)}
    assert set(files) == wanted | {f"{sheet}.{kind}" for sheet in SHEETS for kind in ("svg", "pdf")}


def test_a_second_run_gives_the_same_bytes(files: dict[str, bytes], results: Results) -> None:
    again = documents(results.design, results.weight, results.inputs_sha256)
    assert [name for name in files if files[name] != again[name]] == []


def test_the_result_obeys_its_schema(plain: dict) -> None:  # type: ignore[type-arg]
    jsonschema.Draft202012Validator(schema()).validate(plain)


def test_the_pictures_are_lean(files: dict[str, bytes]) -> None:
    assert all(len(files[f"{sheet}.svg"]) < 3_000_000 for sheet in SHEETS)


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_two_words_overlap_on_a_sheet(picture: ShipPicture, sheet: str) -> None:
    scene = standard_sheets().sheet(sheet).draw(picture)
    boxes = [(word.text, word.box) for word in scene.words()]
    touching = [(one, other) for (one, a), (other, b) in itertools.combinations(boxes, 2) if boxes_overlap(a, b, -0.01)]
    assert touching == []


@pytest.mark.parametrize("sheet", SHEETS)
def test_everything_lies_on_the_paper(picture: ShipPicture, sheet: str) -> None:
    scene = standard_sheets().sheet(sheet).draw(picture)
    for word in scene.words():
        assert (word.box.min(axis=0) >= [20.0, 10.0]).all(), word.text
        assert (word.box.max(axis=0) <= [scene.width_mm - 10.0, scene.height_mm - 10.0]).all(), word.text


def test_the_borders_on_the_drawing_are_those_of_the_rule_set(picture: ShipPicture, results: Results) -> None:
    """Each transverse border's dimension equals the number its trace ends with."""
    trace = results.design.areas.trace
    drawn = {border.name: border.aft_of_stem_m for border in picture.borders if border.transverse}
    for name, number in (
        ("aft border of the bow", "bow_aft_m"),
        ("aft border of bow intermediate", "intermediate_aft_m"),
        ("forward border of the stern", "stern_forward_m"),
    ):
        assert drawn[name] == pytest.approx(float(trace[number].value), abs=1e-6)


def test_the_waterlines_lie_at_their_heights(picture: ShipPicture, results: Results) -> None:
    for curve, line in ((picture.upper, results.design.measures.upper), (picture.lower, results.design.measures.lower)):
        run = curve.profile
        assert run[:, 1] == pytest.approx(line.level.height(run[:, 0]), abs=2e-3)
        assert len(curve.expansion) > 10


def test_the_booklet_tells_the_numbers_of_the_result_file(plain: dict, pages: list[str]) -> None:  # type: ignore[type-arg]
    whole = " ".join(pages)
    for patch in plain["patches"]:
        for key in ("force_mn", "width_m", "height_m", "pressure_mpa"):
            assert f"{patch[key]:.3f}" in whole
    columns = plain["areas"]["columns"]
    for name, decimals in (("area_m2", 1), ("thickness_least_mm", 1), ("thickness_most_mm", 1)):
        for value in columns[name]["values"]:
            assert value is None or f"{value:.{decimals}f}" in whole
    for name in ("alpha_deg", "beta_deg", "beta_prime_deg", "gamma_deg"):
        assert all(f"{value:.2f}" in whole for value in plain["stations"]["columns"][name]["values"])
    assert f"{plain['displacement_upper_kt']:.3f} kt" in pages[0]
    assert f"{plain['rule_length_m']:.2f} m" in pages[0]
    assert f"{plain['weight']['total_t']:.2f}" in whole
    assert plain["provenance"]["input_hash"] in pages[0]
    assert plain["provenance"]["result_hash"] in pages[0]


def test_the_booklet_stays_short_and_lists_what_is_not_confirmed(plain: dict, pages: list[str]) -> None:  # type: ignore[type-arg]
    assert 20 < len(pages) <= 40
    last = " ".join(pages[-8:])
    assert plain["provenance"]["unconfirmed_clauses"]
    assert all(entry["clause"] in last for entry in plain["provenance"]["unconfirmed_clauses"])


def test_csv_and_result_file_hold_the_same_panels(plain: dict, files: dict[str, bytes]) -> None:  # type: ignore[type-arg]
    for table in ("panels", "frames"):
        rows = list(csv.DictReader(io.StringIO(files[f"{table}.csv"].decode())))
        assert len(rows) == plain[table]["rows"]
        for name in ("ratio", "yield_mpa"):
            column = plain[table]["columns"][name]["values"]
            for row, value in zip(rows, column, strict=True):
                if value is None:
                    assert row[name].startswith("n/a: ")
                else:
                    assert float(row[name]) == pytest.approx(value, rel=1e-9)
