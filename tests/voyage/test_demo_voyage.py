"""The demo voyage: its files are what the tool makes, and its studies say what a plain loop says."""

from __future__ import annotations

from pathlib import Path

import pytest

import make_demo_voyage
from beltwright.rules.polaris_imo_2016.tables import CLASSES
from beltwright.voyage import cold_study, regime_study, study
from beltwright.voyage.regime_file import has_dates


@pytest.mark.parametrize("name", make_demo_voyage.FILES)
def test_the_files_are_what_the_tool_makes(name: str, root: Path) -> None:
    path = root / "examples" / "voyage" / name
    assert path.read_text("utf-8") == make_demo_voyage.FILES[name]()
    assert path.stat().st_size < 200_000


def test_the_demo_is_written_where_it_is_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(make_demo_voyage, "FOLDER", tmp_path / "voyage")
    assert make_demo_voyage.main() == 0
    assert {path.name for path in (tmp_path / "voyage").iterdir()} == set(make_demo_voyage.FILES)


def test_the_demo_route_tells_classes_apart(root: Path) -> None:
    made = study(root / "examples" / "voyage" / "route.csv", ice_class="PC6")
    table = made.tables["route_classes"]
    assert table.values("regimes").tolist() == [480] * 12
    shares = table.values("share_normal").tolist()
    assert shares[0] == 1.0
    assert shares[: CLASSES.index("IA Super")] == sorted(shares[: CLASSES.index("IA Super")], reverse=True)
    assert shares[-1] < 0.7
    assert [f.kind.code for f in made.findings] == ["BW860", "BW861", "BW862", "BW863", "BW864"]


def test_the_demo_regimes_and_temperatures(root: Path) -> None:
    folder = root / "examples" / "voyage"
    assert [has_dates(folder / name) for name in ("route.csv", "regimes.csv")] == [True, False]
    assert regime_study(folder / "regimes.csv").tables["regimes"].rows == 4 * 12
    found = cold_study(folder / "daily_lows.csv")
    lows: dict[str, list[float]] = {}
    for line in (folder / "daily_lows.csv").read_text("utf-8").splitlines()[2:]:
        day, low = line.split(",")
        lows.setdefault(day[5:], []).append(float(low))
    lows.pop("02-29")
    assert found.lowest_mean_daily_low_degc == pytest.approx(min(sum(v) / len(v) for v in lows.values()), abs=1e-9)
    assert found.low_air_temperature
