"""A trade-off front for the reader: on the terminal, as tables, one certificate for each point, and a printed page."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files

import numpy as np

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS, SHORT_CAUTION
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.backends.typesetter import quoted, typeset
from beltwright.drawing.front_chart import FrontPoint, front_chart
from beltwright.report.markup import bullets, figure, grid_table, heading, paragraph
from beltwright.report.numbers import fixed
from beltwright.report.sizing import NO_PLATE
from beltwright.report.sizing_words import amount
from beltwright.report.tables import csv_text
from beltwright.sizing.certificate import Certificate, to_text
from beltwright.sizing.front import Front

TITLE = "Trade-off"
_NAMES = {"mass": "steel mass", "cost": "cost", "co2": "carbon dioxide", "mix": "points of the mix"}
STATED = (
    "Every point is proved by two finished searches in whole units: no design that could be chosen has less of one and "
    "not more of the other. A point that is not proved says so.",
    "Plates and local frames of both sides, as in the search for the least structure; every point is a whole design "
    "with all its checks, and has a certificate of its own.",
)


def front_lines(front: Front) -> Iterator[str]:
    """Yield the front for the terminal."""
    first, second = front.objectives
    ship = front.sized[0].design.ship
    yield f"{ship.ship.name}: {_NAMES[first]} against {_NAMES[second]}"
    for number, (point, sized) in enumerate(zip(front.points, front.sized, strict=True), 1):
        state = "proved" if point.proved else "not proved"
        met = "all checks met" if sized.design.all_met else "checks NOT all met"
        told = f"{amount(point.first, front.units[0])}, {amount(point.second, front.units[1])}"
        yield f"  {number}: {told} ({state}; {met})"
    yield _between(front)
    yield from STATED
    yield SHORT_CAUTION


def _between(front: Front) -> str:
    """What lies between the points."""
    if front.whole:
        alone = len(front.points) == 1
        return "One design is least in both." if alone else "There are no other points on this front."
    return "Between two points there may be others; ask for more points to see them."


def front_documents(front: Front, made: tuple[Certificate, ...], inputs_sha256: str) -> dict[str, bytes]:
    """Return the files of a front by name."""
    pages = _pages(front, inputs_sha256)
    found = {f"certificate-{number}.json": to_text(one).encode("utf-8") for number, one in enumerate(made, 1)}
    return found | {
        "front.csv": csv_text(front_table(front)).encode("utf-8"),
        "front_plates.csv": csv_text(_plates(front)).encode("utf-8"),
        "front.json": _json(front, inputs_sha256).encode("utf-8"),
        "front.svg": pages["front.svg"],
        "front.pdf": typeset(pages, tagged=False),
        "prices.csv": front.candidates.values.costing.table.text().encode("utf-8"),
    }


def _scale(unit: str) -> tuple[float, str]:
    """How many of a problem's units make one of the reader's, and its name."""
    if unit.startswith("g"):
        return 1e6, f"t{unit[1:]}"
    return 1e6, f"thousand {unit.split('of ', 1)[1]}"


def front_table(front: Front) -> ColumnTable:
    """Return the points: both prices, whether proved, framing, number of thicknesses, greatest thickness."""
    rows = list(zip(front.points, front.sized, strict=True))
    columns = {
        "point": Column(unit=Unit("count"), meaning="number of the point", data=np.arange(1, len(rows) + 1)),
    }
    for place, name in enumerate(front.objectives):
        scale, unit = _scale(front.units[place])
        values = np.array([(point.first, point.second)[place] / scale for point, _ in rows])
        columns[name] = Column(unit=Unit(unit), meaning=f"{_NAMES[name]}, plates and frames, both sides", data=values)
    thickness = [sized.laid.thickness_mm[~np.isnan(sized.laid.thickness_mm)] for _, sized in rows]
    columns |= {
        "proved": Column(unit=Unit("flag"), meaning="proved to lie on the front",
                         data=np.array([point.proved for point, _ in rows])),
        "all_met": Column(unit=Unit("flag"), meaning="every check of the whole design is met",
                          data=np.array([sized.design.all_met for _, sized in rows])),
        "thicknesses": Column(unit=Unit("count"), meaning="plate thicknesses on the ship",
                              data=np.array([len(np.unique(one)) for one in thickness])),
        "thickest_mm": Column(unit=Unit("mm"), meaning="thickest plate as built",
                              data=np.array([one.max() for one in thickness])),
        "sections": Column(unit=Unit("count"), meaning="frame sections on the ship",
                           data=np.array([len({s for s, _ in sized.sections.values()}) for _, sized in rows])),
        "grades": Column(unit=Unit("label"), meaning="steel grades on the ship",
                         data=np.array([" ".join(_grades(sized)) for _, sized in rows])),
        "framing": Column(unit=Unit("label"), meaning="framing of the zones",
                          data=np.array(["; ".join(f"{z}: {o}" for z, o in sized.framing.items())
                                         for _, sized in rows])),
    }  # fmt: skip
    return ColumnTable("front", columns)


def _grades(sized) -> list[str]:  # type: ignore[no-untyped-def]
    """The grades on a ship, plates and frames."""
    return sorted({grade for grade in (*sized.laid.grade, *(g for _, g in sized.sections.values())) if grade})


def _plates(front: Front) -> ColumnTable:
    """Thickness of every plate at every point."""
    names = front.sized[0].laid.plates.names
    columns = {
        "plate": Column(unit=Unit("label"), meaning="column from aft / strake from the keel",
                        data=np.array(names, dtype=np.str_)),
    }  # fmt: skip
    for number, sized in enumerate(front.sized, 1):
        data = sized.laid.thickness_mm
        reason = np.where(np.isnan(data), NO_PLATE, "")
        columns[f"point_{number}_mm"] = Column(
            unit=Unit("mm"), meaning=f"thickness as built at point {number}", data=data, reason=reason
        )
        columns[f"point_{number}_grade"] = Column(
            unit=Unit("label"), meaning=f"grade at point {number}",
            data=np.array([grade or "none" for grade in sized.laid.grade], dtype=np.str_),
        )  # fmt: skip
    return ColumnTable("front plates", columns)


def _json(front: Front, inputs_sha256: str) -> str:
    """The front as JSON text."""
    told = {
        "format": "beltwright-front-1",
        "ship": front.sized[0].design.ship.ship.name,
        "input_hash": inputs_sha256,
        "program_version": __version__,
        "objectives": list(front.objectives),
        "units": list(front.units),
        "points": [
            {"first": point.first, "second": point.second, "bound": point.bound, "proved": point.proved,
             "all_met": sized.design.all_met}
            for point, sized in zip(front.points, front.sized, strict=True)
        ],
        "whole": front.whole,
        "stated": list(STATED),
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
    }  # fmt: skip
    return json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"


def _pages(front: Front, inputs_sha256: str) -> dict[str, bytes]:
    """The typst source and the picture of the printed page."""
    ship, (first, second) = front.sized[0].design.ship.ship, front.objectives
    scales = [_scale(unit) for unit in front.units]
    points = [
        FrontPoint(number=number, first=one.first / scales[0][0], second=one.second / scales[1][0], proved=one.proved)
        for number, one in enumerate(front.points, 1)
    ]
    axes = f"{_NAMES[first]} [{scales[0][1]}]", f"{_NAMES[second]} [{scales[1][1]}]"
    picture = to_svg(front_chart(points, axes, f"{ship.name}: {_NAMES[first]} against {_NAMES[second]}"))
    table = front_table(front)
    rows = [
        [str(point.number), fixed(point.first, 3), fixed(point.second, 3), "yes" if point.proved else "no",
         f"{table['thickest_mm'].data[row]:g}", str(table["thicknesses"].data[row]), str(table["sections"].data[row]),
         table.labels("grades")[row]]
        for row, point in enumerate(points)
    ]  # fmt: skip
    parts = [
        f"#show: booklet.with(title: {quoted(TITLE)}, ship: {quoted(ship.name)}, revision: {quoted(ship.revision)}, "
        f"fingerprint: {quoted(inputs_sha256[:16])}, version: {quoted(__version__)}, "
        f"caution: {quoted(SHORT_CAUTION)})\n#set heading(numbering: none)\n",
        heading(1, f"{ship.name}: {_NAMES[first]} against {_NAMES[second]}"),
        paragraph(" ".join((*STATED, _between(front)))),
        figure("front.svg", "Points of the front", "100%"),
        grid_table(
            [("point", "", "left", "14"), (_NAMES[first], scales[0][1], "right", "30"),
             (_NAMES[second], scales[1][1], "right", "30"), ("proved", "", "left", "16"),
             ("thickest", "mm", "right", "18"), ("thicknesses", "", "right", "20"), ("sections", "", "right", "16"),
             ("grades", "", "left", "fill")],
            rows,
        ),
        heading(2, "Framing"),
        bullets([f"Point {number}: {words}" for number, words in enumerate(table.labels("framing").tolist(), 1)]),
    ]  # fmt: skip
    style = files("beltwright.report").joinpath("typst", "style.typ").read_bytes()
    source = '#import "style.typ": *\n' + "".join(parts)
    return {"main.typ": source.encode("utf-8"), "style.typ": style, "front.svg": picture.encode("utf-8")}
