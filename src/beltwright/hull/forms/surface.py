"""The hull surface as heights of buttocks over the midship section, its transverse sections and its volume."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from beltwright.core.errors import InputError, SolverError
from beltwright.core.units import FloatArray
from beltwright.hull.forms.ends import WaterlineEnd, bow_buttock_angle, bow_waterline, raised, stern_waterline
from beltwright.hull.forms.midship import MidshipSection, midship_section
from beltwright.hull.forms.parameters import HullForm

_ALONG = 121  # samples along each section before it is cut into equal girths


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
    run_angle_deg : buttock angle of the run at the centre line [deg]
    """

    form: HullForm
    columns: CubicSpline
    midship: MidshipSection
    parallel_start_x_m: float
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

    def lean(self, x: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return by how much a section leans aft per metre above the waterline, and the derivative along x [1/m].

        The lean is the transom's at the transom and fades out over 20 percent of the waterline's length.
        """
        form = self.form
        reach = 0.2 * form.waterline_length_m
        fade = np.clip(1.0 - (x - form.stern.transom_x_m) / reach, 0.0, 1.0)
        slope = np.tan(np.radians(form.stern.transom_rake_deg))
        return slope * fade**3 * (4.0 - 3.0 * fade), -slope * 12.0 * fade**2 * (1.0 - fade) / reach

    def leaning_heights(self, x: FloatArray, q: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return (y, z) [m] where the buttock q meets the leaning section plane that crosses the waterline at x.

        Raises
        ------
        SolverError : the rake and the run are so steep that plane and buttock run nearly along each other
        """
        lean = self.lean(x)[0]
        y, z = self.heights(x, q)
        on = lean > 0.0
        if not on.any():
            return y, z
        place, girth, slope, height = x[on], q[on], lean[on], z[on]
        for _ in range(200):
            last = height
            height = self.heights(place - slope * (last - self.form.draught_m), girth)[1]
            if np.max(np.abs(height - last)) < 1e-11:
                break
        else:
            raise SolverError("the raked sections of the stern were not found")
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
        grid = np.linspace(0.0, self.midship.girth_m[-1], 61)
        over = self.leaning_heights(*np.broadcast_arrays(x[:, None], grid))[1] - self.form.depth_m
        upright = over[:, -1] <= 0.0
        last = np.clip(np.sum(over <= 0.0, axis=1) - 1, 0, len(grid) - 2)
        low, high = grid[last], grid[last + 1]
        for _ in range(44):
            middle = 0.5 * (low + high)
            above = self.leaning_heights(x, middle)[1] > self.form.depth_m
            high, low = np.where(above, middle, high), np.where(above, low, middle)
        top: FloatArray = np.where(upright, grid[-1], 0.5 * (low + high))
        return top

    def volume_m3(self) -> float:
        """Return the moulded volume below the waterline, both sides [m3].

        Per section the half area is the integral of (T - z) dy from the centre line to the waterline, whose q is known
        beforehand; a leaning section counts by the Jacobian of the lean.
        """
        form = self.form
        x, weight = _gauss(np.linspace(form.stern.transom_x_m, form.stem_x_m, 49), 3)
        reach = np.minimum(self._waterline_girth(x, 2, -1.0), self._waterline_girth(x, 4, 1.0))
        share, part = _gauss(np.linspace(0.0, 1.0, 7), 6)
        q = reach[:, None] * share
        under = form.draught_m - self.leaning_heights(np.broadcast_to(x[:, None], q.shape), q)[1]
        slope = -self.columns(q, 1)[..., 0] * reach[:, None] * part
        area = np.sum(under * slope, axis=1) + self.lean(x)[1] * 0.5 * np.sum(under**2 * slope, axis=1)
        return 2.0 * float(area @ weight)

    def _waterline_girth(self, x: FloatArray, column: int, sign: float) -> FloatArray:
        """Return the q whose buttock crosses the waterline at x, the whole girth abreast of the parallel side."""
        girth = self.midship.girth_m
        crossing = sign * self.columns(girth)[:, column]
        low, high = np.searchsorted(crossing, crossing[0], side="right") - 1, len(girth)
        inverse = CubicSpline(crossing[low:high], girth[low:high])
        found: FloatArray = inverse(np.clip(sign * x, crossing[0], crossing[-1]))
        return np.where(sign * x >= crossing[-1], girth[-1], found)


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
    run = stern_waterline(form.stern, half_beam_m=half)
    return FormSurface(
        form=form,
        columns=_columns(form, section, entrance, run),
        midship=section,
        parallel_start_x_m=start,
        run_angle_deg=run_angle_deg,
    )


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
