"""The rule set of IACS UR I1 and I2, edition 2016, as the rest of the program sees it."""

from __future__ import annotations

from beltwright.rules.polar_iacs_2016.edition import EDITION, differences
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019
from beltwright.rules.protocol import RuleSet

RULE_SET: RuleSet = POLAR_2019.in_edition("polar_iacs_2016", EDITION, differences())
