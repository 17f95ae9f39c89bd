"""Routes: the index against a slow loop of its own, the tables by hand, and every fault of a table by its line."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.rules.polaris_imo_2016.tables import CLASSES, DECAYED_VALUES, ICE_TYPES, STANDARD_VALUES
from beltwright.voyage import codes, index, regime_file, regime_study, study
from beltwright.voyage.index import least_of_bands, regime_index, risk_values
from beltwright.voyage.regime_file import has_dates, read_regime_list, read_route

HEAD = "date,point,ice_free_tenths,medium_first_year_tenths,thick_first_year_tenths"
PLACED = "date,point,latitude_deg,longitude_deg,ice_free_tenths,thick_first_year_tenths"


def written(folder: Path, text: str) -> Path:
    path = folder / "route.csv"
    path.write_text(text, encoding="utf-8")
    return path


def refused(*_: object, **__: object) -> None:
    raise PermissionError(13, "not for you")


def random_table(seed: int, dates: int, points: int, missing: float) -> str:
    """A table of random regimes in random order, with random flags and some rows left out."""
    rng = np.random.default_rng(seed)
    names = [f"{name}_tenths" for name in ICE_TYPES]
    rows = []
    for k in range(dates):
        for point in range(points):
            if rng.random() >= missing or (k == 0 and point == 0):
                tenths = rng.multinomial(10, rng.dirichlet(np.ones(12)))
                flags = ["yes" if rng.random() < 0.2 else "no" for _ in range(2)]
                day = np.datetime64("2031-11-20") + 9 * k
                rows.append(",".join([str(day), f"P{point}", *map(str, tenths), *flags]))
    order = rng.permutation(len(rows))
    header = ",".join(["date", "point", *names, "decay_confirmed", "escort_planned"])
    return header + "\n" + "\n".join(rows[k] for k in order) + "\n"


def slow(path: Path) -> dict[tuple[str, str, str], list[int]]:
    """A second way: each row by itself, cell by cell of the printed tables, listed by class, kind and date or point."""
    found: dict[tuple[str, str, str], list[int]] = defaultdict(list)
    with path.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            table = DECAYED_VALUES if row["decay_confirmed"] == "yes" else STANDARD_VALUES
            for ice_class in CLASSES:
                total = 0
                for name in ICE_TYPES:
                    total += int(row[f"{name}_tenths"]) * int(table.cells[ice_class, name].value)
                if row["escort_planned"] == "yes":
                    total += 10
                found[ice_class, "date", row["date"]].append(total)
                found[ice_class, "point", row["point"]].append(total)
    return found


@pytest.mark.parametrize(("seed", "at_once"), [(1, 5_000), (2, 7)])
def test_sums_of_a_random_route_equal_a_slow_loop(
    seed: int, at_once: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exactly, by date and by point, with gaps; also when a date does not fit into one go, or the file not in one."""
    monkeypatch.setattr(index, "REGIMES_AT_ONCE", at_once)
    monkeypatch.setattr(regime_file, "BYTES_AT_ONCE", 500 * at_once)
    path = written(tmp_path, random_table(seed, dates=16, points=23, missing=0.1))
    expected = slow(path)
    made = study(path)
    for kind, table in (("date", made.tables["route_dates"]), ("point", made.tables["route_points"])):
        assert table.rows == len({key for key in expected if key[1] == kind})
        for k in range(table.rows):
            row = table.row(k)
            numbers = expected[row["ice_class"], kind, row[kind]]
            assert row["regimes"] == len(numbers)
            assert row["lowest_index"] == min(numbers)
            assert row["mean_index"] == sum(numbers) / len(numbers)
            bands = [sum(n >= 0 for n in numbers), sum(-10 <= n < 0 for n in numbers), sum(n < -10 for n in numbers)]
            if not row["ice_class"].startswith("PC"):
                bands = [bands[0], 0, bands[1] + bands[2]]
            shares = [row["share_normal"], row["share_elevated"], row["share_special"]]
            assert shares == [count / len(numbers) for count in bands]
    totals = made.index.date_total.sum(axis=1).tolist()
    assert totals == [sum(sum(n) for key, n in expected.items() if key[:2] == (c, "date")) for c in CLASSES]
    assert made.index.point_total.sum(axis=1).tolist() == totals


