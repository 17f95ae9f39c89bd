"""Faults in what the user writes or hands over: units, waterlines, origins, classes, sections, files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import numpy as np
from tests.faults.catch import Fault
from tests.scantlings import ships

from beltwright.arrangement.arrange import arrange
from beltwright.core.findings import Findings
from beltwright.hull.detect import HullSettings, place
from beltwright.hull.hydrostatics import Floating
from beltwright.hull.patch import Patch, RawHull, mapped
from beltwright.hull.placing import PlacedHull
from beltwright.rules.registry import rule_set
from beltwright.scantlings.measure import angle_columns, check_rule_class, measure_hull, station_angles
from beltwright.scantlings.ship_facts import ship_facts
from beltwright.scantlings.waterlines import ice_waterlines
from beltwright.ship.loading import LoadingCase
from beltwright.ship.parse import parse_ship
from beltwright.store.folder import ShipFolder

Document = dict[str, Any]
Edit = Callable[[Document], object]

RULES = rule_set("polar_iacs_2019")


def written(edit: Edit) -> Callable[[bool], object]:
    """Read the description, with or without the edit."""
    return lambda fault: parse_ship(ships.edited(edit) if fault else ships.document()).ship.name


def arranged(edit: Edit) -> Callable[[bool], object]:
    """Read and arrange."""
    return lambda fault: arrange(ships.ship(edit), ships.measured().shell) if fault else ships.arranged()


def designed(edit: Edit) -> Callable[[bool], object]:
    """Design with an edit that leaves hull and arrangement alone."""
    return lambda fault: ships.redesigned(edit) if fault else ships.baseline()


def measured(edit: Edit, control: Edit | None = None) -> Callable[[bool], object]:
    """Measure the hull on its waterlines."""

    def attempt(fault: bool) -> object:
        changes = [edit] if fault else [control] if control else []
        findings = Findings()
        measure_hull(ships.ship(*changes), (), ships.placed(), findings)
        return tuple(findings)

    return attempt


def section(name: str, **values: Any) -> Edit:
    """Set keys of a section of the description."""
    return lambda doc: doc.setdefault(name, {}).update(values)


def level(number: int, **values: Any) -> Edit:
    """Set keys of a level."""
    return lambda doc: doc["levels"][number].update(values)


def zone(number: int, **values: Any) -> Edit:
    """Set keys of a framing zone."""
    return lambda doc: doc["zones"][number].update(values)


def plates(**values: Any) -> Edit:
    """Give one plate line."""
    return lambda doc: doc.update(plates=[values])


def frame_sections(**values: Any) -> Edit:
    """Give one frame line."""
    return lambda doc: doc.update(frame_sections=[values])


def swapped_waterlines(doc: Document) -> None:
    """The lower ice waterline in the place of the upper one, as when the wrong displacement is taken."""
    lines = doc["waterlines"]
    lines["upper"], lines["lower"] = lines["lower"], lines["upper"]


def trimmed_over(doc: Document) -> None:
    """An even-keel upper line over a ballast line that is trimmed above it at the stern."""
    doc["waterlines"]["lower"] = [{"x_m": 0.0, "draught_m": 4.0}, {"x_m": 47.5, "draught_m": 2.8}]


def stringer_twice(doc: Document) -> None:
    """One stringer told as load-carrying and, at the same height, as load-distributing."""
    doc["levels"].append({"name": "stringer again", "kind": "load-distributing stringer", "height_m": 2.4})


def deck_distributes(doc: Document) -> None:
    """A framing zone that ends at a stringer which does not hold frames."""
    doc["levels"][3]["kind"] = "load-distributing stringer"
    doc["zones"][0]["to_level"] = "upper stringer"


def one_case(doc: Document) -> None:
    """Loading cases given, and the even-keel line left in place beside them."""
    doc["waterlines"] |= {"loading_cases": "cases.csv"}


CASES = (
    LoadingCase(case="departure", x_aft_m=0.0, draught_aft_m=3.7, x_mid_m=23.75, draught_mid_m=3.85, x_fore_m=47.5,
                draught_fore_m=3.7, density_t_m3=1.025, use="upper"),
    LoadingCase(case="ballast", x_aft_m=0.0, draught_aft_m=3.4, x_mid_m=23.75, draught_mid_m=3.3, x_fore_m=47.5,
                draught_fore_m=3.2, density_t_m3=1.005, use="lower"),
)  # fmt: skip


def even_keel_beside_cases(fault: bool) -> object:
    """The even-keel line is used although the loading cases say otherwise."""
    if fault:
        return ice_waterlines(ships.ship(one_case), CASES, ships.measured().shell)
    return ice_waterlines(ships.ship(one_case, section("waterlines", upper=[], lower=[])), CASES,
                          ships.measured().shell)  # fmt: skip


def unit_label(fault: bool) -> object:
    """A file drawn in millimetres whose header says metres."""
    return place(file_of(tuple(scaled(patch, 1000.0) for patch in ships.patches()))) if fault else well_placed()


def unit_silent(fault: bool) -> object:
    """A file that states no unit."""
    return place(replace(file_of(ships.patches()), length_unit=None)) if fault else well_placed()


def scaled(patch: Patch, factor: float) -> Patch:
    """A face in another unit."""
    return mapped(patch, np.diag([factor, factor, factor, 1.0]))


def moved(*, turn: bool = False, shift_m: float = 0.0, mirror: bool = False) -> tuple[Patch, ...]:
    """The hull with x turned round, moved along, or on starboard."""
    matrix = np.diag([-1.0 if turn else 1.0, -1.0 if mirror else 1.0, 1.0, 1.0])
    matrix[0, 3] = shift_m
    return tuple(mapped(patch, matrix) for patch in ships.patches())


def placed(faces: Callable[[], tuple[Patch, ...]], settings: HullSettings | None = None) -> Callable[[bool], object]:
    """Place the hull's file, or the file as it should be."""

    def attempt(fault: bool) -> object:
        return place(file_of(faces()), settings) if fault else well_placed()

    return attempt


