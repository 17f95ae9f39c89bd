"""What the user may say about a hull file, and the record of what was found in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from beltwright.core.findings import Finding
from beltwright.hull.patch import Patch

Axis = Literal["x", "y", "z", "-x", "-y", "-z"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HullSettings:
    """The user's answers about a hull file; what is None is detected, or asked for through a finding.

    Attributes
    ----------
    length_unit : unit of the file's numbers ("m", "mm", "cm", "in", "ft"); goes before the file's own
    x_direction : where x grows, "forward" or "aft"
    side : what the file shows, "port" (y > 0), "starboard" (y < 0, mirrored) or "both"
    up_axis : the file's axis that points up
    length_axis : the file's axis along the ship, "x" or "y" (or "z" where another points up)
    ap_x_m, baseline_z_m, centreline_y_m : places of the aft perpendicular, the baseline and the centre plane along
        the file's own length, height and breadth axes, in metres
    """

    length_unit: str | None = None
    x_direction: Literal["forward", "aft"] | None = None
    side: Literal["port", "starboard", "both"] | None = None
    up_axis: Axis | None = None
    length_axis: Literal["x", "y", "z"] | None = None
    ap_x_m: float | None = None
    baseline_z_m: float | None = None
    centreline_y_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DetectionRow:
    """One line of the report: what was settled, the outcome, on what ground, and the setting that overrides it."""

    what: str
    outcome: str
    ground: str
    setting: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A face that is not part of the shell: its name in the file, what it is, and the face itself in ship axes."""

    name: str
    role: Literal["deck", "bulkhead", "centre plane", "other side", "double"]
    patch: Patch


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedHull:
    """A hull in ship axes [m].

    Attributes
    ----------
    patches : the shell's faces on the port side (faces across the centre plane are whole; the shell cuts them);
        empty where a finding blocks
    left_out : faces of the file that are not shell
    findings : what was noticed
    detection : what was settled and why, for the report
    source, format, sha256 : the file's name, its format and the SHA-256 of its content
    """

    patches: tuple[Patch, ...]
    left_out: tuple[LeftOut, ...]
    findings: tuple[Finding, ...]
    detection: tuple[DetectionRow, ...]
    source: str
    format: str
    sha256: str
