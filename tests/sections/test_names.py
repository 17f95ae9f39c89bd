"""Names of sections: read, written, refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.sections.catalogue import catalogue
from beltwright.sections.kinds import SectionKind
from beltwright.sections.make import built_angle, flat_bar
from beltwright.sections.names import bulb, section, sections
from beltwright.sections.net import net_sections


@pytest.mark.parametrize(
    ("written", "name", "kind"),
    [
        ("FB150x12", "FB150x12", SectionKind.FLAT_BAR),
        (" hp 240 X 11 ", "HP240x11", SectionKind.BULB_FLAT),
        ("HP160×11.5", "HP160x11.5", SectionKind.BULB_FLAT),
        ("t300x15+100x18", "T300x15+100x18", SectionKind.BUILT_TEE),
        ("L250x12 + 90x15", "L250x12+90x15", SectionKind.BUILT_ANGLE),
        ("L200x90x10", "L200x90x10", SectionKind.ROLLED_ANGLE),
        ("L200x100x10.0", "L200x100x10", SectionKind.ROLLED_ANGLE),
        ("L300x90x11/16", "L300x90x11/16", SectionKind.ROLLED_ANGLE),
        ("B300x15+100x18E-20", "B300x15+100x18e-20", SectionKind.BUILT_UP),
        ("T300.50x15+100x18", "T300.5x15+100x18", SectionKind.BUILT_TEE),
    ],
)
def test_names_are_read(written: str, name: str, kind: SectionKind) -> None:
    assert (section(written).name, section(written).kind) == (name, kind)


def test_a_listed_angle_has_its_radii_and_another_none() -> None:
    listed, plain = section("L200x100x10"), section("L200x90x10")
    assert listed.status is Status.MEMORY
    assert listed.area_cm2 > 10 * 29 / 10  # more than its two plates
    assert plain.status is Status.CHOICE
    assert plain.area_cm2 == pytest.approx(28.0)


def test_every_name_in_the_catalogue_reads_back_to_the_same_section() -> None:
    table = catalogue()
    again = sections(table.name.tolist())
    assert again.name.tolist() == table.name.tolist()
    assert again.area_cm2 == pytest.approx(table.area_cm2, rel=1e-12)
    assert again.inertia_cm4 == pytest.approx(table.inertia_cm4, rel=1e-12)


@given(
    hw=st.integers(40, 2000),
    tw=st.integers(6, 60),
    bf=st.integers(120, 800),
    tf=st.integers(6, 120),
    letter=st.sampled_from("TL"),
)
def test_round_trip_of_built_sections(hw: int, tw: int, bf: int, tf: int, letter: str) -> None:
    name = f"{letter}{hw / 2:.10g}x{tw / 2:.10g}+{bf / 2:.10g}x{tf / 2:.10g}"
    made = section(name)
    assert made.name == name
    assert (made.web_height_mm, made.web_thickness_mm) == (hw / 2, tw / 2)
    assert (made.flange_breadth_mm, made.flange_thickness_mm) == (bf / 2, tf / 2)


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("HP245x11", "HP240x11"), ("HP240x13", "HP240x12"), ("HP500x20", "HP430x20"), ("HP240x110", "HP240x12")],
)
def test_a_bulb_that_is_not_made_is_refused_with_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(
        InputError, match=f"ship.toml: frame: {name}: no such bulb flat in EN 10067; allowed: the nearest is {nearest}$"
    ):
        section(name, where="ship.toml: frame")


@pytest.mark.parametrize(
    "name", ["", "150x12", "FB150", "T300x15", "HP240x-11", "FB1e3x12", "L1x2x3x4", "FB150x12;rm", "T300x15+100x18e5"]
)
def test_what_is_no_name_is_refused_with_the_notation(name: str) -> None:
    with pytest.raises(InputError, match=r"frame: this is not the name of a section.*written like FB150x12, HP240x11"):
        section(name, where="frame")


def test_a_dimension_out_of_range_says_where_it_was_written() -> None:
    with pytest.raises(InputError, match=r"ship.toml: frame: FB12x150: web height out of range; found 12 mm"):
        section("FB12x150", where="ship.toml: frame")


def test_bulb_only_makes_bulbs() -> None:
    assert bulb("HP240x11").height_mm == 240.0
    with pytest.raises(InputError, match="not a bulb flat"):
        bulb("FB150x12")


def test_the_names_and_the_constructors_are_the_same_sections() -> None:
    for name, made in (("FB150x12", flat_bar(150, 12)), ("L250x12+90x15", built_angle(250, 12, 90, 15))):
        assert section(name).inertia_cm4 == made.inertia_cm4


def test_an_empty_list_of_names_is_an_empty_table() -> None:
    assert len(sections([])) == 0


def test_families_are_the_words_rules_sort_by() -> None:
    names = ["FB150x12", "HP240x11", "L200x100x10", "L250x12+90x15", "T300x15+100x18", "B300x15+100x18e20"]
    table = sections(names)
    assert table.family.tolist() == ["flat", "bulb", "angle", "angle", "tee", "tee"]
    assert net_sections(table, corrosion_deduction_mm=1.0).family.tolist() == table.family.tolist()
