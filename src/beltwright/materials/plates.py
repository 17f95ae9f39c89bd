"""Plate stock: rounding a required as-built thickness up to a plate that can be bought, never down.

Requirements are stated to a millionth of a millimetre (:data:`RESOLUTION_MM`) before anything is compared, so that the
last bits of a calculation never buy half a millimetre of steel; from there on every comparison is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from beltwright.core.errors import InputError
from beltwright.core.recordtable import RecordTable, load_records
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray, FloatArray, Millimetres

_DECIMALS = 6
RESOLUTION_MM = 10.0**-_DECIMALS
_PACKAGE = "beltwright.materials"


class UnderTolerance(StrEnum):
    """What is done about a plate that may be delivered thinner than its nominal thickness."""

    ACCEPTED = "accepted"  # the rule allows for the mill's minus tolerance; the nominal thickness counts
    ADD_W13 = "UR W13"  # the minus tolerance of UR W13 is added
    ADD_CLASS_A = "EN 10029 class A"  # the minus tolerance of this class of EN 10029 is added
    ADD_CLASS_B = "EN 10029 class B"
    ADD_CLASS_C = "EN 10029 class C"
    ADD_CLASS_D = "EN 10029 class D"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateOffer:
    """Plates offered for requirements; arrays (n,), all as-built thicknesses in mm.

    ``required_mm`` is the requirement at :data:`RESOLUTION_MM`, the value to print and to check ``offered_mm`` against;
    ``floor_mm`` the user's floor; ``minus_tolerance_mm`` what the offered plate may be thinner by under the policy
    (0 where the policy accepts it); ``by_floor`` where the floor, not the requirement, decided.
    """

    required_mm: Millimetres
    floor_mm: Millimetres
    offered_mm: Millimetres
    minus_tolerance_mm: Millimetres
    by_floor: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessTolerance:
    """Lower and upper limits about the nominal thickness, by bands ``from_mm`` <= t < ``below_mm``; arrays (bands,)."""

    name: str
    from_mm: Millimetres
    below_mm: Millimetres
    lower_mm: Millimetres

    def minus_mm(self, nominal_mm: ArrayLike) -> Millimetres:
        """Return how much thinner than nominal a plate may be [mm], zero or more; same shape as ``nominal_mm``."""
        nominal = np.asarray(nominal_mm, dtype=np.float64)
        band = np.searchsorted(self.from_mm, nominal, side="right") - 1
        bad = (band < 0) | ~(nominal < self.below_mm[np.maximum(band, 0)])
        if bool(bad.any()):
            value = float(np.atleast_1d(nominal)[np.flatnonzero(bad)[0]])
            allowed = f"{self.from_mm[0]:g} mm to below {self.below_mm[-1]:g} mm"
            raise InputError(
                self.name, "no tolerance for this nominal thickness", value=value, unit="mm", allowed=allowed
            )
        minus: Millimetres = -self.lower_mm[band] + 0.0
        return minus


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateStock:
    """The thicknesses a yard can have: ``thicknesses_mm`` ascending, shape (m,), with the name of the list."""

    name: str
    thicknesses_mm: Millimetres

    def offer(
        self,
        required_mm: ArrayLike,
        *,
        floor_mm: ArrayLike = 0.0,
        under_tolerance: UnderTolerance = UnderTolerance.ACCEPTED,
    ) -> PlateOffer:
        """Return the thinnest stock plates that meet the required as-built thicknesses [mm], shape (n,).

        The offered nominal thickness, less the minus tolerance that the policy counts, is never below the requirement
        stated at :data:`RESOLUTION_MM`; the nominal thickness is never below ``floor_mm`` (a nominal thickness, to
        which no tolerance is added). A requirement that no plate of the stock meets is an InputError.

        >>> offer = plate_stock("half millimetre").offer([24.5 + 1e-10, 24.51, 25.93])
        >>> offer.offered_mm.tolist()
        [24.5, 25.0, 26.0]
        """
        required, floor = np.broadcast_arrays(
            stated_mm(required_mm, "required thickness"), stated_mm(floor_mm, "floor of the thickness")
        )
        required, floor = np.atleast_1d(required).copy(), np.atleast_1d(floor).copy()
        minus = self._minus_mm(under_tolerance)
        guaranteed = np.maximum.accumulate(np.round(self.thicknesses_mm - minus, _DECIMALS))
        for_required = np.searchsorted(guaranteed, required, side="left")
        for_floor = np.searchsorted(self.thicknesses_mm, floor, side="left")
        choice = np.maximum(for_required, for_floor)
        self._refuse_beyond(choice, np.maximum(required, floor))
        return PlateOffer(
            required_mm=required,
            floor_mm=floor,
            offered_mm=self.thicknesses_mm[choice],
            minus_tolerance_mm=minus[choice],
            by_floor=for_floor > for_required,
        )

    def _minus_mm(self, policy: UnderTolerance) -> FloatArray:
        """The minus tolerance of each plate of the stock that the policy counts."""
        if policy is UnderTolerance.ACCEPTED:
            return np.zeros(len(self.thicknesses_mm))
        return tolerances()[policy.value].minus_mm(self.thicknesses_mm)

    def _refuse_beyond(self, choice: np.ndarray, needed: FloatArray) -> None:
        """Refuse a thickness that the stock does not reach."""
        beyond = np.flatnonzero(choice >= len(self.thicknesses_mm))
        if len(beyond):
            what = "no plate is thick enough for this requirement, floor and tolerance"
            allowed = f"plates up to {self.thicknesses_mm[-1]:g} mm"
            value = float(needed[beyond[0]])
            raise InputError(f"plate stock {self.name!r}", what, value=value, unit="mm", allowed=allowed)


def minus_tolerance_mm(nominal_mm: ArrayLike, under_tolerance: UnderTolerance) -> Millimetres:
    """Return what plates of nominal thickness [mm] may be thinner by under a policy; NaN (no plate) stays NaN.

    A thickness that the tolerance does not cover is an InputError.

    >>> minus_tolerance_mm([20.0, 26.5], UnderTolerance.ADD_W13).tolist()
    [0.3, 0.3]
    """
    nominal = np.asarray(nominal_mm, dtype=np.float64)
    none = np.isnan(nominal)
    minus = np.zeros(nominal.shape)
    if under_tolerance is not UnderTolerance.ACCEPTED:
        minus[~none] = tolerances()[under_tolerance.value].minus_mm(nominal[~none])
    minus[none] = np.nan
    return minus


def stated_mm(thickness_mm: ArrayLike, where: str = "thickness") -> Millimetres:
    """Return thicknesses [mm] as stated: to a millionth of a millimetre; NaN, infinity or less than zero is refused.

    >>> float(stated_mm(24.5000000001)), float(stated_mm(24.51))
    (24.5, 24.51)
    """
    thickness = np.asarray(thickness_mm, dtype=np.float64)
    bad = ~(np.isfinite(thickness) & (thickness >= 0.0))
    if bool(bad.any()):
        value = float(np.atleast_1d(thickness)[np.flatnonzero(bad)[0]])
        raise InputError(where, "not a thickness", value=value, unit="mm", allowed="0 mm or more")
    stated: Millimetres = np.round(thickness, _DECIMALS)
    return stated


def plate_stock(name: str = "half millimetre") -> PlateStock:
    """Return a stock list of the data file by its name; an unknown name is an InputError listing them."""
    stocks = _stocks()
    if name not in stocks:
        raise InputError("plate stock", "no such list", value=name, allowed=", ".join(stocks))
    return stocks[name]


def own_stock(thicknesses_mm: Sequence[float], *, name: str = "own list", where: str = "plate stock") -> PlateStock:
    """Return a stock from a user's own list of thicknesses [mm], in any order."""
    values = np.unique(stated_mm(thicknesses_mm, where))
    if len(values) == 0 or values[0] <= 0.0:
        raise InputError(where, "the list must hold thicknesses above zero", value=str(list(thicknesses_mm)))
    values.flags.writeable = False
    return PlateStock(name=name, thicknesses_mm=values)


