"""The findings of reading and placing a hull, BW120 to BW135."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

UNIT_MISSING = register(
    "BW120", Severity.BLOCK, "The file states no length unit",
    "State hull.length_unit; the message lists the units that would give a ship of plausible length.",
)  # fmt: skip
UNIT_IMPLAUSIBLE = register(
    "BW121", Severity.BLOCK, "The hull's length is not plausible",
    "Check the unit in which the file was exported and state hull.length_unit.",
)  # fmt: skip
UNIT_OVERRULED = register(
    "BW122", Severity.CAUTION, "The stated unit differs from the file's own",
    "The unit in the ship's description is used; make sure that it is right.",
)  # fmt: skip
X_DIRECTION_UNCLEAR = register(
    "BW123", Severity.BLOCK, "Bow and stern cannot be told apart",
    'State hull.x_direction: "forward" if x grows towards the bow in the file, else "aft".',
)  # fmt: skip
X_AFT = register(
    "BW124", Severity.CAUTION, "x grows aft in the file",
    "The hull was turned round; check that the bow in the profile is the bow.",
)  # fmt: skip
X_ORIGIN = register(
    "BW125", Severity.BLOCK, "The aft perpendicular cannot be told",
    "The file's x does not start near its aft end; state hull.ap_x_m, the perpendicular's place on the file's axis.",
)  # fmt: skip
Z_ORIGIN = register(
    "BW126", Severity.CAUTION, "The hull does not stand on z = 0",
    "The lowest point was taken as the baseline; state hull.baseline_z_m, the baseline's z in the file.",
)  # fmt: skip
SIDE_MIRRORED = register(
    "BW127", Severity.NOTE, "A starboard half was mirrored to port", "Nothing, if the hull is symmetric.",
)  # fmt: skip
SIDE_UNCLEAR = register(
    "BW128", Severity.BLOCK, "Neither a half nor a whole hull about y = 0",
    "Move the hull in the file so that its centre plane is y = 0, or state hull.centreline_y_m.",
)  # fmt: skip
ASYMMETRIC = register(
    "BW129", Severity.CAUTION, "Port and starboard differ",
    "The port half is used; state hull.side to use the other, or mend the file.",
)  # fmt: skip
CENTRELINE_SHIFTED = register(
    "BW130", Severity.CAUTION, "The hull's centre plane is not y = 0",
    "The whole hull was moved to its own middle; check that nothing is missing on one side.",
)  # fmt: skip
UP_UNCLEAR = register(
    "BW131", Severity.BLOCK, "z does not seem to point upwards",
    'State hull.up_axis: "z" if the file is right as it is, else the axis that points up ("-z", "y", "-y", "x", "-x").',
)  # fmt: skip
LENGTH_AXIS = register(
    "BW132", Severity.BLOCK, "The hull's length does not lie along x",
    'State hull.length_axis ("x" or "y"), the axis along the ship in the file.',
)  # fmt: skip
INNER_FACE = register(
    "BW133", Severity.CAUTION, "Faces that are not shell were left out",
    "Decks and bulkheads in the file are not part of the shell; check that each named face is one.",
)  # fmt: skip
READER_REMARK = register(
    "BW134", Severity.CAUTION, "The reader remarks on the file", "Read the remark and look at the hull's picture.",
)  # fmt: skip
X_GIVEN_AGAINST_SHAPE = register(
    "BW135", Severity.CAUTION, "The stated direction of x speaks against the hull's shape",
    "The stated direction is used; look at the profile: is the bow the bow?",
)  # fmt: skip
