"""Cold: from a table of daily lows to the polar service temperature, and every fault of the table by its line."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season
from beltwright.voyage import codes, cold_study, temperature_file


def written(folder: Path, text: str) -> Path:
    path = folder / "lows.csv"
    path.write_text(text, encoding="utf-8")
    return path


def refused(*_: object, **__: object) -> None:
    raise PermissionError(13, "not for you")


def record(years: int, low: float = -5.0, changed: dict[str, float] | None = None, place: str = "") -> list[str]:
    """Rows of every day from 2031 on, some of them changed; NaN leaves the day out."""
    first, last = date(2031, 1, 1), date(2031 + years, 1, 1)
    changed = changed or {}
    days = [str(first + timedelta(days=k)) for k in range((last - first).days)]
    rows = [(day, changed.get(day, changed.get(day[5:], low))) for day in days]
    return [f"{day},{value}{place and ',' + place}" for day, value in rows if value == value]


def table(rows: list[str], place: str = "") -> str:
    return f"date,daily_low_degc{place}\n" + "\n".join(rows) + "\n"


def test_lowest_mean_and_service_temperature_by_hand(tmp_path: Path) -> None:
    # every 2 February -25, all else -5: lowest -25, service temperature at most -35
    path = written(tmp_path, table(record(10, changed={"02-02": -25.0})))
    found = cold_study(path)
    assert (found.lowest_mean_daily_low_degc, found.day, found.place) == (-25.0, "02-02", "")
    assert found.highest_service_temperature_degc == -35.0
    assert found.low_air_temperature
    assert found.check is None
    assert [f.kind for f in found.findings] == [codes.LOW_AIR_TEMPERATURE]
    assert {cell.table for cell in found.cells} == {"Polar Code 1.2.9", "Polar Code 1.2.11 and 1.2.12"}
    summer = cold_study(path, season=Season(first="06-01", last="10-31"))
    assert summer.lowest_mean_daily_low_degc == -5.0
    assert not summer.low_air_temperature
    assert summer.findings == ()
    days = found.tables["cold_days"]
    assert days.rows == 365
    assert days.row(32) == {
        "place": "", "day": "02-02", "daily_lows": 10, "mean_daily_low_degc": -25.0, "in_season": True,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("declared", "ok"), [(-34.9, False), (-35.0, True), (-35.1, True), (-25.0, False), (0.0, False)]
)
def test_declared_service_temperature_from_both_sides(declared: float, ok: bool, tmp_path: Path) -> None:
    path = written(tmp_path, table(record(10, changed={"02-02": -25.0})))
    found = cold_study(path, declared_service_temperature_degc=declared)
    assert found.check is not None
    assert found.check.ok == ok
    assert found.check.offered == pytest.approx(-25.0 - declared, abs=1e-9)
    assert (codes.SERVICE_TEMPERATURE in [f.kind for f in found.findings]) == (not ok)


def test_the_last_digits_of_a_sum_do_not_decide(tmp_path: Path) -> None:
    """The mean of -0.1 to -1.0 and so on is no round binary number; the margin of ten is met all the same."""
    changed = {f"{2031 + k}-02-02": -26.7 + 0.1 * (k - 4.5) for k in range(10)}
    found = cold_study(written(tmp_path, table(record(10, changed=changed))), declared_service_temperature_degc=-36.7)
    assert found.check is not None
    assert found.check.ok


def test_several_places_the_coldest_governs(tmp_path: Path) -> None:
    rows = record(10, low=-12.0, place="Skerry") + record(10, low=-15.0, place="Inner bay")
    found = cold_study(written(tmp_path, table(rows, ",place")))
    assert (found.place, found.lowest_mean_daily_low_degc) == ("Inner bay", -15.0)
    places = found.tables["cold_places"]
    assert places.labels("place").tolist() == ["Skerry", "Inner bay"]
    assert places.values("lowest_mean_daily_low_degc").tolist() == [-12.0, -15.0]
    assert places.values("highest_service_temperature_degc").tolist() == [-22.0, -25.0]
    assert found.tables["cold_days"].rows == 730
    assert found.findings[0].where == "lows.csv: Inner bay"


def test_a_short_record_needs_a_written_reason(tmp_path: Path) -> None:
    path = written(tmp_path, table(record(9)))
    for reason in ("", "  "):
        with pytest.raises(ScopeError, match="no day of the season has more than 9 readings, 10 are needed"):
            cold_study(path, accepted_data_reason=reason)
    found = cold_study(path, accepted_data_reason="reanalysis accepted by the flag")
    assert [f.kind for f in found.findings] == [codes.SHORT_RECORD]
    assert "accepted because: reanalysis accepted by the flag" in str(found.findings[0])


def test_gaps_are_told(tmp_path: Path) -> None:
    path = written(tmp_path, table(record(10, changed={"2034-02-02": float("nan"), "2036-07-01": float("nan")})))
    found = cold_study(path)
    assert [f.kind for f in found.findings] == [codes.GAPS]
    assert (
        "2 days of the season are missing; 2 days of the year have fewer than ten readings, fewest 9 on 02-02"
        in str(found.findings[0])
    )
    assert cold_study(path, season=Season(first="03-01", last="06-30")).findings == ()


def test_a_record_that_ends_within_a_year_is_short_on_some_days(tmp_path: Path) -> None:
    """Ten years less the last half: nothing is missing, yet the days after June have nine readings."""
    rows = [row for row in record(10) if row < "2040-07-01"]
    found = cold_study(written(tmp_path, table(rows)))
    assert [f.kind for f in found.findings] == [codes.GAPS]
    assert "0 days of the season are missing; 184 days of the year have fewer" in str(found.findings[0])


def test_a_colder_leap_day_is_told(tmp_path: Path) -> None:
    found = cold_study(written(tmp_path, table(record(10, changed={"02-29": -30.0}))))
    assert found.lowest_mean_daily_low_degc == -5.0
    assert [f.kind for f in found.findings] == [codes.COLDER_LEAP_DAY]


def test_a_day_out_of_season_may_be_unrecorded(tmp_path: Path) -> None:
    path = written(tmp_path, table(record(10, changed={"12-24": float("nan")})))
    with pytest.raises(InputError, match="no reading in any year; found 12-24"):
        cold_study(path)
    days = cold_study(path, season=Season(first="05-01", last="09-30")).tables["cold_days"]["mean_daily_low_degc"]
    assert days.reason is not None
    assert days.reason[357] == "never recorded"


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("2031-13-01,-5", "line 4: date: is no date of the form YYYY-MM-DD; found 2031-13-01"),
        ("2031-01-02,cold", "line 4: daily_low_degc: is not a number; found cold degC"),
        ("2031-01-02,", "line 4: daily_low_degc: is not a number; found blank degC"),
        ("2031-01-02,nan", "line 4: daily_low_degc: is not a number; found nan degC"),
        ("2031-01-02,-95.1", "line 4: daily_low_degc: is no air temperature; found -95.1 degC"),
        ("2031-01-02,263.2", "line 4: daily_low_degc: is no air temperature; found 263.2 degC; allowed: -95 to 60"),
        ("2031-01-01,-6", "line 4: the day is given already; found 2031-01-01"),
        ("2031-01-02,-5,x", "line 4: wrong number of fields; found 3; allowed: 2"),
    ],
)
def test_faults_are_named_by_line_and_column(row: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        cold_study(written(tmp_path, f"# lows\ndate,daily_low_degc\n2031-01-01,-5\n{row}\n"))
    assert str(caught.value).startswith(f"lows.csv: {message}")


def test_files_that_are_no_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        cold_study(tmp_path / "none.csv")
    with pytest.raises(InputError, match="is not a regular file"):
        cold_study(tmp_path)
    with pytest.raises(InputError, match="has no header line"):
        cold_study(written(tmp_path, "# nothing\n"))
    with pytest.raises(InputError, match="header: other columns than these; found date, temperature"):
        cold_study(written(tmp_path, "date,temperature\n"))
    with pytest.raises(InputError, match="the table has no rows"):
        cold_study(written(tmp_path, "date,daily_low_degc\n"))
    with pytest.raises(InputError, match="line 2: place: must have 1 to 59 characters; found blank"):
        cold_study(written(tmp_path, "date,daily_low_degc,place\n2031-01-01,-5, \n"))
    (tmp_path / "binary.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="is not UTF-8 text"):
        cold_study(tmp_path / "binary.csv")
    path = written(tmp_path, "date,daily_low_degc\n")
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_text", refused)
        with pytest.raises(InputError, match="cannot be read: not for you"):
            cold_study(path)
    monkeypatch.setattr(temperature_file, "LARGEST_FILE_BYTES", 10)
    with pytest.raises(InputError, match="is too large"):
        cold_study(written(tmp_path, "date,daily_low_degc\n"))
