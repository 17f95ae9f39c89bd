"""Ship folders: chosen by number, made under safe names, left whole when something is wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from tests.app.test_new_ship import ANSWERS, HULL
from tests.web.browser import copy_of

from beltwright.core.errors import InputError
from beltwright.hull.placing import HullSettings
from beltwright.web.workshop import Workshop


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    """A workshop with one demo ship."""
    copy_of("merrow-tarn", tmp_path)
    made = Workshop(tmp_path)
    yield made
    made.close()


def test_ships_are_listed_and_opened_by_number(workshop: Workshop) -> None:
    assert [path.name for path in workshop.ships()] == ["merrow-tarn"]
    assert workshop.open(0).session.ship.ship.name == "Merrow Tarn"
    for number in (-1, 1, 10**9):
        with pytest.raises(InputError, match="there is no such ship"):
            workshop.open(number)
    assert workshop.desk is not None


def test_a_new_ship_lies_under_a_safe_name_with_its_hull(workshop: Workshop) -> None:
    hull = workshop.take_in("../../evil/../hull.csv", HULL.read_bytes())
    answers = replace(ANSWERS, name="../New / Ship", hull_file=hull.name)
    desk = workshop.new_ship(answers, HullSettings(), hull, (-2.3, 85.8))
    assert desk.session.folder == workshop.root / "new-ship"
    assert (desk.session.folder / "hull.csv").read_bytes() == HULL.read_bytes()
    with pytest.raises(InputError, match="a folder of this name is there already"):
        workshop.new_ship(answers, HullSettings(), hull, (-2.3, 85.8))


def test_a_description_that_cannot_be_leaves_no_folder_and_the_ship_on_the_desk(workshop: Workshop) -> None:
    before = workshop.open(0)
    hull = workshop.take_in("hull.csv", HULL.read_bytes())
    with pytest.raises(InputError, match=r"hull\.depth_m"):
        workshop.new_ship(replace(ANSWERS, name="Bad", depth_m=900.0), HullSettings(), hull, (0.0, 80.0))
    assert not (workshop.root / "bad").exists()
    assert workshop.desk is before
