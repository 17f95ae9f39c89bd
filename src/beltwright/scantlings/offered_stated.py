"""What a submitted row states beside its scantling, held against the model."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.findings import FindingCode
from beltwright.core.units import FloatArray, IntArray, LabelArray
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.areas import heights_at
from beltwright.scantlings.design import Design
from beltwright.scantlings.offered_match import Claims, Discrepancies, some
from beltwright.scantlings.submitted import SubmittedRow

SPACING_M = 0.010  # what a drawing may round away
SPAN_M = 0.025
REQUIRED_MM = 0.25
NET_MM = 0.25
WATERLINE_M = 0.05
SHEAR_AREA_CM2, MODULUS_CM3 = 0.25, 2.0
SECTION_SHARE = 0.01  # of the model's own shear area or modulus, where that is more
_LIKE = 0.10  # a number in another unit is recognised within this share
_METRES = {"mm": 1000.0, "cm": 100.0, "ft": 1.0 / 0.3048}
_MILLIMETRES = {"cm": 0.1, "m": 0.001, "in": 1.0 / 25.4}
_SQUARE_CM = {"mm2": 100.0, "m2": 1e-4, "in2": 1.0 / 6.4516}
_CUBIC_CM = {"mm3": 1000.0, "m3": 1e-6, "in3": 1.0 / 16.387064}


@dataclass(frozen=True, slots=True, kw_only=True)
class Modelled:
    """What the model has for every member (n,): ids, hull area, x [m], and the numbers by the stated column's name."""

    ids: LabelArray
    hull_area: LabelArray
    x_m: FloatArray
    numbers: Mapping[str, FloatArray]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Compared:
    """A stated column: its kind, the tolerance, its unit with others it may be mistaken for, and the side that counts.

    The tolerance is a number, or a ``share`` of the model's where that is more.

    Where a row speaks of several members, the greatest of the model counts, or the least (``least``).
    """

    kind: FindingCode
    tolerance: float
    unit: str
    slips: Mapping[str, float]
    least: bool = False
    share: float = 0.0


_OF_SECTIONS: Mapping[str, tuple[str, _Compared]] = {
    "stated_shear_area_cm2": (
        "shear_area_offered_cm2",
        _Compared(kind=kinds.STATED_SHEAR_AREA, tolerance=SHEAR_AREA_CM2, unit="cm2", slips=_SQUARE_CM, least=True,
                  share=SECTION_SHARE),
    ),
    "stated_modulus_cm3": (
        "modulus_offered_cm3",
        _Compared(kind=kinds.STATED_MODULUS, tolerance=MODULUS_CM3, unit="cm3", slips=_CUBIC_CM, least=True,
                  share=SECTION_SHARE),
    ),
}  # fmt: skip
_COMPARED: Mapping[str, _Compared] = {
    "stated_spacing_m": _Compared(kind=kinds.STATED_SPACING, tolerance=SPACING_M, unit="m", slips=_METRES),
    "stated_span_m": _Compared(kind=kinds.STATED_SPAN, tolerance=SPAN_M, unit="m", slips=_METRES),
    "stated_required_mm": _Compared(kind=kinds.STATED_REQUIRED, tolerance=REQUIRED_MM, unit="mm", slips=_MILLIMETRES),
    "stated_net_mm": _Compared(kind=kinds.STATED_NET, tolerance=NET_MM, unit="mm", slips=_MILLIMETRES, least=True),
}


def compare_stated(design: Design, claims: Claims, model: Modelled, found: Discrepancies) -> None:
    """Tell every stated value that differs from the model's by more than its tolerance."""
    for row, members in zip(claims.rows, claims.members, strict=True):
        if not len(members):
            continue
        for name, compared in _COMPARED.items():
            if name in row.numbers and name in model.numbers:
                _number(row, name, compared, model.numbers[name][members], model.ids[members], found)
        _area(row, model.hull_area[members], model.ids[members], found)
        _waterlines(design, row, model.x_m[members], some(model.ids, members), found)


def compare_sections(table: ColumnTable, claims: Claims, owner: IntArray, found: Discrepancies) -> None:
    """Tell every stated shear area and modulus that differs from what the row's own section comes to.

    ``table`` are the frames as submitted, ``owner`` (n,) the row that each stands by: of a member with several rows
    only the one whose section was taken is compared.
    """
    ids = table.labels("id")
    for number, (row, members) in enumerate(zip(claims.rows, claims.members, strict=True)):
        own = members[owner[members] == number]
        for name, (column, compared) in _OF_SECTIONS.items():
            if len(own) and name in row.numbers and column in table:
                _number(row, name, compared, table[column].data[own], ids[own], found)


