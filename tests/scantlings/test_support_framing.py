"""Frames that pass through webs: their fitted depth beside the height that ship.toml gives."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.scantlings.ships import Document, Edit, baseline, redesigned

from beltwright.scantlings.design import Design

WEB = {"web_height_mm": 800.0, "web_thickness_as_built_mm": 20.0, "web_stiffener_spacing_mm": 500.0}


def webs(**heights: float) -> list[Edit]:
    """Web frames of side and bottom, and stringers, with a height of the framing that passes through."""

    def edit(doc: Document) -> None:
        doc["web_frames"] = [
            {**WEB, "zone": zone, "penetrating_height_mm": heights.get(zone, 0.0)} for zone in ("side", "bottom")
        ]
        doc["stringers"] = [{**WEB, "penetrating_height_mm": heights.get("stringers", 0.0)}]

    return [edit]


def told(design: Design) -> list[str]:
    return [str(finding) for finding in design.findings if finding.kind.code == "BW484"]


def columns(design: Design) -> dict[str, Any]:
    assert design.supports_run is not None
    table = design.supports_run.table
    return {name: table[name].data for name in ("kind", "zone", "id", "framing_least_mm", "penetrating_height_mm")}


def least_of(design: Design, zone: str, kind: str) -> float:
    at = columns(design)
    return float(np.nanmin(at["framing_least_mm"][(at["zone"] == zone) & (at["kind"] == kind)]))


def test_the_depth_is_that_of_the_frames_that_end_on_the_web() -> None:
    """A second way: through floors of the bottom pass its longitudinals, through stringers the frames of the side."""
    design = baseline()
    at, frames = columns(design), design.frames
    depth = np.full(frames.rows, np.nan)
    run = design.framing_run
    depth[run.members] = run.values["stiffener_height_mm"][run.governing]
    lower, upper = (design.arrangement.frames.labels(f"{end}_level") for end in ("lower", "upper"))
    zone = frames.labels("zone")
    for name in ("stringer", "upper stringer"):
        bays = np.char.endswith(at["id"].astype(str), f"/{name}") & (at["kind"] == "stringer")
        assert bays.any()
        side = (zone == "side") & ((lower == name) | (upper == name))
        assert np.nanmin(at["framing_least_mm"][bays]) == np.nanmin(depth[side])
    floors = (at["zone"] == "bottom") & (at["kind"] == "web frame")
    assert np.nanmin(at["framing_least_mm"][floors]) == np.nanmin(depth[zone == "bottom"])
    # side frames stand beside the web frames of the side and pass through none of them
    inner = (at["zone"] == "side") & (at["kind"] == "web frame")
    assert np.isnan(at["framing_least_mm"][inner]).sum() > 0.9 * inner.sum()


@pytest.mark.parametrize("zone", ["bottom", "stringers"])
def test_a_height_above_the_least_frame_is_told(zone: str) -> None:
    design = baseline()
    of = ("bottom", "web frame") if zone == "bottom" else ("side", "stringer")
    least = least_of(design, *of)
    assert told(design) == []
    allowed = redesigned(*webs(**{zone: least + 1.0}))  # 1 mm is what the deduction takes off
    assert told(allowed) == []
    (words,) = told(redesigned(*webs(**{zone: least + 1.5})))
    assert f"{least + 1.5:g} mm given, the least frame fitted is {least:g} mm deep, net" in words


def test_a_height_where_nothing_passes_is_told() -> None:
    (words,) = told(redesigned(*webs(side=100.0)))
    assert "100 mm given, no frame passes through it" in words