def test_classes_and_months_are_the_sums_of_the_dates(tmp_path: Path) -> None:
    made = study(written(tmp_path, random_table(3, dates=16, points=11, missing=0.0)))
    dates, months, classes = (made.tables[f"route_{name}"] for name in ("dates", "months", "classes"))
    for ice_class in CLASSES:
        (whole,) = (classes.row(k) for k in range(classes.rows) if classes.labels("ice_class")[k] == ice_class)
        mine = [row for k in range(dates.rows) if (row := dates.row(k))["ice_class"] == ice_class]
        assert whole["dates"] == len(mine) == 16
        assert whole["dates_all_normal"] == sum(row["share_normal"] == 1.0 for row in mine)
        assert whole["dates_no_special"] == sum(row["share_special"] == 0.0 for row in mine)
        assert whole["lowest_index"] == min(row["lowest_index"] for row in mine)
        parts = [row for k in range(months.rows) if (row := months.row(k))["ice_class"] == ice_class]
        assert [row["month"] for row in parts] == [1, 2, 3, 4, 11, 12]
        assert sum(row["regimes"] for row in parts) == whole["regimes"] == 16 * 11
        for share in ("share_normal", "share_elevated", "share_special"):
            assert sum(row[share] * row["regimes"] for row in parts) == pytest.approx(whole[share] * whole["regimes"])
        for row in parts:
            days = [one for one in mine if int(str(one["date"])[5:7]) == row["month"]]
            assert row["dates"] == len(days)
            assert row["dates_all_normal"] == sum(one["share_normal"] == 1.0 for one in days)
            assert row["lowest_index"] == min(one["lowest_index"] for one in days)


def test_published_worked_values_as_a_route_by_hand(tmp_path: Path) -> None:
    # 9/10 medium and 1/10 thick first-year ice: PC5 +9, PC6 -1, PC7 -11, IA Super -11, IA -21; open water +30
    text = f"{HEAD}\n2031-02-01,A,0,9,1\n2031-02-01,B,10,0,0\n2031-03-01,A,10,0,0\n2031-03-01,B,10,0,0\n"
    made = study(written(tmp_path, text), ice_class="PC6")
    rows = {row["ice_class"]: row for k in range(12) if (row := made.tables["route_classes"].row(k))}
    lowest = {name: rows[name]["lowest_index"] for name in ("PC4", "PC5", "PC6", "PC7", "IA Super", "IA")}
    assert lowest == {"PC4": 19, "PC5": 9, "PC6": -1, "PC7": -11, "IA Super": -11, "IA": -21}
    assert rows["PC6"]["mean_index"] == (-1 + 3 * 30) / 4
    assert (rows["PC6"]["share_elevated"], rows["PC6"]["share_special"]) == (0.25, 0.0)
    assert (rows["PC6"]["dates_all_normal"], rows["PC6"]["dates_no_special"]) == (1, 2)
    assert (rows["PC7"]["dates_all_normal"], rows["PC7"]["dates_no_special"]) == (1, 1)
    assert [rows[name]["limiting_speed_kn"] for name in ("PC5", "PC6", "PC7", "IA")] == [None, 3.0, None, None]
    speeds = made.tables["route_classes"]["limiting_speed_kn"]
    assert speeds.reason is not None
    assert [speeds.reason[CLASSES.index(name)] for name in ("PC5", "PC6", "IA")] == [
        "no elevated operational risk here", "", "Table 1.1 gives this class no elevated band",
    ]  # fmt: skip
    dates = made.tables["route_dates"]
    words = dict(
        zip(
            zip(dates.labels("ice_class"), dates.labels("date"), strict=True),
            dates.labels("worst_operation"),
            strict=True,
        )
    )
    assert words["PC6", "2031-02-01"] == "elevated operational risk"
    assert words["PC7", "2031-02-01"] == "special consideration"
    assert words["PC7", "2031-03-01"] == "normal operation"


@pytest.mark.parametrize(
    ("ice_class", "expected"),
    [("PC5", []), ("PC6", ["BW863"]), ("PC7", ["BW864"]), ("IA", ["BW864"]), ("", [])],
)
def test_findings_of_the_ships_own_class(ice_class: str, expected: list[str], tmp_path: Path) -> None:
    text = f"{HEAD}\n2031-02-01,A,0,9,1\n2031-02-01,B,10,0,0\n"
    found = study(written(tmp_path, text), ice_class=ice_class).findings
    assert [finding.kind.code for finding in found] == ["BW860", *expected]
    if expected == ["BW863"]:
        assert "PC6: 50 % of the point-days, on 1 of 1 dates; lowest index -1 on 2031-02-01; at most 3 kn" in str(
            found[1]
        )


