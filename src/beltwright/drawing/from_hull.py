"""The lines of the hull that the sheets show: outlines, sections, waterlines, curves through the load stations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.picture import SectionPicture, ShellCurve, StationPicture
from beltwright.drawing.shapes import thinned
from beltwright.hull.section import Sections, sections
from beltwright.hull.shell import PlaneLevel, Shell
from beltwright.scantlings.design import Design, IceWaterline

_OUTLINE_STATIONS, _BODY_SECTIONS = 201, 21
_SAG_M = 0.002
_OFF_MAIN_M = 0.01  # a place farther than this from its section's main curve has no true girth
_END_M = 1e-3  # how far inside the hull's ends the last sections stand


@dataclass(frozen=True, slots=True, kw_only=True)
class HullLines:
    """Lines of the hull in the planes of the sheets; see :class:`~beltwright.drawing.picture.ShipPicture`."""

    upper: ShellCurve
    lower: ShellCurve
    expansion_outline: FloatArray
    profile_outline: FloatArray
    waterline_plan: FloatArray
    sections: tuple[SectionPicture, ...]
    stations: tuple[StationPicture, ...]


def hull_lines(design: Design) -> HullLines:
    """Return the hull's lines, from one sweep of sections."""
    measures = design.measures
    low, high = (float(x) for x in measures.shell.bounds[:, 0])
    inset = 0.02 * (high - low)
    frames = _body_frames(design, low + inset, high - inset)
    body = design.arrangement.stations.x_of(frames)
    station_x = design.stations.points[:, 0]
    x = np.unique(np.concatenate([np.linspace(low + _END_M, high - _END_M, _OUTLINE_STATIONS), body, station_x]))
    cut = sections(measures.shell, x)
    return HullLines(
        upper=_water_curve("UIWL", cut, measures.upper),
        lower=_water_curve("LIWL", cut, measures.lower),
        expansion_outline=_expansion_outline(cut),
        profile_outline=_profile_outline(design, cut),
        waterline_plan=_waterline_plan(measures.upper),
        sections=tuple(
            SectionPicture(frame=f"{frame:g}", x_m=float(place), points=run)
            for frame, place in zip(frames.tolist(), body.tolist(), strict=True)
            for run in _section_runs(cut, place)[:1]
        ),
        stations=_stations(design, cut),
    )


def _body_frames(design: Design, low: float, high: float) -> FloatArray:
    """The main frames whose sections the body plan shows: those nearest to places evenly apart."""
    stations = design.arrangement.stations
    inside = stations.x_m[(stations.x_m >= low) & (stations.x_m <= high)]
    wanted = np.linspace(inside[0], inside[-1], _BODY_SECTIONS)
    numbers: FloatArray = np.unique(np.rint(stations.frame_of(wanted)))
    return numbers


def _expansion_outline(cut: Sections) -> FloatArray:
    """The keel's centreline and the sections' total girth, as a closed ring."""
    met = cut.main_curve >= 0
    x, girth = cut.x_m[met], cut.girth_total_m[met]
    return np.concatenate([np.stack([x, 0.0 * x], axis=1), np.stack([x, girth], axis=1)[::-1]])


def _profile_outline(design: Design, cut: Sections) -> FloatArray:
    """Keel, stem and stern from the hull's border in the centre plane, closed along the tops of the sections."""
    lines = design.measures.profile.lines()
    keel = lines[0][:, [0, 2]] if lines else np.zeros((0, 2))
    numbers = cut.main_curve[cut.main_curve >= 0]
    tops = cut.at.points[cut.curve_start[numbers + 1] - 1][:, [0, 2]]
    if len(keel) == 0:
        return tops
    keel = keel if keel[0, 0] <= keel[-1, 0] else keel[::-1]
    return thinned(np.concatenate([keel, tops[np.argsort(-tops[:, 0])]]), _SAG_M)


def _section_runs(cut: Sections, x: float) -> list[FloatArray]:
    """The (y, z) lines of the section nearest to x, the main one first."""
    number = int(np.argmin(np.abs(cut.x_m - x)))
    return [thinned(cut.at.points[part][:, [1, 2]], _SAG_M) for part in cut.curves_of(number)]


def _water_curve(name: str, cut: Sections, waterline: IceWaterline) -> ShellCurve:
    """An ice waterline on the expansion and on the profile, from aft forward, at the sections and at its two ends."""
    curve = waterline.curve
    rows, at, _ = curve.places(cut.x_m)
    rows = np.asarray(rows)
    met = cut.main_curve[rows] >= 0
    rows, points = rows[met], at.points[met]
    girth, away = cut.girth_of(rows, points)
    near = away <= max(cut.shell.gap_tolerance_m, _OFF_MAIN_M)
    flat = np.column_stack([points[:, 0], girth])[near]
    ends = curve.points[[int(np.argmin(curve.points[:, 0])), int(np.argmax(curve.points[:, 0]))]]
    line = np.concatenate([ends[:1], points, ends[1:]])
    return ShellCurve(
        name=name, kind="waterline", expansion=thinned(flat, _SAG_M), profile=thinned(line[:, [0, 2]], _SAG_M)
    )


def _waterline_plan(waterline: IceWaterline) -> FloatArray:
    """The outline at the waterline seen from above, from the stem aft."""
    return thinned(waterline.curve.points[:, :2], _SAG_M)


def _stations(design: Design, cut: Sections) -> tuple[StationPicture, ...]:
    """The load stations with their angles and curves."""
    angles = design.stations.angles
    found = []
    for k, (aft, point) in enumerate(zip(design.stations.aft_of_stem_m, design.stations.points, strict=True)):
        values = {
            name: _angle(getattr(angles, f"{name}_deg")[k], str(getattr(angles, f"{name}_reason")[k]))
            for name in ("alpha", "beta", "beta_prime", "gamma")
        }
        found.append(
            StationPicture(
                name=f"station {k + 1}",
                aft_of_stem_m=float(aft),
                point=(float(point[0]), float(point[1]), float(point[2])),
                alpha_deg=values["alpha"],
                beta_deg=values["beta"],
                beta_prime_deg=values["beta_prime"],
                gamma_deg=values["gamma"],
                section=_section_runs(cut, float(point[0]))[0],
                buttock=_buttock(design.measures.shell, point),
                frame=f"{float(design.arrangement.stations.frame_of(float(point[0]))):.2f}",
                reason=str(angles.reason[k]),
            )
        )
    return tuple(found)


def _angle(value: float, reason: str) -> float | None:
    """An angle, or None where it does not apply."""
    return None if reason or not np.isfinite(value) else float(value)


def _buttock(shell: Shell, point: FloatArray) -> FloatArray:
    """The buttock (x, z) through a point, of several pieces the one that passes nearest."""
    curves = shell.cut(PlaneLevel(normal=(0.0, 1.0, 0.0), offset=float(point[1])))
    runs = [curve.at.points for curve in curves if len(curve.at.points) > 1]
    if not runs:
        return np.array([[point[0], point[2]]])
    nearest = min(runs, key=lambda run: float(np.min(np.linalg.norm(run - point, axis=1))))
    return thinned(nearest[:, [0, 2]], _SAG_M)
