"""An invented ship as a picture, from closed-form lines: enough to fill every sheet. No rule stands behind it."""

from __future__ import annotations

import itertools
from functools import cache

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.picture import (
    AreaBorder,
    AreaPicture,
    Callout,
    FrameMark,
    PanelPicture,
    SectionPicture,
    ShellCurve,
    ShipPicture,
    StationPicture,
    TitleData,
)

STEM_X, UPPER, LOWER, DEPTH, HALF = 97.6, 7.6, 6.4, 10.4, 10.5
LEVELS = (
    ("Tank top", "inner bottom", 1.8),
    ("Stringer 1", "load-carrying stringer", 3.25),
    ("Lower deck", "deck", 4.7),
    ("Stringer 2", "load-carrying stringer", 6.15),
    ("Main deck", "deck", 7.55),
    ("Stringer 3", "load-distributing stringer", 8.95),
    ("Upper deck", "deck", 10.4),
)
AREAS = (
    ("B", "bow"),
    ("BIi", "bow intermediate icebelt"),
    ("BIl", "bow intermediate lower"),
    ("BIb", "bow intermediate bottom"),
    ("Mi", "midbody icebelt"),
    ("Ml", "midbody lower"),
    ("Mb", "midbody bottom"),
    ("Si", "stern icebelt"),
    ("Sl", "stern lower"),
    ("Sb", "stern bottom"),
)
PLATES = {
    code: f"{thickness} EH36{star}"
    for (code, _), thickness, star in zip(
        AREAS, ("25.5", "21.5", "17", "14", "18", "15", "13", "18.5", "15.5", "13.5"), " *" * 10, strict=False
    )
}
BOW_AFT, INTERMEDIATE_AFT, STERN_FORE = 67.6, 58.4, 16.4
CAUTIONS = (
    "Design aid. Not approved by any classification society or flag.",
    "Ice class and scantlings are assigned by class and flag for the rule edition in the contract.",
    "A qualified, licensed engineer must review these results before use.",
)


def stem_x(z: FloatArray) -> FloatArray:
    """x of the stem at a height."""
    return STEM_X + (z - UPPER) / np.tan(np.radians(25.0))


def half_breadth(x: FloatArray, z: FloatArray) -> FloatArray:
    """Half-breadth of the invented form."""
    bilge = np.clip(z / 2.5, 0.0, 1.0)
    middle = 7.0 + 3.5 * np.sqrt(1.0 - (1.0 - bilge) ** 2)
    fore = np.clip((stem_x(z) - x) / 32.0, 0.0, 1.0)
    aft = np.clip((x + 8.0 - 2.6 * np.maximum(6.6 - z, 0.0)) / 25.0, 0.0, 1.0)
    return middle * (1.0 - (1.0 - fore) ** 2) * (1.0 - (1.0 - aft) ** 2)


@cache
def section(x: float) -> FloatArray:
    """The section (y, z) at x, from the centreline up."""
    z = np.linspace(0.0, DEPTH, 209)
    y = half_breadth(np.full_like(z, x), z)
    inside = np.flatnonzero(y > 0.0)
    first = max(int(inside[0]) - 1, 0)
    points = np.stack([y[first:], z[first:]], axis=1)
    return np.concatenate([[(0.0, points[0, 1])], points])


def girth(x: float, height: float) -> float:
    """Girth from the centreline to a height at x."""
    points = section(x)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    return float(np.interp(height, points[1:, 1], run[1:]))


def curve(name: str, kind: str, x: FloatArray, z: FloatArray) -> ShellCurve:
    """A curve at given heights."""
    expansion = np.array([(a, girth(float(a), float(b))) for a, b in zip(x, z, strict=True)])
    return ShellCurve(name=name, kind=kind, expansion=expansion, profile=np.stack([x, z], axis=1))


def area_of(x: float, z: float) -> str:
    """The hull area of the invented scheme."""
    if z > UPPER + 1.5:
        return ""
    if x > BOW_AFT:
        return "B"
    region = "BI" if x > INTERMEDIATE_AFT else ("M" if x > STERN_FORE else "S")
    return region + ("i" if z > LOWER - 1.5 else ("l" if z > 1.8 else "b"))


