"""Shell plating: one panel of each hull area in full, the groups in a table."""

from __future__ import annotations

from beltwright.report.chapters.members import groups, samples
from beltwright.report.markup import Shown, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_SHOWN = (
    Shown(name="hull_area", header="area"),
    Shown(name="id", header="governing panel"),
    Shown(name="spacing_m", header="spacing"),
    Shown(name="span_m", header="span", decimals=2),
    Shown(name="omega_deg", header="Ω", decimals=0),
    Shown(name="peak_pressure_factor", header="peak factor", decimals=2),
    Shown(name="area_factor", header="area factor", decimals=2),
    Shown(name="pressure_avg_mpa", header="mean p", decimals=2),
    Shown(name="thickness_net_required_mm", header="net req."),
    Shown(name="addition_mm", header="add."),
    Shown(name="thickness_required_mm", header="required"),
    Shown(name="thickness_as_built_mm", header="as built"),
    Shown(name="grade", header="grade"),
    Shown(name="source", header="source"),
    Shown(name="ratio", header="ratio", decimals=2),
    Shown(name="outcome", header="outcome"),
)


def plating(material: Material) -> Written:
    """Plating."""
    parts = [
        heading(1, "Shell plating"),
        paragraph(
            "Each group of panels with one thickness and grade, by the panel that comes closest to its limit. "
            "The table "
            "of all panels is in panels.csv."
        ),
        groups(material, material.panels, _SHOWN),
        samples(material, "plate"),
    ]
    return Written(markup="".join(parts))


CHAPTERS = (Chapter(id="plating", title="Shell plating", write=plating),)
