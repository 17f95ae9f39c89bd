"""Web frame spans and stringer bays of the arrangement: where each lies, what holds its ends, which grillage it is in.

A web frame's span runs between two levels that hold it, a stringer's bay between two web frames or bulkheads. A
grillage reaches from bulkhead to bulkhead and from deck to deck; in it stringers and web frames carry each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.levels import KEEL, LevelLine
from beltwright.arrangement.model import Arrangement, Trace
from beltwright.arrangement.plan import Role, frame_label
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.ship.model import LevelKind

WEB_FRAME, STRINGER = "web frame", "stringer"
FREE_END = "end of the stringer"
SHORTEST_M = 0.15  # a shorter piece of stringer at stem or stern is no bay
_ON_FRAME = 1e-6
_PLACES = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportSpans:
    """Spans of web frames, then bays of stringers (n,).

    Attributes
    ----------
    id, kind, zone : its name, ``WEB_FRAME`` or ``STRINGER``, the framing zone
    level : the stringer's level; the level below for a web frame
    one_end, other_end : what holds it: a level (below, above), or what stands at its aft and its forward frame
    frame_aft, frame_fore : frame numbers of its ends, equal for a web frame
    length_m, web_frame_spacing_m : along the shell; along the axis
    grillage, crosses : the grillage that it lies in; whether stringer and web frame hold each other there
    carries : the stringers that it runs through
    points, normals : (n, 9, 3) places on the shell from end to end [m], unit outward normals
    expansion : (n, 9, 2) the same as x and girth [m]
    """

    id: LabelArray
    kind: LabelArray
    zone: LabelArray
    level: LabelArray
    one_end: LabelArray
    other_end: LabelArray
    frame_aft: FloatArray
    frame_fore: FloatArray
    length_m: FloatArray
    web_frame_spacing_m: FloatArray
    grillage: LabelArray
    crosses: BoolArray
    carries: tuple[tuple[str, ...], ...]
    points: FloatArray
    normals: FloatArray
    expansion: FloatArray

    @property
    def count(self) -> int:
        """The number of spans and bays."""
        return len(self.id)

    @property
    def frame(self) -> FloatArray:
        """The frame number in the middle (n,)."""
        return 0.5 * (self.frame_aft + self.frame_fore)

    @property
    def middle(self) -> FloatArray:
        """The place in the middle (n, 3) [m]."""
        middle: FloatArray = self.points[:, _PLACES // 2]
        return middle


_WORDS = ("id", "kind", "zone", "level", "one_end", "other_end", "grillage")
_NUMBERS = ("frame_aft", "frame_fore", "length_m", "web_frame_spacing_m")
_SHAPES = {"points": 3, "normals": 3, "expansion": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """Some spans as columns, before they are joined; names as in ``SupportSpans``."""

    words: dict[str, list[str]]
    numbers: dict[str, FloatArray]
    crosses: list[bool]
    carries: list[tuple[str, ...]]
    shapes: dict[str, FloatArray]


def support_spans(arrangement: Arrangement, *, through_stringers: bool = False) -> SupportSpans:
    """Return the web frame spans and stringer bays of an arrangement (port side).

    ``through_stringers`` takes web frames from deck to deck, through the stringers that they carry.
    """
    traces = [t for t in arrangement.level_traces if t.kind == LevelKind.LOAD_CARRYING_STRINGER.value]
    webs = _web_spans(arrangement)
    pieces = [
        _run_on(webs, arrangement) if through_stringers else webs,
        *(_stringer_bays(trace, arrangement) for trace in traces),
    ]
    words = {name: np.array([word for p in pieces for word in p.words[name]], dtype=np.str_) for name in _WORDS}
    numbers = {name: np.concatenate([p.numbers[name] for p in pieces]) for name in _NUMBERS}
    shapes = {name: np.concatenate([p.shapes[name] for p in pieces]) for name in _SHAPES}
    crosses = np.array([crossed for p in pieces for crossed in p.crosses], dtype=np.bool_)
    return SupportSpans(
        id=words["id"], kind=words["kind"], zone=words["zone"], level=words["level"], one_end=words["one_end"],
        other_end=words["other_end"], grillage=words["grillage"], crosses=crosses,
        carries=tuple(names for p in pieces for names in p.carries), frame_aft=numbers["frame_aft"],
        frame_fore=numbers["frame_fore"], length_m=numbers["length_m"],
        web_frame_spacing_m=numbers["web_frame_spacing_m"], points=shapes["points"], normals=shapes["normals"],
        expansion=shapes["expansion"],
    )  # fmt: skip


def _web_spans(arrangement: Arrangement) -> _Piece:
    """The spans of web frames and floors, as the frame table has them."""
    table, shapes = arrangement.frames, arrangement.frame_shapes
    rows = np.flatnonzero(table.labels("role") == Role.WEB.value)
    frames = table.values("frame")[rows]
    lower, upper = table.labels("lower_level")[rows].tolist(), table.labels("upper_level")[rows].tolist()
    number = {level.name: k for k, level in enumerate(arrangement.levels)}
    pairs = [(number.get(low, -1), number.get(high, -1)) for low, high in zip(lower, upper, strict=True)]
    return _Piece(
        words={
            "id": table.labels("id")[rows].tolist(), "kind": [WEB_FRAME] * len(rows),
            "zone": table.labels("zone")[rows].tolist(), "level": lower, "one_end": lower, "other_end": upper,
            "grillage": [_grillage(float(f), *pair, arrangement) for f, pair in zip(frames, pairs, strict=True)],
        },
        numbers={
            "frame_aft": frames, "frame_fore": frames, "length_m": table.values("length_m")[rows],
            "web_frame_spacing_m": table.values("web_frame_spacing_m")[rows],
        },
        crosses=[any(k >= 0 and _is_stringer(arrangement.levels[k]) for k in pair) for pair in pairs],
        carries=[()] * len(rows),
        shapes={
            "points": shapes.samples[rows], "normals": shapes.sample_normals[rows],
            "expansion": shapes.expansion[rows],
        },
    )  # fmt: skip


def _run_on(webs: _Piece, arrangement: Arrangement) -> _Piece:
    """Web frame spans joined where they meet on a stringer: from deck to deck, or to where the web frame ends."""
    number = {level.name: k for k, level in enumerate(arrangement.levels)}
    order = np.lexsort((np.array([number.get(low, -1) for low in webs.words["one_end"]]), webs.numbers["frame_aft"]))
    joined: list[list[int]] = []
    for i in order.tolist():
        before = joined[-1][-1] if joined else -1
        meets = (
            before >= 0
            and webs.numbers["frame_aft"][before] == webs.numbers["frame_aft"][i]
            and webs.words["other_end"][before] == webs.words["one_end"][i]
            and _is_stringer(arrangement.levels[number[webs.words["one_end"][i]]])
        )
        if meets:
            joined[-1].append(i)
        else:
            joined.append([i])
    first, last = [run[0] for run in joined], [run[-1] for run in joined]
    lower = [webs.words["one_end"][i] for i in first]
    upper = [webs.words["other_end"][i] for i in last]
    ends = [(number.get(low, -1), number.get(high, -1)) for low, high in zip(lower, upper, strict=True)]
    frames = webs.numbers["frame_aft"][first]
    shapes = {name: np.stack([_resampled(webs, run, name) for run in joined]) for name in _SHAPES}
    shapes["normals"] /= np.linalg.norm(shapes["normals"], axis=2, keepdims=True)
    return _Piece(
        words={
            "id": [_joined_name([webs.words["id"][i] for i in run]) for run in joined],
            "kind": [WEB_FRAME] * len(joined), "zone": [webs.words["zone"][i] for i in first], "level": lower,
            "one_end": lower, "other_end": upper,
            "grillage": [_grillage(float(f), *pair, arrangement) for f, pair in zip(frames, ends, strict=True)],
        },
        numbers={
            "frame_aft": frames, "frame_fore": frames,
            "length_m": np.array([float(webs.numbers["length_m"][run].sum()) for run in joined]),
            "web_frame_spacing_m": np.array([float(webs.numbers["web_frame_spacing_m"][run].max()) for run in joined]),
        },
        crosses=[any(webs.crosses[i] for i in run) for run in joined],
        carries=[tuple(webs.words["one_end"][i] for i in run[1:]) for run in joined],
        shapes=shapes,
    )  # fmt: skip


def _joined_name(names: list[str]) -> str:
    """The name of spans run together: frame, first and last bay."""
    return names[0] if len(names) == 1 else f"{names[0]}-{names[-1].split('/')[-1]}"


def _resampled(webs: _Piece, run: list[int], name: str) -> FloatArray:
    """Places at equal steps (9, c) along spans run together, each of which has nine at equal steps of its own."""
    length = webs.numbers["length_m"][run]
    start = np.concatenate([[0.0], np.cumsum(length)])
    at = np.concatenate([start[k] + length[k] * np.linspace(0.0, 1.0, _PLACES) for k in range(len(run))])
    values = np.concatenate([webs.shapes[name][i] for i in run])
    wanted = np.linspace(0.0, start[-1], _PLACES)
    return np.column_stack([np.interp(wanted, at, column) for column in values.T])


def _stringer_bays(trace: Trace, arrangement: Arrangement) -> _Piece:
    """The bays of one piece of a load-carrying stringer, between what holds it."""
    x, stations = trace.points[:, 0], arrangement.stations
    holders = _holders(trace.name, arrangement)
    inside = sorted(f for f in holders if x[0] + _ON_FRAME < float(stations.x_of(f)) < x[-1] - _ON_FRAME)
    at = np.array([x[0], *(float(stations.x_of(f)) for f in inside), x[-1]])
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(trace.points, axis=0), axis=1))])
    length = np.diff(np.interp(at, x, run))
    frames = stations.frame_of(at)
    middle = 0.5 * (frames[1:] + frames[:-1])
    ends = [FREE_END, *(holders[f] for f in inside), FREE_END]
    k = next(k for k, level in enumerate(arrangement.levels) if level.name == trace.name)
    zones = [(i, _zone_of(k, float(f), arrangement.zones)) for i, f in enumerate(middle)]
    kept = [(i, zone) for i, zone in zones if zone is not None and length[i] >= SHORTEST_M]
    rows = np.array([i for i, _ in kept], dtype=np.int64)
    wanted = at[rows, None] + (at[rows + 1] - at[rows])[:, None] * np.linspace(0.0, 1.0, _PLACES)
    normals = _at(x, trace.normals, wanted)
    return _Piece(
        words={
            "id": [f"{frame_label(round(float(frames[i]), 2))}/{trace.name}" for i in rows],
            "kind": [STRINGER] * len(kept), "zone": [zone.zone.name for _, zone in kept],
            "level": [trace.name] * len(kept), "one_end": [ends[i] for i in rows],
            "other_end": [ends[i + 1] for i in rows],
            "grillage": [_grillage(float(middle[i]), k, k, arrangement) for i in rows],
        },
        numbers={
            "frame_aft": frames[rows], "frame_fore": frames[rows + 1], "length_m": length[rows],
            "web_frame_spacing_m": np.array([zone.zone.web_frame_spacing_m for _, zone in kept], dtype=np.float64),
        },
        crosses=[any(end.startswith(WEB_FRAME) for end in ends[i : i + 2]) for i in rows],
        carries=[()] * len(kept),
        shapes={
            "points": _at(x, trace.points, wanted), "normals": normals / np.linalg.norm(normals, axis=2, keepdims=True),
            "expansion": _at(x, trace.expansion, wanted),
        },
    )  # fmt: skip


def _holders(level: str, arrangement: Arrangement) -> dict[float, str]:
    """What holds a stringer at which frame: web frames that end on it, and bulkheads."""
    table = arrangement.frames
    meets = (table.labels("lower_level") == level) | (table.labels("upper_level") == level)
    webs = table.values("frame")[meets & (table.labels("role") == Role.WEB.value)]
    held = {float(frame): f"{WEB_FRAME} {frame_label(float(frame))}" for frame in np.unique(webs)}
    return held | {float(bulkhead.frame): bulkhead.name for bulkhead in arrangement.bulkheads}


def _zone_of(level: int, frame: float, zones: Sequence[ZoneLine]) -> ZoneLine | None:
    """The framing zone beside a stringer at a frame: one that it runs through before one that it bounds."""
    beside = [zone for zone in zones if zone.first <= frame <= zone.last and zone.lower <= level <= zone.upper]
    return min(beside, key=lambda zone: (level in (zone.lower, zone.upper), zone.index), default=None)


def _grillage(frame: float, lower: int, upper: int, arrangement: Arrangement) -> str:
    """The grillage between two bulkheads and two decks in which a member between two levels lies."""
    aft = max((b.frame for b in arrangement.bulkheads if b.frame < frame), default=None)
    fore = min((b.frame for b in arrangement.bulkheads if b.frame > frame), default=None)
    ends = ["aft end" if aft is None else frame_label(aft), "fore end" if fore is None else frame_label(fore)]
    decks = [
        k for k, level in enumerate(arrangement.levels)
        if level.supports_frames and not _is_stringer(level) and level.first <= frame <= level.last
    ]  # fmt: skip
    below = max((k for k in decks if k <= lower), default=-1)
    above = min((k for k in decks if k >= upper), default=-1)
    low = KEEL if below < 0 else arrangement.levels[below].name
    high = "top" if above < 0 else arrangement.levels[above].name
    return f"{' to '.join(ends)}, {low} to {high}"


def _is_stringer(level: LevelLine) -> bool:
    """Whether a level is a load-carrying stringer."""
    return level.kind is LevelKind.LOAD_CARRYING_STRINGER


def _at(x_m: FloatArray, values: FloatArray, wanted_m: FloatArray) -> FloatArray:
    """Columns (k, c) over rising x (k,), read at x (n, 9): (n, 9, c)."""
    read: FloatArray = np.stack([np.interp(wanted_m, x_m, column) for column in values.T], axis=2)
    return read
