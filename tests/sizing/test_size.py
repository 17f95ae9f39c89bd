"""The small ship sized: every check met, the price weighed a second way, nothing cheaper by one step."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships
from tests.sizing import small

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.scantlings.build import design_on
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.sizing.baseline import by_hull_area, saving
from beltwright.sizing.fit import ask, fit, lay, words
from beltwright.sizing.prices import next_stronger
from beltwright.sizing.problem import price, violations
from beltwright.sizing.size import size
from beltwright.sizing.spacing import respaced
from beltwright.sizing.transitions import transitions
from beltwright.sizing.values import Values
from beltwright.sizing.variants import designed
from beltwright.weights.shellplates import cover_of
from beltwright.weights.steel import steel_weight

pytestmark = pytest.mark.slow
LIGHTEST = SectionStock(ships.ship()).name(int(SectionStock(ships.ship()).candidates[0]))


def test_every_check_of_the_whole_design_is_met() -> None:
    design = small.sized().design
    assert set(design.plating.labels("outcome")) == {"met", "no ice requirement"}
    assert "not met" not in design.frames.labels("outcome")
    assert (design.plating.labels("outcome") == "met").sum() == (
        ships.baseline().plating.labels("outcome") == "met"
    ).sum()
    assert (design.frames.labels("outcome") == "met").sum() == (
        ships.baseline().frames.labels("outcome") == "met"
    ).sum()


def test_the_price_is_the_weight_of_the_design() -> None:
    """kind: second-method. The problem's grams against the weights of panels and spans."""
    made = small.sized()
    assert made.found.finished
    assert made.found.bound == made.found.price == price(made.problem, made.found.solution)
    assert violations(made.problem, made.found.solution) == []
    assert steel_weight(made.design).modelled_t == pytest.approx(made.found.price / 1e6, abs=1e-4)


def test_no_plate_can_be_one_step_thinner_and_no_frame_lighter() -> None:
    """kind: second-method. One plate a step down, nothing else changed: a check fails or the step is too large."""
    made = small.sized()
    problem, solution = made.problem, made.found.solution
    for p, k in enumerate(solution.choices):
        if k == 0:
            continue
        thinner = tuple(k - 1 if n == p else own for n, own in enumerate(solution.choices))
        assert violations(problem, type(solution)(options=solution.options, choices=thinner,
                                                  candidates=solution.candidates))  # fmt: skip


def test_plates_cover_every_panel_once() -> None:
    design = ships.baseline()
    plates = lay(design)
    cover = cover_of(plates, design.arrangement)
    share = np.zeros(design.arrangement.panels.rows)
    np.add.at(share, cover.panel, cover.share)
    assert share == pytest.approx(1.0, abs=1e-9)
    lengths = [shape.bounds[2] - shape.bounds[0] for shape in plates.outlines]
    assert max(lengths) <= design.ship.sizing.plate_length_m + 1e-9
    webs = [trace.expansion[0, 0] for trace in design.arrangement.web_traces]
    butts = {round(shape.bounds[0], 6) for shape in plates.outlines} - {
        round(min(s.bounds[0] for s in plates.outlines), 6)
    }
    assert all(min(abs(butt - web) for web in webs) > 0.05 for butt in butts)


def test_uniform_ships_are_dearer_and_the_saving_adds_up() -> None:
    design = small.with_settings()
    made, uniform = saving(design, small.sized())
    assert made.proved
    assert made.uniform.price >= made.own_plates.price >= made.own_frames.price >= made.sized.price
    assert made.by_plates + made.by_frames + made.by_framing == made.whole
    areas = by_hull_area(design, lay(design))
    assert areas.names == uniform.plates.names
    assert len(areas.names) < len(lay(design).names)


def test_more_freedom_is_never_dearer() -> None:
    own = small.sized().found.price
    assert size(small.with_settings(neighbour_step_mm=None)).found.price <= own
    fewer = size(small.with_settings(most_thicknesses=4))
    assert fewer.found.price >= own
    assert len(set(fewer.laid.thickness_mm[~np.isnan(fewer.laid.thickness_mm)].tolist())) <= 4
    assert fewer.design.all_met == small.sized().design.all_met


