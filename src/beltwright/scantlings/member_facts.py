"""Plates and frame spans in the vocabulary of the rule sets, as far as no plate or section has to be fitted first."""

from __future__ import annotations

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.hull.angles import hull_angles
from beltwright.rules.facts import SEVERAL_LEVELS, TANK_TOP_TO_DECK, TWO_LEVELS
from beltwright.rules.protocol import HullAreas, Strengthens
from beltwright.scantlings.areas import codes_strengthening, inclination_deg, share_inside
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.on_demand import Maker, OnDemand, same
from beltwright.scantlings.readings import both_in_full
from beltwright.ship.model import LevelKind, Orientation, Ship

SQUARE_DEG, _NOISE_DEG = 90.0, 1e-4  # a web this near to square stands square: the rest is rounding
_MIDDLE = 4  # of the nine places along a span
_CENTRE = 8  # of the nine places on a panel


def panel_facts(arrangement: Arrangement) -> OnDemand:
    """Return the columns (n,) of the panels, without ``omega_deg``: a flat shell is tried both ways, in rows."""
    panels, normals = arrangement.panels, arrangement.panel_shapes.sample_normals[:, _CENTRE]

    def to_support() -> FloatArray:
        remote = panels["stringer_to_support_m"]
        return np.where(remote.applies, remote.data, panels["support_distance_m"].data)

    return OnDemand(
        {
            **_columns(panels, "spacing_m", "span_m", "support_distance_m", "load_distributing_stringer"),
            "stringer_to_support_m": to_support,
            **_shell(normals),
        }
    )


def span_facts(ship: Ship, arrangement: Arrangement, areas: HullAreas, measures: HullMeasures) -> OnDemand:
    """Return the columns (n,) of the frame spans that no plate and no section decides."""
    frames, shapes = arrangement.frames, arrangement.frame_shapes

    def one_end_loose() -> BoolArray:
        loose: BoolArray = ~(frames["lower_end_fixed"].data & frames["upper_end_fixed"].data)
        return loose

    def web_angle() -> FloatArray:
        angle = frames["web_angle_deg"].data
        return np.where(angle > SQUARE_DEG - _NOISE_DEG, SQUARE_DEG, angle)

    def strengthened_share() -> FloatArray:
        inside = codes_strengthening(areas, Strengthens.FRAMING)
        return share_inside(areas, measures, shapes.samples, shapes.sample_normals, inside)

    def tripping_support() -> FloatArray:
        given = {zone.name: zone.tripping_support_m for zone in ship.zones}
        stated = np.array([given[str(name)] or np.inf for name in frames.labels("zone")])
        least: FloatArray = np.minimum(stated, frames["span_m"].data)
        return least

    return OnDemand(
        {
            **_columns(frames, "span_m", "web_frame_spacing_m", "load_distributing_stringer",
                       "end_brackets"),
            "spacing_m": lambda: frames["spacing_greatest_m"].data,
            "web_angle_deg": web_angle,
            "one_end_simply_supported": one_end_loose,
            **_shell(shapes.sample_normals[:, _MIDDLE]),
            "boundary": lambda: _boundary(arrangement),
            "both_in_full": same(both_in_full(ship)),
            "agreed_boundary": same(0.0),
            "strengthened_share": strengthened_share,
            "tripping_support_m": tripping_support,
        }
    )  # fmt: skip


def _columns(table: ColumnTable, *names: str) -> dict[str, Maker]:
    """Columns as the table has them."""

    def of(name: str) -> Maker:
        return lambda: table[name].data

    return {name: of(name) for name in names}


def _shell(normals: FloatArray) -> dict[str, Maker]:
    """The angles of the shell at places with unit outward normals (n, 3)."""
    return {
        "waterline_angle_deg": lambda: _acute(np.nan_to_num(hull_angles(normals).alpha_deg, nan=0.0)),
        "flare_angle_deg": lambda: inclination_deg(normals),
    }


def _acute(angle_deg: FloatArray) -> FloatArray:
    """Angles between two lines [deg], 0 to 90; beside the keel a normal may lean inboard and tell the other one."""
    turned = np.abs(angle_deg)
    folded: FloatArray = np.minimum(turned, 180.0 - turned)
    return folded


def _boundary(arrangement: Arrangement) -> LabelArray:
    """What each transverse frame runs between: several levels; else tank top and a deck, or any two levels."""
    frames = arrangement.frames
    across = frames.labels("orientation") == Orientation.TRANSVERSE.value
    lower, upper = frames.labels("lower_level"), frames.labels("upper_level")
    runs_on = (frames.labels("runs_from_level") != lower) | (frames.labels("runs_to_level") != upper)
    kind = {level.name: level.kind for level in arrangement.levels}
    tank_tops = [name for name, one in kind.items() if one is LevelKind.INNER_BOTTOM]
    decks = [name for name, one in kind.items() if one is LevelKind.DECK]
    single = across & np.isin(lower, tank_tops) & np.isin(upper, decks)
    return np.where(across & runs_on, SEVERAL_LEVELS, np.where(single, TANK_TOP_TO_DECK, TWO_LEVELS)).astype(np.str_)
