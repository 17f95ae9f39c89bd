"""Text for the terminal: the short table of a design, and a trace in plain lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from beltwright.core.chain import Trace
from beltwright.core.columns import ColumnTable
from beltwright.report.calculation import CalculationLine, calculation
from beltwright.report.numbers import cell, told, unit_words


def render_trace(trace: Trace, name: str) -> list[str]:
    """Return a number and everything it is made from as plain lines, the number itself first, inputs last.

    Each line says symbol, formula, clause, numbers, value and unit; a lookup says the cell, an input its origin.
    """
    lines = calculation(trace, [name])
    made = [line for line in lines if line.citation]
    given = [line for line in lines if not line.citation]
    answer = [text for line in reversed(made) for text in _made(line)]
    if given:
        answer += ["Inputs", *(f"  {line.symbol} = {line.value_words}  {_of(line)}" for line in given)]
    return answer


def _made(line: CalculationLine) -> Iterable[str]:
    """The lines of one calculated number."""
    mark = "" if line.confirmed else "  [not confirmed from the printed page]"
    yield f"{line.symbol} = {line.value_words}   {line.meaning}, {line.citation}{mark}"
    if line.plain is None:
        for found in line.cell_words:
            yield f"    from {found}"
        return
    for name, symbols, numbers, value in line.plain.where:
        yield f"    with {name} = {symbols} = {numbers} = {value}"
    if line.plain.conditions:
        yield f"    as {' and '.join(line.plain.conditions)}"
    yield f"    = {line.plain.symbols}"
    if line.plain.numbers != line.plain.symbols:
        yield f"    = {line.plain.numbers}"
    for found in line.cell_words:
        yield f"    from {found}"
    for branch in line.branches:
        yield f"    {'governs' if branch.governs else '       '}  {branch.text} = {told(branch.value)}"


def _of(line: CalculationLine) -> str:
    """What an input is and where it comes from."""
    return f"{line.meaning}{f' ({line.origin})' if line.origin else ''}"


def text_table(table: ColumnTable, columns: Sequence[tuple[str, str]], title: str) -> str:
    """Return some columns of a table as text of fixed width, units under the headers; (name, header) per column."""
    from io import StringIO

    from rich.box import SIMPLE
    from rich.console import Console
    from rich.table import Table

    shown = Table(title=title, title_justify="left", box=SIMPLE, pad_edge=False)
    for name, header in columns:
        unit = unit_words(table[name].unit.symbol)
        words = table[name].data.dtype.kind in "US"
        shown.add_column(f"{header}\n{unit}" if unit else header, justify="left" if words else "right", no_wrap=True)
    for row in range(table.rows):
        shown.add_row(*(cell(table[name], row) for name, _ in columns))
    console = Console(file=StringIO(), width=160, color_system=None, force_terminal=False)
    console.print(shown)
    text: str = console.file.getvalue()  # type: ignore[attr-defined]
    return "\n".join(part.rstrip() for part in text.splitlines()).strip("\n")
