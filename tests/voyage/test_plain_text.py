"""The quick way to read a table against the careful one and against Python's own numbers."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.rules.polaris_imo_2016.tables import ICE_TYPES
from beltwright.voyage import regime_file, regime_rows
from beltwright.voyage.plain_text import LONGEST_FIELD, plain_columns
from beltwright.voyage.regime_file import read_route
from beltwright.voyage.route import Route

HEADER = ("point", "ice_free_tenths", "latitude_deg")
Columns = dict[str, list[object]]


def plain(text: str) -> Columns | None:
    found = plain_columns(text.encode(), HEADER, ("ice_free_tenths",), ("latitude_deg",))
    return None if found is None else {name: column.tolist() for name, column in found.items()}


def table(order: str) -> str:
    """Points with places on some dates, some left out; date by date, point by point, or in no order."""
    rng = np.random.default_rng(7)
    names = ",".join(f"{name}_tenths" for name in ICE_TYPES)
    places = {f"P{k}·": (round(rng.uniform(-80, 80), 3), round(rng.uniform(-170, 170), 2)) for k in range(9)}
    rows = []
    for k in range(14):
        for point, (latitude, longitude) in places.items():
            if order == "whole" or rng.random() < 0.8:
                tenths = ",".join(map(str, rng.multinomial(10, rng.dirichlet(np.ones(12)))))
                flags = ",".join(str(rng.choice(["yes", "no", "", "Yes"])) for _ in range(2))
                rows.append((k, point, f"2031-03-{k + 1:02d},{point},{latitude},{longitude},{tenths},{flags}"))
    if order == "by point":
        rows.sort(key=lambda row: (row[1], row[0]))
    if order == "none":
        rng.shuffle(rows)
    header = f"date,point,latitude_deg,longitude_deg,{names},decay_confirmed,escort_planned"
    return "\n".join([header, *(row[2] for row in rows)]) + "\n"


@pytest.mark.parametrize("at_once", [90, 700, 4_000_000])
@pytest.mark.parametrize("order", ["whole", "by date", "by point", "none"])
def test_both_ways_read_the_same_route(
    order: str, at_once: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "route.csv"
    path.write_text(table(order), encoding="utf-8")
    monkeypatch.setattr(regime_file, "BYTES_AT_ONCE", at_once)
    quick = read_route(path)
    asked = []
    monkeypatch.setattr(regime_rows, "plain_columns", lambda *_: asked.append(1))
    careful = read_route(path)
    assert len(asked) == (1 if at_once > 10_000 else len(asked)) > 0
    for name in Route.__dataclass_fields__:
        one, other = getattr(quick, name), getattr(careful, name)
        assert one.dtype == other.dtype, name
        assert np.array_equal(one, other), name


def test_plain_lines_are_read_and_others_are_left_to_care() -> None:
    assert plain("A,0,70\nB 1,10,-7.25\nC,9.0,.5\n") == {
        "point": [b"A", b"B 1", b"C"], "ice_free_tenths": [0, 10, 9], "latitude_deg": [70.0, -7.25, 0.5],
    }  # fmt: skip
    assert plain(",10.0,7.\n") == {"point": [b""], "ice_free_tenths": [10], "latitude_deg": [7.0]}
    for line in (
        '"A",1,70', "#A,1,70", "A\0,1,70", "A,1,70\r", "A,1", "A,1,70,1", "A,11,70", "A,1.5,70", "A,,70", "A,.0,70",
        "A,-1,70", "A, 1,70", "A,01,70", "A,1,", "A,1,-", "A,1,.", "A,1,7-0", "A,1,+70", "A,1,7e1", "A,1,7.0.1",
        "A,1,nan", "A,1,7 0", "A,1,70.12345678901234567", "A" * (LONGEST_FIELD + 1) + ",1,70", "A,1\n70,1,2,3",
    ):  # fmt: skip
        assert plain(f"B,2,71\n{line}\nC,3,72\n") is None, line


@given(st.decimals(-1000, 1000, places=5), st.integers(0, 5))
def test_decimals_are_those_that_python_reads(number: object, places: int) -> None:
    text = f"{number:.{places}f}"
    found = plain(f"A,1,{text}\nB,1,1\n")
    assert found is not None
    assert found["latitude_deg"][0] == float(text)


def test_line_ends_of_another_kind_and_endless_lines_are_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "route.csv"
    path.write_bytes(b"date,point,ice_free_tenths\r2031-01-01,A,10\r")
    with pytest.raises(InputError, match=r"route\.csv: has line ends of another kind; found CR alone"):
        read_route(path)
    monkeypatch.setattr(regime_file, "LONGEST_LINE", 40)
    path.write_bytes(b"date,point,ice_free_tenths\n2031-01-01," + 400 * b"A" + b",10\n")
    monkeypatch.setattr(regime_file, "BYTES_AT_ONCE", 20)
    with pytest.raises(InputError, match=r"route\.csv: a line is too long; allowed: at most 40 bytes"):
        read_route(path)
    path.write_bytes(b"date,point,ice_free_tenths\r\n2031-01-01,A,10")
    assert read_route(path).points.tolist() == ["A"]
