"""The documents of the demo ships, made by the whole path: complete, consistent, nothing overlapping."""

from __future__ import annotations

import csv
import io
import json
import re

import jsonschema
import numpy as np
import pytest
from pypdf import PdfReader
from tests.scantlings.demo import project

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
    "supports",
    "direct_calculation",
    "plated_structures",
    "checklist",
    "grades",
    "girder",
    "girder_buckling",
    "girder_bow_fit",
    "findings",
]
SHEETS = ("shell-expansion", "profile", "body-plan")


@pytest.fixture(scope="module", params=SHIPS)
def results(request: pytest.FixtureRequest) -> Results:
    found: Results = project(request.param).results
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
    if results is not project(SHIPS[0]).results:
        return  # the largest ship is enough: the others are made by the same lines
    again = documents(results.design, results.weight, results.inputs_sha256)
    assert [name for name in files if files[name] != again[name]] == []


def test_the_result_obeys_its_schema(plain: dict) -> None:  # type: ignore[type-arg]
    jsonschema.Draft202012Validator(schema()).validate(plain)


def test_the_pictures_are_lean(files: dict[str, bytes]) -> None:
    assert all(len(files[f"{sheet}.svg"]) < 3_000_000 for sheet in SHEETS)


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_two_words_overlap_on_a_sheet(picture: ShipPicture, sheet: str) -> None:
    scene = standard_sheets().sheet(sheet).draw(picture)
    words = list(scene.words())
    boxes = np.stack([word.box for word in words])
    low, high = boxes.min(axis=1), boxes.max(axis=1)
    near = (low[:, None] <= high[None]).all(axis=2)  # upright hulls first: only these pairs can touch
    pairs = np.argwhere(np.triu(near & near.T, 1))
    touching = [(words[a].text, words[b].text) for a, b in pairs if boxes_overlap(boxes[a], boxes[b], -0.01)]
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
    assert 20 < len(pages) <= 60
    last = " ".join(pages[-12:])
    assert plain["provenance"]["unconfirmed_clauses"]
    assert all(entry["clause"] in last for entry in plain["provenance"]["unconfirmed_clauses"])


STEEL_T_PER_M3 = 7.85  # common practice, no source


def by_area(plain: dict, kind: str) -> dict[str, dict[str, float | None]]:  # type: ignore[type-arg]
    """The weight table's rows of a kind by hull area."""
    columns = plain["weights"]["columns"]
    rows = range(plain["weights"]["rows"])
    return {
        columns["hull_area"]["values"][row]: {name: column["values"][row] for name, column in columns.items()}
        for row in rows
        if columns["kind"]["values"][row] == kind
    }


@pytest.mark.parametrize(
    ("kind", "table", "size"), [("plating", "panels", "area_m2"), ("frames", "frames", "length_m")]
)
def test_members_add_up_to_the_weight_table(plain: dict, kind: str, table: str, size: str) -> None:  # type: ignore[type-arg]
    """Second way: mass, first moments and size of every hull area, summed from the rows of the member table."""
    columns = {name: column["values"] for name, column in plain[table]["columns"].items()}
    sides = [2.0 * value for value in columns["length_m"]] if kind == "frames" else columns["net_area_m2"]
    told = by_area(plain, kind)
    areas = [area or "outside" for area in columns["hull_area"]]
    areas = ["outside" if area in ("none", "") else area for area in areas]
    assert set(told) == {area for area, mass in zip(areas, columns["mass_kg"], strict=True) if mass is not None}
    for code, row in told.items():
        chosen = [k for k, area in enumerate(areas) if area == code and columns["mass_kg"][k] is not None]
        mass = sum(columns["mass_kg"][k] for k in chosen)
        assert mass / 1000.0 == pytest.approx(row["mass_t"], rel=1e-9)
        assert sum(sides[k] for k in chosen) == pytest.approx(row[size], rel=1e-9)
        for axis, centre in (("x", "lcg_m"), ("z", "vcg_m")):
            moment = sum(columns["mass_kg"][k] * columns[f"centroid_{axis}_m"][k] for k in chosen)
            assert moment / mass == pytest.approx(row[centre], rel=1e-9)


def test_mass_is_weighed_area_by_thickness_by_density(plain: dict) -> None:  # type: ignore[type-arg]
    columns = {name: column["values"] for name, column in plain["panels"]["columns"].items()}
    net, thickness, mass = (columns[name] for name in ("net_area_m2", "thickness_as_built_mm", "mass_kg"))
    weighed = [k for k, value in enumerate(mass) if value is not None]
    assert weighed == [k for k, value in enumerate(thickness) if value is not None]
    for k in weighed:
        assert mass[k] == pytest.approx(net[k] * thickness[k] * STEEL_T_PER_M3, rel=1e-9)
    plating = sum(row["mass_t"] for row in by_area(plain, "plating").values())
    assert plating == pytest.approx(sum(net[k] * thickness[k] for k in weighed) * STEEL_T_PER_M3 / 1000.0, rel=1e-9)
    bare = sum(net[k] for k in range(len(net)) if mass[k] is None)
    assert plain["weight"]["not_weighed_m2"] == pytest.approx(bare, abs=1e-6)


def test_frames_carry_the_spacing_that_was_checked(plain: dict, results: Results) -> None:  # type: ignore[type-arg]
    told = plain["frames"]["columns"]["spacing_m"]["values"]
    run = results.design.framing_run
    used = run.rows.member[run.governing]
    assert used.tolist() == run.members.tolist()
    assert [told[k] for k in run.members] == pytest.approx(run.values["spacing_m"][run.governing].tolist())


def test_the_edges_of_the_belt_lie_at_the_heights_told(results: Results, plain: dict) -> None:  # type: ignore[type-arg]
    """Second way: heights of the borders in the table against each border's own curve on the shell."""
    columns = {name: column["values"] for name, column in plain["borders"]["columns"].items()}
    stem = results.design.measures.stem_x_m
    places = {"z_amidships_m": 0.5 * stem, "z_at_ap_m": 0.0}
    met = 0
    for row, border in enumerate(columns["border"]):
        for name, x in places.items():
            for curve in results.design.borders:
                run = curve.points[:, 0]
                if curve.border.name != border or columns[name][row] is None or not run.min() < x < run.max():
                    continue
                order = run.argsort(kind="stable")
                nearest = np.interp(x, run[order], curve.points[order, 2])
                assert columns[name][row] == pytest.approx(nearest, abs=0.02)
                met += 1
    assert met >= 3


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
