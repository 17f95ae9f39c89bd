"""Rule tables: every cell with its standing, every refusal named."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import RuleTable, load_table_file, parse_table

HEADER = "# document: UR X\n# edition: 1\n# table: Table 4\n# title: factors\n# read_by: a test\n# unit: -\n"
BODY = "ice_class,area,value,status,note\nPC4,B,1.0,memory,\n"
BODY += "PC4,Mb,,memory,nothing asked\nPC5,B,1.0,printed,\nPC5,Mb,0.3,text,\n"


@pytest.fixture
def table() -> RuleTable:
    return parse_table(HEADER + BODY, "factors.csv")


def test_cells(table: RuleTable) -> None:
    cell = table.cell("PC4", "B")
    assert (cell.value, cell.status, cell.where) == (1.0, Status.MEMORY, "UR X Table 4 (ice_class PC4, area B)")
    assert table.cell("PC4", "Mb").value is None
    assert table.cell("PC4", "Mb").note == "nothing asked"
    assert (table.name, table.unit.symbol, table.keys) == ("UR X Table 4", "-", ("ice_class", "area"))


def test_look_up_broadcasts_and_keeps_order(table: RuleTable) -> None:
    found = table.numbers(np.array(["PC4", "PC5", "PC4"]), np.array(["B"]))
    assert found.tolist() == [1.0, 1.0, 1.0]
    words = parse_table(HEADER + "class,t,value,status\nI,10,D/DH,text\nI,20,,text\n", "w.csv")
    assert words.words(np.array(["I"]), np.array(["10"])).tolist() == ["D/DH"]
    assert table.has_value(np.array(["PC4"]), np.array(["B", "Mb"])).tolist() == [True, False]


def test_one_key_is_looked_up_as_many_are(table: RuleTable) -> None:
    many = table.numbers(np.array(["PC5", "PC5"]), np.array(["Mb"]))
    for keys in (("PC5", "Mb"), (np.array(["PC5"]), "Mb"), (np.array([["PC5"]]), np.array(["Mb"]))):
        one = table.numbers(*keys)
        assert one.ravel().tolist() == many[:1].tolist()
        assert one.shape == np.broadcast_shapes(*(np.shape(key) for key in keys))
    one[...] = 7.0  # the caller's own array
    assert table.numbers("PC5", "Mb") == 0.3


def test_a_blank_cell_is_never_a_number(table: RuleTable) -> None:
    with pytest.raises(InputError, match="blank"):
        table.numbers(np.array(["PC4"]), np.array(["Mb"]))


def test_unknown_keys_list_the_known_ones(table: RuleTable) -> None:
    with pytest.raises(InputError, match="no such ice_class; found PC9; allowed: PC4, PC5"):
        table.cell("PC9", "B")
    lacking = parse_table(HEADER + "a,b,value,status\n1,2,3,text\n2,1,3,text\n", "x.csv")
    with pytest.raises(InputError, match="no such cell; found 1 / 1"):
        lacking.cell("1", "1")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (BODY, "lacks '# document:'"),
        (HEADER + BODY + "PC4,B,1.0,memory,\n", "line 12: this cell is there already"),
        (HEADER + BODY + "PC6,B,1.0,certain,\n", "unknown status; found certain; allowed: printed"),
        (HEADER + BODY + "PC6,B,1.0\n", "wrong number of fields; found 3; allowed: 5"),
    ],
)
def test_a_broken_table_is_refused(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        parse_table(text, "factors.csv")


def test_reading_a_file(tmp_path: Path) -> None:
    path = tmp_path / "factors.csv"
    path.write_text(HEADER + BODY, encoding="utf-8")
    assert load_table_file(path).cell("PC5", "B").status.confirmed
    assert not Status.MEMORY.confirmed
