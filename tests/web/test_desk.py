"""The desk: what the pages show belongs to one state, is refused where there is none, is kept and compared as data."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from tests.web.browser import copy_of

from beltwright.app.compare import compare_results
from beltwright.core.errors import InputError
from beltwright.web.desk import SHEETS, Desk

pytestmark = pytest.mark.slow


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """The smaller polar demo ship on the desk, with the offset table as her hull."""
    folder = copy_of("merrow-tarn", tmp_path)
    text = (folder / "ship.toml").read_text("utf-8").replace('"hull.step"', '"hull_offsets.csv"')
    (folder / "ship.toml").write_text(text, "utf-8")
    made = Desk(folder)
    yield made
    made.close()


def test_before_there_are_results_everything_that_stands_on_them_is_refused(desk: Desk) -> None:
    assert desk.colouring("thickness") is None
    assert desk.documents() == ()
    assert desk.load_patch(0) == ([], 1)
    assert "out of date" in desk.begin_least()
    for ask in (desk.shell, lambda: desk.drawing("profile"), desk.make_documents, lambda: desk.keep(name="a", note="")):
        with pytest.raises(InputError, match=r"no results yet|out of date"):
            ask()


def test_pictures_belong_to_one_state_and_listeners_hear_in_order(desk: Desk) -> None:
    heard: list[str] = []
    end = desk.listen(heard.append)
    asyncio.run(desk.recompute())
    assert heard == ["plates", "results"]
    number, shell = desk.number, desk.shell()
    for sheet in SHEETS:
        ET.fromstring(desk.drawing(sheet))
    assert asyncio.run(desk.edit(lambda: desk.session.change({("ice", "ice_class"): "PC4"}))) == ""
    assert heard[2:] == ["edited", "plates", "results"]
    assert desk.number == number + 1
    assert desk.shell() != shell  # the borders of the hull areas moved
    refused = asyncio.run(desk.edit(lambda: desk.session.change({("hull", "depth_m"): 900.0})))
    assert "at most 60" in refused
    assert heard[5:] == []
    end()
    with pytest.raises(InputError, match="no such drawing"):
        desk.drawing("../profile")


def test_a_state_is_kept_and_compared_with_the_one_in_force(desk: Desk) -> None:
    asyncio.run(desk.recompute())
    line = desk.keep(name="as opened", note="PC6")
    asyncio.run(desk.edit(lambda: desk.session.change({("ice", "ice_class"): "PC7"})))
    made = compare_results(desk.state(line.number), desk.state(0))
    assert [(d.what, d.before, d.after) for d in made.settings] == [("ice.ice_class", "PC6", "PC7")]
    steel = next(d for d in made.figures if d.what.startswith("steel"))
    assert float(steel.difference) < 0.0
    assert made.plates
    with pytest.raises(InputError, match="no such revision; found 9"):
        desk.state(9)


def test_a_state_is_not_kept_with_a_hull_file_that_is_not_its_own(desk: Desk) -> None:
    asyncio.run(desk.recompute())
    hull = desk.session.read.hull_file
    content = hull.read_bytes()
    assert desk.record.revision(desk.keep(name="as opened", note="").number).hull_file == content
    hull.write_bytes(content + b"\n")
    with pytest.raises(InputError, match="a file of the ship has changed"):
        desk.keep(name="another hull", note="")
    assert len(desk.record.revisions()) == 1


def test_where_there_is_no_result_the_last_one_stays_and_says_so(desk: Desk) -> None:
    asyncio.run(desk.recompute())
    before = desk.results
    asyncio.run(desk.edit(lambda: desk.session.change({("hull", "depth_m"): 3.0})))
    assert desk.results is before
    assert not desk.session.up_to_date
    assert desk.error
    with pytest.raises(InputError, match="out of date"):
        desk.keep(name="b", note="")
    asyncio.run(desk.edit(desk.session.undo))
    assert desk.session.up_to_date
    assert desk.error == ""
