"""A new ship from a hull file: what the file shows, names that are safe, and a first description to be designed."""

from __future__ import annotations

import shutil
import tomllib
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from beltwright import Project
from beltwright.app.new_ship import Answers, first_description, folder_name, hull_name, look_at, proposed_levels
from beltwright.core.errors import InputError
from beltwright.hull.placing import HullSettings

HULL = Path("examples/merrow-tarn/hull_offsets.csv")
ANSWERS = Answers(
    name="Trial Ship", hull_file="hull.csv", rules="polar_iacs_2019", ice_class="PC6", depth_m=8.0, upper_draught_m=5.0,
    lower_draught_m=4.6, displacement_allowance_t=25.0, frame_spacing_m=0.4, web_frame_spacing_m=1.6,
    levels=proposed_levels(8.0, 4.6), propulsion="shafts with rudders", rudder_stock_x_m=1.2, plate_grade="EH36",
    frame_grade="EH36",
)  # fmt: skip


def test_what_a_file_shows_is_told_with_its_grounds() -> None:
    look = look_at(HULL, HullSettings())
    assert look.box is not None
    (low_x, _, low_z), (high_x, high_y, high_z) = look.box
    assert high_x - low_x == pytest.approx(88.0, abs=1.0)  # the demo ship's length over all is 88.0 m
    assert high_y == pytest.approx(8.3, abs=0.05)  # her breadth 16.6 m
    assert (low_z, high_z) == pytest.approx((0.0, 8.0), abs=0.05)
    assert {row.what for row in look.rows} >= {"length unit"}
    assert look.picture is not None
    words = [item.text for item in look.picture.words()]
    assert "body plan" in words
    assert "side, bow at the right" in words


@pytest.mark.slow
def test_the_first_description_is_designed_as_it_stands(tmp_path: Path) -> None:
    look = look_at(HULL, HullSettings())
    assert look.box is not None
    shutil.copy(HULL, tmp_path / "hull.csv")
    text = first_description(ANSWERS, HullSettings(), (look.box[0][0], look.box[1][0]))
    (tmp_path / "ship.toml").write_text(text, encoding="utf-8")
    made = Project(tmp_path).results
    assert made.design.measures.upper.displacement_kt == pytest.approx(4.37, rel=0.01)  # the demo ship's own 4,371 t
    assert made.design.plating.rows > 1000


def test_answers_about_the_file_stand_in_the_description() -> None:
    text = first_description(ANSWERS, HullSettings(length_unit="mm", ap_x_m=1.5), (-2.0, 86.0))
    hull = tomllib.loads(text)["hull"]
    assert (hull["length_unit"], hull["ap_x_m"], "side" in hull) == ("mm", 1.5, False)


def test_levels_that_contradict_each_other_are_refused() -> None:
    with pytest.raises(InputError, match="levels: are too few"):
        first_description(replace(ANSWERS, levels=ANSWERS.levels[:1]), HullSettings(), (0.0, 80.0))
    with pytest.raises(InputError, match=r"hull\.depth_m"):
        first_description(replace(ANSWERS, depth_m=900.0), HullSettings(), (0.0, 80.0))


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Quillan Frostmark", "quillan-frostmark"), ("../../etc/passwd", "etc-passwd"), ("A" * 200, "a" * 60),
        ("<script>", "script"), ("Ship\x00 2", "ship-2"),
    ],
)  # fmt: skip
def test_a_folder_gets_letters_and_figures_only(name: str, folder: str) -> None:
    assert folder_name(name) == folder


@pytest.mark.parametrize("name", ["", "...", "/", "日本"])
def test_a_name_without_a_letter_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="no letter or figure"):
        folder_name(name)


@pytest.mark.parametrize(
    ("name", "kept"), [("../../x.STEP", "hull.step"), ("a/b\\c.stl", "hull.stl"), ("x.csv", "hull.csv")]
)
def test_an_uploaded_file_gets_a_name_of_our_own(name: str, kept: str) -> None:
    assert hull_name(name) == kept


@pytest.mark.parametrize("name", ["x.exe", "x", "x.step.sh", ""])
def test_a_kind_that_no_reader_takes_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="of no kind that can be read"):
        hull_name(name)


def test_levels_are_proposed_from_the_tank_top_to_the_main_deck() -> None:
    levels = proposed_levels(8.0, 4.6)
    heights = [level.height_m for level in levels]
    assert heights == sorted(heights)
    assert heights[-1] == 8.0
    assert max(b - a for a, b in pairwise(heights)) < 1.9
    assert (levels[0].kind, levels[-1].kind) == ("inner bottom", "deck")