def test_findings_of_decay_escort_and_gaps(tmp_path: Path) -> None:
    text = f"{HEAD},decay_confirmed,escort_planned\n2031-02-01,A,0,9,1,yes,no\n2031-03-01,B,0,9,1,no,YES\n"
    made = study(written(tmp_path, text))
    assert [f.kind for f in made.findings] == [
        codes.DECISION_SUPPORT, codes.DECAYED_VALUES, codes.ESCORT_PLANNED, codes.INCOMPLETE_ROUTE,
    ]  # fmt: skip
    assert "2 point-days are not given, at 2 points" in str(made.findings[-1])
    # PC7: decayed 9 x 0 + 1 x -1 = -1; escorted -11 + 10 = -1
    assert made.index.date_lowest[CLASSES.index("PC7")].tolist() == [-1, -1]


def test_decay_and_escort_are_never_assumed(tmp_path: Path) -> None:
    bare = f"{HEAD}\n2031-07-01,A,0,9,1\n"
    blank = f"{HEAD},decay_confirmed,escort_planned\n2031-07-01,A,0,9,1,,\n"
    for text in (bare, blank):
        route = read_route(written(tmp_path, text))
        assert not route.decay_confirmed.any()
        assert not route.escort_planned.any()


def test_the_unconfirmed_values_are_those_that_were_read(tmp_path: Path) -> None:
    def read(flags: str) -> set[str]:
        path = written(tmp_path, f"{HEAD},decay_confirmed,escort_planned\n2031-02-01,A,0,9,1,{flags}\n")
        return {cell.table.removeprefix("POLARIS ") for cell in study(path).cells}

    always = {"Table 1.1", "Table 1.2"}
    assert read("no,no") == always | {"Table 1.3"}
    assert read("yes,no") == always | {"Table 1.4"}
    assert read("no,yes") == always | {"Table 1.3", "1.6.4"}


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("2031-02-01,A,1,9,1", "line 4: concentrations do not add up to ten, ice-free water included; found 11 tenths"),
        ("2031-02-01,A,0,8,1", "line 4: concentrations do not add up to ten, ice-free water included; found 9 tenths"),
        ("2031-02-01,A,-1,10,1", "line 4: ice_free_tenths: is negative; found -1 tenths"),
        ("2031-02-01,A,0,11,-1", "line 4: medium_first_year_tenths: is no whole number of tenths up to ten; found 11"),
        ("2031-02-01,A,0.5,9,0.5", "line 4: ice_free_tenths: is no whole number of tenths up to ten; found 0.5"),
        ("2031-02-01,A,nan,9,1", "line 4: ice_free_tenths: is no whole number of tenths"),
        ("2031-02-01,A,inf,9,1", "line 4: ice_free_tenths: is no whole number of tenths"),
        ("2031-02-01,A,many,9,1", "line 4: ice_free_tenths: is not a number; found many"),
        ("2031-02-01,A,,9,1", "line 4: ice_free_tenths: is not a number; found blank"),
        ("2031-02-30,A,0,9,1", "line 4: date: is no date of the form YYYY-MM-DD; found 2031-02-30"),
        ("01.02.2031,A,0,9,1", "line 4: date: is no date of the form YYYY-MM-DD; found 01.02.2031"),
        ("2031-02-011,A,0,9,1", "line 4: date: is no date of the form YYYY-MM-DD; found 2031-02-011"),
        (",A,0,9,1", "line 4: date: is no date of the form YYYY-MM-DD; found blank"),
        ("2031-02-01, ,0,9,1", "line 4: point: must have 1 to 59 characters; found blank"),
        (f"2031-02-01,{'x' * 60},0,9,1", "line 4: point: must have 1 to 59 characters; found xxx"),
        ("2031-02-01,A,0,9", "line 4: wrong number of fields; found 4; allowed: 5"),
        ("2031-02-01,A,0,9,1,no", "line 4: wrong number of fields; found 6; allowed: 5"),
        ("2031-01-01,B,0,9,1", "line 4: point B on 2031-01-01 stands in line 2 already"),
    ],
)
def test_faults_are_named_by_line_and_column(row: str, message: str, tmp_path: Path) -> None:
    """Line 1 is the header, line 3 a comment: the faulty row is in line 4 of the file."""
    path = written(tmp_path, f"{HEAD}\n2031-01-01,B,10,0,0\n# winter\n{row}\n")
    with pytest.raises(InputError) as caught:
        study(path)
    assert str(caught.value).startswith(f"route.csv: {message}")


