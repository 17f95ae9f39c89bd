"""Changes to the text of ``ship.toml`` that leave everything else in it as it was, comments and order included."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping, Sequence
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Comment, Item, Table, Whitespace

from beltwright.core.errors import InputError

Path = tuple[str | int, ...]
SHIP_FILE = "ship.toml"


def changed(text: str, values: Mapping[Path, Any]) -> str:
    """Return the text with some settings set to other values; None takes a setting away.

    Parameters
    ----------
    values : new values by path, such as ``("levels", 2, "height_m")``; rows are counted from 0. A table is given as a
        mapping, a list of tables as a sequence of them

    Raises
    ------
    InputError : a path leads nowhere, or the text is not valid TOML
    """
    document = _document(text)
    for path, value in values.items():
        _set(document, path, value)
    return tomlkit.dumps(document)


def with_row(text: str, path: Path, row: Mapping[str, Any], at: int | None = None) -> str:
    """Return the text with a row more in a list of tables: before row ``at``, or as the last one."""
    document = _document(text)
    parent, name = _parent(document, path)
    held = parent.get(name, [])
    place = len(held) if at is None else min(max(at, 0), len(held))
    if isinstance(held, AoT):
        _insert(held, place, _table(row))
    else:
        rows = [_plain(one) for one in held]
        _set(document, path, [*rows[:place], dict(row), *rows[place:]])
    return tomlkit.dumps(document)


def without_row(text: str, path: Path, at: int) -> str:
    """Return the text without one row of a list of tables; InputError where there is no such row."""
    document = _document(text)
    parent, name = _parent(document, path)
    held = parent.get(name, [])
    if not 0 <= at < len(held):
        raise InputError(
            f"{SHIP_FILE}: {words_of_path(path)}", "there is no such row", value=at + 1, allowed=f"1 to {len(held)}"
        )
    if len(held) == 1:
        del parent[name]
    elif isinstance(held, AoT):
        _remove(held, at)
    else:
        del held[at]
    return tomlkit.dumps(document)


def _document(text: str) -> tomlkit.TOMLDocument:
    """The text as a document that remembers its comments."""
    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise InputError(SHIP_FILE, f"is not valid TOML: {error}") from None


def _set(document: MutableMapping[str, Any], path: Path, value: Any) -> None:
    """Set one value; tables on the way are made where there are none."""
    parent, name = _parent(document, path)
    if value is None:
        if isinstance(name, int) or name in parent:
            del parent[name]
        return
    if isinstance(name, int):
        _replace_row(parent, name, value)
        return
    old = parent.get(name)
    new = _in_line(value) if isinstance(old, Array) else _item(value)
    if isinstance(old, Item) and isinstance(new, Item) and not isinstance(old, AoT):
        new.trivia.comment_ws, new.trivia.comment = old.trivia.comment_ws, old.trivia.comment
    if isinstance(old, AoT) and isinstance(new, AoT):
        _replace_rows(old, value)
        return
    parent[name] = new


def _replace_rows(old: AoT, rows: Sequence[Mapping[str, Any]]) -> None:
    """Give a list of tables other rows; rows that stay keep their comments."""
    for number in range(min(len(old), len(rows))):
        _update(cast(MutableMapping[str, Any], old[number]), rows[number])
    while len(old) > len(rows):
        _remove(old, len(old) - 1)
    for row in rows[len(old) :]:
        _insert(old, len(old), _table(row))


def _insert(rows: AoT, at: int, row: Table) -> None:
    """Put a row in; what stands after the last row belongs to what follows in the file, and stays behind."""
    after = _cut_after(rows[-1]) if at == len(rows) and len(rows) else []
    (rows[-1] if at == len(rows) and len(rows) else row).value.append(None, Whitespace("\n"))
    rows.insert(at, row)
    for item in after:
        row.value.append(None, item)


def _remove(rows: AoT, at: int) -> None:
    """Take a row out; what stands after the last row stays."""
    after = _cut_after(rows[at]) if at == len(rows) - 1 else []
    del rows[at]
    if at == len(rows):
        _cut_after(rows[-1])
        for item in after:
            rows[-1].value.append(None, item)


def _cut_after(row: Any) -> list[Any]:
    """Take the comments and blank lines after a row's last setting away and return them in order."""
    body = row.value.body
    found: list[Any] = []
    while body and body[-1][0] is None and isinstance(body[-1][1], Comment | Whitespace):
        found.insert(0, body.pop()[1])
    return found


def _replace_row(rows: Any, at: int, value: Mapping[str, Any]) -> None:
    """Give one row other values."""
    _update(rows[at], value)


def _update(table: MutableMapping[str, Any], value: Mapping[str, Any]) -> None:
    """Give a table other values: keys that are gone go, others are set."""
    for key in [key for key in table if key not in value]:
        del table[key]
    for key, item in value.items():
        if key not in table or _plain(table[key]) != item:
            _set(table, (key,), item)


def _plain(item: Any) -> Any:
    """A value of the document as plain Python."""
    return item.unwrap() if isinstance(item, Item) else item


def _parent(document: MutableMapping[str, Any], path: Path) -> tuple[Any, str | int]:
    """What holds the setting at a path, and its name there."""
    if not path:
        raise InputError(SHIP_FILE, "no setting is named")
    held: Any = document
    for number, part in enumerate(path[:-1]):
        if isinstance(part, int):
            if not isinstance(held, Sequence) or not 0 <= part < len(held):
                raise InputError(
                    f"{SHIP_FILE}: {words_of_path(path[: number + 1])}", "there is no such row", value=part + 1
                )
            held = held[part]
        else:
            if part not in held:
                held[part] = tomlkit.table()
            held = held[part]
    return held, path[-1]


def _item(value: Any) -> Any:
    """A value as TOML writes it: lists of tables as such, all else in place."""
    if isinstance(value, Mapping):
        return _table(value)
    if isinstance(value, Sequence) and not isinstance(value, str) and value and isinstance(value[0], Mapping):
        rows = tomlkit.aot()
        for row in value:
            rows.append(_table(row))
        return rows
    return tomlkit.item(value)


def _in_line(rows: Sequence[Any]) -> Any:
    """A list in one line, its tables in braces."""
    found = tomlkit.array()
    for row in rows:
        if isinstance(row, Mapping):
            inner = tomlkit.inline_table()
            inner.update({key: value for key, value in row.items() if value is not None})
            found.append(inner)
        else:
            found.append(row)
    return found


def _table(row: Mapping[str, Any]) -> Table:
    """A row as a table of its own; settings without a value are left out, tables inside stand in one line."""
    table = tomlkit.table()
    for key, value in row.items():
        if value is None:
            continue
        if isinstance(value, Mapping):
            inner = tomlkit.inline_table()
            inner.update({name: held for name, held in value.items() if held is not None})
            table.add(key, inner)
        else:
            table.add(key, value)
    return table


def words_of_path(path: Path) -> str:
    """Return a path as the user writes it, rows counted from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text
