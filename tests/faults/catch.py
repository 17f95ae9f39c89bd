"""A fault and how it shows: what the program says with the fault in, and what it says without."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from beltwright.core.errors import ToolError
from beltwright.core.findings import Finding

How = Literal["refused", "named", "not possible"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One injected slip.

    ``slip`` is its number in the list of slips of the trade, ``injected`` what is done, ``how`` it is met: "refused"
    with an error, "named" by a finding or beside the result, or "not possible" because no input or type lets it in.
    ``sign`` is what the program must say with the fault and must not say without it. ``attempt(True)`` does the work
    with the fault, ``attempt(False)`` the control run; both return what the program said, or do what makes it speak.
    """

    slip: str
    injected: str
    how: How
    sign: str
    attempt: Callable[[bool], object]


def said(fault: Fault, injected: bool) -> list[str]:
    """Everything the program says in one run: an error's text, findings, or lines of text."""
    try:
        result = fault.attempt(injected)
    except (ToolError, ValueError, TypeError, KeyError) as error:
        return [f"{type(error).__name__}: {error}"]
    return _told(result)


def _told(result: object) -> list[str]:
    """The findings and lines that a result carries."""
    if isinstance(result, Finding | str):
        return [str(result)]
    findings = getattr(result, "findings", None)
    if findings is not None:
        return [str(finding) for finding in findings]
    if isinstance(result, Iterable) and not isinstance(result, dict):
        return [text for item in result for text in _told(item)]
    return []