def along(z: float, step: float = 0.8) -> FloatArray:
    """Stations along the ship where the form reaches a height."""
    x = np.arange(-1.6, float(stem_x(np.array(z))) - 0.05, step)
    return x[half_breadth(x, np.full_like(x, z)) > 0.05]


def quad(x0: float, x1: float, z0: float, z1: float) -> FloatArray | None:
    """A panel between two frames and two heights on the expansion."""
    if min(half_breadth(np.array([x0, x1, x0, x1]), np.array([z0, z0, z1, z1]))) <= 0.05 and z0 > 0.0:
        return None
    return np.array([(x0, girth(x0, z0)), (x1, girth(x1, z0)), (x1, girth(x1, z1)), (x0, girth(x0, z1))])


def panels() -> tuple[PanelPicture, ...]:
    """Panels between frames 0.4 m apart and the levels."""
    heights = [0.0, *[z for _, _, z in LEVELS]]
    found = []
    for frame in range(-4, 256):
        x0, x1 = 0.4 * frame, 0.4 * (frame + 1)
        for z0, z1 in itertools.pairwise(heights):
            if half_breadth(np.array(x0), np.array(z1)) <= 0.1 or half_breadth(np.array(x1), np.array(z1)) <= 0.1:
                continue
            outline = quad(x0, x1, z0, z1)
            if outline is None:
                continue
            area = area_of(0.5 * (x0 + x1), 0.5 * (z0 + z1))
            profile = np.array([(x0, z0), (x1, z0), (x1, z1), (x0, z1)])
            met = not (frame == 120 and z0 == 6.15)
            found.append(
                PanelPicture(
                    id=f"P{frame}-{z0:g}",
                    outline=outline,
                    profile=profile,
                    hull_area=area,
                    group=area,
                    met=met,
                    plate=PLATES.get(area, ""),
                    unasked="" if area else "above the belt",
                )
            )
    return tuple(found)


def station(number: int, aft: float) -> StationPicture:
    """A load station on the upper waterline, angles by differences of the form."""
    x, e = STEM_X - aft, 1e-4
    at = np.array([x, x + e, x]), np.array([UPPER, UPPER, UPPER + e])
    y0, yx, yz = half_breadth(*at)
    alpha, beta = np.arctan(-(yx - y0) / e), np.arctan((yz - y0) / e)
    gamma = np.arctan(np.tan(alpha) / np.tan(beta))
    prime = np.arctan(np.tan(beta) * np.cos(alpha))
    z = np.linspace(0.2, DEPTH, 200)
    level = np.linspace(60.0, 104.0, 600)
    y = half_breadth(level[:, None] + 0 * z, z + 0 * level[:, None])
    crossing = [
        (float(np.interp(-y0, -y[:, k], level)), z[k]) for k in range(len(z)) if y[:, k].max() > y0 > y[:, k].min()
    ]
    deg = [float(np.degrees(v)) for v in (alpha, beta, prime, gamma)]
    return StationPicture(
        name=f"station {number}",
        aft_of_stem_m=aft,
        point=(x, float(y0), UPPER),
        alpha_deg=deg[0],
        beta_deg=deg[1],
        beta_prime_deg=deg[2],
        gamma_deg=deg[3],
        section=section(round(x, 6)),
        frame=f"{x / 0.4:.2f}",
        buttock=np.array(crossing),
    )


def vertical(name: str, x: float, sides: tuple[str, str]) -> AreaBorder:
    """A transverse border at x."""
    z = np.linspace(0.0, UPPER + 1.5, 30)
    line = curve(name, "border", np.full_like(z, x), z)
    return AreaBorder(
        name=name, sides=sides, curve=line, transverse=True, aft_of_stem_m=STEM_X - x, x_m=x, frame=f"Fr {x / 0.4:.1f}"
    )


def level_border(name: str, sides: tuple[str, str], x0: float, x1: float, z: float) -> AreaBorder:
    """A border along the ship."""
    x = np.clip(np.arange(x0, x1, 0.8), *along(z)[[0, -1]])
    return AreaBorder(
        name=name,
        sides=sides,
        curve=curve(name, "border", x, np.full_like(x, z)),
        transverse=False,
        aft_of_stem_m=None,
        x_m=None,
        frame="",
    )


