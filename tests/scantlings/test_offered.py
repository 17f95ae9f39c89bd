"""A submitted list against the rule: a clean one is clean, planted slips are all found and none invented."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from tests.scantlings import ships
from tests.scantlings.demo import EXAMPLES, project
from tests.scantlings.submissions import Row, group_rows, member_rows, text_of

from beltwright.scantlings.design import Design
from beltwright.scantlings.offered import OfferedCheck, check_offered
from beltwright.scantlings.submitted import parse_submission

THIN, SHEAR, MODULUS, STABILITY, GRADE_UNKNOWN, GRADE_WEAKER = (f"BW{n}" for n in range(710, 716))
SPACING, SPAN, AREA, REQUIRED, NET, CLASS, EDITION, WATERLINE = (f"BW{n}" for n in range(716, 724))
NO_ROW, NOT_ON_SHIP, CONTRADICTING, REPEATED, SECTION, UNIT, CELL, NOTHING, NOTE, HOPELESS, BEYOND, BELOW = (
    f"BW{n}" for n in range(724, 736)
)
STATED_SHEAR, STATED_MODULUS = "BW736", "BW737"
FRAME_FAILS = {SHEAR, MODULUS, STABILITY}
STATED_SECTION = {STATED_SHEAR, STATED_MODULUS, "BW729"}


def checked(rows: list[Row], design: Design | None = None) -> OfferedCheck:
    return check_offered(design or ships.baseline(), parse_submission(text_of(rows), "list.csv"))


@cache
def _clean() -> tuple[Row, ...]:
    return tuple(member_rows(ships.baseline()))


def clean() -> list[Row]:
    """A fresh copy of the list that is as it should be."""
    return [dict(row) for row in _clean()]


def found(check: OfferedCheck) -> set[tuple[int, str]]:
    return {(one.line, one.kind.code) for one in check.discrepancies}


def line(rows: list[Row], row: Row) -> int:
    """The row's line in the file: behind the header, counted from 1."""
    return next(k for k, one in enumerate(rows) if one is row) + 2


def row_of(rows: list[Row], kind: str, **wanted: str) -> Row:
    return next(row for row in rows if row["kind"] == kind and all(row.get(k) == v for k, v in wanted.items()))


@pytest.mark.parametrize("make", [member_rows, group_rows])
def test_a_clean_list_gives_no_discrepancy(make: Callable[[Design], list[Row]]) -> None:
    design = ships.baseline()
    check = checked(make(design))
    assert check.clean
    assert check.discrepancies == ()
    for table, run, base in ((check.plates, design.plating_run, design.plating), (check.frames, design.framing_run,
                                                                                   design.frames)):  # fmt: skip
        outcome = table.labels("outcome")
        assert set(outcome[run.members]) == {"met"}
        assert "met" not in set(np.delete(outcome, run.members))
        # the same chains: the same ratio to the last bit
        assert table["ratio"].data[run.members].tolist() == base["ratio"].data[run.members].tolist()


def test_one_plate_by_hand() -> None:
    """kind: hand. Transverse frames: t_net = 500 s sqrt(AF PPF P / sigma) / (1 + s / (2 b)) with b the smaller of patch
    height and a - s/4."""
    rows = clean()
    row = row_of(rows, "plate", member="F20/L3")  # frames stand across: Omega 87 degrees
    row |= {"thickness_mm": "14", "stated_net_mm": "", "grade": "EH40"}
    check = checked(rows)
    p = check.plates.labels("id").tolist().index(row["member"])
    told = ships.baseline().plating
    s, a = told["spacing_m"].data[p], told["span_m"].data[p]
    factor, peak, pressure = (told[n].data[p] for n in ("area_factor", "peak_pressure_factor", "pressure_avg_mpa"))
    b = min(told["patch_height_m"].data[p], a - s / 4.0)
    net = 500.0 * s * math.sqrt(factor * peak * pressure / 390.0) / (1.0 + s / (2.0 * b))
    need = net + told["addition_mm"].data[p]
    assert check.plates["thickness_required_mm"].data[p] == pytest.approx(need, rel=1e-12)
    assert check.plates["thickness_offered_mm"].data[p] == 14.0
    assert check.plates["thickness_net_offered_mm"].data[p] == pytest.approx(14.0 - told["addition_mm"].data[p])
    assert check.plates["ratio"].data[p] == pytest.approx(need / 14.0, rel=1e-7)
    assert check.plates["margin_mm"].data[p] == pytest.approx(14.0 - need, abs=1e-6)
    assert check.plates["margin_percent"].data[p] == pytest.approx(100.0 * (14.0 - need) / need, abs=1e-4)
    assert check.plates.labels("clause")[p] == "UR I2 I2.4.1"


