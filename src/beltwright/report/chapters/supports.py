"""Web frames and stringers: what each is asked for, plated structures, hand-over to direct calculation."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.report.chapters.members import samples
from beltwright.report.markup import Shown, column_table, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_DEMAND = (
    Shown(name="kind", header="member", width="17"),
    Shown(name="hull_area", header="area"),
    Shown(name="load_area", header="load of"),
    Shown(name="members", header="no."),
    Shown(name="area_factor", header="area factor", decimals=2),
    Shown(name="peak_pressure_factor", header="peak factor", decimals=2),
    Shown(name="pressure_mpa", header="pressure", decimals=3),
    Shown(name="patch_width_m", header="patch width", decimals=3),
    Shown(name="patch_height_m", header="height", decimals=3),
    Shown(name="patch_force_mn", header="force", decimals=3),
    Shown(name="strength_by", header="strength by", width="fill"),
    Shown(name="open", header="open"),
)
_STRENGTH = (
    Shown(name="kind", header="member", width="15"),
    Shown(name="hull_area", header="area"),
    Shown(name="scantlings", header="as built, mm", width="fill"),
    Shown(name="members", header="no."),
    Shown(name="id", header="closest to its limit"),
    Shown(name="pressure_mpa", header="pressure", decimals=3),
    Shown(name="line_load_mn_per_m", header="line load", decimals=3),
    Shown(name="load_mn", header="load", decimals=3),
    Shown(name="shear_area_required_cm2", header="shear area req.", decimals=1),
    Shown(name="shear_area_offered_cm2", header="offered", decimals=1),
    Shown(name="modulus_required_cm3", header="modulus req.", decimals=0),
    Shown(name="modulus_offered_cm3", header="offered", decimals=0),
    Shown(name="strength_ratio", header="ratio", decimals=2),
    Shown(name="strength_governing", header="governed by", width="19"),
    Shown(name="open", header="open"),
    Shown(name="not_met", header="not met"),
)
_STABILITY = (
    Shown(name="kind", header="member", width="17"),
    Shown(name="hull_area", header="area"),
    Shown(name="scantlings", header="as built, mm", width="fill"),
    Shown(name="members", header="no."),
    Shown(name="penetrating_height_mm", header="h given", decimals=0, width="12"),
    Shown(name="framing_least_mm", header="least frame fitted", decimals=0, width="14"),
    Shown(name="id", header="closest to its limit"),
    Shown(name="stability_ratio", header="ratio", decimals=2),
    Shown(name="stability_governing", header="governed by", width="fill"),
    Shown(name="not_met", header="not met"),
)
_GRILLAGES = (
    Shown(name="grillage", header="grillage", width="fill"),
    Shown(name="web_spans", header="web frame spans"),
    Shown(name="stringer_bays", header="stringer bays"),
    Shown(name="load_cases", header="load cases"),
    Shown(name="pressure_mpa", header="greatest pressure", decimals=3),
    Shown(name="patch_force_mn", header="greatest force", decimals=3),
)
_CASES = (
    Shown(name="case", header="case"),
    Shown(name="member", header="member"),
    Shown(name="position", header="patch lies", width="fill"),
    Shown(name="load_area", header="load of"),
    Shown(name="frame", header="frame", decimals=1),
    Shown(name="x_m", header="x", decimals=2),
    Shown(name="z_m", header="z", decimals=2),
    Shown(name="girth_m", header="girth", decimals=2),
    Shown(name="patch_width_m", header="width", decimals=2),
    Shown(name="patch_height_m", header="height", decimals=2),
    Shown(name="pressure_mpa", header="pressure", decimals=3),
    Shown(name="patch_force_mn", header="force", decimals=3),
)
_PLATED = (
    Shown(name="id", header="plated structure", width="fill"),
    Shown(name="kind", header=""),
    Shown(name="hull_area", header="area"),
    Shown(name="adjacent_web_height_mm", header="parallel web"),
    Shown(name="framing_depth_mm", header="framing", decimals=0),
    Shown(name="inboard_extent_m", header="extent inboard", decimals=2),
    Shown(name="edge_line_load_mn_per_m", header="load on the edge", decimals=3),
)
_SHOWN_CASES = 48  # of one grillage; the others stand in the table


def supports(material: Material) -> Written:
    """Web frames and stringers."""
    if material.supports.rows == 0:
        nothing = "The rule set has no rules for web frames and stringers, or the arrangement has none."
        return Written(markup=heading(1, "Web frames and stringers") + paragraph(nothing))
    groups = material.support_groups
    if "strength_ratio" in groups:
        return Written(markup="".join(_by_formula(material)))
    given = [row for row in range(groups.rows) if bool(groups["stability_ratio"].applies[row])]
    parts = [
        heading(1, "Web frames and stringers"),
        paragraph(
            f"{material.open_supports} of {int(groups['members'].data.sum())} web frame spans and stringer bays under "
            "ice load (one side) are open: their strength has not been shown, or no scantlings are given. Open is not "
            "met. All members are in supports.csv."
        ),
        heading(2, "Load"),
        lead(_peak_words(material.peak_in_grillage)),
        column_table(material.support_loads, _DEMAND, size_pt=7.2),
        heading(2, "Stability"),
        *_stability(groups, given),
        *_hand_over(material),
        *_plated(material),
        samples(material, "support"),
    ]
    return Written(markup="".join(parts))


def _by_formula(material: Material) -> list[str]:
    """The chapter where the rule's own formulas show the strength."""
    groups = material.support_groups
    return [
        heading(1, "Web frames and stringers"),
        paragraph(
            f"{material.open_supports} of {int(groups['members'].data.sum())} web frame spans and stringer bays under "
            "ice load (one side) are open: no scantlings are given for them. Open is not met. All members are in "
            "supports.csv."
        ),
        heading(2, "Strength"),
        paragraph(
            "Each group is members of one kind, hull area and scantlings, by the member that comes closest to its "
            "limit; where no scantlings are given, by the one of which the greatest modulus is asked. Web frames are "
            "taken from deck to deck, through the stringers that they carry. Section moduli are elastic, as built, "
            "with the thinnest plate beside the member over its effective breadth."
        ),
        column_table(groups, [column for column in _STRENGTH if column.name in groups], size_pt=6.8),
        samples(material, "support"),
    ]


