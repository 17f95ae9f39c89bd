"""Every change of thickness, hull area and profile on the sized shell, with tapers, and the frames that must run on."""

from __future__ import annotations

import itertools

import numpy as np
import shapely

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import Unit
from beltwright.rules.protocol import Strengthens
from beltwright.scantlings.areas import classify, codes_strengthening
from beltwright.sizing import codes
from beltwright.sizing.size import Sized
from beltwright.weights.shellplates import least_width_m

NOT_FRAME = "a change of plates has no frame"
NOT_PLATE = "profiles have no taper in thickness"


Change = tuple[str, str, str, str, str, float, float, float, float, float]
_NO_PLATE_NUMBERS = (float("nan"),) * 4


def transitions(sized: Sized) -> tuple[ColumnTable, tuple[Finding, ...]]:
    """Return the table of all changes, and a finding for each taper that has no room.

    Frames that end inside a strengthened area are findings of the design itself.

    A change of thickness is tapered over the ship's ``sizing.taper`` times the difference, in the thicker plate; there
    is room if that is less than half the thicker plate's least width across the joint.
    """
    rows: list[Change] = []
    findings = Findings()
    laid, taper = sized.laid, sized.ship.sizing.taper
    for one, other in laid.plates.beside.tolist():
        a, b = laid.thickness_mm[one], laid.thickness_mm[other]
        if np.isnan(a) or np.isnan(b) or a == b:
            continue
        thick, thin = (one, other) if a > b else (other, one)
        joint = shapely.intersection(laid.plates.outlines[one].buffer(1e-6), laid.plates.outlines[other].buffer(1e-6))
        at, length = joint.centroid, taper * abs(a - b) / 1000.0
        room = 0.5 * least_width_m(laid.plates.outlines[thick])
        names = laid.plates.names[thick], laid.plates.names[thin]
        across = "seam" if joint.bounds[2] - joint.bounds[0] > joint.bounds[3] - joint.bounds[1] else "butt"
        thickest, thinnest = float(max(a, b)), float(min(a, b))
        place = float(at.x), float(at.y)
        rows.append(("thickness", across, *names, "", *place, thickest, thinnest, 1000.0 * length))
        if length > room:
            told = f"{abs(a - b):g} mm over {1000.0 * length:.0f} mm, room for {1000.0 * room:.0f} mm"
            findings.add(codes.NO_ROOM_TO_TAPER, f"plates {names[0]} and {names[1]}", told)
    rows += _areas(sized)
    rows += _profiles(sized)
    rows += _running_on(sized)
    return _table(rows), tuple(findings)


def _areas(sized: Sized) -> list[Change]:
    """The joints at which one hull area's plates meet another's, by the area that asks a plate for most.

    The heavier area's plate covers the border, so that what it asks for ends outside it.
    """
    laid, plating, cover = sized.laid, sized.design.plating, sized.cover
    required = plating["thickness_required_mm"].data[cover.panel]
    named = plating.labels("hull_area")[cover.panel]
    area = [""] * len(laid.plates.names)
    for plate in range(len(area)):
        mine = np.flatnonzero((cover.plate == plate) & ~np.isnan(required))
        if len(mine):
            area[plate] = str(named[mine[int(np.argmax(required[mine]))]])
    rows = []
    for one, other in laid.plates.beside.tolist():
        thickness = laid.thickness_mm[one], laid.thickness_mm[other]
        if area[one] == area[other] or np.isnan(thickness).any():
            continue
        joint = shapely.intersection(laid.plates.outlines[one].buffer(1e-6), laid.plates.outlines[other].buffer(1e-6))
        across = "seam" if joint.bounds[2] - joint.bounds[0] > joint.bounds[3] - joint.bounds[1] else "butt"
        first, second = (f"{area[p] or 'no area'} on {laid.plates.names[p]}" for p in (one, other))
        taper = sized.ship.sizing.taper * abs(thickness[0] - thickness[1])
        place = float(joint.centroid.x), float(joint.centroid.y)
        rows.append(("area", across, first, second, "", *place, max(thickness), min(thickness), float(taper)))
    return rows


