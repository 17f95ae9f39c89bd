"""The offset table of a form: transverse stations of the form itself, not of its spline patches."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.optimize import brentq

from beltwright.core.units import FloatArray
from beltwright.hull.forms.build import solved, stations
from beltwright.hull.forms.parameters import HullForm
from beltwright.hull.forms.surface import FormSurface, form_surface
from beltwright.hull.offset_station import OffsetStation

_POINTS = 30  # per station, denser at keel and deck
_TRANSOM_STATIONS = 9  # through a raked transom
_DECIMALS = 5  # of a metre


def offset_stations(form: HullForm) -> tuple[OffsetStation, ...]:
    """Return the port half as transverse stations, from the transom to the stem head [m].

    Points stand at equal girths but for the ends, rounded to 0.01 mm. Through a raked transom a station runs along the
    transom first and turns at a knuckle; the table begins 10 mm forward of the transom's upper edge there.

    Raises
    ------
    InputError : a parameter that does not fit
    """
    ready = solved(form)
    assert ready.run_angle_deg is not None
    surface = form_surface(ready, ready.run_angle_deg)
    upright = replace(surface, form=replace(ready, stern=replace(ready.stern, transom_rake_deg=0.0)))
    share = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, _POINTS))
    share = 0.5 * (share + np.linspace(0.0, 1.0, _POINTS))
    x = stations(surface)
    aft: tuple[OffsetStation, ...] = ()
    rake = float(np.tan(np.radians(ready.stern.transom_rake_deg)))
    if rake > 0.0:
        foot = _transom_foot(upright, rake)
        head = ready.stern.transom_x_m - rake * (ready.depth_m - ready.draught_m)
        aft = tuple(
            _cut_station(upright, float(place), rake, share)
            for place in np.linspace(head + 0.01, foot, _TRANSOM_STATIONS)
        )
        x = x[x > foot + 0.25]
    y, z = upright.sections(x, share)
    rows = [_station(float(a), b, c) for a, b, c in zip(x, y, z, strict=True)]
    return *aft, *rows


def _station(x: float, y: FloatArray, z: FloatArray, knuckle: int | None = None) -> OffsetStation:
    """Return one station with rounded numbers."""
    marks = np.zeros(len(y), dtype=np.bool_)
    if knuckle is not None:
        marks[knuckle] = True
    return OffsetStation(
        x=round(x, _DECIMALS), half_breadth=np.round(y, _DECIMALS) + 0.0, height=np.round(z, _DECIMALS) + 0.0,
        knuckle=marks,
    )  # fmt: skip


def _transom_height(surface: FormSurface, x: float, rake: float) -> float:
    """Return the height at which the transom plane stands at x [m]."""
    return surface.form.draught_m + (surface.form.stern.transom_x_m - x) / rake


def _transom_foot(surface: FormSurface, rake: float) -> float:
    """Return x where the transom meets the keel [m]."""

    def above(x: float) -> float:
        return float(surface.heights(np.array([x]), np.zeros(1))[1][0]) - _transom_height(surface, x, rake)

    start = surface.form.stern.transom_x_m
    return float(brentq(above, start, start + rake * surface.form.draught_m, xtol=1e-12))


def _cut_station(surface: FormSurface, x: float, rake: float, share: FloatArray) -> OffsetStation:
    """Return a station that runs along the transom from the centre line, then up the shell."""
    level, place = _transom_height(surface, x, rake), np.array([x])

    def above(start: float) -> float:
        return float(surface.sections(place, np.array([start]))[1][0, 0]) - level

    start = float(brentq(above, 0.0, 1.0, xtol=1e-12)) if above(0.0) < -1e-9 else 0.0
    y, z = surface.sections(place, start + (1.0 - start) * share)
    if start == 0.0:
        return _station(x, y[0], z[0], knuckle=0)
    return _station(x, np.concatenate([[0.0], y[0]]), np.concatenate([[level], [level], z[0, 1:]]), knuckle=1)
