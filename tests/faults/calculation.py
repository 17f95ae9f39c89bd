"""Faults in the calculation itself: units of columns, angles, steps left out or taken twice, spans and spacings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from tests.faults.catch import Fault
from tests.scantlings import ships

from beltwright.core.chain import Chain, Quantity, Step
from beltwright.core.units import FloatArray, Unit
from beltwright.rules.polar_iacs_2019.grades import GRADING_CHAIN
from beltwright.rules.polar_iacs_2019.load_chains import OTHER_CHAIN, SHIP_CHAIN, design_chain, standard_chain
from beltwright.rules.polar_iacs_2019.members import FRAMING_CHAIN, PLATING_CHAIN
from beltwright.rules.polar_iacs_2019.tables import AREA_FACTORS, AREA_FACTORS_GENERAL
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_frame, explain_panel
from beltwright.scantlings.fingerprint import result_fingerprint
from beltwright.scantlings.measure import angle_columns, check_identities
from beltwright.scantlings.members import chain_inputs
from beltwright.scantlings.offered import check_offered
from beltwright.scantlings.submitted import parse_submission


def retold(chain: Chain, name: str, unit: str) -> Callable[[bool], object]:
    """Make a chain anew whose input ``name`` comes in ``unit``, or in its own."""

    def attempt(fault: bool) -> object:
        inputs = [replace(q, unit=Unit(unit)) if fault and q.name == name else q for q in chain.inputs.values()]
        return Chain(chain.name, inputs, chain.steps).name

    return attempt


def without(chain: Chain, output: str) -> Callable[[bool], object]:
    """Make a chain anew that leaves a step out."""
    return lambda fault: (
        Chain(
            chain.name, list(chain.inputs.values()), [s for s in chain.steps if not (fault and s.output == output)]
        ).name
    )


def twice(chain: Chain, output: str) -> Callable[[bool], object]:
    """Make a chain anew that takes a step twice."""

    def attempt(fault: bool) -> object:
        steps: list[Step] = []
        for step in chain.steps:
            steps += [step, step] if fault and step.output == output else [step]
        return Chain(chain.name, list(chain.inputs.values()), steps).name

    return attempt


def fed_twice(chain: Chain, output: str, unit: str) -> Callable[[bool], object]:
    """Make a chain anew that is also given what it calculates itself."""

    def attempt(fault: bool) -> object:
        extra = [Quantity(name=output, symbol="p", unit=Unit(unit), meaning="own value")] if fault else []
        return Chain(chain.name, [*chain.inputs.values(), *extra], chain.steps).name

    return attempt


def angles_with(change: Callable[[dict[str, FloatArray]], dict[str, FloatArray]]) -> Callable[[bool], object]:
    """Check the angles of the four stations, changed or as measured."""

    def attempt(fault: bool) -> object:
        columns = angle_columns(ships.baseline().stations)
        check_identities(columns | change(columns) if fault else columns)
        return "the angles belong to one surface"

    return attempt


def all_radians(columns: dict[str, FloatArray]) -> dict[str, FloatArray]:
    return {name: np.radians(columns[name]) for name in columns if name.endswith("_deg")}


def displacement_in_tonnes(fault: bool) -> object:
    """The loads with D in tonnes."""
    design = ships.baseline()
    kt = design.facts["displacement_upper_kt"]
    facts = {**design.facts, "displacement_upper_kt": kt * 1000.0 if fault else kt}
    return design.rules.loads(facts, design.areas, angle_columns(design.stations), ())


def floors(fault: bool) -> object:
    """The loads of a ship below the floors of displacement, and of one above them."""
    design = ships.baseline()
    facts = {**design.facts, "displacement_upper_kt": np.array([4.4 if fault else 12.0])}
    return design.rules.loads(facts, design.areas, angle_columns(design.stations), ())


def stations_from_the_perpendicular(fault: bool) -> object:
    """The loads with angles read half a metre too far aft, as from a perpendicular that is not the stem at UIWL."""
    design = ships.baseline()
    columns = angle_columns(design.stations)
    columns["aft_of_stem_m"] = columns["aft_of_stem_m"] + (0.5 if fault else 0.0)
    return design.rules.loads(design.facts, design.areas, columns, ())


def one_station(fault: bool) -> object:
    """The bow's patch from the force, line load and pressure of one sub-region."""
    trace = ships.baseline().loads.traces["design"]
    chain = design_chain(bulb=False)
    given = [name for name in chain.inputs if not fault or "_2_" in name]
    return str(chain.run({name: np.array([trace[name].value]) for name in given})["bow_patch_width_m"])


