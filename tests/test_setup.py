"""Setting up on a bare machine, played through with stand-ins for Python, apt and id: no network, nothing installed.

The real thing is `make design` in a fresh clone with an empty environment.
"""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOOLS = ("sh", "dirname", "grep", "mktemp", "rm", "touch", "cat", "mkdir", "cp", "chmod", "env")

PYTHON = """#!/bin/sh
case "$1 $2" in
    "-c import sys"*) test -e "{state}/new-enough" ;;
    "-c import ensurepip"*) test -e "{state}/python3-venv" ;;
    *libGL*) test -e "{state}/libgl1" ;;
    *libX11*) test -e "{state}/libx11-6" ;;
    "-m venv") mkdir -p .venv/bin && cp "{bin}/python3" .venv/bin/python && echo venv "$0" >>"{state}/log" ;;
    "-m pip") echo pip "$@" >>"{state}/log" ;;
esac
"""
APT = """#!/bin/sh
echo apt-get "$@" >>"{state}/log"
case "$*" in
    *" update") touch "{state}/lists" ;;
    *" install "*)
        test -e "{state}/lists" || {{ echo "E: Unable to locate package" >&2; exit 100; }}
        for word; do test "$word" != poppler-utils || cp "{bin}/id" "{bin}/pdftotext"; \
            test "$word" != chromium || cp "{bin}/id" "{bin}/chromium"; touch "{state}/$word"; done ;;
esac
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A folder with our set-up script, a PATH of stand-ins, and what that machine has."""

    folder: Path
    path: Path
    state: Path

    def has(self, *things: str) -> None:
        """Give the machine what is named: a package, `new-enough` (its Python), `lists` (apt's)."""
        for thing in things:
            (self.state / thing).touch()

    def set_up(self, what: str = "runtime") -> subprocess.CompletedProcess[str]:
        """Run the set-up script there."""
        return subprocess.run(
            ["/bin/sh", str(self.folder / "tools/setup.sh"), what],
            env={"PATH": str(self.path), "HOME": str(self.folder)},
            capture_output=True,
            text=True,
            check=False,
        )

    def log(self) -> list[str]:
        """What was called, in order."""
        log = self.state / "log"
        return log.read_text("utf-8").splitlines() if log.exists() else []


def machine(folder: Path, user: int) -> Machine:
    """Make a bare machine for a user number (0 is root)."""
    made = Machine(folder=folder / "repo", path=folder / "bin", state=folder / "state")
    for path in (made.folder / "tools", made.folder / "requirements", made.path, made.state):
        path.mkdir(parents=True)
    shutil.copy(ROOT / "tools/setup.sh", made.folder / "tools/setup.sh")
    for lock in ("runtime", "web", "dev"):
        (made.folder / "requirements" / f"{lock}.txt").write_text("a==1\nb==2\n", "utf-8")
    for tool in TOOLS:
        (made.path / tool).symlink_to(shutil.which(tool) or "")
    words = {"state": made.state, "bin": made.path}
    scripts = {name: PYTHON.format(**words) for name in ("python3", "python3.11", "python3.12", "python3.13")}
    scripts |= {"apt-get": APT.format(**words), "id": f"#!/bin/sh\necho {user}\n"}
    for name, text in scripts.items():
        (made.path / name).write_text(text, "utf-8")
        (made.path / name).chmod(0o755)
    return made


@pytest.fixture
def user(tmp_path: Path) -> Machine:
    """A machine where we are not root."""
    return machine(tmp_path, 1000)


@pytest.fixture
def root(tmp_path: Path) -> Machine:
    """A machine where we are root."""
    return machine(tmp_path, 0)


def test_a_user_is_told_the_one_command_and_nothing_happens(user: Machine) -> None:
    user.has("new-enough", "python3-venv")
    done = user.set_up()
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr == (
        "Beltwright needs these system packages; as root run: "
        "apt-get update && apt-get install -y --no-install-recommends libgl1 libx11-6\n"
    )
    assert user.log() == []


def test_only_what_is_missing_is_named(user: Machine) -> None:
    user.has("new-enough", "libgl1", "libx11-6")
    assert user.set_up().stderr.endswith("--no-install-recommends python3-venv\n")


def test_the_tests_need_two_packages_more(user: Machine) -> None:
    user.has("new-enough", "python3-venv", "libgl1", "libx11-6")
    assert user.set_up("dev").stderr.endswith("--no-install-recommends poppler-utils chromium\n")