def test_one_frame_by_hand() -> None:
    """kind: hand. A tee T250x15+90x15 less 1.0 mm; the web leans less than 15 degrees: upright; ends fixed.

    A_w = (h_w + t_fn) t_wn / 100; the plate outweighs the frame: Z_p = A_pn t_pn / 20 + h_w^2 t_wn / 2000 +
    A_fn h_fc / 10 with A_pn the net area of web and flange; A_t = 100^2 0.5 LL s p / (0.577 sigma);
    Z_pt = 100^3 LL Y s p a A_1 / (4 sigma)
    with p = AF PPF P, Y = 1 - 0.5 LL / a, A_1 the larger of A_1A and A_1B at a_1 = A_t / A_w.
    """
    rows = clean()
    row = row_of(rows, "frame", member="F20/L3")
    row["section"] = "T250x15+90x15"
    check = checked(rows)
    f = check.frames.labels("id").tolist().index(row["member"])
    values, place = check.framing.values, check.framing.row_of(f)
    assert place is not None

    def of(name: str) -> float:
        column = np.asarray(values[name])
        return float(column[0] if len(column) == 1 else column[place])

    s, a, b = of("spacing_m"), of("span_m"), of("other_patch_height_m")
    assert of("web_angle_deg") > 75.0
    p = of("area_factor") * max(1.8 - s, 1.2) * of("other_pressure_mpa")  # no stringer spreads the load
    net_plate, hw, tw, bf, tf = of("plate_net_fitted_mm"), 250.0, 14.0, 90.0, 14.0
    aw, afn = (hw + tf) * tw / 100.0, bf * tf / 100.0
    area = hw * tw / 100.0 + afn
    assert 10.0 * net_plate * s > area
    zp = area * net_plate / 20.0 + hw**2 * tw / 2000.0 + afn * (hw + tf / 2.0) / 10.0
    ll = min(a, b)
    at = 100.0**2 * 0.5 * ll * s * p / (0.577 * 355.0)
    y, a1, j, kw = 1.0 - 0.5 * ll / a, at / aw, 2.0, 1.0 / (1.0 + 2.0 * afn / aw)
    own = (bf * tf**2 / 4.0 + 500.0 * s * net_plate**2 / 4.0) / 1000.0
    a1a = 1.0 / (1.0 + j / 2.0 + kw * j / 2.0 * (math.sqrt(1.0 - a1**2) - 1.0))
    a1b = (1.0 - 1.0 / (2.0 * a1 * y)) / (0.275 + 1.44 * (own / zp) ** 0.7)
    zpt = 100.0**3 * ll * y * s * p * a * max(a1a, a1b) / (4.0 * 355.0)
    for column, value in (
        ("shear_area_required_cm2", at), ("shear_area_offered_cm2", aw),
        ("modulus_required_cm3", zpt), ("modulus_offered_cm3", zp),
        ("ratio_shear_area", at / aw), ("ratio_plastic_modulus", zpt / zp),
    ):  # fmt: skip
        assert check.frames[column].data[f] == pytest.approx(value, rel=1e-9), column
    assert check.frames["ratio"].data[f] >= max(at / aw, zpt / zp) - 1e-12


