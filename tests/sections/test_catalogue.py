"""The catalogue: what is in it, its order, and that its data files are what it is made of."""

from importlib.resources import files

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.recordtable import load_records, parse_records
from beltwright.sections import catalogue as cat
from beltwright.sections.kinds import SectionKind


def data(filename: str) -> str:
    return files("beltwright.sections").joinpath("data", filename).read_text(encoding="utf-8")


def test_size_and_order() -> None:
    table = cat.catalogue()
    assert 1000 <= len(table) <= 3000
    assert np.all(np.diff(table.mass_kg_per_m) >= 0.0)
    assert len(set(table.name.tolist())) == len(table)
    assert set(table.kind.tolist()) == {
        SectionKind.FLAT_BAR,
        SectionKind.BULB_FLAT,
        SectionKind.ROLLED_ANGLE,
        SectionKind.BUILT_TEE,
    }
    for column in ("area_cm2", "centroid_cm", "inertia_cm4", "mass_kg_per_m", "height_mm", "flange_centre_height_mm"):
        assert np.all(np.isfinite(getattr(table, column)))
        assert np.all(getattr(table, column) > 0.0)


def test_equal_masses_are_in_the_order_of_names() -> None:
    table = cat.by_mass(cat.join([cat.flat_bars(), cat.flat_bars()]))
    same = np.diff(table.mass_kg_per_m) == 0.0
    assert np.all(table.name[:-1][same] <= table.name[1:][same])


def test_every_row_has_a_status_that_is_known() -> None:
    for status in set(cat.catalogue().status.tolist()):
        assert Status(status)
    assert set(cat.bulb_flats().status.tolist()) == {"secondary"}


def test_names_in_the_files_say_the_dimensions() -> None:
    bulbs = cat.bulb_flats()
    assert bulbs.name.tolist() == [
        f"HP{h:g}x{t:g}" for h, t in zip(bulbs.height_mm, bulbs.web_thickness_mm, strict=True)
    ]
    bars = cat.flat_bars()
    assert bars.name.tolist() == [f"FB{h:g}x{t:g}" for h, t in zip(bars.height_mm, bars.web_thickness_mm, strict=True)]


def test_one_changed_cell_of_a_data_file_moves_the_section() -> None:
    text = data("bulb_flats.csv")
    before = cat.bulb_flats()
    row = before.index_of("HP240x11")
    line = next(line for line in text.splitlines() if line.startswith("HP240x11,"))
    fields = line.split(",")
    for column in range(1, 6):  # height, web, projection, nose radius, edge radius
        changed = fields.copy()
        changed[column] = f"{float(fields[column]) * 1.1:.6g}"
        after = cat.read_bulb_flats(parse_records(text.replace(line, ",".join(changed)), "changed.csv"))
        assert after.area_cm2[row] != before.area_cm2[row]
        others = np.arange(len(before)) != row
        assert np.array_equal(after.area_cm2[others], before.area_cm2[others])
    named = cat.read_bulb_flats(parse_records(text.replace(line, line.replace("secondary", "printed")), "changed.csv"))
    assert named.status[row] == "printed"


@pytest.mark.parametrize(
    ("filename", "read", "columns"),
    [("flat_bars.csv", cat.read_flat_bars, range(1, 3)), ("angles.csv", cat.read_rolled_angles, range(2, 9))],
)
def test_one_changed_cell_of_the_other_files_moves_the_section(filename, read, columns) -> None:
    text = data(filename)
    line = text.splitlines()[-1]
    before = read(parse_records(text, filename))
    for column in columns:
        changed = line.split(",")
        changed[column] = f"{float(changed[column]) * 1.1 + 0.1:.6g}"
        after = read(parse_records(text.replace(line, ",".join(changed)), filename))
        assert after.area_cm2[-1] != before.area_cm2[-1]


def test_recalled_areas_of_angles_agree_with_their_recalled_radii() -> None:
    """A guard against slips of memory only: both numbers are recalled. The area is given to three digits."""
    recalled = load_records("beltwright.sections", "angles.csv").numbers("recalled_area_cm2")
    assert cat.rolled_angles().area_cm2 == pytest.approx(recalled, rel=5e-3)
    jis = recalled > 0
    jis &= np.char.find(cat.rolled_angles().name, "/") > 0
    assert cat.rolled_angles().area_cm2[jis] == pytest.approx(recalled[jis], rel=2e-4)


STEPS = "# document: d\n# edition: e\n# table: t\n# title: x\n# read_by: y\ndimension,from_mm,upto_mm,step_mm,status\n"
RATIOS = "# document: d\n# edition: e\n# table: t\n# title: x\n# read_by: y\nratio,least,most,status\n"


def test_tees_are_every_combination_within_the_proportions() -> None:
    steps = STEPS + "web_height,200,250,50,choice\nweb_thickness,10,10,1,choice\nweb_thickness,10,20,10,choice\n"
    steps += "flange_breadth,100,100,25,choice\nflange_thickness,10,20,10,choice\n"
    none = parse_records(RATIOS + "web_height / web_thickness,0,1000,choice\n", "ratios.csv")
    tees = cat.make_built_tees(parse_records(steps, "steps.csv"), none)
    assert len(tees) == 2 * 2 * 1 * 2
    some = parse_records(
        RATIOS + "web_height / web_thickness,12.5,20,choice\noutstand / flange_thickness,0,4.5,choice\n", "r"
    )
    kept = cat.make_built_tees(parse_records(steps, "steps.csv"), some)
    # hand: 200/10 = 20 and 250/20 = 12.5 stay, on the limits; 200/20 and 250/10 go; greatest outstand 45/10 = 4.5
    assert kept.name.tolist() == ["T200x10+100x10", "T200x10+100x20", "T250x20+100x10", "T250x20+100x20"]


def test_slips_in_the_tee_files_are_named() -> None:
    steps = load_records("beltwright.sections", "built_tee_steps.csv")
    bad = parse_records(RATIOS + "web_height / mass,1,2,choice\n", "ratios.csv")
    with pytest.raises(
        InputError, match=r"ratios.csv: line 7: no such ratio; found web_height / mass; allowed: two of web"
    ):
        cat.make_built_tees(steps, bad)
    with pytest.raises(InputError, match=r"steps.csv: no steps are given; found web_thickness"):
        cat.make_built_tees(parse_records(STEPS + "web_height,200,250,50,choice\n", "steps.csv"), bad)


def test_cells_used_are_those_of_the_sections_named() -> None:
    assert cat.cells_used(["T300x15+100x18"]) == ()
    cells = cat.cells_used(["HP240x11", "L200x100x10", "FB150x12"])
    assert [cell.keys[0][1] for cell in cells] == ["FB150x12"] * 2 + ["HP240x11"] * 5 + ["L200x100x10"] * 7
    assert [cell.value for cell in cells[:7]] == [150, 12, 240, 11, 34, 10, 3]
    assert cells[-1].status is Status.MEMORY
