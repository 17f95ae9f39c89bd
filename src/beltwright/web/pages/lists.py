"""Lists beside the pictures: hull areas, findings, weight, and what was done."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
from nicegui import ui

from beltwright.core.cautions import CAUTIONS
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, plain_table, quiet

_PANEL = re.compile(r"\bF-?\d+(?:\.\d+)?/[A-Z]?\d+\b|\bF-?\d+/[^\s,;:]+")


def area_list(desk: Desk, on_panel: Callable[[str], None]) -> None:
    """Put the hull areas with loads, plating and frames; an area's name leads to its governing panel."""
    made = desk.results
    if made is None:
        quiet("There are no results yet.")
        return
    table = made.design.area_table

    def said(name: str, row: int, decimals: int) -> str:
        if name not in table or not table[name].applies[row]:
            return "–"
        return f"{float(table[name].data[row]):.{decimals}f}"

    rows, bad = [], []
    for row in range(table.rows):
        ratios = [float(table[name].data[row]) for name in ("plate_ratio", "frame_ratio") if table[name].applies[row]]
        rows.append((
            str(table.labels("code")[row]), said("thickness_required_mm", row, 1), said("thickness_least_mm", row, 1),
            said("thickness_most_mm", row, 1), said("plate_ratio", row, 3), said("frame_ratio", row, 3),
        ))  # fmt: skip
        bad.append(any(ratio > 1.0 for ratio in ratios))
    panels = table.labels("governing_panel").tolist()
    plain_table(
        ("area", "required mm", "from mm", "to mm", "plate ratio", "frame ratio"), rows, right=(1, 2, 3, 4, 5), bad=bad,
        on_row=lambda row: on_panel(panels[row]) if panels[row] else None, caption="hull areas",
    )  # fmt: skip
    for patch in made.design.loads.patches:
        quiet(
            f"load {patch.name}: {patch.force_mn:.3f} MN on {patch.width_m:.3f} x {patch.height_m:.3f} m, "
            f"{patch.pressure_mpa:.3f} MPa"
        )
    over("Steel of plating and frames, both sides")
    weight = made.weight
    ui.label(
        f"{weight.total_t:.1f} t with allowances, {weight.modelled_t:.1f} t without; "
        f"centre x {weight.centre_m[0]:.2f} m, "
        f"z {weight.centre_m[2]:.2f} m"
    ).classes("number")


def finding_list(desk: Desk, on_panel: Callable[[str], None]) -> None:
    """Put the findings; a panel that one names can be gone to."""
    made = desk.results
    if made is None:
        quiet("There are no results yet.")
        return
    order = {"block": 0, "caution": 1, "note": 2}
    names = set(made.design.plating.labels("id").tolist())
    for finding in sorted(made.findings, key=lambda one: order[one.kind.severity.value]):
        with ui.element("div").classes(f"finding {finding.kind.severity.value}"):
            ui.label(f"{finding.kind.code} {finding.kind.severity.value}: {finding.kind.title}").style(
                "font-weight:600"
            )
            ui.label(f"{finding.where}: {finding.message}")
            quiet(finding.kind.advice)
            named = [name for name in _PANEL.findall(finding.message) if name in names][:3]
            with ui.row().style("gap: 4px"):
                for name in named:
                    ui.button(f"Go to {name}", on_click=lambda one=name: on_panel(one)).props("outline dense no-caps")


def caution_list(desk: Desk) -> None:
    """Put the cautions and the documents of the rule set with their editions."""
    made = desk.results
    if made is not None:
        over("Rules")
        for document in made.design.rules.documents:
            ui.label(f"{document.short} {document.edition}: {document.title}")
        cells = made.design.rules.unconfirmed(made.design.cells)
        quiet(f"{len(cells)} table values used are not confirmed from the printed page; the booklet lists them.")
    over("Cautions")
    for head, words in CAUTIONS:
        ui.label(f"{head}. {words}")


def history_list(desk: Desk, redraw: Callable[[], None]) -> None:
    """Put what was done, and the revisions that are kept."""
    over("Revisions kept")
    for line in desk.record.revisions():
        ui.label(f"{line.number}  {line.name}, {line.author}, {line.at.replace('T', ' ').removesuffix('+00:00')} UTC")
        if line.note:
            quiet(line.note)
    with ui.column().classes("fields").style("padding: 4px 0"):
        name = ui.input("Name of the revision").props("dense outlined hide-bottom-space").classes("w-full")
        author = ui.input("Author", value=desk.author).props("dense outlined hide-bottom-space").classes("w-full")
        note = ui.input("Note").props("dense outlined hide-bottom-space").classes("w-full")

        def keep() -> None:
            if not (name.value or "").strip():
                name.error = "give the revision a name"
                return
            desk.author = (author.value or "").strip()[:80]
            try:
                line = desk.keep(name=name.value.strip()[:80], note=(note.value or "").strip()[:500])
            except ValueError as error:
                name.error = str(error)
                return
            ui.notify(f"revision {line.number} is kept")
            redraw()

        ui.button("Keep this state as a revision", on_click=keep).props(
            "unelevated no-caps color=none text-color=none"
        ).classes("solid")
    over("Edits")
    for what, in_force in reversed(desk.session.history[-30:]):
        label = ui.label(what)
        if not in_force:
            label.classes("quiet")


def utilisation_words(desk: Desk) -> str:
    """Return how many panels are not met, in words; empty without results."""
    made = desk.results
    if made is None:
        return ""
    failed = int(np.count_nonzero(made.design.plating.labels("outcome") == "not met"))
    return f"{failed} panels not met" if failed else "plating met"
