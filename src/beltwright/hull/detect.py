"""From a raw hull file to faces in ship axes: unit, axes, side, bow and origin are found, shown and overridable.

What the file cannot tell is asked through a blocking finding and never guessed.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings, Severity
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull import axes
from beltwright.hull import detect_codes as codes
from beltwright.hull.codes import FACES_DOUBLED
from beltwright.hull.inner import mesh_groups, roles
from beltwright.hull.patch import Patch, RawHull, TrianglePatch, mapped
from beltwright.hull.placing import DetectionRow, HullSettings, LeftOut, PlacedHull
from beltwright.hull.readers import read_hull
from beltwright.hull.readers.child import DEFAULT_LIMITS, ChildLimits
from beltwright.hull.survey import Survey, used_vertices
from beltwright.hull.units import METRES_PER

__all__ = ["HullSettings", "PlacedHull", "load_hull", "place"]

LEAST_LENGTH_M, GREATEST_LENGTH_M = 10.0, 500.0
_CANDIDATE_UNITS = ("m", "mm", "in", "ft", "cm")


def load_hull(
    path: Path | str, settings: HullSettings | None = None, *, limits: ChildLimits = DEFAULT_LIMITS
) -> PlacedHull:
    """Read a hull file and place it in ship axes.

    Parameters
    ----------
    path : the hull file
    settings : the user's answers; None leaves all to detection
    limits : what the parser's child process may use

    Raises
    ------
    InputError : the file cannot be read
    """
    path = Path(path)
    raw = read_hull(path, limits=limits)
    with path.open("rb") as stream:
        digest = hashlib.file_digest(stream, "sha256").hexdigest()
    return place(raw, settings, sha256=digest)


def place(raw: RawHull, settings: HullSettings | None = None, *, sha256: str = "") -> PlacedHull:
    """Place a raw hull in ship axes: port half, x forward, z up, metres.

    Where any finding blocks, ``patches`` is empty and the findings say what to answer.
    """
    settings = settings or HullSettings()
    findings = Findings()
    rows: list[DetectionRow] = []
    where = raw.source
    for note in raw.notes:
        findings.add(codes.READER_REMARK, where, note)
    survey = Survey.of(raw.patches)
    scale = _scale(raw, settings, survey, findings, rows)
    matrix = np.diag([scale, scale, scale, 1.0])
    survey = survey.moved(matrix)
    for settle in (axes.upright, axes.centred, axes.lengthwise, axes.origins):
        step = settle(survey, settings, where, findings, rows)
        survey, matrix = survey.moved(step), step @ matrix
    placed = [mapped(patch, matrix) for patch in raw.patches]
    shell, left_out = _sorted_out(placed, survey, where, findings)
    blocked = bool(findings.of(Severity.BLOCK))
    if not shell and not blocked:
        raise InputError(where, "no face of the file is shell on the port side")
    return PlacedHull(
        patches=() if blocked else tuple(shell), left_out=tuple(left_out), findings=tuple(findings),
        detection=tuple(rows), source=raw.source, format=raw.format, sha256=sha256,
    )  # fmt: skip


def _scale(raw: RawHull, settings: HullSettings, survey: Survey, findings: Findings, rows: list[DetectionRow]) -> float:
    """Return metres per file unit; asks where the unit is not stated or the length not plausible."""
    where, extent = raw.source, float(np.max(np.ptp(survey.box, axis=0)))
    unit, ground = raw.length_unit, "stated in the file"
    if settings.length_unit is not None:
        unit, ground = settings.length_unit, "stated in the ship's description"
        if raw.length_unit not in (None, unit):
            findings.add(codes.UNIT_OVERRULED, where, f"the file states {raw.length_unit}, the description {unit}")
    if unit is not None and unit not in METRES_PER:
        raise InputError("hull.length_unit", "unknown length unit", value=unit, allowed=", ".join(METRES_PER))
    lengths = {u: extent * METRES_PER[u] for u in _CANDIDATE_UNITS}
    fits = [u for u, length in lengths.items() if LEAST_LENGTH_M <= length <= GREATEST_LENGTH_M]
    said = ", ".join(f"{lengths[u]:.4g} m if in {u}" for u in fits) or "none of m, mm, cm, in, ft fits a ship"
    if unit is None:
        findings.add(codes.UNIT_MISSING, where, f"the longest extent is {extent:.6g}; {said}")
        rows.append(DetectionRow(what="length unit", outcome="asked", ground=said, setting="hull.length_unit"))
        return METRES_PER[fits[0]] if fits else 1.0
    length = extent * METRES_PER[unit]
    if not LEAST_LENGTH_M <= length <= GREATEST_LENGTH_M:
        message = f"{length:.6g} m long in {unit} ({ground}), outside {LEAST_LENGTH_M:g} to {GREATEST_LENGTH_M:g} m"
        findings.add(codes.UNIT_IMPLAUSIBLE, where, f"{message}; {said}")
    rows.append(
        DetectionRow(what="length unit", outcome=f"{unit}, longest extent {length:.3f} m", ground=ground,
                     setting="hull.length_unit")
    )  # fmt: skip
    return METRES_PER[unit]


def _sorted_out(
    placed: list[Patch], survey: Survey, where: str, findings: Findings
) -> tuple[list[Patch], list[LeftOut]]:
    """Return the shell's faces and those left out, saying which."""
    parts, group_of = _grouped(placed, survey)
    kinds = roles(survey, group_of, len(parts))
    shell: list[Patch] = []
    left: list[LeftOut] = []
    names: dict[str, list[str]] = {}
    for part, kind, double in zip(parts, kinds, _doubles(parts), strict=True):
        if double:
            findings.add(FACES_DOUBLED, where, f"{part.name} repeats another face")
            left.append(LeftOut(name=part.name, role="double", patch=part))
        elif _points(part)[:, 1].max() <= 1e-6 and kind == "shell":
            left.append(LeftOut(name=part.name, role="other side", patch=part))
        elif kind == "shell":
            shell.append(part)
        else:
            left.append(LeftOut(name=part.name, role=kind, patch=part))
            names.setdefault(kind, []).append(part.name)
    for role, found in names.items():
        findings.add(codes.INNER_FACE, where, f"left out as {role}: {', '.join(found)}")
    return _joined(shell), left