def _running_on(sized: Sized) -> list[Change]:
    """Frame spans that begin in a strengthened hull area and end outside: they must run on to that support."""
    design = sized.design
    frames, shapes = design.arrangement.frames, design.arrangement.frame_shapes
    strengthened = codes_strengthening(design.areas, Strengthens.FRAMING)
    ends = [np.isin(classify(design.areas, design.measures, shapes.samples[:, k], shapes.sample_normals[:, k]),
                    strengthened) for k in (0, -1)]  # fmt: skip
    section, zone = design.frames.labels("section"), frames.labels("zone")
    across = (frames.labels("orientation") == "transverse") & (section != "")
    number, found = frames.values("frame"), dict[tuple[str, str, str], list[int]]()
    for inner, outer, level in ((ends[0], ends[1], "upper_level"), (ends[1], ends[0], "lower_level")):
        for k in np.flatnonzero(across & inner & ~outer).tolist():
            found.setdefault((str(zone[k]), str(section[k]), str(frames.labels(level)[k])), []).append(k)
    rows = []
    for (name, profile, level), spans in found.items():
        where = f"{name} F{min(number[spans]):g} to F{max(number[spans]):g}"
        x = float(np.mean(frames.values("centroid_x_m")[spans]))
        rows.append(("runs on", "support", profile, level, where, x, *_NO_PLATE_NUMBERS))
    return rows


def _profiles(sized: Sized) -> list[Change]:
    """The supports at which a frame changes its section, once for each pair of sections and support."""
    frames, table = sized.design.arrangement.frames, sized.design.frames
    section, number = table.labels("section"), frames.values("frame")
    lower, upper = frames.labels("lower_level"), frames.labels("upper_level")
    across = (frames.labels("orientation") == "transverse") & (section != "")
    above = {(float(number[k]), str(lower[k])): k for k in np.flatnonzero(across)}
    pairs: dict[tuple[str, str, str], list[int]] = {}
    for k in np.flatnonzero(across):
        other = above.get((float(number[k]), str(upper[k])))
        if other is not None and section[other] != section[k]:
            pairs.setdefault((str(section[k]), str(section[other]), str(upper[k])), []).append(int(k))
    rows = []
    for (below, over, level), spans in pairs.items():
        first, last = min(number[spans]), max(number[spans])
        where = f"F{first:g} to F{last:g} at {level}"
        x = float(np.mean(frames.values("centroid_x_m")[spans]))
        rows.append(("profile", "support", below, over, where, x, *_NO_PLATE_NUMBERS))
    return rows


def _table(rows: list[Change]) -> ColumnTable:
    """The changes as a table."""
    words = [list(part) for part in itertools.islice(zip(*rows, strict=True), 5)] if rows else [[]] * 5
    numbers = np.array([row[5:] for row in rows], dtype=np.float64).reshape(-1, 5)
    columns = {
        name: Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))
        for (name, meaning), data in zip(
            (("kind", "thickness, area, profile, or a frame that runs on beyond the strengthened areas"),
             ("joint", "seam, butt or support"),
             ("from", "thicker plate, hull area and plate, section below, or section that runs on"),
             ("to", "thinner plate, hull area and plate, section above, or support it runs on to"),
             ("frames", "frames that change their section or run on, and where")),
            words, strict=True,
        )
    }  # fmt: skip
    for column, (name, unit, meaning, reason) in enumerate(
        (("x_m", "m", "middle of the joint, x from the aft perpendicular", ""),
         ("girth_m", "m", "middle of the joint, girth from the centreline", NOT_PLATE),
         ("thick_mm", "mm", "thicker plate", NOT_PLATE), ("thin_mm", "mm", "thinner plate", NOT_PLATE),
         ("taper_mm", "mm", "length of the taper in the thicker plate", NOT_PLATE)),
    ):  # fmt: skip
        data = numbers[:, column]
        columns[name] = Column(unit=Unit(unit), meaning=meaning, data=data,
                               reason=np.where(np.isnan(data), reason, "") if reason else None)  # fmt: skip
    return ColumnTable("transitions", columns)
