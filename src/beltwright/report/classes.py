"""A ship under every class, side by side: on the terminal, as tables, as JSON and on two printed pages."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from importlib.resources import files
from typing import Any

import numpy as np

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.class_chart import ClassBar, class_chart
from beltwright.drawing.lettering import shorten
from beltwright.report.markup import bullets, figure, grid_table, heading, paragraph
from beltwright.report.numbers import DASH, cell, unit_words
from beltwright.report.result_json import table_values
from beltwright.report.symbols import printed
from beltwright.report.tables import csv_text
from beltwright.report.terminal import text_table
from beltwright.weights.classes import ClassComparison

FORMAT = "beltwright-classes-1"
TITLE = "Classes side by side"
STATED = (
    "Hull, ice waterlines and arrangement are those of the ship; only the class changes.",
    "Scantlings that the description offers are left aside: every class gets the least stock plate and the lightest "
    "catalogue section that meet its requirements, in the grades of the ship.",
    "Weight is that of shell plating and local frames, both sides; web frames, stringers and hull girder are not in it "
    "and may decide between classes.",
    "A class that is not met is weighed with the sections that come nearest to its requirements; that is too light.",
)
_WEIGHTS = ("plating_t", "frames_t", "modelled_t", "total_t", "more_than_own_t")
_LONGEST, _LONGEST_PRINTED = 150.0, 90.0  # shortened beyond this many units of a letter's width
_PAGE_MM = 168.0
_SMALL = (12.0, 7.0)  # first column [mm] and type size [pt] of the tables by hull area

Row = tuple[str, str, tuple[str, ...]]


def class_lines(made: ClassComparison) -> Iterator[str]:
    """Yield the comparison for the terminal: one line per quantity, one column per class."""
    yield f"{made.ship.ship.name}, classes of {_documents(made)} (own class {made.ship.ice.ice_class})"
    yield ""
    for title, rows in (
        ("Loads", _load_rows(made)),
        ("Greatest required thickness as built, by hull area", _thickness_rows(made)),
        ("Panel that asks for it", _word_rows(made, "governing_panel")),
        ("Local frames: section proposed most often", _word_rows(made, "frame_sections")),
        ("Steel weight of plating and local frames, both sides", _weight_rows(made)),
    ):
        yield text_table(_side_by_side(made, rows), _headers(made), title)
        yield ""
    yield from _reason_lines(made)
    yield from STATED
    yield SHORT_CAUTION


def class_documents(made: ClassComparison, inputs_sha256: str) -> dict[str, bytes]:
    """Return the comparison's files by name: two tables as CSV, all of it as JSON, and the printed pages."""
    return {
        "classes.csv": csv_text(made.summary).encode("utf-8"),
        "class_areas.csv": csv_text(made.areas).encode("utf-8"),
        "classes.json": class_json(made, inputs_sha256).encode("utf-8"),
        "classes.pdf": typeset(class_pages(made, inputs_sha256), tagged=False),
    }


