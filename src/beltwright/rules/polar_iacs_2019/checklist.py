"""Clauses without a formula, as items that the designer answers for: what each asks for, in our own words."""

from __future__ import annotations

from typing import Final

from beltwright.rules.protocol import ChecklistItem


def _item(name: str, ref: str, requirement: str, classes: tuple[str, ...] = ()) -> ChecklistItem:
    """One item of UR I1 or UR I2."""
    return ChecklistItem(id=name, ref=f"UR {ref[:2]} {ref}", requirement=requirement, classes=classes)


CHECKLIST: Final = (
    _item("both_hull_and_machinery", "I1.1.2",
          "the class notation rests on the machinery requirements (UR I3) too; where hull and machinery differ, both "
          "get the lower class and the higher one is stated besides"),
    _item("independent_operation", "I1.1.4",
          "hull form and power let the ship make way on its own in ice of its class; if not intended, the limitation "
          "is stated in the certificate"),
    _item("no_ramming_statement", "I1.1.6",
          "with a vertical-sided or bulbous bow, the certificate states that the ship does not ram intentionally",
          ("PC6", "PC7")),
    _item("ice_waterlines_stated", "I1.3",
          "the draughts fore, amidships and aft of both ice waterlines are stated in the certificate, and the lower "
          "one keeps the propeller fully submerged"),
    _item("inertial_loads", "I2.3.1(ix)",
          "supports of cargo and equipment withstand the accelerations of impacts between ship and ice; the values "
          "come from the society"),
    _item("framing_details", "I2.5.4",
          "details where framing members cross each other and plated structures, and at the ends of frames, meet the "
          "society's requirements"),
    _item("web_openings", "I2.8",
          "shear capacity of web frames and stringers is shown in way of lightening holes and of cut-outs where "
          "members cross"),
    _item("plated_fixity", "I2.10",
          "plating and stiffeners of decks, bulkheads and inner bottom beside the shell give the fixity that the shell "
          "framing relies on"),
    _item("plated_stability", "I2.10",
          "plated structures in contact with the shell stay stable under the ice load on their edge"),
    _item("grades_of_other_structure", "I2.12.2",
          "structure that is neither shell nor framing on it (decks, bulkheads, coamings, members that UR S6 Tables 2 "
          "to 5 name by ship type) has the grade of UR S6 for its class, in the cold that of UR S6.2"),
    _item("grades_of_appendages", "I2.12.2",
          "plates of stem, stern frame, rudder, nozzle, shaft brackets, ice skegs and knives have the grade of their "
          "class; those described under appendages in ship.toml are checked, the others answered here"),
    _item("castings", "I2.12.5",
          "castings and forgings have properties for the temperature of service: the tables of grades are for plate, "
          "so composition, heat treatment and impact tests are agreed with the society"),
    _item("stem_and_stern_frames", "I2.14",
          "stem and stern frames follow the society's requirements; a ship that needs an equivalent Baltic class may "
          "need that class's rules for them too"),
    _item("appendages", "I2.15",
          "appendages withstand forces that suit where they are attached; loads and criteria come from the society"),
    _item("load_transfer", "I2.16.1",
          "intersections and connections carry the ice load from the framing to the structure that supports it, by the "
          "society's requirements"),
    _item("cut_outs", "I2.16.2",
          "loads in way of cut-outs cause no instability; the structure is stiffened where needed"),
    _item("welding_double_continuous", "I2.18.1",
          "all welds within ice-strengthened areas are double continuous"),
    _item("continuity_of_strength", "I2.18.2",
          "strength is continuous at every connection of structure"),
)  # fmt: skip
