"""The demo ship Ostvik Larch as a whole: facts from its form, and each requirement worked out again by hand."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.findings import Findings
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import OSTVIK_LARCH
from beltwright.rules.baltic_traficom_2021.ruleset import FACTS, RULE_SET
from beltwright.rules.protocol import ShipChecks
from beltwright.scantlings.measure import measure_hull
from beltwright.scantlings.ship_facts import ShipFacts, ship_facts
from beltwright.store.folder import open_folder

FOLDER = Path(__file__).parents[2] / "examples" / "ostvik-larch"


@cache
def larch() -> tuple[ShipFacts, ShipChecks]:
    """The ship's facts and checks, from the form its files were made of."""
    ship = open_folder(FOLDER).ship
    measures = measure_hull(ship, (), ships.placed(hull_patches(OSTVIK_LARCH)), Findings())
    facts = ship_facts(ship, measures, Findings(), FACTS)
    return facts, RULE_SET.ship_checks(facts[0])


def test_facts_against_the_form() -> None:
    """kind: hand. The form's own numbers: stem at 122 m, beam 18.9 m, 12 088 m3 moulded, lines at 7.4 and 5.4/4.6 m."""
    facts = larch()[0][0]
    assert facts["breadth_m"][0] == pytest.approx(18.9, abs=1e-4)
    assert facts["displacement_upper_t"][0] == pytest.approx(12088.0 * 1.025 + 40.0, abs=2.0)
    assert facts["draught_m"] == pytest.approx([7.4, 5.0], abs=1e-9)
    assert facts["forward_draught_lower_m"][0] == pytest.approx(4.6, abs=1e-9)
    assert facts["main_frame_spacing_m"][0] == pytest.approx(0.7, abs=1e-9)
    assert facts["floor_top_height_m"].tolist() == [1.4]
    # the form's waterline angle falls from 22.5 degrees 9 m aft of the stem to 17.5 degrees at 15 m: 4.725 m of
    # half-breadth is reached near 9.9 m
    assert facts["waterline_angle_quarter_deg"][0] == pytest.approx(21.8, abs=0.3)


def test_engine_output_by_hand() -> None:
    """kind: second-method. 3.2.2 written out again for IA, one CP propeller of 3.6 m; 4362 kW and 3872 kW."""
    (facts, _), checks = larch()
    for row, expected in ((0, 4361.9), (1, 3872.3)):
        phi, alpha = (np.radians(facts[n][row]) for n in ("bow_rake_quarter_deg", "waterline_angle_quarter_deg"))
        psi = np.arctan(np.tan(phi) / np.sin(alpha))
        c_mu = max(0.15 * np.cos(phi) + np.sin(psi) * np.sin(alpha), 0.45)
        h_f = 0.26 + (1.0 * 18.9) ** 0.5
        c_psi = max(0.047 * np.degrees(psi) - 2.115, 0.0)
        cube = min(max((122.0 * facts["draught_m"][row] / 18.9**2) ** 3, 5.0), 20.0)
        resistance = 845.0 * c_mu * (h_f + 1.0) ** 2 * (18.9 + c_psi * h_f)
        resistance += 42.0 * facts["parallel_length_m"][row] * h_f**2
        resistance += 825.0 * cube * facts["bow_waterline_area_m2"][row] / 122.0
        power = 2.03 * (resistance / 1000.0) ** 1.5 / 3.6
        assert power == pytest.approx(expected, abs=1.0)
        assert checks.checks[row].required == pytest.approx(power, rel=1e-6)
        assert checks.checks[row].offered == 5400.0


def test_draught_clearance_and_outcome() -> None:
    """kind: hand. 12 430 t is beyond 8000 t, where 4 h_i = 3.2 m rules; clearance h_i = 0.8 m."""
    checks = larch()[1]
    assert [check.required for check in checks.checks[2:]] == pytest.approx([3.2, 0.8])
    assert [check.offered for check in checks.checks[2:]] == pytest.approx([4.6, 1.0])
    assert checks.all_met
    assert checks.findings == ()
