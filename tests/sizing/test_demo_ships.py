"""The demo ships sized and their certificates confirmed a second way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.sizing import small

from beltwright.app.project import Project
from beltwright.scantlings.design import Design
from beltwright.sizing.certificate import certificate, read_certificate, to_text
from beltwright.sizing.certify import certify
from beltwright.sizing.fit import bound, framings_of
from beltwright.sizing.size import size
from beltwright.weights.steel import steel_weight

pytestmark = pytest.mark.slow


def described(root: Path, name: str) -> Design:
    """A demo ship with the frame spacing that she has; the choice of spacing has tests of its own."""
    design = Project(root / "examples" / name).results.design
    settings = design.ship.sizing.model_copy(update={"frame_spacings_m": ()})
    return replace(design, ship=design.ship.model_copy(update={"sizing": settings}))


@pytest.mark.parametrize("name", ["quillan-frostmark", "merrow-tarn", "merrow-tarn-upright", "ostvik-larch"])
def test_a_demo_ship_is_sized_with_a_proof_that_holds(root: Path, name: str) -> None:
    """kind: second-method. Grams against the weights of panels and spans, the bound against a second solver."""
    design = described(root, name)
    made = size(design)
    assert made.found.finished
    assert made.found.bound == made.found.price
    assert bound(design, framings_of(design)) < made.found.price
    assert steel_weight(made.design).modelled_t == pytest.approx(made.found.price / 1e6, abs=2e-3)
    for table in (made.design.plating, made.design.frames):
        assert "not met" not in table.labels("outcome")
    text = to_text(certificate(made, small.INPUTS))
    told = certify(read_certificate(text, "certificate.json"), design, small.INPUTS)
    assert told.holds, told.refused
    assert told.open == ()
