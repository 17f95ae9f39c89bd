"""Column tables refuse what does not apply; one spelling of any input."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.canonical import canonical_json, file_fingerprint, fingerprint
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit


@pytest.fixture
def table() -> ColumnTable:
    return ColumnTable(
        "demo",
        {
            "t_mm": Column(unit=Unit("mm"), meaning="thickness", data=np.array([1.0, 2.0, 3.0])),
            "gamma_deg": Column(
                unit=Unit("deg"),
                meaning="angle",
                data=np.array([1.0, np.nan, 3.0]),
                reason=np.array(["", "alpha is 0", ""]),
            ),
            "name": Column(unit=Unit("label"), meaning="name", data=np.array(["a", "b", "c"])),
            "loose": Column(unit=Unit("-"), meaning="objects", data=np.array([None, 1, "x"], dtype=object)),
        },
    )


def test_reading(table: ColumnTable) -> None:
    assert (table.rows, len(table), list(table)) == (3, 4, ["t_mm", "gamma_deg", "name", "loose"])
    assert table.values("t_mm").tolist() == [1.0, 2.0, 3.0]
    assert table.labels("name").tolist() == ["a", "b", "c"]
    assert table.row(1) == {"t_mm": 2.0, "gamma_deg": None, "name": "b", "loose": 1}


def test_a_row_that_does_not_apply_is_refused(table: ColumnTable) -> None:
    with pytest.raises(ValueError, match="gamma_deg does not apply in row 1: alpha is 0"):
        table.values("gamma_deg")
    assert table.where(np.array([True, False, True])).values("gamma_deg").tolist() == [1.0, 3.0]


def test_columns_of_different_lengths_are_refused() -> None:
    one = Column(unit=Unit("m"), meaning="", data=np.zeros(1))
    two = Column(unit=Unit("m"), meaning="", data=np.zeros(2))
    with pytest.raises(ValueError, match="different lengths"):
        ColumnTable("bad", {"a": one, "b": two})
    assert ColumnTable("empty", {}).rows == 0


def test_a_column_is_added_once(table: ColumnTable) -> None:
    more = Column(unit=Unit("m"), meaning="", data=np.zeros(3))
    assert "x_m" in table.with_columns({"x_m": more})
    with pytest.raises(ValueError, match="t_mm"):
        table.with_columns({"t_mm": more})


def test_canonical_json_has_one_spelling() -> None:
    assert canonical_json({"b": 1.0, "a": [np.float64(0.1), -0.0, True, None]}) == '{"a":[0.1,0.0,true,null],"b":1.0}'
    assert canonical_json((1, "x")) == '[1,"x"]'
    assert canonical_json(np.array([1.5])) == "[1.5]"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), {"a": [-float("inf")]}])
def test_not_a_number_has_no_canonical_form(value: object) -> None:
    with pytest.raises(ValueError, match="canonical"):
        canonical_json(value)


def test_strange_types_have_no_canonical_form() -> None:
    with pytest.raises(TypeError, match="set"):
        canonical_json({1, 2})


@given(st.dictionaries(st.text(max_size=5), st.floats(allow_nan=False, allow_infinity=False), max_size=5))
def test_order_of_keys_does_not_change_the_hash(value: dict[str, float]) -> None:
    assert fingerprint(value) == fingerprint(dict(reversed(list(value.items()))))


@given(st.floats(allow_nan=False, allow_infinity=False), st.floats(allow_nan=False, allow_infinity=False))
def test_different_numbers_have_different_hashes(a: float, b: float) -> None:
    assert (fingerprint(a) == fingerprint(b)) == (a == b)


def test_file_fingerprint_is_sha256() -> None:
    # printed: FIPS 180-2 appendix B.1, the digest of "abc" (from memory)
    assert file_fingerprint(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
