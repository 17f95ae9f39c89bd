"""Every contradiction in the arrangement part of ship.toml is refused with its field, the value and what is allowed.

The control is the box itself: without the fault it is arranged without a finding but the one on its flat ends.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy

import pytest
from tests.arrangement.ships import Document, arranged, box_document, shell_of
from tests.hull.closed_form import box

from beltwright.core.errors import InputError
from beltwright.hull.spline_shell import SplineShell

Fault = Callable[[Document], None]


@pytest.fixture(scope="module")
def shell() -> SplineShell:
    return shell_of(box())


def level(number: int, **changes: object) -> Fault:
    return lambda doc: doc["levels"][number - 1].update(changes)


def zone(number: int, **changes: object) -> Fault:
    return lambda doc: doc["zones"][number - 1].update(changes)


def more_levels(*levels: Document) -> Fault:
    return lambda doc: doc["levels"].extend(levels)


def bulkheads(*entries: tuple[str, float]) -> Fault:
    return lambda doc: doc.update(bulkheads=[{"name": n, "frame": f} for n, f in entries])


FAULTS: list[tuple[str, Fault, str, str]] = [
    ("two levels of one name", level(2, name="main deck"), "levels[3].name",
     "this name is taken already; found main deck"),
    ("a level named keel", level(1, name="keel"), "levels[1].name", "this word means the centreline at the bottom"),
    ("a level above the depth", level(3, height_m=7.4), "levels[3].height_m",
     "lies above the depth, hull.depth_m; found 7.4 m; allowed: at most 7"),
    ("a level that rises without ends", level(2, height_forward_m=4.0), "levels[2].height_forward_m",
     "a level that rises needs both its ends"),
    ("two kinds at one height",
     more_levels({"name": "second", "kind": "load-distributing stringer", "height_m": 3.5}), "levels[4].height_m",
     "lies on 'stringer', told as load-carrying stringer there and as load-distributing stringer here; found 3.5 m"),
    ("two levels nearly at one height", more_levels({"name": "second", "kind": "deck", "height_m": 6.95}),
     "levels[4].height_m", "lies on 'main deck'; found 6.95 m; allowed: at least 0.1 m"),
    ("levels that cross", level(2, from_frame=0, to_frame=100, height_m=1.0, height_forward_m=5.0),
     "levels[2].height_m", "crosses 'inner bottom'"),
    ("a level off the frame table", level(2, from_frame=0, to_frame=120), "levels[2].to_frame",
     "lies outside the frame table; found 120; allowed: 0 to 100"),
    ("a level the wrong way round", level(2, from_frame=50, to_frame=40), "levels[2].to_frame",
     "must lie forward of from_frame; found 40; allowed: above 50"),
    ("an unknown level", zone(1, to_level="upper deck"), "zones[1].to_level",
     "no such level; found upper deck; allowed: inner bottom, stringer, main deck"),
    ("two zones of one name", zone(2, name="side"), "zones[2].name", "this name is taken already"),
    ("zones that overlap", zone(2, to_level="stringer"), "zones[2]",
     "lies over the zone 'side', frames 0 to 100; found bottom; allowed: zones that share edges only"),
    ("a zone upside down", zone(1, from_level="main deck", to_level="stringer"), "zones[1].to_level",
     "must lie above from_level"),
    ("half a frame", zone(1, from_frame=0.5), "zones[1].from_frame", "must be a whole frame number; found 0.5"),
    ("longitudinals without spacing", lambda doc: doc["zones"][1].pop("spacing_m"), "zones[2].spacing_m",
     "longitudinal framing needs its girth spacing"),
    ("transverse frames with a spacing of their own", zone(1, spacing_m=0.6), "zones[1].spacing_m",
     "transverse frames follow the frame table; found 0.6 m; allowed: not given"),
    ("oblique frames without angle", zone(2, orientation="oblique"), "zones[2].oblique_angle_deg",
     "oblique framing needs its angle to the waterline"),
    ("an angle without oblique frames", zone(1, oblique_angle_deg=40.0), "zones[1].oblique_angle_deg",
     "framing here is transverse; found 40 deg"),
    ("web frames between frames", zone(1, web_frame_spacing_m=2.5), "zones[1].web_frame_spacing_m",
     "near frame 4; found 2.5 m; allowed: a multiple of the frame spacing, 0.6 m there"),
    ("intermediate longitudinals", zone(2, intermediate_frames=True), "zones[2].intermediate_frames",
     "only transverse frames have intermediate ones"),
    ("a range of intermediate frames without any", zone(1, intermediate_to_level="stringer"),
     "zones[1].intermediate_to_level", "the zone has no intermediate frames"),
    ("intermediate frames outside the zone",
     zone(1, from_level="stringer", intermediate_frames=True, intermediate_from_level="inner bottom"),
     "zones[1].intermediate_from_level", "lies outside the zone; found inner bottom"),
    ("intermediate frames upside down",
     zone(1, intermediate_frames=True, intermediate_from_level="stringer", intermediate_to_level="stringer"),
     "zones[1].intermediate_to_level", "must lie above intermediate_from_level"),
    ("a span shortened without bracket", zone(1, lower_end={"span_reduction_m": 0.1}),
     "zones[1].lower_end.span_reduction_m", "is more than the bracket's arm; found 0.1 m; allowed: at most 0"),
    ("a level that ends inside the zone it bounds", level(1, from_frame=0, to_frame=60), "zones[1].from_level",
     "the level runs from frame 0 to 60 only; found inner bottom; allowed: a level from frame 0 to 100"),
    ("two bulkheads at one frame", bulkheads(("one", 20), ("other", 20)), "bulkheads[2].frame",
     "'one' stands at this frame already; found 20"),
    ("two bulkheads of one name", bulkheads(("one", 20), ("One", 40)), "bulkheads[2].name", "this name is taken"),
    ("a bulkhead off the frame table", bulkheads(("one", 101)), "bulkheads[1].frame",
     "lies outside the frame table; found 101; allowed: 0 to 100"),
    ("a frame table that ends inside the hull", lambda doc: doc["frames"][0].update(to_frame=90), "frames",
     "the last frame stands inside the hull, which reaches x = 60.000 m; found 90; allowed: 100 or more"),
    ("a zone beyond the hull",
     lambda doc: (doc["frames"][0].update(to_frame=140), doc["zones"][0].update(to_frame=140))[0],
     "zones[1].to_frame", "lies forward of the hull; found 140; allowed: 0 to 100"),
]  # fmt: skip


def test_the_control_is_sound(shell: SplineShell) -> None:
    result = arranged(box_document(), shell)
    assert [f.kind.code for f in result.findings] == ["BW213"]


@pytest.mark.parametrize(("fault", "field", "words"), [f[1:] for f in FAULTS], ids=[f[0] for f in FAULTS])
def test_a_contradiction_is_refused(shell: SplineShell, fault: Fault, field: str, words: str) -> None:
    doc = deepcopy(box_document())
    fault(doc)
    with pytest.raises(InputError) as caught:
        arranged(doc, shell)
    message = str(caught.value)
    assert message.startswith(f"ship.toml: {field}: ")
    assert words in message
    assert "\n" not in message


def test_a_stringer_cannot_claim_both_credits(shell: SplineShell) -> None:
    """It has one kind; told twice at one height it is refused, and a distributing one is no edge of a zone."""
    doc = box_document()
    doc["levels"][1]["kind"] = "load-distributing stringer"
    doc["zones"][0]["from_level"] = "stringer"
    with pytest.raises(InputError, match="a load-distributing stringer does not end frames, so it cannot be an edge"):
        arranged(doc, shell)