def cells_used(stock: str, under_tolerance: UnderTolerance) -> tuple[Cell, ...]:
    """Return the cells behind a stock list of the data file and a tolerance, with the standing of each."""
    steps = load_records(_PACKAGE, "plate_steps.csv").cells("list", [stock], ("from_mm", "upto_mm", "step_mm"))
    limits = load_records(_PACKAGE, "plate_tolerance.csv")
    return steps + limits.cells("tolerance", [under_tolerance.value], ("from_mm", "below_mm", "lower_mm"))


def read_stocks(data: RecordTable) -> dict[str, PlateStock]:
    """Return the stock lists of a data file with the columns of ``plate_steps.csv``."""
    names = data.words("list")
    first, last, step = data.numbers("from_mm"), data.numbers("upto_mm"), data.numbers("step_mm")
    runs: dict[str, list[FloatArray]] = {}
    for row, name in enumerate(map(str, names)):
        count = round(float((last[row] - first[row]) / step[row]))
        runs.setdefault(name, []).append(first[row] + step[row] * np.arange(count + 1))
    return {name: own_stock(np.concatenate(parts).tolist(), name=name) for name, parts in runs.items()}


def read_tolerances(data: RecordTable) -> dict[str, ThicknessTolerance]:
    """Return the tolerances of a data file with the columns of ``plate_tolerance.csv``, bands in ascending order."""
    names, low = data.words("tolerance"), data.numbers("from_mm")
    high, lower = data.numbers("below_mm"), data.numbers("lower_mm")
    result = {}
    for name in dict.fromkeys(map(str, names)):
        rows = np.flatnonzero(names == name)
        rows = rows[np.argsort(low[rows])]
        result[name] = ThicknessTolerance(name=name, from_mm=low[rows], below_mm=high[rows], lower_mm=lower[rows])
    return result


@cache
def tolerances() -> dict[str, ThicknessTolerance]:
    """Return the thickness tolerances of the data file, by name."""
    return read_tolerances(load_records(_PACKAGE, "plate_tolerance.csv"))


@cache
def _stocks() -> dict[str, PlateStock]:
    """The stock lists of the data file."""
    return read_stocks(load_records(_PACKAGE, "plate_steps.csv"))
