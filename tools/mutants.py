"""Mutation test of the rules: change one token at a time and see that a test notices. Called by `make mutants`.

Mutmut leaves decorated functions alone, and every clause is decorated. So it works on a copy in ``build/mutants`` in
which ``@decorator`` above a function of a rule package has become ``name = decorator(name)`` below it; that is the same
program. What survived is written to ``build/mutants/survivors.txt`` as differences, and the score is printed.

Arguments are passed on to mutmut as names of mutants, e.g. ``beltwright.rules.polar_iacs_2019.i2_3*``.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import libcst as cst

ROOT = Path(__file__).resolve().parent.parent
COPY = ROOT / "build" / "mutants"
RULES = "src/beltwright/rules"
PARTS = ("src", "tests", "tools", "examples", "pyproject.toml")
NOTICED = ("killed", "timeout", "segfault", "caught_by_type_check")


class DecoratorsBelow(cst.CSTTransformer):
    """Move the decorators of a module's own functions below them, as plain assignments."""

    def __init__(self) -> None:
        super().__init__()
        self.depth = 0

    def visit_ClassDef(self, node: cst.ClassDef) -> None:  # noqa: N802 (the name is libcst's)
        """Go one deeper: a method keeps its decorators."""
        self.depth += 1

    def leave_ClassDef(self, original_node: cst.ClassDef, updated_node: cst.ClassDef) -> cst.ClassDef:  # noqa: N802
        """Come back up."""
        self.depth -= 1
        return updated_node

    def visit_FunctionDef(self, node: cst.FunctionDef) -> None:  # noqa: N802
        """Go one deeper: an inner function keeps its decorators."""
        self.depth += 1

    def leave_FunctionDef(  # noqa: N802
        self, original_node: cst.FunctionDef, updated_node: cst.FunctionDef
    ) -> cst.FunctionDef | cst.FlattenSentinel[cst.BaseStatement]:
        """Write the decorators of an outermost function below it, innermost first."""
        self.depth -= 1
        if self.depth or not updated_node.decorators:
            return updated_node
        name = updated_node.name
        below = [_assign(name, cst.Call(d.decorator, [cst.Arg(name)])) for d in reversed(updated_node.decorators)]
        return cst.FlattenSentinel([updated_node.with_changes(decorators=[]), *below])


def _assign(name: cst.Name, value: cst.BaseExpression) -> cst.SimpleStatementLine:
    """Write ``name = value``."""
    return cst.SimpleStatementLine([cst.Assign([cst.AssignTarget(name)], value)])


def with_decorators_below(source: str) -> str:
    """Return a module's source with the decorators of its functions as assignments below them."""
    return cst.parse_module(source).visit(DecoratorsBelow()).code


def make_copy() -> None:
    """Make the folder that mutmut works in."""
    shutil.rmtree(COPY, ignore_errors=True)
    COPY.mkdir(parents=True)
    for part in PARTS:
        if (ROOT / part).is_dir():
            shutil.copytree(ROOT / part, COPY / part, ignore=shutil.ignore_patterns("__pycache__", "results"))
        elif (ROOT / part).is_file():
            shutil.copy(ROOT / part, COPY / part)
    for module in (COPY / RULES).rglob("*.py"):
        module.write_text(with_decorators_below(module.read_text("utf-8")), "utf-8")


def mutmut(*words: str, quiet: bool = False) -> str:
    """Run mutmut in the copy; return what it printed if ``quiet``."""
    environment = {**os.environ, "PYTHONPATH": "src", "OMP_NUM_THREADS": "1"}
    command = [sys.executable, "-m", "mutmut", *words]
    done = subprocess.run(command, cwd=COPY, env=environment, capture_output=quiet, text=True, check=False)
    if done.returncode:
        sys.exit(f"mutmut {' '.join(words)}: exit {done.returncode}\n{done.stderr if quiet else ''}")
    return done.stdout or ""


def survivors() -> list[str]:
    """Name the mutants that no test noticed."""
    lines = (line.strip().rpartition(": ") for line in mutmut("results", quiet=True).splitlines())
    return [name for name, _, verdict in lines if name and verdict not in NOTICED]


def main() -> int:
    """Run the mutation test and print the score."""
    make_copy()
    mutmut("run", "--max-children", "2", *sys.argv[1:])
    mutmut("export-cicd-stats", quiet=True)
    stats = json.loads((COPY / "mutants" / "mutmut-cicd-stats.json").read_text("utf-8"))
    left = survivors()
    (COPY / "survivors.txt").write_text("\n".join(mutmut("show", name, quiet=True) for name in left), "utf-8")
    noticed, total = sum(stats.get(word, 0) for word in NOTICED), stats["total"]
    print("\n".join(left))
    print(f"{noticed} of {total} changes noticed ({noticed / total:.1%}); the others: {COPY / 'survivors.txt'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
