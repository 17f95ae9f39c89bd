"""The two documents and their editions."""

from __future__ import annotations

from datetime import date

from beltwright.core.clause import Document

DOCUMENT_I1 = Document(
    id="iacs_ur_i1_rev2",
    short="UR I1",
    title="IACS Unified Requirement I1: Polar Class descriptions and application",
    edition="Rev.2, April 2016",
    applicability="with UR I2",
)
DOCUMENT = Document(
    id="iacs_ur_i2_rev4",
    short="UR I2",
    title="IACS Unified Requirement I2: Structural requirements for Polar Class ships",
    edition="Rev.4, December 2019",
    applicability="ships contracted for construction on or after 1 January 2021",
    applies_from=date(2021, 1, 1),
)
