"""Descriptions of small ships for the tests of the arrangement, and shells for them."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import numpy as np
from tests.hull.closed_form import AnalyticHull, bezier, quad

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.hull.patch import SplinePatch
from beltwright.hull.shell import Shell
from beltwright.hull.spline_shell import SplineShell
from beltwright.ship.model import Ship
from beltwright.ship.parse import parse_ship

Document = dict[str, Any]


def shell_of(hull: AnalyticHull) -> SplineShell:
    return SplineShell(hull.patches)


def document(
    *,
    depth_m: float,
    frames: list[tuple[float, float, float]],
    levels: list[tuple[str, str, float]],
    zones: list[Document],
) -> Document:
    """A description with only what the arrangement reads; the rest is filled with anything allowed."""
    return {
        "ship": {"name": "Test hull"},
        "hull": {"file": "hull.step", "depth_m": depth_m},
        "ice": {"rules": "polar_iacs_2019", "ice_class": "PC4"},
        "propulsion": {"kind": "shafts with rudders", "rudder_stock_x_m": 0.0},
        "waterlines": {"upper": [{"x_m": 0.0, "draught_m": 4.0}], "lower": [{"x_m": 0.0, "draught_m": 3.0}]},
        "frames": [{"from_frame": a, "to_frame": b, "spacing_m": s} for a, b, s in frames],
        "levels": [{"name": n, "kind": k, "height_m": z} for n, k, z in levels],
        "zones": zones,
        "steel": {"plate_grade": "EH36", "frame_grade": "EH36"},
    }


def box_document() -> Document:
    """The box of 60 x 12 x 7 m: frames 0.6 m, bottom longitudinals 0.5 m apart, floors and webs 2.4 m apart."""
    return document(
        depth_m=7.0,
        frames=[(0, 100, 0.6)],
        levels=[
            ("inner bottom", "inner bottom", 1.5),
            ("stringer", "load-carrying stringer", 3.5),
            ("main deck", "deck", 7.0),
        ],
        zones=[
            {"name": "side", "from_frame": 0, "to_frame": 100, "from_level": "inner bottom", "to_level": "main deck",
             "orientation": "transverse", "web_frame_spacing_m": 2.4},
            {"name": "bottom", "from_frame": 0, "to_frame": 100, "to_level": "inner bottom",
             "orientation": "longitudinal", "spacing_m": 0.5, "web_frame_spacing_m": 2.4},
        ],
    )  # fmt: skip


def wedge_document(last: int = 87) -> Document:
    """A wedge at alpha 28, beta 48.7 degrees: frames 0.4 m, levels 1.45 m apart."""
    return document(
        depth_m=7.0,
        frames=[(0, last, 0.4)],
        levels=[
            ("flat", "deck", 1.0),
            ("stringer", "load-carrying stringer", 2.45),
            ("deck", "deck", 3.9),
            ("main deck", "deck", 7.0),
        ],
        zones=[
            {"name": "all", "from_frame": 0, "to_frame": last, "to_level": "main deck",
             "orientation": "transverse", "web_frame_spacing_m": 1.6},
        ],
    )  # fmt: skip


def parsed(doc: Document) -> Ship:
    return parse_ship(deepcopy(doc))


def arranged(doc: Document, shell: Shell) -> Arrangement:
    return arrange(parsed(doc), shell)


def row_of(table: Any, name: str) -> dict[str, Any]:
    """The row of a table with an id."""
    found = np.flatnonzero(table.labels("id") == name)
    assert len(found) == 1, f"{name}: {len(found)} rows"
    return table.row(int(found[0]))  # type: ignore[no-any-return]


def quarter_barrel(length: float = 20.0, radius: float = 6.0, depth: float = 9.0) -> SplineShell:
    """A half cylinder below z = radius, upright sides above: girth = radius * angle, exactly."""
    r = np.sqrt(0.5)
    around = np.array([[0.0, 0.0], [radius, 0.0], [radius, radius]])
    poles = np.array([[[x, y, z] for y, z in around] for x in (0.0, length)])
    weights = np.array([[1.0, r, 1.0], [1.0, r, 1.0]])
    barrel = bezier(poles, weights, name="barrel")
    top = quad([0, radius, radius], [length, radius, radius], [0, radius, depth], [length, radius, depth], "side")
    patches: tuple[SplinePatch, ...] = (barrel, top)
    return SplineShell(patches)