def class_json(made: ClassComparison, inputs_sha256: str) -> str:
    """Return the comparison as JSON text; a number that does not apply is null with its reason."""
    told: dict[str, Any] = {
        "format": FORMAT,
        "ship": made.ship.ship.name,
        "own_class": made.ship.ice.ice_class,
        "rules": made.rules.id,
        "documents": [{"id": d.id, "short": d.short, "edition": d.edition} for d in made.rules.documents],
        "input_hash": inputs_sha256,
        "program_version": __version__,
        "stated": list(STATED),
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
        "classes": table_values(made.summary),
        "areas": table_values(made.areas),
        "reasons": {one.ice_class: list(one.reasons) for one in made.results},
    }
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def class_pages(made: ClassComparison, inputs_sha256: str) -> dict[str, bytes]:
    """Return the typst source and the picture of the printed pages by file name."""
    ship = made.ship.ship
    parts = [
        f"#show: booklet.with(title: {quoted(TITLE)}, ship: {quoted(ship.name)}, revision: {quoted(ship.revision)}, "
        f"fingerprint: {quoted(inputs_sha256[:16])}, version: {quoted(__version__)}, "
        f"caution: {quoted(SHORT_CAUTION)})\n#set heading(numbering: none)\n",
        heading(1, f"{ship.name}: {TITLE.lower()}"),
        paragraph(f"{_documents(made)}. The ship's own class is {made.ship.ice.ice_class}. " + " ".join(STATED)),
        figure("classes.svg", "Steel weight, and the greatest required thickness of the foremost hull area", "100%"),
        heading(2, "Steel weight, both sides"),
        _printed(made, _weight_rows(made), 40.0),
        heading(2, "Design ice loads"),
        _printed(made, _load_rows(made), 66.0),
        "#pagebreak()\n",
        heading(2, "Greatest required thickness as built, before rounding (addition for corrosion in it)"),
        _printed(made, _together(_thickness_rows(made), _area_rows(made, "addition_mm", 1), "{} ({})"), *_SMALL),
        heading(2, "Panel that asks for it"),
        _printed(made, _word_rows(made, "governing_panel"), *_SMALL),
        heading(2, "Local frames: section proposed most often"),
        _printed(made, _word_rows(made, "frame_sections"), *_SMALL),
        *_demands(made),
        heading(2, "What fails, and why"),
        bullets(list(_reason_lines(made, _LONGEST_PRINTED))),
    ]
    style = files("beltwright.report").joinpath("typst", "style.typ").read_bytes()
    source = '#import "style.typ": *\n' + "".join(parts)
    return {"main.typ": source.encode("utf-8"), "style.typ": style, "classes.svg": to_svg(_chart(made)).encode("utf-8")}


def _documents(made: ClassComparison) -> str:
    """The document that the classes come from, with its edition."""
    document = made.rules.documents[-1]
    return f"{document.short} {document.edition}"


def _load_rows(made: ClassComparison) -> list[Row]:
    """The loads that the rule set names for comparison."""
    return [_number_row(made, name, f"{meaning}, {printed(symbol)}") for name, symbol, meaning in made.loads]


def _thickness_rows(made: ClassComparison) -> list[Row]:
    """The greatest required thickness of each hull area."""
    return [_number_row(made, f"thickness_required_{code}_mm", code) for code in made.area_codes]


def _weight_rows(made: ClassComparison) -> list[Row]:
    """Masses, and the outcome of each class."""
    titles = ("plating", "local frames", "plating and frames", "with allowances", "more than own class")
    rows = [_number_row(made, name, title, 1) for name, title in zip(_WEIGHTS, titles, strict=True)]
    return [*rows, ("requirements", "", tuple(made.summary.labels("outcome").tolist()))]


def _word_rows(made: ClassComparison, name: str) -> list[Row]:
    """The first word of each hull area's list, by class."""
    return _rows_of(made, name, lambda column, row: str(column.data[row]).split(",")[0] or DASH)


def _area_rows(made: ClassComparison, name: str, decimals: int) -> list[Row]:
    """A number of each hull area, by class."""
    return _rows_of(made, name, lambda column, row: cell(column, row, decimals))


def _rows_of(made: ClassComparison, name: str, told: Callable[[Column, int], str]) -> list[Row]:
    """A column of the table of classes and hull areas: one line per area, a dash where a class has none."""
    if name not in made.areas:
        return []
    column, unit = made.areas[name], unit_words(made.areas[name].unit.symbol)
    pairs = zip(made.areas.labels("ice_class").tolist(), made.areas.labels("hull_area").tolist(), strict=True)
    rows = {pair: row for row, pair in enumerate(pairs)}
    return [
        (
            code,
            unit,
            tuple(
                told(column, rows[one.ice_class, code]) if (one.ice_class, code) in rows else DASH
                for one in made.results
            ),
        )
        for code in made.area_codes
    ]


def _demands(made: ClassComparison) -> list[str]:
    """What the frames of each hull area are asked for at most."""
    modulus, area = _area_rows(made, "modulus_required_cm3", 0), _area_rows(made, "shear_area_required_cm2", 1)
    if not (modulus and area):
        return []
    words = {
        made.areas[name].meaning.split(": ", 1)[-1] for name in ("modulus_required_cm3", "shear_area_required_cm2")
    }
    title = f"Local frames: greatest {' and '.join(words)}"
    return [heading(2, title), _printed(made, _together(modulus, area, "{} / {}"), *_SMALL)]


