"""From a hull form to spline patches: solve the run for the volume, then interpolate the sections."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
from scipy.interpolate import BSpline, CubicSpline
from scipy.linalg import lu_factor, lu_solve
from scipy.ndimage import gaussian_filter1d
from scipy.optimize import brentq

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.hull.forms.parameters import HullForm
from beltwright.hull.forms.surface import FormSurface, form_surface, transom_lean
from beltwright.hull.patch import SplinePatch

_STATIONS, _ROWS = 96, 36  # poles along the hull and from keel to deck
_DECIMALS = 7  # of a metre, so that a hull is the same file on any machine
_STEM_HEAD_M = 0.04  # the stem ends at the deck in an upright flat of this height, so that no edge shrinks to a point
_RUN_ANGLE_LEAST_DEG, _RUN_ANGLE_MOST_DEG = 5.0, 30.0


def hull_patches(form: HullForm) -> tuple[SplinePatch, ...]:
    """Return the port half of the hull as spline patches in ship axes [m]: the shell and the transom.

    The shell runs from keel and stem (v = 0, on the centre plane) to the main deck at side (v = 1), and from the
    transom (u = 0) to the stem head (u = 1). Its waterline angles at the upper ice waterline are the form's to about
    0.01 degree, as the sections are interpolated.

    Raises
    ------
    InputError : a parameter that does not fit, named with its allowed range
    """
    ready = solved(form)
    assert ready.run_angle_deg is not None
    shell = _shell_patch(form_surface(ready, ready.run_angle_deg))
    return shell, _transom_patch(shell)


def solved(form: HullForm) -> HullForm:
    """Return the form with its run angle solved for its volume; a form that states the angle is returned as it is.

    Raises
    ------
    InputError : no run angle in the solver's range gives the volume
    """
    wanted = form.displaced_volume_m3
    if wanted is None:
        return form
    surface = form_surface(form, _RUN_ANGLE_LEAST_DEG)

    def volume(angle: float) -> float:
        return surface.with_run_angle(angle).volume_m3()

    least, most = volume(_RUN_ANGLE_LEAST_DEG), volume(_RUN_ANGLE_MOST_DEG)
    if not least <= wanted <= most:
        raise InputError(
            "displaced_volume_m3",
            f"no run angle from {_RUN_ANGLE_LEAST_DEG:g} to {_RUN_ANGLE_MOST_DEG:g} deg gives it",
            value=wanted,
            unit="m3",
            allowed=f"{least:.0f} to {most:.0f} m3",
        )
    angle = brentq(lambda a: volume(a) - wanted, _RUN_ANGLE_LEAST_DEG, _RUN_ANGLE_MOST_DEG, xtol=1e-13)
    return replace(form, displaced_volume_m3=None, run_angle_deg=float(angle))


@lru_cache(maxsize=8)
def _basis(count: int) -> tuple[FloatArray, FloatArray, tuple[FloatArray, FloatArray]]:
    """Return clamped cubic knots on 0..1, the Greville points, and the factored interpolation matrix."""
    knots = np.concatenate([np.zeros(3), np.linspace(0.0, 1.0, count - 2), np.ones(3)])
    places = (knots[1:-3] + knots[2:-2] + knots[3:-1]) / 3.0
    return knots, places, lu_factor(BSpline.design_matrix(places, knots, 3).toarray())


def stations(surface: FormSurface) -> FloatArray:
    """Return x of the stations [m]: even in a weighted arc of the profile, denser at ends, shoulders and forefoot."""
    form = surface.form
    rise = form.depth_m - _STEM_HEAD_M - form.draught_m
    head = form.stem_x_m + rise / float(np.tan(surface.columns(0.0)[3]))
    x = np.linspace(form.stern.transom_x_m, head, 1601)
    for _ in range(4):  # even steps along the profile, however steep the stem
        z = surface.heights(x, np.zeros_like(x))[1]
        arc = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(z)))])
        x = np.interp(np.linspace(0.0, arc[-1], len(x)), arc, x)
    z = surface.heights(x, np.zeros_like(x))[1]
    step, length = np.hypot(np.diff(x), np.diff(z)), form.waterline_length_m
    arc = np.concatenate([[0.0], np.cumsum(step)])
    turning = np.abs(np.gradient(np.arctan2(np.gradient(z, arc), np.gradient(x, arc)), arc))
    bend = gaussian_filter1d(turning, 0.01 * length / step.mean(), mode="nearest") * 0.25 * length
    weight = np.hypot(1.0, bend) + _bump(arc - arc[-1], 0.2 * length) + 0.6 * _bump(arc, 0.12 * length)
    bow_end = form.stem_x_m - form.bow.length_m
    for shoulder in (surface.parallel_start_x_m, form.stern.parallel_side_end_x_m, bow_end):
        weight += 1.4 * _bump(x - shoulder, 0.06 * length)
    even = np.concatenate([[0.0], np.cumsum(0.5 * (weight[1:] + weight[:-1]) * step)])
    places: FloatArray = CubicSpline(even / even[-1], x)(_basis(_STATIONS)[1])
    places[[0, -1]] = x[[0, -1]]
    return places


def _bump(distance: FloatArray, width: float) -> FloatArray:
    """Return a bell of height 1."""
    bell: FloatArray = np.exp(-((distance / width) ** 2))
    return bell


def _shell_patch(surface: FormSurface) -> SplinePatch:
    """Interpolate the sections by one bicubic patch, transom to stem head, keel to deck."""
    form = surface.form
    knots_u, _, factor_u = _basis(_STATIONS)
    knots_v, places_v, factor_v = _basis(_ROWS)
    x = stations(surface)
    y, z = surface.sections(x, places_v)
    leaning = x[:, None] - transom_lean(form, x)[0][:, None] * (z - form.draught_m)
    points = np.stack([leaning, y, z], axis=-1)
    rows = lu_solve(factor_u, points.reshape(_STATIONS, -1)).reshape(points.shape).swapaxes(0, 1)
    poles = lu_solve(factor_v, rows.reshape(_ROWS, -1)).reshape(rows.shape).swapaxes(0, 1).copy()
    poles = np.round(poles, _DECIMALS)
    poles[..., 1] = np.clip(poles[..., 1], 0.0, 0.5 * form.beam_m)
    poles[..., 2] = np.clip(poles[..., 2], 0.0, form.depth_m)
    poles[:, 0, 1], poles[:, -1, 2] = 0.0, form.depth_m
    return SplinePatch(
        poles=poles, knots_u=knots_u, knots_v=knots_v, degree_u=3, degree_v=3, reversed=True, name="shell"
    )


def _transom_patch(shell: SplinePatch) -> SplinePatch:
    """Close the aft end by the plane between the shell's aft edge and the deck."""
    edge = shell.poles[0]
    deck = np.stack([np.full(len(edge), edge[-1, 0]), edge[:, 1], np.full(len(edge), edge[-1, 2])], axis=1)
    return SplinePatch(
        poles=np.stack([edge, deck], axis=1),
        knots_u=shell.knots_v,
        knots_v=np.array([0.0, 0.0, 1.0, 1.0]),
        degree_u=3,
        degree_v=1,
        reversed=True,
        name="transom",
    )
