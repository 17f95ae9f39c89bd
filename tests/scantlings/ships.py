"""A small invented ship for the tests of the whole path: half the size of the PC4 demo form, wide bays, few members."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.core.findings import Findings
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.parameters import BowForm, HullForm, SternForm
from beltwright.hull.patch import Patch
from beltwright.hull.placing import PlacedHull
from beltwright.scantlings.build import check_description, design_on, design_ship
from beltwright.scantlings.design import Design, HullMeasures
from beltwright.scantlings.measure import measure_hull
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import Ship
from beltwright.ship.parse import parse_ship

Document = dict[str, Any]
Edit = Callable[[Document], object]
FOLDER = Path("small-test-ship")  # stands for a ship folder; nothing is there

FORM = HullForm(
    name="Small test ship",
    stem_x_m=47.5,
    beam_m=10.5,
    depth_m=5.9,
    draught_m=3.8,
    midship_coefficient=0.92,
    run_angle_deg=14.0,
    bow=BowForm(
        station_aft_of_stem_m=(1.7, 5.1, 8.5, 11.9),
        waterline_angle_deg=(28.0, 23.0, 17.0, 12.0),
        buttock_angle_deg=(25.0, 29.0, 35.0, 42.0),
        length_m=13.6,
        stem_angle_deg=23.996,
        shoulder_buttock_angle_deg=52.0,
    ),
    stern=SternForm(
        parallel_side_end_x_m=14.0, transom_x_m=-1.5, transom_half_breadth_m=1.75, fineness=0.9, run_fraction=0.5
    ),
)


def document() -> Document:
    """The description as ``ship.toml`` would give it: nothing in it raises a caution."""
    return {
        "effective_protection": True,
        "ship": {"name": "Small test ship", "contract_date": date(2024, 3, 1)},
        "hull": {"file": "hull.step", "depth_m": 5.9},
        "ice": {"rules": "polar_iacs_2019", "ice_class": "PC4"},
        "propulsion": {"kind": "shafts with rudders", "rudder_stock_x_m": 0.0},
        "water": {"density_t_m3": 1.025, "shell_and_appendages_t": 6.0},
        "waterlines": {
            "upper": [{"x_m": 0.0, "draught_m": 3.8}, {"x_m": 47.5, "draught_m": 3.8}],
            "lower": [{"x_m": 0.0, "draught_m": 3.4}, {"x_m": 47.5, "draught_m": 3.2}],
        },
        "frames": [{"from_frame": -3, "to_frame": 106, "spacing_m": 0.5}],
        "levels": [
            {"name": "tank top", "kind": "inner bottom", "height_m": 1.0},
            {"name": "stringer", "kind": "load-carrying stringer", "height_m": 2.4},
            {"name": "deck", "kind": "deck", "height_m": 3.8},
            {"name": "upper stringer", "kind": "load-carrying stringer", "height_m": 4.9},
            {"name": "main deck", "kind": "deck", "height_m": 5.9},
        ],
        "zones": [
            {
                "name": "side", "from_frame": -3, "to_frame": 106, "from_level": "tank top", "to_level": "main deck",
                "orientation": "transverse", "web_frame_spacing_m": 2.0,
            },
            {
                "name": "bottom", "from_frame": 13, "to_frame": 82, "to_level": "tank top",
                "orientation": "longitudinal", "spacing_m": 0.6, "web_frame_spacing_m": 2.0,
            },
        ],
        "steel": {"plate_grade": "EH36", "frame_grade": "EH36"},
    }  # fmt: skip


def edited(*edits: Edit) -> Document:
    """The description with changes made in place."""
    doc = deepcopy(document())
    for edit in edits:
        edit(doc)
    return doc


def ship(*edits: Edit) -> Ship:
    """The ship of the edited description."""
    return parse_ship(edited(*edits))


@cache
def patches() -> tuple[Patch, ...]:
    """The hull's faces, made once."""
    return hull_patches(FORM)


def placed(faces: tuple[Patch, ...] | None = None) -> PlacedHull:
    """The hull as a reader and the placing hand it over."""
    return PlacedHull(
        patches=patches() if faces is None else faces,
        left_out=(), findings=(), detection=(), source="form", format="form", sha256="0" * 64,
    )  # fmt: skip


def designed(*edits: Edit, cases: tuple[LoadingCase, ...] = (), faces: tuple[Patch, ...] | None = None) -> Design:
    """The whole path from the description."""
    return design_ship(ship(*edits), cases, placed(faces))


@cache
def measured() -> HullMeasures:
    """The hull's measures, made once."""
    return measure_hull(ship(), (), placed(), Findings())


@cache
def arranged() -> Arrangement:
    """The arrangement, made once."""
    return arrange(ship(), measured().shell)


def redesigned(*edits: Edit) -> Design:
    """The design after changes that leave hull, waterlines and arrangement alone: class, steel, plates, stock."""
    given, findings = ship(*edits), Findings()
    rules = check_description(given, findings)
    return design_on(given, rules, measured(), arranged(), findings)


@cache
def baseline() -> Design:
    """The unedited design, made once."""
    return redesigned()