def _together(one: Sequence[Row], other: Sequence[Row], form: str) -> list[Row]:
    """Two sets of lines as one, each cell holding both; a dash where the first has one."""
    return [
        (
            title,
            unit if unit == second else f"{unit} / {second}",
            tuple(a if a == DASH else form.format(a, b) for a, b in zip(values, others, strict=True)),
        )
        for (title, unit, values), (_, second, others) in zip(one, other, strict=True)
    ]


def _number_row(made: ClassComparison, name: str, title: str, decimals: int | None = None) -> Row:
    """A column of the summary as a line."""
    column = made.summary[name]
    places = {"MN": 2, "MN/m": 2, "MPa": 2, "m": 2, "kt": 2}.get(column.unit.symbol) if decimals is None else decimals
    return title, unit_words(column.unit.symbol), tuple(cell(column, row, places) for row in range(made.summary.rows))


def _side_by_side(made: ClassComparison, rows: Sequence[Row]) -> ColumnTable:
    """Lines as a table of words, one column per class."""

    def column(values: list[str]) -> Column:
        return Column(unit=Unit("label"), meaning="shown", data=np.array(values, dtype=np.str_))

    columns = {
        "quantity": column([title for title, _, _ in rows]),
        "unit": column([unit or " " for _, unit, _ in rows]),
    }
    for number, one in enumerate(made.results):
        columns[one.ice_class] = column([values[number] for _, _, values in rows])
    return ColumnTable("side by side", columns)


def _headers(made: ClassComparison) -> list[tuple[str, str]]:
    """The columns of a terminal table; the ship's own class is marked."""
    own = made.ship.ice.ice_class
    names = [(one.ice_class, f"{one.ice_class}{' *' if one.ice_class == own else ''}") for one in made.results]
    return [("quantity", ""), ("unit", ""), *names]


def _printed(made: ClassComparison, rows: Sequence[Row], first_mm: float, size_pt: float = 8.0) -> str:
    """Lines as a printed table, the first column so wide."""
    unit_mm = 18.0 if any(len(unit) > 5 for _, unit, _ in rows) else 12.0
    each = (_PAGE_MM - first_mm - unit_mm) / max(len(made.results), 1)
    headers = [("", "", "left", f"{first_mm:g}"), ("", "", "left", f"{unit_mm:g}")]
    headers += [(title, "", "right", f"{each:.2f}") for _, title in _headers(made)[2:]]
    return grid_table(headers, [[title, unit, *values] for title, unit, values in rows], size_pt=size_pt)


def _reason_lines(made: ClassComparison, longest: float = _LONGEST) -> Iterator[str]:
    """What fails in each class, at most so many letters a sentence; nothing is said of a class that is met."""
    for one in made.results:
        if one.reasons:
            yield f"{one.ice_class}, {one.outcome}: " + "; ".join(shorten(text, 1.0, longest) for text in one.reasons)
    if not any(one.reasons for one in made.results):
        yield "Every class is met by the proposals."


def _chart(made: ClassComparison) -> Any:
    """The picture: weight and thickness by class."""
    foremost = made.area_codes[0] if made.area_codes else ""
    thickness = (
        made.summary[f"thickness_required_{foremost}_mm"].data if foremost else np.full(len(made.results), np.nan)
    )
    bars = [
        ClassBar(
            name=one.ice_class,
            plating_t=_value(made.summary["plating_t"].data[row]),
            frames_t=_value(made.summary["frames_t"].data[row]),
            thickness_mm=_value(thickness[row]),
            said=one.outcome if one.outcome != "met" else "",
            own=one.ice_class == made.ship.ice.ice_class,
        )
        for row, one in enumerate(made.results)
    ]
    return class_chart(bars, f"greatest required thickness, hull area {foremost}")


def _value(number: float) -> float | None:
    """A number, None where there is none."""
    return None if np.isnan(number) else float(number)
