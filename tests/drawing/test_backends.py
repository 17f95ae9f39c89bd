"""SVG and PDF: true size, well formed, nothing fetched, the same bytes every time, turned the right way up."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from pypdf import PdfReader

from beltwright.drawing.backends.pdf import to_pdf
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.pens import PENS, TINTS, tint_of_area
from beltwright.drawing.scene import Anchor, Arc, Dot, Filled, Group, Layer, Scene, Words, line

SVG = "{http://www.w3.org/2000/svg}"


def scene(*items: object, window: tuple[float, float, float, float] | None = None) -> Scene:
    group = Group(name="all", items=items, window=window)  # type: ignore[arg-type]
    return Scene(width_mm=200.0, height_mm=100.0, title="A title", description="what it shows", groups=(group,))


def elements(drawn: Scene, tag: str) -> list[ET.Element]:
    return list(ET.fromstring(to_svg(drawn)).iter(SVG + tag))


def test_size_title_and_description() -> None:
    root = ET.fromstring(to_svg(scene()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("200mm", "100mm", "0 0 200 100")
    assert root.findtext(SVG + "title") == "A title"
    assert root.findtext(SVG + "desc") == "what it shows"


def test_y_points_up_on_the_sheet_and_down_in_the_file() -> None:
    path = elements(scene(line(Layer.SHELL, (10.0, 20.0), (30.0, 50.0))), "path")[0]
    assert path.get("d") == "M10 80l20 -30"
    text = elements(scene(Words(at=(5.0, 90.0), text="x", size_mm=3.0)), "text")[0]
    assert (text.get("x"), text.get("y")) == ("5", "10")


def test_an_arc_turns_anticlockwise_on_the_sheet() -> None:
    drawn = scene(Arc(layer=Layer.ANGLE, centre=(50.0, 50.0), radius_mm=10.0, from_deg=0.0, to_deg=90.0))
    assert elements(drawn, "path")[0].get("d") == "M60,50A10,10 0 0 0 50,40"


def test_a_turned_text_turns_anticlockwise_on_the_sheet() -> None:
    words = Words(at=(5.0, 90.0), text="x", size_mm=3.0, turned_deg=90.0, anchor=Anchor.END, bold=True, halo=True)
    text = elements(scene(words), "text")[0]
    assert text.get("transform") == "rotate(-90 5 10)"
    assert text.get("text-anchor") == "end"
    assert text.get("class") == "words bold"
    plate = elements(scene(words), "rect")[-1]
    assert plate.get("transform") == text.get("transform")
    assert (plate.get("x"), plate.get("width")) == ("2.94", "2.31")  # hand: 5 - 0.602 x 3 - 0.25, 0.602 x 3 + 0.5


def test_a_patterned_tint_brings_its_pattern_and_a_window_its_clip() -> None:
    ring = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0)])
    drawn = scene(
        Filled(fill="area-Ml", rings=(ring,)), Dot(layer=Layer.ANGLE, centre=(1, 1), radius_mm=1), window=(0, 0, 5, 5)
    )
    assert [e.get("id") for e in elements(drawn, "pattern")] == ["area-Ml"]
    assert elements(drawn, "clipPath")[0].get("id") == "window0"
    assert elements(drawn, "path")[-1].get("d") == "M0 100l10 0 0 -10z"


def test_nothing_is_fetched_from_outside() -> None:
    text = to_svg(scene(Words(at=(0, 0), text="http://example.invalid", size_mm=3.0)))
    assert text.count("http") == 2  # the namespace, and the words themselves
    assert "<script" not in text
    assert "href" not in text


def test_every_layer_has_a_pen_and_every_area_its_own_tint() -> None:
    assert set(PENS) == set(Layer)
    codes = ("B", "BIi", "BIl", "BIb", "Mi", "Ml", "Mb", "Si", "Sl", "Sb")
    looks = {(TINTS[tint_of_area(c)].colour, TINTS[tint_of_area(c)].pattern) for c in codes}
    assert len(looks) == len(codes)
    assert tint_of_area("") == "none"
    assert tint_of_area("another document's") == "plain"


def lightness(colour: str) -> float:
    """Relative luminance of a colour (formula of the web content accessibility guidelines)."""
    parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("layer", [layer for layer in Layer if PENS[layer].width_mm == 0.0])
def test_words_stand_out_on_every_tint(layer: Layer) -> None:
    for name, tint in TINTS.items():
        if name.startswith("thickness-") and layer is not Layer.WORDS:
            continue  # plates carry their thickness and nothing else
        if name != "ink":
            ratio = (lightness(tint.colour) + 0.05) / (lightness(PENS[layer].colour) + 0.05)
            assert ratio >= 4.5, (layer, name, ratio)


def test_the_pdf_is_one_page_of_true_size_with_searchable_words_and_stable_bytes() -> None:
    drawn = scene(Words(at=(20.0, 50.0), text="UIWL", size_mm=10.0), line(Layer.SHELL, (0, 0), (200, 100)))
    pdf = to_pdf(drawn)
    assert pdf == to_pdf(drawn, to_svg(drawn))
    reader = PdfReader(io.BytesIO(pdf))
    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    assert (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4) == pytest.approx((200.0, 100.0), abs=0.01)
    assert "UIWL" in reader.pages[0].extract_text()
    assert reader.metadata is not None
    assert reader.metadata.title == "A title"


def test_words_cannot_become_typst_code() -> None:
    hostile = 'a" + panic("x") + "\\ #panic() $x$\n*b*'
    pdf = typeset({"main.typ": f"#text({quoted(hostile)})".encode()})
    assert 'panic("x")' in PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
