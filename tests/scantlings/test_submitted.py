"""The submitted list is read strictly: a fault of the file is one line, a fault of a cell stays with its row."""

from __future__ import annotations

import pytest

from beltwright.core.errors import InputError
from beltwright.scantlings import submitted
from beltwright.scantlings.submitted import COLUMNS, MemberKind, parse_submission

HEAD = "kind,mark,member,thickness_mm,section,stated_spacing_m\n"


def one(cells: str, head: str = HEAD) -> submitted.SubmittedRow:
    """The row of a list of one."""
    (row,) = parse_submission(head + cells + "\n", "list.csv").rows
    return row


def test_a_row_is_read_as_it_stands() -> None:
    found = parse_submission(
        "# a remark\n" + HEAD + '\n , ,\nplate,P 1,F10/L2,26.5,,0.4\nFRAME,"=F,2",F10/L2,,HP240x11\n', "list.csv"
    )
    plate, frame = found.rows
    assert (plate.line, plate.kind, plate.mark) == (5, MemberKind.PLATE, "P 1")
    assert plate.words == {"member": "F10/L2"}
    assert plate.numbers == {"thickness_mm": 26.5, "stated_spacing_m": 0.4}
    assert (frame.line, frame.kind, frame.mark) == (6, MemberKind.FRAME, "=F,2")
    assert frame.words == {"member": "F10/L2", "section": "HP240x11"}
    assert not plate.faults
    assert not frame.faults
    assert len(found.sha256) == 64


REFUSED = [
    ("", "list.csv: is empty"),
    (HEAD, "list.csv: has no rows"),
    ("kind;mark;member\nplate;P1;F1/L1\n", "list.csv: columns must be separated by commas"),
    (
        "kind,mark,thicknes_mm\nplate,P,1\n",
        "header: unknown column; found thicknes_mm; allowed: did you mean thickness_mm",
    ),
    ("kind,mark,thickness_cm\nplate,P,1\n", "header: unknown column; found thickness_cm"),
    ("kind,mark,mark\nplate,P,1\n", "header: a column is named twice; found mark"),
    ("kind,member\nplate,F1/L1\n", "header: a column is missing; found mark"),
    ("kind,,mark\nplate,P,1\n", "header: unknown column; found a blank"),
    (
        HEAD + "plate,P,F1/L1,26,5,,0.4,x\n",
        "row 2: has 8 cells, more than the header's 6; allowed: a cell that holds a comma",
    ),
    (HEAD + f"plate,{'P' * 201},F1/L1\n", "row 2: mark: is too long"),
    (HEAD + 'plate,"P\n', "is not CSV"),
    (HEAD + "plate," + "P" * 200_000 + "\n", "is not CSV: field larger"),
]


@pytest.mark.parametrize(("text", "told"), REFUSED, ids=[told[:40] for _, told in REFUSED])
def test_a_file_that_is_none_is_one_line(text: str, told: str) -> None:
    with pytest.raises(InputError) as error:
        parse_submission(text, "list.csv")
    assert told in str(error.value)
    assert "\n" not in str(error.value)


def test_too_many_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Both sides of the limit."""
    monkeypatch.setattr(submitted, "LARGEST_ROWS", 3)
    assert len(parse_submission(HEAD + "plate,P,F1/L1\n" * 3, "list.csv").rows) == 3
    with pytest.raises(InputError, match="too many rows; allowed: at most 3"):
        parse_submission(HEAD + "plate,P,F1/L1\n" * 4, "list.csv")


CELLS = [
    ("plat,P,F1/L1,20", "kind", "is 'plat', neither plate nor frame"),
    (",P,F1/L1,20", "kind", "is blank"),
    ('plate,P,F1/L1,"26,5"', "thickness_mm", "'26,5' has a decimal comma; write a point"),
    ("plate,P,F1/L1,26.5 mm", "thickness_mm", "carries a unit; the column is in mm"),
    ("plate,P,F1/L1,2.65cm", "thickness_mm", "carries a unit"),
    ("plate,P,F1/L1,nan", "thickness_mm", "is not a plain number"),
    ("plate,P,F1/L1,inf", "thickness_mm", "is not a plain number"),
    ("plate,P,F1/L1,2e1", "thickness_mm", "is not a plain number"),
    ("plate,P,F1/L1,1_000", "thickness_mm", "is not a plain number"),
    ("plate,P,F1/L1,\u0662\u0666", "thickness_mm", "is not a plain number"),
    ("plate,P,F1/L1,-20", "thickness_mm", "is out of range"),
    ("plate,P,F1/L1,0", "thickness_mm", "is out of range"),
    ("plate,P,F1/L1,20,HP240x11", "section", "belongs to a frame"),
    ("frame,P,F1/L1,20,HP240x11", "thickness_mm", "belongs to a plate"),
    ("plate,P\x07,F1/L1,20", "mark", "holds control characters"),
    ("plate,P,F1/L1,20,,about 400", "stated_spacing_m", "is not a plain number"),
]


@pytest.mark.parametrize(("cells", "column", "what"), CELLS, ids=[f"{c}: {w[:20]}" for _, c, w in CELLS])
def test_a_cell_that_cannot_be_used_stays_with_its_row(cells: str, column: str, what: str) -> None:
    row = one(cells)
    told = [fault for fault in row.faults if fault.column == column]
    assert len(told) == 1
    assert what in told[0].what
    assert row.at_fault(column)
    if not what.startswith("belongs"):
        assert column not in row.words
        assert column not in row.numbers


def test_a_member_and_a_range_do_not_go_together() -> None:
    row = one("plate,P,F1/L1,side", "kind,mark,member,zone\n")
    assert [fault.column for fault in row.faults] == ["member"]


def test_every_column_says_what_it_is() -> None:
    for column in COLUMNS:
        assert len(column.what) > 8
        assert column.numeric is (column.unit != "")
        assert not column.numeric or column.least < column.most
