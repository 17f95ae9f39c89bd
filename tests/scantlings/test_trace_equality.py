"""The traced number of every member equals the table's to the last bit, through all that an explanation shows."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.scantlings import ships
from tests.scantlings.demo import NAMES, project

from beltwright.rules.protocol import MemberRule
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import member_trace
from beltwright.scantlings.members import MemberRun


def traced(design: Design, rule: MemberRule, run: MemberRun, step: int = 1) -> int:
    """Trace every ``step``-th governing row; ``member_trace`` itself compares, and the table must say the same."""
    count = 0
    for member, row in list(zip(run.members.tolist(), run.governing.tolist(), strict=True))[::step]:
        trace = member_trace(design, rule, run, member, row, {})
        for name in rule.chain.outputs:
            column = np.broadcast_to(run.values[name], len(run.rows.member))
            ours, theirs = trace[name].value, column[row].item()
            assert ours == theirs or (ours != ours and theirs != theirs), f"{name} of member {member}"
        for column_name, output in rule.shown.items():
            told = run.table[column_name].data[member].item()
            assert told == trace[output].value or told != told
        count += 1
    return count


def test_small_ship() -> None:
    design = ships.baseline()
    assert traced(design, design.rules.plating, design.plating_run, 5) > 50
    assert traced(design, design.rules.framing, design.framing_run, 5) > 30


def test_a_wrong_table_is_not_explained() -> None:
    """If the table's number were another one by a single bit, no explanation is given."""
    design = ships.baseline()
    run = design.plating_run
    name = design.rules.plating.result
    wrong = run.values[name].copy()
    row = int(run.governing[0])
    wrong[row] = np.nextafter(wrong[row], np.inf)
    with pytest.raises(ValueError, match=name):
        member_trace(
            design, design.rules.plating, replace(run, values={**run.values, name: wrong}), int(run.members[0]), row, {}
        )


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_panel_and_frame_of_the_demo_ships(name: str) -> None:
    design = project(name).results.design
    panels = traced(design, design.rules.plating, design.plating_run)
    frames = traced(design, design.rules.framing, design.framing_run)
    assert panels == len(design.plating_run.members) > 800
    assert frames == len(design.framing_run.members) > 500
