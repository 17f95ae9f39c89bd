"""SVG at true paper size: one path per layer and group, all words escaped, no script, nothing fetched from outside."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.lettering import FALLBACK, FAMILY, text_width
from beltwright.drawing.pens import NO_TINT, PENS, TINTS
from beltwright.drawing.scene import Arc, Dot, Element, Filled, Group, Layer, Lines, Scene, Words


def to_svg(scene: Scene) -> str:
    """Return the scene as an SVG document; the same scene gives the same bytes."""
    writer = SvgWriter(scene)
    groups = "\n".join(writer.group(number, group) for number, group in enumerate(scene.groups))
    width, height = f"{scene.width_mm:g}", f"{scene.height_mm:g}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" '
        f'role="img" aria-labelledby="title description">\n'
        f'<title id="title">{escaped(scene.title)}</title>\n'
        f'<desc id="description">{escaped(scene.description)}</desc>\n'
        f"<style>\n{_style(writer.layers)}\n</style>\n"
        f"<defs>{''.join(_pattern(name) for name in sorted(writer.patterns))}{''.join(writer.windows)}</defs>\n"
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>\n{groups}\n</svg>\n'
    )


class SvgWriter:
    """Writes elements with y turned down, and remembers which layers, patterns and windows they need.

    ``prefix`` stands before the names of windows, so that several drawings can hang in one page.
    """

    def __init__(self, scene: Scene, prefix: str = "") -> None:
        self.height = scene.height_mm
        self.prefix = prefix
        self.layers: set[Layer] = set()
        self.patterns: set[str] = set()
        self.windows: list[str] = []

    def group(self, number: int, group: Group) -> str:
        """Write one group."""
        clip = ""
        if group.window is not None:
            x, y, width, height = group.window
            self.windows.append(
                f'<clipPath id="{self.prefix}window{number}"><rect x="{_n(x)}" y="{_n(self.height - y - height)}" '
                f'width="{_n(width)}" height="{_n(height)}"/></clipPath>'
            )
            clip = f' clip-path="url(#{self.prefix}window{number})"'
        body = "\n".join(self.element(item) for item in group.items)
        return f"<g data-name={quoteattr(group.name)}{clip}>\n{body}\n</g>"

    def element(self, item: Element) -> str:
        """Write one element."""
        match item:
            case Lines():
                self.layers.add(item.layer)
                return f'<path class="{item.layer.value}" d="{self.path(item.runs, item.closed)}"/>'
            case Filled():
                return self.filled(item)
            case Arc():
                self.layers.add(item.layer)
                return self.arc(item)
            case Dot():
                x, y = item.centre
                colour = PENS[item.layer].colour
                return f'<circle cx="{_n(x)}" cy="{_n(self.height - y)}" r="{_n(item.radius_mm)}" fill="{colour}"/>'
            case Words():
                self.layers.add(item.layer)
                return self.words(item)

    def path(self, runs: Iterable[FloatArray], closed: bool) -> str:
        """Write the path data of several runs: absolute starts, relative steps, hundredths of a millimetre."""
        parts = []
        for run in runs:
            whole = np.rint(np.stack([run[:, 0], self.height - run[:, 1]], axis=1) * 100.0).astype(np.int64)
            steps = np.diff(whole, axis=0)
            steps = steps[np.any(steps != 0, axis=1)]
            start = f"M{_h(whole[0, 0])} {_h(whole[0, 1])}"
            parts.append(start + ("l" if len(steps) else "") + _steps(steps) + ("z" if closed else ""))
        return "".join(parts)

    def filled(self, item: Filled) -> str:
        """Write filled polygons, and their pattern over the tint; on paper nothing where there is no tint."""
        if item.fill == NO_TINT:
            return ""
        tint = TINTS[item.fill]
        data = self.path(item.rings, True)
        if not tint.pattern:
            return f'<path fill="{tint.colour}" d="{data}"/>'
        self.patterns.add(item.fill)
        return f'<path fill="url(#{item.fill})" d="{data}"/>'

    def arc(self, item: Arc) -> str:
        """Write a circular arc."""
        turn = np.radians([item.from_deg, item.to_deg])
        x = item.centre[0] + item.radius_mm * np.cos(turn)
        y = self.height - (item.centre[1] + item.radius_mm * np.sin(turn))
        r = _n(item.radius_mm)
        large = int(item.to_deg - item.from_deg > 180.0)
        data = f"M{_n(x[0])},{_n(y[0])}A{r},{r} 0 {large} 0 {_n(x[1])},{_n(y[1])}"
        return f'<path class="{item.layer.value}" d="{data}"/>'

    def plate(self, item: Words, x: float, y: float, turned: str) -> str:
        """Write the light plate behind words that stand on a drawing."""
        left, top, width, height = _plate_of(item)
        return (
            f'<rect class="plate" x="{_n(x + left)}" y="{_n(y - top)}" width="{_n(width)}" height="{_n(height)}" '
            f'rx=".4"{turned}/>'
        )

    def words(self, item: Words) -> str:
        """Write one line of words."""
        x, y = item.at[0], self.height - item.at[1]
        style = [item.layer.value] + (["bold"] if item.bold else [])
        turned = f' transform="rotate({_n(-item.turned_deg)} {_n(x)} {_n(y)})"' if item.turned_deg else ""
        anchor = "" if item.anchor.value == "start" else f' text-anchor="{item.anchor.value}"'
        plate = self.plate(item, x, y, turned) if item.halo else ""
        return plate + (
            f'<text class="{" ".join(style)}" x="{_n(x)}" y="{_n(y)}" font-size="{_n(item.size_mm)}"{anchor}{turned}>'
            f"{escaped(item.text)}</text>"
        )


def _plate_of(item: Words) -> tuple[float, float, float, float]:
    """The plate behind words before they are turned: left, top (from the baseline, up), width, height."""
    width = text_width(item.text, item.size_mm)
    left = {"start": 0.0, "middle": -0.5, "end": -1.0}[item.anchor.value] * width
    return left - 0.25, 0.83 * item.size_mm, width + 0.5, 1.05 * item.size_mm


def _style(layers: set[Layer]) -> str:
    """The style sheet for the layers used."""
    rows = [
        f"text{{font-family:'{FAMILY}',{FALLBACK};white-space:pre}}",
        "path{stroke-linejoin:round;stroke-linecap:butt}",
        ".bold{font-weight:bold}",
        ".plate{fill:#ffffff;fill-opacity:.8}",
    ]
    for layer in sorted(layers, key=lambda item: item.value):
        pen = PENS[layer]
        if pen.width_mm == 0.0:
            rows.append(f".{layer.value}{{fill:{pen.colour}}}")
            continue
        dash = f";stroke-dasharray:{' '.join(f'{d:g}' for d in pen.dash)}" if pen.dash else ""
        rows.append(f".{layer.value}{{fill:none;stroke:{pen.colour};stroke-width:{pen.width_mm:g}{dash}}}")
    return "\n".join(rows)


def _pattern(name: str) -> str:
    """A fill pattern: thin lines or dots of a second colour over the tint."""
    tint = TINTS[name]
    mark = (
        f'<path d="M0 0V3" stroke="{tint.mark}" stroke-width=".3"/>'
        if tint.pattern == "lines"
        else f'<circle cx="1.5" cy="1.5" r=".25" fill="{tint.mark}"/>'
    )
    return (
        f'<pattern id="{name}" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<rect width="3" height="3" fill="{tint.colour}"/>{mark}</pattern>'
    )


def _steps(steps: np.ndarray) -> str:
    """Relative steps as short as SVG allows."""
    return " ".join(f"{_h(dx)} {_h(dy)}" for dx, dy in steps.tolist())


def _h(hundredths: int) -> str:
    """Hundredths as the shortest decimal."""
    return f"{hundredths / 100:.2f}".rstrip("0").rstrip(".") if hundredths % 100 else str(int(hundredths) // 100)


def _n(value: float) -> str:
    """A number with at most two decimals."""
    return _h(round(float(value) * 100.0))


def escaped(text: str) -> str:
    """Words without control characters, escaped."""
    return escape(printable(text))


def printable(text: str) -> str:
    """Words without control characters."""
    return "".join(character for character in text if character.isprintable())