def _stability(groups: ColumnTable, given: Sequence[int]) -> list[str]:
    """The groups of which scantlings are given, each by its worst member."""
    if not given:
        return [paragraph("No scantlings are given.")]
    told = (
        "h is the height of the framing that passes through the web, as ship.toml gives it (penetrating_height_mm; 0 "
        "where not given, the severe side). Beside it: the least net depth of the frames fitted there, a dash where "
        "none passes."
    )
    return [lead(told), column_table(groups, _STABILITY, given, size_pt=7.2)]


def _peak_words(peak_in_grillage: bool) -> str:
    """Which peak pressure factor the members carry."""
    if peak_in_grillage:
        inside = "inside a grillage too, as asked for in ship.toml (direct.peak_in_grillage)"
    else:
        inside = (
            "outside a grillage only; inside one the patch carries AF times the mean pressure. This is not confirmed "
            "from the printed page: agree it with the society (direct.peak_in_grillage)"
        )
    return (
        f"The peak pressure factor is laid on the member {inside}. The force is that of the whole patch, one patch at "
        "a time and no other load with it."
    )


def _hand_over(material: Material) -> list[str]:
    """The grillages, and the load cases of the most loaded one."""
    parts = [heading(2, "Hand-over to direct calculation")]
    if material.load_cases.rows == 0:
        return [*parts, paragraph("No member lies in a grillage.")]
    cases, grillages = material.load_cases, material.grillages
    worst = str(grillages.labels("grillage")[int(np.argmax(grillages["patch_force_mn"].data))])
    rows = np.flatnonzero(cases.labels("grillage") == worst)
    strongest = rows[np.argsort(-cases["patch_force_mn"].data[rows], kind="stable")]
    shown = strongest[:_SHOWN_CASES].tolist()
    told = f"All {len(rows)}" if len(rows) <= _SHOWN_CASES else f"The {_SHOWN_CASES} of greatest force of {len(rows)}"
    return [
        *parts,
        lead(
            f"Web frames and stringers of a grillage are calculated directly. {cases.rows} load cases are handed over "
            "in direct_calculation.csv, with net thicknesses. Each is one patch: on web frames between what holds "
            "them and close to either end, on stringers over each web frame and midway between."
        ),
        column_table(grillages, _GRILLAGES),
        lead(
            f"{told} load cases of the grillage {worst}, greatest force first; "
            "places are the patch's centre on the shell."
        ),
        column_table(cases, _CASES, shown, size_pt=6.8),
    ]


def _plated(material: Material) -> list[str]:
    """The plated structures in contact with the shell."""
    table = material.plated
    if table.rows == 0:
        return []
    asked = [row for row in range(table.rows) if table.labels("hull_area")[row]]
    if not asked:
        return []
    return [
        heading(2, "Plated structures in contact with the shell"),
        lead(
            "How far inboard decks and bulkheads count as ice-strengthened, and the load on their edge where the whole "
            "height of the patch bears on it. The clause gives no formula for their stability; it is an item of the "
            "checklist."
        ),
        column_table(table, _PLATED, asked, size_pt=7.2),
    ]


CHAPTERS = (Chapter(id="supports", title="Web frames and stringers", write=supports),)
