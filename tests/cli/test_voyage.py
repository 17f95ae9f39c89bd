"""The commands ``route`` and ``cold``: outputs that bear their mark, exit status, one line for bad input."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path

import pytest
from tests.app.test_results import ship_folder
from tests.scantlings import ships

from beltwright import Project
from beltwright.app.voyage import study_route
from beltwright.cli import main as command_line
from beltwright.core.errors import ExitCode
from beltwright.report.decision_support import STANDING
from beltwright.voyage.study import RouteStudy

HEAD = "date,point,ice_free_tenths,medium_first_year_tenths,escort_planned"
DECKS = {"decks": [{"name": "main deck", "area_m2": 300.0, "x_m": 20.0, "z_m": 6.0}],
         "sides": [{"name": "side", "area_m2": 80.0, "x_m": 22.0, "z_m": 5.0}]}  # fmt: skip


def run(monkeypatch: pytest.MonkeyPatch, *arguments: object) -> int:
    """Run the command line in this process and return its exit status."""
    monkeypatch.setattr(sys, "argv", ["beltwright", *map(str, arguments)])
    with pytest.raises(SystemExit) as end:
        command_line.main()
    return int(end.value.code or 0)


def route_file(folder: Path) -> Path:
    """Two points on three dates. Medium first-year ice 10/10 gives PC7 -10, PC6 0; half of it open water adds 15."""
    path = folder / "leg.csv"
    path.write_text(
        "\n".join([HEAD, "2031-01-15,A,0,10,no", "2031-01-15,B,10,0,no", "2031-02-15,A,0,10,no", "2031-02-15,B,5,5,no",
                   "2031-07-15,A,10,0,no", "2031-07-15,B,10,0,yes"]),
        "utf-8",
    )  # fmt: skip
    return path


def rows_of(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))


def test_a_route_says_where_how_often_and_how_fast(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """kind: hand. PC7 in medium first-year ice has risk value -1, so 10 tenths give -10: elevated, at most 3 kn."""
    path = route_file(tmp_path)
    assert run(monkeypatch, "route", path, "--class", "PC7") == ExitCode.MET
    out = capsys.readouterr().out
    for words in (
        "2 points, 3 dates, 6 regimes", "Decision support only", "elevated operational risk",
        "operation subject to special consideration", "1 of 6 regimes are planned under escort: there 10 is added",
        "PC7: 33.3 % of the point-days, on 2 of 3 dates; lowest index -10 on 2031-01-15; at most 3 kn",
        "not confirmed from the printed page",
    ):  # fmt: skip
        assert words in out
    study_folder = tmp_path / "leg-study"
    row = next(row for row in rows_of(study_folder / "route_classes.csv") if row["ice_class"] == "PC7")
    assert {name: float(row[name]) for name in ("share_normal", "share_elevated", "share_special")} == pytest.approx(
        {"share_normal": 4 / 6, "share_elevated": 2 / 6, "share_special": 0.0}
    )
    assert [row[name] for name in ("points", "points_all_normal", "points_no_special")] == ["2", "1", "2"]
    assert float(row["limiting_speed_kn"]) == 3.0
    plain = json.loads((study_folder / "route.json").read_text("utf-8"))
    assert plain["standing"] == STANDING
    assert plain["asked"] == {"file": "leg.csv", "ice_class": "PC7", "season": None, "escort_everywhere": False}
    made = study_route(path, ice_class="PC7")
    assert isinstance(made, RouteStudy)
    for name, table in made.tables.items():
        assert plain["tables"][name]["rows"] == table.rows
        assert {row["standing"] for row in rows_of(study_folder / f"{name}.csv")} == {STANDING}


def test_season_and_escort_change_the_study(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """kind: hand. A season over the new year leaves July out; an escort adds 10, so that -10 becomes 0: normal."""
    path = route_file(tmp_path)
    assert run(monkeypatch, "route", path, "--from", "11-01", "--to", "01-31", "--escort") == ExitCode.MET
    assert "2 of 2 regimes are planned under escort" in capsys.readouterr().out
    rows = {row["ice_class"]: row for row in rows_of(tmp_path / "leg-study" / "route_classes.csv")}
    assert rows["PC7"]["lowest_index"] == "0"
    assert rows["PC7"]["regimes"] == "2"
    assert float(rows["PC7"]["share_normal"]) == 1.0


def test_small_shares_do_not_read_as_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One regime of 300 in ice that IC cannot take reads <1, not 0; so many points are not shown one by one."""
    path = tmp_path / "many.csv"
    lines = [f"2031-01-15,P{k},10,0,no" for k in range(299)]
    path.write_text("\n".join([HEAD, *lines, "2031-01-15,Q,0,10,no"]), "utf-8")
    assert run(monkeypatch, "route", path) == ExitCode.MET
    out = capsys.readouterr().out
    assert ">99/0/<1" in out
    assert "The 300 points one by one stand in route_points.csv." in out