def file_of(faces: tuple[Patch, ...]) -> RawHull:
    """What a reader hands over of a file in metres."""
    return RawHull(patches=faces, length_unit="m", source="hull.step", format="step")


@cache
def well_placed() -> PlacedHull:
    """The file as it should be, placed without any answer of the user."""
    return place(file_of(ships.patches()))


def fore_aft_symmetric() -> tuple[Patch, ...]:
    """A hull whose ends are alike: the fore body and its mirror image."""
    return (*ships.patches()[:1], *(mapped(patch, np.diag([-1.0, 1.0, 1.0, 1.0])) for patch in ships.patches()[:1]))


def lopsided() -> tuple[Patch, ...]:
    """Port and starboard that differ in breadth by 4 %."""
    return (*ships.patches(), *(mapped(patch, np.diag([1.0, -0.96, 1.0, 1.0])) for patch in ships.patches()))


def rule_length(rudder_x_m: float, origin_shift_m: float = 0.0) -> Callable[[bool], object]:
    """Facts, areas and loads with a rudder stock or an origin in the wrong place."""

    def attempt(fault: bool) -> object:
        faces = moved(shift_m=origin_shift_m) if fault else ships.patches()
        x = rudder_x_m if fault else 0.0
        given = ships.ship(section("propulsion", rudder_stock_x_m=x))
        findings = Findings()
        measures = measure_hull(given, (), ships.placed(faces), findings)
        facts, _ = ship_facts(given, measures, findings, RULES.facts)
        areas = RULES.areas(facts, ())
        angles = angle_columns(station_angles(measures, RULES.stations(areas)))
        return RULES.loads(facts, areas, angles, ())

    return attempt


def stale_result(fault: bool) -> object:
    """A result kept after a crane of 8 t came aboard: is it still this ship's?"""
    then = ShipFolder(path=ships.FOLDER, ship=ships.ship(), loading_cases=())
    heavier = section("water", shell_and_appendages_t=14.0)
    now = ShipFolder(path=ships.FOLDER, ship=ships.ship(heavier) if fault else ships.ship(), loading_cases=())
    same = then.inputs_fingerprint("0" * 64) == now.inputs_fingerprint("0" * 64)
    return "the inputs' hash is the same" if same else "the inputs' hash differs"