def test_a_frame_short_in_shear_has_no_required_modulus() -> None:
    """F20/L3 is a transverse frame: with a web of 4 mm net a_1 is above 1, and only the shear area says how far."""
    rows = clean()
    row = row_of(rows, "frame", member="F20/L3")
    row["section"] = "FB150x5"
    check = checked(rows)
    f = check.frames.labels("id").tolist().index(row["member"])
    need, have = (check.frames[f"shear_area_{word}_cm2"].data[f] for word in ("required", "offered"))
    assert need > have
    for name in ("modulus_required_cm3", "ratio_plastic_modulus"):
        column = check.frames[name]
        assert math.isnan(column.data[f])
        assert column.reason is not None
        assert column.reason[f] == "no value: shear utilisation (a_1, longitudinal a_4) above 1"
    assert check.frames["ratio_shear_area"].data[f] == pytest.approx(need / have)
    assert check.frames.labels("outcome")[f] == "not met"
    told = [one.message for one in check.discrepancies if one.kind.code == MODULUS]
    # hand: FB150x4 net on 18 mm net plate: 6 cm2 x 18/20 + 150^2 x 4/2000 = 5.4 + 45.0
    assert told == [
        "plastic modulus, 1 of 1; worst F20/L3: 50.4 offered (no value: shear utilisation (a_1, longitudinal a_4) "
        "above 1), UR I2 I2.5.10"
    ]


@pytest.mark.parametrize(
    ("column", "model", "unit"), [("stated_shear_area_cm2", 31.46, "cm2"), ("stated_modulus_cm3", 681.7, "cm3")]
)
def test_stated_properties_of_a_section_are_held_against_the_model(column: str, model: float, unit: str) -> None:
    """kind: hand. T275x12+75x12 less 1 mm, upright: A_w = (275 + 11) x 11/100 = 31.46 cm2. On t_pn net plate Z_p =
    (30.25 + 8.25) t_pn/20 + 275^2 x 11/2000 + 8.25 x 280.5/10 = 1.925 t_pn + 415.94 + 231.41 cm3.

    One per cent may be rounded away; beyond it, or in another unit, it is told.
    """
    rows = clean()
    row = row_of(rows, "frame", member="F20/L3", section="T275x12+75x12")
    f = checked(rows).frames.labels("id").tolist().index("F20/L3")
    values = checked(rows).framing
    place = values.row_of(f)
    assert place is not None
    if unit == "cm3":
        model = 1.925 * float(values.values["plate_net_fitted_mm"][place]) + 415.938 + 231.413
    for share, codes in ((0.991, set()), (1.009, set()), (0.989, {column}), (1.011, {column})):
        row[column] = f"{model * share:.4f}"
        told = [one for one in checked(rows).discrepancies if one.line == line(rows, row)]
        assert {one.kind.code for one in told} == (
            {STATED_SHEAR if unit == "cm2" else STATED_MODULUS} if codes else set()
        )
    row[column] = f"{model * (100.0 if unit == 'cm2' else 1000.0):.1f}"
    (told_unit,) = [one for one in checked(rows).discrepancies if one.line == line(rows, row)]
    assert told_unit.kind.code == UNIT
    assert f"looks like {'mm2' if unit == 'cm2' else 'mm3'}" in told_unit.message


def test_of_two_rows_on_one_frame_only_the_one_that_counts_is_compared() -> None:
    rows = clean()
    weak = row_of(rows, "frame", member="F20/L3")
    strong = {
        **weak,
        "mark": "again",
        "section": "T500x20+150x20",
        "stated_shear_area_cm2": "97.9",
        "stated_modulus_cm3": "",
    }
    rows.append(strong)
    told = {(one.line, one.kind.code) for one in checked(rows).discrepancies}
    assert not {code for _, code in told} & {STATED_SHEAR, STATED_MODULUS}
    assert CONTRADICTING in {code for _, code in told}


