"""Lettering is measured as the typeface is; labels never overlap, whatever is asked of the placer."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.lettering import boxes_overlap, shorten, text_box, text_width, wrap
from beltwright.drawing.paper import SCALES, choose_paper
from beltwright.drawing.scene import Layer, Lines, Plot, Words, dimension


def test_a_fixed_width_typeface_measures_by_counting() -> None:
    assert text_width("24.5 EH36", 2.5) == pytest.approx(9 * 0.602 * 2.5)  # hand: 1233/2048 em a character
    assert text_width("β\u0301", 1.0) == pytest.approx(0.602)


@pytest.mark.parametrize(
    ("anchor", "turned", "low", "high"),
    [("start", 0.0, (10, 19.76), (11.204, 20.76)), ("end", 0.0, (8.796, 19.76), (10, 20.76)),
     ("start", 90.0, (9.24, 20), (10.24, 21.204)), ("middle", 180.0, (9.398, 19.24), (10.602, 20.24))],
)  # fmt: skip
def test_the_box_of_two_letters(anchor: str, turned: float, low: tuple[float, ...], high: tuple[float, ...]) -> None:
    box = text_box((10.0, 20.0), "ab", 1.0, anchor, turned)
    assert box.min(axis=0) == pytest.approx(low)
    assert box.max(axis=0) == pytest.approx(high)


def square(x: float, y: float, turn_deg: float = 0.0) -> np.ndarray:
    c, s = np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))
    return np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) @ np.array([(c, s), (-s, c)]) + np.array([x, y])


@pytest.mark.parametrize(
    ("other", "clearance", "overlap"),
    [(square(1.9, 0), 0.0, True), (square(2.1, 0), 0.0, False), (square(2.1, 0), 0.2, True),
     (square(2.3, 0, 45), 0.0, True), (square(2.42, 0, 45), 0.0, False), (square(2.3, 2.3, 45), 0.0, False)],
)  # fmt: skip
def test_boxes_overlap_also_when_turned(other: np.ndarray, clearance: float, overlap: bool) -> None:
    assert boxes_overlap(square(0, 0), other, clearance) is overlap
    assert boxes_overlap(other, square(0, 0), clearance) is overlap


def test_words_are_shortened_and_wrapped_to_a_width() -> None:
    assert shorten("short", 2.0, 100.0) == "short"
    cut = shorten("a name that is far too long", 2.0, 12.0)
    assert cut.endswith("…")
    assert text_width(cut, 2.0) <= 12.0
    assert all(text_width(part, 2.0) <= 40.0 for part in wrap("several words that must be broken " * 5, 2.0, 40.0))


places = st.tuples(st.floats(0, 200), st.floats(0, 100))


@given(st.lists(st.tuples(places, st.integers(1, 14), st.booleans()), max_size=40))
def test_placed_labels_never_overlap_and_stay_in_the_window(
    wanted: list[tuple[tuple[float, float], int, bool]],
) -> None:
    placer = LabelPlacer(window=(0.0, 0.0, 200.0, 100.0))
    boxes = []
    for point, length, leader in wanted:
        placed = placer.place(Label(lines=("x" * length, "y"), points=(point,), size_mm=2.5, leader=leader))
        boxes += [item.box for item in placed if isinstance(item, Words)]
    for i, box in enumerate(boxes):
        assert box.min() >= 0.0
        assert (box.max(axis=0) <= [200.0, 100.0]).all()
        assert not any(boxes_overlap(box, other, -1e-9) for other in boxes[i + 1 :])


def test_a_label_pushed_aside_keeps_a_leader_to_its_point() -> None:
    placer = LabelPlacer(window=(0.0, 0.0, 100.0, 100.0))
    placer.take([square(54.0, 50.0)])
    placed = placer.place(Label(lines=("24.5 EH36",), points=((50.0, 50.0),), size_mm=2.5))
    leader = next(item for item in placed if isinstance(item, Lines))
    assert leader.runs[0][-1] == pytest.approx((50.0, 50.0))
    assert placer.place(Label(lines=("wide",), points=((51.0, 50.0),), size_mm=2.5, leader=False)) == []


def test_a_label_would_rather_not_cover_a_border() -> None:
    free, crowded = (LabelPlacer(window=(0.0, 0.0, 100.0, 100.0)) for _ in range(2))
    crowded.shun([np.array([(0.0, 50.0), (100.0, 50.0)])])
    label = Label(lines=("12345678",), points=((50.0, 50.0), (50.0, 60.0)), size_mm=4.0)
    assert next(i for i in free.place(label) if isinstance(i, Words)).at[1] == pytest.approx(50.0, abs=2.0)
    assert next(i for i in crowded.place(label) if isinstance(i, Words)).at[1] == pytest.approx(60.0, abs=2.0)


@pytest.mark.parametrize(
    ("length", "height", "scale"),
    [(104.2, 19.0, 100), (50.0, 10.0, 50), (140.0, 22.0, 125), (170.0, 25.0, 150), (230.0, 30.0, 200)],
)
def test_the_largest_scale_that_fits(length: float, height: float, scale: int) -> None:
    paper = choose_paper(length, height, 90.0, 160.0)
    assert paper.scale == scale
    assert length * paper.mm_per_m + 90.0 <= paper.width_mm
    assert height * paper.mm_per_m + 160.0 <= paper.height_mm
    larger = [s for s in SCALES if s < scale]
    assert all(length * 1000.0 / s + 90.0 > 1260.0 or height * 1000.0 / s + 160.0 > 841.0 for s in larger)


def test_a_ship_too_long_for_every_sheet_gets_a_roll_made_to_fit() -> None:
    paper = choose_paper(400.0, 40.0, 90.0, 160.0)
    assert (paper.scale, paper.name) == (200, "roll made to fit")
    assert paper.width_mm >= 2090.0
    assert paper.width_mm % 210 == 0


def test_a_plot_places_metres_on_paper() -> None:
    plot = Plot(paper_x=30.0, paper_y=40.0, reference=(10.0, 1.0), scale_mm_per_m=10.0)
    assert plot.at(12.0, 3.5) == pytest.approx((50.0, 65.0))


def test_a_dimension_reads_along_its_line() -> None:
    level, upright = dimension((0, 0), (50, 0), "5.00 m"), dimension((0, 0), (0, 50), "5.00 m")
    assert next(i for i in level if isinstance(i, Words)).turned_deg == 0.0
    assert next(i for i in upright if isinstance(i, Words)).turned_deg == 90.0
    assert all(i.layer is Layer.DIMENSION for i in level if isinstance(i, Lines))
