"""The risk index of a year of daily regimes at 10,000 points for all classes, beside a plain loop over regimes.

Reading the same route from its CSV is timed apart, beside the careful way that tables with quotes or comments take.
"""

from __future__ import annotations

import tempfile
from itertools import islice
from pathlib import Path
from time import perf_counter

import numpy as np

from _harness import function_seconds, peak_memory_mb, show
from beltwright.rules.polaris_imo_2016.tables import CLASSES, ICE_TYPES, STANDARD_VALUES
from beltwright.voyage.index import RouteIndex, regime_index, route_index
from beltwright.voyage.regime_file import read_route
from beltwright.voyage.route import Route
from beltwright.voyage.tables import class_table, date_table, month_table, point_table

DATES, POINTS, SAMPLE = 365, 10_000, 20_000
MEMORY_MB = 1000.0


def random_route(dates: int, points: int) -> Route:
    """Make a route of random regimes, a tenth of them in decay and a tenth with an escort."""
    rng = np.random.default_rng(1)
    count = dates * points
    tenths = np.empty((len(ICE_TYPES), count), dtype=np.int8)
    for first in range(0, count, points):
        weights = rng.dirichlet(np.ones(len(ICE_TYPES)))
        tenths[:, first : first + points] = rng.multinomial(10, weights, size=points).T
    return Route(
        dates=np.datetime64("2031-01-01") + np.arange(dates),
        points=np.array([f"P{k:05d}" for k in range(points)]),
        latitude_deg=np.linspace(69.0, 78.0, points),
        longitude_deg=np.linspace(-12.0, 43.0, points),
        starts=np.arange(dates + 1) * points,
        point_of_row=np.tile(np.arange(points, dtype=np.int32), dates),
        tenths=tenths,
        decay_confirmed=rng.random(count) < 0.1,
        escort_planned=rng.random(count) < 0.1,
    )


def plain_index(route: Route, rows: range) -> list[list[int]]:
    """Give the index of some regimes by a loop over regimes, classes and ice types, without decay and escort."""
    values = [[int(STANDARD_VALUES.cell(c, t).value or 0) for t in ICE_TYPES] for c in CLASSES]
    tenths = route.tenths[:, rows.start : rows.stop].T.tolist()
    return [
        [sum(there * worth for there, worth in zip(regime, row, strict=True)) for row in values] for regime in tenths
    ]


def write_csv(route: Route, path: Path) -> None:
    """Write the route as a table."""
    names = ",".join(f"{name}_tenths" for name in ICE_TYPES)
    places = [
        f"{p},{a:.3f},{o:.3f}" for p, a, o in zip(route.points, route.latitude_deg, route.longitude_deg, strict=True)
    ]
    with path.open("w", encoding="utf-8") as file:
        file.write(f"date,point,latitude_deg,longitude_deg,{names},decay_confirmed,escort_planned\n")
        for k, date in enumerate(route.dates):
            rows = slice(int(route.starts[k]), int(route.starts[k + 1]))
            regimes = route.tenths[:, rows].T.tolist()
            flags = zip(route.decay_confirmed[rows].tolist(), route.escort_planned[rows].tolist(), strict=True)
            file.writelines(
                f"{date},{place},{','.join(map(str, regime))},{'yes' if d else 'no'},{'yes' if e else 'no'}\n"
                for place, regime, (d, e) in zip(places, regimes, flags, strict=True)
            )


def timed_reading(path: Path) -> tuple[float, Route]:
    """Read a route; return the seconds too."""
    start = perf_counter()
    read = read_route(path)
    return perf_counter() - start, read


def tables(route: Route, index: RouteIndex) -> int:
    """Lay out all four tables."""
    return sum(make(route, index).rows for make in (class_table, month_table, date_table, point_table))


def main() -> None:
    """Check that the ways agree, then print one line per budget."""
    route = random_route(DATES, POINTS)
    no = np.zeros(SAMPLE, dtype=bool)
    assert regime_index(route.tenths[:, :SAMPLE], no, no).T.tolist() == plain_index(route, range(SAMPLE))
    start = perf_counter()
    plain_index(route, range(SAMPLE))
    loop = (perf_counter() - start) * route.regimes / SAMPLE
    show(
        f"index of {route.regimes:,} regimes, {len(CLASSES)} classes",
        function_seconds(lambda: route_index(route), runs=5),
        plain_s=loop,
        plain="a loop over regimes",
        budget_s=1.0,
        count=route.regimes * len(CLASSES),
    )
    index = route_index(route)
    show("its tables", function_seconds(lambda: tables(route, index), runs=3), budget_s=1.0)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "route.csv"
        write_csv(route, path)
        seconds, read = timed_reading(path)
        short, part = Path(folder) / "short.csv", SAMPLE * 5
        with path.open(encoding="utf-8") as whole, short.open("w", encoding="utf-8") as some:
            some.write(next(whole))
            some.writelines(f'"{line[:10]}"{line[10:]}' for line in islice(whole, part))  # quotes ask for care
        careful, again = timed_reading(short)
        size = path.stat().st_size
    assert (read.tenths == route.tenths).all()
    assert (read.decay_confirmed == route.decay_confirmed).all()
    assert (read.latitude_deg == again.latitude_deg).all()
    assert (read.tenths[:, :part] == again.tenths).all()
    show(
        f"reading it, {size / 1e6:.0f} MB of CSV",
        seconds,
        plain_s=careful * route.regimes / part,
        plain="the careful way",
        budget_s=10.0,
        count=route.regimes,
    )
    peak = peak_memory_mb()
    print(f"{'peak memory':<44}{peak:10.0f} MB; budget {MEMORY_MB:g} MB: {'kept' if peak <= MEMORY_MB else 'MISSED'}")


if __name__ == "__main__":
    main()
