"""The results of a project: hashes that move with any input, tables, stories; the small ship through its files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
import tomlkit
from tests.scantlings import ships

from beltwright import Project
from beltwright.core.errors import InputError
from beltwright.hull.forms.offsets import offset_stations

FILE = "hull_offsets.csv"


def ship_folder(path: Path, *edits: ships.Edit) -> Path:
    """A ship folder of the small ship with its hull as an offset table."""
    path.mkdir()
    doc = ships.edited(lambda d: d["hull"].update(file=FILE, length_unit="m"), *edits)
    (path / "ship.toml").write_text(tomlkit.dumps(doc), encoding="utf-8")
    lines = ["station_m,height_m,half_breadth_m,knuckle"]
    for station in offset_stations(ships.FORM):
        rows = zip(station.height.tolist(), station.half_breadth.tolist(), station.knuckle.tolist(), strict=True)
        lines += [f"{station.x},{z},{y},{int(mark)}" for z, y, mark in rows]
    (path / FILE).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """The small ship's project, run once."""
    project = Project(ship_folder(tmp_path_factory.mktemp("app") / "ship"))
    assert project.results is project.results
    return project


def test_the_file_gives_the_form(made: Project) -> None:
    """kind: second-method. The same ship through an offset table of 30 points per station and as spline faces."""
    through_file, direct = made.results.design, ships.baseline()
    for name, value in direct.facts.items():
        if value.dtype.kind == "f":
            assert float(through_file.facts[name][0]) == pytest.approx(float(value[0]), rel=5e-3, abs=0.3), name
    assert through_file.measures.upper.displacement_kt == pytest.approx(direct.measures.upper.displacement_kt, rel=1e-3)
    for one, other in zip(through_file.loads.patches, direct.loads.patches, strict=True):
        assert one.force_mn == pytest.approx(other.force_mn, rel=5e-3)
    assert through_file.plating.labels("id").tolist() == direct.plating.labels("id").tolist()
    assert made.results.weight.modelled_t > 50.0


def test_tables_and_findings(made: Project) -> None:
    results = made.results
    assert set(results.tables) == {
        "hull areas", "plating", "panels", "frames", "frame spans", "steel weight", "web frames and stringers",
        "direct calculation", "plated structures", "checklist", "steel grades", "longitudinal strength",
        "girder buckling",
    }  # fmt: skip
    assert made.tables["plating"] is results.design.plating
    assert results.tables["panels"].rows == results.tables["plating"].rows
    assert results.tables["frame spans"].rows == results.tables["frames"].rows
    assert made.findings == (*results.design.findings, *results.weight.findings)
    assert {f.kind.code for f in made.findings} >= {"BW402", "BW501"}


def test_five_lines_of_python(made: Project) -> None:
    """What the manual promises of the Python way."""
    project = made
    thickest = project.tables["hull areas"]["thickness_most_mm"]
    assert thickest.unit.symbol == "mm"
    panel = str(project.tables["hull areas"].labels("governing_panel")[0])
    assert project.explain(panel).trace["thickness_required_mm"].unit.symbol == "mm"
    assert project.results.weight.total_t >= project.results.weight.modelled_t


def test_stories_by_name(made: Project) -> None:
    frame = str(made.tables["frames"].labels("id")[int(made.results.design.framing_run.members[0])])
    assert made.explain_frame(frame).kind == "frame"
    with pytest.raises(InputError, match="there is none of this name"):
        made.explain("F1/nowhere")
    with pytest.raises(InputError, match="there is none of this name"):
        made.explain_frame("F1/nowhere")


CHANGES: dict[str, ships.Edit] = {
    "draught": lambda d: d["waterlines"]["upper"][0].update(draught_m=3.79),
    "density": lambda d: d["water"].update(density_t_m3=1.0249),
    "class": lambda d: d["ice"].update(ice_class="PC5"),
    "a level": lambda d: d["levels"][0].update(height_m=1.01),
    "a grade": lambda d: d["steel"].update(frame_grade="EH40"),
    "the name": lambda d: d["ship"].update(name="Small test ship 2"),
    "a plate": lambda d: d.update(plates=[{"thickness_as_built_mm": 20.0}]),
    "an allowance": lambda d: d.update(weights={"weld_metal": 0.01}),
}


@pytest.mark.parametrize("what", CHANGES)
def test_any_change_moves_the_inputs_hash(made: Project, what: str, tmp_path: Path) -> None:
    other = Project(ship_folder(tmp_path / "ship", CHANGES[what]))
    assert other.read.inputs_fingerprint("0" * 64) != made.read.inputs_fingerprint("0" * 64)


def text_edit(name: str, change: Callable[[str], str]) -> Callable[[Path], None]:
    return lambda folder: (folder / name).write_text(change((folder / name).read_text("utf-8")), "utf-8") and None


@pytest.mark.parametrize(
    ("edit", "same"),
    [
        (text_edit("ship.toml", lambda text: "# a remark\n" + text), True),
        (text_edit("ship.toml", lambda text: text.replace("draught_m = 3.8", "draught_m = 3.80")), True),
        (text_edit("ship.toml", lambda text: text + "\n[stock]\nstep_mm = 0.5\n"), True),  # the default, written out
        (text_edit(FILE, lambda text: text.replace("0.0,0\n", "0.00,0\n", 1)), False),  # the hull file's own bytes
    ],
    ids=["a remark", "a spelling", "a default", "the hull file"],
)
def test_what_the_hash_does_not_see(made: Project, edit: Callable[[Path], None], same: bool, tmp_path: Path) -> None:
    """Remarks, spellings and defaults are not inputs; every byte of the hull file is."""
    folder = ship_folder(tmp_path / "ship")
    edit(folder)
    other = Project(folder)
    assert (other.read.inputs_fingerprint(other.hull.sha256) == made.results.inputs_sha256) is same


def test_the_result_hash_rests_on_the_inputs_hash(made: Project) -> None:
    results = made.results
    assert len(results.result_sha256) == 64
    assert replace(results, inputs_sha256="0" * 64).result_sha256 != results.result_sha256
    assert replace(results).result_sha256 == results.result_sha256
