"""The hull areas of one ship: regions per waterline, ice belt, extra areas, and the further reach of the framing.

One partition of the shell serves plating and framing: an area is strengthened for both, or for one of them. Codes: the
region (B bow, M midbody, S stern) is the ice belt; with A or L the framing alone is strengthened, above or below the
belt; UB upper bow ice belt; FF fore foot; FK fore foot below the top of floors, plating alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Quantity, Step, Trace
from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray, LabelArray, Unit
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import c4_1_1_regions as c4_1
from beltwright.rules.baltic_traficom_2021 import c4_3_plating as c4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_2_transverse_frames as c4_4_2
from beltwright.rules.baltic_traficom_2021 import facts_needed
from beltwright.rules.baltic_traficom_2021.area_borders import AreaEdges, borders
from beltwright.rules.baltic_traficom_2021.c1_application import CLASSES
from beltwright.rules.protocol import EVERYTHING, Border, GoverningAreas, HullArea, Override, Strengthens

TITLES: Final = {
    "B": "bow, ice belt",
    "FF": "fore foot",
    "FK": "fore foot below the top of floors, plating alone",
    "BL": "bow below the ice belt, framing alone",
    "BA": "bow above the ice belt, framing alone",
    "UB": "upper bow ice belt",
    "M": "midbody, ice belt",
    "ML": "midbody below the ice belt, framing alone",
    "MA": "midbody above the ice belt, framing alone",
    "S": "stern, ice belt",
    "SL": "stern below the ice belt, framing alone",
    "SA": "stern above the ice belt, framing alone",
}
REGIONS: Final = {"bow": "Bow", "midbody": "Midbody", "stern": "Stern"}
_GREATEST_M: Final = 1000.0
_MAY_BE_NEGATIVE: Final = ("fore_perpendicular_aft_of_stem_m",)
_MAY_BE_ZERO: Final = ("keel_departure_aft_of_stem_m", "floor_top_height_m", "service_speed_kn", "waterline_height_m",
                       "side_start_aft_of_stem_m")  # fmt: skip

_KNOWN: Final = {q.name: q for q in (*vocabulary.SHIP, *facts_needed.SHIP, *facts_needed.WATERLINES)}
_REGION_INPUTS: Final = [
    Quantity(name=f"{key}_region", symbol=name, unit=Unit("label"), meaning="region of the hull")
    for key, name in REGIONS.items()
]


def _by_region(output: str, name: str) -> tuple[Step, ...]:
    """A look-up of an extent for each region; ``{}`` in the output stands for the region."""
    clause = {"belt_top": c4_1.belt_top, "belt_bottom": c4_1.belt_bottom, "framing_top": c4_1.framing_top,
              "framing_bottom": c4_1.framing_bottom}[name]  # fmt: skip
    return tuple(
        Step(
            output=output.format(key),
            clause=clause,
            inputs={"region": f"{key}_region"},
            symbol=f"{clause.symbol}, {region.lower()}",
        )
        for key, region in REGIONS.items()
    )


EXTENT_CHAIN: Final = Chain(
    "extents",
    [
        *_REGION_INPUTS,
        *(
            _KNOWN[name]
            for name in (
                "ice_class",
                "class_rule_length_m",
                "service_speed_kn",
                "fore_perpendicular_aft_of_stem_m",
                "keel_departure_aft_of_stem_m",
                "main_frame_spacing_m",
                "floor_top_height_m",
                "waterline_extreme_length_m",
            )
        ),
    ],
    (
        Step(output="overlap_limit_m", clause=c4_1.overlap_limit),
        Step(output="overlap_m", clause=c4_1.overlap),
        *_by_region("belt_top_{}_m", "belt_top"),
        *_by_region("belt_bottom_{}_m", "belt_bottom"),
        *_by_region("framing_top_{}_m", "framing_top"),
        *_by_region("framing_bottom_{}_m", "framing_bottom"),
        Step(output="fore_foot", clause=c4_1.fore_foot_word),
        Step(output="fore_foot_aft_m", clause=c4_1.fore_foot_aft),
        Step(output="upper_belt_speed_kn", clause=c4_1.upper_belt_speed),
        Step(output="upper_belt", clause=c4_1.upper_belt_asked),
        Step(output="upper_belt_aft_m", clause=c4_1.upper_belt_aft),
        Step(output="upper_belt_top_m", clause=c4_1.upper_belt_top),
    ),
)
WATERLINE_CHAIN: Final = Chain(
    "borders of the regions at a waterline",
    [*facts_needed.WATERLINES, Quantity(name="overlap_m", symbol="overlap", unit=Unit("m"), meaning="overlap")],
    (
        Step(output="bow_aft_m", clause=c4_1.bow_aft_border),
        Step(output="midbody_aft_m", clause=c4_1.midbody_aft_border),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BalticHullAreas:
    """The hull areas of one ship under one class; see :class:`beltwright.rules.protocol.HullAreas`.

    ``trace`` holds the extents and the borders at the highest waterline, ``waterline_traces`` the borders at each.
    """

    areas: tuple[HullArea, ...]
    borders: tuple[Border, ...]
    trace: Trace
    edges: AreaEdges
    waterline_traces: Mapping[str, Trace]
    overrides: tuple[Override, ...]
    outside: str = "outside the belt"

    def number(self, name: str) -> float:
        """Return a number of the trace."""
        return float(self.trace[name].value)

    def classify(
        self,
        aft_of_stem_m: FloatArray,
        above_upper_m: FloatArray,
        above_lower_m: FloatArray,
        inclination_deg: FloatArray,
        height_m: FloatArray,
    ) -> LabelArray:
        """Return the area code of each shell point (n,), or "" where nothing is asked for.

        A point on a border belongs to the region forward of it, and to the ice belt. No border depends on the shell's
        inclination. A NaN height above the lower waterline counts as in the belt; other numbers must be finite.
        """
        for name, values in (
            ("aft_of_stem_m", aft_of_stem_m),
            ("above_upper_m", above_upper_m),
            ("height_m", height_m),
        ):
            if not np.isfinite(values).all():
                raise InputError(f"hull areas: {name}", "is not a number", allowed="finite metres")
        return self.edges.code(aft_of_stem_m, above_upper_m, above_lower_m, height_m)

    def governing(self, touched: BoolArray) -> GoverningAreas:
        """Return, for members touching several areas (n, areas), the area of the greatest load and of the addition.

        The load falls from bow to stern for every class and size, so the first area of the list that is touched has
        the greatest; for the addition, which is one number, areas whose plating is strengthened come first.
        """
        codes = np.array([area.code for area in self.areas])
        plating = np.array([Strengthens.PLATING in area.strengthens for area in self.areas])
        order = np.argsort(~plating, kind="stable")
        return GoverningAreas(
            factor_area=_first(codes, touched),
            addition_area=_first(codes[order], touched[:, order]),
            ref="FSICR 4.2.2",
        )


def _strengthens(code: str) -> tuple[Strengthens, ...]:
    """What is strengthened in an area: in the ice belt both, where plating or framing reaches further that one."""
    asked = {
        Strengthens.PLATING: c4_3.plating_asked(load_area=np.array([code])),
        Strengthens.FRAMING: c4_4_2.framing_asked(load_area=np.array([code])),
    }
    return tuple(part for part in EVERYTHING if asked[part][0])


def _first(codes: LabelArray, touched: BoolArray) -> LabelArray:
    """The first code that each member touches, "" where none."""
    return np.where(touched.any(axis=1), codes[np.argmax(touched, axis=1)], "").astype(np.str_)


def make(facts: Columns, overrides: tuple[Override, ...]) -> BalticHullAreas:
    """Return the hull areas of a ship; raises InputError for facts that are missing or cannot be."""
    _check_facts(facts)
    given = {f"{key}_region": np.array([name]) for key, name in REGIONS.items()}
    extents = EXTENT_CHAIN.trace(
        {name: given.get(name, facts.get(name, np.empty(0))) for name in EXTENT_CHAIN.inputs},
        origins=dict.fromkeys(given, "regions of 4.1.1"),
    )
    lines = {
        "overlap_m": np.array([extents["overlap_m"].value]),
        **{q.name: facts[q.name] for q in facts_needed.WATERLINES},
    }
    values = WATERLINE_CHAIN.run(lines)
    heights: FloatArray = values["waterline_height_m"]
    traces = {f"waterline {z:.3f} m": WATERLINE_CHAIN.trace(lines, row).after(extents) for row, z in enumerate(heights)}
    edges = AreaEdges(
        height_m=heights,
        bow_aft_m=values["bow_aft_m"],
        midbody_aft_m=values["midbody_aft_m"],
        extents={name: float(node.value) for name, node in extents.items() if node.unit.symbol == "m"},
        fore_foot=str(extents["fore_foot"].value) == "yes",
        upper_belt=bool(extents["upper_belt"].value),
    )
    areas = tuple(
        HullArea(code=code, title=title, strengthens=_strengthens(code))
        for code, title in TITLES.items()
        if edges.has(code)
    )
    return BalticHullAreas(
        areas=areas,
        borders=borders(edges),
        trace=traces[f"waterline {heights[-1]:.3f} m"],
        edges=edges,
        waterline_traces=traces,
        overrides=overrides,
    )


def _check_facts(facts: Columns) -> None:
    """Refuse facts that are missing, not finite or impossible, and waterlines out of order."""
    word = str(needed(facts, "ice_class")[0])
    if word not in CLASSES:
        raise InputError("ship: ice_class", "no such ice class", value=word, allowed=", ".join(CLASSES))
    for name in (*EXTENT_CHAIN.inputs, *WATERLINE_CHAIN.inputs):
        if name in _KNOWN and name != "ice_class":
            _check_range(_KNOWN[name], needed(facts, name))
    heights = facts["waterline_height_m"]
    for name in ("side_start_aft_of_stem_m", "side_end_aft_of_stem_m"):
        if facts[name].shape != heights.shape:
            raise InputError(f"ship: {name}", "one value for each waterline", value=len(facts[name]),
                             allowed=f"{len(heights)} values")  # fmt: skip
    if not (np.diff(heights) > 0.0).all():
        raise InputError("ship: waterline_height_m", "the waterlines are not in order", value=np.round(heights, 3),
                         unit="m", allowed="upward, each once")  # fmt: skip
    before = facts["side_end_aft_of_stem_m"] < facts["side_start_aft_of_stem_m"]
    if before.any():
        row = int(np.flatnonzero(before)[0])
        raise InputError(
            "ship: side_end_aft_of_stem_m", f"the parallel side at {heights[row]:.3f} m ends before it begins",
            value=float(facts["side_end_aft_of_stem_m"][row]), unit="m",
            allowed=f"from {facts['side_start_aft_of_stem_m'][row]:.3f} aft",
        )  # fmt: skip


def needed(facts: Columns, name: str) -> FloatArray:
    """Return a fact's column (k,); a missing or empty one is an InputError that names it."""
    values = facts.get(name)
    if values is None or len(values) == 0:
        raise InputError(f"ship: {name}", "is missing", allowed="a value")
    return values


def _check_range(quantity: Quantity, values: FloatArray) -> None:
    """Refuse a number that is not finite or out of its range."""
    least = -_GREATEST_M if quantity.name in _MAY_BE_NEGATIVE else 0.0 if quantity.name in _MAY_BE_ZERO else 1e-9
    inside = (values >= least) & (values <= _GREATEST_M)
    if not inside.all():
        row = int(np.flatnonzero(~inside)[0])
        raise InputError(f"ship: {quantity.name}", quantity.meaning, value=float(values[row]),
                         unit=quantity.unit.symbol, allowed=f"{least:g} to {_GREATEST_M:g}")  # fmt: skip
