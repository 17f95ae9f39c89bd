"""Typst markup from plain values: every word goes in as a string, so that nothing a user wrote can be code."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from beltwright.core.columns import ColumnTable
from beltwright.drawing.backends.typesetter import quoted
from beltwright.report.calculation import CalculationLine
from beltwright.report.numbers import cell, told, unit_words
from beltwright.report.symbols import printed, typst_symbol, typst_word

DENSE_PT = 7.4  # tables of smaller type stand closer; style.typ has the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One column of a printed table: the table's column, its header, decimals (None: by unit) and width ("auto")."""

    name: str
    header: str
    decimals: int | None = None
    width: str = "auto"


def array(items: Iterable[str]) -> str:
    """Return a typst array of expressions."""
    return "(" + "".join(f"{item}, " for item in items) + ")"


def words(items: Iterable[str]) -> str:
    """Return a typst array of strings."""
    return array(quoted(item) for item in items)


def heading(level: int, text: str) -> str:
    """Return a heading."""
    return f"#heading(level: {level}, {quoted(text)})\n"


def paragraph(text: str) -> str:
    """Return a paragraph of plain words."""
    return f"#par({quoted(text)})\n"


def lead(text: str) -> str:
    """Return a paragraph of plain words that stays on the page of what follows it, such as a table."""
    return f"#lead({quoted(text)})\n"


def bullets(sentences: Sequence[str]) -> str:
    """Return a list of sentences."""
    return "#list(" + ", ".join(quoted(sentence) for sentence in sentences) + ")\n" if sentences else ""


def grid_table(
    headers: Sequence[tuple[str, str, str, str]],
    rows: Sequence[Sequence[str]],
    marked: Sequence[int] = (),
    size_pt: float = 8.0,
) -> str:
    """Return a table from strings; headers are (title, unit, "left" or "right", width: "auto", "fill" or mm)."""
    widths = _widths(headers, rows, size_pt)
    columns = array(
        f"(title: {quoted(title)}, unit: {quoted(unit)}, align: {quoted(align)}, width: {width})"
        for (title, unit, align, _), width in zip(headers, widths, strict=True)
    )
    body = array(words(row) for row in rows)
    return f"#sheet(columns: {columns}, rows: {body}, marked: {array(map(str, marked))}, size: {size_pt:g}pt)\n"


def _widths(headers: Sequence[tuple[str, str, str, str]], rows: Sequence[Sequence[str]], size_pt: float) -> list[str]:
    """Column widths from the longest words, so that the typesetter need not measure; what is left over fills."""
    letter_mm, padding_mm, page_mm = 0.175 * size_pt, 3.4 if size_pt >= DENSE_PT else 2.4, 168.0
    wanted: list[float] = []
    for place, (title, unit, _, width) in enumerate(headers):
        if width not in ("auto", "fill"):
            wanted.append(float(width))
            continue
        cells = [row[place] for row in rows]
        longest = max([len(unit), *(len(word) + 1 for word in title.split()), *map(len, cells)], default=1)
        wanted.append(min(letter_mm * longest, 62.0) + padding_mm)
    fills = [place for place, header in enumerate(headers) if header[3] == "fill"]
    fixed_mm = sum(width for place, width in enumerate(wanted) if place not in fills)
    scale = min(1.0, (page_mm - 24.0 * len(fills)) / fixed_mm) if fixed_mm > 0.0 else 1.0
    return ["1fr" if place in fills else f"{scale * width:.2f}mm" for place, width in enumerate(wanted)]


def column_table(
    table: ColumnTable, shown: Sequence[Shown], rows: Sequence[int] | None = None, size_pt: float = 8.0
) -> str:
    """Return some columns of a table, units in the header; rows whose outcome is "not met" are marked."""
    chosen = list(range(table.rows)) if rows is None else list(rows)
    headers = []
    for column in shown:
        kind = table[column.name].data.dtype.kind
        unit = unit_words(table[column.name].unit.symbol)
        headers.append((column.header, unit, "left" if kind in "USO" else "right", column.width))
    body = [[cell(table[c.name], row, c.decimals) for c in shown] for row in chosen]
    outcome = table["outcome"].data if "outcome" in table else None
    marked = [place for place, row in enumerate(chosen) if outcome is not None and outcome[row] == "not met"]
    return grid_table(headers, body, marked, size_pt)


