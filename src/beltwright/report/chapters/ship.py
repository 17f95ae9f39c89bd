"""Ship, rules, decisions and conventions."""

from __future__ import annotations

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.sheets.angles import conventions_figure
from beltwright.report.edition import edition_markup
from beltwright.report.markup import bullets, figure, grid_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written


def ship_and_rules(material: Material) -> Written:
    """Who the ship is, the documents with edition and applicability, what was decided and overridden."""
    title = material.picture.title
    rows = [
        ("ship", title.ship), ("owner", title.owner), ("building yard", title.yard), ("design office", title.designer),
        ("revision of the description", title.revision), ("ice class", title.ice_class),
        ("inputs, fingerprint", title.input_hash), ("program", f"beltwright {title.program_version}"),
    ]  # fmt: skip
    parts = [
        heading(1, "Ship and rules"),
        grid_table((("", "", "left", "44"), ("", "", "left", "fill")), rows),
        heading(2, "Documents"),
        grid_table(
            (
                ("document", "", "left", "22"),
                ("title", "", "left", "fill"),
                ("edition", "", "left", "44"),
                ("applies to", "", "left", "fill"),
            ),
            [(d.short, d.title, d.edition, d.applicability) for d in material.documents],
        ),
        edition_markup(material),
        heading(2, "Decisions"),
        paragraph("What was chosen where the documents are silent or leave a choice, and why."),
        bullets(material.decisions) or paragraph("None."),
        heading(2, "Overrides by the user"),
    ]
    if material.overrides:
        header = (("subject", "", "left", "50"), ("written reason", "", "left", "fill"))
        parts.append(grid_table(header, [(o.key, o.reason) for o in material.overrides]))
    else:
        parts.append(paragraph("None."))
    return Written(markup="".join(parts))


_CONVENTIONS = (
    (
        "x is measured from the aft perpendicular, forward positive; y to port; z up from the baseline. "
        "Distances aft of the "
        "stem are from its fore side at the upper ice waterline and are always named so."
    ),
    (
        "α is the waterline angle from the centreline, β the frame angle from vertical in the transverse "
        "plane, β′ the frame "
        "angle from vertical in the plane square to the waterline, γ the buttock angle from horizontal. They "
        "are read from "
        "the outward normal of the surface, so that tan β = tan α / tan γ and tan β′ = tan β cos α."
    ),
    (
        "Spans are measured along the shell in the frame's plane; spacing along the waterline on the shell "
        "between adjacent "
        "frames. Net and as-built thickness are different quantities and never stand in one column."
    ),
    "Lengths in m, thickness in mm, force in MN, pressure in MPa, displacement in kt (1 kt = 1,000 t), mass in t.",
    "A dash in a table means that the quantity does not apply there; the result file carries the reason.",
)


def conventions(material: Material) -> Written:
    """Axes, angles and units, with a figure."""
    parts = [
        heading(1, "Conventions"),
        bullets(_CONVENTIONS),
        figure(
            "conventions.svg",
            "Axes and distances"
            + ("; the chapter on hull angles shows the angles at every station" if material.stations.rows else ""),
            "100%",
        ),
    ]
    return Written(markup="".join(parts), pictures={"conventions.svg": to_svg(conventions_figure(material.picture))})


CHAPTERS = (
    Chapter(id="ship", title="Ship and rules", write=ship_and_rules),
    Chapter(id="conventions", title="Conventions", write=conventions),
)
