"""A sizing for the reader: on the terminal, as tables, as certificate, and on printed pages with the plates drawn."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files

import numpy as np
import shapely

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.plate_comparison import PlateShape, PlateView, plate_comparison
from beltwright.report.markup import bullets, figure, grid_table, heading, paragraph
from beltwright.report.numbers import fixed
from beltwright.report.tables import csv_text
from beltwright.sizing.arrangements import Outcome
from beltwright.sizing.baseline import Saving
from beltwright.sizing.certificate import Certificate, Verdict, to_text
from beltwright.sizing.prices import Freed
from beltwright.sizing.problem import Problem
from beltwright.sizing.size import Sized
from beltwright.sizing.study import Study

TITLE = "Least structure"
NO_PLATE = "not sized: nothing is asked of it"
STATED = (
    "Every plate and section was found by the rule set's own functions and then checked by the whole design; the price "
    "is the least for the choices that were given, and the bound is proved by the solver.",
    "Plates are laid by the program: seams in the middle of a bay, butts a quarter of a spacing forward of a frame and "
    "off web frames. A plate's thickness and grade hold for all panels it covers.",
    "Web frames, stringers and the hull girder are not in the sizing; what they need may change plates and frames.",
    "Prices of steel and work are the user's; those marked assumed are only an example.",
)


def amount(value: int, unit: str) -> str:
    """Return a price in words: tonnes for grams, whole money for thousandths."""
    if unit.startswith("g"):
        return f"{fixed(value / 1e6, 2)} t{unit[1:]}"
    return f"{fixed(value / 1e3, 0)} {unit.split('of ', 1)[1]}"


def sizing_lines(study: Study) -> Iterator[str]:
    """Yield the sizing for the terminal."""
    sized, saving = study.sized, study.saving
    unit, found = sized.problem.unit, sized.found
    ship = sized.design.ship
    yield f"{ship.ship.name}, {sized.design.rules.documents[-1].short} {ship.ice.ice_class}: {TITLE.lower()}"
    yield ""
    state = "proved least" if found.finished else f"stopped early, gap {100.0 * found.gap:.2f} %"
    told = f"{amount(found.price, unit)} ({state}; bound {amount(found.bound, unit)})"
    yield f"{_what(sized)}, both sides: {told}"
    if sized.supports:
        yield f"  of that web frames and stringers as given: {amount(sized.supports, unit)}"
    if len(sized.outcomes) > 1:
        yield f"  arrangement: {'; '.join(sized.arrangement) or 'as described'}"
    for zone, option in sized.framing.items():
        yield f"  {zone}: {option}"
    yield f"one thickness and profile for each hull area, at its best: {amount(saving.uniform.price, unit)}"
    for words, value in _causes(saving):
        yield f"  {words}: {amount(value, unit)} less"
    if saving.supports_less:
        yield f"    of that web frames and stringers as given: {amount(saving.supports_less, unit)} less"
    yield f"saved in all: {amount(saving.whole, unit)}{'' if saving.proved else ' (not all proved)'}"
    yield from loop_sentences(study)
    if len(sized.outcomes) > 1:
        yield ""
        yield "Arrangements to choose from:"
        for outcome in sized.outcomes:
            yield f"  {outcome_words(outcome, unit)}"
    yield ""
    yield "What a constraint costs:"
    for one in study.freed:
        yield f"  {freed_words(one, unit)}"
    yield ""
    yield "checks of the whole design: " + ("all met" if sized.design.all_met else "NOT all met")
    yield from STATED
    yield SHORT_CAUTION


def _what(sized: Sized) -> str:
    """What is in the price."""
    return "plates, local frames, web frames and stringers" if sized.supports else "plates and local frames"


def outcome_words(one: Outcome, unit: str) -> str:
    """Return in a sentence how an arrangement came out."""
    words = "; ".join(one.words) or "as described"
    if one.state == "nothing meets":
        return f"{words}: nothing meets ({one.note})"
    if one.price is not None:
        state = "proved" if one.finished else f"not proved, bound {amount(one.bound, unit)}"
        return f"{words}: {amount(one.price, unit)} ({state}{', chosen' if one.state == 'chosen' else ''})"
    if one.state == "dropped":
        return f"{words}: dropped, not below {amount(one.bound, unit)} with {one.by}"
    return f"{words}: not searched, not below {amount(one.bound, unit)}"


def loop_sentences(study: Study) -> Iterator[str]:
    """Yield in sentences how steel weight, draught and load come together, and how much room there is."""
    closed, room = study.closed, study.headroom
    last = closed.settled.last
    passes = len(closed.settled.passes)
    if study.design.ship.sizing.hold == "draught":
        more = closed.deadweight_change_t
        turn = "gains" if more >= 0.0 else "loses"
        yield (f"The draught is held: {last.steel_t:.1f} t of plating and frames with allowances against "
               f"{closed.reference_t:.1f} t in the ship as described; the deadweight {turn} "
               f"{abs(more):.1f} t.")  # fmt: skip
    else:
        circle = f", a circle of {closed.settled.circle} settled on its heaviest" if closed.settled.circle else ""
        yield (f"The deadweight is held: settled after {passes} passes{circle} at {last.steel_t:.1f} t of plating and "
               f"frames with allowances; the upper ice waterline rises by {1000.0 * closed.rise_upper_m:.0f} mm, the "
               f"lower by {1000.0 * closed.rise_lower_m:.0f} mm.")  # fmt: skip
    band = f"{100.0 * room.down:.2f} to {100.0 * room.up:.2f} %"
    yield (f"No plate changes while the displacement stays within {band} of the ship's; above, {room.first_up} goes "
           f"first, below, {room.first_down}.")  # fmt: skip


def freed_words(one: Freed, unit: str) -> str:
    """Return in a sentence what a freed constraint saves and where."""
    if one.saves is None:
        return f"{one.words}: nothing found ({one.note})"
    where = f" ({'; '.join(one.changes)})" if one.changes else ""
    proved = "" if one.proved else ", not proved"
    kind = "saves" if one.saves >= 0 else "costs"
    return f"{one.words}: {kind} {amount(abs(one.saves), unit)}{proved}{where}"


def _causes(saving: Saving) -> tuple[tuple[str, int], ...]:
    """The saving by cause."""
    return (
        ("a thickness for each plate", saving.by_plates),
        ("a profile for each group of frames", saving.by_frames),
        ("other framing", saving.by_framing),
        ("other frame spacing and stringers", saving.by_arrangement),
    )


def sizing_documents(study: Study, made: Certificate, inputs_sha256: str) -> dict[str, bytes]:
    """Return the files of a sizing by name."""
    picture = to_svg(sizing_picture(study))
    return {
        "certificate.json": to_text(made).encode("utf-8"),
        "prices.csv": study.sized.asked.values.costing.table.text().encode("utf-8"),
        "plates.csv": csv_text(plate_table(study.sized)).encode("utf-8"),
        "sections.csv": csv_text(section_table(study.sized)).encode("utf-8"),
        "transitions.csv": csv_text(study.transitions).encode("utf-8"),
        "sizing.json": _json(study, inputs_sha256).encode("utf-8"),
        "plates.svg": picture.encode("utf-8"),
        "sizing.pdf": typeset(_pages(study, inputs_sha256, picture), tagged=False),
    }


def plate_table(sized: Sized) -> ColumnTable:
    """Return the physical plates: place, size, thickness, grade, mass."""
    laid, plates = sized.laid, sized.laid.plates
    box = np.array([shape.bounds for shape in plates.outlines]).reshape(-1, 4)
    rows = {name: row for row, name in enumerate(plate.name for plate in sized.problem.plates)}
    price = np.array(
        [
            sized.problem.plates[rows[name]].choices[sized.found.solution.choices[rows[name]]].price
            if name in rows else np.nan
            for name in plates.names
        ],
        dtype=np.float64,
    )  # fmt: skip

    def words(meaning: str, data: list[str] | tuple[str, ...]) -> Column:
        return Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))

    def numbers(unit: str, meaning: str, data: np.ndarray) -> Column:
        missing = np.isnan(data)
        reason = np.where(missing, NO_PLATE, "") if missing.any() else None
        return Column(unit=Unit(unit), meaning=meaning, data=data, reason=reason)

    return ColumnTable(
        "plates",
        {
            "plate": words("column from aft / strake from the keel", plates.names),
            "from_x_m": numbers("m", "aft edge", box[:, 0]),
            "to_x_m": numbers("m", "forward edge", box[:, 2]),
            "from_girth_m": numbers("m", "lowest point of the lower edge, girth from the centreline", box[:, 1]),
            "to_girth_m": numbers("m", "highest point of the upper edge", box[:, 3]),
            "thickness_mm": numbers("mm", "thickness as built", laid.thickness_mm),
            "grade": words("steel grade", [grade or "none" for grade in laid.grade]),
            "price": numbers("-", f"price of both sides, {sized.problem.unit}", price),
        },
    )


def section_table(sized: Sized) -> ColumnTable:
    """Return the sections by zone and group of frames."""
    keys = list(sized.sections)
    columns = {
        "zone": ("framing zone", [zone for zone, _ in keys]),
        "group": ("group of frames: zone, hull area and bay", [group for _, group in keys]),
        "section": ("section as built", [sized.sections[key][0] for key in keys]),
        "grade": ("steel grade", [sized.sections[key][1] for key in keys]),
    }
    return ColumnTable(
        "sections",
        {
            name: Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))
            for name, (meaning, data) in columns.items()
        },
    )


def sizing_picture(study: Study):  # type: ignore[no-untyped-def]
    """Return the scene of the plates: the best uniform ship above the sized one."""
    sized = study.sized
    uniform = study.uniform
    unit = sized.problem.unit
    before = PlateView(
        title=f"One thickness for each hull area, at its best: {amount(study.saving.uniform.price, unit)}",
        plates=tuple(_shapes(uniform.plates.outlines, uniform.thickness_mm)),
    )
    after = PlateView(
        title=f"As sized: {amount(sized.found.price, unit)}",
        plates=tuple(_shapes(sized.laid.plates.outlines, sized.laid.thickness_mm)),
    )
    return plate_comparison([before, after], f"{sized.design.ship.ship.name}: plate thickness before and after sizing")


def _shapes(outlines: tuple[shapely.Geometry, ...], thickness_mm: np.ndarray) -> Iterator[PlateShape]:
    """Plates with a thickness as rings."""
    for outline, thickness in zip(outlines, thickness_mm, strict=True):
        parts = [part for part in getattr(outline, "geoms", [outline]) if part.geom_type == "Polygon" and part.area > 0]
        if np.isnan(thickness) or not parts:
            continue
        place = max(parts, key=lambda part: part.area).representative_point()
        yield PlateShape(
            rings=tuple(np.array(part.exterior.coords)[:-1] for part in parts),
            thickness_mm=float(thickness),
            label_at=(float(place.x), float(place.y)),
        )


def _json(study: Study, inputs_sha256: str) -> str:
    """The study as JSON text."""
    sized, saving = study.sized, study.saving
    told = {
        "format": "beltwright-sizing-1",
        "ship": sized.design.ship.ship.name,
        "input_hash": inputs_sha256,
        "program_version": __version__,
        "unit": sized.problem.unit,
        "price": sized.found.price,
        "bound": sized.found.bound,
        "finished": sized.found.finished,
        "framing": dict(sized.framing),
        "arrangement": list(sized.arrangement),
        "arrangements": [
            {"choices": list(one.words), "state": one.state, "bound": one.bound, "price": one.price, "by": one.by,
             "note": one.note}
            for one in sized.outcomes
        ],
        "supports": sized.supports,
        "uniform": {"price": saving.uniform.price, "bound": saving.uniform.bound},
        "saving": {"plates": saving.by_plates, "frames": saving.by_frames, "framing": saving.by_framing,
                   "arrangement": saving.by_arrangement, "supports": saving.supports_less,
                   "whole": saving.whole, "proved": saving.proved},
        "constraints": [
            {"freed": one.words, "saves": one.saves, "proved": one.proved, "changes": list(one.changes),
             "note": one.note}
            for one in study.freed
        ],
        "loop": {
            "hold": study.design.ship.sizing.hold,
            "passes": [[one.assumed_t, one.steel_t] for one in study.closed.settled.passes],
            "circle": study.closed.settled.circle,
            "reference_t": study.closed.reference_t,
            "rise_upper_m": study.closed.rise_upper_m,
            "rise_lower_m": study.closed.rise_lower_m,
            "deadweight_change_t": study.closed.deadweight_change_t,
        },
        "headroom": {"up": study.headroom.up, "down": study.headroom.down, "first_up": study.headroom.first_up,
                     "first_down": study.headroom.first_down},
        "all_met": sized.design.all_met,
        "stated": list(STATED),
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
    }  # fmt: skip
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def _pages(study: Study, inputs_sha256: str, picture: str) -> dict[str, bytes]:
    """The typst source and pictures of the printed pages."""
    sized, saving = study.sized, study.saving
    unit, found, ship = sized.problem.unit, sized.found, sized.design.ship.ship
    proof = "is proved to be the least" if found.finished else f"is within {100.0 * found.gap:.2f} % of the least"
    parts = [
        f"#show: booklet.with(title: {quoted(TITLE)}, ship: {quoted(ship.name)}, revision: {quoted(ship.revision)}, "
        f"fingerprint: {quoted(inputs_sha256[:16])}, version: {quoted(__version__)}, "
        f"caution: {quoted(SHORT_CAUTION)})\n#set heading(numbering: none)\n",
        heading(1, f"{ship.name}: {TITLE.lower()}"),
        paragraph(
            f"{_what(sized).capitalize()} of both sides come to {amount(found.price, unit)}. This {proof} "
            f"(bound {amount(found.bound, unit)}) of what could be chosen. " + " ".join(STATED)
        ),
        figure("plates.svg", "Plate thickness as built, port side, before and after", "100%"),
        heading(2, "Where the saving comes from"),
        grid_table(
            [("step", "", "left", "100"), ("price", "", "right", "34"), ("less", "", "right", "34")],
            [
                ["one thickness for each hull area, one profile for each zone and hull area",
                 amount(saving.uniform.price, unit), ""],
                ["each plate its own thickness", amount(saving.own_plates.price, unit), amount(saving.by_plates, unit)],
                ["each group of frames its own profile", amount(saving.own_frames.price, unit),
                 amount(saving.by_frames, unit)],
                ["framing as chosen", amount(saving.framed.price, unit), amount(saving.by_framing, unit)],
                ["frame spacing and stringers as chosen", amount(saving.sized.price, unit),
                 amount(saving.by_arrangement, unit)],
            ],
        ),
        paragraph("All are proved to be the least of their kind." if saving.proved
                  else "Not all are proved to be the least of their kind."),
        *_outcomes(sized, saving.supports_less, unit),
        heading(2, "Weight, draught and load"),
        bullets(list(loop_sentences(study))),
        heading(2, "What each constraint costs"),
        bullets([freed_words(one, unit) for one in study.freed]),
        heading(2, "Framing and sections"),
        grid_table(
            [("zone", "", "left", "30"), ("frames", "", "left", "72"), ("section", "", "left", "44"),
             ("grade", "", "left", "22")],
            [[zone, group, *sized.sections[zone, group]] for zone, group in sized.sections],
            size_pt=8.0,
        ),
        heading(2, "Plates"),
        paragraph(
            "Columns are counted from aft, strakes from the keel; x from the aft perpendicular, girth from the "
            "centreline. Transitions between plates and between profiles stand in transitions.csv."
        ),
        grid_table(
            [("plate", "", "left", "20"), ("x from", "m", "right", "20"), ("x to", "m", "right", "20"),
             ("girth from", "m", "right", "24"), ("girth to", "m", "right", "24"), ("thickness", "mm", "right", "24"),
             ("grade", "", "left", "24")],
            [
                [name, *(f"{value:.2f}" for value in (shape.bounds[0], shape.bounds[2], shape.bounds[1],
                                                      shape.bounds[3])), f"{thickness:g}", grade]
                for name, shape, thickness, grade in zip(
                    sized.laid.plates.names, sized.laid.plates.outlines, sized.laid.thickness_mm, sized.laid.grade,
                    strict=True,
                )
                if not np.isnan(thickness)
            ],
            size_pt=8.0,
        ),
        heading(2, "Choices, limits and prices"),
        bullets(list(_choices(study, sized.problem))),
    ]  # fmt: skip
    style = files("beltwright.report").joinpath("typst", "style.typ").read_bytes()
    source = '#import "style.typ": *\n' + "".join(parts)
    return {"main.typ": source.encode("utf-8"), "style.typ": style, "plates.svg": picture.encode("utf-8")}


def _outcomes(sized: Sized, less: int, unit: str) -> Iterator[str]:
    """The arrangements that there were to choose from."""
    if len(sized.outcomes) > 1:
        yield heading(2, "Frame spacing and stringers")
        if sized.supports:
            told = f"Web frames and stringers as given count {amount(sized.supports, unit)} of the price"
            told += f", {amount(less, unit)} less than as described; " if less else "; "
            yield paragraph(told + "whether their scantlings will do with another spacing is checked by the design.")
        yield bullets([outcome_words(one, unit) for one in sized.outcomes])


def _choices(study: Study, problem: Problem) -> Iterator[str]:
    """What there was to choose from, and the limits that were kept."""
    given, ship = study.sized.design.ship.sizing, study.sized.design.ship
    thickness = sorted({one.thickness_mm for plate in problem.plates for one in plate.choices})
    yield f"Plates up to {given.plate_length_m:g} m by {given.plate_width_m:g} m, {len(problem.plates)} of half a ship."
    yield (f"Thickness {thickness[0]:g} to {thickness[-1]:g} mm in steps of {ship.stock.step_mm:g} mm; a plate up to "
           f"{given.plate_excess_mm:g} mm thicker than plating and neighbours ask.")  # fmt: skip
    step = given.neighbour_step_mm
    yield "No limit to the step between neighbours." if step is None else f"Neighbours differ by {step:g} mm at most."
    yield f"Frames have one section through {given.alike_through}."
    for what, most in (("plate thicknesses", given.most_thicknesses), ("profiles", given.most_profiles)):
        yield f"At most {most} {what}." if most is not None else f"Any number of {what}."
    yield f"Objective: {given.objective}."
    assumed = study.sized.asked.values.costing.assumed()
    if assumed:
        yield f"Prices that are only assumed: {'; '.join(assumed)}."


def verdict_lines(verdict: Verdict) -> Iterator[str]:
    """Yield a certificate's verdict for the terminal."""
    for line in verdict.confirmed:
        yield f"confirmed: {line}"
    for line in verdict.open:
        yield f"NOT confirmed: {line}"
    for line in verdict.refused:
        yield f"REFUSED: {line}"
    yield (
        "the certificate holds"
        if verdict.holds and not verdict.open
        else ("the certificate holds as far as it was confirmed" if verdict.holds else "the certificate does NOT hold")
    )
    yield SHORT_CAUTION
