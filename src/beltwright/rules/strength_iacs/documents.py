"""The document and what is known of its edition."""

from __future__ import annotations

from beltwright.core.clause import Document

DOCUMENT = Document(
    id="iacs_ur_s11",
    short="UR S11",
    title="IACS Unified Requirement S11: Longitudinal strength standard",
    edition="recalled, edition not settled",
    applicability="the buckling and stress formulas that UR I2.13 cites",
)
