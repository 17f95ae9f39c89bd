"""A second way to measure a shell patch: scipy's own B-splines, Newton on (x, z), plain sums, nothing of ours."""

from __future__ import annotations

import numpy as np
from scipy.interpolate import BSpline
from scipy.spatial import cKDTree


class Measured:
    """One bicubic patch: u from aft to fore, v from keel (0) to deck (1)."""

    def __init__(self, patch):
        self.patch = patch
        self.u = np.linspace(0.0, 1.0, 601)
        self.v = np.linspace(0.0, 1.0, 241)
        self.grid = self.mesh(self.u, self.v)
        self._tree = cKDTree(self.grid[..., [0, 2]].reshape(-1, 2))

    def mesh(self, u, v, du=0, dv=0):
        """Return points or derivatives on the grid of u and v, (nu, nv, 3)."""
        p = self.patch
        along = np.tensordot(_rows(p.knots_u, len(p.poles), u, du), p.poles, axes=1)
        return np.einsum("ir,jrc->jic", _rows(p.knots_v, p.poles.shape[1], v, dv), along)

    def at(self, u, v, du=0, dv=0):
        """Return points or derivatives at pairs (u, v), (n, 3)."""
        p = self.patch
        along = np.tensordot(_rows(p.knots_u, len(p.poles), u, du), p.poles, axes=1)
        return np.einsum("ir,irc->ic", _rows(p.knots_v, p.poles.shape[1], v, dv), along)

    def place(self, x, z):
        """Return (u, v) of the shell at x and z."""
        x, z = (np.atleast_1d(np.asarray(a, dtype=float)) for a in np.broadcast_arrays(x, z))
        _, near = self._tree.query(np.stack([x, z], axis=1))
        u, v = self.u[near // len(self.v)], self.v[near % len(self.v)]
        for _ in range(25):
            p, a, b = self.at(u, v), self.at(u, v, du=1), self.at(u, v, dv=1)
            rx, rz = x - p[:, 0], z - p[:, 2]
            det = a[:, 0] * b[:, 2] - a[:, 2] * b[:, 0]
            u = np.clip(u + (rx * b[:, 2] - rz * b[:, 0]) / det, 0.0, 1.0)
            v = np.clip(v + (rz * a[:, 0] - rx * a[:, 2]) / det, 0.0, 1.0)
        p = self.at(u, v)
        assert np.max(np.hypot(p[:, 0] - x, p[:, 2] - z)) < 1e-9, "the place was not found"
        return u, v

    def half_breadth(self, x, z):
        """Return y at x and z [m]."""
        return self.at(*self.place(x, z))[:, 1]

    def angles(self, x, z):
        """Return alpha, gamma, beta' [deg] at x and z, from the exact normal."""
        u, v = self.place(x, z)
        n = np.cross(self.at(u, v, dv=1), self.at(u, v, du=1))
        n /= np.linalg.norm(n, axis=1)[:, None]
        return (
            np.degrees(np.arctan2(n[:, 0], n[:, 1])),
            np.degrees(np.arctan2(n[:, 0], -n[:, 2])),
            np.degrees(np.arcsin(-n[:, 2])),
        )

    def volume(self, draught, steps=500):
        """Return the volume of both sides below a level waterline [m3].

        Sum of (draught - z) over the area seen from below, midpoint rule; a transom that leans aft is seen too.
        """
        mid = (np.arange(steps) + 0.5) / steps
        p, a, b = self.mesh(mid, mid), self.mesh(mid, mid, du=1), self.mesh(mid, mid, dv=1)
        seen = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
        hull = np.sum(np.maximum(draught - p[..., 2], 0.0) * seen) / steps**2
        edge = self.mesh(np.zeros(1), np.linspace(0.0, 1.0, 4001))[0]
        lean = (edge[0, 0] - edge[-1, 0]) / (edge[-1, 2] - edge[0, 2])
        height, half = 0.5 * (edge[1:, 2] + edge[:-1, 2]), 0.5 * (edge[1:, 1] + edge[:-1, 1])
        transom = lean * np.sum(np.maximum(draught - height, 0.0) * half * np.diff(edge[:, 2]))
        return 2.0 * float(hull + transom)


def _rows(knots, count, at, order):
    return BSpline(knots, np.eye(count), 3)(np.asarray(at, dtype=float), order)


def sign_changes(values, dead):
    """Count changes of sign among the values outside the dead band."""
    signs = np.sign(values[np.abs(values) > dead])
    return int(np.sum(signs[1:] != signs[:-1]))
