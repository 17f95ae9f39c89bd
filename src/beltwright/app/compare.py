"""Two states of a ship compared as data: figures, settings, plates and frames that differ."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

_FIGURES: Final = (
    ("ice_class", "ice class", 0), ("displacement_upper_kt", "displacement at the upper ice waterline, kt", 3),
    ("rule_length_m", "rule length, m", 2), ("outcome", "outcome", 0),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A state of a ship: the text of ``ship.toml`` and the result as the result file holds it."""

    description: str
    result: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs; ``difference`` is the change of a number, else empty."""

    what: str
    before: str
    after: str
    difference: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What differs between two states."""

    figures: tuple[Difference, ...]
    settings: tuple[Difference, ...]
    plates: tuple[Difference, ...]
    frames: tuple[Difference, ...]


def compare_results(one: State, other: State) -> Comparison:
    """Return what differs from one state to the other; figures are told whether they differ or not."""
    a, b = one.result, other.result
    figures = [_figure(words, a.get(name), b.get(name), decimals) for name, words, decimals in _FIGURES]
    figures.append(_figure("steel with allowances, t", a["weight"]["total_t"], b["weight"]["total_t"], 1))
    loads = {patch["name"]: patch for patch in a["patches"]}
    for patch in b["patches"]:
        before = loads.get(patch["name"])
        if before is not None:
            for key, words in (("force_mn", "force, MN"), ("pressure_mpa", "average pressure, MPa")):
                figures.append(_figure(f"load {patch['name']}: {words}", before[key], patch[key], 3))
    return Comparison(
        figures=tuple(figures),
        settings=tuple(_settings(one.description, other.description)),
        plates=tuple(_members(a, b, "panels", ("thickness_as_built_mm", "grade"))),
        frames=tuple(_members(a, b, "frames", ("section", "grade"))),
    )


def _figure(what: str, before: Any, after: Any, decimals: int) -> Difference:
    """One figure of both states."""
    if isinstance(before, float | int) and isinstance(after, float | int):
        return Difference(what, f"{before:.{decimals}f}", f"{after:.{decimals}f}", f"{after - before:+.{decimals}f}")
    return Difference(what, "" if before is None else str(before), "" if after is None else str(after))


def _settings(one: str, other: str) -> Iterator[Difference]:
    """The settings that differ, by their place in the file."""
    a, b = dict(_flat(tomllib.loads(one))), dict(_flat(tomllib.loads(other)))
    for place in dict.fromkeys([*a, *b]):
        if a.get(place) != b.get(place):
            yield Difference(place, *("not given" if held.get(place) is None else str(held[place]) for held in (a, b)))


def _flat(value: Any, place: str = "") -> Iterator[tuple[str, Any]]:
    """Every plain value with its place as the user writes it."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _flat(inner, f"{place}.{key}" if place else str(key))
    elif isinstance(value, list) and value and isinstance(value[0], Mapping):
        for number, inner in enumerate(value, 1):
            yield from _flat(inner, f"{place}[{number}]")
    else:
        yield place, value


def _members(a: Mapping[str, Any], b: Mapping[str, Any], table: str, names: tuple[str, ...]) -> Iterator[Difference]:
    """Members whose steel differs, put together by hull area and by what they were and are."""
    before, after = _steel(a, table, names), _steel(b, table, names)
    found: Counter[tuple[str, str, str]] = Counter()
    for member in dict.fromkeys([*before, *after]):
        was, now = before.get(member), after.get(member)
        if was is not None and now is not None and was[1] != now[1]:
            found[now[0], was[1], now[1]] += 1
    for (area, was_words, now_words), count in found.most_common():
        yield Difference(f"{area or 'outside every area'}: {count} members", was_words, now_words)
    for state, held, others in (("before", before, after), ("after", after, before)):
        alone = sum(member not in others for member in held)
        if alone:
            yield Difference(f"{alone} members stand only {state}", "", "")


def _steel(result: Mapping[str, Any], table: str, names: tuple[str, ...]) -> dict[str, tuple[str, str]]:
    """Hull area and steel of every member of a table, by its name."""
    columns = result[table]["columns"]
    rows = zip(*(columns[name]["values"] for name in ("id", "hull_area", *names)), strict=True)
    return {member: (area or "", " ".join(map(_word, parts))) for member, area, *parts in rows}


def _word(part: Any) -> str:
    """A value in words."""
    return "–" if part is None else f"{part:g}" if isinstance(part, float) else str(part)
