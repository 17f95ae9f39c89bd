"""Every refusal of ship.toml is one line that names the field, the value, its unit and what is allowed."""

from __future__ import annotations

import tomllib

import pytest

from beltwright.core.errors import InputError
from beltwright.ship.loading import LARGEST_TABLE, LoadingCase, parse_loading_cases
from beltwright.ship.model import LevelKind, Part, Ship
from beltwright.ship.parse import allowed_of, field_at, parse_ship, unit_of_field

BASE = """
[ship]
name = "Test hull"
[hull]
file = "hull.step"
depth_m = 10.4
[ice]
rules = "polar_iacs_2019"
ice_class = "PC4"
[propulsion]
kind = "shafts with rudders"
rudder_stock_x_m = 0
[waterlines]
upper = [{ x_m = 0.0, draught_m = 7.6 }]
[[frames]]
from_frame = 0
to_frame = 240
spacing_m = 0.4
[[levels]]
name = "deck"
kind = "deck"
height_m = 10.4
[[zones]]
name = "side"
from_frame = 0
to_frame = 240
to_level = "deck"
orientation = "transverse"
web_frame_spacing_m = 1.6
[steel]
plate_grade = "EH36"
frame_grade = "EH36"
"""


def test_a_whole_number_is_a_length() -> None:
    ship = parse_ship(tomllib.loads(BASE))
    assert isinstance(ship, Ship)
    assert ship.propulsion.rudder_stock_x_m == 0.0
    assert ship.levels[0].kind is LevelKind.DECK
    assert ship.ice.rules == "polar_iacs_2019"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "depth_m = 10.4",
            "depth_m = nan",
            "ship.toml: hull.depth_m: should be a finite number; found nan m; allowed: at least 1.0 and at most 60.0",
        ),
        (
            "depth_m = 10.4",
            'depth_m = "10.4"',
            "ship.toml: hull.depth_m: should be a valid number; found '10.4' m; allowed: at least 1.0 and at most 60.0",
        ),
        ("depth_m = 10.4", "dept_m = 10.4", "ship.toml: hull.dept_m: unknown key; allowed: did you mean depth_m?"),
        (
            "depth_m = 10.4",
            "",
            "ship.toml: hull.depth_m: this key is missing; allowed: moulded depth to the main deck at side",
        ),
        (
            "height_m = 10.4",
            "height_m = 1040",
            "height_m: should be less than or equal to 60; found 1040 m; allowed: at least -5.0 and at most 60",
        ),
        ('kind = "deck"', "kind = true", "ship.toml: levels[1].kind:"),
        ("[ship]", "[ship]\nlength = 3", "ship.toml: ship.length: unknown key; allowed: name, owner,"),
        ("[ship]", "zzz = 3\n[ship]", "ship.toml: zzz: unknown key; allowed: ship, hull, ice,"),
        ('name = "Test hull"', 'name = "a\\u0007b"', "ship.toml: ship.name: has characters that are not allowed"),
        (
            'file = "hull.step"',
            'file = "../../etc/passwd"',
            "ship.toml: hull.file: has characters that are not allowed; found ../../etc/passwd",
        ),
        (
            "[steel]",
            "[water]\ndensity_t_m3 = 1025\n[steel]",
            "found 1025 t/m3; allowed: at least 0.99 and at most 1.05",
        ),
        ("[steel]", "[propulsion.x]\n[steel]", "ship.toml: propulsion.x: unknown key"),
    ],
)
def test_refusals(old: str, new: str, expected: str) -> None:
    assert old in BASE
    with pytest.raises(InputError) as caught:
        parse_ship(tomllib.loads(BASE.replace(old, new, 1)))
    assert expected in str(caught.value)
    assert "\n" not in str(caught.value)


def test_an_empty_list_is_refused() -> None:
    document = tomllib.loads(BASE) | {"levels": []}
    with pytest.raises(InputError, match=r"ship\.toml: levels: .*at least 1 item"):
        parse_ship(document)


def test_every_setting_has_a_meaning() -> None:
    """The settings page is made from these; a field without one would be undocumented."""

    def walk(model: type[Part]) -> None:
        for name, field in model.model_fields.items():
            assert field.description, f"{model.__name__}.{name}"

    for part in Part.__subclasses__() + [s for p in Part.__subclasses__() for s in p.__subclasses__()]:
        walk(part)


def test_units_come_from_field_names() -> None:
    names = ("depth_m", "floor_mm", "angle_deg", "density_t_m3", "weight_t", "name", "m")
    assert [unit_of_field(name) for name in names] == ["m", "mm", "deg", "t/m3", "t", "", ""]


def test_fields_are_found_by_path() -> None:
    field = field_at(("zones", 0, "lower_end", "bracket_m"))
    assert field is not None
    assert allowed_of(field) == "at least 0.0 and at most 2.0"
    spacing = field_at(("zones", 0, "oblique_angle_deg"))
    assert spacing is not None
    assert allowed_of(spacing) == "at least 5.0 and at most 85.0"
    assert not LevelKind.LOAD_DISTRIBUTING_STRINGER.supports_frames
    assert field_at(("zones", 0, "nowhere")) is None
    assert field_at(("ship", "name", "deeper")) is None


HEADER = ",".join(LoadingCase.model_fields)
ROW = "departure,0.0,7.4,47.5,7.5,95.0,7.6,1.025,upper"


def test_loading_cases() -> None:
    cases = parse_loading_cases(f"# made up\n{HEADER}\n{ROW}\n\n{ROW}\n", "cases.csv")
    assert [c.draught_mid_m for c in cases] == [7.5, 7.5]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "the header must name the columns"),
        ("a,b\n1,2", "the header must name the columns; allowed: case,x_aft_m"),
        (HEADER, "the table has no cases"),
        (f"{HEADER}\n{ROW.replace(',7.5,', ',seven,')}", "row 1: draught_mid_m: is not a number; found seven m"),
        (f"{HEADER}\n{ROW.replace(',7.5,', ',nan,')}", "row 1: draught_mid_m: is out of range; found nan m"),
        (
            f"{HEADER}\n{ROW.replace('1.025', '1025')}",
            "density_t_m3: is out of range; found 1025 t/m3; allowed: at least 0.99",
        ),
        (f"{HEADER}\n{ROW.replace('upper', 'top')}", "row 1: use: is out of range; found top"),
        (f"{HEADER}\n{ROW.rsplit(',', 1)[0]}", "row 1: use: is out of range"),
        (HEADER + f"\n{ROW}" * (LARGEST_TABLE + 1), "too many lines"),
    ],
)
def test_broken_loading_tables(text: str, expected: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_loading_cases(text, "cases.csv")
    assert expected in str(caught.value)
