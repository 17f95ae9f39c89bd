"""Drawings for a page: the same lines as on paper, every panel a shape of its own, and nothing of the user's runs."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np
import pytest

from beltwright.drawing.backends.live import live_style, to_live_svg
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.pens import PENS
from beltwright.drawing.scene import Dot, Filled, Group, Layer, Scene, Words, line

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)])
HOSTILE = "<script>alert('1')</script>\" onload=\"x"


def scene(*items: Filled | Dot | Words) -> Scene:
    """A sheet with some items, a frame and a title block."""
    groups = (
        Group(name="hull areas", items=items),
        Group(name="border", items=(line(Layer.BORDER_OF_SHEET, (0.0, 0.0), (400.0, 300.0)),)),
        Group(name="title block", items=(Words(at=(390.0, 5.0), text="title", size_mm=3.0),)),
    )
    return Scene(width_mm=400.0, height_mm=300.0, title="t", description="d", groups=groups)


def test_each_panel_is_a_shape_with_its_row_and_name() -> None:
    drawn = scene(Filled(fill="area-B", rings=(SQUARE + 20.0, SQUARE + 40.0), rows=(7, 3)))
    root = ET.fromstring(to_live_svg(drawn, prefix="a-", names=[f"P{k}" for k in range(9)]))
    shapes = [item for item in root.iter(f"{SVG}path") if "data-row" in item.attrib]
    assert [(item.get("data-row"), item.get("data-name")) for item in shapes] == [("7", "P7"), ("3", "P3")]
    on_paper = ET.fromstring(to_svg(drawn))
    assert len([item for item in on_paper.iter(f"{SVG}path") if "url" in item.get("fill", "#")]) <= 1


def test_the_sheet_is_left_out_and_the_picture_cut_to_what_remains() -> None:
    drawn = scene(Filled(fill="area-B", rings=(SQUARE + 20.0,), rows=(0,)))
    text = to_live_svg(drawn, prefix="a-", names=["P0"])
    root = ET.fromstring(text)
    # hand: the square spans 20..30 mm in x and, turned down from a height of 300 mm, 270..280 in y; air 6
    assert [float(value) for value in root.get("viewBox", "").split()] == [14.0, 264.0, 22.0, 22.0]
    assert "title" not in text


def test_shell_without_a_tint_is_on_the_page_and_not_on_paper() -> None:
    drawn = scene(Filled(fill="none", rings=(SQUARE + 20.0,), rows=(0,)))
    assert 'data-row="0"' in to_live_svg(drawn, prefix="", names=["P0"])
    assert "M20" not in to_svg(drawn)


def test_words_of_the_user_stay_words() -> None:
    drawn = scene(
        Filled(fill="area-B", rings=(SQUARE + 20.0,), rows=(0,)), Words(at=(30.0, 30.0), text=HOSTILE, size_mm=2.0)
    )
    root = ET.fromstring(to_live_svg(drawn, prefix="", names=[HOSTILE]))
    assert {item.tag.removeprefix(SVG) for item in root.iter()} <= {"svg", "defs", "g", "path", "text"}
    assert not [name for item in root.iter() for name in item.attrib if name.startswith("on")]
    assert next(item.text for item in root.iter(f"{SVG}text")) == HOSTILE


@pytest.mark.parametrize("dark", [False, True])
def test_every_layer_has_a_look(dark: bool) -> None:
    style = live_style(".drawing", dark=dark)
    for layer in PENS:
        assert f".drawing .{layer.value}{{" in style


def test_light_and_dark_differ_for_every_pen_with_words() -> None:
    light, dark = live_style("x").splitlines(), live_style("x", dark=True).splitlines()
    assert next(row for row in light if row.startswith("x .words{")) != next(
        row for row in dark if row.startswith("x .words{")
    )
