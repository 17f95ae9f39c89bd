"""Steel weight of plating and frames by hull area, with allowances, total and centre."""

from __future__ import annotations

from collections.abc import Iterator

from beltwright.report.markup import Shown, bullets, column_table, grid_table, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.numbers import fixed
from beltwright.report.registry import Chapter, Written

_SHOWN = (
    Shown(name="hull_area", header="area"),
    Shown(name="kind", header="kind", width="24"),
    Shown(name="area_m2", header="shell weighed", width="24"),
    Shown(name="length_m", header="frames weighed", decimals=1, width="24"),
    Shown(name="mass_t", header="mass", width="20"),
    Shown(name="lcg_m", header="from AP", decimals=2, width="22"),
    Shown(name="tcg_m", header="to port", decimals=2, width="22"),
    Shown(name="vcg_m", header="from baseline", decimals=2, width="22"),
)
_MEMBERSHIP = (
    "A panel or frame that a border crosses counts whole, with the hull area whose factor it takes, and panels run to "
    "the next level and so reach beyond the belt. The shell weighed is therefore not the area inside the borders, "
    "which the chapter on hull areas gives."
)
_ICED = (
    Shown(name="name", header="surface", width="fill"),
    Shown(name="kind", header="kind", width="16"),
    Shown(name="area_m2", header="area", width="20"),
    Shown(name="mass_t", header="ice", width="18"),
    Shown(name="lcg_m", header="from AP", decimals=2, width="22"),
    Shown(name="tcg_m", header="to port", decimals=2, width="22"),
    Shown(name="vcg_m", header="from baseline", decimals=2, width="24"),
)
_ICE = (
    "Ice on exposed decks and on both sides by Polar Code 4.3.1.1, an item of weight for stability. It is in no sum of "
    "steel and not in the displacement from which the ice loads are taken. Sides: one side with small parts, ice on "
    "both. The loads per area come from an extract and are not confirmed from the printed page."
)


def weights(material: Material) -> Written:
    """Weights."""
    steel = material.weights
    long, across, up = steel.centre_m
    rows = [(words, fixed(mass, 2)) for words, mass in steel.allowances]
    rows.append(("total with allowances", fixed(steel.total_t, 2)))
    parts = [
        heading(1, "Steel weight"),
        lead(
            "Both sides. Plating by area of the shell times as-built thickness, frames by length along the shell."
        ),
        column_table(steel.table, _SHOWN),
        paragraph(_MEMBERSHIP),
        paragraph(
            f"Not weighed: {fixed(steel.not_weighed_m2, 1)} m² of shell without a thickness, both sides; web frames, "
            "floors, stringers."
        ),
        heading(2, "Allowances and total"),
        grid_table((("", "", "left", "fill"), ("mass", "t", "right", "28")), rows),
        paragraph(f"Centre of the total: {fixed(long, 2)} m from the aft perpendicular, {fixed(across, 2)} m to port, "
                  f"{fixed(up, 2)} m above the baseline."),
        bullets(steel.remarks),
        *_icing(material),
    ]  # fmt: skip
    return Written(markup="".join(parts))


def _icing(material: Material) -> Iterator[str]:
    """The icing allowance, where the ship names surfaces."""
    ice = material.weights.icing
    if ice is None:
        return
    x, y, z = ice.centre_m
    yield heading(2, "Icing allowance")
    yield paragraph(_ICE)
    yield column_table(ice.table, _ICED)
    yield paragraph(
        f"Ice in all {fixed(ice.mass_t, 2)} t; centre {fixed(x, 2)} m from the aft perpendicular, {fixed(y, 2)} m to "
        f"port, {fixed(z, 2)} m above the baseline."
    )


CHAPTERS = (Chapter(id="weights", title="Steel weight", write=weights),)
