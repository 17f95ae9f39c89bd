"""Hull areas on the real shell: which areas each member touches, the exact border lines, the area of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit
from beltwright.hull.contour import contour
from beltwright.hull.expansion import expanded_lines
from beltwright.hull.shell import PlaneLevel, SurfaceCurve
from beltwright.rules.protocol import Border, HeightBorder, HullAreas, InclinationBorder, Strengthens, TransverseBorder
from beltwright.scantlings.design import BorderCurve, HullMeasures

BOTH_SIDES = 2.0
_NUDGE = 1e-6  # m and degrees: enough to tell the two sides of a border apart
_CUTS, _HALVINGS = 4, 8
_SPLITS = 4  # a triangle that a border crosses is quartered this often


def heights_at(measures: HullMeasures, x_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the heights of the upper and the lower ice waterline at x (n,) [m]."""
    return measures.upper.level.height(x_m), measures.lower.level.height(x_m)


def inclination_deg(normals: FloatArray) -> FloatArray:
    """Return the shell's inclination from the horizontal plane (n,) [deg]: 90 is vertical, 0 flat bottom."""
    steep: FloatArray = np.degrees(np.arccos(np.clip(np.abs(normals[..., 2]), 0.0, 1.0)))
    return steep


def classify(
    areas: HullAreas,
    measures: HullMeasures,
    points: FloatArray,
    normals: FloatArray,
    nudge: Mapping[str, float] | None = None,
) -> LabelArray:
    """Return the area code of shell points (n, 3) with unit normals (n, 3), "" outside all areas.

    ``nudge`` moves the points a little along ``aft``, ``up`` or ``steeper`` to ask for one side of a border.
    """
    moved = nudge or {}
    upper, lower = heights_at(measures, points[:, 0])
    height = points[:, 2] + moved.get("up", 0.0)
    return areas.classify(
        aft_of_stem_m=measures.stem_x_m - points[:, 0] + moved.get("aft", 0.0),
        above_upper_m=height - upper,
        above_lower_m=height - lower,
        inclination_deg=inclination_deg(normals) + moved.get("steeper", 0.0),
        height_m=height,
    )


def codes_strengthening(areas: HullAreas, *parts: Strengthens) -> tuple[str, ...]:
    """Return the codes of the hull areas in which all these parts of the structure are strengthened."""
    return tuple(area.code for area in areas.areas if set(parts) <= set(area.strengthens))


def share_inside(
    areas: HullAreas, measures: HullMeasures, points: FloatArray, normals: FloatArray, inside: Sequence[str]
) -> FloatArray:
    """Return what share of each line (n,) lies in hull areas of the given codes; ``points``, ``normals`` (n, k, 3).

    The k places stand at equal steps. Each step is cut into four, and a piece that a border crosses is halved until the
    border is found to a thousandth of the step; a strip narrower than a piece may be missed.
    """
    count, places, _ = points.shape

    def within(at: FloatArray, line: IntArray) -> BoolArray:
        step = np.clip(np.floor(at).astype(np.int64), 0, places - 2)
        part = (at - step)[:, None]
        place = (1.0 - part) * points[line, step] + part * points[line, step + 1]
        normal = (1.0 - part) * normals[line, step] + part * normals[line, step + 1]
        normal /= np.linalg.norm(normal, axis=1, keepdims=True)
        return np.isin(classify(areas, measures, place, normal), inside)

    cuts = np.linspace(0.0, places - 1.0, _CUTS * (places - 1) + 1)
    cuts[0], cuts[-1] = _NUDGE, places - 1.0 - _NUDGE  # a line that only meets a border with its end lies on one side
    held = within(np.tile(cuts, count), np.repeat(np.arange(count), len(cuts))).reshape(count, len(cuts))
    one, other = held[:, :-1], held[:, 1:]
    length = np.where(one & other, np.diff(cuts)[None, :], 0.0)
    line, piece = np.nonzero(one != other)
    low, high, starts_in = cuts[piece], cuts[piece + 1], one[line, piece]
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        as_start = within(middle, line) == starts_in
        low, high = np.where(as_start, middle, low), np.where(as_start, high, middle)
    border = 0.5 * (low + high)
    length[line, piece] = np.where(starts_in, border - cuts[piece], cuts[piece + 1] - border)
    share: FloatArray = np.clip(length.sum(axis=1) / (cuts[-1] - cuts[0]), 0.0, 1.0)
    return share


