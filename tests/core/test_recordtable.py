"""Tables of records: every way a data file can be wrong is named with its line."""

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.recordtable import parse_records
from beltwright.core.steel import steel_density

HEADER = "# document: d\n# edition: e\n# table: t\n# title: x\n# read_by: y\n"
GOOD = HEADER + "name,size,status\na,1.5,printed\nb,,memory\n"


def test_a_good_file_reads_as_columns() -> None:
    table = parse_records(GOOD, "f.csv")
    assert len(table) == 2
    assert table.header["document"] == "d"
    assert table.words("name").tolist() == ["a", "b"]
    assert table.filled("size").tolist() == [True, False]
    assert table.numbers_where_filled("size").tolist() == [1.5]
    assert table.statuses() == (Status.PRINTED, Status.MEMORY)
    assert table.lines == (7, 8)


def test_a_blank_is_not_a_number_and_names_its_line() -> None:
    with pytest.raises(InputError, match=r"f\.csv: line 8: size is not a number; found blank"):
        parse_records(GOOD, "f.csv").numbers("size")


def test_cells_carry_the_standing_of_their_row_and_leave_blanks_out() -> None:
    table = parse_records(GOOD + "c,wide,choice\n", "f.csv")
    cells = table.cells("name", ["a", "b", "c"], ["size"])
    assert [(cell.value, cell.status) for cell in cells] == [(1.5, Status.PRINTED), ("wide", Status.CHOICE)]
    assert cells[0].where == "d: t (name a, column size)"
    assert table.cells("name", ["z"], ["size"]) == ()


@pytest.mark.parametrize("word", ["nan", "inf", "1,5x", "seven"])
def test_only_finite_numbers_pass(word: str) -> None:
    text = HEADER + f'name,size,status\na,"{word}",printed\n'
    with pytest.raises(InputError, match="line 7: size is not a number"):
        parse_records(text, "f.csv").numbers("size")


def test_unknown_column_and_unknown_status() -> None:
    table = parse_records(GOOD, "f.csv")
    with pytest.raises(InputError, match="no such column; found weight; allowed: name, size, status"):
        table.words("weight")
    with pytest.raises(InputError, match="line 7: unknown status; found a; allowed: printed"):
        table.statuses("name")


@pytest.mark.parametrize("key", ["document", "edition", "table", "title", "read_by"])
def test_each_header_line_is_needed(key: str) -> None:
    text = "\n".join(line for line in GOOD.splitlines() if not line.startswith(f"# {key}"))
    with pytest.raises(InputError, match=f"header lacks '# {key}:'"):
        parse_records(text, "f.csv")


def test_short_rows_repeated_columns_and_empty_files() -> None:
    with pytest.raises(InputError, match="line 7: wrong number of fields; found 2; allowed: 3"):
        parse_records(HEADER + "name,size,status\na,1\n", "f.csv")
    with pytest.raises(InputError, match="one must be 'status'"):
        parse_records(HEADER + "name,size\na,1\n", "f.csv")
    with pytest.raises(InputError, match="columns must differ"):
        parse_records(HEADER + "name,name,status\na,1,memory\n", "f.csv")
    with pytest.raises(InputError, match="no header line"):
        parse_records(HEADER, "f.csv")


def test_the_density_of_steel_has_a_source() -> None:
    density = steel_density()
    assert density.kg_per_m3 == 7850.0  # common practice; nominal mass convention of the section standards, recalled
    assert density.source
    assert density.status is Status.MEMORY_CHECKED
    assert density.cell.value == density.kg_per_m3
    assert np.isclose(35e-3 * density.kg_per_m3 / 0.45359237, 605, atol=1.0)  # common practice, no source: 605 lb
