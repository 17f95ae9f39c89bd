"""The sections that a submitted list names, read as ``ship.toml`` reads them; what cannot be made is told."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from beltwright.core.errors import InputError
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.offered_match import Discrepancies
from beltwright.scantlings.submitted import SubmittedRow
from beltwright.sections.names import section
from beltwright.sections.net import net_section
from beltwright.sections.table import GrossSection

_SCALES = (("cm", 10.0), ("m", 1000.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadSection:
    """A section as built, and the thicker of its web and flange [mm] (of a bulb the web)."""

    section: GrossSection
    thickest_mm: float


def read_sections(rows: Sequence[SubmittedRow], deduction_mm: float, found: Discrepancies) -> list[ReadSection | None]:
    """Return the section of every row, None where it gives none that can be made or nothing is left of it net."""
    read: dict[str, ReadSection | InputError] = {}
    sections: list[ReadSection | None] = []
    for row in rows:
        name = row.words.get("section")
        if name is None:
            if not row.at_fault("section"):
                found.of_row(kinds.NO_SCANTLING, row, "section", "is blank")
            sections.append(None)
            continue
        if name not in read:
            read[name] = _read(name, deduction_mm)
        made = read[name]
        if isinstance(made, InputError):
            _tell(row, name, made, found)
            sections.append(None)
        else:
            sections.append(made)
    return sections


def _read(name: str, deduction_mm: float) -> ReadSection | InputError:
    """A section by its name, or why there is none."""
    try:
        made = section(name)
        net_section(made, corrosion_deduction_mm=deduction_mm)
    except InputError as error:
        return error
    flat = made.kind.family in ("angle", "tee")
    thickest = max(made.web_thickness_mm, made.flange_thickness_mm) if flat else made.web_thickness_mm
    return ReadSection(section=made, thickest_mm=thickest)


def _tell(row: SubmittedRow, name: str, why: InputError, found: Discrepancies) -> None:
    """Say why a section cannot be read; where its dimensions times ten would make one, that a unit is suspected."""
    for unit, scale in _SCALES:
        grown = re.sub(r"\d+(?:\.\d+)?", lambda match, by=scale: f"{float(match.group()) * by:.6g}", name)  # type: ignore[misc]
        if not isinstance(_read(grown, 0.0), InputError):
            found.of_row(kinds.UNIT_SLIP, row, name, f"looks like {unit}: {grown} is a section, in mm")
            return
    allowed = f"; {why.allowed}" if why.allowed else ""
    value = "" if why.value is None or str(why.value) == name else f" {why.value} {why.unit}".rstrip()
    place = "" if why.where in ("section", name) else f"{why.where}: "
    found.of_row(kinds.SECTION_UNKNOWN, row, name, f"{place}{why.what}{value}{allowed}")
