"""Two states compared: what differs in settings, figures, plates and frames, counted by hand on small results."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.scantlings.demo import project

from beltwright.app.compare import State, compare_results
from beltwright.report.from_design import material_of
from beltwright.report.result_json import result_text

TEXT = '[ice]\nice_class = "{}"\n[[levels]]\nname = "a"\nheight_m = {}\n'


def result(thickness: list[float | None], steel: float, force: float) -> dict[str, Any]:
    """A small result with three panels and one frame."""
    ids = ["P1", "P2", "P3"][: len(thickness)]
    panels = {
        "id": ids,
        "hull_area": ["B", "B", "Mi"][: len(ids)],
        "thickness_as_built_mm": thickness,
        "grade": ["EH36"] * len(ids),
    }
    frames = {"id": ["F1"], "hull_area": ["B"], "section": ["HP200x10"], "grade": ["EH36"]}
    return {
        "ice_class": "PC4", "displacement_upper_kt": 9.5, "rule_length_m": 95.0, "outcome": "met",
        "weight": {"total_t": steel}, "patches": [{"name": "bow", "force_mn": force, "pressure_mpa": 5.0}],
        "panels": {"columns": {name: {"values": values} for name, values in panels.items()}},
        "frames": {"columns": {name: {"values": values} for name, values in frames.items()}},
    }  # fmt: skip


def test_what_differs_is_told_and_nothing_else() -> None:
    one = State(description=TEXT.format("PC4", 3.0), result=result([20.0, 20.0, None], 700.0, 7.0))
    other = State(description=TEXT.format("PC3", 3.0), result=result([25.0, 25.0, None], 712.5, 9.25))
    made = compare_results(one, other)
    assert [(d.what, d.before, d.after) for d in made.settings] == [("ice.ice_class", "PC4", "PC3")]
    assert [(d.what, d.before, d.after) for d in made.plates] == [("B: 2 members", "20 EH36", "25 EH36")]
    assert made.frames == ()
    figures = {d.what: d.difference for d in made.figures}
    assert figures["steel with allowances, t"] == "+12.5"
    assert figures["load bow: force, MN"] == "+2.250"


def test_settings_and_members_that_stand_on_one_side_only() -> None:
    one = State(description=TEXT.format("PC4", 3.0), result=result([20.0, 20.0, 15.0], 700.0, 7.0))
    other = State(description=TEXT.format("PC4", 3.0) + "[hull]\ndepth_m = 8.0\n", result=result([20.0], 700.0, 7.0))
    made = compare_results(one, other)
    assert [(d.what, d.before, d.after) for d in made.settings] == [("hull.depth_m", "not given", "8.0")]
    assert [d.what for d in made.plates] == ["2 members stand only before"]


@pytest.mark.slow
def test_a_whole_result_compared_with_itself_differs_in_nothing() -> None:
    made = project("merrow-tarn").results
    text = (project("merrow-tarn").folder / "ship.toml").read_text("utf-8")
    state = State(
        description=text, result=json.loads(result_text(material_of(made.design, made.weight, made.inputs_sha256)))
    )
    found = compare_results(state, state)
    assert (found.settings, found.plates, found.frames) == ((), (), ())
    assert all(d.before == d.after for d in found.figures)
