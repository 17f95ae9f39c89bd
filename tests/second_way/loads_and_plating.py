"""Loads, plating and frames of a Polar Class ship, worked a second time in plain numbers.

It imports nothing of Beltwright and reads its own copy of the tables (the CSV files beside it). Units: m, kt, degrees,
MN, MPa, mm, cm2, cm3. Run it on a case, ``python loads_and_plating.py case.json``, or call the functions from a test.
The case has "ship", "bow" (a list of sub-regions with x, alpha, beta_prime), "plates" and "frames"; the names of their
entries are those of the functions' parameters.
"""

import csv
import json
import math
import sys
from functools import cache
from pathlib import Path

HERE = Path(__file__).resolve().parent


@cache
def table(name):
    """Rows of one CSV by their first column."""
    with (HERE / name).open(encoding="utf-8") as file:
        rows = list(csv.reader(file))
    return {row[0]: dict(zip(rows[0][1:], row[1:], strict=True)) for row in rows[1:]}


def factor(ice_class, name):
    return float(table("factors.csv")[ice_class][name])


def rule_length(stem_to_rudder, extreme):
    if stem_to_rudder < 0.96 * extreme:
        return 0.96 * extreme
    if stem_to_rudder > 0.97 * extreme:
        return 0.97 * extreme
    return stem_to_rudder


def standard_station(ice_class, d, length, x, alpha, beta_prime):
    """F, Q, P of one bow sub-region by the standard formula; d not yet raised to the floor."""
    d64 = max(d, 5.0) ** 0.64
    crushing, flexure, patch = factor(ice_class, "CFC"), factor(ice_class, "CFF"), factor(ice_class, "CFD")
    sine = math.sin(beta_prime * math.pi / 180.0)
    first = (0.097 - 0.68 * (x / length - 0.15) ** 2) * alpha / math.sqrt(beta_prime)
    second = 1.2 * flexure / (sine * crushing * d64)
    shape = sorted((first, second, 0.60))[0]
    f = shape * crushing * d64
    aspect = 7.46 * sine if 7.46 * sine > 1.3 else 1.3
    return f, f**0.61 * patch / aspect**0.35, f**0.22 * patch * patch * aspect**0.3


def vertical_station(ice_class, d, alpha):
    """F, Q, P of one sub-region of a vertical-sided bow, PC6 and PC7."""
    row = table("vertical.csv")[ice_class]
    f = alpha / 30.0 * float(row["CFCV"]) * max(d, 5.0) ** 0.47
    return f, f**0.22 * float(row["CFQV"]), f**0.56 * float(row["CFPV"])


def bulb_least(ice_class, d):
    """The least F, Q, P of a bulbous bow."""
    f = 0.6 * factor(ice_class, "CFC") * max(d, 5.0) ** 0.64
    patch = factor(ice_class, "CFD")
    return f, f**0.61 * patch / 1.3**0.35, f**0.22 * patch**2 * 1.3**0.3


def bow_load(ice_class, d, length, bow, *, vertical=False, bulb=False):
    """The bow's load from its sub-regions: force, width, height, average pressure."""
    if vertical or bulb:
        found = [vertical_station(ice_class, d, s["alpha"]) for s in bow]
    else:
        found = [standard_station(ice_class, d, length, s["x"], s["alpha"], s["beta_prime"]) for s in bow]
    if bulb:
        found.append(bulb_least(ice_class, d))
    f, q, p = (max(values) for values in zip(*found, strict=True))
    return {"force": f, "width": f / q, "height": q / p, "pressure": p}


def other_load(ice_class, d):
    """The load outside the bow: force, width, height, average pressure."""
    d = max(d, 10.0)
    limit = factor(ice_class, "CFDIS")
    term = d**0.64 if d <= limit else limit**0.64 + 0.10 * (d - limit)
    f = 0.36 * factor(ice_class, "CFC") * term
    q = 0.639 * f**0.61 * factor(ice_class, "CFD")
    return {"force": f, "width": f / q, "height": f / q / 3.6, "pressure": 3.6 * q * q / f}


def loads(ship, bow):
    """Both loads of a ship."""
    length = rule_length(ship["stem_to_rudder"], ship["extreme"])
    form = {"vertical": ship.get("vertical", False), "bulb": ship.get("bulb", False)}
    return {
        "length": length,
        "bow": bow_load(ship["ice_class"], ship["d"], length, bow, **form),
        "other": other_load(ship["ice_class"], ship["d"]),
    }


def acting(ice_class, area, both):
    """The load that acts in an area."""
    return both["bow"] if area == "B" or (area == "BIi" and ice_class in ("PC6", "PC7")) else both["other"]


def area_factor(ice_class, area, *, icebreaker=False):
    return float(table("areas_icebreaker.csv" if icebreaker else "areas.csv")[area][ice_class])


def addition(ice_class, area, *, protected):
    column = ("protected" if protected else "bare") + " "
    for areas, row in table("additions.csv").items():
        if area in areas.split():
            return next(float(value) for name, value in row.items() if name.startswith(column) and ice_class in name)
    raise KeyError(area)


def between(omega, transverse, longitudinal):
    """Interpolate on the framing angle: 20 longitudinal, 70 transverse."""
    if omega >= 70.0:
        return transverse
    if omega <= 20.0:
        return longitudinal
    return longitudinal + (transverse - longitudinal) * (omega - 20.0) / (70.0 - 20.0)