def test_regimes_without_dates_are_told_one_by_one(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "route", root / "examples/voyage/regimes.csv", "--results", tmp_path / "out") == 0
    out = capsys.readouterr().out
    assert "4 ice regimes" in out
    assert "Recommended limit of speed at elevated operational risk: PC6 3 kn, PC7 3 kn" in out
    assert {path.name for path in (tmp_path / "out").glob("*.*") if path.stem} >= {"regimes.csv", "regimes.json"}


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--class", "PC9"), "POLARIS has no such class"),
        (("--from", "01-15"), "one end is missing"),
        (("--from", "13-01", "--to", "02-01"), "is no day of the year"),
        (("--from", "04-01", "--to", "05-01"), "no date of the route lies in the season"),
        (("--class", "PC4", "--ship", "somewhere"), "allowed: --ship or --class"),
    ],
)
def test_bad_questions_on_a_route_are_one_line(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: tuple[str, ...],
    told: str,
) -> None:
    assert run(monkeypatch, "route", route_file(tmp_path), *arguments) == ExitCode.BAD_INPUT
    error = capsys.readouterr().err
    assert told in error
    assert error.count("\n") == 1
    assert not (tmp_path / "leg-study").exists()


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("2031-01-15,C,4,4,no", "line 8: concentrations do not add up to ten"),
        ("2031-01-15,A,4,6,no", "line 8: point A on 2031-01-15 stands in line 2 already"),
        ("2031-01-15,C,4,six,no", "line 8: medium_first_year_tenths: is not a number; found six"),
    ],
)
def test_bad_rows_of_a_route_are_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], line: str, told: str
) -> None:
    path = route_file(tmp_path)
    path.write_text(path.read_text("utf-8") + "\n" + line, "utf-8")
    assert run(monkeypatch, "route", path) == ExitCode.BAD_INPUT
    assert told in capsys.readouterr().err


def test_a_list_without_dates_has_no_season(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "route", root / "examples/voyage/regimes.csv", "--escort") == ExitCode.BAD_INPUT
    assert "season and escort are for a route" in capsys.readouterr().err


