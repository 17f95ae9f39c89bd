"""The hull surface as heights of buttocks over the midship section, its transverse sections and its volume."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from scipy.interpolate import CubicSpline

from beltwright.core.errors import InputError, SolverError
from beltwright.core.units import FloatArray
from beltwright.hull.forms.ends import WaterlineEnd, bow_buttock_angle, bow_waterline, raised, stern_waterline
from beltwright.hull.forms.midship import MidshipSection, midship_section
from beltwright.hull.forms.parameters import HullForm

_ALONG = 121  # samples along each section before it is cut into equal girths


class VolumeRule(NamedTuple):
    """Sampling of the wetted hull: sections ``x`` and buttocks ``q`` (m, n), and the weights of each.

    ``width`` is dy times the weight along the section [m], ``weight`` is along the hull [m], ``turn`` is half the
    derivative of the lean [1/m].
    """

    x: FloatArray
    q: FloatArray
    width: FloatArray
    weight: FloatArray
    turn: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class FormSurface:
    """The hull as z(x, q): one buttock per q, where q is the girth of the midship section from the centre line [m].

    Attributes
    ----------
    form : the parameters
    columns : q to (inside the half beam [m], bottom height [m], x of the bow crossing [m], bow angle [rad],
        x of the stern crossing [m]); a crossing is where the buttock meets the upper ice waterline
    midship : the midship section
    parallel_start_x_m : x at which the parallel side begins, seen from the bow [m]
    volume_rule : where the volume's integral is sampled; it does not depend on the run angle
    run_angle_deg : buttock angle of the run at the centre line [deg]
    """

    form: HullForm
    columns: CubicSpline
    midship: MidshipSection
    parallel_start_x_m: float
    volume_rule: VolumeRule
    run_angle_deg: float

    def heights(self, x: FloatArray, q: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return (y, z) [m] of the buttock q at x; arrays of one shape."""
        form = self.form
        inside, bottom, bow_x, bow_angle, stern_x = np.moveaxis(self.columns(q), -1, 0)
        y = 0.5 * form.beam_m - inside
        outboard = (y / (0.5 * form.beam_m)) ** 3
        stern_angle = np.radians(self.run_angle_deg + form.stern.side_buttock_excess_deg * outboard)
        depth = form.draught_m - bottom
        bow = raised(
            x - bow_x + depth / np.tan(bow_angle),
            bow_angle,
            depth,
            share=form.bow.forefoot_fraction,
            level_share=form.bow.forefoot_lead * form.bow.forefoot_fraction / float(np.sin(self.columns(0.0)[3])),
        )
        stern = raised(
            stern_x - x + depth / np.tan(stern_angle),
            stern_angle,
            depth,
            share=form.stern.run_fraction,
            level_share=form.stern.run_fraction / float(np.sin(np.radians(self.run_angle_deg))),
        )
        return y, bottom + bow + stern

    def leaning_heights(self, x: FloatArray, q: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return (y, z) [m] where the buttock q meets the leaning section plane that crosses the waterline at x.

        Raises
        ------
        SolverError : the rake and the run are so steep that plane and buttock run nearly along each other
        """
        lean = transom_lean(self.form, x)[0]
        y, z = self.heights(x, q)
        on = lean > 0.0
        if not on.any():
            return y, z
        place, girth, slope, height = x[on], q[on], lean[on], z[on]
        gain = 1.0 - slope * float(np.tan(np.radians(self.run_angle_deg)))
        for _ in range(60):
            miss = self.heights(place - slope * (height - self.form.draught_m), girth)[1] - height
            height = height + miss / gain
            if gain.min() < 0.2 or np.max(np.abs(miss)) < 1e-11:
                break
        if gain.min() < 0.2 or not np.max(np.abs(miss)) < 1e-11:
            raise SolverError("the raked sections of the stern were not found: transom and run lie too near in slope")
        z[on] = height
        return y, z

    def sections(self, x: FloatArray, share: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return (y, z), each (len(x), len(share)) [m]: at equal shares of each section's girth, keel to deck."""
        top = self._top(x)
        q = top[:, None] * np.linspace(0.0, 1.0, _ALONG)
        y, z = self.leaning_heights(np.broadcast_to(x[:, None], q.shape), q)
        girth = np.zeros_like(y)
        np.cumsum(np.hypot(np.diff(y), np.diff(z)), axis=1, out=girth[:, 1:])
        upright = np.maximum(self.form.depth_m - z[:, -1], 0.0)
        wanted = (girth[:, -1] + upright)[:, None] * share
        at = np.clip(_looked_up(girth, q, np.minimum(wanted, girth[:, -1:])), 0.0, top[:, None])
        y, z = self.leaning_heights(np.broadcast_to(x[:, None], at.shape), at)
        return y, z + np.maximum(wanted - girth[:, -1:], 0.0)

    def _top(self, x: FloatArray) -> FloatArray:
        """Return the q at which each section reaches the deck, or the whole girth where the side is upright there."""
        deck = self.form.depth_m
        x = x - transom_lean(self.form, x)[0] * (deck - self.form.draught_m)
        grid = np.linspace(0.0, self.midship.girth_m[-1], 61)
        over = self.heights(*np.broadcast_arrays(x[:, None], grid))[1] - deck
        last = np.clip(np.sum(over <= 0.0, axis=1) - 1, 0, len(grid) - 2)
        rows = np.arange(len(x))
        low, high, below, above = grid[last], grid[last + 1], over[rows, last], over[rows, last + 1]
        for _ in range(30):  # false position, the weight of an end that stays halved
            middle = np.clip(low - below * (high - low) / (above - below), low, high)
            miss = self.heights(x, middle)[1] - deck
            up = miss > 0.0
            below, above = np.where(up, 0.5 * below, miss), np.where(up, miss, 0.5 * above)
            low, high = np.where(up, low, middle), np.where(up, middle, high)
            if np.max(np.abs(miss[over[:, -1] > 0.0]), initial=0.0) < 1e-12:
                break
        top: FloatArray = np.where(over[:, -1] <= 0.0, grid[-1], middle)
        return top

    def volume_m3(self) -> float:
        """Return the moulded volume below the waterline, both sides [m3], to about 2 parts in a million.

        Per section the half area is the integral of (T - z) dy from the centre line to the waterline, whose q is known
        beforehand; a leaning section counts by the Jacobian of the lean.
        """
        x, q, width, weight, turn = self.volume_rule
        under = self.form.draught_m - self.leaning_heights(x, q)[1]
        area = np.sum(under * width, axis=1) + turn * np.sum(under**2 * width, axis=1)
        return 2.0 * float(area @ weight)

    def with_run_angle(self, run_angle_deg: float) -> FormSurface:
        """Return the surface with another run angle [deg]; everything else stays."""
        return replace(self, run_angle_deg=run_angle_deg)


def form_surface(form: HullForm, run_angle_deg: float) -> FormSurface:
    """Build the surface of a form for a given run angle [deg].

    Raises
    ------
    InputError : the entrance or the bilge does not fit, or the two ends overlap
    """
    half = 0.5 * form.beam_m
    section = midship_section(beam_m=form.beam_m, draught_m=form.draught_m, coefficient=form.midship_coefficient)
    entrance = bow_waterline(form.bow, half_beam_m=half)
    start = form.stem_x_m - entrance.length_m
    if start <= form.stern.parallel_side_end_x_m:
        raise InputError(
            "stern.parallel_side_end_x_m",
            "the bow's waterline overlaps the run's",
            value=form.stern.parallel_side_end_x_m,
            unit="m",
            allowed=f"less than {start:.2f} m",
        )
    columns = _columns(form, section, entrance, stern_waterline(form.stern, half_beam_m=half))
    return FormSurface(
        form=form,
        columns=columns,
        midship=section,
        parallel_start_x_m=start,
        volume_rule=_volume_rule(form, columns, section, start),
        run_angle_deg=run_angle_deg,
    )


def transom_lean(form: HullForm, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return by how much a section leans aft per metre above the waterline, and the derivative along x [1/m].

    The lean is the transom's at the transom and fades out over 20 percent of the waterline's length.
    """
    reach = 0.2 * form.waterline_length_m
    fade = np.clip(1.0 - (x - form.stern.transom_x_m) / reach, 0.0, 1.0)
    slope = np.tan(np.radians(form.stern.transom_rake_deg))
    return slope * fade**3 * (4.0 - 3.0 * fade), -slope * 12.0 * fade**2 * (1.0 - fade) / reach


def _volume_rule(form: HullForm, columns: CubicSpline, section: MidshipSection, start: float) -> VolumeRule:
    """Return Gauss points over the wetted hull, panels ending at the shoulders and at the waterline."""
    ends = form.stern.transom_x_m, form.stern.parallel_side_end_x_m, start, form.stem_x_m
    edges = [np.linspace(a, b, n) for a, b, n in zip(ends[:-1], ends[1:], (9, 5, 13), strict=True)]
    x, weight = _gauss(np.unique(np.concatenate(edges)), 3)
    share, part = _gauss(np.linspace(0.0, 1.0, 9), 4)
    bow, stern = (_waterline_girth(columns, section, sign * x, column, sign) for column, sign in ((2, -1.0), (4, 1.0)))
    reach = np.minimum(bow, stern)[:, None]
    q = reach * share
    width = -columns(q, 1)[..., 0] * reach * part
    x_of_q = np.broadcast_to(x[:, None], q.shape)
    return VolumeRule(x=x_of_q, q=q, width=width, weight=weight, turn=0.5 * transom_lean(form, x)[1])


def _waterline_girth(
    columns: CubicSpline, section: MidshipSection, signed_x: FloatArray, column: int, sign: float
) -> FloatArray:
    """Return the q whose buttock crosses the waterline at x, the whole girth abreast of the parallel side."""
    girth = section.girth_m
    crossing = sign * columns(girth)[:, column]
    inverse = CubicSpline(crossing, girth)
    found: FloatArray = inverse(np.clip(signed_x, crossing[0], crossing[-1]))
    return np.where(signed_x >= crossing[-1], girth[-1], found)


def _columns(form: HullForm, section: MidshipSection, entrance: WaterlineEnd, run: WaterlineEnd) -> CubicSpline:
    """Return the table of buttocks by midship girth."""
    from_stem = entrance.distance_at(section.inside_m)
    gamma = np.radians(bow_buttock_angle(form.bow, entrance.length_m)(from_stem))
    aft = form.stern.parallel_side_end_x_m - run.length_m + run.distance_at(section.inside_m)
    table = np.stack([section.inside_m, section.height_m, form.stem_x_m - from_stem, gamma, aft], axis=1)
    return CubicSpline(section.girth_m, table)


def _looked_up(places: FloatArray, values: FloatArray, wanted: FloatArray) -> FloatArray:
    """Interpolate each row of (places, values), places rising, at its wanted places by cubics through four points."""
    first = np.clip(np.sum(places[:, None, :] <= wanted[:, :, None], axis=2) - 2, 0, places.shape[1] - 4)
    four = first[:, :, None] + np.arange(4)
    rows = np.arange(len(places))[:, None, None]
    at, value = places[rows, four], values[rows, four]
    found = np.zeros_like(wanted)
    for i in range(4):
        others = [j for j in range(4) if j != i]
        factor = np.prod((wanted[..., None] - at[..., others]) / (at[..., i : i + 1] - at[..., others]), axis=2)
        found += factor * value[..., i]
    return found


def _gauss(edges: FloatArray, count: int) -> tuple[FloatArray, FloatArray]:
    """Return points and weights of a composite Gauss rule."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    half = 0.5 * np.diff(edges)
    points = (edges[:-1] + half)[:, None] + half[:, None] * nodes
    return points.ravel(), (half[:, None] * weights).ravel()
