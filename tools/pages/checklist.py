"""The page of the clauses without a formula, from the rule sets."""

from __future__ import annotations

from beltwright.rules.protocol import ChecklistItem
from beltwright.rules.registry import available, rule_set
from pages._modules import table

INTRO = """# Clauses without a formula

What a rule asks for in words only is an item of a checklist. Answer each in ship.toml; an item without an answer is
open, and open items are named in every output ([finding BW481](findings.md)).

```toml
[[checklist]]
item = "welding_double_continuous"
status = "done"
note = "Weld table, drawing 12, revision C."
```

`status` is `done`, `open` or `not applicable`; all but `open` need a note. The program checks none of these clauses.
"""


def page() -> str:
    """Give the page as Markdown; rule sets with one checklist share a table."""
    shared: dict[tuple[ChecklistItem, ...], list[str]] = {}
    for name in available():
        items = rule_set(name).checklist
        if items:
            shared.setdefault(items, []).append(f"`{name}`")
    parts = [INTRO]
    for items, names in shared.items():
        rows = [[f"`{item.id}`", item.ref, item.requirement, ", ".join(item.classes) or "all"] for item in items]
        parts.append(f"\n## {', '.join(names)}\n\n" + table(["item", "clause", "what it asks for", "classes"], rows))
    return "".join(parts)
