"""Hull areas on the shell: borders with their trace, areas and shares."""

from __future__ import annotations

from beltwright.report.chapters.told import lines_of
from beltwright.report.markup import Shown, calculation_lines, column_table, heading, lead
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_BORDERS = (
    Shown(name="border", header="border", width="fill"),
    Shown(name="sides", header="between"),
    Shown(name="aft_of_stem_m", header="aft of stem"),
    Shown(name="x_m", header="x"),
    Shown(name="frame", header="frame"),
    Shown(name="height", header="height", width="fill"),
    Shown(name="ref", header="clause"),
)
_HEIGHTS = (
    Shown(name="border", header="border", width="fill"),
    Shown(name="z_at_stem_m", header="at the stem", decimals=2, width="26"),
    Shown(name="z_at_bow_aft_m", header="aft end of the bow", decimals=2, width="26"),
    Shown(name="z_amidships_m", header="amidships", decimals=2, width="26"),
    Shown(name="z_at_ap_m", header="aft perpendicular", decimals=2, width="26"),
)
_AREAS = (
    Shown(name="code", header="area"),
    Shown(name="title", header="", width="fill"),
    Shown(name="area_m2", header="shell area"),
    Shown(name="share", header="share"),
    Shown(name="area_factor", header="area factor", decimals=2),
    Shown(name="addition_mm", header="addition"),
    Shown(name="pressure_avg_mpa", header="mean pressure, own patch", width="20"),
    Shown(name="governing_load_area", header="load that governs", width="18"),
    Shown(name="thickness_least_mm", header="plate, least"),
    Shown(name="thickness_most_mm", header="plate, most"),
)


def hull_areas(material: Material) -> Written:
    """Borders, where they come from, and the areas both sides."""
    parts = [
        heading(1, "Hull areas"),
        heading(2, "Borders"),
        column_table(material.borders, _BORDERS),
        lead(
            "Heights of the borders that run along the side, in metres above the baseline. A dash where the border "
            "does not reach the place, or does not divide two areas there."
        ),
        column_table(material.borders, _HEIGHTS, _along_the_side(material)),
        heading(2, "Where the borders come from"),
        calculation_lines(lines_of(material, material.border_calculation)),
        heading(2, "Areas on the shell"),
        lead(
            "Areas are of the shell itself inside the exact borders, both sides, openings not taken out. Mean pressure "
            "is that of the area's own load patch; a panel that touches another area may be governed by that one's "
            "load, and the next column says whose load asks for the thickest plate. Thickness is as built."
        ),
        column_table(material.area_table, _AREAS),
    ]
    return Written(markup="".join(parts))


def _along_the_side(material: Material) -> list[int]:
    """The rows of borders that have a height somewhere."""
    columns = [material.borders[shown.name] for shown in _HEIGHTS[1:]]
    return [row for row in range(material.borders.rows) if any(bool(column.applies[row]) for column in columns)]


CHAPTERS = (Chapter(id="hull-areas", title="Hull areas", write=hull_areas),)
