"""The circular and its standing."""

from __future__ import annotations

from beltwright.core.clause import Document

DOCUMENT = Document(
    id="imo_msc1_circ1519",
    short="POLARIS",
    title="IMO MSC.1/Circ.1519: assessing operational capabilities and limitations in ice",
    edition="6 June 2016, interim guidance",
    applicability="decision support for ships with or without an ice class; not a go/no-go tool",
)
