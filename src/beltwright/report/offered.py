"""Every document of an offered scantlings check: tables, result file, short booklet, terminal text."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from beltwright.core.canonical import fingerprint
from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.booklet import booklet_files, typeset_booklet
from beltwright.report.chapters import findings, ship, standing
from beltwright.report.chapters.offered import offered_chapter
from beltwright.report.from_design import material_of
from beltwright.report.material import Material
from beltwright.report.registry import ChapterRegistry
from beltwright.report.result_json import provenance, table_values
from beltwright.report.tables import csv_text
from beltwright.scantlings import codes
from beltwright.scantlings.design import Design
from beltwright.scantlings.offered import OfferedCheck
from beltwright.scantlings.offered_tables import tally
from beltwright.weights.steel import SteelWeight

FORMAT = "beltwright-offered-1"
TITLE = "Check of offered scantlings"
CLEAN, NOT_CLEAN = "met, no discrepancies", "not met, or discrepancies"
_SHOWN = 40  # discrepancies on the terminal
_OF_THE_DESIGN = (codes.REQUIREMENT_NOT_MET, codes.NO_CANDIDATE, codes.GIVEN_NOT_USED)  # its own plates and frames


def offered_documents(check: OfferedCheck, design: Design, weight: SteelWeight, inputs_sha256: str) -> dict[str, bytes]:
    """Return every document of a check by file name; the same inputs give the same bytes."""
    material = _material(check, material_of(design, weight, inputs_sha256))
    tables = {"offered_plates": check.plates, "offered_frames": check.frames, "discrepancies": discrepancy_table(check)}
    registry = ChapterRegistry()
    for chapter in (offered_chapter(check), ship.CHAPTERS[0], *findings.CHAPTERS, *standing.CHAPTERS):
        registry.register(chapter)
    outcome = f"submitted list {check.name}: {CLEAN if check.clean else NOT_CLEAN}"
    booklet = typeset_booklet(booklet_files(material, registry, title=TITLE, outcome=outcome))
    return {
        **{f"{name}.csv": csv_text(table).encode("utf-8") for name, table in tables.items()},
        "offered.json": _text(check, material).encode("utf-8"),
        "offered.pdf": booklet,
    }


def discrepancy_table(check: OfferedCheck) -> ColumnTable:
    """Return the discrepancies as a table, numbered from 1; row 0 means that none belongs to it."""
    ones = check.discrepancies
    words = {
        "code": ("number of its kind", [one.kind.code for one in ones]),
        "kind": ("kind", [one.kind.title for one in ones]),
        "severity": ("caution, or note that does not count", [one.kind.severity.value for one in ones]),
        "mark": ("mark on the drawing", [one.mark for one in ones]),
        "where": ("members, or the cell", [one.where for one in ones]),
        "message": ("what, with the numbers", [one.message for one in ones]),
        "advice": ("what to do", [one.kind.advice for one in ones]),
    }
    columns = {
        name: Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))
        for name, (meaning, data) in words.items()
    }
    numbers = {
        "number": ("number of the discrepancy", np.arange(1, len(ones) + 1)),
        "row": ("row of the list, 0 for none", np.array([one.line for one in ones], dtype=np.int64)),
    }
    counts = {name: Column(unit=Unit("count"), meaning=meaning, data=data) for name, (meaning, data) in numbers.items()}
    order = ("number", "code", "kind", "severity", "row", "mark", "where", "message", "advice")
    return ColumnTable("discrepancies", {name: {**columns, **counts}[name] for name in order})


def _material(check: OfferedCheck, material: Material) -> Material:
    """The ship's material with the findings that bear on the list, and a hash that covers the list too."""
    told = [one for one in material.findings if one.kind not in _OF_THE_DESIGN]
    return replace(
        material,
        findings=(*told, *(one for one in check.findings if one not in told)),
        result_hash=fingerprint({"result": material.result_hash, "submitted": check.sha256}),
    )


def _text(check: OfferedCheck, material: Material) -> str:
    """The machine-readable result: one JSON document, keys in order; a number that is not finite raises ValueError."""
    title = material.picture.title
    told: dict[str, Any] = {
        "format": FORMAT,
        "ship": title.ship,
        "revision": title.revision,
        "ice_class": title.ice_class,
        "outcome": CLEAN if check.clean else NOT_CLEAN,
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
        "provenance": provenance(material),
        "submitted": {"file": check.name, "sha256": check.sha256, "rows": check.rows},
        "tally": {"plates": tally(check.plates), "frames": tally(check.frames)},
        "plates": table_values(check.plates),
        "frames": table_values(check.frames),
        "discrepancies": table_values(discrepancy_table(check)),
        "overrides": [{"key": o.key, "reason": o.reason} for o in material.overrides],
        "findings": [
            {"code": f.kind.code, "severity": f.kind.severity.value, "where": f.where, "message": f.message}
            for f in material.findings
        ],
    }
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def offered_summary(check: OfferedCheck, design: Design) -> Iterator[str]:
    """Yield what the terminal shows: ship, tally, discrepancies, outcome."""
    document = design.rules.documents[-1]
    yield f"{design.ship.ship.name}, {design.ship.ice.ice_class}, {document.short} {document.edition}"
    yield f"submitted list {check.name}: {check.rows} rows"
    for word, table in (("plates", check.plates), ("frames", check.frames)):
        yield f"{word}: " + ", ".join(f"{count} {outcome}" for outcome, count in tally(table).items())
    counted = sum(one.counts for one in check.discrepancies)
    yield f"discrepancies: {counted}, notes: {len(check.discrepancies) - counted}"
    for one in check.discrepancies[:_SHOWN]:
        yield f"  {one}"
    if len(check.discrepancies) > _SHOWN:
        yield f"  and {len(check.discrepancies) - _SHOWN} more, in discrepancies.csv"
    for finding in check.findings:
        yield f"  {finding}"
    yield (
        "all offered scantlings met, nothing differs" if check.clean else "OFFERED SCANTLINGS NOT MET, OR DISCREPANCIES"
    )
    yield SHORT_CAUTION
