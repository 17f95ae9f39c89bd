"""Facts that the description tells: each with its field, and a refusal where a rule set wants one that is not given."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from beltwright.core.errors import InputError
from beltwright.scantlings.ship_facts.reading import Told, one
from beltwright.ship.model import Ship
from beltwright.ship.parse import allowed_of, field_at, unit_of_field


def _value(ship: Ship, field: str) -> Any:
    """What stands in a field of ``ship.toml``, by its dotted name."""
    value: Any = ship
    for name in field.split("."):
        value = getattr(value, name)
    return value


def _given(field: str) -> Callable[[Ship], Told]:
    """A source that reads a field as it stands; InputError where it is not given."""

    def source(ship: Ship) -> Told:
        value = _value(ship, field)
        if value is None:
            raise _missing(ship, field)
        return one(value, f"ship.toml: {field}")

    return source


def _missing(ship: Ship, field: str) -> InputError:
    """What to say where the rule set wants a field that is not given."""
    info = field_at(field.split("."))
    words, allowed = ("", "") if info is None else (info.description or "", allowed_of(info))
    unit = unit_of_field(field)
    return InputError(
        f"ship.toml: {field}", f"this key is missing, the rule set {ship.ice.rules} asks for it: {words}",
        allowed=f"{allowed} {unit}".strip(),
    )  # fmt: skip


def _azimuthing(ship: Ship) -> Told:
    """Whether the ship has azimuthing units."""
    return one(ship.propulsion.kind == "azimuthing units", "ship.toml: propulsion.kind")


def _propeller_count(ship: Ship) -> Told:
    """The number of propellers, as the word of a table."""
    told = _given("propulsion.propeller_count")(ship)
    return one(str(told.values[0]), told.origin)


def fore_perpendicular_x_m(ship: Ship) -> float:
    """Return x of the forward perpendicular: the length between perpendiculars; InputError where it is not given."""
    field = "hull.length_between_perpendiculars_m"
    length = ship.hull.length_between_perpendiculars_m
    if length is None:
        raise _missing(ship, field)
    return length


SOURCES: Final[Mapping[str, Callable[[Ship], Told]]] = {
    "ice_class": _given("ice.ice_class"),
    "icebreaker": _given("ice.icebreaker"),
    "operates_astern": _given("ice.operates_astern"),
    "azimuthing_propulsion": _azimuthing,
    "bulbous_bow": _given("ice.bulbous_bow"),
    "effective_protection": _given("effective_protection"),
    "class_rule_length_m": _given("hull.class_rule_length_m"),
    "perpendicular_length_m": _given("hull.length_between_perpendiculars_m"),
    "approved_abrasion_mm": _given("ice.abrasion_addition_mm"),
    "engine_power_kw": _given("propulsion.engine_power_kw"),
    "service_speed_kn": _given("propulsion.service_speed_kn"),
    "propeller_count": _propeller_count,
    "drive": _given("propulsion.drive"),
    "propeller_diameter_m": _given("propulsion.propeller_diameter_m"),
    "propeller_clearance_m": _given("propulsion.propeller_clearance_m"),
    "power_basis": _given("propulsion.output_clause"),
}
