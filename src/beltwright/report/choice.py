"""The choice of a class: on the terminal, as tables, as JSON, and on a printed page with its picture."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from importlib.resources import files
from typing import Any, Final

import numpy as np

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.choice_chart import ChoiceBar, choice_chart
from beltwright.drawing.lettering import shorten
from beltwright.report.decision_support import WORDS, finding_lines, finding_values
from beltwright.report.markup import bullets, figure, grid_table, heading, paragraph
from beltwright.report.numbers import DASH, cell, fixed, unit_words
from beltwright.report.result_json import table_values
from beltwright.report.tables import csv_text
from beltwright.report.terminal import text_table
from beltwright.weights.choice import NO_POWER, ClassChoice
from beltwright.weights.class_costs import ClassCost

FORMAT: Final = "beltwright-choice-1"
TITLE: Final = "Choice of class"
NOT_EQUAL: Final = (
    "Classes that a published table names side by side correspond for the purpose of that table and no more. Nothing "
    "here is equal in strength to anything else: each class's scantlings follow from its own document's loads."
)
STATED: Final = (
    "Hull, ice waterlines and arrangement are those of the ship; only document and class change. Offered scantlings "
    "are left aside: every class gets the least stock plate and the lightest section that meet its requirements.",
    "Weight and cost are those of shell plating and local frames, both sides, with the stated allowances; web frames, "
    "stringers, hull girder and machinery are not in them and may decide between classes.",
    "Deadweight lost is the difference of that weight to the class compared with, at the same displacement: shared, on "
    "the plates and frames that both classes weigh; all, with those too that only one of them asks for and weighs. "
    "Where a document asks for nothing, the shell is not weighed.",
    "A class that is not met is weighed with what comes nearest to its requirements; that is too light.",
    "Load patches differ in kind between documents: a pressure of one is not to be set against a pressure of another.",
    "Cost is steel of the least grade that the class asks for at the yield offered (the grade offered where its "
    "document asks for none), work by weight, joints, pieces and bending, by the prices in prices.csv. Plates are laid "
    "once for all classes. Engine output is costed only where the document states one.",
)
_COLUMNS: Final[tuple[tuple[str, str, int | None], ...]] = (
    ("ice_class", "class", None),
    ("outcome", "outcome", None),
    ("load_pressure_mpa", "patch pressure", 2),
    ("load_height_m", "patch height", 2),
    ("load_force_mn", "patch force", 2),
    ("plating_t", "plating", 0),
    ("frames_t", "frames", 0),
    ("total_t", "total", 0),
    ("deadweight_lost_shared_t", "lost, shared", 0),
    ("deadweight_lost_t", "lost, all", 0),
    ("not_weighed_m2", "not weighed", 0),
    ("steel_cost", "steel cost", 0),
    ("more_steel_cost", "more than base", 0),
)
_SERVICE: Final[tuple[tuple[str, str, int | None], ...]] = (
    ("ice_class", "class", None),
    ("power_required_kw", "output asked", 0),
    ("power_met", "is met", None),
    ("engine_cost", "engine cost", 0),
    ("share_normal", "normal", 3),
    ("share_elevated", "elevated", 3),
    ("share_special", "special", 3),
    ("lowest_index", "lowest RIO", 0),
    ("regimes_normal", "list: normal", 0),
    ("regimes_elevated", "list: elevated", 0),
    ("regimes_special", "list: special", 0),
)
_SHORT: Final = (
    "Normal, elevated, special: shares of the route's point-days in normal operation, at elevated operational risk, in "
    "operation subject to special consideration; list: the same of the single ice regimes, counted. Output asked: the "
    "engine output that the document asks for."
)
_THOUSANDS: Final = ("steel_cost", "more_steel_cost", "engine_cost")
_LONGEST: Final = 150.0
_PAGE_MM: Final = 168.0


def choice_lines(made: ClassChoice) -> Iterator[str]:
    """Yield the choice for the terminal: a line per class, why some have no result, correspondence, what is stated."""
    ship = made.ship
    yield f"{ship.ship.name}: choice of class (own class {ship.ice.ice_class} of {ship.ice.rules}{_compared(made)})"
    for document, rows in _by_document(made):
        for columns in (_COLUMNS, _SERVICE):
            shown = [(name, _header(made, name, head)) for name, head, _ in columns if name in made.table]
            yield ""
            yield text_table(_shown(made, rows, columns), shown, document)
    yield ""
    yield _SHORT
    yield _cost_words(made)
    yield from _reason_lines(made)
    yield ""
    yield NOT_EQUAL
    for document, system, named, classes, limits, standing in _beside(made):
        yield f"  {document}: {classes} beside {named} ({system}); {limits}; standing: {standing}"
    yield ""
    yield from STATED
    if made.route is not None or made.regimes is not None:
        yield WORDS
    yield from finding_lines(made.findings)
    yield SHORT_CAUTION


def _compared(made: ClassChoice) -> str:
    """Which class the others are compared with, where it is not the ship's own."""
    if made.base is None or made.base == made.own:
        return ""
    one = made.candidates[made.base]
    return f"; compared with {one.result.ice_class} of {one.document}"


