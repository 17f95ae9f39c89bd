"""The printed tables as data: every cell against a second copy, its standing, and what each clause reads."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from tests.rules.baltic_traficom_2021.cases import BALTIC, CLASSES, facts, frame, panel, stringer, web

from beltwright.core.clause import Clause
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.rules.baltic_traficom_2021 import tables
from beltwright.rules.baltic_traficom_2021.coverage import unread_cells
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.members import STRINGERS, WEB_FRAMES
from beltwright.rules.baltic_traficom_2021.power import CHAINS, CLASSES_OF, outside_ranges
from beltwright.rules.baltic_traficom_2021.ship_checks import CHAIN as SHIP_CHAIN

FACTORS = ("f1", "f2", "f3", "f4", "g1", "g2", "g3", "C3", "C4", "C5")
REGIONS = ("Bow", "Midbody", "Stern")
FIXED = "fixed pitch"
OTHERS = ("controllable pitch", "electric or hydraulic")
SECOND_COPY: dict[str, dict[tuple[str, ...], Any]] = {
    "FSICR Table 3-1": {
        **{("1", drive): 2.03 for drive in OTHERS}, ("1", FIXED): 2.26,
        **{("2", drive): 1.44 for drive in OTHERS}, ("2", FIXED): 1.60,
        **{("3", drive): 1.18 for drive in OTHERS}, ("3", FIXED): 1.31,
    },
    "FSICR Table 3-2": dict(
        zip(((f,) for f in FACTORS), (23, 45.8, 14.7, 29, 1530, 170, 400, 845, 42, 825), strict=True)
    ),
    "FSICR 3.2.2 H_M": dict(zip(((c,) for c in CLASSES), (1.0, 1.0, 0.8, 0.6), strict=True)),
    "FSICR 3.2.2 least output": dict(zip(((c,) for c in CLASSES), (2800, 1000, 1000, 1000), strict=True)),
    "FSICR 3.2 ranges": {
        (quantity, end): value
        for quantity, ends in {
            "alpha": (15, 55), "phi1": (25, 90), "phi2": (10, 90), "L": (65, 250), "B": (11, 40), "T": (4, 15),
            "L_BOW/L": (0.15, 0.40), "L_PAR/L": (0.25, 0.75), "D_p/T": (0.45, 0.75), "A_wf/(L B)": (0.09, 0.27),
        }.items()
        for end, value in zip(("least", "most"), ends, strict=True)
    },
    "FSICR Table 3-3": dict(
        zip(((f,) for f in FACTORS), (10.3, 45.8, 2.94, 5.8, 1530, 170, 400, 460, 18.7, 825), strict=True)
    ),
    "FSICR 3.2.4 bow": {("no bulb", "breadth"): 1.84, ("no bulb", "girth"): 3.52, ("bulb", "breadth"): 2.89,
                        ("bulb", "girth"): 6.67},
    "FSICR 4.1.1 overlap": dict(zip(((c,) for c in CLASSES), (6, 6, 5, 5), strict=True)),
    "FSICR Table 4-1": {
        (c, q): v
        for c, i, h in zip(CLASSES, (1.0, 0.8, 0.6, 0.4), (0.35, 0.30, 0.25, 0.22), strict=True)
        for q, v in (("ice thickness", i), ("load height", h))
    },
    "FSICR Table 4-2": {
        (region, half, factor): value
        for regions, rows in ((("Bow",), (30, 230, 6, 518)), (("Midbody", "Stern"), (8, 214, 2, 286)))
        for region in regions
        for (half, factor), value in zip(itertools.product(("k <= 12", "k > 12"), "ab"), rows, strict=True)
    },
    "FSICR Table 4-3": {
        (c, region): value
        for c, row in zip(
            CLASSES, ((1.0, 1.0, 0.75), (1.0, 0.85, 0.65), (1.0, 0.7, 0.45), (1.0, 0.5, 0.25)), strict=True
        )
        for region, value in zip(REGIONS, row, strict=True)
    },
    "FSICR Table 4-4": {("shell transverse",): 1, ("shell longitudinal",): 1.7, ("transverse frame",): 1,
                        ("longitudinal frame",): 1, ("ice stringer",): 1, ("web frame",): 2},
    "FSICR Table 4-5": {
        (c, region, edge): value
        for c, row in zip(
            CLASSES,
            ((0.6, 1.2, 1.2, 1.0), (0.5, 0.9, 0.75, 0.75), (0.4, 0.7, 0.6, 0.6), (0.4, 0.7, 0.6, 0.6)),
            strict=True,
        )
        for region, below in zip(REGIONS, row[1:], strict=True)
        for edge, value in (("above", row[0]), ("below", below))
    },
    "FSICR 4.3.1 fore foot": dict(zip(((c,) for c in CLASSES), ("yes", "no", "no", "no"), strict=True)),
    "FSICR 4.3.1 upper belt": dict(zip(((c,) for c in CLASSES), (18, 18, math.inf, math.inf), strict=True)),
    "FSICR 4.3.2 t_c": {("shell",): 2},
    "FSICR Table 4-6": {
        (c, region, edge): value
        for c, row in zip(CLASSES, ((1.2, math.inf, 2.0, 1.6), *((1.0, 1.6, 1.3, 1.0),) * 3), strict=True)
        for region, below in zip(REGIONS, row[1:], strict=True)
        for edge, value in (("above", row[0]), ("below", below))
    },
    "FSICR Table 4-7": {("top wing tanks",): 7, ("tank top to one deck",): 6, ("several decks or stringers",): 5.7,
                        ("two decks only",): 5},
    "FSICR 4.4.3 m": {("continuous with brackets",): 13.3},
    "FSICR 4.4.4 tripping": {
        (c, region): "yes" if number < count else "no"
        for c, count in zip(CLASSES, (3, 2, 1, 1), strict=True)
        for number, region in enumerate(REGIONS)
    },
    "FSICR 4.4.4 and 4.7 distances": {("supports against tripping",): 1.3, ("floors behind the stem",): 0.6},
    "FSICR 4.5 p h": {("stringer or web frame",): 0.15, ("deck strip at a very long hatch",): 0.10},
    "FSICR Table 4-8": {
        (f"{number / 5:.1f}", quantity): value
        for number, row in enumerate(
            zip((1.5, 1.23, 1.16, 1.11, 1.09, 1.07, 1.06, 1.05, 1.05, 1.04, 1.04),
                (0, 0.44, 0.62, 0.71, 0.76, 0.80, 0.83, 0.85, 0.87, 0.88, 0.89), strict=True)
        )
        for quantity, value in (("A_f/A_w", number / 5), ("alpha", row[0]), ("gamma", row[1]))
    },
    "FSICR Annex II": {
        (c, half, factor): value
        for half, factor, values in (
            ("below 30000", "f4", (0.22, 0.18)), ("below 30000", "P0", (370, 0)),
            ("from 30000", "f4", (0.13, 0.11)), ("from 30000", "P0", (3070, 2100)),
        )
        for c, value in zip(("IB", "IC"), values, strict=True)
    },
    "FSICR Annex II f1": {(FIXED,): 1.0, **{(drive,): 0.9 for drive in OTHERS}},
}  # fmt: skip


def test_there_is_a_second_copy_of_every_table() -> None:
    assert [table.name for table in BALTIC.tables] == list(SECOND_COPY)
    assert BALTIC.tables == tables.TABLES


@pytest.mark.parametrize("table", tables.TABLES, ids=lambda table: table.name)
def test_every_cell_equals_the_second_copy(table: RuleTable) -> None:
    assert {place: cell.value for place, cell in table.cells.items()} == SECOND_COPY[table.name]


def test_standing_of_the_cells() -> None:
    not_read = {
        cell.where: cell.status for table in tables.TABLES for cell in table.cells.values() if not cell.status.confirmed
    }
    recalled = {where for where, status in not_read.items() if status is Status.MEMORY}
    assert {where for where, status in not_read.items() if status is not Status.MEMORY} == {
        "FSICR Table 4-5 (ice_class IA Super, region Bow, edge below)"
    }
    assert "FSICR Table 4-7 (boundary tank top to one deck)" in recalled
    assert len(recalled) == 1 + len(SECOND_COPY["FSICR 3.2 ranges"])
    for table in tables.TABLES:
        assert table.header["page"] == "not seen"
        assert table.header["read_by"]


def test_only_the_recalled_ranges_are_read_by_no_clause() -> None:
    # the cautions read them by themselves
    assert {cell.table for cell in unread_cells()} == {"FSICR 3.2 ranges"}
    assert len(unread_cells()) == 20


# What a clause says it reads


READERS = [clause for clause in DOCUMENT.clauses.values() if clause.table is not None]


@pytest.mark.parametrize("clause", READERS, ids=lambda clause: clause.name)
def test_a_clause_reads_exactly_the_cells_it_names(clause: Clause[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    assert clause.table is not None
    read: set[Cell] = set()
    look_up = RuleTable._look_up

    def recording(self: RuleTable, keys: tuple[Any, ...], dtype: type) -> Any:
        for row in np.broadcast(*keys):
            read.add(self.cell(*(str(word) for word in row)))
        return look_up(self, keys, dtype)

    monkeypatch.setattr(RuleTable, "_look_up", recording)
    by_parameter = [key for key in clause.table.keys if key in clause.parameters]
    options = [sorted({place[clause.table.keys.index(key)] for place in clause.table.cells}) for key in by_parameter]
    tried = 0
    for words in itertools.product(*options):
        keys = dict(zip(by_parameter, words, strict=True))
        named = clause.cells({**keys, **({"ice_class": "IA Super"} if "ice_class" not in keys else {})})
        read.clear()
        given = {p: np.array([keys[p]]) if p in keys else np.array([1.0]) for p in clause.parameters}
        clause(**given)
        assert read == set(named)
        tried += 1
    assert tried


# A changed cell


def results_of_areas(ice_class: str) -> list[Any]:
    found: list[Any] = []
    for speed, length in itertools.product((18.0, 18.1, 30.0), (100.0, 300.0)):
        made = BALTIC.areas(facts(ice_class=ice_class, service_speed_kn=speed, class_rule_length_m=length), ())
        found += [node.value for node in made.trace.values() if node.step is not None]
        found += [len(made.borders), [area.code for area in made.areas]]
    return found


def results_of_power(ice_class: str) -> list[Any]:
    found = []
    rows = list(itertools.product("123", ("controllable pitch", FIXED), (False, True), (4.0, 40.0), (12000.0, 50000.0)))
    count, drive, bulb, diameter, displacement = (np.array(values) for values in zip(*rows, strict=True))
    ship = facts(ice_class=ice_class, propeller_count=count, drive=drive, bulbous_bow=bulb,
                 propeller_diameter_m=diameter, displacement_upper_t=displacement)  # fmt: skip
    ship |= {name: values[:1] for name, values in ship.items() if len(values) == 2}
    for basis, chain in CHAINS.items():
        if ice_class in CLASSES_OF[basis]:
            found.append(chain.run(ship)["power_required_kw"].tolist())
    return found


def results_of_ranges(_: str) -> list[Any]:
    """Findings of ships that lie at the ends of every range."""
    found = []
    for end in ("least", "most"):
        copy = {q: v for (q, e), v in SECOND_COPY["FSICR 3.2 ranges"].items() if e == end}
        length, breadth, draught = copy["L"], copy["B"], copy["T"]
        ship = facts(
            perpendicular_length_m=length, breadth_m=breadth, draught_m=draught,
            waterline_angle_quarter_deg=copy["alpha"], stem_rake_deg=copy["phi1"],
            bow_rake_quarter_deg=copy["phi2"], bow_length_m=copy["L_BOW/L"] * length,
            parallel_length_m=copy["L_PAR/L"] * length, propeller_diameter_m=copy["D_p/T"] * draught,
            bow_waterline_area_m2=copy["A_wf/(L B)"] * length * breadth,
        )  # fmt: skip
        found.append([note.where for note in outside_ranges(ship)])
    return found


def results_of_members(ice_class: str) -> list[Any]:
    found: list[Any] = []
    for displacement in (12000.0, 200000.0):
        ship = facts(ice_class=ice_class, displacement_upper_t=displacement, approved_abrasion_mm=10.0)
        columns = BALTIC.loads(ship, BALTIC.areas(ship, ()), {}, ()).columns
        found.append({name: values.tolist() for name, values in columns.items()})
        found.append([values.tolist() for values in SHIP_CHAIN.run(ship).values()])
    codes = np.array(["B", "M", "S"])
    for omega in (0.0, 90.0):
        given: dict[str, Any] = {"ice_class": ice_class, "load_area": codes, "omega_deg": omega, "spacing_m": 0.9}
        found.append(BALTIC.plating.run(panel(**given))["thickness_required_mm"].tolist())
        for word, kind in itertools.product(SECOND_COPY["FSICR Table 4-7"], ("bulb", "tee")):
            out = BALTIC.framing.run(frame(**given, boundary=word[0], section_kind=kind))
            found += [out[c.required].tolist() for c in BALTIC.framing.checks]
    for word in SECOND_COPY["FSICR 4.5 p h"]:
        out = STRINGERS.run(stringer(ice_class=ice_class, load_area=codes, member=word[0]))
        found.append(out["line_load_mn_per_m"].tolist())
    ratios = np.linspace(0.05, 1.95, 20)
    out = WEB_FRAMES.run(
        web(ice_class=ice_class, web_frame_spacing_m=1.2, free_flange_area_cm2=400.0 * ratios, web_area_cm2=400.0)
    )
    found += [out[c.required].tolist() for c in WEB_FRAMES.checks]
    return found


RESULTS = {
    "3.2 ranges": results_of_ranges,
    **dict.fromkeys(("Table 3-1", "Table 3-2", "3.2.2 H_M", "3.2.2 least output", "Table 3-3", "3.2.4 bow", "Annex II",
                     "Annex II f1"), results_of_power),
    **dict.fromkeys(("4.1.1 overlap", "Table 4-5", "Table 4-6", "4.3.1 fore foot", "4.3.1 upper belt"),
                    results_of_areas),
}  # fmt: skip
_SEEN: dict[tuple[str, str], Any] = {}


def unchanged(table: str, ice_class: str) -> Any:
    """The results with the tables as they are, each worked out once."""
    function = RESULTS.get(table, results_of_members)
    key = (function.__name__, ice_class)
    if key not in _SEEN:
        _SEEN[key] = function(ice_class)
    return _SEEN[key]


EVERY = [(table, cell) for table in tables.TABLES for cell in dict.fromkeys(table.cells.values())]


@pytest.mark.slow
def test_a_changed_cell_changes_a_result(monkeypatch: pytest.MonkeyPatch) -> None:
    unmoved = []
    for table, cell in EVERY:
        own = dict(cell.keys).get("ice_class", "IA Super").split("|")
        if table.header["table"] in ("Annex II", "Annex II f1"):
            own = [own[0] if own[0] in ("IB", "IC") else "IB"]
        if table.header["table"] == "4.5 p h":
            own = ["IC"]  # where the least product holds
        name = table.header["table"]
        before = unchanged(name, own[0])
        places = [place for place, other in table.cells.items() if other == cell]
        moved = []
        for value in changed_values(cell):
            with monkeypatch.context() as changed:
                for place in places:
                    changed.setitem(table._cells, place, replace(cell, value=value))
                moved.append(RESULTS.get(name, results_of_members)(own[0]) != before)
            if moved[-1]:
                break
        if not any(moved):
            unmoved.append(cell.where)
    assert unmoved == []


def changed_values(cell: Cell) -> list[Any]:
    """A cell's value, changed both ways."""
    if isinstance(cell.value, str):
        return ["no" if cell.value == "yes" else "yes"]
    assert cell.value is not None
    if math.isinf(cell.value):
        return [17.0]
    return [cell.value * 1.01 + 0.001, cell.value * 0.99 - 0.001]
