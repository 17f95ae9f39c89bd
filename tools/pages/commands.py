"""The page of commands and their options, from the command line itself."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from typer.main import get_command

from beltwright.cli.main import app
from beltwright.core.errors import ExitCode
from pages._modules import table

MEANING = {
    ExitCode.MET: "every requirement is met",
    ExitCode.NOT_MET: "something that you gave does not meet a requirement",
    ExitCode.BAD_INPUT: "bad input: one line says where, what, the value found and what is allowed; nothing is written",
    ExitCode.PROGRAM_FAILED: "the program itself failed; nothing was decided",
    ExitCode.OUT_OF_SCOPE: "outside what the rule was written for; a written reason in `ship.toml` may let it pass",
}


def page() -> str:
    """Give the page as Markdown."""
    parts = ["# Commands\n\n`beltwright --help` and `beltwright COMMAND --help` say the same on the screen.\n"]
    for name, command in commands():
        words = " ".join(["beltwright", name, *(_shape(p) for p in command.params if p.param_type_name == "argument")])
        parts.append(f"\n## {name}\n\n```text\n{words} [options]\n```\n\n{command.help}\n\n")
        parts.append(table(["", "what"], [[f"`{_words(p)}`", p.help] for p in command.params]))
    parts.append("\n## Exit codes\n\n" + table(["code", "meaning"], [[str(int(c)), MEANING[c]] for c in ExitCode]))
    return "".join(parts)


def commands() -> Iterator[tuple[str, Any]]:
    """Yield each command with its name."""
    top: Any = get_command(app)
    for name, command in top.commands.items():
        if not command.hidden:
            yield name, command


def _shape(parameter: Any) -> str:
    name = str(parameter.name).upper()
    return name if parameter.required else f"[{name}]"


def _words(parameter: Any) -> str:
    if parameter.param_type_name == "argument":
        return _shape(parameter)
    words = ", ".join([*parameter.opts, *parameter.secondary_opts])
    return words if parameter.is_flag else f"{words} {str(parameter.name).upper()}"