def _beside(made: ClassChoice) -> list[tuple[str, ...]]:
    """What published tables name beside classes, classes of one entry together: document, system, named, classes, .."""
    table = made.correspondence
    groups: dict[tuple[str, ...], list[str]] = {}
    for row in range(table.rows):
        entry = tuple(str(table[name].data[row]) for name in ("document", "system", "named", "limits", "status"))
        groups.setdefault(entry, []).append(str(table["ice_class"].data[row]))
    return [
        (document, system, named, ", ".join(classes), limits, standing)
        for (document, system, named, limits, standing), classes in groups.items()
    ]


def choice_documents(made: ClassChoice, inputs_sha256: str) -> dict[str, bytes]:
    """Return the files by name.

    Classes, costs and what corresponds as CSV, each rule set's loads, the prices used, JSON, picture, printed pages.
    """
    pages = choice_pages(made, inputs_sha256)
    per_rules = {f"choice_{one.rules.id}.csv": csv_text(one.summary).encode("utf-8") for one in made.comparisons}
    return {
        "choice.csv": csv_text(made.table).encode("utf-8"),
        "choice_costs.csv": csv_text(made.costs).encode("utf-8"),
        "prices.csv": made.costing.table.text().encode("utf-8"),
        "choice.svg": pages["choice.svg"],
        "choice_correspondence.csv": csv_text(made.correspondence).encode("utf-8"),
        **per_rules,
        "choice.json": choice_json(made, inputs_sha256).encode("utf-8"),
        "choice.pdf": typeset(pages, tagged=False),
    }


