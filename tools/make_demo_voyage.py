"""Write the demo voyage: ice regimes along an invented route, a few regimes by name, daily lows of an invented place.

The numbers come from a seed and plain formulas: they are no observation and no climate of anywhere.
"""

from __future__ import annotations

import random
import sys
from datetime import date, timedelta
from math import cos, pi
from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "examples" / "voyage"
SEED = 20310115
POINTS, YEAR = 40, 2031
FIRST_YEAR, YEARS = 2021, 10
NOTE = "# Invented, made by tools/make_demo_voyage.py: no observation, no chart, no forecast.\n"
THICKNESS_M = (  # upper limit of each type of first-year ice and younger, as an ice chart would name it
    ("new_ice", 0.10),
    ("grey_ice", 0.15),
    ("grey_white_ice", 0.30),
    ("thin_first_year_1", 0.50),
    ("thin_first_year_2", 0.70),
    ("medium_first_year_under_1m", 1.00),
    ("medium_first_year", 1.20),
    ("thick_first_year", 9.0),
)
TYPES = ("ice_free", *(name for name, _ in THICKNESS_M), "second_year", "light_multi_year")


def route() -> str:
    """Give the table of regimes: a passage of forty points on the fifteenth of each month."""
    rng = random.Random(SEED)
    lines = [NOTE, "date,point,latitude_deg,longitude_deg,", ",".join(f"{name}_tenths" for name in TYPES)]
    lines.append(",decay_confirmed,escort_planned\n")
    for month in range(1, 13):
        for k in range(POINTS):
            remote = k / (POINTS - 1)
            latitude, longitude = 69.5 + 8.0 * remote - 2.5 * remote**2, -12.0 + 55.0 * remote
            tenths = regime(month, remote, rng)
            decayed = month in (6, 7, 8) and tenths["ice_free"] < 10 and remote < 0.6
            escort = remote > 0.7 and month in (3, 4)
            row = [f"{YEAR}-{month:02d}-15", f"OM{k + 1:02d}", f"{latitude:.3f}", f"{longitude:.3f}"]
            row += [str(tenths[name]) for name in TYPES]
            lines.append(",".join([*row, "yes" if decayed else "no", "yes" if escort else "no"]) + "\n")
    return "".join(lines)


def regime(month: int, remote: float, rng: random.Random) -> dict[str, int]:
    """Give the concentrations at one point: the ice is thickest in May at the far end, and open in September."""
    season = 0.5 + 0.5 * cos(2.0 * pi * (month - 4.5) / 12.0)
    thickness = max(0.0, (0.25 + 1.35 * remote) * season + 0.45 * remote - 0.30 + 0.20 * (rng.random() - 0.5))
    covered = min(10, max(0, round(14.0 * season * (0.45 + remote) - 1.5 + 2.0 * rng.random())))
    old = min(covered, round(3.0 * rng.random())) if remote > 0.75 else 0
    tenths = dict.fromkeys(TYPES, 0)
    tenths["ice_free"] = 10 - covered
    tenths["light_multi_year" if remote > 0.9 else "second_year"] += old
    main = next(number for number, (_, limit) in enumerate(THICKNESS_M) if thickness < limit)
    thinner = round((covered - old) * 0.4 * rng.random()) if main else 0
    tenths[THICKNESS_M[main][0]] += covered - old - thinner
    tenths[THICKNESS_M[max(0, main - 1)][0]] += thinner
    return tenths


def regimes() -> str:
    """Give a few regimes by name, as they stand in discussions of a ship's class."""
    head = "regime,ice_free_tenths,grey_white_ice_tenths,medium_first_year_tenths,thick_first_year_tenths,"
    rows = (
        "open drift ice,6,2,2,0,0,no",
        "close medium ice,0,0,9,1,0,no",
        "close medium ice in decay,0,0,9,1,0,yes",
        "thick ice with old floes,0,0,3,5,2,no",
    )
    return NOTE + head + "second_year_tenths,decay_confirmed\n" + "\n".join(rows) + "\n"


def daily_lows() -> str:
    """Give ten years of daily low temperatures, coldest about the end of January, warm and cold spells of some days."""
    rng = random.Random(SEED + 1)
    lines = [NOTE, "date,daily_low_degc\n"]
    spell, day = 0.0, date(FIRST_YEAR, 1, 1)
    while day.year < FIRST_YEAR + YEARS:
        spell = 0.8 * spell + 3.0 * (rng.random() + rng.random() + rng.random() - 1.5)
        low = -10.5 - 14.5 * cos(2.0 * pi * (day.timetuple().tm_yday - 28) / 365.25) + spell
        lines.append(f"{day},{low:.1f}\n")
        day += timedelta(days=1)
    return "".join(lines)


FILES = {"route.csv": route, "regimes.csv": regimes, "daily_lows.csv": daily_lows}


def main() -> int:
    """Write the files."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, make in FILES.items():
        (FOLDER / name).write_text(make(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