def touched(areas: HullAreas, measures: HullMeasures, points: FloatArray, normals: FloatArray) -> BoolArray:
    """Return which areas each member touches (n, areas), from its sample points and normals (n, k, 3).

    A plate's samples are drawn a micrometre towards their mean, so that a plate which only meets a border with its edge
    lies on one side of it.
    """
    count, samples, _ = points.shape
    inward = points + _NUDGE * (points.mean(axis=1, keepdims=True) - points)
    codes = classify(areas, measures, inward.reshape(-1, 3), normals.reshape(-1, 3)).reshape(count, samples)
    return np.stack([(codes == area.code).any(axis=1) for area in areas.areas], axis=1)


def touched_by_lines(areas: HullAreas, measures: HullMeasures, points: FloatArray, normals: FloatArray) -> BoolArray:
    """Return which areas each line member touches (n, areas); one that stands on a transverse border touches both."""
    count, samples, _ = points.shape
    inward = points + _NUDGE * (points.mean(axis=1, keepdims=True) - points)
    flat, flat_normals = inward.reshape(-1, 3), normals.reshape(-1, 3)
    found = np.zeros((count, len(areas.areas)), dtype=bool)
    for aft in (-_NUDGE, _NUDGE):
        codes = classify(areas, measures, flat, flat_normals, {"aft": aft}).reshape(count, samples)
        found |= np.stack([(codes == area.code).any(axis=1) for area in areas.areas], axis=1)
    return found


class _BeltEdge:
    """The level function of a border that follows an ice waterline at an offset."""

    def __init__(self, border: HeightBorder, measures: HullMeasures) -> None:
        self.border, self.measures = border, measures

    def __call__(self, points: FloatArray) -> FloatArray:
        upper, lower = heights_at(self.measures, points[:, 0])
        base = upper if self.border.waterline == "upper" else lower
        aft = self.measures.stem_x_m - points[:, 0]
        edge: FloatArray = points[:, 2] - base - np.interp(aft, self.border.aft_of_stem_m, self.border.offset_m)
        return edge


class _Fold:
    """The level function of a transverse border whose place changes with height."""

    def __init__(self, border: TransverseBorder, measures: HullMeasures) -> None:
        self.border, self.measures = border, measures

    def __call__(self, points: FloatArray) -> FloatArray:
        place = np.interp(points[:, 2], self.border.height_m, self.border.aft_of_stem_m)
        side: FloatArray = self.measures.stem_x_m - points[:, 0] - place
        return side


def border_curves(areas: HullAreas, measures: HullMeasures) -> tuple[BorderCurve, ...]:
    """Return every border as curves on the shell, kept only where the areas on its two sides differ."""
    found: list[tuple[Border, tuple[tuple[str, str], ...], FloatArray]] = []
    for border in areas.borders:
        side = _sides(border)
        for curve in _cut(border, measures):
            normals = measures.shell.normals(curve.at.face, curve.at.uv)
            one = classify(areas, measures, curve.at.points, normals, {side: _NUDGE})
            other = classify(areas, measures, curve.at.points, normals, {side: -_NUDGE})
            for piece in _runs(one != other):
                pairs = np.unique(np.stack([one[piece], other[piece]], axis=1), axis=0)
                found.append((border, tuple((str(a), str(b)) for a, b in pairs), curve.at.points[piece]))
    flat = expanded_lines(measures.shell, [points for _, _, points in found])
    return tuple(
        BorderCurve(border=border, sides=sides, points=points, expansion=expansion)
        for (border, sides, points), expansion in zip(found, flat, strict=True)
    )


