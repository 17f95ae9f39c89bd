"""What every test shares: the demo ships' folders, deterministic property tests, and a trace of a crash in C code."""

from __future__ import annotations

import faulthandler
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).resolve().parent.parent
DEMO_SHIPS = ("quillan-frostmark", "merrow-tarn", "merrow-tarn-upright")

faulthandler.enable()

# Property tests give the same cases in every run. To look for new ones: BELTWRIGHT_SEARCH=1 make fast
settings.register_profile("same", derandomize=True, max_examples=40, deadline=None, database=None)
settings.register_profile(
    "search", max_examples=1000, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("search" if os.environ.get("BELTWRIGHT_SEARCH") else "same")


@pytest.fixture(scope="session")
def root() -> Path:
    """Give the folder of the repository."""
    return ROOT


@pytest.fixture(scope="session", params=DEMO_SHIPS)
def demo_ship(request: pytest.FixtureRequest) -> Path:
    """Give each demo ship's folder in turn."""
    return ROOT / "examples" / str(request.param)


@pytest.fixture(scope="session")
def quillan_frostmark() -> Path:
    """Give the folder of the PC4 demo ship."""
    return ROOT / "examples" / "quillan-frostmark"


@pytest.fixture(scope="session")
def merrow_tarn() -> Path:
    """Give the folder of the PC6 demo ship."""
    return ROOT / "examples" / "merrow-tarn"
