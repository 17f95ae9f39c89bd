"""The icing allowance of the Polar Code for the surfaces that a ship's description names: ice as an item of weight."""

from __future__ import annotations

from typing import Any, Final

from beltwright.core.clause import Clause
from beltwright.core.ruletable import Cell
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT as DOCUMENT
from beltwright.rules.polar_code_imo_2017.icing import IcedDeck, IcedSide, IcingAllowance, icing_allowance
from beltwright.rules.polar_code_imo_2017.part_ia_4_icing_and_damage import (
    area_with_small_parts,
    deck_ice,
    moment_with_small_parts,
    side_ice,
)
from beltwright.rules.polar_code_imo_2017.tables import ICING_LOADS, SMALL_PARTS
from beltwright.ship.model import Ship

CLAUSES: Final = (deck_ice, area_with_small_parts, moment_with_small_parts, side_ice)
CELLS: Final = tuple(cell for table in (ICING_LOADS, SMALL_PARTS) for cell in table.cells.values())


def icing_of(ship: Ship) -> IcingAllowance | None:
    """Return the icing allowance with its centre; None for a ship that names no surface."""
    given = ship.icing
    if not given.decks and not given.sides:
        return None
    return icing_allowance(
        tuple(IcedDeck(**line.model_dump()) for line in given.decks),
        tuple(IcedSide(**line.model_dump()) for line in given.sides),
    )


def unconfirmed_cells(made: IcingAllowance | None) -> tuple[Cell, ...]:
    """Return the printed values that an allowance was made with and that no printed page confirms."""
    return () if made is None else tuple(cell for cell in CELLS if not cell.status.confirmed)


def unconfirmed_clauses(made: IcingAllowance | None) -> tuple[Clause[Any, Any], ...]:
    """Return the clauses that an allowance was made with and whose text is not confirmed."""
    return () if made is None else tuple(clause for clause in CLAUSES if not clause.status.confirmed)
