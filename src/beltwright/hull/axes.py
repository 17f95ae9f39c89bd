"""The steps that bring a hull into ship axes; each looks at a survey and returns the 4 x 4 matrix that mends it."""

from __future__ import annotations

from typing import Literal

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.hull import detect_codes as codes
from beltwright.hull.placing import DetectionRow, HullSettings
from beltwright.hull.survey import Survey

BOW_MARGIN = 0.05  # least difference of fullness between the ends, of the greatest half-breadth
_SYMMETRY = 0.002  # of the breadth: a greater difference between the sides is named
_UNITS = {"x": np.array([1.0, 0, 0]), "y": np.array([0, 1.0, 0]), "z": np.array([0, 0, 1.0])}


def upright(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> FloatArray:
    """Turn the file's up axis to z and its length axis to x; asks where z up and x along do not fit the shape."""
    up = settings.up_axis
    along = settings.length_axis or _length_axis(survey, up or "z", where, findings)
    if along == (up or "z").lstrip("-"):
        raise InputError("hull.length_axis", "is the same axis as hull.up_axis", value=along)
    matrix = _rotation(_UNITS[along], _axis(up or "z"))
    ground = "given" if up else "assumed, and the shape does not speak against it"
    if up is None:
        doubt = _doubt_about_up(survey.moved(matrix))
        if doubt:
            findings.add(codes.UP_UNCLEAR, where, doubt)
            ground = doubt
    rows.append(
        DetectionRow(what="up and length", outcome=f"{up or 'z'} up, {along} along the ship", ground=ground,
                     setting="hull.up_axis, hull.length_axis")
    )  # fmt: skip
    return matrix


def _length_axis(survey: Survey, up: str, where: str, findings: Findings) -> str:
    """Return the axis along the ship: x where it can be, else the longer of the level axes; asks where x is short."""
    size = dict(zip("xyz", np.ptp(survey.box, axis=0).tolist(), strict=True))
    level = [a for a in "xyz" if a != up.lstrip("-")]
    longest = max(level, key=lambda a: size[a])
    if "x" not in level or size[longest] <= 1.2 * size["x"]:
        return "x" if "x" in level else longest
    extents = ", ".join(f"{a} {length:.4g} m" for a, length in size.items())
    findings.add(codes.LENGTH_AXIS, where, f"its extents are {extents}")
    return longest


def _axis(name: str) -> FloatArray:
    """Return the unit vector of a named axis."""
    return -_UNITS[name[1:]] if name.startswith("-") else _UNITS[name]


def _rotation(along: FloatArray, up: FloatArray) -> FloatArray:
    """Return the proper rotation that brings ``along`` to x and ``up`` to z."""
    matrix = np.eye(4)
    matrix[:3, :3] = np.stack([along, np.cross(up, along), up])
    return matrix


def _doubt_about_up(survey: Survey) -> str:
    """Return why z seems not to point up, or an empty text."""
    slices = survey.slices()
    slices = slices[np.isfinite(slices[:, 0, 0])]
    size = np.ptp(survey.box, axis=0)
    if not len(slices) or np.any(size[1:] <= 0.0):
        return ""
    reach = slices[:, 1, 1] - survey.box[0, 2]
    breadth = np.maximum(np.abs(slices[:, 0, 0]), np.abs(slices[:, 1, 0]))
    level_z = float(np.mean(reach) / max(reach.max(), 1e-300))
    level_y = float(np.mean(breadth) / max(breadth.max(), 1e-300))
    if level_y > level_z + 0.1:
        return (
            f"along the ship the hull reaches {100 * level_z:.0f} % of its greatest z but {100 * level_y:.0f} % of its "
            "greatest y on average, so that y rather than z looks like the height"
        )
    low, high = _mean_breadths(survey)
    if low > 1.25 * high and low > 0.0:
        return (
            f"the hull is broader low down (mean half-breadth {low:.3g} m) than high up ({high:.3g} m), as if z "
            "pointed down"
        )
    return ""


def _mean_breadths(survey: Survey) -> tuple[float, float]:
    """Return the mean half-breadth in the lowest and in the highest tenth of the height."""
    grid = _breadths(survey, 30, np.array([0.03, 0.06, 0.1, 0.9, 0.94, 0.97]))
    return float(np.mean(grid[:, :3])), float(np.mean(grid[:, 3:]))


def _breadths(survey: Survey, stations: int, heights: FloatArray) -> FloatArray:
    """Return the half-breadth at evenly spaced stations and given shares of the height; 0 where there is no hull."""
    (x0, _, z0), (x1, _, z1) = survey.box
    x = x0 + (x1 - x0) * (np.arange(stations) + 0.5) / stations
    at = np.stack(np.meshgrid(x, z0 + (z1 - z0) * heights, indexing="ij"), axis=-1).reshape(-1, 2)
    low, high = survey.extremes(1, at)
    reach = 0.5 * (high - low) if _spans(survey) else np.maximum(np.abs(low), np.abs(high))
    return np.nan_to_num(reach, nan=0.0).reshape(stations, len(heights))


def _spans(survey: Survey) -> bool:
    """Return whether the hull lies on both sides of y = 0."""
    low, high = float(survey.box[0, 1]), float(survey.box[1, 1])
    return low < 0.0 < high and min(-low, high) > 0.1 * max(-low, high)


def centred(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> FloatArray:
    """Bring the centre plane to y = 0 and the half that is used to port."""
    matrix = np.eye(4)
    if settings.centreline_y_m is not None:
        matrix[1, 3] = -settings.centreline_y_m
        survey = survey.moved(matrix)
    low, high = float(survey.box[0, 1]), float(survey.box[1, 1])
    side = settings.side or _side(low, high, 0.01 * (high - low))
    ground = "given" if settings.side else f"y runs from {low:.3f} to {high:.3f} m"
    if side is None:
        findings.add(codes.SIDE_UNCLEAR, where, f"y runs from {low:.4g} to {high:.4g} m")
        rows.append(DetectionRow(what="side", outcome="asked", ground=ground, setting="hull.side"))
        return matrix
    if side == "both":
        shift, ground = _whole(survey, settings, where, findings, ground)
        matrix[1, 3] += shift
    if side == "starboard":
        matrix = np.diag([1.0, -1.0, 1.0, 1.0]) @ matrix
        if settings.side is None:
            findings.add(codes.SIDE_MIRRORED, where, ground)
    shown = {"port": "port half", "starboard": "starboard half, mirrored to port", "both": "whole hull, port half used"}
    rows.append(DetectionRow(what="side", outcome=shown[side], ground=ground, setting="hull.side"))
    return matrix


def _side(low: float, high: float, near: float) -> Literal["port", "starboard", "both"] | None:
    """Return which side a range of y shows, or None where it is unclear."""
    if abs(low) <= near < high:
        return "port"
    if abs(high) <= near and low < -near:
        return "starboard"
    return "both" if low < 0.0 < high and min(-low, high) > 0.5 * max(-low, high) else None


def _whole(survey: Survey, settings: HullSettings, where: str, findings: Findings, ground: str) -> tuple[float, str]:
    """Return the shift that centres a whole hull; names the largest difference between its sides."""
    low, high = float(survey.box[0, 1]), float(survey.box[1, 1])
    middle = 0.5 * (low + high)
    (x0, _, z0), (x1, _, z1) = survey.box
    x, z = np.linspace(x0, x1, 42)[1:-1], np.linspace(z0, z1, 22)[1:-1]
    at = np.stack(np.meshgrid(x, z, indexing="ij"), axis=-1).reshape(-1, 2)
    starboard, port = survey.extremes(1, at)
    found = np.isfinite(port)
    off = {c: np.abs((port + starboard)[found] - 2 * c) for c in (0.0, middle)}
    moved = abs(middle) > _SYMMETRY * (high - low) and settings.centreline_y_m is None
    shift = 0.0
    if moved and off[middle].size and off[middle].max() < 0.5 * off[0.0].max():
        findings.add(codes.CENTRELINE_SHIFTED, where, f"its middle lies at y = {middle:.4g} m and was moved to 0")
        shift = -middle
    gap = off[middle if shift else 0.0]
    if gap.size and gap.max() > _SYMMETRY * (high - low):
        worst = np.flatnonzero(found)[int(np.argmax(gap))]
        findings.add(
            codes.ASYMMETRIC, where,
            f"by {gap.max():.3g} m at {at[worst, 0]:.4g} m along the file's length and height {at[worst, 1]:.4g} m",
        )  # fmt: skip
    return shift, f"{ground}; the sides differ by at most {gap.max() if gap.size else 0.0:.2g} m"


def lengthwise(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> FloatArray:
    """Turn the bow to greater x: a whole hull by half a turn, a half hull by a mirroring that keeps it on port."""
    score = _bow_score(survey)
    ground = (
        f"the end at {'lesser' if score > 0 else 'greater'} x is fuller in the upper half by {100 * abs(score):.1f} % "
        "of the half-breadth"
    )
    direction = settings.x_direction
    if direction is None:
        if abs(score) < BOW_MARGIN:
            message = f"the ends' fullness differs by {100 * abs(score):.1f} % ({100 * BOW_MARGIN:.0f} % is needed)"
            findings.add(codes.X_DIRECTION_UNCLEAR, where, message)
            rows.append(DetectionRow(what="x", outcome="asked", ground=message, setting="hull.x_direction"))
            return np.eye(4)
        direction = "forward" if score > 0 else "aft"
        if direction == "aft":
            findings.add(codes.X_AFT, where, ground)
    else:
        if abs(score) >= BOW_MARGIN and direction != ("forward" if score > 0 else "aft"):
            findings.add(codes.X_GIVEN_AGAINST_SHAPE, where, f"x is stated to grow {direction}, but {ground}")
        ground = "given"
    rows.append(DetectionRow(what="x", outcome=f"grows {direction}", ground=ground, setting="hull.x_direction"))
    if direction == "forward":
        return np.eye(4)
    whole = _spans(survey) and settings.side in (None, "both")
    return np.diag([-1.0, -1.0 if whole else 1.0, 1.0, 1.0])


def _bow_score(survey: Survey) -> float:
    """Return how much fuller the end at lesser x is, in the upper half of the outermost 15 % of the length."""
    grid = _breadths(survey, 80, np.linspace(0.52, 0.98, 8))
    most = max(float(grid.max()), 1e-300)
    return float(np.mean(grid[:12]) - np.mean(grid[-12:])) / most


def origins(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> FloatArray:
    """Bring the aft perpendicular to x = 0 and the baseline to z = 0."""
    matrix = np.eye(4)
    matrix[0, 3] = _aft_perpendicular(survey, settings, where, findings, rows)
    matrix[2, 3] = _baseline(survey, settings, where, findings, rows)
    return matrix


def _aft_perpendicular(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> float:
    """Return the shift along x; asks where the file's origin does not lie near the aft end."""
    aft, fore = float(survey.box[0, 0]), float(survey.box[1, 0])
    sign = -1.0 if any(r.what == "x" and r.outcome == "grows aft" for r in rows) else 1.0
    shift = 0.0
    if settings.ap_x_m is not None:
        shift, ground = -sign * settings.ap_x_m, "given"
    elif -0.12 * (fore - aft) <= aft <= 0.05 * (fore - aft):
        ground = f"the file's own; its aft end lies {'behind' if aft < 0.0 else 'before'} it by {abs(aft):.3f} m"
    else:
        shift = -aft
        ground = f"on the file's own axis its aft end lies at {sign * aft:.6g} m, its fore end at {sign * fore:.6g} m"
        findings.add(codes.X_ORIGIN, where, ground)
        rows.append(DetectionRow(what="aft perpendicular", outcome="asked", ground=ground, setting="hull.ap_x_m"))
        return shift
    outcome = f"aft end at x = {aft + shift:.3f} m"
    rows.append(DetectionRow(what="aft perpendicular", outcome=outcome, ground=ground, setting="hull.ap_x_m"))
    return shift


def _baseline(
    survey: Survey, settings: HullSettings, where: str, findings: Findings, rows: list[DetectionRow]
) -> float:
    """Return the shift along z; a hull off z = 0 is set on its lowest point, and a finding says so."""
    keel, top = float(survey.box[0, 2]), float(survey.box[1, 2])
    shift = 0.0
    if settings.baseline_z_m is not None:
        shift, ground = -settings.baseline_z_m, "given"
    elif abs(keel) <= 0.02 * (top - keel):
        ground = "the file's own"
    else:
        shift, ground = -keel, f"the lowest point of the file lies at z = {keel:.6g} m"
        findings.add(codes.Z_ORIGIN, where, ground)
    outcome = f"lowest point at z = {keel + shift:.3f} m"
    rows.append(DetectionRow(what="baseline", outcome=outcome, ground=ground, setting="hull.baseline_z_m"))
    return shift
