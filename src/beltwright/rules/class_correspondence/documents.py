"""The documents whose tables are here."""

from __future__ import annotations

from beltwright.core.clause import Document

CIRC_1056 = Document(
    id="imo_msc_circ1056",
    short="MSC/Circ.1056",
    title="IMO MSC/Circ.1056: guidelines for ships in Arctic ice-covered waters, classes named side by side",
    edition="2002",
    applicability="nominal only: classes of about the same duty, not the same strength",
)
TRAFICOM_2023 = Document(
    id="traficom_281964_2023",
    short="Traficom 2023",
    title="Traficom list of ice classes and the Finnish-Swedish class given for them",
    edition="TRAFICOM/281964/03.04.01.00/2023, in force 1 January 2025",
    applicability="ice class in Finnish fairway dues and traffic restrictions; engine output is excluded",
)
CANADA_2017 = Document(
    id="canada_sor_2017_286",
    short="SOR/2017-286",
    title="Canadian arctic shipping regulations, Schedule 2: type of a ship by its ice class",
    edition="2017",
    applicability="access to Canadian shipping safety control zones by zone and date",
)
