"""Guards over the whole repository: what may not be in a tracked file, how long a module may be, what is documented."""

from __future__ import annotations

import ast
import re
import subprocess
import tomllib
from importlib.metadata import distribution, version
from pathlib import Path

import pytest
from packaging.requirements import Requirement

import beltwright

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "beltwright"
MODULES = sorted(SOURCE.rglob("*.py"))
ROOMS = sorted(path for path in SOURCE.iterdir() if path.is_dir() and path.name != "__pycache__")
FACADE = SOURCE / "__init__.py"
MODULE_LINES, ROOM_README_LINES, FILE_BYTES = 450, 10, 4_000_000

# Written in pieces, so that this file does not hold what it forbids.
MACHINE_PATHS = re.compile(
    "|".join((r"(?<![\w.])/wor" + "k/", "/roo" + "t/", "/hom" + r"e/\w", "/tm" + r"p/\w", r"[A-Z]:\\User" + "s"))
)
PACKAGE_HOSTS = re.compile(
    "|".join((
        r"--(extra-)?index-ur" + "l",
        r"index[-_]ur" + r"l\s*=",
        "pypi" + r"\.org",
        "pythonhoste" + "d",
        "registry" + r"\.npm",
        r"https?://[^\s\"]+\.(whl|tgz|tar\.gz|deb)\b",
    ))
)  # fmt: skip


def tracked() -> list[Path]:
    """Every tracked file that is in the work tree."""
    listed = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
    ).stdout
    return [path for name in listed.decode().split("\0") if name and (path := ROOT / name).is_file()]


def text_of(path: Path) -> str | None:
    """A file's text, or None for a binary file."""
    data = path.read_bytes()
    return None if b"\0" in data[:8192] else data.decode("utf-8")


def offending_lines(pattern: re.Pattern[str]) -> list[str]:
    """File and line of every match in a tracked text file."""
    found = []
    for path in tracked():
        for number, line in enumerate((text_of(path) or "").splitlines(), start=1):
            if pattern.search(line):
                found.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}")
    return found


@pytest.mark.parametrize("sample", ["see /wor" + "k/main/x", "'/roo" + "t/.cache'", "/tm" + "p/out.pdf"])
def test_the_path_guard_sees_a_machine_path(sample: str) -> None:
    assert MACHINE_PATHS.search(sample)


@pytest.mark.parametrize(
    "sample", ["https://pypi" + ".org/simple", "--index-ur" + "l x", "https://a.example/b-1.0.wh" + "l"]
)
def test_the_host_guard_sees_a_host(sample: str) -> None:
    assert PACKAGE_HOSTS.search(sample)


def test_no_tracked_file_names_a_path_of_one_machine() -> None:
    assert offending_lines(MACHINE_PATHS) == []


def test_no_tracked_file_names_a_package_host() -> None:
    assert offending_lines(PACKAGE_HOSTS) == []


def test_no_tracked_file_is_huge() -> None:
    assert [str(p.relative_to(ROOT)) for p in tracked() if p.stat().st_size > FILE_BYTES] == []


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_a_module_reads_in_one_sitting(module: Path) -> None:
    assert len(module.read_text("utf-8").splitlines()) <= MODULE_LINES


@pytest.mark.parametrize("room", ROOMS, ids=lambda p: p.name)
def test_a_room_says_what_it_owns(room: Path) -> None:
    text = (room / "README.md").read_text("utf-8")
    assert len(text.splitlines()) <= ROOM_README_LINES
    assert text.startswith(f"# {room.name}")
    assert "May import" in text
    assert (room / "__init__.py").is_file()


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_everything_public_has_a_docstring(module: Path) -> None:
    tree = ast.parse(module.read_text("utf-8"))
    assert ast.get_docstring(tree), "the module says what it is"
    assert [name for name, node in public_definitions(tree) if not ast.get_docstring(node)] == []


def public_definitions(
    tree: ast.Module | ast.ClassDef, prefix: str = ""
) -> list[tuple[str, ast.FunctionDef | ast.ClassDef]]:
    """Public functions, classes and methods with their names."""
    found: list[tuple[str, ast.FunctionDef | ast.ClassDef]] = []
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            found.append((prefix + node.name, node))
            if isinstance(node, ast.ClassDef):
                found += public_definitions(node, f"{prefix}{node.name}.")
    return found


