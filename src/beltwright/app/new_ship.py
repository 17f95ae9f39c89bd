"""A new ship folder from a hull file: what the file shows, and a first description made from a few answers.

Nothing is decided for the engineer: what was detected is shown, every answer is asked for, and the first description is
as plain as it can be (one framing zone at the side, one at the bottom), to be worked on from there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
import tomlkit

from beltwright.core.errors import InputError
from beltwright.core.findings import Finding
from beltwright.drawing.hull_look import hull_look
from beltwright.drawing.scene import Scene
from beltwright.hull.detect import load_hull
from beltwright.hull.patch import SplinePatch
from beltwright.hull.placing import DetectionRow, HullSettings, PlacedHull
from beltwright.hull.section import sections
from beltwright.scantlings.measure import shell_of
from beltwright.ship.parse import parse_ship

HULL_KINDS: Final = (".step", ".stp", ".iges", ".igs", ".3dm", ".stl", ".obj", ".ply", ".csv")
_SAFE: Final = re.compile(r"[^a-z0-9]+")
SECTIONS: Final = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class HullLook:
    """What a hull file shows once it is placed.

    ``box`` (2, 3) are the least and greatest x, y, z in ship axes [m], None where the file leaves something open;
    ``rows`` say what was settled and why, ``findings`` what is to be answered or looked at; ``picture`` is the hull
    drawn from its sections, None with the box.
    """

    box: tuple[tuple[float, float, float], tuple[float, float, float]] | None
    rows: tuple[DetectionRow, ...]
    findings: tuple[Finding, ...]
    picture: Scene | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A deck or stringer of the first description."""

    name: str
    kind: str
    height_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What a first description is made from; lengths from the aft perpendicular, heights above the baseline [m]."""

    name: str
    hull_file: str
    rules: str
    ice_class: str
    depth_m: float
    upper_draught_m: float
    lower_draught_m: float
    displacement_allowance_t: float
    frame_spacing_m: float
    web_frame_spacing_m: float
    levels: Sequence[Level]
    propulsion: str
    rudder_stock_x_m: float
    plate_grade: str
    frame_grade: str


def folder_name(name: str) -> str:
    """Return a folder's name for a ship's: letters and figures only; InputError where nothing is left."""
    made = _SAFE.sub("-", name.lower()).strip("-")[:60].strip("-")
    if not made:
        raise InputError("name of the ship", "has no letter or figure", value=name, allowed="a name")
    return made


def hull_name(name: str) -> str:
    """Return under which name an uploaded hull file is kept; InputError for a kind that no reader takes."""
    kind = Path(name).suffix.lower()
    if kind not in HULL_KINDS:
        raise InputError(
            "hull file", "is of no kind that can be read", value=kind or name[:40], allowed=", ".join(HULL_KINDS)
        )
    return f"hull{kind}"


def look_at(path: Path, settings: HullSettings) -> HullLook:
    """Return what a hull file shows, with some answers about it; raises InputError where it cannot be read."""
    placed = load_hull(path, settings)
    box = None
    if placed.patches:
        points = np.concatenate([
            patch.poles[..., :3].reshape(-1, 3) if isinstance(patch, SplinePatch) else patch.vertices.reshape(-1, 3)
            for patch in placed.patches
        ])  # fmt: skip
        low, high = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        box = (tuple(low), tuple(high))
    return HullLook(box=box, rows=placed.detection, findings=placed.findings, picture=_picture(placed))


def _picture(placed: PlacedHull) -> Scene | None:
    """The hull from its sections; None where the file leaves something open."""
    if not placed.patches:
        return None
    shell = shell_of(placed)
    low, high = shell.bounds[:, 0]
    x = low + (high - low) * (0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, SECTIONS + 2)[1:-1]))
    cut = sections(shell, x)
    met = [k for k in range(len(x)) if cut.main_curve[k] >= 0]
    curves = [cut.at.points[cut.curves_of(k)[0]][:, 1:] for k in met]
    return hull_look(x[met], curves) if len(met) > 2 else None


def first_description(answers: Answers, settings: HullSettings, hull_x_m: tuple[float, float]) -> str:
    """Return the text of a first ``ship.toml``; raises InputError naming what the answers contradict.

    ``hull_x_m`` are the aft and forward end of the hull, from the aft perpendicular.
    """
    spacing = answers.frame_spacing_m
    first, last = int(np.floor(hull_x_m[0] / spacing)) - 1, int(np.ceil(hull_x_m[1] / spacing)) + 1
    levels = sorted(answers.levels, key=lambda level: level.height_m)
    if len(levels) < 2:
        raise InputError("levels", "are too few", value=len(levels), allowed="an inner bottom or stringer, and a deck")
    document = tomlkit.document()
    document.add(tomlkit.comment("First description, made from a hull file and a few answers; work on from here."))
    document["ship"] = {"name": answers.name}
    hull = {"file": answers.hull_file, "depth_m": answers.depth_m}
    hull |= {name: value for name, value in _said(settings).items() if value is not None}
    document["hull"] = hull
    document["ice"] = {"rules": answers.rules, "ice_class": answers.ice_class}
    document["propulsion"] = {"kind": answers.propulsion, "rudder_stock_x_m": answers.rudder_stock_x_m}
    document["water"] = {"density_t_m3": 1.025, "shell_and_appendages_t": answers.displacement_allowance_t}
    ends = (0.0, float(np.round(hull_x_m[1], 3)))
    document["waterlines"] = {
        name: [{"x_m": x, "draught_m": draught} for x in ends]
        for name, draught in (("upper", answers.upper_draught_m), ("lower", answers.lower_draught_m))
    }
    document["frames"] = _rows([{"from_frame": first, "to_frame": last, "spacing_m": spacing}])
    document["levels"] = _rows([
        {"name": level.name, "kind": level.kind, "height_m": level.height_m} for level in levels
    ])  # fmt: skip
    common = {"from_frame": first, "to_frame": last, "web_frame_spacing_m": answers.web_frame_spacing_m}
    side = {"name": "side", **common, "from_level": levels[0].name, "to_level": levels[-1].name}
    bottom = {"name": "bottom", **common, "to_level": levels[0].name, "spacing_m": max(1.5 * spacing, 0.3)}
    document["zones"] = _rows([
        {**side, "orientation": "transverse"}, {**bottom, "orientation": "longitudinal"},
    ])  # fmt: skip
    document["steel"] = {"plate_grade": answers.plate_grade, "frame_grade": answers.frame_grade}
    text = tomlkit.dumps(document)
    parse_ship(document.unwrap(), "ship.toml")
    return text


def proposed_levels(depth_m: float, lower_draught_m: float) -> tuple[Level, ...]:
    """Return levels to begin with, evenly about 1.5 m apart from an inner bottom to the main deck; common practice."""
    inner = round(max(min(0.18 * depth_m, lower_draught_m - 1.0), 0.9), 2)
    count = max(round((depth_m - inner) / 1.5), 1)
    heights = np.linspace(inner, depth_m, count + 1)
    made = [Level(name="tank top", kind="inner bottom", height_m=inner)]
    made += [
        Level(name=f"stringer {k}", kind="load-carrying stringer", height_m=round(float(height), 2))
        for k, height in enumerate(heights[1:-1], 1)
    ]
    return (*made, Level(name="main deck", kind="deck", height_m=depth_m))


def _said(settings: HullSettings) -> dict[str, object]:
    """The answers about the hull file."""
    return {name: getattr(settings, name) for name in settings.__dataclass_fields__}


def _rows(rows: list[dict[str, object]]) -> object:
    """A list of tables."""
    made = tomlkit.aot()
    for row in rows:
        table = tomlkit.table()
        table.update(row)
        made.append(table)
    return made