def test_other_framing_is_taken_where_it_is_lighter_and_fitted() -> None:
    choice = small.framing(zone="bottom", spacing_m=0.45)
    made = size(small.with_settings(framing=choice))
    assert made.found.price <= small.sized().found.price
    assert made.framing["bottom"] in ("as described", words(choice[0]))
    assert made.framing["side"] == "as described"
    if made.framing["bottom"] != "as described":
        assert next(z.spacing_m for z in made.ship.zones if z.name == "bottom") == 0.45
    assert "not met" not in made.design.plating.labels("outcome")
    again, _, _ = fit(small.with_settings(framing=choice), made.framing, made.laid, made.sections)
    assert again.plating["thickness_as_built_mm"].data.tobytes() == (
        made.design.plating["thickness_as_built_mm"].data.tobytes()
    )


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ({"framing": small.framing(zone="nowhere", spacing_m=0.4)}, "sizing.framing[1].zone: no such zone"),
        ({"framing": small.framing(zone="bottom", spacing_m=0.2)}, "below the least spacing; found 0.2 m"),
        ({"profiles": ("FB50x6",)}, "sizing.profiles: is not in stock; found FB50x6; allowed: sections of the kinds"),
        ({"profiles": (LIGHTEST,)}, "no section in stock meets every check of"),
        ({"frame_depth_most_mm": 50.0}, "no section is left to choose from"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_named(settings: dict[str, object], told: str) -> None:
    with pytest.raises(InputError, match=r".") as caught:
        size(small.with_settings(**settings))
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_same_inputs_give_the_same_answer() -> None:
    again = size(small.with_settings(), candidates=small.asked())
    assert again.found == small.sized().found
    assert again.sections == small.sized().sections
    assert again.laid.thickness_mm.tobytes() == small.sized().laid.thickness_mm.tobytes()


def test_every_change_of_thickness_has_its_taper() -> None:
    """hand: three times the difference; every pair of neighbours of unequal thickness is listed once."""
    made = small.sized()
    table, findings = transitions(made)
    plates, thick = made.laid.plates, made.laid.thickness_mm
    wanted = {
        frozenset((plates.names[a], plates.names[b]))
        for a, b in plates.beside
        if thick[a] != thick[b] and not np.isnan(thick[a] + thick[b])
    }
    rows = [table.row(k) for k in range(table.rows)]
    plate_rows = [row for row in rows if row["kind"] == "thickness"]
    assert {frozenset((str(row["from"]), str(row["to"]))) for row in plate_rows} == wanted
    for row in plate_rows:
        assert row["taper_mm"] == pytest.approx(3.0 * (row["thick_mm"] - row["thin_mm"]))  # type: ignore[operator]
    assert all(finding.kind.code == "BW801" for finding in findings)


def test_the_next_stronger_grade() -> None:
    assert next_stronger("EH36") == "EH40"
    assert next_stronger("A") == "AH32"
    assert next_stronger("B") is None
    both = small.with_settings(plate_grades=("EH36", "EH40"), grade_letters="as given")
    assert ask(both).values.plate_grades == ("EH36", "EH40")


def test_what_the_user_fixed_stays() -> None:
    """hand: one line gives the plates of area Mi at the side, one the longitudinals of the bow bottom; both stay so."""
    plate = {"hull_area": "Mi", "zone": "side", "thickness_as_built_mm": 38.0, "grade": "EH36"}
    section = {"hull_area": "B", "zone": "bottom", "section": "T550x20+200x25"}
    design = ships.redesigned(lambda d: d.update(plates=[plate], frame_sections=[section]))
    made = size(design)
    cover, laid = made.cover, made.laid
    given = np.flatnonzero(
        (made.design.plating.labels("hull_area") == "Mi") & (made.design.plating.labels("zone") == "side")
    )
    touched = np.unique(cover.plate[np.isin(cover.panel, given)])
    assert set(laid.thickness_mm[touched].tolist()) == {38.0}
    assert {taken for (zone, group), taken in made.sections.items() if group.startswith("bottom B ")} == {
        ("T550x20+200x25", "EH36")
    }
    assert "not met" not in made.design.frames.labels("outcome")


def test_the_nearest_section_is_named_with_its_ratio_check_and_place() -> None:
    """kind: second-method. The whole design with that section on that plate gives the span that ratio and check."""
    with pytest.raises(InputError) as caught:
        size(small.with_settings(profiles=(LIGHTEST, "T200x12+75x12")))
    told = str(caught.value)
    found = re.search(
        r"the nearest is (\S+) (\S+) at ([\d.]+) on (\S+) \(([^)]*)\), on plate (\S+) of ([\d.]+) mm", told
    )
    assert found is not None, told
    section, grade, ratio, span, check, plate, thickness = found.groups()
    assert section == "T200x12+75x12"
    assert grade == "EH36"
    design = small.with_settings()
    laid = lay(design)
    cover = cover_of(laid, design.arrangement)
    frames = design.arrangement.frames
    row = frames.labels("id").tolist().index(span)
    beside = {frames["panel_one"].data[row], frames["panel_other"].data[row]}
    assert beside & set(cover.panel[cover.plate == laid.names.index(plate)].tolist())
    panels, spans = design.arrangement.panels.rows, frames.rows
    chosen = Chosen(
        thickness_mm=np.full(panels, float(thickness)), plate_grade=np.full(panels, "EH36"),
        mean_mm=np.full(panels, float(thickness)), section=np.full(spans, section), frame_grade=np.full(spans, "EH36"),
    )  # fmt: skip
    again = design_on(
        design.ship, design.rules, design.measures, design.arrangement, Findings(),
        facts_measured=(dict(design.facts), dict(design.fact_origins)), drawn=False, chosen=chosen,
    )  # fmt: skip
    assert again.frames["ratio"].data[row] == pytest.approx(float(ratio), abs=6e-4)
    assert again.frames.labels("governing")[row] == check


def test_the_nearest_plate_is_named_with_its_ratio() -> None:
    """hand: the plate given is 8 mm; the ratio is what the panel asks for over 8."""
    plate = {"hull_area": "B", "zone": "side", "thickness_as_built_mm": 8.0}
    design = ships.redesigned(lambda d: d.update(plates=[plate]))
    with pytest.raises(InputError) as caught:
        size(design)
    found = re.search(
        r"panel (\S+) asks for ([\d.]+) mm \(.*?\); the nearest is 8 mm EH36 at ([\d.]+)", str(caught.value)
    )
    assert found is not None, str(caught.value)
    panel, asks, ratio = found.groups()
    row = design.plating.labels("id").tolist().index(panel)
    assert float(asks) == pytest.approx(design.plating["thickness_required_mm"].data[row], abs=0.01)
    assert float(ratio) == pytest.approx(float(asks) / 8.0, abs=2e-3)


def test_a_fixed_plate_that_is_too_thin_is_named() -> None:
    plate = {"hull_area": "B", "zone": "side", "thickness_as_built_mm": 8.0}
    design = ships.redesigned(lambda d: d.update(plates=[plate]))
    with pytest.raises(InputError, match=r"no plate in stock meets the plating requirement in zone side with the 8 mm"):
        size(design)


ROUND_PRICES = [
    {"item": "steel", "grade": "EH36", "amount": 900.0},
    {"item": "co2", "grade": "EH36", "amount": 2.1},
    {"item": "plate work", "amount": 2000.0},
    {"item": "frame work", "amount": 3000.0},
    {"item": "plate weld", "amount": 1.6},
    {"item": "plate piece", "amount": 200.0},
    {"item": "bending", "amount": 2.5},
    {"item": "frame weld", "amount": 22.0},
    {"item": "frame piece", "amount": 90.0},
]


def test_cost_is_steel_work_welds_pieces_and_bending_by_hand() -> None:
    """hand: 2 m2 of 20 mm at 900 + 2000 per t; 6 m of edge at 1.6, 2 m2 bent at 2.5 per mm, two plates; 10 m of frame
    at 900 + 3000 per t, 22 per m, 4 spans at 90, on both sides."""

    def values(objective: str, *, second: str = "", **settings: Any) -> Values:
        edit = {"cost": {"prices": ROUND_PRICES}, "sizing": {"objective": objective, **settings}}
        ship = ships.ship(lambda d: d.update(edit))
        return Values(ship, SectionStock(ship), second=second)

    money = values("cost")
    plate = 2.0 * 20.0 * 7.85 * 2.9 + 6.0 * 20.0 * 1.6 + 2.0 * 20.0 * 2.5 + 2 * 200.0
    assert money.plate(20.0, "EH36", 2.0, 6.0, 2.0)[0] == pytest.approx(1000.0 * plate, abs=1.0)
    row = int(money.sections[5])
    kg_per_m = float(SectionStock(ships.ship()).mass_kg_per_m(np.array([row]))[0])
    frames = 2.0 * (10.0 * kg_per_m * 3.9 + 10.0 * 22.0 + 4 * 90.0)
    assert money.frame(row, "EH36", 10.0, 4)[0] == pytest.approx(1000.0 * frames, abs=1.0)
    kg = 2.0 * 20.0 * 7.85
    assert values("co2").plate(20.0, "EH36", 2.0, 6.0, 2.0) == (pytest.approx(kg * 2.1 * 1000.0, abs=1.0), 0)
    mix = {"points_per_t": 100.0, "points_per_money": 0.5, "points_per_t_co2": 80.0}
    points = 100.0 * kg / 1000.0 + 0.5 * plate + 80.0 * 2.1 * kg / 1000.0
    both = values("mix", mix=mix, second="mass").plate(20.0, "EH36", 2.0, 6.0, 2.0)
    assert both == (pytest.approx(1000.0 * points, abs=1.0), pytest.approx(1000.0 * kg))
    with pytest.raises(InputError, match=r"sizing.mix: counts nothing"):
        values("mix", mix=dict.fromkeys(mix, 0.0))
    assert money.unit == "thousandths of EUR"


def test_the_cheapest_ship_is_no_lighter_than_the_lightest() -> None:
    """Both are proved."""
    cheap = size(small.with_settings(objective="cost"))
    assert cheap.found.finished
    assert steel_weight(cheap.design).modelled_t >= small.sized().found.price / 1e6 - 1e-4
    assert "not met" not in cheap.design.plating.labels("outcome")


def test_frames_another_distance_apart() -> None:
    """hand: 0.5 m to 0.4 m on a hull from -1.5 to 51.9 m: frames -4 to 130, 13 becomes 16, webs stay 2.0 m apart."""
    design = ships.baseline()
    closer = respaced(design.ship, 0.4, (-1.5, 51.9), "ship.toml: sizing")
    assert [(line.from_frame, line.to_frame) for line in closer.frames] == [(-4.0, 130.0)]
    assert next(z.from_frame for z in closer.zones if z.name == "bottom") == 16.0
    assert next(z.to_frame for z in closer.zones if z.name == "side") == 130.0
    assert {zone.web_frame_spacing_m for zone in closer.zones} == {2.0}
    bounds = design.measures.shell.bounds
    ends = float(bounds[0, 0]), float(bounds[1, 0])
    made = designed(design, respaced(design.ship, 0.4, ends, "ship.toml: sizing"))
    assert made.arrangement.panels.rows > design.arrangement.panels.rows
    assert made.measures is design.measures
    same = designed(design, respaced(design.ship, 0.5, ends, "ship.toml: sizing")).plating
    assert same["thickness_required_mm"].data.tobytes() == design.plating["thickness_required_mm"].data.tobytes()
    with pytest.raises(InputError, match=r"below the least spacing; found 0.2 m"):
        respaced(design.ship, 0.2, (-1.5, 51.9), "ship.toml: sizing")
