"""The frames that pass through web frames and stringers: their fitted depth beside the height given in ship.toml.

A web is judged with the height of the framing that passes through it as its user gives it; a height that is more than
the least frame fitted there makes the web look stockier than it is.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import Column
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, LabelArray, Unit
from beltwright.scantlings import codes
from beltwright.scantlings.members import NOTHING_ASKED, MemberRun
from beltwright.scantlings.support_run import SupportRun
from beltwright.scantlings.support_spans import STRINGER, SupportSpans
from beltwright.scantlings.supports import NOT_GIVEN
from beltwright.ship.model import Orientation, Ship

NONE_PASSES, NOT_KNOWN = "no frame passes through it", "frames without a section pass through it"
_ON_IT_M = 0.02
_DEPTH = "stiffener_height_mm"


def frame_depths(arrangement: Arrangement, framing: MemberRun) -> FloatArray:
    """Return the depth of every frame span's section (f,) [mm], NaN without one."""
    depth = np.full(arrangement.frames.rows, np.nan)
    values = framing.values[_DEPTH]
    depth[framing.members] = np.broadcast_to(values, framing.rows.member.shape)[framing.governing]
    return depth


def least_framing_mm(spans: SupportSpans, arrangement: Arrangement, framing: MemberRun) -> tuple[FloatArray, BoolArray]:
    """Return the least net depth of the frames that pass through each web frame span and stringer bay (n,) [mm].

    Also whether any passes at all (n,): frames of which nothing is asked have no section.

    Through a web frame pass longitudinals and oblique frames that end on it in the height of its span; through a
    stringer the frames that end on its level between its ends. The depth is NaN where none with a section passes.
    """
    frames, shapes = arrangement.frames, arrangement.frame_shapes
    depth = frame_depths(arrangement, framing)
    known = ~np.isnan(depth)
    across = frames.labels("orientation") == Orientation.TRANSVERSE.value
    ends = shapes.samples[:, [0, -1]]
    lower, upper, x = frames.labels("lower_level"), frames.labels("upper_level"), frames.values("x_m")
    height = shapes.samples[:, shapes.samples.shape[1] // 2, 2]
    found, any_passes = np.full(spans.count, np.nan), np.zeros(spans.count, dtype=bool)
    for i in range(spans.count):
        points = spans.points[i]
        if spans.kind[i] == STRINGER:
            level, run = spans.level[i], points[:, 0]
            passes = across & ((lower == level) | (upper == level)) & (x >= run.min()) & (x <= run.max())
        else:
            at, z = points[:, 0].mean(), points[:, 2]
            passes = ~across & (np.abs(ends[:, :, 0] - at) < _ON_IT_M).any(axis=1)
            passes &= (height >= z.min()) & (height <= z.max())
        any_passes[i] = passes.any()
        here = depth[passes & known]
        if len(here):
            found[i] = here.min()
    return found, any_passes


def with_framing(
    ship: Ship, supports: SupportRun, arrangement: Arrangement, framing: MemberRun, findings: Findings
) -> SupportRun:
    """Return the web frames and stringers with the height given and the least frame fitted, told where they disagree.

    What the deduction takes off the flange's far face may be given. A rule set whose chain does not know the depth of
    frames gets its members back as they are.
    """
    if _DEPTH not in framing.values:
        return supports
    given = supports.given
    least, passes = least_framing_mm(supports.spans, arrangement, framing)
    typed = np.where(given.given, given.numbers["penetrating_height_mm"], np.nan)
    table = supports.table.with_columns(
        {
            "penetrating_height_mm": _column(
                "height of the framing that passes through, as given", typed, np.array(NOT_GIVEN)
            ),
            "framing_least_mm": _column(
                "least net depth of the frames that pass through it", least, np.where(passes, NOT_KNOWN, NONE_PASSES)
            ),
        }
    )
    asked = table.labels("outcome") != NOTHING_ASKED
    most = np.where(passes, least + ship.stock.frame_corrosion_mm, 0.0)
    over = np.flatnonzero(asked & (typed > most))
    if len(over):
        worst = int(over[np.argmax(typed[over] - most[over])])
        fitted = NONE_PASSES if not passes[worst] else f"the least frame fitted is {least[worst]:g} mm deep, net"
        findings.add(
            codes.PENETRATING_TOO_HIGH, "web_frames and stringers",
            f"{len(over)} members; worst {table.labels('id')[worst]}: {typed[worst]:g} mm given, {fitted}",
        )  # fmt: skip
    return replace(supports, table=table)


def _column(meaning: str, data: FloatArray, missing: LabelArray) -> Column:
    """A column of heights, with the reason where there is none."""
    return Column(unit=Unit("mm"), meaning=meaning, data=data, reason=np.where(np.isnan(data), missing, ""))
