"""The machine-readable result: one JSON document with units, reasons and provenance, and its schema."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import numpy as np

from beltwright.core.cautions import CAUTIONS
from beltwright.core.columns import Column, ColumnTable
from beltwright.report.edition import CONTRACT_DATE, RULE_SET, STANDING
from beltwright.report.material import Material
from beltwright.report.tables import all_tables

FORMAT = "beltwright-result-1"


def schema(of: str = "result") -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the result, or of the check of a submitted list (``offered``)."""
    text = files("beltwright.report").joinpath(f"{of}.schema.json").read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


def result(material: Material) -> dict[str, Any]:
    """Return the result as plain values."""
    title = material.picture.title
    tables = {name: table_values(table) for name, table in all_tables(material).items() if name != "findings"}
    return {
        "format": FORMAT,
        "ship": title.ship,
        "revision": title.revision,
        "ice_class": title.ice_class,
        "outcome": material.outcome,
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
        "provenance": provenance(material),
        "inputs": material.inputs,
        "displacement_upper_kt": title.displacement_kt,
        "rule_length_m": title.length_m,
        "draughts": [
            {"place": place, "x_m": x, "upper_m": upper, "lower_m": lower}
            for place, x, upper, lower in material.picture.draughts
        ],
        **tables,
        "patches": [
            {
                "name": patch.name, "force_mn": patch.force_mn, "width_m": patch.width_m, "height_m": patch.height_m,
                "pressure_mpa": patch.pressure_mpa, "areas": list(patch.areas),
            }
            for patch in material.patches
        ],
        "weight": {
            "total_t": material.weights.total_t,
            "centre_m": list(material.weights.centre_m),
            "not_weighed_m2": material.weights.not_weighed_m2,
            "allowances": [{"what": what, "mass_t": mass} for what, mass in material.weights.allowances],
            "remarks": list(material.weights.remarks),
            **_icing(material),
        },
        "grade_basis": list(material.grade_basis),
        "edition": edition_values(material),
        "decisions": list(material.decisions),
        "overrides": [{"key": o.key, "reason": o.reason} for o in material.overrides],
        "findings": [
            {"code": f.kind.code, "severity": f.kind.severity.value, "where": f.where, "message": f.message}
            for f in material.findings
        ],
    }  # fmt: skip


def _icing(material: Material) -> dict[str, Any]:
    """The icing allowance, an item of its own; nothing for a ship that names no surface."""
    ice = material.weights.icing
    if ice is None:
        return {}
    return {"icing": {"mass_t": ice.mass_t, "centre_m": list(ice.centre_m)}}


def result_text(material: Material) -> str:
    """Return the result as JSON text, keys in order; a number that is not finite raises ValueError."""
    return (
        json.dumps(result(material), allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"
    )


def provenance(material: Material) -> dict[str, Any]:
    """Where the numbers come from."""
    title = material.picture.title
    return {
        "program_version": title.program_version,
        "input_hash": title.input_hash,
        "result_hash": material.result_hash,
        "documents": [
            {"id": d.id, "short": d.short, "title": d.title, "edition": d.edition} for d in material.documents
        ],
        "unconfirmed_cells": [
            {"table": c.table, "keys": dict(c.keys), "value": c.value, "status": c.status.value, "note": c.note}
            for c in material.unconfirmed_cells
        ],
        "unconfirmed_clauses": [
            {"clause": c.citation, "name": c.name, "status": c.status.value, "note": c.note}
            for c in material.unconfirmed_clauses
        ],
    }


def edition_values(material: Material) -> dict[str, Any]:
    """Which edition was used, whether it applies to the contract, what differs between editions (null if nothing)."""
    told = dict(material.edition)
    names = {"rule_set": RULE_SET, "contract_date": CONTRACT_DATE, "standing": STANDING}
    differences = material.edition_differences
    return {
        **{name: told.get(words, "not stated") for name, words in names.items()},
        "differences": None if differences is None else table_values(differences),
    }


def table_values(table: ColumnTable) -> dict[str, Any]:
    """Return a table column by column as plain values: unit, meaning, values, reasons where one does not apply."""
    return {"rows": table.rows, "columns": {name: _column(table[name]) for name in table}}


def _column(column: Column) -> dict[str, Any]:
    """A column: unit, meaning, values with null where it does not apply, and there the reasons with their rows."""
    applies = column.applies
    values = [value if fits else None for value, fits in zip(column.data.tolist(), applies.tolist(), strict=True)]
    told: dict[str, Any] = {"unit": column.unit.symbol, "meaning": column.meaning, "values": values}
    if column.reason is not None and not bool(applies.all()):
        reasons = column.reason
        told["not_applicable"] = [
            {"reason": str(reason), "rows": np.flatnonzero(reasons == reason).tolist()}
            for reason in sorted(set(reasons[~applies].tolist()))
        ]
    return told
