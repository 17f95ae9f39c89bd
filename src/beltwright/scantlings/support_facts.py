"""Web frames and stringers in the vocabulary of the rule sets: per span, worked out when asked for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np

from beltwright.arrangement.angles import transverse_web_deg
from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.section import sections
from beltwright.rules.facts import ORDINARY_MEMBER
from beltwright.rules.protocol import EVERYTHING, HullAreas
from beltwright.scantlings.areas import classify, codes_strengthening
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.on_demand import Maker, OnDemand, same
from beltwright.scantlings.support_lines import GivenScantlings
from beltwright.scantlings.support_spans import STRINGER, SupportSpans
from beltwright.sections.attached import effective_breadth_m, elastic_with_plating, shear_area_cm2
from beltwright.sections.make import built_angle, flat_bar, tee
from beltwright.sections.table import GrossSection, stack
from beltwright.ship.model import Orientation, Ship
from beltwright.ship.supports import SupportScantlings

FAR_M = 1000.0  # stands for a distance that has no end: no belt, or no other support, on that side
_STEP_M = 0.01  # how finely a section is searched for the belt
_MIDDLE = 4  # of the nine places along a span
_LEAN_DEG = 10.0  # sections are not turned further than this from lying flat


class SupportFacts:
    """What is known of the spans (n,) of web frames and stringers, beside the areas that they touch."""

    def __init__(self, ship: Ship, spans: SupportSpans, given: GivenScantlings, arrangement: Arrangement,
                 areas: HullAreas, measures: HullMeasures, plating: ColumnTable) -> None:  # fmt: skip
        self.ship, self.spans, self.given, self.arrangement = ship, spans, given, arrangement
        self.areas, self.measures = areas, measures
        self.plates = _plates_beside(spans, arrangement, plating)
        self.belt = codes_strengthening(areas, *EVERYTHING)

    def columns(self) -> OnDemand:
        """Return the columns of the vocabulary."""
        given, spans = self.given, self.spans

        def number(name: str) -> Maker:
            return lambda: given.numbers[name]

        return OnDemand(
            {
                **{name: number(name) for name in given.numbers},
                "web_frame_spacing_m": lambda: spans.web_frame_spacing_m,
                "span_m": lambda: spans.length_m,
                "part_of_grillage": lambda: given.in_grillage,
                "peak_in_grillage": same(self.ship.direct.peak_in_grillage),
                "section_kind": lambda: given.kind,
                "yield_mpa": lambda: given.yield_mpa,
                "plate_net_fitted_mm": lambda: self.plates[0],
                "plate_yield_mpa": lambda: self.plates[1],
                "member": same(ORDINARY_MEMBER),
                "agreed_boundary": same(0.0),
                "shear_share": same(1.0),
                "free_flange_area_cm2": self._flange_area,
                "web_area_cm2": self._web_area,
                "shear_area_cm2": self._web_area,
                "section_modulus_cm3": self._modulus,
                "in_belt": lambda: self._belt[0],
                "belt_distance_m": lambda: self._belt[1],
                "stringer_distance_m": lambda: self._belt[2],
            }
        )

    def _flange_area(self) -> FloatArray:
        """The area of the free flange as built [cm2]."""
        numbers = self.given.numbers
        area: FloatArray = numbers["flange_breadth_mm"] * numbers["flange_as_built_mm"] / 100.0
        return area

    def _web_area(self) -> FloatArray:
        """The area of the web as built that is left beside the framing which passes through it [cm2]."""
        numbers = self.given.numbers
        left = numbers["web_height_mm"] - numbers["penetrating_height_mm"]
        return shear_area_cm2(left, numbers["web_as_built_mm"], self._web_angle())

    def _web_angle(self) -> FloatArray:
        """The smallest angle between web and shell [deg]: of a web frame in its plane, of a stringer square to it."""
        spans = self.spans
        least = np.stack([transverse_web_deg(spans.normals[:, k]) for k in range(spans.normals.shape[1])]).min(axis=0)
        return np.where(spans.kind == STRINGER, 90.0, np.maximum(least, _LEAN_DEG))

    def _modulus(self) -> FloatArray:
        """The elastic section modulus as built, on the effective plate [cm3]; NaN without scantlings or plate."""
        found, plate = np.full(self.spans.count, np.nan), self.plates[2]
        rows = np.flatnonzero(self.given.given & (plate > 0.0))
        if not len(rows):
            return found
        table = stack([_section(line) for line in self.given.lines]).take(self.given.line[rows])
        carried = np.where(self.spans.kind == STRINGER, self._carried_girth(), self.spans.web_frame_spacing_m)
        breadth = effective_breadth_m(carried, self.spans.length_m)
        on_plate = elastic_with_plating(
            table, as_built_plating_thickness_mm=plate[rows], plating_breadth_mm=1000.0 * breadth[rows],
            web_angle_deg=self._web_angle()[rows],
        )  # fmt: skip
        found[rows] = on_plate.modulus_cm3
        return found

    def _carried_girth(self) -> FloatArray:
        """The girth that each stringer carries [m]: half way to the level above and to the one below it."""
        below, above = self._gaps()
        sides = np.stack([below, above])
        beside = np.where(sides < FAR_M, sides, np.nan)
        alone = np.isnan(beside).all(axis=0)
        carried: FloatArray = np.where(alone, FAR_M, 0.5 * np.nansum(beside, axis=0))
        return carried

    def _gaps(self, place: int = _MIDDLE) -> tuple[FloatArray, FloatArray]:
        """The girth from a place on each span down and up to the next level that holds frames [m], else ``FAR_M``."""
        spans = self.spans
        at = spans.expansion[:, place]
        below, above = np.full(spans.count, FAR_M), np.full(spans.count, FAR_M)
        holding = {level.name for level in self.arrangement.levels if level.supports_frames}
        for trace in self.arrangement.level_traces:
            if trace.name not in holding:
                continue
            x, girth = trace.expansion.T
            order = np.argsort(x)
            inside = (at[:, 0] >= x.min()) & (at[:, 0] <= x.max()) & (spans.level != trace.name)
            gap = np.interp(at[:, 0], x[order], girth[order]) - at[:, 1]
            below = np.where(inside & (gap < 0.0), np.minimum(below, -gap), below)
            above = np.where(inside & (gap > 0.0), np.minimum(above, gap), above)
        return below, above

    @cached_property
    def _belt(self) -> tuple[BoolArray, FloatArray, FloatArray]:
        """Whether each span is loaded inside the belt; else how far off it lies, and how far the next support that way.

        A stringer is read where the belt comes nearest. A web frame takes that of the stringer it carries which is
        nearest to the belt. It takes the whole load where it carries none, and where it stands in the belt and carries
        the belt's own framing, which does not run from stringer to stringer.
        """
        spans = self.spans
        touches = self._touches_belt()
        inside = touches.copy()
        off, beyond = np.zeros(spans.count), np.full(spans.count, FAR_M)
        rows = np.flatnonzero((spans.kind == STRINGER) & ~touches)
        off[rows], beyond[rows] = self._nearest(rows)
        across = {zone.name for zone in self.ship.zones if zone.orientation is Orientation.TRANSVERSE}
        for web in np.flatnonzero(spans.kind != STRINGER).tolist():
            mine = self._stringers_of(web)
            whole = not len(mine) or bool(inside[mine].any())
            whole |= bool(touches[web]) and str(spans.zone[web]) not in across
            inside[web] = whole
            if not whole:
                best = mine[int(np.argmin(off[mine] / beyond[mine]))]
                off[web], beyond[web] = off[best], beyond[best]
        return inside, off, beyond

    def _nearest(self, rows: IntArray) -> tuple[FloatArray, FloatArray]:
        """How far stringers (r,) lie off the belt where it comes nearest, and how far the next support that way [m].

        The belt is nearer than the next support, because frames which the stringer carries touch it; where the search
        is too coarse to see that, it lies one step of the search nearer.
        """
        places = self.spans.expansion.shape[1]
        off, beyond = np.full(len(rows), FAR_M), np.full(len(rows), FAR_M)
        if not len(rows):
            return off, beyond
        down, up = self._to_belt(self.spans.expansion[rows].reshape(-1, 2))
        for place in range(places):
            below, above = (gap[rows] for gap in self._gaps(place))
            lower, higher = down[place::places], up[place::places]
            upward = higher / above <= lower / below
            here, there = np.where(upward, higher, lower), np.where(upward, above, below)
            nearer = here / there < off / beyond
            off, beyond = np.where(nearer, here, off), np.where(nearer, there, beyond)
        return np.minimum(off, np.maximum(beyond - _STEP_M, 0.0)), beyond

    def _touches_belt(self) -> BoolArray:
        """Which spans touch the belt."""
        spans = self.spans
        flat = classify(self.areas, self.measures, spans.points.reshape(-1, 3), spans.normals.reshape(-1, 3))
        touches: BoolArray = np.any(np.isin(flat, self.belt).reshape(spans.count, -1), axis=1)
        return touches

    def _stringers_of(self, web: int) -> IntArray:
        """The bays of the stringers that a web frame carries, on either side of it."""
        spans = self.spans
        mine = np.isin(spans.level, spans.carries[web]) & (spans.kind == STRINGER)
        frame = spans.frame_aft[web]
        return np.flatnonzero(mine & (spans.frame_aft <= frame) & (spans.frame_fore >= frame))

    def _to_belt(self, at: FloatArray) -> tuple[FloatArray, FloatArray]:
        """The girth from places (n, 2) of x and girth down and up to the belt [m]; ``FAR_M`` where there is none.

        A section is read between its own points, which lie on the shell, at steps of a centimetre.
        """
        down, up = np.full(len(at), FAR_M), np.full(len(at), FAR_M)
        cut = sections(self.measures.shell, np.unique(at[:, 0]))
        for x, curve in zip(cut.x_m.tolist(), cut.main_curve.tolist(), strict=True):
            if curve < 0:
                continue
            part = slice(int(cut.curve_start[curve]), int(cut.curve_start[curve + 1]))
            run = cut.girth_m[part]
            girth = np.arange(0.0, float(run[-1]), _STEP_M)
            points, normals = (
                np.column_stack([np.interp(girth, run, column) for column in values[part].T])
                for values in (cut.at.points, cut.normals)
            )
            inside = np.isin(classify(self.areas, self.measures, points, normals), self.belt)
            for row in np.flatnonzero(at[:, 0] == x).tolist():
                gap = girth[inside] - at[row, 1]
                down[row] = min(-gap[gap < 0.0], default=FAR_M)
                up[row] = min(gap[gap >= 0.0], default=FAR_M)
        return down, up


def _section(line: SupportScantlings) -> GrossSection:
    """The built-up section of a line."""
    height, web = line.web_height_mm, line.web_thickness_as_built_mm
    if line.flange_breadth_mm == 0.0:
        return flat_bar(height, web)
    make = built_angle if line.flange_one_sided else tee
    return make(height, web, line.flange_breadth_mm, line.flange_thickness_as_built_mm)


def _plates_beside(
    spans: SupportSpans, arrangement: Arrangement, plating: ColumnTable
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Net thickness and yield (n,) of that plate beside each span which asks for most, and the thinnest as built there.

    NaN without any.
    """
    addition = np.nan_to_num(plating["addition_mm"].data, nan=0.0)
    built = plating["thickness_as_built_mm"].data
    net, yields = built - addition, plating["yield_mpa"].data
    weight = np.where(np.isnan(net), -np.inf, net * np.sqrt(yields))
    thickness, strength, thinnest = (np.full(spans.count, np.nan) for _ in range(3))
    for i, beside in enumerate(_panels_beside(spans, arrangement)):
        here = np.flatnonzero(beside)
        if len(here) and weight[here].max() > -np.inf:
            best = here[int(np.argmax(weight[here]))]
            thickness[i], strength[i] = net[best], yields[best]
            thinnest[i] = np.nanmin(built[here])
    return thickness, strength, thinnest


def _panels_beside(spans: SupportSpans, arrangement: Arrangement) -> Iterator[BoolArray]:
    """For each span, which panels lie beside it."""
    panels = arrangement.panels
    number = {name: k for k, name in enumerate(np.unique(panels.labels("zone")))}
    zone_of = np.array([number[z] for z in panels.labels("zone")])
    level = {one.name: k for k, one in enumerate(arrangement.levels)}
    low, high = (np.array([level.get(n, -1) for n in panels.labels(f"{end}_level")]) for end in ("lower", "upper"))
    aft, fore = panels.values("frame_aft"), panels.values("frame_fore")
    for i in range(spans.count):
        frame = spans.frame_aft[i]
        if spans.kind[i] == STRINGER:
            k = level[str(spans.level[i])]
            yield ((low == k) | (high == k)) & (fore > frame) & (aft < spans.frame_fore[i])
            continue
        first = level.get(str(spans.one_end[i]), -1)
        if spans.carries[i]:
            yield (low >= first) & (low < level[str(spans.other_end[i])]) & (aft <= frame) & (fore >= frame)
        else:
            here = (low == first) & (aft <= frame) & (fore >= frame)
            yield here & (zone_of == number.get(str(spans.zone[i]), -1))
