"""PDF at true paper size, compiled from the SVG; vector lines and searchable words, no date but a fixed one."""

from __future__ import annotations

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.scene import Scene


def to_pdf(scene: Scene, svg: str | None = None) -> bytes:
    """Return the scene as a PDF page of the scene's size; ``svg`` spares writing it again."""
    drawing = (to_svg(scene) if svg is None else svg).encode("utf-8")
    page = (
        f"#set page(width: {scene.width_mm:g}mm, height: {scene.height_mm:g}mm, margin: 0mm)\n"
        f"#set document(title: {quoted(scene.title)})\n"
        f'#image("sheet.svg", width: 100%, alt: {quoted(scene.description)})\n'
    )
    return typeset({"main.typ": page.encode("utf-8"), "sheet.svg": drawing})
