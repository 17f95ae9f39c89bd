"""The question that a sizing answers, as plain data with a hash: what there was to choose from, at what price."""

from __future__ import annotations

from typing import Any

from beltwright.core.canonical import fingerprint
from beltwright.sizing.candidates import Candidates


def question(asked: Candidates) -> dict[str, Any]:
    """Return everything that makes the problem, except which section passes on which plate: that is for the rules."""
    values, areas = asked.values, asked.areas_m2
    return {
        "unit": values.unit,
        "second_unit": values.second_unit,
        "zones": {name: [one.name for one in mine] for name, mine in zip(asked.zones, asked.options, strict=True)},
        "supports": [[list(pair) for pair in priced] for priced in asked.support_prices],
        "plates": {
            asked.plates.names[plate]: {
                "area_m2": round(float(area), 6),
                "choices": [[s.thickness_mm, s.grade, *asked.plate_prices(row, s)] for s in own],
            }
            for row, (plate, area, own) in enumerate(zip(asked.sized.tolist(), areas, asked.steels, strict=True))
        },
        "steps": [[limit.one, limit.other, round(limit.most_mm, 6)] for limit in asked.step_limits],
        "needs": [
            [need.plate, need.zone, need.option, "".join("01"[int(yes)] for yes in need.allowed)]
            for need in asked.needs
        ],
        "groups": [
            [group.zone, group.option, list(group.members), len(group.span), round(group.length_m, 6)]
            for group in asked.groups
        ],
        "sections": [values.section_name(int(row)) for row in values.sections],
        "frame_grades": list(values.frame_grades),
        "most_thicknesses": values.most_thicknesses,
        "most_profiles": values.most_profiles,
    }


def question_hash(asked: Candidates) -> str:
    """Return the SHA-256 of the question in one canonical form."""
    return fingerprint(question(asked))
