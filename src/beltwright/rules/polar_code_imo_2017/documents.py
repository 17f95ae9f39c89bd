"""The Code, its edition and the ships it holds for."""

from __future__ import annotations

from datetime import date

from beltwright.core.clause import Document

DOCUMENT = Document(
    id="imo_msc385_94",
    short="Polar Code",
    title="IMO International Code for Ships Operating in Polar Waters",
    edition="MSC.385(94), in force 1 January 2017",
    applicability="ships in polar waters; ice damage for categories A and B built on or after 1 January 2017",
    applies_from=date(2017, 1, 1),
)
