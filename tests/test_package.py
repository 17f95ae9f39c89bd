"""What is built is whole: every data file, table and type marker travels in the wheel, and nothing else does."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The wheel, built by the locked back end without a network."""
    out = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(out)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return zipfile.ZipFile(next(out.glob("*.whl")))


def tracked_sources() -> set[str]:
    """Every tracked file of the package."""
    listed = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-z", "src"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return {name.removeprefix("src/") for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()}


def test_every_tracked_file_of_the_package_is_in_the_wheel(wheel: zipfile.ZipFile) -> None:
    assert tracked_sources() - set(wheel.namelist()) == set()


def test_nothing_but_the_package_is_in_the_wheel(wheel: zipfile.ZipFile) -> None:
    tops = {name.split("/")[0] for name in wheel.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"beltwright"}


def test_the_wheel_names_the_command_and_the_licence(wheel: zipfile.ZipFile) -> None:
    texts = {name.rsplit("/", 1)[-1]: name for name in wheel.namelist() if ".dist-info/" in name}
    assert "beltwright = beltwright.cli.main:main" in wheel.read(texts["entry_points.txt"]).decode()
    assert "License-Expression: Apache-2.0" in wheel.read(texts["METADATA"]).decode()
    assert "LICENSE" in texts
