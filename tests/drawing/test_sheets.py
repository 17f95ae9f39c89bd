"""Every sheet: nothing overlaps, nothing leaves the border, and lines stand where the ship's numbers say."""

from __future__ import annotations

import dataclasses
import importlib.util
import itertools
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
import shapely

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.lettering import boxes_overlap
from beltwright.drawing.picture import PanelPicture, PlatePicture, ShipPicture, StationPicture
from beltwright.drawing.regions import lines_between, regions_of, seams_and_butts, uncovered
from beltwright.drawing.registry import Sheet, SheetRegistry
from beltwright.drawing.scene import Dot, Filled, Layer, Lines, Scene, Words
from beltwright.drawing.sheets import shell_expansion
from beltwright.drawing.sheets.angles import angle_figure, conventions_figure
from beltwright.drawing.sheets.shell_expansion import LEAST_REGION_MM2
from beltwright.drawing.standard import standard_sheets


def _sample() -> ModuleType:
    spec = importlib.util.spec_from_file_location("drawing_sample", Path(__file__).parent / "sample.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def picture() -> ShipPicture:
    found: ShipPicture = _sample().picture()
    return found


@pytest.fixture(scope="module")
def scenes(picture: ShipPicture) -> dict[str, Scene]:
    return {sheet.id: sheet.draw(picture) for sheet in standard_sheets().all()}


SHEETS = [sheet.id for sheet in standard_sheets().all()]


def overlaps(scene: Scene) -> list[tuple[str, str]]:
    """Pairs of words whose boxes share more than a hair."""
    words = list(scene.words())
    boxes = [word.box for word in words]
    bounds = [(*box.min(axis=0), *box.max(axis=0)) for box in boxes]
    found = []
    for i, j in itertools.combinations(range(len(words)), 2):
        a, b = bounds[i], bounds[j]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] and boxes_overlap(boxes[i], boxes[j], -0.01):
            found.append((words[i].text, words[j].text))
    return found


def items(scene: Scene, kind: type) -> list:  # type: ignore[type-arg]
    return [item for group in scene.groups for item in group.items if isinstance(item, kind)]


def texts(scene: Scene) -> str:
    return "\n".join(word.text for word in scene.words())


@pytest.mark.parametrize("sheet", SHEETS)
def test_no_two_words_overlap(scenes: dict[str, Scene], sheet: str) -> None:
    assert overlaps(scenes[sheet]) == []
    assert len(list(scenes[sheet].words())) > 40


def test_the_overlap_check_sees_an_overlap(scenes: dict[str, Scene]) -> None:
    scene = scenes["profile"]
    first = next(scene.words())
    twice = dataclasses.replace(
        scene, groups=(*scene.groups, dataclasses.replace(scene.groups[0], items=(first,), window=None))
    )
    assert (first.text, first.text) in overlaps(twice)


@pytest.mark.parametrize("sheet", SHEETS)
def test_words_lie_inside_the_border(scenes: dict[str, Scene], sheet: str) -> None:
    scene = scenes[sheet]
    for word in scene.words():
        low, high = word.box.min(axis=0), word.box.max(axis=0)
        assert low[0] >= 20.0, word.text
        assert low[1] >= 10.0, word.text
        assert high[0] <= scene.width_mm - 10.0, word.text
        assert high[1] <= scene.height_mm - 10.0, word.text