def test_the_import_rules_forget_no_room() -> None:
    """Each room stands in the one-way order, and the results folder is kept from each room it may not know."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    names = {room.name for room in ROOMS}
    order = {name for line in contracts[0]["layers"] for name in re.findall(r"\w+", line)}
    assert names <= order
    store = next(contract for contract in contracts if contract.get("source_modules") == ["beltwright.store"])
    above_or_beside = {"app", "cli", "web", "report"}  # the one-way order keeps these from it
    kept_from = {f"beltwright.{name}" for name in names - {"core", "ship", "store"} - above_or_beside}
    assert kept_from == set(store["forbidden_modules"])


def test_every_folder_of_modules_is_a_package() -> None:
    assert [str(m.parent.relative_to(SOURCE)) for m in MODULES if not (m.parent / "__init__.py").is_file()] == []


def pinned(lock: str) -> dict[str, str]:
    """Package to version, from a lock."""
    return dict(re.findall(r"^([a-z0-9._-]+)==(\S+)", (ROOT / "requirements" / lock).read_text("utf-8"), re.MULTILINE))


def test_the_two_locks_agree() -> None:
    runtime, dev = pinned("runtime.txt"), pinned("dev.txt")
    assert runtime.items() <= dev.items()
    assert len(runtime) > 10


@pytest.mark.parametrize("lock", ["runtime.txt", "dev.txt"])
def test_every_pin_is_hashed_and_nothing_is_local(lock: str) -> None:
    text = (ROOT / "requirements" / lock).read_text("utf-8").replace("\\\n", " ")
    for line in text.splitlines():
        assert re.match(r"^[a-z0-9._-]+==\S+( ; [^#]+?)?(\s+--hash=sha256:[0-9a-f]{64})+\s*$", line), line[:80]


def test_the_locks_cover_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    wanted = {"runtime.txt": project["project"]["dependencies"], "dev.txt": project["dependency-groups"]["dev"]}
    for lock, requirements in wanted.items():
        pins = pinned(lock)
        for requirement in map(Requirement, requirements):
            assert requirement.specifier.contains(pins[requirement.name]), str(requirement)


def test_what_is_installed_is_what_is_locked() -> None:
    moved = {name: (pin, version(name)) for name, pin in pinned("runtime.txt").items() if name != "colorama"}
    assert {name: pair for name, pair in moved.items() if pair[0] != pair[1]} == {}


def test_the_version_is_said_once() -> None:
    assert distribution("beltwright").version == beltwright.__version__
    assert re.fullmatch(r"\d+\.\d+\.\d+", beltwright.__version__)


def test_every_import_of_the_package_is_declared() -> None:
    """A module may import only the standard library, this package and the declared runtime dependencies."""
    import sys

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    declared = {Requirement(line).name.lower() for line in project["project"]["dependencies"]}
    pages = {Requirement(line).name.lower() for line in project["project"]["optional-dependencies"]["web"]}
    pages |= {"starlette"}  # what fastapi stands on and hands out
    allowed = declared - {"cadquery-ocp-novtk"} | {"ocp", "beltwright"}
    allowed |= {"annotated_types", "pydantic_core"}  # parts of pydantic that it hands out
    foreign = set()
    for module in MODULES:
        for node in ast.walk(ast.parse(module.read_text("utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            more = pages if module.is_relative_to(SOURCE / "web") or module.name == "revisions.py" else set()
            for top in {name.split(".")[0] for name in names} - sys.stdlib_module_names:
                if top.lower() not in allowed | more:
                    foreign.add(f"{module.relative_to(ROOT)}: {top}")
    assert foreign == set()


def test_the_readme_starts_with_the_job_and_the_two_commands() -> None:
    paragraphs = (ROOT / "README.md").read_text("utf-8").split("\n\n")
    assert paragraphs[0] == "# Beltwright"
    assert "engineer" in paragraphs[1]
    commands = [line.split("#")[0].strip() for line in paragraphs[2].splitlines()]
    assert commands == ["make design", "make test"]


def test_every_bench_has_a_row_with_its_budget() -> None:
    rows = (ROOT / "bench" / "README.md").read_text("utf-8")
    scripts = [path.name for path in (ROOT / "bench").glob("[a-z]*.py")]
    assert scripts
    assert [name for name in scripts if f"| `{name}` |" not in rows] == []
