"""Steel grades of a whole ship: thickness as built, place about the water, category, demand, offer, what is told."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019
from beltwright.scantlings import build
from beltwright.scantlings.design import Design
from beltwright.scantlings.grade_story import told_grades

LETTERS = ("A", "B", "D", "E", "F")


def grades_given(plate: str, frame: str = "EH36") -> ships.Edit:
    return lambda doc: doc.update(steel={"plate_grade": plate, "frame_grade": frame})


def asked(**values: object) -> ships.Edit:
    return lambda doc: doc.setdefault("steel_grades", {}).update(values)


@cache
def mild() -> Design:
    """The small ship in AH36."""
    return ships.redesigned(grades_given("AH36", "AH36"))


def column(design: Design, name: str) -> np.ndarray:
    assert design.grades is not None
    return design.grades[name].data


def checked(design: Design) -> np.ndarray:
    return column(design, "outcome") != "not checked"


def second_way(design: Design, member: int) -> str:
    """The letter demanded of a plate of higher strength, PC4, by plain tests; kind: second-method."""
    shapes = design.arrangement.panel_shapes
    points = shapes.samples[member]
    length = float(design.areas.trace["rule_length_m"].value)
    aft = (design.measures.stem_x_m - points[:, 0]) / length
    above = points[:, 2] - design.measures.lower.level.height(points[:, 0])
    kind = str(column(design, "category")[member])
    touched = str(design.plating.labels("touched")[member]).split("+")
    middle = [max(0.0, abs(a - 0.5)) for a in (aft.min(), aft.max())]
    classes = {"secondary": (1, 0, 0), "primary": (2, 0, 0), "special": (3, 2, 1)}[kind]
    own = max(classes[0 if m <= 0.2 else 1 if m <= 0.3 else 2] for m in middle)
    number = max(own, 2 if {"B", "BIi"} & set(touched) else 0)
    number = max(number, 1 if kind != "special" and (aft.min() < 0.3 or aft.max() > 0.7) else 0)
    number = max(number, 2 if kind == "special" and aft.min() <= 0.2 else 0)
    t = float(column(design, "thickness_as_built_mm")[member])
    exposed = {1: [(15, "A"), (40, "D"), (50, "E")], 2: [(10, "A"), (25, "D"), (50, "E")], 3: [(45, "E"), (50, "F")]}
    below = {1: [(40, "A"), (50, "D")], 2: [(25, "A"), (40, "D"), (50, "E")], 3: [(20, "A"), (30, "D"), (50, "E")]}
    found = ["A"]
    for applies, table in ((above.max() >= -0.3, exposed), (above.min() < -0.3, below)):
        if applies:
            found.append(next(letter for upto, letter in table[number] if t <= upto))
    return max(found)


def test_every_plate_by_a_second_way() -> None:
    design = ships.baseline()
    demanded = column(design, "grade_demanded")
    rows = [row for row in range(design.plating.rows) if checked(design)[row]]
    assert len(rows) > 300
    assert {second_way(design, row) for row in rows} >= {"A", "D", "E"}
    for row in rows:
        assert str(demanded[row]) == second_way(design, row) + "H36", design.plating.labels("id")[row]


def test_thickness_is_as_built_of_plates_and_of_the_thicker_part_of_frames() -> None:
    design = ships.baseline()
    plates, frames = design.plating, design.frames
    thickness = column(design, "thickness_as_built_mm")
    assert np.array_equal(thickness[: plates.rows], plates["thickness_as_built_mm"].data, equal_nan=True)
    web, flange = frames["web_as_built_mm"].data, frames["flange_as_built_mm"].data
    own = thickness[plates.rows :]
    known = ~np.isnan(own)
    assert (own[known] >= web[known]).all()
    assert (own[known] == np.where(np.isnan(flange), web, np.maximum(web, flange))[known]).all()
    assert (own[known] > web[known]).any()
    # the slip: net thickness would ask for less somewhere
    assert design.grades_run is not None
    run = design.grades_run.run
    rule = design.rules.grading
    assert rule is not None
    additions = np.where(run.rows.member < plates.rows, 2.5, 1.0)
    net = {**run.values, "thickness_as_built_mm": run.values["thickness_as_built_mm"] - additions}
    slip = rule.chain.run(net)["rank_demanded"]
    assert (slip <= run.values["rank_demanded"]).all()
    assert (slip < run.values["rank_demanded"]).any()


def test_the_design_in_ah36_fails_and_says_so() -> None:
    design = mild()
    outcome, demanded = column(design, "outcome"), column(design, "grade_demanded")
    known = checked(design)
    assert set(np.unique(outcome)) == {"met", "not met", "not checked"}
    assert ((outcome == "met") == (demanded == "AH36"))[known].all()
    assert not design.all_met
    assert ships.baseline().all_met
    told = [f for f in design.findings if f.kind.code == "BW490"]
    assert [f.where for f in told] == ["grades of plating", "grades of frames"]
    plates = int((outcome[: design.plating.rows] == "not met").sum())
    assert told[0].message.startswith(f"{plates} members; worst ")
    assert "asked for EH36 by UR I2 Table 8" in told[0].message
    assert not [f for f in ships.baseline().findings if f.kind.code == "BW490"]


def test_a_member_over_the_level_is_asked_for_the_more_severe() -> None:
    design = ships.baseline()
    position = column(design, "position")
    shapes = design.arrangement.panel_shapes
    above = shapes.samples[:, :, 2] - design.measures.lower.level.height(shapes.samples[:, :, 0].ravel()).reshape(
        shapes.samples.shape[:2]
    )
    for row in np.flatnonzero(checked(design)[: design.plating.rows]):
        high, low = above[row].max() >= -0.3, above[row].min() < -0.3
        assert position[row] == {(True, True): "both", (True, False): "exposed", (False, True): "submerged"}[high, low]
    assert {"both", "exposed", "submerged"} <= set(position[: design.plating.rows])


def test_members_of_one_group_have_one_demand_and_one_cell() -> None:
    design = ships.baseline()
    group = column(design, "group")
    for name in ("kind", "hull_area", "material_class", "grade_demanded", "governing", "position", "standing"):
        for one in np.unique(group):
            assert len(np.unique(column(design, name)[group == one])) == 1


def test_the_cell_named_belongs_to_the_part_that_asks() -> None:
    design = ships.baseline()
    words, position = column(design, "governing").astype(str), column(design, "position")
    below = np.char.startswith(words, "UR S6 Table 7: ")
    assert below[position == "submerged"].all()
    assert not below[position == "exposed"].any()


def test_what_is_not_checked_is_named() -> None:
    design = ships.baseline()
    missing = int((~checked(design)).sum())
    (told,) = [f for f in design.findings if f.kind.code == "BW492"]
    assert told.message == f"{missing} of {design.plating.rows + design.frames.rows} members"
    webs = design.arrangement.frames.labels("role") == "web frame"
    assert not checked(design)[design.plating.rows :][webs].any()
    assert np.isnan(column(design, "ratio")[~checked(design)]).all()


def test_normal_strength_takes_letters_of_its_own() -> None:
    design = ships.redesigned(grades_given("D"))
    demanded = set(column(design, "grade_demanded")[: design.plating.rows]) - {"not checked"}
    assert demanded <= {*LETTERS, "no grade"}
    assert "B" in demanded


def test_too_thick_for_the_table_fails_closed() -> None:
    def thick(doc: ships.Document) -> None:
        doc["plates"] = [{"hull_area": "B", "thickness_as_built_mm": 50.5, "grade": "FH36"}]

    design = ships.redesigned(thick)
    rows = np.flatnonzero(design.plating.labels("hull_area") == "B")
    assert set(column(design, "grade_demanded")[rows]) == {"no grade"}
    assert set(column(design, "outcome")[rows]) == {"not met"}
    (told,) = [f for f in design.findings if f.kind.code == "BW491"]
    assert told.message.startswith(f"{len(rows)} members; worst ")
    assert not design.all_met


def test_the_single_strake_is_used_only_where_declared_and_never_in_silence() -> None:
    used = ships.redesigned(asked(single_strake_width_m=1.8), grades_given("DH36"))
    plain = ships.redesigned(grades_given("DH36"))
    rows = column(used, "single_strake")
    assert rows.any()
    assert not column(plain, "single_strake").any()
    eased = column(used, "grade_demanded") != column(plain, "grade_demanded")
    assert eased.any()
    assert set(column(plain, "grade_demanded")[eased]) == {"EH36"}
    assert set(column(used, "grade_demanded")[eased]) == {"DH36"}
    assert rows[eased].all()
    (told,) = [f for f in used.findings if f.kind.code == "BW493"]
    assert told.message == f"{int(rows.sum())} panels per side in a strake of 1.8 m"
    wide = ships.redesigned(asked(single_strake_width_m=1.9))
    assert not column(wide, "single_strake").any()
    assert [f.kind.code for f in wide.findings if f.kind.code in ("BW493", "BW494")] == ["BW494"]


def test_declared_categories_and_strength_deck() -> None:
    def declared(doc: ships.Document) -> None:
        doc["steel_grades"] = {
            "strength_deck": "deck",
            "categories": [
                {"category": "special", "zone": "side", "to_level": "stringer"},
                {"category": "primary", "hull_area": "nowhere"},
            ],
        }

    design = ships.redesigned(declared)
    z = design.arrangement.panels.values("centroid_z_m")
    side = design.arrangement.panels.labels("zone") == "side"
    low = side & (z < 2.4) & checked(design)[: len(z)]
    assert low.any()
    assert set(column(design, "category")[: len(z)][low]) == {"special"}
    assert [f.where for f in design.findings if f.kind.code == "BW495"] == ["ship.toml: steel_grades.categories[2]"]
    assert design.grades_run is not None
    assert design.grades_run.basis[0].startswith("Strength deck: deck, as given.")
    with pytest.raises(InputError, match=r"ship.toml: steel_grades.strength_deck: no such level; found bridge"):
        ships.redesigned(asked(strength_deck="bridge"))


def test_a_ship_without_deck_or_inner_bottom_says_how_it_was_settled() -> None:
    def stringers(doc: ships.Document) -> None:
        for level in doc["levels"]:
            level["kind"] = "load-carrying stringer"

    given = ships.ship(stringers)
    assert build.rule_set(given.ice.rules) is not None
    from beltwright.arrangement.arrange import arrange
    from beltwright.scantlings.grade_places import grade_places

    places = grade_places(given, ships.measured(), arrange(given, ships.measured().shell))
    assert np.isinf(places.below_strength_deck_m).all()
    assert places.basis[0].startswith("Strength deck: no deck is described")
    assert places.bottom_shell.any()
    assert not places.bottom_shell.all()


def test_a_rule_set_without_rules_on_grades_gives_none() -> None:
    other = replace(POLAR_2019, grading=None)
    from beltwright.core.findings import Findings

    design = build.design_on(ships.ship(), other, ships.measured(), ships.arranged(), Findings(), drawn=False)
    assert design.grades is None
    assert told_grades(design) == ()
    assert any("steel grades; " in f.message for f in design.findings if f.kind.code == "BW447")


def test_the_story_of_one_member_ends_in_its_ranks() -> None:
    ((area, story),) = told_grades(mild())
    assert story.kind == "grade"
    assert "offered AH36: not met" in story.headline
    assert story.results == ("rank_demanded", "rank_offered")
    assert story.trace["rank_demanded"].value > story.trace["rank_offered"].value == 1.0
    assert story.trace["hull_area"].value == area


def test_the_cells_read_are_in_the_list_of_the_design() -> None:
    design = ships.baseline()
    tables = {cell.table for cell in design.cells}
    assert {"UR S6 Table 1", "UR S6 Table 7", "UR I2 Table 7", "UR I2 Table 8", "UR I2 I2.12"} <= tables
    named = set(column(design, "governing")) - {"not checked"}
    assert all(words.startswith(("UR I2 Table 8: ", "UR S6 Table 7: ")) for words in named)
    assert set(column(design, "standing")[checked(design)]) == {"memory"}
