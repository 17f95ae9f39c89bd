"""What a search found, taken over: the offer is checked like any other, is met, and weighs as it should."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.scantlings.demo import project
from tests.web.browser import copy_of

from beltwright.app.accept import _runs, accepted
from beltwright.app.least import LeastRun
from beltwright.app.session import DesignSession
from beltwright.weights.steel import steel_weight


def test_runs_join_pieces_of_the_same_steel() -> None:
    pieces = [(0.0, 1.0, "a"), (1.0, 2.0, "a"), (2.0, 3.0, "b"), (3.0, 4.0, "a")]
    assert list(_runs(pieces)) == [(0.0, 2.0, "a"), (2.0, 3.0, "b"), (3.0, 4.0, "a")]
    assert list(_runs([])) == []


@pytest.mark.slow
def test_all_that_was_found_is_offered_met_and_no_lighter_than_found(tmp_path: Any) -> None:
    run = LeastRun(project("merrow-tarn").results.design, (), "")
    run.wait(300.0)
    assert run.study is not None
    found = run.study.sized.design
    session = DesignSession(copy_of("merrow-tarn", tmp_path))
    session.change(accepted(session.ship, found), "least structure accepted")
    made = session.recompute().design
    assert (made.plating.labels("outcome") != "not met").all()
    assert (made.frames.labels("outcome") != "not met").all()
    assert set(made.plating.labels("source").tolist()) <= {"given", "none"}
    # every panel has at least the plate that was found on it: bays take the thickest plate that lies on them
    now, then = (design.plating["thickness_as_built_mm"].data for design in (made, found))
    sized = ~np.isnan(then)
    assert sized.sum() > 1000
    assert (now[sized] >= then[sized]).all()
    assert session.recompute().weight.modelled_t >= steel_weight(found).modelled_t
    assert session.can_undo == "least structure accepted"


@pytest.mark.slow
def test_one_zone_leaves_the_others_as_they_were(tmp_path: Any) -> None:
    run = LeastRun(project("merrow-tarn").results.design, (), "")
    run.wait(300.0)
    assert run.study is not None
    session = DesignSession(copy_of("merrow-tarn", tmp_path))
    changes = accepted(session.ship, run.study.sized.design, {"side"})
    assert {row["zone"] for row in changes["plates",]} == {"side"}
    assert {row["zone"] for row in changes["frame_sections",]} == {"side"}
