"""Design ice loads: every station in full, then the design values and their patches."""

from __future__ import annotations

from beltwright.report.chapters.told import lines_of
from beltwright.report.markup import Shown, calculation_lines, column_table, grid_table, heading, lead
from beltwright.report.material import Material
from beltwright.report.numbers import fixed
from beltwright.report.registry import Chapter, Written
from beltwright.report.symbols import printed


def loads(material: Material) -> Written:
    """The first station in full, the others as a table, then the design values in full and the load patches."""
    parts = [heading(1, "Design ice loads")]
    columns = [name for name in material.loads if name != "station"]
    shown = [
        Shown(name="station", header="station"),
        *(Shown(name=name, header=symbol_of(material, name)) for name in columns),
    ]
    if material.loads.rows:
        parts += [heading(2, "Stations, side by side"), column_table(material.loads, shown)]
    for told in material.load_calculations:
        lines = lines_of(material, told)
        if lines:
            parts += [heading(2, told.title[:1].upper() + told.title[1:]), calculation_lines(lines)]
    header = (
        ("patch", "", "left", "fill"), ("force", "MN", "right", "20"), ("width", "m", "right", "18"),
        ("height", "m", "right", "18"), ("mean pressure", "MPa", "right", "26"), ("used in", "", "left", "fill"),
    )  # fmt: skip
    rows = [
        (
            p.name,
            fixed(p.force_mn, 3),
            fixed(p.width_m, 3),
            fixed(p.height_m, 3),
            fixed(p.pressure_mpa, 3),
            ", ".join(p.areas),
        )
        for p in material.patches
    ]
    parts += [
        heading(2, "Load patches"),
        lead(material.patches_are),
        grid_table(header, rows),
    ]
    return Written(markup="".join(parts))


def symbol_of(material: Material, name: str) -> str:
    """The symbol of a load column: what its meaning begins with."""
    return printed(material.loads[name].meaning.split(",")[0])


CHAPTERS = (Chapter(id="loads", title="Design ice loads", write=loads),)
