"""The small test ship's form at 2.4 times its size: heavy enough for every load to follow her displacement."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from tests.scantlings import ships

from beltwright.hull.forms.build import hull_patches
from beltwright.scantlings.design import Design

SCALE = 2.4


def grown(doc: dict[str, Any]) -> None:
    """The description at that size, PC6, frames 0.5 m apart."""
    doc["hull"]["depth_m"] *= SCALE
    for line in doc["waterlines"].values():
        for point in line:
            point["draught_m"] *= SCALE
            point["x_m"] *= SCALE
    doc["ice"]["ice_class"] = "PC6"
    doc["frames"] = [{"from_frame": -8, "to_frame": 252, "spacing_m": 0.5}]
    for level in doc["levels"]:
        level["height_m"] *= SCALE
    ends = {-3: -8, 106: 252, 13: 32, 82: 196}
    for zone in doc["zones"]:
        zone["from_frame"], zone["to_frame"] = ends[zone["from_frame"]], ends[zone["to_frame"]]
    doc["steel"] = {"plate_grade": "EH36", "frame_grade": "EH36"}


@cache
def design() -> Design:
    """Return the design, made once."""
    form, bow, stern = ships.FORM, ships.FORM.bow, ships.FORM.stern
    scaled = replace(
        form, name="Large test ship", stem_x_m=form.stem_x_m * SCALE, beam_m=form.beam_m * SCALE,
        depth_m=form.depth_m * SCALE, draught_m=form.draught_m * SCALE,
        bow=replace(bow, station_aft_of_stem_m=tuple(x * SCALE for x in bow.station_aft_of_stem_m),
                    length_m=bow.length_m * SCALE),
        stern=replace(stern, parallel_side_end_x_m=stern.parallel_side_end_x_m * SCALE,
                      transom_x_m=stern.transom_x_m * SCALE,
                      transom_half_breadth_m=stern.transom_half_breadth_m * SCALE),
    )  # fmt: skip
    return ships.designed(grown, faces=hull_patches(scaled))
