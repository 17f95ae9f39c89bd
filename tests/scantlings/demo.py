"""The demo ships' results, each made once in a run of tests and only when asked for."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from beltwright.app.project import Project

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"
NAMES = ("quillan-frostmark", "merrow-tarn", "merrow-tarn-upright")


@cache
def project(name: str) -> Project:
    """A demo ship's project; its results are kept with it."""
    return Project(EXAMPLES / name)