def test_a_machine_without_python_is_told_all_of_it(user: Machine) -> None:
    done = user.set_up()
    assert done.returncode == 2
    assert done.stderr.endswith("--no-install-recommends python3 python3-venv libgl1 libx11-6\n")


def test_root_installs_and_fetches_the_lists_only_when_that_fails(root: Machine) -> None:
    root.has("new-enough", "python3-venv")
    done = root.set_up()
    assert done.returncode == 0, done.stderr
    called = [line.split("Use-Pty=0 ")[-1] for line in root.log() if line.startswith("apt-get")]
    install = "install -y --no-install-recommends libgl1 libx11-6"
    assert called == [install, "update", install]


def test_root_with_fresh_lists_does_not_fetch_them(root: Machine) -> None:
    root.has("new-enough", "python3-venv", "libgl1", "lists")
    assert root.set_up("dev").returncode == 0
    called = [line.split("Use-Pty=0 ")[-1] for line in root.log() if line.startswith("apt-get")]
    assert called == ["install -y --no-install-recommends libx11-6 poppler-utils chromium"]


def test_an_apt_that_fails_shows_why_and_ends_with_two(root: Machine) -> None:
    root.has("new-enough", "python3-venv")
    (root.path / "apt-get").write_text("#!/bin/sh\necho 'E: no network' >&2\nexit 100\n", "utf-8")
    done = root.set_up()
    assert done.returncode == 2
    assert "E: no network" in done.stderr
    assert "as root run: apt-get update && apt-get install" in done.stderr.splitlines()[-1]


def test_an_old_python_is_refused_even_after_apt(root: Machine) -> None:
    root.has("lists", "libgl1", "libx11-6", "python3-venv")
    done = root.set_up()
    assert done.returncode == 2
    assert "Python 3.11 or newer" in done.stderr.splitlines()[-1]


def test_packages_are_installed_hashed_then_the_program_without_isolation(root: Machine) -> None:
    root.has("new-enough", "python3-venv", "libgl1", "libx11-6")
    done = root.set_up()
    assert done.returncode == 0, done.stderr
    installs = [line for line in root.log() if line.startswith("pip -m pip install")]
    assert len(installs) == 2
    assert "--require-hashes" in installs[0]
    assert installs[0].endswith("-r requirements/runtime.txt")
    assert "--no-deps" in installs[1]
    assert installs[1].endswith("--no-build-isolation --editable .")
    assert (root.folder / ".venv/.runtime").exists()
    assert not (root.folder / ".venv/.dev").exists()


def test_the_first_python_that_can_make_a_venv_is_taken(root: Machine) -> None:
    root.has("new-enough", "python3-venv", "libgl1", "libx11-6")
    (root.path / "python3.13").unlink()
    root.set_up()
    assert root.log()[0] == f"venv {root.path / 'python3.12'}"


def test_a_failed_install_leaves_no_stamp(root: Machine) -> None:
    root.has("new-enough", "python3-venv", "libgl1", "libx11-6")
    assert root.set_up("dev").returncode == 0
    assert (root.folder / ".venv/.dev").exists()
    broken = (root.path / "python3").read_text("utf-8").replace("echo pip", "exit 1; echo pip")
    (root.folder / ".venv/bin/python").write_text(broken, "utf-8")
    (root.path / "python3.13").write_text(broken.replace(f"{root.path}/python3", f"{root.path}/python3.13"), "utf-8")
    assert root.set_up("dev").returncode != 0
    assert not (root.folder / ".venv/.dev").exists()
    assert not (root.folder / ".venv/.runtime").exists()


def test_make_help_names_every_target() -> None:
    text = (ROOT / "Makefile").read_text("utf-8")
    phony = next(line for line in text.splitlines() if line.startswith(".PHONY:"))
    targets = [word for word in phony.removeprefix(".PHONY:").split() if word.isalpha()]
    shown = subprocess.run(["make", "help"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert {"design", "test"} <= set(targets)
    assert [target for target in targets if f"make {target} " not in shown] == []


def test_ci_is_make_test_and_nothing_else() -> None:
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    commands = [line for line in script.splitlines() if line and not line.startswith("#")]
    assert commands == ["set -euo pipefail", 'cd "$(dirname "$0")/.."', "exec make test"]
