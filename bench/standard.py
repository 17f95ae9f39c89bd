"""The whole standard on a ship of about 4,000 panels and as many frame spans, hull measured and arranged before.

All that the rule set asks of members is run: hull areas, angles at the bow's stations, design loads with their trace,
plating, local frames, and every check. The plain way runs the same chains for one panel and one span at a time.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from _harness import function_seconds, show
from beltwright.rules.registry import rule_set
from rule_checks import PANELS, SAMPLE, Table, members, ratios, row

FACTS: Table = {
    "ice_class": np.array(["PC4"]),
    "icebreaker": np.array([False]),
    "operates_astern": np.array([False]),
    "azimuthing_propulsion": np.array([False]),
    "bulbous_bow": np.array([False]),
    "effective_protection": np.array([True]),
    "displacement_upper_kt": np.array([14.0]),
    "waterline_extreme_length_m": np.array([124.0]),
    "stem_to_rudder_m": np.array([120.0]),
    "stem_to_ap_m": np.array([118.0]),
    "alpha_ten_aft_of_stem_m": np.array([24.0]),
    "parallel_start_aft_of_stem_m": np.array([32.0]),
    "parallel_end_forward_of_ap_m": np.array([40.0]),
    "stem_baseline_aft_of_stem_m": np.array([8.0]),
    "stem_angle_deg": np.array([30.0]),
}
ANGLES: Table = {
    "aft_of_stem_m": np.array([3.0, 9.0, 15.0, 21.0]),
    "alpha_deg": np.array([30.0, 27.0, 22.0, 15.0]),
    "beta_prime_deg": np.array([40.89, 33.94, 25.62, 14.51]),
    "beta_deg": np.full(4, np.nan),
    "gamma_deg": np.full(4, np.nan),
}
BUDGET_S = 0.3


def main() -> None:
    """Check that the ways agree on a sample, then print the line."""
    rules = rule_set("polar_iacs_2019")
    panels, frames = members(PANELS)
    place = np.random.default_rng(2).uniform(0.0, 124.0, (5, PANELS))
    fitted = {"thickness_as_built_mm": np.full(PANELS, 25.0)}

    def standard() -> tuple[NDArray[Any], NDArray[Any]]:
        areas = rules.areas(FACTS, ())
        loads = rules.loads(FACTS, areas, ANGLES, ())
        areas.classify(place[0], place[1] % 12.0 - 10.0, place[2] % 12.0 - 9.0, place[3] % 90.0, place[4] % 10.0)
        plates = ratios(rules.plating, {**panels, **loads.columns}, fitted)
        return plates, ratios(rules.framing, {**frames, **loads.columns}, {})

    loads = rules.loads(FACTS, rules.areas(FACTS, ()), ANGLES, ())
    given, spans = {**panels, **loads.columns}, {**frames, **loads.columns}

    def one_by_one() -> list[tuple[NDArray[Any], NDArray[Any]]]:
        return [
            (ratios(rules.plating, row(given, n), row(fitted, n)), ratios(rules.framing, row(spans, n), {}))
            for n in range(SAMPLE)
        ]

    plates, beams = standard()
    for n, (plate, beam) in enumerate(one_by_one()):
        assert np.array_equal(plate[0], plates[n])
        assert np.array_equal(beam[0], beams[n], equal_nan=True)
    show(
        f"the whole standard, {PANELS:,} panels and spans",
        function_seconds(standard),
        plain_s=function_seconds(one_by_one, runs=3) * PANELS / SAMPLE,
        plain="a loop over single members",
        budget_s=BUDGET_S,
        count=2 * PANELS,
    )


if __name__ == "__main__":
    main()