@cache
def picture() -> ShipPicture:
    """The whole picture."""
    all_panels = panels()
    levels = tuple(curve(name, kind, along(z), np.full_like(along(z), z)) for name, kind, z in LEVELS)
    top = curve("edge", "edge", along(DEPTH), np.full_like(along(DEPTH), DEPTH))
    x_keel = np.arange(-1.6, 103.4, 0.4)
    keel = np.array([(x, section(round(float(x), 6))[0, 1]) for x in x_keel])
    frames = tuple(
        np.array([(x, girth(x, z)) for z in np.linspace(section(x)[0, 1] + 0.01, DEPTH, 12)])
        for x in [round(0.4 * n, 6) for n in range(-4, 256)]
    )
    callouts = tuple(
        Callout(
            group=area,
            lines=("T300x16+100x19 *",),
            places=np.array([p.outline.mean(axis=0) for p in all_panels if p.hull_area == area]) + np.array([3.0, 0.3]),
            met=area != "Mi",
        )
        for area, _ in AREAS
    )
    uiwl = along(UPPER, 0.4)
    return ShipPicture(
        title=TitleData(
            ship="Quillan Frostmark",
            owner="Verglas Science & Supply Trust",
            yard="Holmvik Yard No. 3",
            designer="Skarn & Tide Naval Architects",
            revision="A",
            ice_class="PC4",
            rules="UR I1, I2 Rev.4 (2019)",
            displacement_kt=9.669,
            length_m=95.0,
            input_hash="5fa04c9b11d203aa",
            program_version="0.1.0",
        ),
        panels=all_panels,
        frame_callouts=callouts,
        frames=frames,
        intermediate_frames=(),
        web_frames=frames[::4],
        levels=levels,
        bulkheads=tuple(
            curve(f"Bulkhead {x}", "bulkhead", np.full(20, x), np.linspace(0.05, DEPTH, 20))
            for x in (8.0, 30.0, 56.0, 84.0)
        ),
        openings=(
            ShellCurve(
                name="Sea chest",
                kind="opening",
                expansion=quad(40.0, 41.6, 2.2, 3.0),
                profile=np.array([(40.0, 2.2), (41.6, 2.2), (41.6, 3.0), (40.0, 3.0)]),
            ),
        ),
        borders=(
            vertical("aft border of the bow", BOW_AFT, ("BI", "B")),
            vertical("aft border of the bow intermediate", INTERMEDIATE_AFT, ("M", "BI")),
            vertical("fore border of the stern", STERN_FORE, ("S", "M")),
            level_border("upper edge of the icebelt", ("", "i"), -1.6, 99.0, UPPER + 1.5),
            level_border("lower edge of the icebelt", ("i", "l"), -1.6, BOW_AFT, LOWER - 1.5),
            level_border("upper edge of the bottom", ("l", "b"), 5.0, BOW_AFT, 1.8),
        ),
        areas=tuple(AreaPicture(code=code, title=title, strengthened=code != "Sb") for code, title in AREAS),
        upper=curve("UIWL", "upper", uiwl, np.full_like(uiwl, UPPER)),
        lower=curve("LIWL", "lower", along(6.2), 6.6 - 0.4 * along(6.2) / STEM_X),
        expansion_outline=np.concatenate([np.stack([x_keel, 0 * x_keel], axis=1), top.expansion[::-1]]),
        profile_outline=np.concatenate([keel, [(103.6, DEPTH), (-1.6, DEPTH)]]),
        waterline_plan=np.stack([uiwl, half_breadth(uiwl, np.full_like(uiwl, UPPER))], axis=1),
        sections=tuple(
            SectionPicture(frame=str(number), x_m=0.4 * number, points=section(round(0.4 * number, 6)))
            for number in range(0, 241, 12)
        ),
        stations=tuple(station(k + 1, 3.75 + 7.5 * k) for k in range(4)),
        frame_marks=tuple(FrameMark(label=str(n), number=float(n), x_m=0.4 * n) for n in range(-4, 257)),
        stem_x_m=STEM_X,
        draughts=(("fore end", STEM_X, 7.6, 6.2), ("amidships", 48.8, 7.6, 6.4), ("aft perpendicular", 0.0, 7.6, 6.6)),
        cautions=CAUTIONS,
    )
