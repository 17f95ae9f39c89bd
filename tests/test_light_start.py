"""Starting up loads nothing heavy: what is slow to load is loaded where it is used."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

HEAVY = {"scipy", "trimesh", "rhino3dm", "typst", "shapely", "rtree", "OCP", "matplotlib", "pydantic"}


def loaded_by(statement: str) -> set[str]:
    """Top-level modules that a fresh Python holds after a statement."""
    listing = "import json, sys; print(); print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))"
    code = f"{statement}\n{listing}"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(json.loads(done.stdout.splitlines()[-1]))


def test_a_heavy_import_would_be_seen() -> None:
    assert "scipy" in loaded_by("import scipy") & HEAVY


def test_importing_the_package_is_light() -> None:
    assert loaded_by("import beltwright") & (HEAVY | {"numpy", "rich", "typer"}) == set()


@pytest.mark.parametrize("room", ["core", "rules.protocol"])
def test_what_rules_are_written_in_is_light(room: str) -> None:
    assert loaded_by(f"import beltwright.{room}") & HEAVY == set()