@pytest.mark.parametrize(("temperature", "status"), [(-36.7, ExitCode.MET), (-36.69, ExitCode.NOT_MET)])
def test_cold_without_a_ship(
    temperature: float,
    status: ExitCode,
    root: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The demo's lowest mean daily low is -26.70 degC on 3 February; ten degrees below is the limit."""
    file = root / "examples/voyage/daily_lows.csv"
    assert run(monkeypatch, "cold", file, "--service-temperature", temperature, "--results", tmp_path / "out") == status
    out = capsys.readouterr().out
    assert "lowest mean daily low temperature −26.70 °C on 02-03" in out
    assert "that makes her a ship for low air temperature" in out
    assert ("NOT MET" in out) is (status is ExitCode.NOT_MET)
    plain = json.loads((tmp_path / "out" / "cold.json").read_text("utf-8"))
    assert plain["margin"]["met"] is (status is ExitCode.MET)
    assert plain["icing"] is None
    assert rows_of(tmp_path / "out" / "cold_places.csv")[0]["standing"] == STANDING


@pytest.mark.slow
def test_cold_with_a_ship_tells_icing_and_ice_damage(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """kind: hand. 300 m2 x 30 kg/m2 + 2 x 1.05 x 80 m2 x 7.5 kg/m2 = 9.00 + 1.26 = 10.26 t."""
    cold = {"polar_service_temperature_degc": -30.0}
    folder = ship_folder(tmp_path / "ship", lambda d: d.update(icing=DECKS, cold=cold))
    file = root / "examples/voyage/daily_lows.csv"
    assert run(monkeypatch, "cold", file, "--ship", folder, "--results", tmp_path / "out") == ExitCode.NOT_MET
    out = capsys.readouterr().out
    assert "ice 10.26 t" in out
    assert "category that usually goes with the class: A" in out
    plain = json.loads((tmp_path / "out" / "cold.json").read_text("utf-8"))
    project = Project(folder)
    assert plain["icing"]["mass_t"] == pytest.approx(10.26)
    assert project.icing is not None
    assert project.icing.mass_t == plain["icing"]["mass_t"]
    damage = project.ice_damage()
    assert plain["ice_damage"]["waterline_length_m"] == damage.waterline_length_m
    lengths = [float(row["length_m"]) for row in rows_of(tmp_path / "out" / "ice_damage.csv")]
    assert lengths == pytest.approx([0.045 * damage.waterline_length_m, 0.015 * damage.waterline_length_m])
    status = run(monkeypatch, "cold", file, "--ship", folder, "--service-temperature", "-40")
    assert status == ExitCode.BAD_INPUT
    assert "cold.polar_service_temperature_degc" in capsys.readouterr().err


def test_a_short_record_is_refused_with_the_way_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "lows.csv"
    path.write_text("date,daily_low_degc\n2021-01-01,-20\n2022-01-01,-24\n", "utf-8")
    season = ("--from", "01-01", "--to", "01-01")
    assert run(monkeypatch, "cold", path, *season) == ExitCode.OUT_OF_SCOPE
    assert "accepted_data_reason" in capsys.readouterr().err
    reason = ("--accepted-data-reason", "Two winters of a buoy, accepted by the flag")
    assert run(monkeypatch, "cold", path, *season, *reason) == ExitCode.MET
    out = capsys.readouterr().out
    assert "−22.00 °C on 01-01" in out
    assert "Two winters of a buoy" in out


def test_the_projects_study_is_of_the_ships_own_class(tmp_path: Path, root: Path) -> None:
    folder = ship_folder(tmp_path / "ship", lambda d: d["ice"].update(ice_class="PC7"))
    made = Project(folder).study_route(root / "examples/voyage/route.csv")
    assert any(one.message.startswith("PC7: ") for one in made.findings)
    assert Project(folder).icing is None


def test_the_small_ship_is_as_before_without_surfaces() -> None:
    """A ship that names no surface has no allowance and no word of it in any document."""
    from beltwright.report.from_design import material_of
    from beltwright.report.result_json import result_text
    from beltwright.weights.steel import steel_weight

    design = ships.baseline()
    weight = steel_weight(design)
    assert weight.icing is None
    material = material_of(design, weight, "0" * 64)
    told = json.loads(result_text(material))
    assert "icing" not in told
    assert "icing" not in told["weight"]


def test_a_season_without_a_route_and_wrong_tables_are_one_line(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Tables of regimes are read before the hull: a slip is told at once."""
    folder, voyage = ship_folder(tmp_path / "ship"), root / "examples/voyage"
    for arguments, told in (
        (("--from", "01-01", "--to", "02-01"), "a season is for a route"),
        (("--route", voyage / "regimes.csv"), "is no route"),
        (("--regimes", voyage / "route.csv"), "is a route"),
        (("--route", voyage / "none.csv"), "there is no such file"),
        (("--base", "PC9"), "--base: no such class; found PC9; allowed: PC1"),
        (("--costs", voyage / "none.csv"), "there is no such file"),
        (("--costs", voyage / "route.csv"), "route.csv: the header lacks '# currency:'"),
    ):
        assert run(monkeypatch, "choose", folder, *arguments) == ExitCode.BAD_INPUT
        error = capsys.readouterr().err
        assert told in error
        assert not (folder / "choice").exists()


@pytest.mark.slow
def test_the_choice_of_class_from_the_command_line(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, costs = ship_folder(tmp_path / "ship"), tmp_path / "mine.csv"
    costs.write_text("# currency: EUR\nitem,grade,amount,unit,source\nbending,,0,per m2 and mm,mine\n", "utf-8")
    route = root / "examples/voyage/route.csv"
    assert run(monkeypatch, "choose", folder, "--route", route, "--base", "PC6", "--costs", costs) == ExitCode.MET
    out = capsys.readouterr().out
    assert "compared with PC6" in out
    bending = {row["ice_class"]: row["plating_bending"] for row in rows_of(folder / "choice" / "choice_costs.csv")}
    assert bending["PC4"] == bending["PC7"] == "0"
    assert "bending,,0,per m2 and mm" in (folder / "choice" / "prices.csv").read_text("utf-8")
    assert "choice of class (own class PC4 of polar_iacs_2019;" in out
    assert "Nothing here is equal in strength" in out
    names = {row["ice_class"] for row in rows_of(folder / "choice" / "choice.csv")}
    assert {"PC1", "PC7", "IA Super", "IC"} <= names
    plain = json.loads((folder / "choice" / "choice.json").read_text("utf-8"))
    assert plain["own_class"] == {"rules": "polar_iacs_2019", "ice_class": "PC4"}
    assert (folder / "choice" / "choice.pdf").is_file()