# ---- planted slips ------------------------------------------------------------------------------------------------


def thin(row: Row, rng: random.Random) -> set[str]:
    less = rng.uniform(0.3, 2.0)
    value = float(row["stated_required_mm"]) - less
    addition = float(row["thickness_mm"]) - float(row["stated_net_mm"])
    row |= {"thickness_mm": f"{value:.2f}", "stated_net_mm": f"{value - addition:.2f}"}
    return {THIN}


def thickness(row: Row, rng: random.Random) -> set[str]:
    value = float(row["thickness_mm"])
    what = rng.choice(["thin", "cm", "m", "in", "comma", "unit", "word", "blank"])
    if what == "thin":
        return thin(row, rng)
    row["thickness_mm"] = {
        "cm": f"{value / 10:g}", "m": f"{value / 1000:g}", "in": f"{value / 25.4:.3f}", "unit": f"{value:g} mm",
        "word": "as rule", "blank": "",
        "comma": f"{value:.1f}".replace(".", ","),
    }[what]  # fmt: skip
    return {NOTHING} if what == "blank" else {UNIT} if what in ("cm", "m", "in") else {CELL}


def section(row: Row, rng: random.Random) -> set[str]:
    row["section"] = rng.choice(["FB80x6", "HP80x6", "HP245x11", "T30x1.6+10x1.9", "stout", ""])
    if row["section"] in ("FB80x6", "HP80x6"):
        return FRAME_FAILS | STATED_SECTION  # the drawing goes on stating the numbers of the section it had
    return {"": {NOTHING}, "T30x1.6+10x1.9": {UNIT}}.get(row["section"], {SECTION})


def grade(row: Row, rng: random.Random) -> set[str]:
    row["grade"] = rng.choice(["DH36", "AH36", "XH36", "steel"])
    return {GRADE_WEAKER, BELOW} if row["grade"] in ("DH36", "AH36") else {GRADE_UNKNOWN}


def kind(row: Row, rng: random.Random) -> set[str]:
    row["kind"] = rng.choice(["plat", "stringer", ""])
    return {CELL}


def member(row: Row, rng: random.Random) -> set[str]:
    row["member"] = rng.choice(["F999/L1", "nowhere", row["member"] + "9"])
    return {NOT_ON_SHIP}


def beside(column: str, value: str) -> Callable[[Row, random.Random], set[str]]:
    def plant(row: Row, rng: random.Random) -> set[str]:
        row[column] = value
        return {CELL}

    return plant


def factor(column: str, code: str) -> Callable[[Row, random.Random], set[str]]:
    def plant(row: Row, rng: random.Random) -> set[str]:
        value, slip = float(row[column]), rng.choice(["less", "more", "unit", "comma"])
        if slip == "unit":
            of = {"m": 1000.0, "mm": 0.1, "cm2": 100.0, "cm3": 1000.0}[column.rsplit("_", 1)[-1]]
            row[column] = f"{value * of:.3f}"
            return {UNIT}
        if slip == "comma":
            row[column] = f"{value:.1f}".replace(".", ",")
            return {CELL}
        row[column] = f"{value * (0.8 if slip == 'less' else 1.3):.3f}"
        return {code}

    return plant


def word(column: str, values: tuple[str, ...], code: str) -> Callable[[Row, random.Random], set[str]]:
    def plant(row: Row, rng: random.Random) -> set[str]:
        row[column] = rng.choice([value for value in values if value != row[column]])
        return {code}

    return plant


def waterline(column: str) -> Callable[[Row, random.Random], set[str]]:
    def plant(row: Row, rng: random.Random) -> set[str]:
        row[column] = f"{float(row[column]) + rng.choice([-1, 1]) * rng.uniform(0.07, 0.5):.3f}"
        return {WATERLINE}

    return plant


PLATE_ONLY = {"thickness_mm": thickness, "stated_required_mm": factor("stated_required_mm", REQUIRED),
              "stated_net_mm": factor("stated_net_mm", NET)}  # fmt: skip
