"""Design loads, as the chains of the members read them and as they are shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from beltwright.core.chain import Columns, Trace
from beltwright.core.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPatch:
    """A design load patch: width along the waterline, height, mean pressure before the area factor, where used."""

    name: str
    width_m: float
    height_m: float
    pressure_mpa: float
    force_mn: float
    areas: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignLoads:
    """The design loads of one ship under one class.

    ``columns`` are length-1 arrays that the member chains read; ``traces`` the calculation by name ("station 1" ..,
    "design"); ``choices`` sentences saying which formula was chosen and why; ``findings`` what the engineer must see.
    ``patches_are`` says in a sentence what the patches show. ``compared`` names the numbers of the trace "design" that
    are worth laying side by side for several classes.
    """

    columns: Columns
    patches: tuple[LoadPatch, ...]
    traces: Mapping[str, Trace]
    choices: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    compared: tuple[str, ...] = ()
    patches_are: str = "Mean pressure is before the hull area factor; width is along the waterline."
