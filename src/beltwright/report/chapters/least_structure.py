"""The least structure: what was chosen from what, the proof, the saving, what each constraint costs, all plates."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from beltwright.report.markup import bullets, figure, grid_table, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written
from beltwright.report.sizing_words import (
    STATED,
    TITLE,
    amount,
    freed_words,
    loop_sentences,
    outcome_words,
    what_is_priced,
)
from beltwright.sizing.study import Study

_PICTURE = "least-structure.svg"


def sizing_chapter(study: Study, picture: str) -> Chapter:
    """Return the chapter of a sizing; ``picture`` is the drawing of its plates before and after, as SVG."""

    def write(_: Material) -> Written:
        return Written(markup="".join(_parts(study)), pictures={_PICTURE: picture})

    return Chapter(id="least-structure", title=TITLE, write=write)


def _parts(study: Study) -> Iterator[str]:
    """The chapter's markup."""
    sized = study.sized
    unit, found = sized.problem.unit, sized.found
    proof = "is proved to be the least" if found.finished else f"is within {100.0 * found.gap:.2f} % of the least"
    yield heading(1, TITLE)
    yield lead("Plates and frames of this booklet were found by a search; its certificate is certificate.json.")
    yield paragraph(
        f"{what_is_priced(sized).capitalize()} of both sides come to {amount(found.price, unit)}. This {proof} "
        f"(bound {amount(found.bound, unit)}) of what could be chosen. " + " ".join(STATED)
    )
    yield figure(_PICTURE, "Plate thickness as built, port side, before and after", "100%")
    yield from _saving(study)
    yield from _outcomes(study)
    yield heading(2, "Weight, draught and load")
    yield bullets(list(loop_sentences(study)))
    yield heading(2, "What each constraint costs")
    yield bullets([freed_words(one, unit) for one in study.freed])
    yield heading(2, "Framing and sections chosen")
    yield grid_table(
        [("zone", "", "left", "30"), ("frames", "", "left", "72"), ("section", "", "left", "44"),
         ("grade", "", "left", "fill")],
        [[zone, group, *sized.sections[zone, group]] for zone, group in sized.sections],
        size_pt=8.0,
    )  # fmt: skip
    yield from _plates(study)
    yield heading(2, "Choices, limits and prices")
    yield bullets(list(_choices(study)))


def _saving(study: Study) -> Iterator[str]:
    """Where the saving comes from."""
    saving, unit = study.saving, study.sized.problem.unit
    steps = (
        ("one thickness for each hull area, one profile for each zone and hull area", saving.uniform.price, None),
        ("each plate its own thickness", saving.own_plates.price, saving.by_plates),
        ("each group of frames its own profile", saving.own_frames.price, saving.by_frames),
        ("framing as chosen", saving.framed.price, saving.by_framing),
        ("frame spacing and stringers as chosen", saving.sized.price, saving.by_arrangement),
    )
    yield heading(2, "Where the saving comes from")
    yield grid_table(
        [("step", "", "left", "fill"), ("price", "", "right", "32"), ("less", "", "right", "32")],
        [[words, amount(price, unit), "" if less is None else amount(less, unit)] for words, price, less in steps],
    )
    yield paragraph("All are proved to be the least of their kind." if saving.proved
                    else "Not all are proved to be the least of their kind.")  # fmt: skip


def _outcomes(study: Study) -> Iterator[str]:
    """The arrangements that there were to choose from."""
    sized, less, unit = study.sized, study.saving.supports_less, study.sized.problem.unit
    if len(sized.outcomes) > 1:
        yield heading(2, "Frame spacing and stringers")
        if sized.supports:
            told = f"Web frames and stringers as given count {amount(sized.supports, unit)} of the price"
            told += f", {amount(less, unit)} less than as described; " if less else "; "
            yield paragraph(told + "they keep their scantlings, and what is asked of them stands in their own chapter.")
        yield bullets([outcome_words(one, unit) for one in sized.outcomes])


def _plates(study: Study) -> Iterator[str]:
    """Every plate with place, thickness and grade."""
    laid = study.sized.laid
    rows = zip(laid.plates.names, laid.plates.outlines, laid.thickness_mm, laid.grade, strict=True)
    yield heading(2, "Plates")
    yield paragraph(
        "Columns are counted from aft, strakes from the keel; x from the aft perpendicular, girth from the centreline. "
        "Transitions between plates and between profiles stand in transitions.csv."
    )
    yield grid_table(
        [("plate", "", "left", "20"), ("x from", "m", "right", "20"), ("x to", "m", "right", "20"),
         ("girth from", "m", "right", "24"), ("girth to", "m", "right", "24"), ("thickness", "mm", "right", "24"),
         ("grade", "", "left", "fill")],
        [
            [name, *(f"{shape.bounds[k]:.2f}" for k in (0, 2, 1, 3)), f"{thickness:g}", grade]
            for name, shape, thickness, grade in rows
            if not np.isnan(thickness)
        ],
        size_pt=8.0,
    )  # fmt: skip


def _choices(study: Study) -> Iterator[str]:
    """What there was to choose from, and the limits that were kept."""
    given, ship, problem = study.sized.design.ship.sizing, study.sized.design.ship, study.sized.problem
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
