"""Clauses without a formula, as items that the designer answers for: what each asks for, in our own words."""

from __future__ import annotations

from typing import Final

from beltwright.rules.protocol import ChecklistItem

_STRONGER = ("IA Super", "IA")


def _item(name: str, clause: str, requirement: str, classes: tuple[str, ...] = ()) -> ChecklistItem:
    """One item of the regulation."""
    return ChecklistItem(id=name, ref=f"FSICR {clause}", requirement=requirement, classes=classes)


CHECKLIST: Final = (
    _item("ice_draught_marks", "2.3",
          "where the summer load line in fresh water lies above the upper ice waterline, the warning triangle and the "
          "ice draught mark stand on the side and the greatest ice draughts in the certificate"),
    _item("openings_in_belt", "4.3.1",
          "no side scuttle lies in the ice belt; where it reaches a bulwark or freeing ports, these are as strong as "
          "is asked of the shell there"),
    _item("frame_ends_in_zone", "4.4.2",
          "ice frames are attached to a deck, tank top, tank bottom or ice stringer at both ends of their strengthened "
          "part; an intermediate frame that ends short of one is held by a horizontal member to its neighbours"),
    _item("frame_attachment", "4.4.4.1",
          "frames are attached to every support in the strengthened area: longitudinals by brackets to all webs and "
          "bulkheads, ends of transverse frames by brackets, and both sides of a web that runs through; a bracket is "
          "at least as thick as the frame's web and its edge is stiffened against buckling"),
    _item("frame_welding", "4.4.4.2",
          "frames are welded to the shell by double continuous welds, without scallops except over butts of the shell; "
          "plates that act in place of a frame have its web thickness"),
    _item("hatch_side_deflection", "4.5.3",
          "deck strips beside long hatches act as ice stringers; covers and fittings allow for the deflection of the "
          "side under ice pressure"),
    _item("stem_form", "4.7",
          "the stem is rolled, cast or forged steel, or of shaped plates; the latter are checked where they are "
          "described under stem in ship.toml"),
    _item("side_shafts", "4.8",
          "shafts beside the centreline run in plated bossings; detached struts, and sterns with azimuthing units, are "
          "designed for their ice loads"),
    _item("rudder_and_steering", "5",
          "rudder, stock and steering gear are sized for a speed of at least 20, 18, 16 and 14 knots in IA Super, IA, "
          "IB and IC; the rudder counts as ice belt, its plating and frames take the pressure of the midbody"),
    _item("ice_knife_and_stoppers", "5",
          "rudder and stock are protected by an ice knife that reaches below the lower ice waterline if practicable; "
          "stoppers and relief valves take the load of going astern", _STRONGER),
    _item("propulsion_machinery", "6",
          "propellers, shafts and machinery meet the regulation's chapter on machinery; it is not covered here"),
    _item("sea_chests", "7",
          "a sea chest for use in ice lies near the centreline and aft, has about one cubic metre for each 750 kW of "
          "engine output with what else is cooled, and strainers open for at least four times the inlet's area"),
    _item("starting_air", "7",
          "air holds at least six starts, twelve where the engine reverses, and is filled again in an hour, in half an "
          "hour in IA Super where the engine reverses"),
)  # fmt: skip