def signed(edit: Edit, control: Edit) -> Callable[[bool], object]:
    """The check of class and edition against the description."""

    def attempt(fault: bool) -> object:
        findings = Findings()
        check_rule_class(RULES, ships.ship(edit if fault else control), findings)
        return tuple(findings)

    return attempt


def displaced(fault: bool) -> object:
    """The lower waterline's displacement is meant; what does the design use?"""
    upper = ships.measured().upper
    if fault:
        return parse_ship(ships.edited(section("water", displacement_kt=0.95)))
    return f"{Floating(ships.measured().shell).at(upper.level).volume_m3:.0f} m3"


INPUT_FAULTS = (
    Fault(slip="E1", injected="density 1025 (kg/m3) for 1.025 t/m3", how="refused",
          sign="water.density_t_m3", attempt=written(section("water", density_t_m3=1025.0))),
    Fault(slip="E1", injected="allowance for shell and appendages 6000 (kg) for 6 t", how="refused",
          sign="water.shell_and_appendages_t", attempt=written(section("water", shell_and_appendages_t=6000.0))),
    Fault(slip="E1", injected="allowance 400 (kg) for 0.4 t, a third of this ship", how="refused",
          sign="not plausible", attempt=measured(section("water", shell_and_appendages_t=400.0))),
    Fault(slip="E1", injected="allowance 70 t for 7.0 t, a twentieth of this ship", how="named",
          sign="BW433", attempt=measured(section("water", shell_and_appendages_t=70.0))),
    Fault(slip="E1", injected="hull drawn in millimetres, its file says metres", how="refused",
          sign="BW121", attempt=unit_label),
    Fault(slip="E1", injected="hull file that states no unit", how="refused", sign="BW120", attempt=unit_silent),
    Fault(slip="E2", injected="angle of oblique frames in radians, 0.785 for 45 degrees", how="refused",
          sign="oblique_angle_deg", attempt=written(zone(0, orientation="oblique", oblique_angle_deg=0.785))),
    Fault(slip="E6", injected="rudder stock measured from the stem (46.3 m) for from the AP (1.2 m)", how="named",
          sign="BW401", attempt=rule_length(46.3)),
    Fault(slip="E6", injected="origin 1 m off the AP", how="named", sign="BW401", attempt=rule_length(0.0, -1.0)),
    Fault(slip="E6", injected="length between perpendiculars typed in as the rule length", how="refused",
          sign="unknown key", attempt=written(section("propulsion", rule_length_m=47.5))),
    Fault(slip="E7", injected="displacement of another waterline typed in", how="not possible",
          sign="unknown key", attempt=displaced),
    Fault(slip="E7", injected="lower ice waterline's draughts for the upper one's and the other way round",
          how="refused", sign="lies above the upper ice waterline", attempt=measured(swapped_waterlines)),
    Fault(slip="E8", injected="8 t more displacement after the result was made", how="named",
          sign="hash differs", attempt=stale_result),
    Fault(slip="E9", injected="class PC8, outside the list", how="refused", sign="PC8",
          attempt=signed(section("ice", ice_class="PC8"), section("ice", ice_class="PC4"))),
    Fault(slip="E9", injected="class of another document, IA", how="refused", sign="IA",
          attempt=signed(section("ice", ice_class="IA"), section("ice", ice_class="PC4"))),
    Fault(slip="E9", injected="plate given for hull area BI, which is none", how="named", sign="BW443",
          attempt=lambda fault: ships.redesigned(
              plates(hull_area="BI" if fault else "BIi", thickness_as_built_mm=30.0))),
    Fault(slip="E10", injected="hull file with x growing aft", how="named", sign="BW124",
          attempt=placed(lambda: moved(turn=True))),
    Fault(slip="E10", injected="hull alike at both ends, so that nothing says which is the bow", how="refused",
          sign="BW123", attempt=placed(fore_aft_symmetric)),
    Fault(slip="E10", injected='x_direction = "aft" stated for a hull that looks forward', how="named", sign="BW135",
          attempt=placed(ships.patches, HullSettings(x_direction="aft"))),
    Fault(slip="E10", injected="hull file with its origin at the stem", how="refused", sign="BW125",
          attempt=placed(lambda: moved(shift_m=-47.5))),
    Fault(slip="E10", injected="starboard half handed over as the hull", how="named", sign="BW127",
          attempt=placed(lambda: moved(mirror=True))),
    Fault(slip="E10", injected="whole hull whose sides differ by 4 % of the breadth", how="named", sign="BW129",
          attempt=placed(lopsided)),
    Fault(slip="E12", injected="a stringer told as both kinds in one word", how="refused", sign="levels[2].kind",
          attempt=written(level(1, kind="load-carrying and load-distributing stringer"))),
    Fault(slip="E12", injected="a stringer told twice, once as each kind, for both credits", how="refused",
          sign="lies on", attempt=arranged(stringer_twice)),
    Fault(slip="E12", injected="frames ending at a load-distributing stringer", how="refused",
          sign="zones[1].to_level", attempt=arranged(deck_distributes)),
    Fault(slip="E12", injected="span reduced by 0.3 m for brackets of 0.2 m", how="refused", sign="span_reduction_m",
          attempt=arranged(zone(0, lower_end={"fixed": True, "bracket_m": 0.2, "span_reduction_m": 0.3}))),
    Fault(slip="E13", injected="effective plate width typed in", how="not possible", sign="unknown key",
          attempt=written(zone(0, effective_breadth_mm=500.0))),
    Fault(slip="E14", injected="an (elastic) section modulus typed in for a section", how="not possible",
          sign="unknown key", attempt=written(frame_sections(section="T300x15+100x18", section_modulus_cm3=900.0))),
    Fault(slip="E16", injected="net thickness given for as built", how="refused", sign="unknown key",
          attempt=written(plates(thickness_net_mm=22.0))),
    Fault(slip="E16", injected="no corrosion deduction from frames", how="refused", sign="frame_corrosion_mm",
          attempt=written(section("stock", frame_corrosion_mm=0.0))),
    Fault(slip="E17", injected="yield stress typed in beside the grade", how="not possible", sign="unknown key",
          attempt=written(section("steel", yield_mpa=460.0))),
    Fault(slip="E17", injected="grade EH38, which no table has", how="refused", sign="no such hull steel grade",
          attempt=designed(section("steel", plate_grade="EH38"))),
    Fault(slip="E18", injected="a force typed in, in whatever unit", how="not possible", sign="unknown key",
          attempt=written(section("ice", bow_force_kn=7100.0))),
    Fault(slip="E19", injected="even-keel upper line while the ballast line trims above it", how="refused",
          sign="lies above the upper ice waterline", attempt=measured(trimmed_over)),
    Fault(slip="E19", injected="even-keel lines kept beside a table of trimmed and hogged loading cases",
          how="refused", sign="given twice", attempt=even_keel_beside_cases),
    Fault(slip="E19", injected="propeller tips at 3.6 m above a lower ice waterline at 3.4 m", how="named",
          sign="BW431", attempt=measured(section("propulsion", propeller_x_m=1.0, propeller_top_m=3.6),
                                         section("propulsion", propeller_x_m=1.0, propeller_top_m=3.2))),
    Fault(slip="E19", injected="propeller left out of the description", how="named", sign="BW430",
          attempt=measured(lambda doc: None, section("propulsion", propeller_x_m=1.0, propeller_top_m=3.2))),
    Fault(slip="E24", injected="bulb flat HP241x11, which is not rolled", how="refused", sign="no such bulb flat",
          attempt=lambda fault: ships.redesigned(
              frame_sections(zone="side", section="HP241x11" if fault else "HP240x11"))),
    Fault(slip="E25", injected="plate given for frames 190 to 195 of an older frame table",
          how="named", sign="BW443", attempt=designed(plates(from_frame=190.0, to_frame=195.0,
                                                             thickness_as_built_mm=30.0))),
    Fault(slip="E26", injected="rule set of another edition, polar_iacs_2011", how="refused",
          sign="no such rule set", attempt=lambda fault: rule_set(
              "polar_iacs_2011" if fault else "polar_iacs_2019").id),
    Fault(slip="E26", injected="contract of 2019 under an edition for contracts from 2021", how="named", sign="BW434",
          attempt=signed(section("ship", contract_date=date(2019, 6, 1)),
                         section("ship", contract_date=date(2023, 6, 1)))),
)  # fmt: skip