FRAME_ONLY = {
    "section": section,
    "stated_shear_area_cm2": factor("stated_shear_area_cm2", STATED_SHEAR),
    "stated_modulus_cm3": factor("stated_modulus_cm3", STATED_MODULUS),
}
BOTH = {
    "kind": kind,
    "member": member,
    "hull_area": beside("hull_area", "B"),
    "zone": beside("zone", "side"),
    "from_frame": beside("from_frame", "10"),
    "to_frame": beside("to_frame", "20"),
    "from_level": beside("from_level", "deck"),
    "to_level": beside("to_level", "deck"),
    "grade": grade,
    "stated_hull_area": word("stated_hull_area", ("B", "Mi", "Sl", "BIi"), AREA),
    "stated_spacing_m": factor("stated_spacing_m", SPACING),
    "stated_span_m": factor("stated_span_m", SPAN),
    "stated_class": word("stated_class", ("PC3", "PC5", "IA Super"), CLASS),
    "stated_edition": word("stated_edition", ("UR I2 Rev.3", "UR I2", "2007"), EDITION),
    "stated_upper_m": waterline("stated_upper_m"),
    "stated_lower_m": waterline("stated_lower_m"),
}


def test_the_generator_covers_every_field() -> None:
    """Of the columns only the mark is free: no mark is wrong."""
    assert {*PLATE_ONLY, *FRAME_ONLY, *BOTH, "mark"} == set(text_of([]).strip().split(","))


def plant_five_fixed(rows: list[Row], rng: random.Random) -> tuple[list[tuple[Row, set[str]]], set[str]]:
    """A plate too thin, one in cm, a row left out, another hull area, a frame that fails in shear."""
    some = rng.sample([row for row in rows if row["kind"] == "plate"], 3)
    bars = rng.sample([row for row in rows if row["kind"] == "frame"], 2)
    planted = [(some[0], thin(some[0], rng))]
    some[1]["thickness_mm"] = f"{float(some[1]['thickness_mm']) / 10:g}"
    planted.append((some[1], {UNIT}))
    planted.append((some[2], BOTH["stated_hull_area"](some[2], rng)))
    bars[0]["section"] = "FB100x6"
    planted.append((bars[0], FRAME_FAILS | STATED_SECTION))
    rows.remove(bars[1])
    return planted, {f"frame {bars[1]['member']}"}


def plant_drawn(rows: list[Row], rng: random.Random, taken: list[Row]) -> tuple[list[tuple[Row, set[str]]], set[str]]:
    """Five slips in fields drawn from all of them, in rows that have none yet."""
    planted: list[tuple[Row, set[str]]] = []
    lost: set[str] = set()
    for column in rng.sample(sorted({**PLATE_ONLY, **FRAME_ONLY, **BOTH}), 5):
        of = "plate" if column in PLATE_ONLY else "frame" if column in FRAME_ONLY else rng.choice(["plate", "frame"])
        busy = [*taken, *(row for row, _ in planted)]
        row = rng.choice([one for one in rows if one["kind"] == of and not any(one is b for b in busy)])
        name = f"{of} {row['member']}"
        planted.append((row, {**PLATE_ONLY, **FRAME_ONLY, **BOTH}[column](row, rng)))
        if column in ("kind", "member"):
            lost.add(name)
    return planted, lost


