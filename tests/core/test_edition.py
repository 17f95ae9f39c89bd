"""Editions: what is taken over, what takes a clause's place, what is measured from elsewhere."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from beltwright.core.chain import Chain, Quantity, Step
from beltwright.core.clause import Document
from beltwright.core.edition import AS_CODED, Edition, MeasuredFrom, Wording, taken_over
from beltwright.core.provenance import Status
from beltwright.core.ruletable import parse_table
from beltwright.core.units import Label, Metres, Ratio, Unit

TABLE = parse_table(
    "# document: D\n# edition: new\n# table: T1\n# title: t\n# read_by: hand\nword,value,status,note\n"
    "a,2.0,printed,\nb,3.0,memory-checked,seen twice\n",
    "t.csv",
)
NEW = Document(id="d_new", short="D", title="a document", edition="second", applicability="now")
OLD = Document(id="d_old", short="D", title="a document", edition="first", applicability="then")
OTHER = Document(id="e", short="E", title="another", edition="only", applicability="always")


@NEW.clause("1", title="factor", symbol="f", status=Status.PRINTED, table=TABLE, note="of Table 1")
def factor(*, word: Label) -> Ratio:
    """A look-up."""
    return TABLE.numbers(word)


@NEW.clause("2", title="length", symbol="L", status=Status.TEXT)
def length(*, whole_m: Metres, factor: Ratio) -> Metres:
    """A product."""
    return whole_m * factor


@NEW.clause("3", title="limit", symbol="l", status=Status.TEXT)
def limit(*, length_m: Metres) -> Metres:
    """Half of it."""
    return 0.5 * length_m


@OTHER.clause("1", title="twice", symbol="t", status=Status.TEXT)
def twice(*, whole_m: Metres) -> Metres:
    """Twice."""
    return 2.0 * whole_m


@OLD.clause("2", title="from elsewhere", symbol="x", status=Status.MEMORY)
def from_elsewhere(*, whole_m: Metres, shift_m: Metres) -> Metres:
    """Shifted."""
    return whole_m + shift_m


@OLD.clause("3", title="limit", symbol="l", status=Status.MEMORY)
def old_limit(*, length_m: Metres, shift_m: Metres) -> Metres:
    """Shifted the other way."""
    return 0.5 * length_m - shift_m


def quantity(name: str, unit: str) -> Quantity:
    return Quantity(name=name, symbol=name, unit=Unit(unit), meaning=name)


CHAIN = Chain(
    "lengths",
    [quantity("word", "label"), quantity("whole_m", "m")],
    (
        Step(output="factor", clause=factor),
        Step(output="length_m", clause=length),
        Step(output="limit_m", clause=limit),
        Step(output="twice_m", clause=twice),
    ),
)
EARLIER = Edition(
    documents={"d_new": OLD},
    own={"limit": old_limit},
    measured_from=(
        MeasuredFrom(clause="length", parameter="whole_m", converter=from_elsewhere),
        MeasuredFrom(clause="twice", parameter="whole_m", converter=from_elsewhere),  # not a clause of this document
    ),
    wording={"length": Wording(title="old length", symbol="L_old")},
    inputs=(quantity("shift_m", "m"), quantity("never_read", "m")),
)
GIVEN = {"word": np.array(["a"]), "whole_m": np.array([10.0]), "shift_m": np.array([1.5])}


def test_the_coded_edition_gives_back_what_is_coded() -> None:
    assert AS_CODED.chain(CHAIN) is CHAIN
    assert AS_CODED.clause(length) is length


def test_numbers_of_both_editions_by_hand() -> None:
    # hand: new: 10 x 2 = 20, half 10; old: (10 + 1.5) x 2 = 23, half of that less 1.5 = 10; twice is another document's
    new, old = CHAIN.run(GIVEN), EARLIER.chain(CHAIN).run(GIVEN)
    assert (new["length_m"][0], new["limit_m"][0], new["twice_m"][0]) == (20.0, 10.0, 20.0)
    assert (old["length_m"][0], old["limit_m"][0], old["twice_m"][0]) == (23.0, 10.0, 20.0)
    assert old["from_elsewhere_of_whole_m"][0] == 11.5


def test_only_what_is_read_becomes_an_input() -> None:
    assert list(EARLIER.chain(CHAIN).inputs) == ["word", "whole_m", "shift_m"]


def test_what_was_read_in_one_edition_is_recalled_in_the_other() -> None:
    trace = EARLIER.chain(CHAIN).trace(GIVEN)
    found = {name: node.step.clause for name, node in trace.items() if node.step is not None}
    assert found["length_m"].document is OLD
    assert (found["length_m"].status, found["length_m"].symbol, found["length_m"].title) == (
        Status.MEMORY, "L_old", "old length",
    )  # fmt: skip
    assert found["factor"].note == "of Table 1; taken over from second, not compared"
    assert found["length_m"].note == "taken over from second, not compared"
    assert found["limit_m"] is old_limit
    assert found["twice_m"] is twice
    assert [cell.status for cell in trace["factor"].cells] == [Status.MEMORY]
    assert [cell.status for cell in factor.cells({"word": "a"})] == [Status.PRINTED]
    assert EARLIER.clause(factor) is EARLIER.clause(factor)
    assert set(OLD.clauses) == {"from_elsewhere", "old_limit"}, "what is taken over is not coded a second time"


@pytest.mark.parametrize("status", list(Status))
def test_no_standing_rises_by_being_taken_over(status: Status) -> None:
    after = taken_over(status)
    assert after is (Status.MEMORY if status in (Status.PRINTED, Status.TEXT, Status.SECONDARY) else status)
    assert status.confirmed or not after.confirmed


def test_a_chain_up_to_one_output() -> None:
    part = CHAIN.until("length_m")
    assert part.outputs == ("factor", "length_m")
    assert part.run(GIVEN)["length_m"][0] == 20.0
    with pytest.raises(ValueError, match="not in tuple"):
        CHAIN.until("nothing")


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (date(2017, 6, 30), False),
        (date(2017, 7, 1), True),
        (date(2020, 12, 31), True),
        (date(2021, 1, 1), False),
    ],
)
def test_a_document_applies_from_its_first_day_until_the_next_edition(day: date, expected: bool) -> None:
    dated = Document(
        id="x", short="X", title="x", edition="x", applicability="x",
        applies_from=date(2017, 7, 1), applies_until=date(2021, 1, 1),
    )  # fmt: skip
    assert dated.applies_to(day) is expected
    assert NEW.applies_to(day), "no dates known, none that speaks against it"
