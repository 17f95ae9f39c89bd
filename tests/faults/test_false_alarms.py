"""Cautions on the demo ships, which are as they should be: each is listed, and is a false alarm unless it is true.

A caution is true where the ship really has what it names. The table is printed in every run.
"""

from __future__ import annotations

import re

import numpy as np
import pytest
from tests.scantlings.demo import NAMES, project

from beltwright.core.findings import Finding, Severity
from beltwright.scantlings.design import Design
from beltwright.ship.model import Opening

pytestmark = pytest.mark.slow


def passes(design: Design, span: str, opening: Opening) -> bool:
    """Whether a frame span's line on the shell has a place inside an opening's length and height."""
    row = int(np.flatnonzero(design.arrangement.frames.labels("id") == span)[0])
    ends = design.arrangement.frame_shapes.samples[row]
    share = np.linspace(0.0, 1.0, 51)[:, None, None]
    points = ((1.0 - share) * ends[:-1] + share * ends[1:]).reshape(-1, 3)
    along = np.abs(points[:, 0] - opening.x_m) <= 0.5 * opening.length_m + 1e-6
    return bool((along & (np.abs(points[:, 2] - opening.z_m) <= 0.5 * opening.height_m)).any())


def is_true(name: str, finding: Finding) -> str:
    """Why a caution is true of this ship, from another source than the finding; empty for a false alarm."""
    results = project(name).results
    ship, measures = results.design.ship, results.design.measures
    match finding.kind.code:
        case "BW205":  # every frame span that it names passes through the opening
            opening = next(o for o in ship.openings if o.name == finding.where)
            spans = re.findall(r"F[^,\s]+", finding.message)
            met = [passes(results.design, span, opening) for span in spans]
            return f"{len(met)} named spans pass through it" if met and all(met) else ""
        case "BW213":  # the waterline is broad where it ends aft
            points = measures.upper.curve.points
            half = float(points[points[:, 0] <= points[:, 0].min() + 0.01, 1].max())
            return f"the waterline is {2.0 * half:.2f} m broad at its aft end" if half > 0.5 else ""
        case "BW447":  # web frames and load-carrying stringers, which no formula of this issue sizes
            webs = int((results.design.arrangement.frames.labels("role") == "web frame").sum())
            named = finding.message.startswith(f"{webs} ")
            return f"the frame table has {webs} spans of web frames and floors" if named else ""
        case "BW480":  # no calculation's stresses stand in ship.toml, so that no member can be closed
            calculated = [line for line in (*ship.web_frames, *ship.stringers) if line.calculation is not None]
            return "ship.toml names no calculation of web frames or stringers" if not calculated else ""
        case "BW481":  # fewer items are answered than named, and every one named is a clause of the rule set
            closed = {entry.item for entry in ship.checklist if entry.status != "open"}
            named = finding.message.rpartition(": ")[2].split(", ")
            known = {item.id for item in results.design.rules.checklist}
            return f"{len(named)} items have no answer" if named and set(named) <= known - closed else ""
        case (
            "BW454"
        ):  # a power law with the named exponent, laid on the waterline here, is off by more than a twentieth
            girder = results.design.girder
            if girder is None:
                return ""
            line, breadth = measures.upper.curve.points, girder.fit.breadth_m
            aft = line[:, 0].max() - line[:, 0]
            bow = (aft > 0.0) & (aft <= girder.fit.length_m)
            power = 0.5 * breadth * (aft[bow] / girder.fit.length_m) ** girder.exponent
            off = float(np.max(np.abs(power - line[bow, 1]))) / (0.5 * breadth)
            return f"the power law is off by {100.0 * off:.1f} % of the half-breadth" if off > 0.05 else ""
        case "BW463":  # the named number of oblique spans falls short of one of the two areas between which it lies
            run = results.design.framing_run
            rows = len(run.rows.member)
            share, across, along, net = (
                np.broadcast_to(run.values[column], rows)
                for column in ("transverse_share", "shear_area_transverse_cm2", "shear_area_longitudinal_cm2",
                               "shear_area_net_cm2")
            )  # fmt: skip
            short = (share > 0.0) & (share < 1.0) & (np.maximum(across, along) > net)
            spans = len(np.unique(run.rows.member[short]))
            return (
                f"{spans} oblique spans have less than one of the two areas"
                if (spans and finding.message.startswith(f"{spans} of "))
                else ""
            )
        case "BW406":
            return "a reason is written" if any(ship.overrides.model_dump().values()) else ""
        case "BW403":
            upright = float(np.max(results.design.stations.angles.beta_prime_deg)) <= 10.0
            return "beta' is 10 degrees or less at every station" if upright else ""
    return ""


def test_no_false_alarm_on_the_demo_ships(capsys: pytest.CaptureFixture[str]) -> None:
    lines, false, counted = [], [], 0
    for name in NAMES:
        results = project(name).results
        assert not [f for f in results.findings if f.kind.severity is Severity.BLOCK]
        for finding in (f for f in results.findings if f.kind.severity is Severity.CAUTION):
            counted += 1
            why = is_true(name, finding)
            lines.append(f"{name:22} {finding.kind.code} {'true' if why else 'FALSE ALARM'}: {finding.where}: {why}")
            if not why:
                false.append(str(finding))
    with capsys.disabled():
        print(f"\ncautions on {len(NAMES)} clean demo ships: {counted}, false alarms: {len(false)}")
        print("\n".join(lines))
    assert not false
    assert counted == len(lines) > 0