def choice_json(made: ClassChoice, inputs_sha256: str) -> str:
    """Return the choice as JSON text; a number that does not apply is null with its reason."""
    documents = {d.id: d for one in made.candidates for d in one.rules.documents}
    told: dict[str, Any] = {
        "format": FORMAT,
        "ship": made.ship.ship.name,
        "own_class": {"rules": made.ship.ice.rules, "ice_class": made.ship.ice.ice_class},
        "documents": [{"id": d.id, "short": d.short, "edition": d.edition} for d in documents.values()],
        "input_hash": inputs_sha256,
        "program_version": __version__,
        "not_equal": NOT_EQUAL,
        "decision_support": WORDS,
        "stated": list(STATED),
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
        "base": None if made.base is None else made.candidates[made.base].result.ice_class,
        "currency": made.costing.table.currency,
        "prices": [
            {"item": row.item, "grade": row.grade, "amount": row.amount, "unit": row.unit, "source": row.source}
            for row in made.costing.used()
        ],
        "prices_assumed": list(made.costing.assumed()),
        "classes": table_values(made.table),
        "costs": table_values(made.costs),
        "correspondence": table_values(made.correspondence),
        "reasons": [
            {"rules": one.rules.id, "ice_class": one.result.ice_class, "reasons": list(one.result.reasons)}
            for one in made.candidates
        ],
        "findings": finding_values(made.findings),
    }
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def choice_pages(made: ClassChoice, inputs_sha256: str) -> dict[str, bytes]:
    """Return the typst source and the picture of the printed pages by file name."""
    ship = made.ship.ship
    parts = [
        f"#show: booklet.with(title: {quoted(TITLE)}, ship: {quoted(ship.name)}, revision: {quoted(ship.revision)}, "
        f"fingerprint: {quoted(inputs_sha256[:16])}, version: {quoted(__version__)}, "
        f"caution: {quoted(SHORT_CAUTION)})\n#set heading(numbering: none)\n",
        heading(1, f"{ship.name}: {TITLE.lower()}"),
        paragraph(
            f"The ship's own class is {made.ship.ice.ice_class}, marked with a star{_compared(made)}. {NOT_EQUAL}"
        ),
        figure("choice.svg", _caption(made), "100%"),
        heading(2, "Loads, steel and cost"),
        _printed(made, _COLUMNS, 7.0),
        heading(2, "Engine output and where the class may go"),
        _printed(made, _SERVICE, 7.0),
        paragraph(f"{_SHORT} {_cost_words(made)} {_notes(made)}"),
        heading(2, "What fails, and why"),
        bullets(list(_reason_lines(made))),
        heading(2, "What published tables name beside a class"),
        _printed_correspondence(made),
        heading(2, "What is stated"),
        bullets([*STATED, *([WORDS] if made.route is not None or made.regimes is not None else [])]),
        bullets(list(finding_lines(made.findings))),
    ]
    style = files("beltwright.report").joinpath("typst", "style.typ").read_bytes()
    source = '#import "style.typ": *\n' + "".join(parts)
    picture = to_svg(choice_chart(_bars(made), made.costing.table.currency)).encode("utf-8")
    return {"main.typ": source.encode("utf-8"), "style.typ": style, "choice.svg": picture}


def _caption(made: ClassChoice) -> str:
    """What the picture shows."""
    route = "" if made.route is None else ", and where each class may go on the route"
    return f"Steel weight and cost of plating and local frames{route}"


def _cost_words(made: ClassChoice) -> str:
    """Where the prices stand, and which of them are assumed."""
    told = made.costing.assumed()
    assumed = f" Assumed, edit: {'; '.join(told)}." if told else ""
    return f"Cost in thousand {made.costing.table.currency}, by the prices in prices.csv.{assumed}"


def _notes(made: ClassChoice) -> str:
    """What a dash in the table stands for, each reason once."""
    reasons: dict[str, None] = {}
    for name in ("power_required_kw", "share_normal", "regimes_normal", "deadweight_lost_t"):
        column = made.table[name].reason if name in made.table else None
        if column is not None:
            reasons |= dict.fromkeys(str(reason) for reason in column if reason and reason != NO_POWER)
    return f"A dash: {'; '.join(reasons)}." if reasons else ""


def _by_document(made: ClassChoice) -> Iterator[tuple[str, list[int]]]:
    """The rows of each document's classes."""
    for document in dict.fromkeys(one.document for one in made.candidates):
        yield document, [row for row, one in enumerate(made.candidates) if one.document == document]


def _cell(made: ClassChoice, name: str, row: int, decimals: int | None) -> str:
    """One cell in words: cost in thousands, the own class marked, what the rule does not state said so."""
    column = made.table[name]
    if name == "power_required_kw" and column.reason is not None and column.reason[row]:
        return "not stated" if column.reason[row] == NO_POWER else DASH
    if name in _THOUSANDS and not np.isnan(column.data[row]):
        return fixed(float(column.data[row]) / 1000.0, 0)
    if name == "power_met" and not column.data[row]:
        return DASH
    words = cell(column, row, decimals)
    return f"{words} *" if name == "ice_class" and row == made.own else words


def _shown(made: ClassChoice, rows: Sequence[int], shown: Sequence[tuple[str, str, int | None]]) -> ColumnTable:
    """Some rows as words; units stand in the headers."""
    columns = {
        name: Column(
            unit=Unit("label"),
            meaning=made.table[name].meaning,
            data=np.array([_cell(made, name, row, decimals) for row in rows], dtype=np.str_),
        )
        for name, _, decimals in shown
        if name in made.table
    }
    return ColumnTable("shown", columns)


