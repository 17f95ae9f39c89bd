"""Angles of the shell as members bring them to a rule."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.scantlings.member_facts import _shell


def test_the_waterline_angle_is_acute_on_either_side_of_the_centreline() -> None:
    """hand: a normal (0.3, 0.4) forward and outboard tells a waterline at atan(3/4) = 36.87 degrees to the centreline.

    Beside the keel a normal may lean inboard; the waterline is the same line. A flat bottom has none: 0.
    """
    normals = np.array([[0.3, 0.4, -0.866], [0.3, -0.4, -0.866], [0.0, 1.0, 0.0], [0.0, 0.0, -1.0]])
    found = _shell(normals / np.linalg.norm(normals, axis=1)[:, None])["waterline_angle_deg"]()
    assert found == pytest.approx([36.8699, 36.8699, 0.0, 0.0], abs=1e-3)
