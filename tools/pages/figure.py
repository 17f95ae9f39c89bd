"""The figure of the conventions page: axes and hull angles on a profile, a waterline plan and two sections, to scale.

The angles at the marked point are a consistent set, computed here from two of them, so that the drawing shows what the
formulas say. Lengths are metres until they reach the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, degrees, radians, sin, tan

ALPHA_DEG, GAMMA_DEG = 23.0, 29.0
BETA_DEG = degrees(atan(tan(radians(ALPHA_DEG)) / tan(radians(GAMMA_DEG))))
BETA_PRIME_DEG = degrees(atan(tan(radians(BETA_DEG)) * cos(radians(ALPHA_DEG))))

Point = tuple[float, float]

STYLE = """
text{font:14px sans-serif;fill:#1c2b33}
.head{font-weight:bold;font-size:15px}
.small{font-size:12px}
.angle{font-weight:bold;fill:#a03000}
.hull{fill:none;stroke:#1c2b33;stroke-width:2}
.thin{fill:none;stroke:#1c2b33;stroke-width:1}
.water{fill:none;stroke:#1a6fa8;stroke-width:1.5}
.blue{fill:#1a6fa8}
.dash{fill:none;stroke:#607080;stroke-width:1;stroke-dasharray:6 4}
.axis{fill:none;stroke:#0b6b4f;stroke-width:1.5;marker-end:url(#arrow)}
.green{fill:#0b6b4f}
.arc{fill:none;stroke:#a03000;stroke-width:1.8}
.mark{fill:#a03000}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A view's place on the page: its origin [px] and scale [px/m]; the vertical axis points up."""

    left: float
    base: float
    scale: float

    def at(self, point: Point) -> Point:
        """Give the page position [px] of a point [m]."""
        return self.left + point[0] * self.scale, self.base - point[1] * self.scale

    def path(self, points: list[Point], style: str) -> str:
        """Draw a polyline through points [m]."""
        return _path([self.at(p) for p in points], style)

    def curve(self, bezier: tuple[Point, Point, Point, Point], style: str) -> str:
        """Draw a cubic curve [m]."""
        (a, b), (c, d), (e, f), (g, h) = (self.at(p) for p in bezier)
        return f'<path class="{style}" d="M{a:.1f},{b:.1f} C{c:.1f},{d:.1f} {e:.1f},{f:.1f} {g:.1f},{h:.1f}"/>'

    def text(self, point: Point, words: str, style: str = "", anchor: str = "start", shift: Point = (0.0, 0.0)) -> str:
        """Write words at a point [m], moved by a shift [px]."""
        x, y = self.at(point)
        return _text(x + shift[0], y + shift[1], words, style, anchor)

    def arc(self, point: Point, radius_px: float, start_deg: float, end_deg: float) -> str:
        """Draw an arc about a point, angles counted anticlockwise from the page's right."""
        x, y = self.at(point)
        ends = [(x + radius_px * cos(radians(a)), y - radius_px * sin(radians(a))) for a in (start_deg, end_deg)]
        sweep = 0 if end_deg > start_deg else 1
        (a, b), (c, d) = ends
        return f'<path class="arc" d="M{a:.1f},{b:.1f} A{radius_px},{radius_px} 0 0 {sweep} {c:.1f},{d:.1f}"/>'

    def dot(self, point: Point) -> str:
        """Mark a point."""
        x, y = self.at(point)
        return f'<circle class="mark" cx="{x:.1f}" cy="{y:.1f}" r="4"/>'

    def line_at(self, point: Point, angle_deg: float, back_px: float, fore_px: float, style: str) -> str:
        """Draw a straight line through a point at an angle from the page's right."""
        x, y = self.at(point)
        dx, dy = cos(radians(angle_deg)), -sin(radians(angle_deg))
        return _path([(x - back_px * dx, y - back_px * dy), (x + fore_px * dx, y + fore_px * dy)], style)


def _path(points: list[Point], style: str) -> str:
    steps = " L".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<path class="{style}" d="M{steps}"/>'


def _text(x: float, y: float, words: str, style: str = "", anchor: str = "start") -> str:
    return f'<text class="{style}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{words}</text>'


def _leaning(point: Point, angle_deg: float, start: Point, pull: float) -> tuple[Point, Point, Point, Point]:
    """A curve from ``start`` that reaches ``point`` along ``angle_deg``."""
    dx, dy = cos(radians(angle_deg)), sin(radians(angle_deg))
    inner = (start[0] + 0.75 * (point[0] - start[0]), start[1])
    return start, inner, (point[0] - pull * dx, point[1] - pull * dy), point


def profile() -> list[str]:
    """Profile: x, z, the ice waterlines and the buttock angle gamma."""
    v = View(left=70, base=150, scale=7.4)
    p: Point = (88.0, 7.6)
    rise = tan(radians(GAMMA_DEG))
    deck: Point = (p[0] + 2.8 / rise, 10.4)
    return [
        _text(20, 30, "Profile, seen from starboard", "head"),
        v.path([(-4.0, 10.4), (-4.0, 6.6), (2.0, 3.4), (10.0, 0.0), (84.0, 0.0)], "hull"),
        v.curve(((84.0, 0.0), (90.0, 0.0), (93.5, 4.0), (97.6, 7.6)), "hull"),
        v.path([(97.6, 7.6), (100.4, 10.4), (-4.0, 10.4)], "hull"),
        v.path([(-6.0, 7.6), (104.0, 7.6)], "water"),
        v.path([(-6.0, 6.6), (104.0, 6.2)], "water"),
        v.text((104.6, 7.6), "UIWL", "blue small", shift=(0, 2)),
        v.text((104.6, 6.2), "LIWL", "blue small", shift=(0, 9)),
        v.curve(_leaning(p, GAMMA_DEG, (66.0, 0.0), 6.0), "dash"),
        v.path([p, deck], "dash"),
        v.text((71.0, 1.6), "buttock", "small", "end"),
        v.line_at(p, GAMMA_DEG, 30, 62, "thin"),
        v.line_at(p, 0.0, 0, 58, "thin"),
        v.arc(p, 36, 0.0, GAMMA_DEG),
        v.dot(p),
        v.text(p, f"γ = {GAMMA_DEG:.0f}°", "angle", "end", (-12, -8)),
        v.path([(0.0, 12.4), (0.0, -2.6)], "dash"),
        v.text((0.0, -2.6), "aft perpendicular, x = 0", "small", shift=(4, 10)),
        v.path([(0.0, 0.0), (14.0, 0.0)], "axis"),
        v.text((14.0, 0.0), "x, forward", "green", shift=(4, 16)),
        v.path([(0.0, 0.0), (0.0, 5.4)], "axis"),
        v.text((0.0, 5.4), "z, up", "green", shift=(7, 2)),
        v.text((40.0, 0.0), "baseline, z = 0", "small", shift=(0, 16)),
    ]


def plan() -> list[str]:
    """Plan: x, y and the waterline angle alpha on the upper ice waterline."""
    v = View(left=70, base=330, scale=7.4)
    stem: Point = (97.6, 0.0)
    p: Point = (88.0, 5.0)
    slope = tan(radians(ALPHA_DEG))
    inner: Point = (p[0] - 6.0, p[1] + 6.0 * slope)
    return [
        _text(20, 222, "Upper ice waterline, seen from above (port half)", "head"),
        v.path([(-2.0, 0.0), (-2.0, 7.4)], "water"),
        v.curve(((-2.0, 7.4), (10.0, 10.5), (20.0, 10.5), (34.0, 10.5)), "water"),
        v.path([(34.0, 10.5), (62.0, 10.5)], "water"),
        v.curve(((62.0, 10.5), (70.0, 10.5), inner, p), "water"),
        v.curve((p, (p[0] + 3.0, p[1] - 3.0 * slope), (stem[0] - 2.5, 1.4), stem), "water"),
        v.path([(-6.0, 0.0), (106.0, 0.0)], "dash"),
        v.text((60.0, 0.0), "centreline, y = 0", "small", shift=(0, 16)),
        v.line_at(p, -ALPHA_DEG, 70, 40, "thin"),
        v.line_at(p, 180.0, 0, 78, "thin"),
        v.arc(p, 58, 180.0, 180.0 - ALPHA_DEG),
        v.dot(p),
        v.text(p, f"α = {ALPHA_DEG:.0f}°", "angle", "end", (-66, 14)),
        v.path([(0.0, 0.0), (14.0, 0.0)], "axis"),
        v.text((14.0, 0.0), "x, forward", "green", shift=(4, 16)),
        v.path([(0.0, 0.0), (0.0, 5.4)], "axis"),
        v.text((0.0, 5.4), "y, to port", "green", shift=(7, 2)),
    ]


def section(left: float, title: str, angle_deg: float, label: str, axis: str, *, centreline: bool) -> list[str]:
    """Draw a section of the port half: across the ship (beta), or square to the waterline (beta')."""
    v = View(left=left, base=625, scale=20.0)
    p: Point = (5.0, 7.6)
    lean = 90.0 - angle_deg
    rise = tan(radians(angle_deg))
    return [
        _text(left - 20, 375, title, "head"),
        v.curve(_leaning(p, lean, (0.0, 0.0), 3.2), "hull"),
        v.path([p, (p[0] + 2.8 * rise, 10.4), (0.0, 10.4)], "hull"),
        v.path([(-1.0, 7.6), (10.0, 7.6)], "water"),
        v.text((10.0, 7.6), "UIWL", "blue small", shift=(4, 4)),
        *([v.path([(0.0, 11.2), (0.0, -0.8)], "dash")] if centreline else []),
        v.line_at(p, lean, 60, 74, "thin"),
        v.line_at(p, 90.0, 0, 74, "thin"),
        v.arc(p, 42, lean, 90.0),
        v.dot(p),
        v.text(p, label, "angle", "start", (12, 24)),
        v.path([(0.0, 0.0), (4.4, 0.0)], "axis"),
        v.text((4.4, 0.0), axis, "green", shift=(6, 5)),
        v.path([(0.0, 0.0), (0.0, 3.4)], "axis"),
        v.text((0.0, 3.4), "z", "green", "end", (-8, 4)),
    ]


def svg() -> str:
    """Give the whole figure as SVG."""
    parts = profile() + plan()
    across, square = f"β = {BETA_DEG:.1f}°", f"β′ = {BETA_PRIME_DEG:.1f}°"
    parts += section(70, "Section across the ship, seen from ahead", BETA_DEG, across, "y, to port", centreline=True)
    parts += section(480, "Section square to the waterline", BETA_PRIME_DEG, square, "outward, level", centreline=False)
    body = "\n".join(parts)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 900 660" role="img" '
        'aria-label="Axes and hull angles on a profile, a waterline plan and two sections">\n'
        f"<style>{STYLE}</style>\n"
        '<defs><marker id="arrow" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="7" markerHeight="7" '
        'orient="auto-start-reverse"><path d="M0,0 L10,5 L0,10 z" fill="#0b6b4f"/></marker></defs>\n'
        '<rect width="900" height="660" fill="#ffffff"/>\n'
        f"{body}\n</svg>\n"
    )
