"""Frames: one frame of each hull area in full, the groups in a table."""

from __future__ import annotations

from beltwright.report.chapters.members import groups, samples
from beltwright.report.markup import Shown, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written
from beltwright.scantlings.codes import RESTS_ON_READING

_SHOWN = (
    Shown(name="hull_area", header="area"),
    Shown(name="id", header="governing frame"),
    Shown(name="section", header="section"),
    Shown(name="grade", header="grade"),
    Shown(name="source", header="source"),
    Shown(name="shear_area_required_cm2", header="shear area req."),
    Shown(name="shear_area_offered_cm2", header="offered"),
    Shown(name="modulus_required_cm3", header="modulus req.", decimals=0),
    Shown(name="modulus_offered_cm3", header="offered", decimals=0),
    Shown(name="ratio", header="ratio", decimals=2),
    Shown(name="governing", header="governed by", width="fill"),
    Shown(name="mass_kg_per_m", header="mass"),
    Shown(name="outcome", header="outcome"),
)


def frames(material: Material) -> Written:
    """Frames."""
    parts = [
        heading(1, "Frames"),
        paragraph(
            "Each group of frames with one section and grade, by the frame that comes closest to its limit. The "
            "table of "
            "all frames is in frames.csv."
        ),
        *(paragraph(line) for line in _readings(material)),
        groups(material, material.frames, _SHOWN),
        samples(material, "frame"),
    ]
    return Written(markup="".join(parts))


def _readings(material: Material) -> list[str]:
    """What the requirements rest on beyond the printed rule, from the findings."""
    told = [finding for finding in material.findings if finding.kind.code == RESTS_ON_READING.code]
    return [f"Not confirmed ({finding.kind.code}): {finding.message}." for finding in told]


CHAPTERS = (Chapter(id="frames", title="Frames", write=frames),)
