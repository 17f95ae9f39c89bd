"""The slips of the trade that touch this program, by number, in a few words."""

from __future__ import annotations

from tests.faults.calculation import CALCULATION_FAULTS
from tests.faults.catch import Fault
from tests.faults.inputs import INPUT_FAULTS

FAULTS: tuple[Fault, ...] = (*INPUT_FAULTS, *CALCULATION_FAULTS)

SLIPS = {
    "E1": "displacement, density or hull in another unit",
    "E2": "radians where degrees belong",
    "E3": "an angle taken from the other axis",
    "E4": "frame angle and normal frame angle mixed up",
    "E5": "the bow's load from one place only",
    "E6": "rule length, origin or stations in the wrong place",
    "E7": "displacement of another waterline",
    "E8": "a result older than its inputs",
    "E9": "wrong hull area or class",
    "E9b": "floors of displacement not seen",
    "E10": "hull turned, mirrored or moved",
    "E11": "frame spacing along the axis",
    "E12": "wrong span or end support",
    "E13": "wrong effective plate width",
    "E14": "elastic modulus, or the web's angle left out",
    "E15": "peak pressure factor left out",
    "E16": "corrosion addition left out or taken twice",
    "E17": "yield stress beyond the grade or beyond ordinary steel",
    "E18": "force or pressure in another unit",
    "E19": "ice waterlines that are not the envelope",
    "E21": "area factor left out or taken twice",
    "E24": "section from another list",
    "E25": "frame numbers of an older table",
    "E26": "another rule edition",
    "E27": "wrong thickness or temperature behind a steel grade",
    "E28": "a number written over the calculation",
}
