"""The offset table's text: what is accepted, and one line naming file, line and field for all else."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.hull.readers.offset_hulls import flared, station

from beltwright.core.errors import InputError
from beltwright.hull.patch import RawHull, SplinePatch
from beltwright.hull.readers import read_hull
from beltwright.hull.readers.offsets import parse_offsets, write_offsets

GOOD = """# a box
station_m,height_m,half_breadth_m,knuckle
0,0,0,0
0,0,5,1
0,4,5,0
20,0,0,0
20,0,5,1
20,4,5,0
"""


def _write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "hull.csv"
    path.write_text(text)
    return path


def test_good_table_is_read(tmp_path: Path) -> None:
    unit, stations, _ = parse_offsets(_write(tmp_path, GOOD))
    assert unit == "m"
    assert [s.x for s in stations] == [0.0, 20.0]
    np.testing.assert_array_equal(stations[1].half_breadth, [0.0, 5.0, 5.0])
    np.testing.assert_array_equal(stations[1].height, [0.0, 0.0, 4.0])
    np.testing.assert_array_equal(stations[1].knuckle, [False, True, False])


def test_columns_come_in_any_order_and_the_knuckle_may_be_left_out(tmp_path: Path) -> None:
    text = "half_breadth_mm, station_mm, height_mm\n0,0,0\n5000,0,4000\n0,20000,0\n5000,20000,4000\n"
    unit, stations, _ = parse_offsets(_write(tmp_path, text))
    assert unit == "mm"
    np.testing.assert_array_equal(stations[0].half_breadth, [0.0, 5000.0])
    assert not stations[0].knuckle.any()


def test_table_without_unit_states_none(tmp_path: Path) -> None:
    raw = read_hull(_write(tmp_path, GOOD.replace("_m,", ",").replace("_m\n", "\n")))
    assert raw.length_unit is None


@pytest.mark.parametrize(
    ("change", "line", "says"),
    [
        (("0,4,5,0", "0,4,five,0"), "line 5: half_breadth", "is not a number; found 'five'"),
        (("0,4,5,0", "0,nan,5,0"), "line 5: height", "is not a usable number; found nan"),
        (("0,4,5,0", "0,4,1e999,0"), "line 5: half_breadth", "is not a usable number"),
        (("0,4,5,0", "0,4,-5,0"), "line 5: half_breadth", "is negative; found -5; allowed: 0 or more"),
        (("0,4,5,0", "0,4,5,2"), "line 5: knuckle", "is not a flag; found 2; allowed: 0 or 1"),
        (("0,4,5,0", "0,4,5"), "line 5", "wrong number of fields; found 3; allowed: 4"),
        (("0,4,5,0", "0,4,5,0,9"), "line 5", "wrong number of fields; found 5; allowed: 4"),
        (("0,4,5,0", "0,0,5,1"), "line 5", "repeats the point before it"),
        (("20,0,0,0", "20,0,1,0"), "station 20", "its first point is not on the centreline"),
        (("20,4,5,0", "20,4,5,1"), "station 20", "its last point cannot be a knuckle"),
        (("20,4,5,0", "0,6,5,0"), "line 8", "this station has appeared before"),
        (("height_m", "draught_m"), "line 2", "unknown column; found draught_m"),
        (("height_m", "height_furlong"), "line 2", "unknown column"),
        (("height_m", "height_mm"), "line 2", "the columns state different units"),
        (("knuckle", "height_m"), "line 2", "this column stands twice"),
        (("height_m,half_breadth_m,knuckle", "height_m,knuckle"), "line 2", "half_breadth is missing"),
    ],
)  # fmt: skip
def test_faults_are_named_by_line_and_field(tmp_path: Path, change: tuple[str, str], line: str, says: str) -> None:
    text = GOOD.replace(*change, 1)
    with pytest.raises(InputError) as caught:
        parse_offsets(_write(tmp_path, text))
    message = str(caught.value)
    assert "\n" not in message
    assert f"hull.csv {line}" in message
    assert says in message


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"# only a remark\n", "holds no line of data"),
        (b"station_m,height_m,half_breadth_m\n0,0,0\n0,1,1\n", "too few stations"),
        (b"station_m,height_m,half_breadth_m\n0,0,0\n0,1,0\n1,0,0\n1,1,0\n", "every half-breadth is 0"),
        (b"station_m,height_m,half_breadth_m\n0,0,\xff\n", "is not text (byte 38 is not UTF-8)"),
        (b'station_m,height_m,half_breadth_m\n0,"0,0\n', "is not a line of comma-separated values"),
    ],
)
def test_tables_that_cannot_be_a_hull(tmp_path: Path, data: bytes, says: str) -> None:
    path = tmp_path / "hull.csv"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_hull(path)
    assert says in str(caught.value)
    assert "hull.csv" in str(caught.value)


@pytest.mark.parametrize("unit", ["m", "mm", "in"])
def test_written_tables_come_back_to_the_last_bit(tmp_path: Path, unit: str) -> None:
    path = tmp_path / "hull.csv"
    before = flared(7, 9)
    write_offsets(path, before, length_unit=unit, remark="one\ntwo")
    found, after, _ = parse_offsets(path)
    assert found == unit
    assert path.read_text().startswith("# one\n# two\nstation_")
    for a, b in zip(before, after, strict=True):
        assert a.x == b.x
        np.testing.assert_array_equal(a.height, b.height)
        np.testing.assert_array_equal(a.half_breadth, b.half_breadth)
        np.testing.assert_array_equal(a.knuckle, b.knuckle)


def test_unknown_unit_is_not_written(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="unknown length unit; found league"):
        write_offsets(tmp_path / "hull.csv", flared(3, 5), length_unit="league")
    assert not (tmp_path / "hull.csv").exists()


def test_an_unmarked_corner_is_remarked_on(tmp_path: Path) -> None:
    path = tmp_path / "hull.csv"
    corner = [station(x, np.array([0.0, 0.0, 4.0, 8.0]), np.array([0.0, 5.0, 5.0, 5.0])) for x in (0.0, 10.0, 20.0)]
    write_offsets(path, corner)
    notes = read_hull(path).notes
    assert len(notes) == 3
    assert "turns by 90 degrees" in notes[0]


def _read_or_refusal(path: Path) -> RawHull | None:
    """Return the hull, or None after one line that names the file; anything else fails the test."""
    try:
        return read_hull(path)
    except InputError as error:
        text = str(error)
    assert "\n" not in text
    assert "hull.csv" in text
    return None


@given(st.binary(max_size=300))
def test_any_bytes_give_a_hull_or_one_line(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "hull.csv"
    path.write_bytes(b"station_m,height_m,half_breadth_m\n" + data)
    _read_or_refusal(path)


VALUE = st.sampled_from([0.0, 1.0, 2.5, 7.0, 40.0])


@given(st.lists(st.tuples(VALUE, VALUE, VALUE, st.integers(0, 1)), min_size=1, max_size=25))
def test_any_table_of_numbers_gives_a_finite_hull_or_one_line(
    tmp_path_factory: pytest.TempPathFactory, rows: list[tuple[float, float, float, int]]
) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "hull.csv"
    body = "\n".join(",".join(str(v) for v in row) for row in sorted(rows, key=lambda r: r[0]))
    path.write_text("station_m,height_m,half_breadth_m,knuckle\n" + body + "\n")
    raw = _read_or_refusal(path)
    for patch in raw.patches if raw is not None else ():
        assert isinstance(patch, SplinePatch)
        assert np.all(np.isfinite(patch.poles))
