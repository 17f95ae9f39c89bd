"""Errors that a user can act on: one line saying where, what, which value, which unit and what is allowed."""

from __future__ import annotations

from enum import IntEnum


class ExitCode(IntEnum):
    """What the command's exit status says."""

    MET = 0
    NOT_MET = 1
    BAD_INPUT = 2
    OUT_OF_SCOPE = 3
    PROGRAM_FAILED = 70


class ToolError(Exception):
    """Any error this program raises on purpose; ``str(error)`` is one line for the user."""

    exit_code: ExitCode = ExitCode.BAD_INPUT


class InputError(ToolError, ValueError):
    """Bad input.

    Parameters
    ----------
    where : file, field or entity, e.g. ``ship.toml: waterlines.upper.draught_fore_m``
    what : what is wrong, in plain words
    value, unit : the value found and its unit, if there is one
    allowed : the allowed range or list, in words
    """

    def __init__(self, where: str, what: str, *, value: object = None, unit: str = "", allowed: str = "") -> None:
        self.where, self.what, self.value, self.unit, self.allowed = where, what, value, unit, allowed
        shown = "" if value is None else f"; found {_short(value)}{' ' + unit if unit else ''}"
        limit = f"; allowed: {allowed}" if allowed else ""
        super().__init__(_one_line(f"{where}: {what}{shown}{limit}"))


class ScopeError(ToolError):
    """The case lies outside what the rule was written for; a written override may let it pass.

    Parameters
    ----------
    what : what is out of scope
    reason : why, with the numbers
    ref : the clause that draws the line
    override : the key in ``ship.toml`` under which the user may give a written reason, or empty if there is none
    """

    exit_code = ExitCode.OUT_OF_SCOPE

    def __init__(self, what: str, reason: str, *, ref: str, override: str = "") -> None:
        self.what, self.reason, self.ref, self.override = what, reason, ref, override
        tail = f"; to go on, write your reason under {override}" if override else ""
        super().__init__(_one_line(f"outside the rule's scope: {what}: {reason} ({ref}){tail}"))


class SolverError(ToolError):
    """A numerical method did not converge; never replaced by a number."""


def _short(value: object) -> str:
    text = f"{value:.10g}" if isinstance(value, float) else str(value)
    return text if len(text) <= 80 else text[:77] + "..."


def _one_line(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