def compare_ship(design: Design, rows: tuple[SubmittedRow, ...], found: Discrepancies) -> None:
    """Tell every stated ice class and rule edition that differs from what is used."""
    spelt = editions(design)
    for row in rows:
        ice_class, edition = row.words.get("stated_class"), row.words.get("stated_edition")
        if ice_class is not None and _plain(ice_class) != _plain(design.ship.ice.ice_class):
            told = f"stated {ice_class}, ship.toml {design.ship.ice.ice_class}"
            found.of_row(kinds.STATED_CLASS, row, "ice class", told)
        if edition is not None and _plain(edition) not in spelt:
            used = "; ".join(f"{d.short} {d.edition}" for d in design.rules.documents)
            found.of_row(kinds.STATED_EDITION, row, "rule edition", f"stated {edition}, used {used}")


def editions(design: Design) -> frozenset[str]:
    """Return the spellings under which the editions in use are recognised: letters and digits, capitals or not."""
    spelt = {_plain(design.rules.id)}
    for document in design.rules.documents:
        parts = [document.edition, *document.edition.split(",")[:1]]
        publisher = document.title.split()[0]
        spelt |= {_plain(f"{front} {document.short} {part}") for part in parts for front in ("", publisher)}
    return frozenset(spelt)


def _plain(text: str) -> str:
    """Letters and digits only, small."""
    return re.sub(r"[^a-z0-9]", "", text.lower())


def _number(
    row: SubmittedRow, name: str, compared: _Compared, model: FloatArray, ids: LabelArray, found: Discrepancies
) -> None:
    """Tell a stated number that differs; members without such a number in the model are left out."""
    known = np.flatnonzero(np.isfinite(model))
    if not len(known):
        return
    values = model[known]
    place = int(np.argmin(values) if compared.least else np.argmax(values))
    governing, stated = float(values[place]), row.numbers[name]
    if abs(stated - governing) <= max(compared.tolerance, compared.share * governing) + 1e-9:
        return
    unit = slipped(stated, governing, compared.slips)
    several = "" if len(known) == 1 else f" ({float(values.min()):.3f} to {float(values.max()):.3f})"
    told = f"{name} {stated:g}, model {governing:.3f} {compared.unit}{several}"
    kind = kinds.UNIT_SLIP if unit else compared.kind
    found.of_row(kind, row, str(ids[known][place]), told + (f"; looks like {unit}" if unit else ""))


def slipped(stated: float, expected: float, slips: Mapping[str, float], within: float = _LIKE) -> str:
    """Return the unit in which a stated number would be near the expected one, or nothing; ``slips`` per our unit."""
    for unit, factor in slips.items():
        if expected > 0.0 and abs(stated / (expected * factor) - 1.0) <= within:
            return unit
    return ""


def _area(row: SubmittedRow, areas: LabelArray, ids: LabelArray, found: Discrepancies) -> None:
    """Tell a stated hull area that is not that of every member."""
    stated = row.words.get("stated_hull_area")
    if stated is None:
        return
    other = np.flatnonzero(np.char.lower(areas) != stated.lower())
    if len(other):
        there = ", ".join(dict.fromkeys(area or "none that is strengthened" for area in areas[other].tolist()))
        told = f"stated {stated}, model {there}" + (f" for {len(other)} of {len(areas)}" if len(areas) > 1 else "")
        found.of_row(kinds.STATED_AREA, row, some(ids, other), told)


def _waterlines(design: Design, row: SubmittedRow, x_m: FloatArray, where: str, found: Discrepancies) -> None:
    """Tell a stated ice waterline that is not the model's anywhere along the row's members."""
    for name, heights in zip(("stated_upper_m", "stated_lower_m"), heights_at(design.measures, x_m), strict=True):
        stated = row.numbers.get(name)
        if stated is None:
            continue
        off = max(float(heights.min()) - stated, stated - float(heights.max()))
        if off <= WATERLINE_M + 1e-9:
            continue
        unit = slipped(stated, float(heights.mean()), _METRES)
        span = f"{heights.min():.3f}" + (f" to {heights.max():.3f}" if np.ptp(heights) > 5e-4 else "")
        kind = kinds.UNIT_SLIP if unit else kinds.STATED_WATERLINE
        told = f"{name} {stated:g}, model {span} m above the baseline" + (f"; looks like {unit}" if unit else "")
        found.of_row(kind, row, where, told)
