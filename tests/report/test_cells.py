"""Where cells stand in words: the word asked for, the ends of long keys, records on one line."""

from __future__ import annotations

from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell
from beltwright.report.cells import cell_words, gathered


def cell(
    *keys: tuple[str, str], value: float | str | None = 1.0, status: Status = Status.MEMORY, note: str = ""
) -> Cell:
    return Cell(table="UR X Table 1", keys=keys, value=value, status=status, note=note)


def test_a_key_of_several_words_shows_the_one_asked_for_or_its_ends() -> None:
    one = cell(("ice_class", "PC1|PC2|PC3"), ("hull_area", "B"))
    assert cell_words(one) == "UR X Table 1 (ice class PC1 to PC3, hull area B)"
    assert cell_words(one, {"ice_class": "PC2"}) == "UR X Table 1 (ice class PC2, hull area B)"
    assert cell_words(one, {"ice_class": "PC9"}) == "UR X Table 1 (ice class PC1 to PC3, hull area B)"


def test_columns_of_a_record_are_one_line_and_nothing_else_is() -> None:
    record = [cell(("name", "HP200x9"), ("column", name), value=value) for name, value in
              (("height_mm", 200.0), ("web_mm", 9.0))]  # fmt: skip
    other = cell(("name", "HP200x9"), ("column", "edge_mm"), value=None, status=Status.CHOICE)
    plain = [cell(("kind", "a")), cell(("kind", "b"), value="E", note="by choice")]
    assert gathered([plain[1], *record, other, plain[0]]) == [
        ("UR X Table 1 (kind a)", "1", "memory", ""),
        ("UR X Table 1 (kind b)", "E", "memory", "by choice"),
        ("UR X Table 1 (name HP200x9, column edge_mm)", "blank", "choice", ""),
        ("UR X Table 1 (name HP200x9)", "height mm 200; web mm 9", "memory", ""),
    ]
