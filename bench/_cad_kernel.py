"""The CAD kernel's own surface of a spline patch: the plain way that the angle queries are compared with."""

from __future__ import annotations

import numpy as np
from OCP.collections import Array1_double, Array1_int, Array2_double, Array2_gp_Pnt
from OCP.Geom import Geom_BSplineSurface
from OCP.GeomAPI import GeomAPI_ProjectPointOnSurf
from OCP.gp import gp_Pnt, gp_Vec

from beltwright.core.units import FloatArray
from beltwright.hull.patch import SplinePatch


def kernel_surface(patch: SplinePatch) -> Geom_BSplineSurface:
    """Return the kernel's B-spline surface with the patch's poles, weights and knots."""
    rows, columns = patch.poles.shape[:2]
    poles, weights = Array2_gp_Pnt(1, rows, 1, columns), Array2_double(1, rows, 1, columns)
    for i in range(rows):
        for j in range(columns):
            poles.SetValue(i + 1, j + 1, gp_Pnt(*(float(c) for c in patch.poles[i, j])))
            weights.SetValue(i + 1, j + 1, 1.0 if patch.weights is None else float(patch.weights[i, j]))
    ku, mu = _knots(patch.knots_u)
    kv, mv = _knots(patch.knots_v)
    return Geom_BSplineSurface(poles, weights, ku, kv, mu, mv, patch.degree_u, patch.degree_v)


def _knots(knots: FloatArray) -> tuple[Array1_double, Array1_int]:
    values, times = np.unique(knots, return_counts=True)
    k, m = Array1_double(1, values.size), Array1_int(1, values.size)
    for i, (value, count) in enumerate(zip(values, times, strict=True), start=1):
        k.SetValue(i, float(value))
        m.SetValue(i, int(count))
    return k, m


def kernel_normal(surface: Geom_BSplineSurface, u: float, v: float) -> FloatArray:
    """Return the unit normal from the kernel's own first derivatives, along the u by v product."""
    p, du, dv = gp_Pnt(), gp_Vec(), gp_Vec()
    surface.D1(u, v, p, du, dv)
    normal = du.Crossed(dv)
    vector = np.array([normal.X(), normal.Y(), normal.Z()])
    unit: FloatArray = vector / np.linalg.norm(vector)
    return unit


def kernel_projection(surface: Geom_BSplineSurface, point: FloatArray) -> tuple[float, float]:
    """Return the parameters of the surface point nearest to a point, by the kernel's general projection."""
    found = GeomAPI_ProjectPointOnSurf(gp_Pnt(*(float(c) for c in point)), surface)
    u, v = found.LowerDistanceParameters()
    return float(u), float(v)
