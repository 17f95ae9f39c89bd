"""Corrosion, abrasion and renewal: additions by hull area, and the thickness below which plates and frames go."""

from __future__ import annotations

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.chapters.members import groups
from beltwright.report.markup import Shown, column_table, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.numbers import DASH, cell
from beltwright.report.registry import Chapter, Written

_AREAS = (
    Shown(name="code", header="area"),
    Shown(name="title", header="", width="fill"),
    Shown(name="addition_mm", header="addition"),
    Shown(name="net_range", header="net required of its panels, mm", width="42"),
    Shown(name="built_range", header="as built, mm", width="30"),
    Shown(name="renewal_range", header="renew below, by panel, mm", width="40"),
)
_PLATES = (
    Shown(name="hull_area", header="area"),
    Shown(name="id", header="governing panel"),
    Shown(name="grade", header="grade"),
    Shown(name="thickness_net_required_mm", header="net req.", decimals=2, width="17"),
    Shown(name="addition_mm", header="addition", width="17"),
    Shown(name="thickness_as_built_mm", header="as built", width="17"),
    Shown(name="thickness_net_fitted_mm", header="net fitted", decimals=2, width="17"),
    Shown(name="renewal_mm", header="renew below", decimals=2, width="17"),
)
_FRAMES = (
    Shown(name="hull_area", header="area"),
    Shown(name="id", header="governing frame"),
    Shown(name="section", header="section as built"),
    Shown(name="web_as_built_mm", header="web as built", width="17"),
    Shown(name="web_net_mm", header="web net", width="17"),
    Shown(name="web_renewal_mm", header="renew below", width="17"),
    Shown(name="flange_as_built_mm", header="flange as built", width="17"),
    Shown(name="flange_net_mm", header="flange net", width="17"),
    Shown(name="flange_renewal_mm", header="renew below", width="17"),
)


def renewal(material: Material) -> Written:
    """Additions, net beside as built, and renewal; a rule set that names no renewal has none of it."""
    parts = [heading(1, "Corrosion, abrasion and renewal")]
    if "renewal_mm" not in material.panels:
        return Written(markup="".join([*parts, paragraph("The rule set gives no thickness for renewal.")]))
    parts += [
        paragraph(
            "Steel is renewed where the gauged thickness is less than the net thickness and 0.5 mm. Of a plate the net "
            "thickness is the one required of its panel, whatever was fitted above it; of a frame, that of the checks: "
            "as built less the deduction for corrosion. Every panel and frame has its own value in panels.csv and "
            "frames.csv; a gauging is held against those, not against the ranges here."
        ),
        heading(2, "Shell plating by hull area"),
        lead(
            "What the panels of an area span, from the one that asks for least to the one that asks for most: the "
            "lower end is no requirement on the area."
        ),
        column_table(_with_ranges(material.area_table), _AREAS, _asked(material)),
        heading(2, "Shell plating by groups"),
        lead("Of each group the panel that comes closest to its limit."),
        groups(material, material.panels, _PLATES),
        heading(2, "Frames, net and as built"),
        lead("The deduction is taken off web and flange. A bulb is gauged at its web."),
        groups(material, material.frames, _FRAMES),
    ]
    return Written(markup="".join(parts))


def _with_ranges(table: ColumnTable) -> ColumnTable:
    """The hull areas with their ranges in words."""
    ends = {
        "net_range": ("net_least_mm", "net_most_mm"),
        "built_range": ("thickness_least_mm", "thickness_most_mm"),
        "renewal_range": ("renewal_least_mm", "renewal_most_mm"),
    }
    words = {
        name: [
            DASH if least == DASH else least if least == most else f"{least} to {most}"
            for least, most in ((cell(table[low], row), cell(table[high], row)) for row in range(table.rows))
        ]
        for name, (low, high) in ends.items()
    }
    columns = {
        name: Column(unit=Unit("label"), meaning="range over the panels", data=np.array(told, dtype=np.str_))
        for name, told in words.items()
    }
    return table.with_columns(columns)


def _asked(material: Material) -> list[int]:
    """The hull areas of which something is asked."""
    return [int(row) for row in np.flatnonzero(material.area_table["renewal_most_mm"].applies)]


CHAPTERS = (Chapter(id="renewal", title="Corrosion, abrasion and renewal", write=renewal),)
