"""The table of renewal on the shell expansion: what it says, where it stands, and when it is left out."""

from __future__ import annotations

import itertools
from dataclasses import replace

from tests.drawing import sample

from beltwright.drawing.lettering import boxes_overlap
from beltwright.drawing.picture import AreaPicture, ShipPicture
from beltwright.drawing.scene import Scene, Words
from beltwright.drawing.sheets.legend import RENEWAL_WIDTH, renewal_table
from beltwright.drawing.sheets.shell_expansion import draw

HEADING = "Renewal of plating: least to most of the panels"


def told(area: AreaPicture) -> AreaPicture:
    """An area with plating, net thickness and renewal."""
    if area.code == "Mb":
        return area
    return replace(area, plating="17.5 to 23.5", net_required="12.4 to 21.0", renewal="12.9 to 21.5")


def picture() -> ShipPicture:
    """The invented ship with a renewal thickness in every area but one."""
    base = sample.picture()
    return replace(base, areas=tuple(told(area) for area in base.areas))


def words_of(scene: Scene) -> dict[str, list[Words]]:
    """The words of a scene by their text."""
    found: dict[str, list[Words]] = {}
    for one in scene.words():
        found.setdefault(one.text, []).append(one)
    return found


def test_every_area_with_a_renewal_has_a_line() -> None:
    given = picture()
    found = words_of(draw(given))
    assert len(found[HEADING]) == 1
    assert len(found["12.9 to 21.5"]) == len(found["12.4 to 21.0"]) == len(given.areas) - 1


def test_nothing_overlaps_and_nothing_leaves_the_sheet() -> None:
    scene = draw(picture())
    words = list(scene.words())
    table = [one for one in words if one.text in (HEADING, "12.9 to 21.5", "12.4 to 21.0", "renew below, mm")]
    for one, other in itertools.product(table, words):
        assert one is other or not boxes_overlap(one.box, other.box, -0.01), (one.text, other.text)
    for one in table:
        assert one.box[:, 0].max() <= scene.width_mm - 10.0
        assert one.box[:, 1].min() >= 10.0


def test_the_table_is_as_wide_as_it_says() -> None:
    items = [item for item in renewal_table(picture(), 0.0, 100.0) if isinstance(item, Words)]
    assert max(float(item.box[:, 0].max()) for item in items) <= RENEWAL_WIDTH


def test_without_a_renewal_there_is_no_table() -> None:
    assert renewal_table(sample.picture(), 0.0, 100.0) == []
    assert HEADING not in words_of(draw(sample.picture()))
