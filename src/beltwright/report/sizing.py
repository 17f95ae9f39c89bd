"""The files of a sizing: documents of the sized ship with a chapter on the search, tables, certificate, picture."""

from __future__ import annotations

import json

import numpy as np

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.from_sizing import plate_pictures, plate_shapes
from beltwright.drawing.plate_comparison import PlateView, plate_comparison
from beltwright.report.chapters.least_structure import sizing_chapter
from beltwright.report.from_design import material_of
from beltwright.report.package import documents_of
from beltwright.report.sizing_words import STATED, amount
from beltwright.report.standard import standard_chapters
from beltwright.report.tables import csv_text
from beltwright.sizing.certificate import Certificate, to_text
from beltwright.sizing.size import Sized
from beltwright.sizing.study import Study
from beltwright.weights.steel import SteelWeight

NO_PLATE = "not sized: nothing is asked of it"


def sizing_documents(study: Study, made: Certificate, weight: SteelWeight, inputs_sha256: str) -> dict[str, bytes]:
    """Return the files of a sizing by name: documents of the sized ship with their chapter and plates, and its own.

    ``weight`` is the steel weight of the sized design.
    """
    picture = to_svg(sizing_picture(study))
    material = material_of(study.sized.design, weight, inputs_sha256, plate_pictures(study.sized.laid))
    return documents_of(material, standard_chapters((sizing_chapter(study, picture),))) | {
        "certificate.json": to_text(made).encode("utf-8"),
        "prices.csv": study.sized.asked.values.costing.table.text().encode("utf-8"),
        "plates.csv": csv_text(plate_table(study.sized)).encode("utf-8"),
        "sections.csv": csv_text(section_table(study.sized)).encode("utf-8"),
        "transitions.csv": csv_text(study.transitions).encode("utf-8"),
        "sizing.json": _json(study, inputs_sha256).encode("utf-8"),
        "plates.svg": picture.encode("utf-8"),
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
        plates=tuple(plate_shapes(uniform)),
    )
    after = PlateView(
        title=f"As sized: {amount(sized.found.price, unit)}",
        plates=tuple(plate_shapes(sized.laid)),
    )
    return plate_comparison([before, after], f"{sized.design.ship.ship.name}: plate thickness before and after sizing")


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
