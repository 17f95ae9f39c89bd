"""Waterlines, hydrostatics, rule length and displacement; hull angles with a figure per station."""

from __future__ import annotations

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.sheets.angles import angle_figure
from beltwright.report.chapters.told import lines_of
from beltwright.report.markup import Shown, calculation_lines, column_table, figure, grid_table, heading, paragraph
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
    shown = [Shown(name=name, header=HEADERS.get(name, name)) for name in material.hydrostatics]
    parts = [
        heading(1, "Waterlines and hydrostatics"),
        heading(2, "Ice draughts"),
        paragraph("Height of the upper (UIWL) and lower (LIWL) ice waterline above the baseline."),
        grid_table(header, draughts),
        heading(2, "Hydrostatics"),
        column_table(material.hydrostatics, shown),
        heading(2, "Rule length and displacement"),
        calculation_lines(lines_of(material, material.length_and_displacement)),
    ]
    return Written(markup="".join(parts))


HEADERS = {
    "waterline": "waterline", "volume_m3": "volume", "density_t_m3": "density", "allowance_t": "shell and appendages",
    "displacement_kt": "displacement", "lcb_m": "LCB from AP", "vcb_m": "VCB", "waterplane_m2": "waterplane",
    "lcf_m": "LCF from AP", "length_m": "length", "displacement_from": "taken from",
}  # fmt: skip


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
    parts = [
        heading(1, "Hull angles"),
        paragraph("Read from the outward normal of the hull surface on the upper ice waterline at each load station."),
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
    Chapter(id="hydrostatics", title="Waterlines and hydrostatics", write=hydrostatics),
    Chapter(id="angles", title="Hull angles", write=angles),
)
