"""Plates and longitudinals of the hull girder against buckling: at every place of their extent, the worst counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.outcome import is_met, utilisation
from beltwright.core.units import FloatArray, IntArray, Unit
from beltwright.rules.protocol import GirderRule, MemberRule
from beltwright.scantlings.girder_design import MemberTrace
from beltwright.scantlings.girder_given import FIELD, ONE_PLACE_M, band_of, member_extent
from beltwright.scantlings.members import MET, NOT_MET
from beltwright.sections.attached import net_with_plating
from beltwright.sections.names import sections
from beltwright.sections.net import net_sections
from beltwright.ship.girder import Place
from beltwright.ship.model import Ship

NOT_ASKED = "not asked"
IN_TENSION = "in tension: ramming ice brings sagging only"
NO_SHEAR = "carries no vertical shear"
_SHEAR = "shear_mpa"


@dataclass(frozen=True, slots=True, kw_only=True)
class StressesAlong:
    """Stresses of the hull girder at the places (n,) at which sections are given [m, MPa]."""

    x_m: FloatArray
    stress_deck_mpa: FloatArray
    stress_shear_mpa: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Members at places: which member (p,), which place (p,), and the columns (p,) of the vocabulary."""

    member: IntArray
    place: IntArray
    columns: Mapping[str, NDArray[Any]]


def check_members(
    ship: Ship, rule: GirderRule, along: StressesAlong, shape: Callable[[str], str]
) -> tuple[ColumnTable, tuple[MemberTrace, ...]]:
    """Return a row per member and check, at its worst place, and the worst of each kind told in full.

    ``shape`` gives the words for a place (x as text) in the trace's origins.

    Raises InputError for a member in whose extent no place lies.
    """
    given = ship.hull_girder
    rows: list[dict[str, Any]] = []
    told: list[MemberTrace] = []
    kinds = (
        ("plate", given.plates, rule.plate, plate_columns(ship)),
        ("stiffener", given.stiffeners, rule.stiffener, stiffener_columns(ship)),
    )
    for kind, members, member_rule, own in kinds:
        if not members:
            continue
        pairs = _pairs(members, along, own)
        values = member_rule.run({name: pairs.columns[name] for name in member_rule.chain.inputs})
        mine = _rows(kind, members, member_rule, pairs, values, along)
        rows += mine
        asked = [row for row in mine if row["reason"] == ""]
        if asked:
            worst = max(asked, key=lambda row: float(row["ratio"]))
            told.append(_told(worst, member_rule, pairs, shape))
    return _table(rows), tuple(told)


def plate_columns(ship: Ship) -> dict[str, NDArray[Any]]:
    """Return the columns of the given plates (k,): the shorter side is the lesser of spacing and length."""
    plates = ship.hull_girder.plates
    sides = np.array([(p.spacing_m, p.length_m) for p in plates], dtype=np.float64).reshape(-1, 2)
    return {
        "thickness_net_mm": np.array([p.thickness_net_mm for p in plates], dtype=np.float64),
        "short_side_m": sides.min(axis=1),
        "long_side_m": sides.max(axis=1),
        "stress_ratio": np.ones(len(plates)),
        "stiffeners_along": np.array([p.framing == "longitudinal" for p in plates], dtype=bool),
        "edge_stiffener": np.array([p.edge_stiffener for p in plates], dtype=np.str_),
        "yield_mpa": _yields(ship, "plates", plates),
    }


def stiffener_columns(ship: Ship) -> dict[str, NDArray[Any]]:
    """Return the columns of the given stiffeners (k,), net, with the plate between them attached."""
    stiffeners = ship.hull_girder.stiffeners
    if not stiffeners:
        return {}
    named = sections([s.section for s in stiffeners], where=f"{FIELD}.stiffeners.section")
    net = net_sections(named, corrosion_deduction_mm=ship.stock.frame_corrosion_mm)
    whole = net_with_plating(
        net,
        net_plating_thickness_mm=[s.plate_net_mm for s in stiffeners],
        plating_breadth_mm=[1000.0 * s.spacing_m for s in stiffeners],
    )
    return {
        "inertia_net_cm4": whole.inertia_cm4,
        "area_net_cm2": whole.area_cm2,
        "span_m": np.array([s.span_m for s in stiffeners], dtype=np.float64),
        "web_net_mm": net.net_web_thickness_mm,
        "web_height_mm": net.web_height_mm,
        "flange_breadth_mm": net.flange_breadth_mm,
        "flange_net_mm": net.net_flange_thickness_mm,
        "section_kind": net.family,
        "plate_net_mm": np.array([s.plate_net_mm for s in stiffeners], dtype=np.float64),
        "spacing_m": np.array([s.spacing_m for s in stiffeners], dtype=np.float64),
        "stress_ratio": np.ones(len(stiffeners)),
        "yield_mpa": _yields(ship, "stiffeners", stiffeners),
    }


def _yields(ship: Ship, name: str, members: Sequence[Place]) -> FloatArray:
    """The yield stress of each member's steel."""
    fields = (f"{FIELD}.{name}[{number}].grade" for number in range(1, len(members) + 1))
    return np.array([band_of(m, ship, f).yield_MPa for m, f in zip(members, fields, strict=True)], dtype=np.float64)