@pytest.mark.parametrize(
    ("header", "message"),
    [
        ("date,point,slush_tenths", "no such ice type; found slush_tenths; allowed: date, point, latitude_deg"),
        ("date,point,ice_free_tenths,wind_m_s", "no such column; found wind_m_s"),
        ("date,ice_free_tenths", "columns are missing; found point"),
        ("point,ice_free_tenths", "columns are missing; found date"),
        ("date,point,point,ice_free_tenths", "a column is there twice; found point"),
        ("date,point,latitude_deg,ice_free_tenths", "latitude and longitude come together or not at all"),
        ("date,point,decay_confirmed", "there is no ice type"),
        ("date,point,ice_free_tenths,", "no such column; found blank"),
    ],
)
def test_faults_of_the_header(header: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        study(written(tmp_path, f"{header}\n"))
    assert str(caught.value).startswith(f"route.csv: header: {message}")


def test_flags_must_be_yes_or_no(tmp_path: Path) -> None:
    for column in ("decay_confirmed", "escort_planned"):
        path = written(tmp_path, f"{HEAD},{column}\n2031-01-01,A,10,0,0,no\n2031-01-01,B,10,0,0,perhaps\n")
        with pytest.raises(InputError, match=f"line 3: {column}: is neither yes nor no; found perhaps"):
            study(path)


def test_places_are_kept_and_may_not_move(tmp_path: Path) -> None:
    rows = "2031-01-01,A,70.5,-12,10,0\n2031-01-01,B,71,-13,10,0\n2031-02-01,A,70.5,-12,10,0\n"
    made = study(written(tmp_path, f"{PLACED}\n{rows}"))
    points = made.tables["route_points"]
    assert points.values("latitude_deg")[:2].tolist() == [70.5, 71.0]
    assert points.values("longitude_deg")[-2:].tolist() == [-12.0, -13.0]
    with pytest.raises(
        InputError, match="line 5: latitude_deg, longitude_deg: the point has another place in an earlier"
    ):
        study(written(tmp_path, f"{PLACED}\n{rows}2031-02-01,B,71.001,-13,10,0\n"))
    for place, column in (("90.1,0", "latitude_deg"), ("0,360.1", "longitude_deg"), ("nan,0", "latitude_deg")):
        with pytest.raises(InputError, match=f"line 2: {column}: lies outside the globe"):
            study(written(tmp_path, f"{PLACED}\n2031-01-01,A,{place},10,0\n"))
    without = study(written(tmp_path, f"{HEAD}\n2031-01-01,A,10,0,0\n")).tables["route_points"]["latitude_deg"]
    assert set(without.reason) == {"not given"}


def test_files_that_are_no_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        study(tmp_path / "none.csv")
    with pytest.raises(InputError, match="is not a regular file"):
        study(tmp_path)
    with pytest.raises(InputError, match="has no header line"):
        study(written(tmp_path, "# nothing\n\n"))
    with pytest.raises(InputError, match="has no rows"):
        study(written(tmp_path, f"{HEAD}\n\n# nothing\n"))
    with pytest.raises(InputError, match="lines 2 to 3: cannot be read as a table"):
        study(written(tmp_path, f"{HEAD}\n2031-01-01,A,10,0,0\n2031-01-01,B,1_0,0,0\n"))
    (tmp_path / "binary.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="is not UTF-8 text"):
        study(tmp_path / "binary.csv")
    (tmp_path / "late.csv").write_bytes(f"{HEAD}\n".encode() + 20_000 * b"# far from the header\n" + b"\xff\n")
    with pytest.raises(InputError, match="is not UTF-8 text"):
        study(tmp_path / "late.csv")
    path = written(tmp_path, f"{HEAD}\n")
    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", refused)
        with pytest.raises(InputError, match="cannot be read: not for you"):
            study(path)
    monkeypatch.setattr(regime_file, "LARGEST_FILE_BYTES", 10)
    with pytest.raises(InputError, match="is too large"):
        study(written(tmp_path, f"{HEAD}\n"))


def test_too_many_points_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(regime_file, "MOST_POINTS", 1)
    with pytest.raises(InputError, match="too many points; allowed: at most 1"):
        study(written(tmp_path, f"{HEAD}\n2031-01-01,A,10,0,0\n2031-01-01,B,10,0,0\n"))


def test_an_unknown_class_is_refused_before_the_file_is_read() -> None:
    with pytest.raises(InputError, match="POLARIS has no such class; found PC8; allowed: PC1"):
        study(Path("none.csv"), ice_class="PC8")


def test_spreadsheet_habits_are_read(tmp_path: Path) -> None:
    """A byte order mark, Windows line ends, quotes, blanks around words, 9.0 for 9, no newline at the end."""
    path = tmp_path / "route.csv"
    path.write_bytes(f'\ufeff{HEAD}\r\n2031-02-01,"A 1",0,9.0,1\r\n 2031-03-01 , A 1 ,10,0,0'.encode())
    route = read_route(path)
    assert route.points.tolist() == ["A 1"]
    assert route.dates.astype(str).tolist() == ["2031-02-01", "2031-03-01"]
    assert route.tenths[:, 0].tolist() == [0, 0, 0, 0, 0, 0, 0, 9, 1, 0, 0, 0]


def test_regimes_by_name(tmp_path: Path) -> None:
    head = "regime,medium_first_year_tenths,thick_first_year_tenths,ice_free_tenths,decay_confirmed"
    path = written(tmp_path, f"{head}\nclose,9,1,0,no\nclose in decay,9,1,0,yes\nopen water,0,0,10,no\n")
    assert not has_dates(path)
    made = regime_study(path)
    table = made.tables["regimes"]
    rows = {(row["regime"], row["ice_class"]): row for k in range(table.rows) if (row := table.row(k))}
    assert [rows["close", name]["index"] for name in ("PC4", "PC6", "IA")] == [19, -1, -21]
    assert [rows["close in decay", name]["index"] for name in ("PC4", "PC6", "IA")] == [19, 9, -11]
    assert rows["close", "PC6"]["limiting_speed_kn"] == 3.0
    assert rows["close", "IA"]["operation"] == "special consideration"
    assert {rows["open water", name]["index"] for name in CLASSES} == {30}
    assert [f.kind.code for f in made.findings] == ["BW860", "BW861"]
    assert len(read_regime_list(path).names) == 3
    with pytest.raises(InputError, match="line 3: regime: is there already; found close"):
        regime_study(written(tmp_path, f"{head}\nclose,9,1,0,no\nclose,0,0,10,no\n"))


def test_the_bands_come_from_the_rule_and_eight_bits_hold_the_values(monkeypatch: pytest.MonkeyPatch) -> None:
    assert least_of_bands() == (0, -10)
    assert risk_values(False).dtype == np.int8
    risk_values.cache_clear()
    monkeypatch.setattr(index, "risk_value", lambda **_: np.full((12, 12), 0.5))
    with pytest.raises(ValueError, match="no whole number"):
        risk_values(False)
    least_of_bands.cache_clear()
    monkeypatch.setattr(
        index, "index_band", lambda *, risk_index_outcome: np.where(risk_index_outcome > 0, "low", "high")
    )
    with pytest.raises(ValueError, match="not in order"):
        least_of_bands()
    risk_values.cache_clear()
    least_of_bands.cache_clear()


@given(st.lists(st.integers(0, 11), min_size=10, max_size=10), st.integers(0, 9), st.integers(1, 11), st.booleans())
def test_thicker_ice_never_raises_any_index(types: list[int], place: int, step: int, decayed: bool) -> None:
    """But for the one cell of Table 1.4 where PC6 gains: thin first-year ice exchanged for medium below 1 m."""
    thicker = [*types[:place], min(types[place] + step, 11), *types[place + 1 :]]
    tenths = np.array([[chosen.count(k) for chosen in (types, thicker)] for k in range(12)], dtype=np.int8)
    before, after = regime_index(tenths, np.array([decayed] * 2), np.zeros(2, dtype=bool)).T
    rises = (after > before).nonzero()[0].tolist()
    across = decayed and (types[place], thicker[place]) == (5, 6)
    assert rises == ([CLASSES.index("PC6")] if across else [])


def test_the_table_for_an_escort_is_the_rule_and_refuses_what_does_not_fit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten more for every index that ten tenths can give (1.6.4); a rise that eight bits do not hold is an error."""
    table = index.index_with_escort()
    least = 10 * min(int(risk_values(decayed).min()) for decayed in (False, True))
    most = 10 * max(int(risk_values(decayed).max()) for decayed in (False, True))
    for value in range(least, most + 1):
        assert table[np.array([value], dtype=np.int8).view(np.uint8)[0]] == value + 10
    monkeypatch.setattr(index, "planning_index", lambda risk_index_outcome, escort_planned: risk_index_outcome + 0.5)
    with pytest.raises(ValueError, match="no whole number of eight bits"):
        index.index_with_escort.__wrapped__()
