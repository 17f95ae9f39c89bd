"""The settings as data: every one of the model's is there, with what a form needs to know of it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from beltwright.ship.fields import FieldSpec, ship_fields
from beltwright.ship.parse import field_at


def every(fields: tuple[FieldSpec, ...], path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], FieldSpec]]:
    """Yield every setting with its path."""
    for field in fields:
        yield (*path, field.name), field
        yield from every(field.parts, (*path, field.name))


def test_every_setting_of_the_model_is_there_with_its_description() -> None:
    found = list(every(ship_fields()))
    assert len(found) > 150
    for path, spec in found:
        field = field_at(path)
        assert field is not None
        assert (spec.description, spec.required) == (field.description, field.is_required())


@pytest.mark.parametrize(
    ("path", "kind", "unit"),
    [
        ("hull.depth_m", "number", "m"),
        ("hull.ap_x_m", "number", "m"),
        ("ice.icebreaker", "switch", ""),
        ("ship.contract_date", "date", ""),
        ("propulsion.propeller_count", "count", ""),
        ("propulsion.kind", "choice", ""),
        ("zones.orientation", "choice", ""),
        ("zones.lower_end", "table", ""),
        ("levels", "tables", ""),
        ("stock.frame_kinds", "choice", ""),
        ("sizing.frame_spacings_m", "list", "m"),
        ("water.density_t_m3", "number", "t/m3"),
    ],
)
def test_kinds_and_units(path: str, kind: str, unit: str) -> None:
    spec = dict(every(ship_fields()))[tuple(path.split("."))]
    assert spec.unit == unit
    assert spec.kind == ("list" if path == "stock.frame_kinds" else kind)


def test_choices_are_the_words_of_the_file() -> None:
    spec = dict(every(ship_fields()))
    assert spec["zones", "orientation"].choices == ("transverse", "longitudinal", "oblique")
    assert spec["stock", "frame_kinds"].choices == ("flat", "bulb", "angle", "tee")
    assert spec["stock", "frame_kinds"].default == ("tee", "bulb")
    assert spec["water", "density_t_m3"].default == 1.025
    assert spec["hull", "ap_x_m"].default is None
    assert spec["hull", "depth_m"].required
