"""Steel weight against hand sums, a box whose mass is known exactly, and a symmetric ship's centre."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.findings import Findings
from beltwright.materials.hull_steel import plate_mass_kg_per_m2
from beltwright.scantlings.design import Design
from beltwright.weights.steel import SteelWeight, steel_weight

DENSITY_T_M3 = 7.85


def opening(side: str, **more: Any) -> ships.Edit:
    """One opening of 1.2 m2 in the side amidships."""
    line = {"name": "door", "x_m": 22.25, "z_m": 3.1, "length_m": 1.5, "height_m": 0.8, "side": side, **more}
    return lambda doc: doc.update(openings=[line])


def weighed(*edits: ships.Edit) -> SteelWeight:
    return steel_weight(ships.redesigned(*edits))


def by_hand(design: Design) -> tuple[float, np.ndarray]:
    """Mass [t] and first moments of both sides, member by member; kind: hand."""
    mass, moments = 0.0, np.zeros(3)
    panels, frames = design.arrangement.panels, design.arrangement.frames
    for row in range(panels.rows):
        thickness = float(design.plating["thickness_as_built_mm"].data[row])
        if np.isnan(thickness):
            continue
        for side, name in ((1.0, "port"), (-1.0, "starboard")):
            area = float(panels["area_m2"].data[row]) - float(panels[f"opening_{name}_m2"].data[row])
            one = area * thickness / 1000.0 * DENSITY_T_M3
            at = np.array([float(panels[f"centroid_{axis}_m"].data[row]) for axis in "xyz"]) * [1.0, side, 1.0]
            mass, moments = mass + one, moments + one * at
    for row in range(frames.rows):
        each = float(design.frames["mass_kg_per_m"].data[row])
        if np.isnan(each):
            continue
        one = each / 1000.0 * float(frames["length_m"].data[row])
        at = np.array([float(frames[f"centroid_{axis}_m"].data[row]) for axis in "xyz"])
        mass, moments = mass + 2.0 * one, moments + 2.0 * one * at * [1.0, 0.0, 1.0]
    return mass, moments


def test_sum_by_hand() -> None:
    weight = steel_weight(ships.baseline())
    mass, moments = by_hand(ships.baseline())
    assert weight.modelled_t == pytest.approx(mass, rel=1e-12)
    assert weight.centre_m == pytest.approx(tuple(moments / mass), rel=1e-12, abs=1e-12)
    assert 50.0 < weight.modelled_t < 300.0
    # each member's own mass adds up to the same
    assert (np.nansum(weight.plate_mass_kg) + np.nansum(weight.frame_mass_kg)) / 1000.0 == pytest.approx(
        mass, rel=1e-12
    )


def test_the_table_adds_up() -> None:
    weight = steel_weight(ships.baseline())
    table = weight.table
    mass = table.values("mass_t")
    assert float(mass.sum()) == pytest.approx(weight.modelled_t, rel=1e-12)
    for axis, name in enumerate(("lcg_m", "tcg_m", "vcg_m")):
        assert float(mass @ table.values(name)) / weight.modelled_t == pytest.approx(weight.centre_m[axis], abs=1e-9)
    rows = list(zip(table.labels("hull_area").tolist(), table.labels("kind").tolist(), strict=True))
    assert len(set(rows)) == len(rows)
    design = ships.baseline()
    count = {row: int(n) for row, n in zip(rows, table["members"].data, strict=True)}
    area = design.plating.labels("hull_area")
    assert count[("Mi", "plating")] == 2 * int((area == "Mi").sum())
    assert all(n % 2 == 0 and n > 0 for n in count.values())


def test_a_symmetric_ship_has_its_centre_on_the_centreline() -> None:
    assert steel_weight(ships.baseline()).centre_m[1] == 0.0


@pytest.mark.slow
def test_an_opening_on_one_side_shifts_the_centre_to_the_other() -> None:
    """kind: hand. A door of 1.5 x 0.8 m in side plating of t mm takes 1.2 t/1000 7.85 t off one side at y = 5.2 m."""
    base = steel_weight(ships.baseline())
    port, starboard, both = (steel_weight(arranged_anew(opening(side))) for side in ("port", "starboard", "both"))
    lost = base.modelled_t - port.modelled_t
    thickness = lost / (1.5 * 0.8 * DENSITY_T_M3) * 1000.0
    assert thickness == pytest.approx(21.0, abs=4.0)  # the belt amidships
    assert port.centre_m[1] < 0.0 < starboard.centre_m[1]
    assert port.centre_m[1] == pytest.approx(-starboard.centre_m[1], rel=1e-12)
    assert port.centre_m[1] * port.modelled_t == pytest.approx(-lost * 5.2, rel=0.05)
    assert port.modelled_t == pytest.approx(starboard.modelled_t, rel=1e-12)
    assert base.modelled_t - both.modelled_t == pytest.approx(2.0 * lost, rel=1e-9)
    assert both.centre_m[1] == 0.0


def arranged_anew(edit: ships.Edit) -> Design:
    """The design with an arrangement of its own: openings belong to the arrangement."""
    from beltwright.arrangement.arrange import arrange
    from beltwright.rules.registry import rule_set
    from beltwright.scantlings.build import design_on

    given = ships.ship(edit)
    arrangement = arrange(given, ships.measured().shell)
    return design_on(given, rule_set(given.ice.rules), ships.measured(), arrangement, Findings())


def test_allowances_are_shares_of_the_modelled_mass() -> None:
    """kind: hand. 0.7 + 1.2 + 3.0 = 4.9 %; centres are those of the modelled mass."""
    shares = {"mill_tolerance": 0.007, "weld_metal": 0.012, "brackets_and_details": 0.03}
    bare, with_all = weighed(), weighed(lambda doc: doc.update(weights=shares))
    assert bare.total_t == bare.modelled_t
    assert [a.mass_t for a in bare.allowances] == [0.0, 0.0, 0.0]
    assert with_all.modelled_t == bare.modelled_t
    assert with_all.total_t == pytest.approx(1.049 * bare.modelled_t, rel=1e-12)
    assert [(a.name, a.share) for a in with_all.allowances] == [
        ("mill tolerance", 0.007), ("weld metal", 0.012), ("brackets and details", 0.03)
    ]  # fmt: skip
    assert with_all.centre_m == bare.centre_m


def test_members_without_a_scantling_are_named_not_guessed() -> None:
    weight = steel_weight(ships.baseline())
    design = ships.baseline()
    bare_panels = int(np.isnan(design.plating["thickness_as_built_mm"].data).sum())
    bare_frames = int((design.frames.labels("section") == "").sum())
    told = [f for f in weight.findings if f.kind.code == "BW501"]
    assert len(told) == 1
    assert bare_panels > 0
    assert f"{2 * bare_panels} panels and {2 * bare_frames} frame spans" in told[0].message
    full = weighed(
        lambda doc: doc.update(stock={"floor_mm": 10.0}),
        lambda doc: doc.update(frame_sections=[{"section": "HP240x12"}]),
    )
    assert not [f for f in full.findings if f.kind.code == "BW501"]
    assert not np.isnan(full.plate_mass_kg).any()


def test_thickness_and_density() -> None:
    """common practice, no source: a square metre of 35 mm plate weighs about 605 lb (1 lb = 0.45359237 kg)."""
    kilograms = float(plate_mass_kg_per_m2(35.0))
    assert kilograms == pytest.approx(0.035 * 7850.0, rel=1e-12)
    assert kilograms / 0.45359237 == pytest.approx(605.0, abs=1.0)


def test_given_plates_weigh_exactly_area_times_thickness() -> None:
    """All plates 20 mm: the shell's framed area, both sides, times 0.157 t/m2; kind: hand."""
    weight = weighed(
        lambda doc: doc.update(plates=[{"thickness_as_built_mm": 20.0}]),
        lambda doc: doc.update(frame_sections=[{"section": "FB150x12"}]),
    )
    plates = weight.table.labels("kind") == "plating"
    area = float(ships.arranged().panels.values("area_m2").sum())
    assert float(weight.table.values("mass_t")[plates].sum()) == pytest.approx(2.0 * area * 0.157, rel=1e-12)
    assert area == pytest.approx(ships.arranged().framed_area_m2, rel=2e-3)
    length = float(ships.arranged().frames.values("length_m").sum())
    # FB150x12: 0.150 x 0.012 x 7850 = 14.13 kg/m
    frames = float(weight.table.values("mass_t")[~plates].sum())
    assert frames == pytest.approx(2.0 * length * 14.13e-3, rel=1e-12)
