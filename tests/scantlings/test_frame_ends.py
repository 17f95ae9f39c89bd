"""Frames that end inside a strengthened area although the shell goes on: what is named and what is not.

The small ship: UIWL at 3.8 m, so that the belt of a PC4 reaches up to 5.3 m (5.8 m at the stem); everything below it
but the midbody's bottom is strengthened. Levels at 1.0, 2.4, 3.8, 4.9 and 5.9 m, the last at the depth.
"""

from __future__ import annotations

from tests.scantlings import ships

from beltwright.arrangement.arrange import arrange
from beltwright.core.findings import Finding, Findings
from beltwright.scantlings.frame_ends import report_frame_ends


def told(*edits: ships.Edit, depth_m: float | None = None) -> dict[tuple[str, str], Finding]:
    """What is said of the arrangement of the edited ship on the small ship's hull, by number and place."""
    given = ships.ship(*edits)
    arrangement = arrange(given, ships.measured().shell) if edits else ships.arranged()
    if depth_m is not None:
        given = given.model_copy(update={"hull": given.hull.model_copy(update={"depth_m": depth_m})})
    findings = Findings()
    report_frame_ends(given, ships.baseline().areas, ships.measured(), arrangement, findings)
    return {(finding.kind.code, finding.where): finding for finding in findings}


def zone(number: int, **changed: object) -> ships.Edit:
    """A change of one framing zone: 0 the side, 1 the bottom."""
    return lambda doc: doc["zones"][number].update(changed)


def test_frames_that_reach_the_depth_and_the_tank_top() -> None:
    """Side frames reach from the tank top, where the bottom's longitudinals take over, to the depth."""
    found = told()
    assert {code for code, _ in found} == {"BW462"}
    message = found["BW462", "tank top"].message
    assert message.startswith("side to bottom, longitudinal: F")
    assert " more" in message
    assert any(finding.kind.code == "BW462" for finding in ships.baseline().findings)


def test_intermediate_frames_that_end_inside_the_belt_are_named() -> None:
    """From 2.4 m to 4.9 m: both ends lie in strengthened areas."""
    found = told(zone(0, intermediate_frames=True, intermediate_from_level="stringer",
                      intermediate_to_level="upper stringer"))  # fmt: skip
    for level in ("stringer", "upper stringer"):
        message = found["BW460", level].message
        assert message.startswith("side: F")
        assert ".5/" in message
    assert "BW461" not in {code for code, _ in found}


def test_intermediate_frames_carried_to_the_depth_are_named_below_only() -> None:
    found = told(zone(0, intermediate_frames=True))
    assert [where for code, where in found if code == "BW460"] == ["tank top"]


def test_frames_that_stop_at_a_deck_in_the_belt_with_nothing_above() -> None:
    """The deck at 3.8 m is the waterline itself: the belt goes on 1.5 m above it."""
    found = told(zone(0, to_level="deck"))
    assert "BW461" in {code for code, _ in found}
    assert found["BW461", "deck"].message.startswith("side: F")


def test_frames_that_end_above_the_belt_are_not_named() -> None:
    """On a ship of 8 m depth the shell goes on above the main deck at 5.9 m, but no strengthened area reaches there."""
    found = told(depth_m=8.0)
    assert [where for _, where in found if where == "main deck"] == []


def test_longitudinals_that_go_on_and_that_change_their_spacing() -> None:
    def split(spacing_m: float) -> ships.Edit:
        """The bottom in two zones that meet at frame 60, the forward one with its own spacing."""

        def edit(doc: ships.Document) -> None:
            forward = {**doc["zones"][1], "name": "bottom forward", "from_frame": 60, "spacing_m": spacing_m}
            doc["zones"][1]["to_frame"] = 60
            doc["zones"].append(forward)

        return edit

    same, other = told(split(0.6)), told(split(0.4))
    assert ("BW462", "frame 60") not in same
    message = other["BW462", "frame 60"].message
    assert "bottom to bottom forward, longitudinal" in message
    assert "bottom forward to bottom, longitudinal" in message