def unknown_area(fault: bool) -> object:
    """The area factor of an area that the class table does not have."""
    return str(AREA_FACTORS.cell("general", "PC4", "BI" if fault else "BIi").value)


def _frame(design: Design, *, bow: bool) -> str:
    """A main frame of the bay above the stringer, at the bow or where the side is upright and parallel."""
    frames = design.arrangement.frames
    x, main = frames.values("x_m"), frames.labels("role") == "main frame"
    where = (x > 40.0) if bow else (np.abs(x - 22.0) < 1.0)
    return str(frames.labels("id")[main & where & (frames.labels("lower_level") == "stringer")][0])


def spacing_along_the_axis(fault: bool) -> object:
    """Frames are given 0.500 m apart along the axis: what enters the formula at the bow, and on the parallel side?"""
    design = ships.baseline()
    panels = design.arrangement.panels
    x = panels.values("centroid_x_m")
    upright = panels.labels("lower_level") == "stringer"
    where = (x > 40.0) if fault else (np.abs(x - 22.0) < 1.0)
    panel = int(np.flatnonzero(upright & where)[0])
    told = explain_panel(design, str(panels.labels("id")[panel]))
    used, axis = float(told.trace["spacing_m"].value), float(panels["spacing_axis_m"].data[panel])
    beside = f"({axis:.3f} m along the ship's axis)"
    assert beside in told.trace["spacing_m"].origin
    return "the shell's spacing is used, the axis' is shown" if used > 1.01 * axis else "both are the same"


def span_by_height(fault: bool) -> object:
    """Levels are 1.400 m apart in height: what span enters at the bow, and on the upright side?"""
    design = ships.baseline()
    span = float(explain_frame(design, _frame(design, bow=fault)).trace["span_m"].value)
    return "the span follows the shell" if span > 1.01 * 1.4 else "span and height are the same"


def web_upright(fault: bool) -> object:
    """A frame's web stands in the transverse plane: is its angle to the shell taken at the bow?"""
    design = ships.baseline()
    trace = explain_frame(design, _frame(design, bow=fault)).trace
    angle = float(trace["web_angle_used_deg"].value)
    return "the web's angle is taken" if angle < 90.0 else "the web counts as upright"


def simple_support(fault: bool) -> object:
    """Frames simply supported inside the ice belt."""
    if not fault:
        return ships.baseline()
    loose = {"fixed": False}
    return ships.designed(lambda doc: doc["zones"][0].update(upper_end=loose))


def forgotten_protection(fault: bool) -> object:
    """The line about the coating is left out."""
    design = ships.redesigned(lambda doc: doc.pop("effective_protection")) if fault else ships.baseline()
    panel = str(design.plating.labels("id")[int(design.plating_run.members[0])])
    return str(explain_panel(design, panel).trace["protection"].value)


def above_ordinary_steel(fault: bool) -> object:
    """Frames of a steel above the ordinary levels."""
    return ships.redesigned(lambda doc: doc["steel"].update(frame_grade="EH460")) if fault else ships.baseline()