def plate(load, factor_of_area, *, s, a, length, omega, sy, bottom=False):
    """Net thickness of a shell plate [mm]; ``length`` is the distance between supports of longitudinals."""

    def thickness(peak, tail):
        return 500.0 * s * math.sqrt(factor_of_area * peak * load["pressure"] / sy) * tail

    b = min(load["height"], a - s / 4.0)
    transverse = thickness(max(1.8 - s, 1.2), 2.0 * b / (2.0 * b + s))
    ratio = load["height"] / s
    tail = 2.0 * length / (2.0 * length + s)
    if ratio < 1.0:
        tail *= math.sqrt(2.0 * ratio - ratio * ratio)
    longitudinal = thickness(max(2.2 - 1.2 * s, 1.5), tail)
    return transverse if bottom else between(omega, transverse, longitudinal)


def section(*, hw, tw, h, phi, tp, s, flange_area, flange_height, flange_offset):
    """Shear area [cm2] and plastic modulus [cm3] of a net section with its plate; lengths in mm, s in m."""
    phi = 90.0 if phi >= 75.0 else phi
    sine, cosine = math.sin(math.radians(phi)), math.cos(math.radians(phi))
    web, flange, shell = hw * tw, 100.0 * flange_area, 1000.0 * tp * s  # all mm2
    if shell >= web + flange:
        z = (web + flange) * tp / 2.0 + web * hw / 2.0 * sine + flange * (flange_height * sine - flange_offset * cosine)
    else:
        axis = (web + flange - shell) / (2.0 * tw)
        z = shell * (axis + tp / 2.0) * sine
        z += tw * sine * ((hw - axis) ** 2 + axis**2) / 2.0
        z += flange * ((flange_height - axis) * sine - flange_offset * cosine)
    return h * tw * sine / 100.0, z / 1000.0


def frame(load, factor_of_area, aw, zp, *, s, a, omega, sy, tp, flange_area, bf, tf, web_spacing,
          stringers=False, simple=False, brackets=False, bottom=False):  # fmt: skip
    """Required shear area [cm2] and plastic modulus [cm3] of a frame with shear area aw and modulus zp.

    Both stand between the transverse and the longitudinal requirement by the framing angle; a shear area that one of
    the two alone would find too small takes the whole web out of that one's bending, no more.
    """
    kw = 1.0 / (1.0 + 2.0 * flange_area / aw)
    peak = 1.0 if bottom else (max(1.6 - s, 1.0) if stringers else max(1.8 - s, 1.2))
    p = factor_of_area * peak * load["pressure"]
    loaded = min(a, load["height"])
    at = 0.5 * loaded * s * p / (0.577 * sy) * 1e4
    y = 1.0 - loaded / (2.0 * a)
    a1 = min(at / aw, 1.0)
    half = 0.5 if simple else 1.0
    mid = 1.0 / (1.0 + half * (1.0 - kw * (1.0 - math.sqrt(1.0 - a1 * a1))))
    own = (bf * tf * tf + 500.0 * s * tp * tp) / 4000.0
    end = (1.0 - 0.5 / (a1 * y)) / (0.275 + 1.44 * (0.0 if brackets else own / zp) ** 0.7)
    zt = loaded * y * s * p * a * max(mid, end) / (4.0 * sy) * 1e6
    ratio = web_spacing / load["width"]
    p = factor_of_area * (1.0 if ratio >= 0.5 else 2.0 - 2.0 * ratio) * load["pressure"]
    relative = load["height"] / s
    carried = (load["height"] * (1.0 - relative / 4.0) if relative < 2.0 else s) * (1.0 - 0.3 / relative)
    al = 0.5 * p * carried * a / (0.577 * sy) * 1e4
    a4 = min(al / aw, 1.0)
    zl = p * carried * a * a / (2.0 - kw * (1.0 - math.sqrt(1.0 - a4 * a4))) / (8.0 * sy) * 1e6
    return (at, zt) if bottom else (between(omega, at, al), between(omega, zt, zl))


def strength(aw, zp, aw_required, zp_required):
    """How far a frame's strength is used: the worse of shear and bending, nothing else depends on the load."""
    return max(aw_required / aw, zp_required / zp)


def work(case):
    """Everything of a case."""
    ship = case["ship"]
    both = loads(ship, case["bow"])
    answer = {"loads": both, "plates": [], "frames": []}
    for given in case.get("plates", []):
        given = dict(given)
        area, factor_area, addition_area = (given.pop(k) for k in ("area", "factor_area", "addition_area"))
        net = plate(
            acting(ship["ice_class"], area, both),
            area_factor(ship["ice_class"], factor_area, icebreaker=ship["icebreaker"]),
            bottom=area in ("BIb", "Mb", "Sb"),
            **given,
        )
        extra = addition(ship["ice_class"], addition_area, protected=ship["protected"])
        answer["plates"].append({"net": net, "addition": extra, "required": net + extra})
    for given in case.get("frames", []):
        given = dict(given)
        area, factor_area, built = (given.pop(k) for k in ("area", "factor_area", "section"))
        aw, zp = section(**built)
        at, zt = frame(
            acting(ship["ice_class"], area, both),
            area_factor(ship["ice_class"], factor_area, icebreaker=ship["icebreaker"]),
            aw,
            zp,
            bottom=area in ("BIb", "Mb", "Sb"),
            **given,
        )
        answer["frames"].append({"aw": aw, "zp": zp, "aw_required": at, "zp_required": zt,
                                 "used": strength(aw, zp, at, zt)})  # fmt: skip
    return answer


if __name__ == "__main__":
    print(json.dumps(work(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))), indent=1))
