"""The benches keep up with the code: each can be imported, and those that feed the rules give them all they ask for."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest

from beltwright.rules.registry import rule_set

BENCH = Path(__file__).resolve().parent.parent / "bench"
NAMES = sorted(path.stem for path in BENCH.glob("[a-z]*.py"))


@pytest.fixture
def bench_path(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The benches' own folder, from which they import each other."""
    before = set(sys.modules)
    monkeypatch.syspath_prepend(str(BENCH))
    yield
    for name in set(sys.modules) - before:
        if name in {*NAMES, "_harness", "_cad_kernel"}:
            del sys.modules[name]


@pytest.mark.usefixtures("bench_path")
@pytest.mark.parametrize("name", NAMES)
def test_each_bench_can_be_imported_and_has_its_main(name: str) -> None:
    assert callable(import_module(name).main)


@pytest.mark.usefixtures("bench_path")
def test_made_up_members_have_every_column_that_the_rules_read() -> None:
    bench = import_module("rule_checks")
    panels, frames = bench.members(3)
    rules = rule_set("polar_iacs_2019")
    assert np.isfinite(rules.plating.run(panels)["thickness_required_mm"]).all()
    assert bench.ratios(rules.framing, frames, {}).shape == (3, len(rules.framing.checks))