def transposed_table(table: ColumnTable, head: str, shown: Sequence[Shown]) -> str:
    """Return a table of few rows on its side: one line per column with its unit, one column per row of ``head``."""
    headers = [("", "", "left", "62"), ("", "", "left", "16")]
    headers += [(str(title), "", "right", "42") for title in table[head].data.tolist()]
    body = [
        [
            c.header,
            unit_words(table[c.name].unit.symbol),
            *(cell(table[c.name], row, c.decimals) for row in range(table.rows)),
        ]
        for c in shown
    ]
    return grid_table(headers, body)


def calculation_lines(lines: Sequence[CalculationLine]) -> str:
    """Return the lines of a calculation: inputs gathered in one table, then each step with formula and numbers."""
    given = [line for line in lines if not line.citation]
    made = [line for line in lines if line.citation]
    parts = []
    if given:
        parts.append(_inputs(given))
    parts += [_step(line) for line in made]
    return "".join(parts)


def _inputs(lines: Sequence[CalculationLine]) -> str:
    """The inputs of a calculation: symbol, value, what it is and where it comes from."""
    rows = array(
        array((f"${typst_symbol(line.symbol)}$", quoted(line.value_words), quoted(_described(line)))) for line in lines
    )
    return f"#given({rows})\n"


def _described(line: CalculationLine) -> str:
    """What an input is, and where it comes from if that is known."""
    return f"{line.meaning}; {line.origin}" if line.origin else line.meaning


def _step(line: CalculationLine) -> str:
    """One calculated number; a word or a yes or no takes a single line."""
    if isinstance(line.value, str | bool):
        return _answer(line)
    symbol = typst_symbol(line.symbol)
    value = typst_word(line.value_words)
    notes: list[str] = []
    if line.typst is None:
        equation = f"${symbol} = {value}$"
    else:
        same = line.typst.numbers == told(line.value)
        numbers_told = () if same else (line.typst.numbers,)
        equation = f"$display({symbol} = {_chain(line.typst.symbols, *numbers_told, value)})$"
        for name, symbols, numbers, result in line.typst.where:
            notes.append(f"[with $display({name} = {_chain(symbols, numbers, result)})$]")
        if line.typst.conditions:
            notes.append(quoted(printed("as " + " and ".join(line.typst.conditions))))
    if len(line.branches) > 1:
        notes.append(quoted(printed(_branch_words(line))))
    notes += [
        quoted(f"from {place}: {_cell_value(cell.value)}")
        for place, cell in zip(line.cell_words, line.cells, strict=True)
    ]
    return (
        f"#step(meaning: {quoted(line.meaning)}, citation: {quoted(line.citation)}, "
        f"confirmed: {'true' if line.confirmed else 'false'}, equation: {equation}, notes: {array(notes)})\n"
    )


def _answer(line: CalculationLine) -> str:
    """A calculated word, or yes or no, with the reason."""
    reason = " and ".join(line.plain.conditions) if line.plain is not None else ""
    words_told = printed(f"{line.value_words}, as {reason}") if reason else line.value_words
    words_told += "".join(
        f"; from {place}" for place, cell in zip(line.cell_words, line.cells, strict=True) if cell.value == line.value
    )
    confirmed = "true" if line.confirmed else "false"
    return (
        f"#answer(meaning: {quoted(line.meaning)}, value: {quoted(words_told)}, citation: {quoted(line.citation)}, "
        f"confirmed: {confirmed})\n"
    )


def _chain(*parts: str) -> str:
    """Equal terms joined, each distinct one once."""
    kept: list[str] = []
    for part in parts:
        if not kept or kept[-1] != part:
            kept.append(part)
    return " = ".join(kept)


def _branch_words(line: CalculationLine) -> str:
    """Which branch governs, beside the others' values."""
    parts = (
        f"{branch.text} = {told(branch.value)}{' (governs)' if branch.governs else ''}" for branch in line.branches
    )
    return "; ".join(parts)


def _cell_value(value: float | str | None) -> str:
    """A cell's value in words."""
    return "blank" if value is None else told(value)


def figure(name: str, caption: str, width: str, *, floating: bool = False) -> str:
    """Return a picture with its caption; a floating one goes where it fits, and the text runs on before it."""
    placed = "placement: auto, " if floating else ""
    return f"#figure({placed}image({quoted(name)}, width: {width}), caption: {quoted(caption)})\n"