@pytest.mark.parametrize("seed", [1, 2, 3, 4, *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(5, 25))])
def test_ten_planted_slips_are_found_and_none_invented(seed: int) -> None:
    rng = random.Random(seed)
    rows = clean()
    planted, lost = plant_five_fixed(rows, rng)
    drawn, more = plant_drawn(rows, rng, [row for row, _ in planted])
    planted, lost = planted + drawn, lost | more
    check = checked(rows)
    assert not check.clean
    by_line = {line(rows, row): codes for row, codes in planted}
    told = found(check)
    for number, codes in by_line.items():
        assert {code for n, code in told if n == number} & codes, (number, rows[number - 2], codes)
    # nothing else, but what follows: members that lost their row, frames that stand on a plate planted thinner
    bare = {f"{word} {name}" for word, table in (("plate", check.plates), ("frame", check.frames))
            for name in table.labels("id")[table.labels("outcome") == "no row"]}  # fmt: skip
    assert bare == lost
    assert ((0, NO_ROW) in told) is bool(lost)
    beside_thin = standing_on(check, [row["member"] for row, codes in planted if codes == {THIN}])
    for number, code in told - {(0, NO_ROW)}:
        if number in by_line:
            assert code in by_line[number], (rows[number - 2], code)
        else:
            assert code in FRAME_FAILS | {STATED_MODULUS}  # the plate is part of the modulus
            assert rows[number - 2]["member"] in beside_thin


def standing_on(check: OfferedCheck, plates: list[str]) -> set[str]:
    """The frame spans beside some plates."""
    measured, ids = ships.baseline().arrangement.frames, check.plates.labels("id").tolist()
    panels = [ids.index(name) for name in plates]
    rows = np.isin(measured["panel_one"].data, panels) | np.isin(measured["panel_other"].data, panels)
    return set(measured.labels("id")[rows].tolist())


# ---- one kind at a time -------------------------------------------------------------------------------------------


def test_a_section_that_fails_in_shear_is_a_failed_check_with_a_reason() -> None:
    """a_1 > 1: no number is missing, none is NaN; the row says shear, its clause and what it lacks."""
    rows = clean()
    row = row_of(rows, "frame", stated_hull_area="Mi")
    row["section"] = "FB150x8"
    check = checked(rows)
    f = check.frames.labels("id").tolist().index(row["member"])
    assert check.frames["ratio_shear_area"].data[f] > 1.0
    assert check.frames.labels("outcome")[f] == "not met"
    assert math.isfinite(check.frames["ratio"].data[f])
    told = [one for one in check.discrepancies if one.kind.code == SHEAR]
    assert [one.line for one in told] == [line(rows, row)]
    assert "shear area, 1 of 1; worst" in told[0].message
    assert "UR I2 I2.5.10" in told[0].message


@pytest.mark.parametrize(
    "name",
    ["HP340x14", "FB300x30", "L250x90x12/16", "L300x90x13/17", "L300x18+100x20", "T350x18+120x20", "hp 340 x 14"],
)
def test_every_kind_of_section_goes_through(name: str) -> None:
    """Bulb flat, flat bar, angles rolled and built, tee: numbers for every check, none missing."""
    rows = clean()
    row = row_of(rows, "frame", stated_hull_area="Mi")
    row["section"] = name
    check = checked(rows)
    f = check.frames.labels("id").tolist().index(row["member"])
    assert check.frames.labels("outcome")[f] in ("met", "not met")
    for column, data in check.frames.items():
        if data.data.dtype.kind == "f":
            assert math.isfinite(data.data[f]), column
    assert not [one for one in check.discrepancies if one.kind.code in (SECTION, UNIT)]


def test_rows_on_one_member() -> None:
    """Twice the same is told; a thicker and a thinner one contradict each other and the thinner is judged."""
    rows = clean()
    row = row_of(rows, "plate", stated_hull_area="Mi")
    same = dict(row)
    thicker = {"kind": "plate", "mark": "insert", "member": row["member"], "thickness_mm": "60", "grade": row["grade"]}
    rows += [same, thicker]
    check = checked(rows)
    assert found(check) == {(len(rows), REPEATED), (len(rows) + 1, CONTRADICTING)}
    p = check.plates.labels("id").tolist().index(row["member"])
    assert check.plates["thickness_offered_mm"].data[p] == float(row["thickness_mm"])
    thinner = {**thicker, "thickness_mm": "8"}
    check = checked([*clean(), thinner])
    assert check.plates["thickness_offered_mm"].data[p] == 8.0
    assert (len(_clean()) + 2, CONTRADICTING) in found(check)
    assert (len(_clean()) + 2, THIN) in found(check)


