"""The search for the least structure in a thread of its own: it ends with its proof, or where it is stopped."""

from __future__ import annotations

import pytest
from tests.scantlings.demo import project

from beltwright.app.least import LeastRun

pytestmark = pytest.mark.slow


def test_it_ends_with_a_bound_that_meets_the_best() -> None:
    """The smaller polar demo ship: the price found is the price of the study, and the gap is closed."""
    made = project("merrow-tarn")
    run = LeastRun(made.results.design, (), "text")
    run.wait(300.0)
    assert (run.running, run.error) == (False, "")
    assert run.study is not None
    found = run.study.sized.found
    assert (run.best, run.bound) == (found.price, found.bound)
    assert run.gap == 0.0
    assert run.of == "text"


def test_stopped_at_once_it_ends_and_says_what_it_has() -> None:
    made = project("merrow-tarn")
    run = LeastRun(made.results.design, (), "text")
    run.stop()
    run.wait(300.0)
    assert not run.running
    assert run.stopped
    if run.study is None:
        assert run.error
    else:
        assert run.study.sized.found.price >= run.study.sized.found.bound
