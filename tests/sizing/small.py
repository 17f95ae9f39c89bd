"""The small test ship sized once in a run of tests, and again with other settings when asked for."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from tests.scantlings import ships

from beltwright.scantlings.design import Design
from beltwright.ship.sizing import FramingChoice, Sizing
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.certificate import Certificate, certificate
from beltwright.sizing.fit import ask
from beltwright.sizing.size import Sized, size

INPUTS = "5" * 64


def with_settings(**settings: Any) -> Design:
    """Return the small ship's design with sizing settings changed."""
    design = ships.baseline()
    given = Sizing(**settings)
    return replace(design, ship=design.ship.model_copy(update={"sizing": given}))


@cache
def asked() -> Candidates:
    """Return the question of the small ship as it is; trying a solution on more spans only adds to it."""
    return ask(with_settings())


@cache
def sized() -> Sized:
    """Return the small ship sized as it is."""
    return size(with_settings(), candidates=asked())


@cache
def certified() -> Certificate:
    """Return the small ship's certificate."""
    return certificate(sized(), INPUTS)


def framing(**given: Any) -> tuple[FramingChoice, ...]:
    """Return one framing choice."""
    return (FramingChoice(**given),)