def _points(patch: Patch) -> FloatArray:
    """Return a patch's poles or vertices, (n, 3)."""
    if isinstance(patch, TrianglePatch):
        return patch.vertices[used_vertices(patch)]
    return patch.poles.reshape(-1, 3)


def _grouped(placed: list[Patch], survey: Survey) -> tuple[list[Patch], IntArray]:
    """Split meshes into body and flat parts; return the parts and the part of each survey triangle."""
    parts: list[Patch] = []
    group_of = np.zeros(len(survey.triangles), dtype=np.int64)
    for i, patch in enumerate(placed):
        rows = np.flatnonzero(survey.patch_of == i)
        if not isinstance(patch, TrianglePatch):
            group_of[rows] = len(parts)
            parts.append(patch)
            continue
        label = mesh_groups(patch.vertices, patch.triangles)
        for g in np.unique(label).tolist():
            name = patch.name if g == 0 else f"{patch.name} flat part {g}"
            group_of[rows[label == g]] = len(parts)
            parts.append(replace(patch, triangles=patch.triangles[label == g], name=name))
    return parts, group_of


def _joined(parts: list[Patch]) -> list[Patch]:
    """Put the parts of one mesh together again."""
    out: list[Patch] = []
    by_mesh: dict[int, int] = {}
    for part in parts:
        if isinstance(part, TrianglePatch) and id(part.vertices) in by_mesh:
            at = by_mesh[id(part.vertices)]
            first = out[at]
            assert isinstance(first, TrianglePatch)
            out[at] = replace(first, triangles=np.concatenate([first.triangles, part.triangles]),
                              name=first.name.split(" flat part ")[0])  # fmt: skip
            continue
        if isinstance(part, TrianglePatch):
            by_mesh[id(part.vertices)] = len(out)
        out.append(part)
    return out


def _doubles(parts: list[Patch]) -> list[bool]:
    """Return which parts repeat an earlier one number for number (to a micrometre), also with sides exchanged."""
    seen: set[tuple[int, bytes]] = set()
    out = []
    for part in parts:
        points = np.unique(np.round(_points(part), 6) + 0.0, axis=0)
        trims = () if isinstance(part, TrianglePatch) else part.trims
        key = (len(points), points.tobytes() + b"".join(np.round(t, 9).tobytes() for t in trims))
        out.append(key in seen)
        seen.add(key)
    return out
