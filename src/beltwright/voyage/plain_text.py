"""Many lines of plain CSV as columns at once: the quick way to read what needs no care.

Plain is a table without quotes, comments, blank lines and unusual numbers. All else is left to the careful way in
:mod:`beltwright.voyage.regime_rows`, which also finds the first fault; both ways give the same values.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.units import IntArray
from beltwright.voyage.route import SmallInts

LONGEST_FIELD: Final = 200
_COMMA, _END, _MINUS, _DOT, _ZERO = b",\n-.0"
_MOST_DIGITS: Final = 15  # whole numbers of so many digits, and powers of ten up to that, are exact in a float64
_POWERS: Final = np.array([float(10**k) for k in range(_MOST_DIGITS + 1)])
_CARE: Final = (b'"', b"#", b"\0", b"\r")

_Bytes = NDArray[np.uint8]


def plain_columns(
    lines: bytes, header: Sequence[str], tenths: Sequence[str], decimals: Sequence[str]
) -> Mapping[str, NDArray[Any]] | None:
    """Return the columns of some whole lines of n rows, None where they ask for the careful way.

    Columns named in ``tenths`` are whole numbers from 0 to 10 in eight bits (n,), those in ``decimals`` floats (n,),
    all others words as bytes (n,).
    """
    if any(mark in lines for mark in _CARE):
        return None
    text = np.frombuffer(lines, dtype=np.uint8)
    ends = text == _END
    stop = np.flatnonzero(ends | (text == _COMMA))
    columns = len(header)
    if len(stop) % columns:
        return None
    at = np.ascontiguousarray(stop.reshape(-1, columns).T)
    if np.count_nonzero(ends) != len(at[0]) or not ends[at[-1]].all():
        return None
    first = np.concatenate([[0], at[-1, :-1] + 1])
    found: dict[str, NDArray[Any]] = {}
    for k, name in enumerate(header):
        length = at[k] - first
        if name in tenths:
            column: NDArray[Any] | None = _tenths(text, first, length)
        elif name in decimals:
            column = _decimals(text, first, length)
        else:
            column = _words(text, first, length)
        if column is None:
            return None
        found[name] = column
        first = at[k] + 1
    return found


def _characters(text: _Bytes, first: IntArray, length: IntArray) -> _Bytes | None:
    """The characters of a column (longest, n), zero beyond a field's end; None where one is very long."""
    longest = int(length.max(initial=0))
    if longest > LONGEST_FIELD:
        return None
    found = np.empty((longest, len(first)), dtype=np.uint8)
    least = int(length.min(initial=0))
    for k in range(longest):
        taken = text.take(first + k, mode="clip")
        found[k] = taken if k < least else np.where(k < length, taken, 0)
    return found


def _words(text: _Bytes, first: IntArray, length: IntArray) -> NDArray[np.bytes_] | None:
    """A column of words."""
    found = _characters(text, first, length)
    if found is None:
        return None
    if not len(found):
        return np.zeros(len(first), dtype="S1")
    return np.ascontiguousarray(found.T).view(f"S{len(found)}")[:, 0]


def _tenths(text: _Bytes, first: IntArray, length: IntArray) -> SmallInts | None:
    """A column of whole tenths, written 0 to 10, with or without .0 behind; None where another is among them."""
    if (length > 2).any():
        last, before = first + length - 1, first + length - 2
        whole = (length > 2) & (text.take(last) == _ZERO) & (text.take(before, mode="clip") == _DOT)
        length = length - 2 * whole
    digit = text.take(first) - np.uint8(_ZERO)  # another character wraps around and is no digit
    ten = (length == 2) & (digit == 1) & (text.take(first + 1, mode="clip") == _ZERO)
    if not (((length == 1) & (digit < 10)) | ten).all():
        return None
    return np.where(ten, 10, digit).astype(np.int8)


def _decimals(text: _Bytes, first: IntArray, length: IntArray) -> NDArray[np.float64] | None:
    """A column of decimal numbers such as -12.5, read exactly as Python reads them; None where one is none."""
    found = _characters(text, first, length)
    if found is None or not 0 < len(found) <= _MOST_DIGITS:
        return None
    negative = found[0] == _MINUS
    number = np.zeros(len(first), dtype=np.int64)
    behind = np.zeros(len(first), dtype=np.int8)
    digits, dotted = np.zeros(len(first), dtype=bool), np.zeros(len(first), dtype=bool)
    for k, character in enumerate(found):
        value = character - np.uint8(_ZERO)
        digit, dot = value < 10, character == _DOT
        other = character == 0 if k else negative
        if not (digit | dot | other).all() or (dot & dotted).any():
            return None
        number = np.where(digit, 10 * number + value, number)
        behind += digit & dotted
        digits |= digit
        dotted |= dot
    if not digits.all():
        return None
    whole: NDArray[np.float64] = np.where(negative, -number, number) / _POWERS[behind]
    return whole
