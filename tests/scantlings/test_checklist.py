"""The clauses without a formula: answers, refusals, and that open stays open."""

from __future__ import annotations

from typing import Any

import pytest
from tests.scantlings.ships import baseline, redesigned, ship

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.rules.polar_iacs_2019.checklist import CHECKLIST
from beltwright.scantlings.checklist import check_checklist, checklist

NOTE = "Weld table, drawing 12."


def given(*entries: dict[str, Any]) -> Any:
    """The ship with answers."""
    return ship(lambda doc: doc.update(checklist=list(entries)))


def test_an_item_without_an_answer_is_open() -> None:
    findings = Findings()
    table = checklist(CHECKLIST, ship(), findings)
    assert table.labels("item").tolist() == [item.id for item in CHECKLIST]
    by_item = dict(zip(table.labels("item").tolist(), table.labels("status").tolist(), strict=True))
    assert by_item.pop("no_ramming_statement") == "not applicable"  # the ship is PC4
    assert set(by_item.values()) == {"open"}
    (finding,) = findings.items
    assert str(finding).startswith(f"BW481 caution: checklist: {len(by_item)} of {len(CHECKLIST)} open: ")
    assert baseline().open_items == len(by_item)


def test_an_item_of_the_class_is_open() -> None:
    pc6 = ship(lambda doc: doc["ice"].update(ice_class="PC6"))
    assert set(checklist(CHECKLIST, pc6, Findings()).labels("status")) == {"open"}


def test_answers_are_told_with_their_notes() -> None:
    told = given(
        {"item": "cut_outs", "status": "done", "note": NOTE},
        {"item": "appendages", "status": "not applicable", "note": "The ship has none."},
        {"item": "web_openings", "status": "open"},
    )
    table = checklist(CHECKLIST, told, Findings())
    rows = {row["item"]: (row["status"], row["note"]) for row in map(table.row, range(table.rows))}
    assert rows["cut_outs"] == ("done", NOTE)
    assert rows["appendages"] == ("not applicable", "The ship has none.")
    assert rows["web_openings"] == ("open", "")


def test_all_answered_is_no_finding() -> None:
    entries = [{"item": item.id, "status": "done", "note": NOTE} for item in CHECKLIST]
    findings = Findings()
    checklist(CHECKLIST, given(*entries), findings)
    assert not findings.items
    assert redesigned(lambda doc: doc.update(checklist=entries)).open_items == 0


@pytest.mark.parametrize(
    ("entries", "message"),
    [
        ([{"item": "cut_out", "status": "open"}],
         "ship.toml: checklist[1].item: no such item of the rule set's checklist; found cut_out; "
         "allowed: did you mean cut_outs?"),
        ([{"item": "appendages", "status": "open"}, {"item": "appendages", "status": "open"}],
         "ship.toml: checklist[2].item: this item is answered already; found appendages"),
        ([{"item": "appendages", "status": "done"}],
         "ship.toml: checklist[1].note: an item that is done needs a note; found nothing; "
         "allowed: at least 10 characters that say how it was settled or why it does not apply"),
        ([{"item": "appendages", "status": "not applicable", "note": "no        "}],
         "ship.toml: checklist[1].note: an item that is not applicable needs a note; found no        ; "
         "allowed: at least 10 characters that say how it was settled or why it does not apply"),
    ],
)  # fmt: skip
def test_answers_that_are_refused(entries: list[dict[str, Any]], message: str) -> None:
    with pytest.raises(InputError) as caught:
        check_checklist(CHECKLIST, given(*entries))
    assert str(caught.value) == " ".join(message.split())


def test_an_item_that_resembles_none_lists_them() -> None:
    with pytest.raises(InputError, match="allowed: both_hull_and_machinery, independent_operation"):
        check_checklist(CHECKLIST, given({"item": "xyzzy", "status": "open"}))
    with pytest.raises(InputError, match="allowed: none: the rule set has no checklist"):
        check_checklist((), given({"item": "xyzzy", "status": "open"}))


def test_a_status_is_one_of_three() -> None:
    with pytest.raises(InputError, match=r"checklist\[1\].status: .*allowed: done, open, not applicable"):
        given({"item": "appendages", "status": "maybe"})
