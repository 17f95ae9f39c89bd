"""The document and its edition."""

from __future__ import annotations

from datetime import date

from beltwright.core.clause import Document

DOCUMENT = Document(
    id="traficom_68863_2021",
    short="FSICR",
    title="Traficom: Ice class regulations and the application thereof (Finnish-Swedish ice class rules)",
    edition="TRAFICOM/68863/03.04.01.00/2021, 1 July 2021",
    applicability="ships contracted for construction on or after 5 July 2021",
    applies_from=date(2021, 7, 5),
)
