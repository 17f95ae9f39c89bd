"""Small pieces of pages made of words: headings, tables, findings. All words go in as text, never as markup."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from nicegui import ui


def over(words: str) -> None:
    """Put a small heading."""
    ui.label(words).classes("over").props("role=heading aria-level=3")


def quiet(words: str) -> None:
    """Put words that matter less."""
    ui.label(words).classes("quiet")


def plain_table(
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    right: Sequence[int] = (),
    bad: Sequence[bool] = (),
    on_row: Callable[[int], None] | None = None,
    caption: str = "",
) -> None:
    """Put a table of words; ``right`` columns stand to the right, ``bad`` rows are marked, rows may be chosen."""
    with ui.element("table").classes("plain").props(f'aria-label="{_safe(caption)}"' if caption else ""):
        with ui.element("thead"), ui.element("tr"):
            for number, head in enumerate(heads):
                _cell("th", head, number in right)
        with ui.element("tbody"):
            for number, row in enumerate(rows):
                line = ui.element("tr").classes("bad" if bad and bad[number] else "")
                with line:
                    for column, words in enumerate(row):
                        if column == 0 and on_row is not None:
                            with ui.element("td"):
                                button = ui.button(words, on_click=lambda at=number: on_row(at))
                                button.props("flat dense no-caps").style("padding: 0 2px; min-height: 0")
                        else:
                            _cell("td", words, column in right)


def _cell(tag: str, words: str, right: bool) -> None:
    """One cell with its words as text."""
    with ui.element(tag).classes("r" if right else ""):
        ui.label(words)


def _safe(words: str) -> str:
    """Words that may stand inside an attribute."""
    return "".join(sign for sign in words if sign.isalnum() or sign in " -,.")