def test_two_rows_of_which_neither_can_be_used() -> None:
    """Both are told; the message does not say that one of them is judged."""
    rows = [row for row in clean() if row["kind"] == "frame"]
    base = {"kind": "plate", "hull_area": "Mi"}
    pair = [{**base, "thickness_mm": "20", "grade": "XX"}, {**base, "thickness_mm": "25", "grade": "YY"}]
    check = checked([*rows, *pair])
    told = [one.message for one in check.discrepancies if one.kind.code == CONTRADICTING]
    assert told
    assert all(message.endswith("neither is usable") for message in told)
    assert "met" not in check.plates.labels("outcome")[check.plates["row"].data > 0]


def test_rows_that_name_nothing_or_nobody_here() -> None:
    design = ships.baseline()
    webs = design.arrangement.frames.labels("role") == "web frame"
    web = str(design.arrangement.frames.labels("id")[webs][0])
    base = {"kind": "frame", "section": "HP240x11"}
    for row, code, told in (
        ({**base, "member": web}, NOTE, "web frames or floors"),
        ({**base, "zone": "nowhere"}, NOT_ON_SHIP, "no such zone; there are side, bottom"),
        ({**base, "from_level": "attic"}, NOT_ON_SHIP, "no such level"),
        ({**base, "hull_area": "Q"}, NOT_ON_SHIP, "no frame lies there"),
        (base, NOT_ON_SHIP, "neither member nor hull area"),
        ({**base, "from_frame": "5000"}, CELL, "out of range"),
    ):
        check = checked([*clean(), row])
        assert found(check) == {(len(_clean()) + 2, code)}
        assert told in check.discrepancies[0].message
        assert check.clean is (code == NOTE)  # a note does not stand against the drawing


def test_a_list_without_frames_says_so_once() -> None:
    check = checked([row for row in clean() if row["kind"] == "plate"])
    assert found(check) == {(0, NO_ROW)}
    assert len(check.discrepancies) == 1
    assert f"asks something of {len(ships.baseline().framing_run.members)}" in check.discrepancies[0].message


def test_frames_stand_on_the_submitted_plates() -> None:
    """Thicker plates raise the frames' offered modulus; without plate rows the design's plates stand in, and that is
    said."""
    thick = clean()
    for row in thick:
        if row["kind"] == "plate":
            row |= {"thickness_mm": "40", "stated_net_mm": ""}
    more, base = checked(thick), checked(clean())
    members = ships.baseline().framing_run.members
    assert (more.frames["modulus_offered_cm3"].data[members] > base.frames["modulus_offered_cm3"].data[members]).all()
    assert set(base.frames.labels("plates_from")[members]) <= {"submitted", "submitted and design"}
    alone = checked([row for row in clean() if row["kind"] == "frame"])
    assert set(alone.frames.labels("plates_from")[members]) == {"design"}
    assert (alone.frames["ratio"].data[members] == base.frames["ratio"].data[members]).all()


def test_minus_tolerance_is_taken_off_where_the_ship_adds_it() -> None:
    """kind: hand. 0.3 mm by W13: a plate 0.2 mm above its requirement is met as such, and 0.1 mm short with it."""
    added = ships.redesigned(lambda doc: doc.update(stock={"under_tolerance": "added"}))
    rows = clean()
    row = row_of(rows, "plate", stated_hull_area="Mi")
    p = added.plating.labels("id").tolist().index(row["member"])
    need = float(added.plating["thickness_required_mm"].data[p])
    row |= {"thickness_mm": f"{need + 0.2:.4f}", "stated_net_mm": ""}
    assert (line(rows, row), THIN) not in found(checked(rows))
    check = checked(rows, added)
    assert (line(rows, row), THIN) in found(check)
    assert check.plates["margin_mm"].data[p] == pytest.approx(-0.1, abs=1e-4)
    assert check.plates["minus_tolerance_mm"].data[p] == 0.3