def _sides(border: Border) -> str:
    """The direction in which one crosses a border."""
    match border:
        case TransverseBorder():
            return "aft"
        case HeightBorder():
            return "up"
        case InclinationBorder():
            return "steeper"


def _cut(border: Border, measures: HullMeasures) -> tuple[SurfaceCurve, ...]:
    """The curves of a border on the shell, over its whole length."""
    shell = measures.shell
    match border:
        case TransverseBorder() if len(border.aft_of_stem_m) == 1:
            return shell.cut(
                PlaneLevel(normal=(1.0, 0.0, 0.0), offset=measures.stem_x_m - float(border.aft_of_stem_m[0]))
            )
        case TransverseBorder():
            return shell.cut(_Fold(border, measures))
        case HeightBorder():
            return shell.cut(_BeltEdge(border, measures))
        case InclinationBorder():
            return contour(shell, lambda face, uv: inclination_deg(shell.normals(face, uv)) - border.inclination_deg)


def _runs(keep: BoolArray) -> list[slice]:
    """The runs of at least two kept points."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], keep, [False]]).astype(np.int8)))
    return [slice(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a > 1]


def shell_area_by_code(areas: HullAreas, measures: HullMeasures) -> dict[str, float]:
    """Return the shell area of each hull area, both sides [m2].

    Each triangle of the shell is counted where its centre lies; one that a border crosses is quartered first, four
    times over.
    """
    shell = measures.shell
    mesh = shell.tessellation()
    normals = shell.normals(mesh.vertices.face, mesh.vertices.uv)
    corners, corner_normals = mesh.vertices.points[mesh.triangles], normals[mesh.triangles]
    totals = dict.fromkeys((area.code for area in areas.areas), 0.0)
    for level in range(_SPLITS + 1):
        codes = classify(areas, measures, corners.reshape(-1, 3), corner_normals.reshape(-1, 3)).reshape(-1, 3)
        whole = (codes == codes[:, :1]).all(axis=1)
        if level == _SPLITS:
            codes = classify(areas, measures, corners.mean(axis=1), corner_normals.mean(axis=1))[:, None]
            whole = np.ones(len(corners), dtype=bool)
        sizes = triangle_areas(corners[whole])
        for code in totals:
            totals[code] += BOTH_SIDES * float(sizes[codes[whole, 0] == code].sum())
        corners, corner_normals = _quartered(corners[~whole]), _quartered(corner_normals[~whole])
    return totals


def triangle_areas(corners: FloatArray) -> FloatArray:
    """Return the areas of triangles (n,) [m2] from their corners (n, 3, 3) [m]."""
    sides = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes: FloatArray = 0.5 * np.linalg.norm(sides, axis=1)
    return sizes


def _quartered(corners: FloatArray) -> FloatArray:
    """Each triangle as four, by the middles of its sides; normals are treated the same way."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    ab, bc, ca = (a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0
    quarters = [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
    return np.concatenate([np.stack(quarter, axis=1) for quarter in quarters])


def area_columns(areas: HullAreas, sizes_m2: Mapping[str, float] | None) -> ColumnTable:
    """Return the hull areas as a table: code, title, strengthened, area_m2 (both sides), share of all of them.

    Without sizes the last two columns are left out.
    """
    listed = areas.areas
    columns = {
        "code": Column(unit=Unit("label"), meaning="hull area", data=np.array([one.code for one in listed])),
        "title": Column(unit=Unit("label"), meaning="its name", data=np.array([one.title for one in listed])),
        "strengthened": Column(
            unit=Unit("flag"),
            meaning="the class asks for ice strengthening",
            data=np.array([one.strengthened for one in listed]),
        ),
    }
    if sizes_m2 is not None:
        area = np.array([sizes_m2[one.code] for one in listed])
        total = float(area.sum())
        columns["area_m2"] = Column(unit=Unit("m2"), meaning="shell area, both sides", data=area)
        columns["share"] = Column(
            unit=Unit("-"), meaning="share of all hull areas", data=area / total if total > 0.0 else area
        )
    return ColumnTable("hull areas", columns)
