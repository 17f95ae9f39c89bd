"""The shell as a picture in three dimensions takes it: points of every panel, and the lines that lie on the shell."""

from __future__ import annotations

import json
from collections.abc import Sequence

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.scantlings.design import Design

POINTS = 17  # of one panel: sixteen round its outline and one in its middle
_CENTRE = 4  # the sample of a panel that lies in its middle
_HEAD = 4  # bytes that hold the length of the head


def shell_mesh(design: Design) -> bytes:
    """Return the shell of the port side as one block of bytes.

    Four bytes give the length of a JSON head (little-endian); the head has ``panels`` (their names), ``lines`` (each
    with ``kind``, ``name`` and ``points``, how many) and ``numbers_from``, the byte at which the numbers begin. The
    numbers are 32-bit floats [m]: x, y, z of 17 points for each panel, sixteen round its outline and one in its middle,
    then x, y, z of the points of each line.
    """
    shapes = design.arrangement.panel_shapes
    points = np.concatenate([shapes.outline, shapes.samples[:, _CENTRE : _CENTRE + 1]], axis=1)
    lines = _lines(design)
    head = {
        "panels": design.plating.labels("id").tolist(),
        "lines": [{"kind": kind, "name": name, "points": len(places)} for kind, name, places in lines],
        "numbers_from": 0,
    }
    text = json.dumps(head).encode("utf-8")
    start = -(-(_HEAD + len(text) + 8) // 4) * 4  # room for the digits of its own number, on a whole float
    head["numbers_from"] = start
    text = json.dumps(head).encode("utf-8").ljust(start - _HEAD)
    numbers = [points.astype("<f4").tobytes(), *(places.astype("<f4").tobytes() for _, _, places in lines)]
    return b"".join([len(text).to_bytes(_HEAD, "little"), text, *numbers])


def _lines(design: Design) -> Sequence[tuple[str, str, FloatArray]]:
    """The lines on the shell: hull-area borders and ice waterlines, each with kind, name and points (k, 3) [m]."""
    waterlines = (design.measures.upper, design.measures.lower)
    lines = [("border", border.border.name, border.points) for border in design.borders]
    lines += [("water", waterline.name, waterline.curve.at.points) for waterline in waterlines]
    return [line for line in lines if len(line[2]) > 1]
