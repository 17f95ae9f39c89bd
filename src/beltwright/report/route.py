"""A route or a list of ice regimes under every class: on the terminal, as CSV and as JSON."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Final

import numpy as np

from beltwright.core.cautions import SHORT_CAUTION
from beltwright.core.columns import ColumnTable
from beltwright.drawing.backends.svg import to_svg
from beltwright.report.decision_support import (
    STANDING,
    WORDS,
    finding_lines,
    finding_values,
    marked_csv,
    provenance,
    unconfirmed_line,
    words_column,
)
from beltwright.report.numbers import DASH, cell, number
from beltwright.report.result_json import table_values
from beltwright.report.route_picture import route_picture
from beltwright.report.terminal import text_table
from beltwright.rules.polaris_imo_2016.documents import DOCUMENT
from beltwright.rules.polaris_imo_2016.tables import CLASSES, ELEVATED, ESCORT, NORMAL, SPECIAL
from beltwright.voyage.study import RegimeStudy, RouteStudy

FORMAT: Final = "beltwright-route-1"
MOST_POINTS_SHOWN: Final = 24
SHARES: Final = ("share_normal", "share_elevated", "share_special")
TOLD: Final = {NORMAL: "normal operation", ELEVATED: "elevated operational risk",
               SPECIAL: "operation subject to special consideration"}  # fmt: skip
_LETTER: Final = {NORMAL: "N", ELEVATED: "E", SPECIAL: "S"}
_TRIPLE: Final = (
    "Each cell: per cent of the point-days in normal operation / at elevated operational risk / in operation subject "
    "to special consideration."
)
_CLASS_COLUMNS: Final = (
    ("ice_class", "ice class"),
    ("lowest_index", "lowest\nRIO"),
    ("mean_index", "mean\nRIO"),
    ("share_normal", "share normal\noperation"),
    ("share_elevated", "share elevated\noperational risk"),
    ("share_special", "share special\nconsideration"),
    ("dates_all_normal", "dates normal\neverywhere"),
    ("dates_no_special", "dates without\nspecial cons."),
    ("points_all_normal", "points always\nnormal"),
    ("points_no_special", "points without\nspecial cons."),
    ("limiting_speed_kn", "limiting speed\nif elevated"),
)


def route_lines(made: RouteStudy, where: str, ice_class: str = "") -> Iterator[str]:
    """Yield a studied route for the terminal: by class, by month, by point, and what the engineer must see."""
    route = made.route
    yield f"{where}: {len(route.points)} points, {len(route.dates)} dates, {route.regimes} regimes (point-days)"
    yield f"dates {route.dates[0]} to {route.dates[-1]}; {DOCUMENT.title}, {DOCUMENT.edition}"
    yield WORDS
    yield ""
    own = f", the ship's own class is {ice_class}" if ice_class else ""
    yield text_table(made.tables["route_classes"], _CLASS_COLUMNS, f"Every class on the route{own}")
    yield ""
    months = made.tables["route_months"]
    yield _matrix(months, "month", [str(month) for month in months["month"].data], "By month, all years together")
    yield ""
    yield from _point_lines(made.tables["route_points"], len(route.points))
    yield _TRIPLE
    yield escort_line(int(route.escort_planned.sum()), route.regimes)
    yield from finding_lines(made.findings)
    yield unconfirmed_line(made.cells)
    yield SHORT_CAUTION


def regime_lines(made: RegimeStudy, where: str) -> Iterator[str]:
    """Yield single regimes for the terminal: the index of each for every class with the operation it stands for."""
    table = made.tables["regimes"]
    yield f"{where}: {len(made.regimes.names)} ice regimes; {DOCUMENT.title}, {DOCUMENT.edition}"
    yield WORDS
    yield ""
    yield _matrix(table, "regime", table.labels("regime").tolist(), "Risk index outcome", _regime_cell)
    yield ""
    yield ", ".join(f"{letter} {TOLD[word]}" for word, letter in _LETTER.items())
    yield from _speed_lines(table)
    yield escort_line(int(made.regimes.escort_planned.sum()), len(made.regimes.names))
    yield from finding_lines(made.findings)
    yield unconfirmed_line(made.cells)
    yield SHORT_CAUTION


def escort_line(escorted: int, regimes: int) -> str:
    """Return what was done about an escort: how many regimes are planned with one, and by how much the index rises."""
    rise = number(float(ESCORT.numbers("escort")))
    if not escorted:
        return f"No regime is planned under escort; where one is, {rise} is added to the RIO for planning (1.6.4)."
    return (
        f"{escorted} of {regimes} regimes are planned under escort: there {rise} is added to the RIO for planning "
        "(1.6.4). Under way the RIO of the ice that the ship meets counts, without addition."
    )


def route_documents(made: RouteStudy | RegimeStudy, asked: dict[str, Any], inputs_sha256: str) -> dict[str, bytes]:
    """Return the files by name: tables as CSV, a route's picture, all of it as JSON; every one bears its mark."""
    name = "route.json" if isinstance(made, RouteStudy) else "regimes.json"
    files = {f"{table}.csv": marked_csv(content) for table, content in made.tables.items()}
    if isinstance(made, RouteStudy):
        drawn = route_picture(made, str(asked.get("file", "route")), str(asked.get("ice_class") or ""))
        files["route.svg"] = to_svg(drawn).encode("utf-8")
    return {**files, name: route_json(made, asked, inputs_sha256).encode("utf-8")}


