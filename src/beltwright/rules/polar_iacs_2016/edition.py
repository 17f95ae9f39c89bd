"""How the edition of 2016 stands to the clauses that are coded in the edition of 2019."""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import Final

from beltwright.core.edition import Edition, MeasuredFrom, Wording
from beltwright.core.provenance import Status
from beltwright.rules.facts import FORWARD_PERPENDICULAR, SHIP
from beltwright.rules.polar_iacs_2016 import measures
from beltwright.rules.polar_iacs_2016.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT as CODED
from beltwright.rules.protocol import EditionDifference

EDITION: Final = Edition(
    documents={CODED.id: DOCUMENT},
    own={"bow_limit": measures.bow_limit},
    measured_from=(
        MeasuredFrom(clause="rule_length", parameter="stem_to_rudder_m", converter=measures.length_before_limits),
        MeasuredFrom(clause="shape_factor_angles", parameter="aft_of_stem_m", converter=measures.aft_of_fp),
    ),
    wording={
        "rule_length": Wording(title="ship length of UR S2, measured on the upper ice waterline", symbol="L"),
        "bow_displacement": Wording(title="displacement for the bow formulas", symbol="D_bow"),
        "other_displacement": Wording(title="displacement for the formulas outside the bow", symbol="D_other"),
    },
    inputs=(FORWARD_PERPENDICULAR, *(fact for fact in SHIP if fact.name == "azimuthing_propulsion")),
)


def differences() -> tuple[EditionDifference, ...]:
    """Return what differs between the editions of 2016 and 2019, clause by clause."""
    text = files(__package__).joinpath("data", "differences.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return tuple(
        EditionDifference(
            document=row["document"],
            clause=row["clause"],
            what=row["what"],
            says={name: row[name] for name in ("polar_iacs_2016", "polar_iacs_2019")},
            effect=row["effect"],
            status=Status(row["status"]),
        )
        for row in rows
    )
