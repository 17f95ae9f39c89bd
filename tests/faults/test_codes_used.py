"""Every kind of finding that is registered and documented is raised somewhere in the program."""

from __future__ import annotations

import ast
from pathlib import Path

import beltwright

SOURCE = Path(beltwright.__file__).parent


def names() -> tuple[dict[str, str], set[str]]:
    """The names to which ``register`` is assigned, with their code, and every name that is read."""
    registered: dict[str, str] = {}
    read: set[str] = set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            targets = (
                node.targets
                if isinstance(node, ast.Assign)
                else [node.target]
                if isinstance(node, ast.AnnAssign)
                else []
            )
            value = node.value if isinstance(node, ast.Assign | ast.AnnAssign) else None
            if isinstance(value, ast.Call) and getattr(value.func, "id", "") == "register" and value.args:
                code = value.args[0]
                if isinstance(code, ast.Constant) and str(code.value).startswith("BW"):
                    registered |= {target.id: str(code.value) for target in targets if isinstance(target, ast.Name)}
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                read.add(node.id)
            if isinstance(node, ast.Attribute):
                read.add(node.attr)
    return registered, read


def test_every_registered_code_is_raised() -> None:
    registered, read = names()
    assert len(registered) > 40
    assert {name: code for name, code in registered.items() if name not in read} == {}