def route_json(made: RouteStudy | RegimeStudy, asked: dict[str, Any], inputs_sha256: str) -> str:
    """Return a study as JSON text; ``asked`` says what was asked for (file, class, season, escort)."""
    told = {
        "format": FORMAT,
        "standing": STANDING,
        "decision_support": WORDS,
        "asked": asked,
        **provenance((DOCUMENT,), made.cells, inputs_sha256),
        "tables": {name: table_values(table) for name, table in made.tables.items()},
        "findings": finding_values(made.findings),
    }
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def _point_lines(table: ColumnTable, points: int) -> Iterator[str]:
    """The points one by one where there are few; else where to find them."""
    if points > MOST_POINTS_SHOWN:
        yield f"The {points} points one by one stand in route_points.csv."
        return
    yield _matrix(table, "point", table.labels("point").tolist(), "By point, over its dates")
    yield ""


def _triple(table: ColumnTable, row: int) -> str:
    """Shares of one row in whole per cent; a small share never reads as none, nor one that is not whole as all."""
    return "/".join(_percent(float(table[name].data[row])) for name in SHARES)


def _percent(share: float) -> str:
    """A share in whole per cent."""
    if 0.0 < share < 0.01:
        return "<1"
    return ">99" if 0.99 < share < 1.0 else f"{100.0 * share:.0f}"


def _regime_cell(table: ColumnTable, row: int) -> str:
    """Index and operation of one row."""
    return f"{cell(table['index'], row)} {_LETTER[str(table['operation'].data[row])]}"


def _matrix(
    table: ColumnTable,
    head: str,
    names: Sequence[str],
    title: str,
    told: Callable[[ColumnTable, int], str] = _triple,
) -> str:
    """A table of classes and groups laid out with a row per group and a column per class."""
    groups = list(dict.fromkeys(names))
    rows = {pair: row for row, pair in enumerate(zip(names, table.labels("ice_class").tolist(), strict=True))}
    columns = {head: words_column(groups)}
    for ice_class in CLASSES:
        columns[ice_class] = words_column(
            told(table, rows[group, ice_class]) if (group, ice_class) in rows else DASH for group in groups
        )
    return text_table(ColumnTable("matrix", columns), [(name, name) for name in columns], title)


def _speed_lines(table: ColumnTable) -> Iterator[str]:
    """The limits of speed that apply to some regime."""
    limits = table["limiting_speed_kn"]
    rows = np.flatnonzero(limits.applies)
    found = dict.fromkeys((str(table["ice_class"].data[row]), number(float(limits.data[row]))) for row in rows)
    if found:
        yield "Recommended limit of speed at elevated operational risk: " + ", ".join(
            f"{ice_class} {speed} kn" for ice_class, speed in found
        )