def test_strong_steel_and_unlisted_angles_are_told() -> None:
    rows = clean()
    row_of(rows, "frame", stated_hull_area="Mi").update(section="L333x99x17/19")
    row_of(rows, "plate", stated_hull_area="Mi").update(grade="EH47", stated_required_mm="")
    told = {finding.kind.code for finding in checked(rows).findings}
    assert "BW301" in told


def test_a_loose_end_in_the_ice_belt_cannot_be_met() -> None:
    design = ships.designed(lambda doc: doc["zones"][0].update(upper_end={"fixed": False}))
    check = checked(group_rows(design), design)
    told = [one for one in check.discrepancies if one.kind.code == HOPELESS]
    assert told
    assert not check.clean


def test_no_number_is_missing_without_a_reason() -> None:
    rows = clean()
    rows[3]["thickness_mm"] = "2.2"
    rows.pop(40)
    check = checked(rows)
    for table in (check.plates, check.frames):
        for name, column in table.items():
            if column.data.dtype.kind == "f":
                assert column.reason is not None
                assert (np.isfinite(column.data) | (column.reason != "")).all(), name


@pytest.mark.slow
def test_the_example_list_is_clean() -> None:
    """The demo ship's list, as the documentation shows it."""
    text = (EXAMPLES / "quillan-frostmark" / "submitted.csv").read_text("utf-8")
    check = check_offered(project("quillan-frostmark").results.design, parse_submission(text, "submitted.csv"))
    assert [str(one) for one in check.discrepancies] == []
    assert check.clean


# Grades against the rule


def everywhere(rows: list[Row], grade: str) -> list[Row]:
    return [{**row, "grade": grade} for row in rows]


def test_a_list_and_a_ship_in_one_weak_grade_are_held_against_the_rule() -> None:
    """AH36 throughout agrees with a ship.toml in AH36, and still falls short wherever the design's own grades do."""
    design = ships.redesigned(lambda doc: doc.update(steel={"plate_grade": "AH36", "frame_grade": "AH36"}))
    assert design.grades is not None
    rows = everywhere(member_rows(design), "AH36")
    check = checked(rows, design)
    kinds = {code for _, code in found(check)}
    assert kinds == {BELOW}  # no weaker grade than ship.toml's, nothing else invented
    assert not check.clean
    wanted = design.grades.labels("outcome")
    for table, part in ((check.plates, wanted[: design.plating.rows]), (check.frames, wanted[design.plating.rows :])):
        judged = table["row"].data > 0
        assert (table.labels("grade_outcome")[judged] == part[judged]).all()
        assert (table.labels("outcome")[judged & (part == "not met")] == "not met").all()
        assert set(table.labels("grade_outcome")[~judged]) <= {"not checked"}


@pytest.mark.parametrize(("thickness", "told"), [(50.0, False), (50.5, True), (60.0, True)])
def test_a_plate_above_the_tables_has_no_grade(thickness: float, told: bool) -> None:
    """The tables end at 50 mm as built: FH36 serves a plate of 50 mm here and none serves one of 50.5 mm."""
    rows = clean()
    row = row_of(rows, "plate", member="F20/L3")
    row |= {"thickness_mm": f"{thickness:g}", "stated_net_mm": "", "grade": "FH36"}
    check = checked(rows)
    assert ((line(rows, row), BELOW) in found(check)) == told
    place = check.plates.labels("id").tolist().index("F20/L3")
    assert (check.plates.labels("outcome")[place] == "met") == (not told)
    assert check.plates.labels("governing")[place] == ("steel grade" if told else "thickness")
    if told:
        assert check.plates.labels("grade_demanded")[place] == "no grade"
        assert "no grade" in next(one.message for one in check.discrepancies if one.kind.code == BELOW)
