"""The catalogue: every section that may be proposed, sorted by mass."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.recordtable import RecordTable, load_records
from beltwright.core.ruletable import Cell
from beltwright.core.units import FloatArray
from beltwright.sections.kinds import SectionKind
from beltwright.sections.make import shapes_from
from beltwright.sections.table import SectionTable, join, section_table

_PACKAGE = "beltwright.sections"


@cache
def bulb_flats() -> SectionTable:
    """Return the bulb flats of EN 10067 by depth and thickness."""
    return read_bulb_flats(load_records(_PACKAGE, "bulb_flats.csv"))


@cache
def flat_bars() -> SectionTable:
    """Return the flat bars that are commonly stocked."""
    return read_flat_bars(load_records(_PACKAGE, "flat_bars.csv"))


@cache
def rolled_angles() -> SectionTable:
    """Return the rolled angles of EN 10056-1 and the ship angles of JIS G 3192."""
    return read_rolled_angles(load_records(_PACKAGE, "angles.csv"))


@cache
def built_tees() -> SectionTable:
    """Return the built-up tees made from the steps and proportions of the data files."""
    steps = load_records(_PACKAGE, "built_tee_steps.csv")
    return make_built_tees(steps, load_records(_PACKAGE, "built_tee_proportions.csv"))


@cache
def catalogue() -> SectionTable:
    """Return all sections, lightest first; equal masses in the order of their names."""
    return by_mass(join([flat_bars(), bulb_flats(), rolled_angles(), built_tees()]))


def cells_used(names: Collection[str]) -> tuple[Cell, ...]:
    """Return the cells of the data files behind some sections, each with its standing; drawn sections have none."""
    used: list[Cell] = []
    for filename, columns in _COLUMNS_USED.items():
        used += load_records(_PACKAGE, filename).cells("name", names, columns)
    return tuple(used)


def by_mass(table: SectionTable) -> SectionTable:
    """Return a table sorted by mass, lightest first; equal masses in the order of their names."""
    return table.take(np.lexsort((table.name, table.mass_kg_per_m)))


def read_bulb_flats(data: RecordTable) -> SectionTable:
    """Return the bulb flats of a data file with the columns of ``bulb_flats.csv``."""
    nose = data.numbers("nose_radius_mm")
    shapes = shapes_from(
        SectionKind.BULB_FLAT,
        len(data),
        height=data.numbers("height_mm"),
        web_height=data.numbers("height_mm"),
        web=data.numbers("web_thickness_mm"),
        bulb_projection=data.numbers("bulb_projection_mm"),
        nose_radius=nose,
        fillet_radius=nose,
        edge_radius=data.numbers("edge_radius_mm"),
    )
    return section_table(name=data.words("name"), shapes=shapes, status=data.words("status"))


def read_flat_bars(data: RecordTable) -> SectionTable:
    """Return the flat bars of a data file with the columns of ``flat_bars.csv``."""
    height, web = data.numbers("height_mm"), data.numbers("web_thickness_mm")
    shapes = shapes_from(SectionKind.FLAT_BAR, len(data), web_height=height, web=web)
    return section_table(name=data.words("name"), shapes=shapes, status=data.words("status"))


def read_rolled_angles(data: RecordTable) -> SectionTable:
    """Return the rolled angles of a data file with the columns of ``angles.csv``."""
    height, flange = data.numbers("height_mm"), data.numbers("flange_thickness_mm")
    web, breadth = data.numbers("web_thickness_mm"), data.numbers("flange_breadth_mm")
    shapes = shapes_from(
        SectionKind.ROLLED_ANGLE,
        len(data),
        height=height,
        web_height=height - flange,
        web=web,
        flange_breadth=breadth,
        flange=flange,
        flange_shift=(breadth - web) / 2.0,
        fillet_radius=data.numbers("root_radius_mm"),
        web_toe_radius=data.numbers("web_toe_radius_mm"),
        flange_toe_radius=data.numbers("flange_toe_radius_mm"),
    )
    return section_table(name=data.words("name"), shapes=shapes, status=data.words("status"))


def make_built_tees(steps: RecordTable, proportions: RecordTable) -> SectionTable:
    """Return every built-up tee on the steps whose ratios lie between the proportions."""
    hw, tw, bf, tf = _grid(*(_stepped(steps, name) for name in _TEE_DIMENSIONS))
    values = dict(zip(_TEE_DIMENSIONS, (hw, tw, bf, tf), strict=True)) | {"outstand": (bf - tw) / 2.0}
    keep = np.ones(len(hw), dtype=bool)
    least, most = proportions.numbers("least"), proportions.numbers("most")
    for row, ratio in enumerate(proportions.words("ratio")):
        over, _, under = str(ratio).partition(" / ")
        if over not in values or under not in values:
            where = f"{proportions.filename}: line {proportions.lines[row]}"
            raise InputError(where, "no such ratio", value=str(ratio), allowed=f"two of {', '.join(values)}")
        quotient = values[over] / values[under]
        keep &= (quotient >= least[row]) & (quotient <= most[row])
    hw, tw, bf, tf = hw[keep], tw[keep], bf[keep], tf[keep]
    names = [f"T{a:.10g}x{b:.10g}+{c:.10g}x{d:.10g}" for a, b, c, d in zip(hw, tw, bf, tf, strict=True)]
    shapes = shapes_from(SectionKind.BUILT_TEE, len(hw), web_height=hw, web=tw, flange_breadth=bf, flange=tf)
    status = np.full(len(hw), Status.CHOICE.value)
    return section_table(name=np.array(names, dtype=np.str_), shapes=shapes, status=status)


_COLUMNS_USED = {
    "flat_bars.csv": ("height_mm", "web_thickness_mm"),
    "bulb_flats.csv": (
        "height_mm",
        "web_thickness_mm",
        "bulb_projection_mm",
        "nose_radius_mm",
        "edge_radius_mm",
    ),
    "angles.csv": (
        "height_mm",
        "web_thickness_mm",
        "flange_breadth_mm",
        "flange_thickness_mm",
        "root_radius_mm",
        "web_toe_radius_mm",
        "flange_toe_radius_mm",
    ),
}
_TEE_DIMENSIONS = ("web_height", "web_thickness", "flange_breadth", "flange_thickness")


def _stepped(steps: RecordTable, dimension: str) -> FloatArray:
    """The values of one dimension from its runs of steps, sorted, each once."""
    rows = np.flatnonzero(steps.words("dimension") == dimension)
    first, last, step = (steps.numbers(column)[rows] for column in ("from_mm", "upto_mm", "step_mm"))
    runs = [a + d * np.arange(int(np.floor((b - a) / d + 1e-9)) + 1) for a, b, d in zip(first, last, step, strict=True)]
    if not runs:
        raise InputError(steps.filename, "no steps are given", value=dimension)
    return np.unique(np.concatenate(runs))


def _grid(*axes: FloatArray) -> tuple[FloatArray, ...]:
    """Every combination of the axes, one flat array per axis."""
    return tuple(grid.ravel() for grid in np.meshgrid(*axes, indexing="ij"))
