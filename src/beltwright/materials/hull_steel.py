"""Hull structural steel: strength of each grade by as-built thickness, from the data file."""
# ruff: noqa: N802, N815 - units are spelt as they are printed (MPa, C)

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.recordtable import RecordTable, load_records
from beltwright.core.ruletable import Cell
from beltwright.core.steel import Density, steel_density
from beltwright.core.units import FloatArray, KgPerM2, LabelArray, MPa

__all__ = [
    "Density",
    "HullSteel",
    "SteelBand",
    "SteelTable",
    "hull_steels",
    "plate_mass_kg_per_m2",
    "steel_density",
    "yield_MPa",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelBand:
    """Properties of a grade over one band of as-built thickness, ``over_mm`` < t <= ``upto_mm`` (from zero: all t > 0).

    ``status`` is the standing of the yield stress, ``other_status`` that of the other properties.
    """

    over_mm: float
    upto_mm: float
    yield_MPa: float
    tensile_min_MPa: float
    tensile_max_MPa: float
    elongation_pct: float
    source: str
    status: Status
    other_status: Status


@dataclass(frozen=True, slots=True, kw_only=True)
class HullSteel:
    """One grade: its family (``normal``, ``higher``, ``yp47`` or ``w16``), impact test temperature and bands.

    ``k_factor`` is the hull girder's material factor, None where none is given.
    """

    grade: str
    family: str
    impact_temperature_C: float
    k_factor: float | None
    bands: tuple[SteelBand, ...]

    def band(self, as_built_thickness_mm: float | None = None, *, where: str = "") -> SteelBand:
        """Return the band of a thickness; without one, the only band, or an InputError if the grade has several.

        ``where`` names the field for the error message.
        """
        limits = ", ".join(f"over {b.over_mm:g} to {b.upto_mm:g} mm: {b.yield_MPa:g} MPa" for b in self.bands)
        where = f"{where}: steel grade {self.grade}" if where else f"steel grade {self.grade}"
        if as_built_thickness_mm is None:
            if len(self.bands) > 1:
                raise InputError(where, "the yield stress depends on the as-built thickness: give it", allowed=limits)
            return self.bands[0]
        for band in self.bands:
            if band.over_mm < as_built_thickness_mm <= band.upto_mm:
                return band
        what = "the grade is not made in this as-built thickness"
        raise InputError(where, what, value=as_built_thickness_mm, unit="mm", allowed=limits)

    def yields_MPa(self, as_built_thickness_mm: FloatArray, *, where: str = "") -> MPa:
        """Return the yield stress [MPa] at each as-built thickness (n,) [mm].

        Raises InputError for the first thickness that the grade is not made in, NaN included.
        """
        limits = np.array([self.bands[0].over_mm, *(band.upto_mm for band in self.bands)])
        band = np.searchsorted(limits, as_built_thickness_mm, side="left") - 1
        outside = (band < 0) | (band >= len(self.bands))
        if outside.any():
            self.band(float(as_built_thickness_mm[outside][0]), where=where)
        found: MPa = np.array([one.yield_MPa for one in self.bands])[band]
        return found

    @property
    def strength(self) -> str:
        """How rules on grades sort it: ``normal`` or ``higher`` strength."""
        return "normal" if self.family == "normal" else "higher"

    @property
    def thinnest(self) -> SteelBand:
        """The band of the thinnest plates, which has the greatest yield stress."""
        return self.bands[0]


class SteelTable:
    """Grades by name; capitals or not does not matter."""

    def __init__(self, data: RecordTable) -> None:
        self.header = dict(data.header)
        self._data = data
        self._steels = _read(data)

    @property
    def grades(self) -> tuple[str, ...]:
        """The names of the grades, in the order of the data file."""
        return tuple(self._steels)

    def steel(self, grade: str, *, where: str = "steel grade") -> HullSteel:
        """Return a grade; an unknown name is an InputError that names the nearest one.

        >>> hull_steels().steel("eh36").bands[0].yield_MPa
        355.0
        """
        found = self._steels.get(grade.strip().upper())
        if found is None:
            near = get_close_matches(grade.strip().upper(), self.grades, n=1, cutoff=0.0)[0]
            allowed = f"the nearest is {near}; grades: {', '.join(self.grades)}"
            raise InputError(where, "no such hull steel grade", value=grade or "blank", allowed=allowed)
        return found

    def cells_used(self, grades: Collection[str]) -> tuple[Cell, ...]:
        """Return the yield and thickness limits behind some grades, with the standing of each."""
        names = {self.steel(grade).grade for grade in grades}
        return self._data.cells("grade", names, ("yield_MPa", "thickness_over_mm", "thickness_upto_mm"))

    def yield_MPa(self, grade: str, *, as_built_thickness_mm: float | None = None, where: str = "steel grade") -> float:
        """Return the specified minimum yield stress [MPa] of a grade.

        >>> hull_steels().yield_MPa("EH36")
        355.0
        """
        return self.steel(grade, where=where).band(as_built_thickness_mm).yield_MPa

    def ordinary_yields_MPa(self) -> tuple[float, ...]:
        """Return the yield levels [MPa] of grades whose yield does not fall with thickness, lowest first.

        >>> hull_steels().ordinary_yields_MPa()[0]
        235.0
        """
        return tuple(sorted({steel.bands[0].yield_MPa for steel in self._steels.values() if len(steel.bands) == 1}))

    def yields_MPa(
        self, grades: Sequence[str] | LabelArray, *, as_built_thickness_mm: ArrayLike | None = None,
        where: str = "steel grade",
    ) -> MPa:  # fmt: skip
        """Return the yield stresses [MPa] of several grades, shape (n,); the thickness is a number or an array (n,).

        Raises InputError naming ``where``, the grade and the thickness where a grade is not made in it; without a
        thickness, where the yield depends on one.

        >>> hull_steels().yields_MPa(["EH36", "EH500", "EH500"], as_built_thickness_mm=[20.0, 50.0, 50.1]).tolist()
        [355.0, 500.0, 480.0]
        """
        names, inverse = np.unique(np.asarray(grades, dtype=np.str_), return_inverse=True)
        if as_built_thickness_mm is None:
            return np.array([self.yield_MPa(str(grade), where=where) for grade in names])[inverse]
        thickness = np.broadcast_to(np.asarray(as_built_thickness_mm, dtype=np.float64), inverse.shape)
        yields = np.full(inverse.shape, np.nan)
        for number, grade in enumerate(names):
            chosen = inverse == number
            yields[chosen] = self.steel(str(grade), where=where).yields_MPa(thickness[chosen], where=where)
        return yields


@cache
def hull_steels() -> SteelTable:
    """Return the grades of the data file of this room."""
    return SteelTable(load_records("beltwright.materials", "hull_steel.csv"))


def yield_MPa(grade: str, *, as_built_thickness_mm: float | None = None, where: str = "steel grade") -> float:
    """Return the specified minimum yield stress [MPa] of a grade of this room's data file.

    >>> yield_MPa("EH36"), yield_MPa("EH500", as_built_thickness_mm=60.0)
    (355.0, 480.0)
    """
    return hull_steels().yield_MPa(grade, as_built_thickness_mm=as_built_thickness_mm, where=where)


def plate_mass_kg_per_m2(as_built_thickness_mm: ArrayLike) -> KgPerM2:
    """Return the mass of plating per area [kg/m2] from its as-built thickness [mm] and the density of steel.

    >>> round(float(plate_mass_kg_per_m2(20.0)), 6)
    157.0
    """
    mass: KgPerM2 = np.asarray(as_built_thickness_mm, dtype=np.float64) / 1000.0 * steel_density().kg_per_m3
    return mass


def _read(data: RecordTable) -> dict[str, HullSteel]:
    """The grades of a data file; bands of one grade must follow on and agree in family and test temperature."""
    numbers = {name: data.numbers(name) for name in _NUMBERS}
    grades, families, sources = data.words("grade"), data.words("family"), data.words("source")
    statuses, others = data.statuses(), data.statuses("other_status")
    factors = dict(zip(np.flatnonzero(data.filled("k_factor")), data.numbers_where_filled("k_factor"), strict=True))
    steels: dict[str, HullSteel] = {}
    for row, grade in enumerate(map(str, grades)):
        band = SteelBand(
            over_mm=float(numbers["thickness_over_mm"][row]),
            upto_mm=float(numbers["thickness_upto_mm"][row]),
            yield_MPa=float(numbers["yield_MPa"][row]),
            tensile_min_MPa=float(numbers["tensile_min_MPa"][row]),
            tensile_max_MPa=float(numbers["tensile_max_MPa"][row]),
            elongation_pct=float(numbers["elongation_pct"][row]),
            source=str(sources[row]),
            status=statuses[row],
            other_status=others[row],
        )
        before = steels[grade].bands if grade in steels else ()
        if before and before[-1].upto_mm != band.over_mm:
            where = f"{data.filename}: line {data.lines[row]}"
            raise InputError(where, "the bands of a grade must follow on", value=band.over_mm, unit="mm")
        steels[grade] = HullSteel(
            grade=grade,
            family=str(families[row]),
            impact_temperature_C=float(numbers["impact_temperature_C"][row]),
            k_factor=float(factors[row]) if row in factors else None,
            bands=(*before, band),
        )
    return steels


_NUMBERS = (
    "thickness_over_mm",
    "thickness_upto_mm",
    "yield_MPa",
    "tensile_min_MPa",
    "tensile_max_MPa",
    "elongation_pct",
    "impact_temperature_C",
)