def column_of_another_class(fault: bool) -> object:
    """The area factor of BIi in PC4 read from the column of PC6."""
    design = ships.baseline()
    before = result_fingerprint(design, "0" * 64)
    place = ("PC4", "BIi")
    right = AREA_FACTORS_GENERAL.cells[place]
    try:
        AREA_FACTORS_GENERAL.cells[place] = replace(right, value=1.0) if fault else right
        after = ships.redesigned()
        same = result_fingerprint(after, "0" * 64) == before
        return "the result's hash is the same" if same else "the result's hash differs"
    finally:
        AREA_FACTORS_GENERAL.cells[place] = right


def overwritten(fault: bool) -> object:
    """A requirement of the table written over by hand, a tenth of a millimetre less; then its story is asked for."""
    design = ships.baseline()
    run = design.plating_run
    name, row = design.rules.plating.result, int(run.governing[0])
    numbers = run.values[name].copy()
    numbers[row] -= 0.1 if fault else 0.0
    changed = replace(design, plating_run=replace(run, values={**run.values, name: numbers}))
    return explain_panel(changed, str(design.plating.labels("id")[int(run.members[0])])).headline


def grade_of_the_net_thickness(fault: bool) -> object:
    """A drawing's bow plate of 26 mm as built, 23.5 mm net: class II asks for EH from 25 mm on, DH below it."""
    design = ships.baseline()
    plates, grades = design.plating, design.grades
    assert grades is not None
    light = (plates.labels("hull_area") == "B") & (plates["thickness_required_mm"].data <= 25.5)
    row = int(np.flatnonzero(light & (grades.labels("position")[: plates.rows] == "exposed"))[0])
    assert 26.0 - float(design.plating["addition_mm"].data[row]) == 23.5
    header, grade = "kind,mark,member,thickness_mm,grade", "DH36" if fault else "EH36"
    text = f"{header}\nplate,P1,{design.plating.labels('id')[row]},26.0,{grade}\n"
    check = check_offered(design, parse_submission(text, "list.csv"))
    return [str(one) for one in check.discrepancies if one.line == 2]


def net_thickness_fed(fault: bool) -> object:
    """The chain of steel grades fed with a net thickness, as the chains of strength are."""
    given = {name: np.array([0.0]) for name in GRADING_CHAIN.inputs}
    if fault:
        given["thickness_net_mm"] = given.pop("thickness_as_built_mm")
    return str(sorted(chain_inputs(GRADING_CHAIN, {}, given)))