@pytest.mark.parametrize("sheet", SHEETS)
def test_lines_lie_on_the_paper(scenes: dict[str, Scene], sheet: str) -> None:
    scene = scenes[sheet]
    runs = [run for item in items(scene, Lines) for run in item.runs]
    assert len(runs) > 50
    for run in runs:
        assert np.isfinite(run).all()
        assert run.min() >= 0.0
        assert (run.max(axis=0) <= [scene.width_mm, scene.height_mm]).all()


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_title_block_says_what_it_must(scenes: dict[str, Scene], sheet: str, picture: ShipPicture) -> None:
    said = texts(scenes[sheet])
    title = picture.title
    for wanted in (
        title.ship,
        title.owner,
        title.yard,
        title.designer,
        title.ice_class,
        title.rules,
        "9.669 kt",
        "95.00 m",
    ):
        assert wanted in said
    assert title.input_hash[:12] in said
    assert "not approved by a classification society" in said


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_same_picture_gives_the_same_bytes(picture: ShipPicture, sheet: str) -> None:
    draw = standard_sheets().sheet(sheet).draw
    assert to_svg(draw(picture)) == to_svg(draw(picture))


def test_the_expansion_is_true_to_scale(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    """The upper waterline's length and height on paper equal the ship's, at the scale written."""
    scene = scenes["shell-expansion"]
    scale = int(next(w.text for w in scene.words() if w.text.startswith("1:")).split(":")[1])
    line = next(item for item in items(scene, Lines) if item.layer is Layer.UPPER_WATERLINE).runs[0]
    wanted = picture.upper.expansion
    assert np.ptp(line[:, 0]) == pytest.approx(np.ptp(wanted[:, 0]) * 1000.0 / scale, abs=1e-9)
    assert np.ptp(line[:, 1]) == pytest.approx(np.ptp(wanted[:, 1]) * 1000.0 / scale, abs=1e-9)
    assert "true girth" in texts(scene)


def test_every_panel_is_filled_once_and_knows_its_row(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    """Shell outside every area has no tint of its own: nothing is drawn of it on paper."""
    for sheet in ("shell-expansion", "profile"):
        fills = [item for group in scenes[sheet].groups if group.name == "hull areas" for item in group.items]
        filled = [item for item in fills if isinstance(item, Filled)]
        rows = sorted(row for item in filled for row in item.rows)
        assert rows == [
            row for row, panel in enumerate(picture.panels) if sheet == "shell-expansion" or len(panel.profile)
        ]
        for item in filled:
            assert len(item.rows) == len(item.rings)
            assert {picture.panels[row].hull_area for row in item.rows} == {
                item.fill.removeprefix("area-").replace("none", "")
            }


def test_a_panel_not_met_is_marked(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    groups = [group for group in scenes["shell-expansion"].groups if group.name == "hull areas"]
    marked = [i for group in groups for i in group.items if isinstance(i, Lines) and i.layer is Layer.NOT_MET]
    assert sum(len(item.runs) for item in marked) == sum(1 for panel in picture.panels if not panel.met) == 1


@pytest.mark.parametrize("sheet", ["shell-expansion", "profile"])
def test_every_hull_area_is_named(scenes: dict[str, Scene], picture: ShipPicture, sheet: str) -> None:
    present = {panel.hull_area for panel in picture.panels if panel.hull_area}
    large = {word.text for word in scenes[sheet].words() if word.bold and word.size_mm >= 4.0}
    assert present <= large


def test_every_plate_group_has_its_callout(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    said = texts(scenes["shell-expansion"])
    assert all(panel.plate in said for panel in picture.panels)
    assert all(line in said for callout in picture.frame_callouts for line in callout.lines)


def test_every_region_of_plating_large_enough_is_labelled_once(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    scene = scenes["shell-expansion"]
    scale = int(next(w.text for w in scene.words() if w.text.startswith("1:")).split(":")[1])
    regions = [r for r in regions_of(picture.panels) if r.area_m2 * (1000.0 / scale) ** 2 >= LEAST_REGION_MM2]
    said = [word.text for word in scene.words()]
    assert len(regions) >= 10
    for plate in {region.plate for region in regions if region.plate}:
        assert said.count(plate) == sum(1 for region in regions if region.plate == plate)


def test_shell_without_requirement_is_labelled_and_in_the_legend(scenes: dict[str, Scene]) -> None:
    said = texts(scenes["shell-expansion"])
    assert "above the belt: no ice strengthening asked" in said
    assert "white: no ice strengthening asked" in said


def square_panel(x: float, y: float, group: str, plate: str) -> PanelPicture:
    outline = np.array([(x, y), (x + 1.0, y), (x + 1.0, y + 1.0), (x, y + 1.0)])
    return PanelPicture(id="", outline=outline, profile=outline, hull_area="M", group=group, met=True, plate=plate)


def test_regions_are_contiguous_panels_of_one_plate_and_group() -> None:
    """Hand: a row of squares a a | b b | a by thickness: three regions, two lines of 1 m."""
    panels = [square_panel(float(x), 0.0, "1", plate) for x, plate in enumerate("aabba")]
    regions = regions_of(panels)
    assert sorted((r.plate, len(r.places)) for r in regions) == [("a", 1), ("a", 2), ("b", 2)]
    assert sorted(round(r.area_m2, 6) for r in regions) == [1.0, 2.0, 2.0]
    runs = lines_between(regions)
    assert sorted(float(np.mean(run[:, 0])) for run in runs) == pytest.approx([2.0, 4.0], abs=0.03)
    assert [float(np.ptp(run[:, 1])) for run in runs] == pytest.approx([1.0, 1.0], abs=0.05)


def test_a_change_of_group_alone_and_a_gap_part_regions_but_an_outline_s_slip_does_not() -> None:
    assert len(regions_of([square_panel(0.0, 0.0, "1", "a"), square_panel(1.0, 0.0, "2", "a")])) == 2
    assert len(regions_of([square_panel(0.0, 0.0, "1", "a"), square_panel(1.5, 0.0, "1", "a")])) == 2
    assert len(regions_of([square_panel(0.0, 0.0, "1", "a"), square_panel(1.01, 0.0, "1", "a")])) == 1
    assert lines_between(regions_of([square_panel(0.0, 0.0, "1", "a"), square_panel(1.0, 1.0, "2", "a")])) == []


def square_plate(x: float, y: float, name: str) -> PlatePicture:
    ring = np.array([(x, y), (x + 1.0, y), (x + 1.0, y + 1.0), (x, y + 1.0)])
    return PlatePicture(name=name, rings=(ring,), words="20 EH36", places=ring.mean(axis=0)[None])


def test_seams_and_butts_are_drawn_once_and_not_along_the_outline() -> None:
    """hand: four square plates, two by two: a seam and a butt of 2 m; only one of 1 m where half is no shell."""
    plates = [square_plate(float(x), float(y), f"C{x}/S{y}") for x in range(2) for y in range(2)]
    outline = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)])
    shell = regions_of([square_panel(float(x), float(y), "1", "a") for x in range(2) for y in range(2)])
    assert sum(shapely.LineString(run).length for run in seams_and_butts(plates, outline, shell)) == pytest.approx(
        4.0, abs=0.2
    )
    half = regions_of([square_panel(0.0, float(y), "1", "a") for y in range(2)])
    inner = seams_and_butts(plates, outline, half)
    assert all(run[:, 0].max() <= 1.05 for run in inner)


def test_a_sheet_of_laid_plates_letters_each_of_them(picture: ShipPicture) -> None:
    outline = picture.expansion_outline
    x0, x1, top = float(outline[:, 0].min()), float(outline[:, 0].max()), float(outline[:, 1].max())
    rings = [
        np.array([(a, 0.0), (b, 0.0), (b, 0.6 * top), (a, 0.6 * top)])
        for a, b in itertools.pairwise(np.linspace(x0, x1, 4))
    ]
    laid = tuple(
        PlatePicture(name=f"C{n}/S1", rings=(ring,), words=f"{20 + n} FH36",
                     places=ring.mean(axis=0)[None])
        for n, ring in enumerate(rings, 1)
    )  # fmt: skip
    said = texts(shell_expansion.draw(dataclasses.replace(picture, plates=laid)))
    for plate in laid:
        assert plate.words in said
        assert plate.name in said
    assert "seam or butt of the plates laid" in said
    assert not any(panel.plate in said.split("\n") for panel in picture.panels if panel.plate), (
        "regions are not lettered"
    )


def test_what_no_panel_covers_of_an_outline() -> None:
    outline = np.array([(0.0, 0.0), (5.0, 0.0), (5.0, 1.0), (0.0, 1.0)])
    pieces = uncovered(outline, regions_of([square_panel(float(x), 0.0, "1", "a") for x in range(2, 5)]))
    assert len(pieces) == 1
    place, area = pieces[0]
    assert 0.0 < place[0] < 2.0
    assert area == pytest.approx(2.0, rel=0.15)


def test_the_profile_says_how_openings_are_measured(scenes: dict[str, Scene]) -> None:
    assert "openings: height is measured along the girth" in " ".join(texts(scenes["profile"]).split()).lower()


def test_borders_are_dimensioned_from_both_ends_and_by_frame(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    said = texts(scenes["profile"])
    for border in picture.borders:
        if border.transverse:
            assert border.x_m is not None
            assert f"{border.x_m:.2f} m from the aft perpendicular, {border.frame}" in said
            assert f"{picture.stem_x_m - border.x_m:.2f} m from the stem" in said


def test_every_angle_of_every_station_is_written(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    said = texts(scenes["body-plan"])
    for station in picture.stations:
        for symbol, angle in (("α", station.alpha_deg), ("β", station.beta_deg), ("γ", station.gamma_deg)):
            assert f"{station.name}: {symbol} {angle:.1f}°" in said


def test_every_section_has_its_frame_number(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    """Each number alone, or inside a run of sections that draw one line."""
    group = next(group for group in scenes["body-plan"].groups if group.name == "body plan")
    said = [word.text for word in group.items if isinstance(word, Words)]
    spans = [text.split(" to ") for text in said if text.replace(" to ", "").lstrip("-").isdigit()]
    covered = [(int(span[0]), int(span[-1])) for span in spans]
    assert all(any(low <= int(s.frame) <= high for low, high in covered) for s in picture.sections)


def test_ticks_stand_where_the_belt_edges_cross_the_sections(scenes: dict[str, Scene], picture: ShipPicture) -> None:
    """The upper edge of the sample's belt lies level, 1.5 m above the waterline: one tick on each section there."""
    from beltwright.drawing.sheets.sections import breadth_at

    scene = scenes["body-plan"]
    mm = 1000.0 / int(next(w.text for w in scene.words() if w.text.startswith("1:")).split(":")[1])
    group = next(group for group in scene.groups if group.name == "body plan")
    axis = next(item for item in group.items if isinstance(item, Lines) and item.layer is Layer.AXIS).runs[0]
    foot = next(item for item in group.items if isinstance(item, Lines) and item.layer is Layer.UPPER_WATERLINE).runs[0]
    ticks = next(item for item in group.items if isinstance(item, Lines) and item.layer is Layer.DIMENSION).runs
    high = [tick for tick in ticks if tick.mean(axis=0)[1] == pytest.approx(foot[0, 1] + 1.5 * mm, abs=1e-6)]
    breadths = [breadth_at(s.points, 9.1) for s in picture.sections]  # 7.6 m + 1.5 m
    wanted = sorted(b for b in breadths if b is not None)
    assert len(wanted) >= 15
    assert sorted(abs(t[0, 0] - axis[0, 0]) / mm for t in high) == pytest.approx(wanted, abs=1e-6)


def test_the_body_plan_states_scale_base_line_waterlines_and_cautions(scenes: dict[str, Scene]) -> None:
    said = texts(scenes["body-plan"])
    for words in ("Body plan, seen from ahead, 1:", "base line, z = 0", "UIWL", "LIWL", "Cautions"):
        assert words in said


@pytest.mark.parametrize(
    ("height", "breadth"), [(0.0, 2.0), (1.0, 3.0), (2.0, 4.0), (3.0, 4.0), (3.5, None)]
)  # hand: flat bottom to y = 2, a slope of 45 degrees to y = 4 at z = 2, upright to z = 3
def test_the_breadth_of_a_section_at_a_height(height: float, breadth: float | None) -> None:
    from beltwright.drawing.sheets.sections import breadth_at

    section = np.array([(0.0, 0.0), (2.0, 0.0), (4.0, 2.0), (4.0, 3.0)])
    found = breadth_at(section, height)
    assert found is None if breadth is None else found == pytest.approx(breadth)


def test_words_of_the_angles_keep_clear_of_the_stem(picture: ShipPicture) -> None:
    """A station close to an upright stem: its value stands beside the outline, not across it."""
    import shapely

    outline = np.array([(-1.6, 0.0), (98.0, 0.0), (98.0, 10.4), (-1.6, 10.4)])
    scene = standard_sheets().sheet("body-plan").draw(dataclasses.replace(picture, profile_outline=outline))
    group = next(group for group in scene.groups if group.name == "bow profile")
    stem = next(item for item in group.items if isinstance(item, Lines) and item.layer is Layer.SHELL).runs[0]
    words = [item for item in group.items if isinstance(item, Words) and item.layer is Layer.ANGLE_WORDS]
    assert len(words) == 4
    assert not any(shapely.LineString(stem).intersects(shapely.Polygon(word.box)) for word in words)


def test_an_angle_that_does_not_apply_is_a_dash(picture: ShipPicture) -> None:
    stations = (dataclasses.replace(picture.stations[0], gamma_deg=None, reason="parallel"), *picture.stations[1:])
    scene = standard_sheets().sheet("body-plan").draw(dataclasses.replace(picture, stations=stations))
    said = texts(scene)
    assert "station 1: γ n/a" in said
    assert "–" in said
    assert "nan" not in said.lower()


@pytest.mark.parametrize("number", range(4))
def test_angle_figures_have_three_views(picture: ShipPicture, number: int) -> None:
    station: StationPicture = picture.stations[number]
    scene = angle_figure(picture, station)
    assert overlaps(scene) == []
    assert len(items(scene, Dot)) == 3
    assert f"section: β {station.beta_deg:.1f}°" in texts(scene)


def test_the_conventions_figure_has_no_overlap(picture: ShipPicture) -> None:
    assert overlaps(conventions_figure(picture)) == []


def test_a_registry_refuses_a_second_sheet_of_one_id() -> None:
    registry = SheetRegistry()
    sheet = Sheet(id="a", title="A", draw=lambda _: Scene(width_mm=1, height_mm=1, title="", description="", groups=()))
    registry.register(sheet)
    with pytest.raises(ValueError, match="a is registered already"):
        registry.register(sheet)
    with pytest.raises(KeyError, match="no sheet b; known: a"):
        registry.sheet("b")


def test_the_words_of_a_hostile_name_stay_words(picture: ShipPicture) -> None:
    title = dataclasses.replace(picture.title, ship='<script>"&\x07', owner="]]>&amp;")
    svg = to_svg(standard_sheets().sheet("profile").draw(dataclasses.replace(picture, title=title)))
    import xml.etree.ElementTree as ET

    said = [element.text or "" for element in ET.fromstring(svg).iter() if element.tag.endswith("text")]
    assert '<script>"&' in said
    assert "]]>&amp;" in said
    assert not [e.tag for e in ET.fromstring(svg).iter() if e.tag.endswith("script")]


def test_words_of_all_sheets_are_words(scenes: dict[str, Scene]) -> None:
    for scene in scenes.values():
        for word in scene.words():
            assert isinstance(word, Words)
            assert word.text.strip()