def _pairs(members: Sequence[Place], along: StressesAlong, own: Mapping[str, NDArray[Any]]) -> Pairs:
    """Every member at every place of its extent."""
    low, high = float(along.x_m[0]), float(along.x_m[-1])
    ends = np.array([member_extent(member, low, high) for member in members])
    inside = (along.x_m >= ends[:, :1] - ONE_PLACE_M) & (along.x_m <= ends[:, 1:] + ONE_PLACE_M)
    for row in np.flatnonzero(~inside.any(axis=1)):
        raise InputError(
            f"{FIELD}: {members[int(row)].name}", "no place at which stresses are worked lies within it",
            value=f"x {ends[row, 0]:g} to {ends[row, 1]:g}", unit="m",
            allowed=f"inside the rule length, ends more than {ONE_PLACE_M:g} m from other places or on them",
        )  # fmt: skip
    member, place = np.nonzero(inside)
    share = np.array([m.stress_share * (m.member != "bottom") for m in members])
    sides = np.array([m.member == "side" for m in members])
    return Pairs(
        member=member,
        place=place,
        columns={name: values[member] for name, values in own.items()}
        | {
            "compression_mpa": share[member] * along.stress_deck_mpa[place],
            _SHEAR: sides[member] * along.stress_shear_mpa[place],
        },
    )


def _rows(
    kind: str, members: Sequence[Place], rule: MemberRule, pairs: Pairs,
    values: Mapping[str, NDArray[Any]], along: StressesAlong,
) -> list[dict[str, Any]]:  # fmt: skip
    """One row per member and check: the worst place."""
    found = []
    for number, member in enumerate(members):
        mine = np.flatnonzero(pairs.member == number)
        for check in rule.checks:
            ratio = utilisation(values[check.required][mine], values[check.offered][mine])
            worst = int(mine[int(np.argmax(np.where(np.isnan(ratio), np.inf, ratio)))])
            value = float(utilisation(values[check.required][[worst]], values[check.offered][[worst]])[0])
            reason = _reason(member.member, shear=check.required == _SHEAR)
            met = MET if bool(is_met(np.array([value]))[0]) else NOT_MET
            found.append(
                {
                    "name": member.name, "kind": kind, "member": member.member, "check": check.name,
                    "x_m": float(along.x_m[pairs.place[worst]]), "stress_mpa": float(values[check.required][worst]),
                    "allowed_mpa": float(values[check.offered][worst]), "ratio": value, "ref": check.ref,
                    "outcome": NOT_ASKED if reason else met, "reason": reason, "pair": worst,
                    "required": check.required, "offered": check.offered, "share": member.stress_share,
                }
            )  # fmt: skip
    return found


def _reason(member: str, *, shear: bool) -> str:
    """Why a check is not asked of a member; empty where it is."""
    if shear:
        return "" if member == "side" else NO_SHEAR
    return IN_TENSION if member == "bottom" else ""


def _told(row: Mapping[str, Any], rule: MemberRule, pairs: Pairs, shape: Callable[[str], str]) -> MemberTrace:
    """A row's calculation."""
    x = shape(f"{row['x_m']:.2f}")
    field = f"{FIELD}.{row['kind']}s, {row['name']}"
    origins = dict.fromkeys(rule.chain.inputs, field) | {
        "compression_mpa": f"stress at deck {x}, times the share {row['share']:g}",
        _SHEAR: f"shear stress of the hull girder {x}",
        "yield_mpa": "steel grade",
    }
    columns = {name: pairs.columns[name] for name in rule.chain.inputs}
    return MemberTrace(
        title=f"{row['name']}: {row['check']}, {x}",
        trace=rule.chain.trace(columns, int(row["pair"]), origins),
        wanted=(str(row["required"]), str(row["offered"])),
    )


def _table(rows: Sequence[Mapping[str, Any]]) -> ColumnTable:
    """The rows as a table."""
    words = (
        ("name", "member of the hull girder"),
        ("kind", "plate or stiffener"),
        ("member", "deck, side or bottom"),
        ("check", "check"),
    )
    numbers = (
        ("x_m", "m", "worst place, x from the aft perpendicular"),
        ("stress_mpa", "MPa", "stress"),
        ("allowed_mpa", "MPa", "allowed stress"),
        ("ratio", "-", "stress over allowed stress"),
    )
    reason = np.array([row["reason"] for row in rows], dtype=np.str_)
    columns = {name: _column("label", meaning, [row[name] for row in rows]) for name, meaning in words}
    for name, unit, meaning in numbers:
        data = np.array([row[name] for row in rows], dtype=np.float64)
        known = np.where(reason == "", data, np.nan)
        columns[name] = Column(unit=Unit(unit), meaning=meaning, data=known, reason=reason)
    columns["outcome"] = _column("label", "outcome", [row["outcome"] for row in rows])
    columns["ref"] = _column("label", "clause", [row["ref"] for row in rows])
    return ColumnTable("girder buckling", columns)


def _column(unit: str, meaning: str, data: Sequence[str]) -> Column:
    """A column of words."""
    return Column(unit=Unit(unit), meaning=meaning, data=np.array(data, dtype=np.str_))


def no_members() -> ColumnTable:
    """Return the table of members without a row."""
    return _table(())