CALCULATION_FAULTS = (
    Fault(slip="E1", injected="displacement in tonnes given to the loads", how="refused", sign="kilotonnes",
          attempt=displacement_in_tonnes),
    Fault(slip="E1", injected="a chain fed with displacement in t", how="not possible", sign="[t]",
          attempt=retold(SHIP_CHAIN, "displacement_upper_kt", "t")),
    Fault(slip="E2", injected="a chain fed with angles in radians", how="not possible", sign="[rad]",
          attempt=retold(standard_chain(1), "alpha_1_deg", "rad")),
    Fault(slip="E2", injected="the four angles of every station in radians", how="refused",
          sign="do not belong to one surface", attempt=angles_with(all_radians)),
    Fault(slip="E3", injected="beta measured from the horizontal", how="refused", sign="do not belong to one surface",
          attempt=angles_with(lambda c: {"beta_deg": 90.0 - c["beta_deg"]})),
    Fault(slip="E3", injected="gamma measured from the vertical", how="refused", sign="do not belong to one surface",
          attempt=angles_with(lambda c: {"gamma_deg": 90.0 - c["gamma_deg"]})),
    Fault(slip="E4", injected="beta in the place of the normal frame angle beta'", how="refused",
          sign="do not belong to one surface", attempt=angles_with(lambda c: {"beta_prime_deg": c["beta_deg"]})),
    Fault(slip="E5", injected="force, line load and pressure of one sub-region for the bow", how="not possible",
          sign="KeyError", attempt=one_station),
    Fault(slip="E6", injected="angles read half a metre aft of the sub-regions' middles", how="refused",
          sign="not those of the middles", attempt=stations_from_the_perpendicular),
    Fault(slip="E9", injected="area factor looked up for BI, which is no hull area", how="refused",
          sign="no such", attempt=unknown_area),
    Fault(slip="E9", injected="area factor of BIi in PC4 taken from the column of PC6", how="named",
          sign="hash differs", attempt=column_of_another_class),
    Fault(slip="E28", injected="a requirement written over by hand, 0.1 mm less", how="refused", sign="traced",
          attempt=overwritten),
    Fault(slip="E9b", injected="a ship of 4.4 kt, below both floors", how="named", sign="BW402", attempt=floors),
    Fault(slip="E11", injected="spacing along the ship's axis meant for the formula, at the bow",
          how="not possible", sign="the shell's spacing is used", attempt=spacing_along_the_axis),
    Fault(slip="E12", injected="height between levels meant for the span, at the bow", how="not possible",
          sign="the span follows the shell", attempt=span_by_height),
    Fault(slip="E12", injected="frames simply supported inside the ice belt", how="named", sign="BW446",
          attempt=simple_support),
    Fault(slip="E13", injected="the step of the effective plate width left out", how="not possible",
          sign="reads own_modulus_cm3", attempt=without(FRAMING_CHAIN, "own_modulus_cm3")),
    Fault(slip="E14", injected="the web's angle to the shell left out", how="not possible",
          sign="the web's angle is taken", attempt=web_upright),
    Fault(slip="E15", injected="peak pressure factor of plating left out", how="not possible",
          sign="reads plating_peak_transverse", attempt=without(PLATING_CHAIN, "plating_peak_transverse")),
    Fault(slip="E15", injected="peak pressure factor of frames left out", how="not possible",
          sign="reads frame_peak_transverse", attempt=without(FRAMING_CHAIN, "frame_peak_transverse")),
    Fault(slip="E16", injected="corrosion addition left out", how="not possible", sign="reads addition_mm",
          attempt=without(PLATING_CHAIN, "addition_mm")),
    Fault(slip="E16", injected="corrosion addition taken twice", how="not possible", sign="given twice",
          attempt=twice(PLATING_CHAIN, "addition_mm")),
    Fault(slip="E16", injected="effective_protection forgotten in the description", how="named", sign="unprotected",
          attempt=forgotten_protection),
    Fault(slip="E17", injected="frames of 460 MPa", how="named", sign="BW311", attempt=above_ordinary_steel),
    Fault(slip="E27", injected="net thickness in the place of the as-built one behind a grade", how="not possible",
          sign="nobody gives thickness_as_built_mm", attempt=net_thickness_fed),
    Fault(slip="E27", injected="a drawing's grade chosen by the net thickness of a bow plate", how="named",
          sign="BW735", attempt=grade_of_the_net_thickness),
    Fault(slip="E18", injected="a chain fed with force in kN", how="not possible", sign="[kN]",
          attempt=retold(design_chain(bulb=False), "force_1_mn", "kN")),
    Fault(slip="E18", injected="a chain fed with pressure in kN/m2", how="not possible", sign="[kN/m2]",
          attempt=retold(PLATING_CHAIN, "bow_pressure_mpa", "kN/m2")),
    Fault(slip="E21", injected="area factor taken twice", how="not possible", sign="given twice",
          attempt=twice(PLATING_CHAIN, "area_factor")),
    Fault(slip="E21", injected="a pressure after the area factor given in place of the chain's own",
          how="not possible", sign="given twice", attempt=fed_twice(PLATING_CHAIN, "pressure_mpa", "MPa")),
    Fault(slip="E21", injected="the class displacement factor taken for a plain number", how="not possible",
          sign="[-]", attempt=retold(OTHER_CHAIN, "displacement_factor", "-")),
)  # fmt: skip
