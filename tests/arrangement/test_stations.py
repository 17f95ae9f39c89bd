"""Frame numbers and places: frame 0 at the aft perpendicular, negative frames aft of it, no gap and no overlap."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.arrangement.stations import frame_stations
from beltwright.core.errors import InputError
from beltwright.ship.model import FrameSpacing


def table(*entries: tuple[float, float, float]) -> list[FrameSpacing]:
    return [FrameSpacing(from_frame=float(a), to_frame=float(b), spacing_m=s) for a, b, s in entries]


def test_frames_are_counted_from_the_aft_perpendicular() -> None:
    stations = frame_stations(table((-8, 20, 0.6), (20, 100, 0.4)))
    # hand: -8 * 0.6 = -4.8; 20 * 0.6 = 12; 12 + 80 * 0.4 = 44; half way between 20 and 21: 12.2
    assert stations.x_of(np.array([-8.0, 0.0, 20.0, 100.0, 20.5])) == pytest.approx(
        [-4.8, 0.0, 12.0, 44.0, 12.2], abs=1e-12
    )
    assert stations.x_of(0.0) == 0.0
    assert stations.spacing_at(19) == pytest.approx(0.6)
    assert stations.spacing_at(20) == pytest.approx(0.4)


def test_a_place_beyond_the_table_goes_on_with_the_last_spacing() -> None:
    stations = frame_stations(table((0, 10, 0.5)))
    assert stations.frame_of(np.array([-1.0, 6.0])) == pytest.approx([-2.0, 12.0])


def test_a_frame_outside_the_table_is_refused() -> None:
    stations = frame_stations(table((0, 10, 0.5)))
    with pytest.raises(ValueError, match="0 to 10"):
        stations.x_of(10.5)


@pytest.mark.parametrize(
    ("entries", "field", "words"),
    [
        (
            [(0, 10, 0.4), (12, 20, 0.4)],
            "frames[2].from_frame",
            "leaves a gap after the entry before; found 12; allowed: 10",
        ),
        ([(0, 10, 0.4), (8, 20, 0.4)], "frames[2].from_frame", "overlaps the entry before; found 8; allowed: 10"),
        ([(0, 10.5, 0.4)], "frames[1].to_frame", "must be a whole frame number; found 10.5; allowed: 10 or 11"),
        ([(10, 10, 0.4)], "frames[1].to_frame", "must lie forward of from_frame"),
        (
            [(0, 10, 0.4), (10, 4, 0.4)],
            "frames[2].to_frame",
            "must lie forward of from_frame; found 4; allowed: above 10",
        ),
        ([(5, 10, 0.4)], "frames", "frame 0 stands at the aft perpendicular and must be in the table; found 5 to 10"),
    ],
)
def test_a_faulty_table_is_refused_by_name(entries: list[tuple[float, float, float]], field: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        frame_stations(table(*entries))
    assert f"ship.toml: {field}:" in str(caught.value)
    assert words in str(caught.value)


spacings = st.lists(st.tuples(st.integers(1, 60), st.floats(0.2, 1.2)), min_size=1, max_size=5)


@given(spacings, st.integers(0, 40))
def test_numbers_and_places_go_back_and_forth(parts: list[tuple[int, float]], aft: int) -> None:
    total = sum(count for count, _ in parts)
    first = -min(aft, total)
    entries, at = [], first
    for count, spacing in parts:
        entries.append((at, at + count, spacing))
        at += count
    stations = frame_stations(table(*entries))
    numbers = stations.numbers.astype(float)
    assert stations.x_of(0.0) == 0.0
    assert np.all(np.diff(stations.x_m) > 0.0)
    assert stations.x_m[-1] - stations.x_m[0] == pytest.approx(sum(c * s for c, s in parts))
    assert stations.frame_of(stations.x_of(numbers)) == pytest.approx(numbers, abs=1e-9)
    middles = numbers[:-1] + 0.5
    assert stations.x_of(middles) == pytest.approx((stations.x_m[:-1] + stations.x_m[1:]) / 2.0)