def _header(made: ClassChoice, name: str, head: str) -> str:
    """A header for the terminal: broken in two lines, unit below."""
    unit = _unit(made, name)
    return head.replace(" ", "\n", 1) + (f"\n{unit}" if unit else "\n")


def _unit(made: ClassChoice, name: str) -> str:
    """The unit of a column as it is shown; costs in thousands."""
    unit = unit_words(made.table[name].unit.symbol)
    return f"k {unit}" if name in _THOUSANDS else unit


def _reason_lines(made: ClassChoice) -> Iterator[str]:
    """What fails; classes of one document that fail alike are told together."""
    groups: dict[tuple[str, str, tuple[str, ...]], list[str]] = {}
    for one in made.candidates:
        if one.result.reasons:
            groups.setdefault((one.document, one.result.outcome, one.result.reasons), []).append(one.result.ice_class)
    for (document, outcome, reasons), classes in groups.items():
        told = "; ".join(shorten(reason, 1.0, _LONGEST) for reason in reasons)
        yield f"{document}, {', '.join(classes)}, {outcome}: {told}"
    if not groups:
        yield "Every class is met by the proposals."


def _printed(made: ClassChoice, shown: Sequence[tuple[str, str, int | None]], size_pt: float) -> str:
    """The classes as a printed table, those of one document after the other; classes not met are marked."""
    columns = [(name, head) for name, head, _ in shown if name in made.table]
    rows = list(range(made.table.rows))
    table = _shown(made, rows, shown)
    left = [name for name, _ in columns if name in ("ice_class", "outcome")]
    each = (_PAGE_MM - 15.5 * len(left)) / max(len(columns) - len(left), 1)
    headers = [
        (head, _unit(made, name), "left" if name in left else "right", "15.5" if name in left else f"{each:.2f}")
        for name, head in columns
    ]
    body = [[str(table[name].data[row]) for name, _ in columns] for row in rows]
    marked = [row for row in rows if str(made.table["outcome"].data[row]) != "met"]
    return grid_table(headers, body, marked, size_pt)


def _printed_correspondence(made: ClassChoice) -> str:
    """What published tables name, with their limits."""
    heads = (("document and table", "30"), ("system", "24"), ("named", "17"), ("beside the classes", "37"),
             ("what it says no more than", "fill"), ("standing", "18"))  # fmt: skip
    return grid_table([(head, "", "left", width) for head, width in heads], _beside(made), size_pt=7.5)


def _bars(made: ClassChoice) -> list[ChoiceBar]:
    """The classes of the picture."""
    shares = [made.table[name].data for name in ("share_normal", "share_elevated", "share_special")
              if name in made.table]  # fmt: skip
    bars = []
    for row, one in enumerate(made.candidates):
        share = [float(values[row]) for values in shares]
        bars.append(
            ChoiceBar(
                name=one.result.ice_class,
                document=one.document,
                plating_t=_value(made.table["plating_t"].data[row]),
                frames_t=_value(made.table["frames_t"].data[row]),
                lost_t=tuple(
                    value
                    for name in ("deadweight_lost_shared_t", "deadweight_lost_t")
                    if (value := _value(made.table[name].data[row])) is not None
                ),
                money=None if one.cost is None else _money(one.cost),
                more_money=None if (more := _value(made.table["more_steel_cost"].data[row])) is None else more / 1e3,
                shares=(share[0], share[1], share[2]) if share and not np.isnan(share).any() else None,
                said=one.result.outcome if one.result.outcome == "not met" else "",
                own=row == made.own,
                base=row == made.base,
            )
        )
    return bars


def _money(cost: ClassCost) -> tuple[float, float]:
    """Steel, and all else, in thousands."""
    steel = float(cost.plating.steel + cost.frames.steel)
    return steel / 1e3, (cost.total - steel) / 1e3


def _value(number: float) -> float | None:
    """A number, None where there is none."""
    return None if np.isnan(number) else float(number)
