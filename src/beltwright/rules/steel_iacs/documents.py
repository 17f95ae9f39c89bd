"""The two documents on hull steel, with their editions as far as they are known."""

from __future__ import annotations

from typing import Final

from beltwright.core.clause import Document

DOCUMENT_S6: Final = Document(
    id="iacs_ur_s6_rev9",
    short="UR S6",
    title="IACS Unified Requirement S6: Use of steel grades for various hull members (ships of 90 m and above)",
    edition="Rev.9, as recalled",
    applicability="hull structure, as other requirements refer to it; contract dates not seen",
)
DOCUMENT_W11: Final = Document(
    id="iacs_ur_w11",
    short="UR W11",
    title="IACS Unified Requirement W11: Normal and higher strength hull structural steels",
    edition="as reproduced in class publications",
    applicability="plates and wide flats up to 100 mm, sections and bars up to 50 mm",
)
