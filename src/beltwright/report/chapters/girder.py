"""Longitudinal strength in ice: the fitted bow, the force, the curves along the ship, stresses and buckling."""

from __future__ import annotations

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.sheets.girder import girder_figure
from beltwright.report.calculation import calculation, names_told
from beltwright.report.chapters.told import told_names
from beltwright.report.girder import GirderMaterial, places_shown
from beltwright.report.markup import Shown, calculation_lines, column_table, figure, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

TITLE = "Longitudinal strength in ice"
_FITS = (
    Shown(name="tolerance_mm", header="tolerance"),
    Shown(name="bow_length_m", header="bow length", decimals=2),
    Shown(name="bow_exponent", header="bow exponent"),
    Shown(name="rms_mm", header="root mean square", decimals=0),
    Shown(name="worst_mm", header="largest difference", decimals=0),
    Shown(name="worst_at_m", header="aft of stem", decimals=2),
    Shown(name="ice_force_mn", header="force at the bow"),
)
_DEMAND = (
    Shown(name="place", header="place", width="fill"),
    Shown(name="x_m", header="x", decimals=2),
    Shown(name="length_share", header="share of length"),
    Shown(name="ice_shear_positive_mn", header="ice shear, positive", decimals=2, width="20"),
    Shown(name="ice_shear_negative_mn", header="ice shear, negative", decimals=2, width="20"),
    Shown(name="still_water_shear_mn", header="still-water shear", decimals=2, width="20"),
    Shown(name="ice_moment_mnm", header="ice moment", decimals=1, width="18"),
    Shown(name="still_water_moment_mnm", header="still-water moment", decimals=1, width="20"),
)
_STRESSES = (
    Shown(name="place", header="place", width="fill"),
    Shown(name="x_m", header="x", decimals=2),
    Shown(name="stress_deck_mpa", header="deck", decimals=1),
    Shown(name="stress_bottom_mpa", header="bottom", decimals=1),
    Shown(name="allowed_tension_mpa", header="allowed", decimals=1),
    Shown(name="stress_shear_mpa", header="shear", decimals=1),
    Shown(name="allowed_shear_mpa", header="allowed", decimals=1),
    Shown(name="ratio", header="ratio", decimals=2),
    Shown(name="governing", header="governs"),
    Shown(name="outcome", header="outcome"),
)
_BUCKLING = (
    Shown(name="name", header="member", width="fill"),
    Shown(name="check", header="check"),
    Shown(name="x_m", header="x", decimals=2),
    Shown(name="stress_mpa", header="stress", decimals=1),
    Shown(name="allowed_mpa", header="allowed", decimals=1),
    Shown(name="ratio", header="ratio", decimals=2),
    Shown(name="outcome", header="outcome"),
)
_CURVES = "Shear force and bending moment along the ship; carried: at the allowed stress"
_OUTCOMES = {
    "met": "All stresses that were checked are within their limits.",
    "not met": "A stress is beyond its limit: see the marked lines.",
    "not checked": "Stresses are not checked: the hull girder is not given. Force, shear and moment stand without it.",
}


def girder(material: Material) -> Written:
    """The whole chapter, or one sentence where ramming is not considered or the rules have no such chapter."""
    given = material.girder
    parts = [heading(1, TITLE)]
    if given is None:
        return Written(markup="".join([*parts, paragraph("The rule set has no chapter on it.")]))
    if given.outcome == "not applicable":
        parts.append(paragraph(f"Not applicable: {given.why_not}."))
        return Written(markup="".join(parts))
    parts += [paragraph(_OUTCOMES[given.outcome]), *(paragraph(f"{choice}.") for choice in given.choices)]
    parts += _bow(given)
    parts += _along(given)
    parts += _buckling(given)
    parts += _told(material, given)
    pictures = {} if given.picture is None else {"girder.svg": to_svg(girder_figure(given.picture))}
    return Written(markup="".join(parts), pictures=pictures)


def _bow(given: GirderMaterial) -> list[str]:
    """The fit of the bow's waterline."""
    return [
        heading(2, "Bow at the upper ice waterline"),
        lead(
            "The half-breadth is fitted by least squares as B/2 times a power of the distance from the stem over the "
            "bow's length. The length ends where the half-breadth is its greatest within a tolerance. Differences are "
            "fitted less measured half-breadth."
        ),
        column_table(given.fits, _FITS),
    ]


def _along(given: GirderMaterial) -> list[str]:
    """The demand along the ship, its figure, and the stresses."""
    rows = places_shown(given.stations)
    parts = [
        heading(2, "Shear force and bending moment"),
        lead(
            "Ice loads combine with permissible still-water loads only, the sagging moment and the shear force of "
            "either sign. Every place is in the table girder.csv; beyond the rule length, with which "
            "the ice loads begin and end, there is none."
        ),
        column_table(given.stations, _DEMAND, rows),
        figure("girder.svg", _CURVES, "100%", floating=True),
    ]
    checked = [row for row in rows if given.stations.labels("outcome")[row] != "not checked"]
    if checked:
        parts += [
            heading(2, "Stresses of the hull girder"),
            lead("Deck in compression, bottom in tension; both are held to the same limit."),
            column_table(given.stations, _STRESSES, checked),
        ]
    return parts


def _buckling(given: GirderMaterial) -> list[str]:
    """The members checked for buckling."""
    if not given.buckling.rows:
        return []
    return [
        heading(2, "Buckling"),
        lead(
            "Each member at the worst place of its extent. Members of the bottom are in tension: ramming ice brings "
            "sagging only."
        ),
        column_table(given.buckling, _BUCKLING),
    ]


def _told(material: Material, given: GirderMaterial) -> list[str]:
    """The calculations in full, each without what was told before it."""
    known = told_names(material)
    parts = []
    for part in given.parts:
        lines = calculation(part.trace, part.wanted, known)
        if lines:
            parts += [heading(2, part.title), calculation_lines(lines)]
        if part.trace is given.parts[0].trace or part.title.startswith("Place"):
            known |= names_told(part.trace, part.wanted, known)
    return parts


CHAPTERS = (Chapter(id="girder", title=TITLE, write=girder),)
