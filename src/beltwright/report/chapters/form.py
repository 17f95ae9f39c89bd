"""Waterlines, hydrostatics, rule length and displacement; hull angles with a figure per station."""

from __future__ import annotations

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.sheets.angles import angle_figure
from beltwright.report.chapters.told import lines_of
from beltwright.report.markup import (
    Shown,
    calculation_lines,
    column_table,
    figure,
    grid_table,
    heading,
    lead,
    transposed_table,
)
from beltwright.report.material import Material
from beltwright.report.numbers import fixed
from beltwright.report.registry import Chapter, Written


def hydrostatics(material: Material) -> Written:
    """Draughts, hydrostatics at both ice waterlines, and the trace of rule length and displacement."""
    draughts = [(p, fixed(x, 2), fixed(u, 3), fixed(w, 3)) for p, x, u, w in material.picture.draughts]
    header = (
        ("place", "", "left", "fill"),
        ("x", "m", "right", "24"),
        ("UIWL", "m", "right", "24"),
        ("LIWL", "m", "right", "24"),
    )
    parts = [
        heading(1, "Hull, waterlines and hydrostatics"),
        heading(2, "Hull file"),
        lead("What the file says of itself, what was settled where it is silent, and on what ground."),
        column_table(material.hull_file, _HULL_FILE),
        heading(2, "Ice draughts"),
        lead("Height of the upper (UIWL) and lower (LIWL) ice waterline above the baseline."),
        grid_table(header, draughts),
        heading(2, "Hydrostatics"),
        transposed_table(material.hydrostatics, "waterline", [c for c in _SHOWN if c.name in material.hydrostatics]),
        heading(2, "Ends of the parallel side"),
        lead(
            "Where the half-breadth on the upper ice waterline is its greatest, within a tolerance. On a fair line "
            "the ends move with the tolerance; borders that hang on them move with it."
        ),
        column_table(material.side_ends, _SIDE_ENDS),
        heading(2, "Rule length and displacement"),
        calculation_lines(lines_of(material, material.length_and_displacement)),
    ]
    return Written(markup="".join(parts))


_HULL_FILE = (
    Shown(name="what", header="what"),
    Shown(name="outcome", header="outcome", width="fill"),
    Shown(name="ground", header="ground", width="fill"),
    Shown(name="setting", header="overridden by"),
)
_SIDE_ENDS = (
    Shown(name="tolerance_mm", header="tolerance", width="26"),
    Shown(name="fore_x_m", header="fore end, x", decimals=2, width="26"),
    Shown(name="aft_x_m", header="aft end, x", decimals=2, width="26"),
)
_SHOWN = (
    Shown(name="source", header="given by"),
    Shown(name="length_m", header="extreme length"),
    Shown(name="volume_m3", header="moulded volume, both sides"),
    Shown(name="density_t_m3", header="density of the water", decimals=3),
    Shown(name="allowance_t", header="shell and appendages", decimals=1),
    Shown(name="displacement_kt", header="displacement"),
    Shown(name="displacement_from", header="displacement taken from"),
    Shown(name="lcb_m", header="centre of buoyancy from aft perp."),
    Shown(name="vcb_m", header="centre of buoyancy above the baseline"),
    Shown(name="waterplane_m2", header="waterplane area"),
    Shown(name="lcf_m", header="centre of the waterplane from aft perp."),
)


def angles(material: Material) -> Written:
    """The table of hull angles and one figure per station."""
    shown = (
        Shown(name="station", header="station"),
        Shown(name="aft_of_stem_m", header="aft of stem"),
        Shown(name="x_m", header="x"),
        Shown(name="y_m", header="y"),
        Shown(name="z_m", header="z"),
        Shown(name="alpha_deg", header="α"),
        Shown(name="gamma_deg", header="γ"),
        Shown(name="beta_deg", header="β"),
        Shown(name="beta_prime_deg", header="β′"),
    )
    if material.stations.rows == 0:
        nothing = "The loads of this rule set need no hull angles; where a plate's own are read, it says so."
        return Written(markup=heading(1, "Hull angles") + lead(nothing))
    parts = [
        heading(1, "Hull angles"),
        lead("Read from the outward normal of the hull surface on the upper ice waterline at each load station."),
        column_table(material.stations, shown),
    ]
    pictures = {}
    for number, station in enumerate(material.picture.stations, 1):
        name = f"station-{number}.svg"
        pictures[name] = to_svg(angle_figure(material.picture, station))
        caption = f"{station.name}, {fixed(station.aft_of_stem_m, 2)} m aft of the stem, 1:200"
        parts.append(figure(name, caption, "100%"))
    return Written(markup="".join(parts), pictures=pictures)


CHAPTERS = (
    Chapter(id="hydrostatics", title="Hull, waterlines and hydrostatics", write=hydrostatics),
    Chapter(id="angles", title="Hull angles", write=angles),
)
