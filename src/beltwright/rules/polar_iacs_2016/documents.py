"""UR I2 in the edition of 2016; UR I1 is the same document as in 2019."""

from __future__ import annotations

from datetime import date

from beltwright.core.clause import Document
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT as FOLLOWED_BY

DOCUMENT = Document(
    id="iacs_ur_i2_rev3",
    short="UR I2",
    title="IACS Unified Requirement I2: Structural requirements for Polar Class ships",
    edition="Rev.3, April 2016",
    applicability="ships contracted for construction on or after 1 July 2017 (recalled) and before 1 January 2021",
    applies_from=date(2017, 7, 1),
    applies_until=FOLLOWED_BY.applies_from,
)
