"""The sections a ship may take: the catalogue's kinds it allows, those its description names, and ``more``."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray, LabelArray
from beltwright.sections.catalogue import catalogue
from beltwright.sections.names import section as section_of
from beltwright.sections.net import net_sections
from beltwright.sections.table import GrossSection, SectionTable, join
from beltwright.ship.model import Ship


class SectionStock:
    """Sections as built and net; ``candidates`` are rows, lightest first."""

    def __init__(self, ship: Ship, more: tuple[GrossSection, ...] = ()) -> None:
        given = [
            section_of(line.section, where=f"ship.toml: frame_sections[{number}].section")
            for number, line in enumerate(ship.frame_sections, 1)
        ]
        offered, named = catalogue(), [line.section for line in ship.frame_sections]
        given, named = [*given, *more], [*named, *(section.name for section in more)]
        self._gross: SectionTable = join([offered, *(section.as_table() for section in given)])
        self._row = {str(name): row for row, name in reversed(list(enumerate(self._gross.name)))}
        self._given = {name: len(offered) + number for number, name in enumerate(named)}
        deduction = ship.stock.frame_corrosion_mm
        thick = (offered.web_thickness_mm > deduction) & (
            (offered.flange_thickness_mm == 0.0) | (offered.flange_thickness_mm > deduction)
        )
        self.candidates: IntArray = np.flatnonzero(np.isin(offered.family, ship.stock.frame_kinds) & thick)
        self._net_rows = np.full(len(self._gross), -1, dtype=np.int64)
        usable = np.concatenate([np.flatnonzero(thick), np.arange(len(offered), len(self._gross))])
        self._net_rows[usable] = np.arange(len(usable))
        self._columns = _columns(self._gross.take(usable), deduction)

    def used(self, rows: IntArray) -> SectionTable:
        """Return the sections used, each once; row -1 is left out."""
        return self._gross.take(np.unique(rows[rows >= 0]))

    def row_of(self, name: str) -> int:
        """Return the row of a section that the ship's description names."""
        return self._given[name]

    def rows_of(self, names: LabelArray) -> IntArray:
        """Return the rows of sections by name (n,), -1 for an empty name; InputError for one that is not in stock."""
        known, inverse = np.unique(names, return_inverse=True)
        missing = [str(name) for name in known if str(name) and str(name) not in self._row]
        if missing:
            raise InputError("sections", "is not in stock", value=missing[0])
        rows: IntArray = np.array([self._row.get(str(name), -1) for name in known], dtype=np.int64)[inverse]
        return rows

    def name(self, row: int) -> str:
        """Return a section's name."""
        return str(self._gross.name[row])

    def names(self, rows: IntArray) -> LabelArray:
        """Return the names of sections (n,), an empty word for row -1."""
        return np.where(rows >= 0, self._gross.name[rows], "").astype(np.str_)

    def mass_kg_per_m(self, rows: IntArray) -> FloatArray:
        """Return the masses of sections (n,) [kg/m], NaN for row -1."""
        return np.where(rows >= 0, self._gross.mass_kg_per_m[rows], np.nan)

    def thickness_as_built_mm(self, rows: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return web and flange thickness as built (n,) [mm]; NaN for row -1 and where no flat flange is gauged."""
        some = rows >= 0
        flat = some & np.isin(self._gross.family[rows], ("angle", "tee"))
        web = np.where(some, self._gross.web_thickness_mm[rows], np.nan)
        return web, np.where(flat, self._gross.flange_thickness_mm[rows], np.nan)

    @property
    def thickest_as_built_mm(self) -> FloatArray:
        """The thicker of web and flange of every section as built (rows,) [mm]; of a bulb the web."""
        web, flange = self.thickness_as_built_mm(np.arange(len(self._gross)))
        thickest: FloatArray = np.fmax(web, flange)
        return thickest

    def columns(self, rows: IntArray, wanted: Collection[str]) -> dict[str, NDArray[Any]]:
        """Return those wanted columns of the vocabulary that a section alone decides; every row (n,) must name one."""
        net = self._net_rows[rows]
        return {name: values[net] for name, values in self._columns.items() if name in wanted}

    def gross(self, rows: IntArray) -> SectionTable:
        """Return the sections (n,) as built; every row must name one."""
        return self._gross.take(rows)


def _columns(gross: SectionTable, deduction_mm: float) -> dict[str, NDArray[Any]]:
    """Sections in the vocabulary of the rule sets: net, and their webs as built."""
    net = net_sections(gross, corrosion_deduction_mm=deduction_mm)
    return {
        "web_height_mm": net.web_height_mm,
        "web_net_mm": net.net_web_thickness_mm,
        "stiffener_height_mm": net.net_height_mm,
        "flange_breadth_mm": net.flange_breadth_mm,
        "flange_net_mm": net.net_flange_thickness_mm,
        "flange_area_cm2": net.net_flange_area_cm2,
        "flange_centre_height_mm": np.where(net.has_flange, net.flange_centre_height_mm, 0.0),
        "flange_offset_mm": np.abs(net.flange_eccentricity_mm),
        "flange_outstand_mm": net.flange_outstand_mm,
        "section_kind": net.family,
        "web_thickness_mm": gross.web_thickness_mm,
    }
