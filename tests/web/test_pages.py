"""The pages in a real browser: the main task by mouse and by keyboard, linked pictures, undo, kill and restart.

Screenshots are kept in build/pages.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright
from tests.web.browser import EXAMPLES, GRAPHICS, SHOTS, browser_path, copy_of, serving

pytestmark = pytest.mark.slow
WAIT_MS = 60_000
FAULTS: list[str] = []
NAMES_OF_FOCUS = """() => {
    const held = document.activeElement;
    return [held.getAttribute("aria-label"), held.labels?.[0]?.innerText, held.innerText].join("|");
}"""
expect.set_options(timeout=20_000)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The system's browser, without a window."""
    SHOTS.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=browser_path(), args=list(GRAPHICS))
        yield found
        found.close()


def opened(browser: Browser, address: str, *, width: int = 1280, height: int = 800) -> Page:
    """A tab on the address; faults in the page's own scripts are looked at by ``ready``."""
    page = browser.new_page(viewport={"width": width, "height": height}, accept_downloads=True)
    page.set_default_timeout(WAIT_MS)
    FAULTS.clear()
    page.on("pageerror", lambda error: FAULTS.append(str(error)))
    page.goto(address)
    return page


def ready(page: Page) -> None:
    """Wait until results stand and the drawing is coloured; nothing in the page has failed until then."""
    expect(page.locator(".state")).to_contain_text("current", timeout=WAIT_MS)
    expect(page.locator(".drawing-view [data-row][data-class]").first).to_be_attached(timeout=WAIT_MS)
    assert FAULTS == []


def serious(page: Page) -> list[str]:
    """What an accessibility run finds that is serious or worse."""
    found = Axe().run(page).response["violations"]
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in found if one["impact"] in ("serious", "critical")
    ]


def test_pictures_are_linked_edits_are_undone_and_nothing_is_lost(browser: Browser, tmp_path: Path) -> None:
    ship = copy_of("quillan-frostmark", tmp_path)
    with serving(ship) as server:
        page = opened(browser, server.address)
        ready(page)
        # a click on the drawing chooses the panel in the drawing, in three dimensions and in the story
        panel = page.locator('.drawing-view [data-name="F206/L4"]')
        panel.click(force=True)
        expect(page.locator(".headline", has_text="Plate F206/L4")).to_be_visible()
        expect(page.locator(".drawing-view .chosen-panel")).to_have_count(1)
        expect(page.locator(".view-mark")).to_be_visible()
        # the arrow keys go to the next panel forward
        page.locator(".drawing-view").focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator(".headline", has_text="Plate F207/L4")).to_be_visible()
        # a click on the hull chooses there too
        box = page.locator(".hull-view canvas").bounding_box()
        assert box is not None
        page.mouse.click(box["x"] + 0.33 * box["width"], box["y"] + 0.68 * box["height"])
        expect(page.locator(".headline", has_text="Plate F207/L4")).to_have_count(0)
        page.screenshot(path=SHOTS / "design-1280.png")
        # an edit: the class; results follow, and undo brings them back
        before = page.locator(".head").inner_text()
        page.get_by_role("combobox", name="Ice class").click()
        page.get_by_role("option", name="PC5").click()
        expect(page.locator(".head")).to_contain_text("PC5")
        ready(page)
        assert 'ice_class = "PC5"' in (ship / "ship.toml").read_text("utf-8")
        page.get_by_role("button", name="Undo").click()
        expect(page.locator(".head")).to_contain_text("PC4")
        ready(page)
        assert page.locator(".head").inner_text() == before
        page.get_by_role("button", name="Redo").click()
        expect(page.locator(".head")).to_contain_text("PC5")
        ready(page)
        # killed at once: what was acknowledged is there when it starts again, and can still be undone
        server.kill()
        page.close()
    with serving(ship) as server:
        page = opened(browser, server.address, width=1920, height=1080)
        expect(page.locator(".head")).to_contain_text("PC5")
        ready(page)
        page.screenshot(path=SHOTS / "design-1920.png")
        page.get_by_role("button", name="Undo").click()
        expect(page.locator(".head")).to_contain_text("PC4")
        ready(page)
        page.close()


def test_what_is_out_of_date_is_marked_and_a_refusal_moves_nothing(browser: Browser, tmp_path: Path) -> None:
    ship = copy_of("merrow-tarn", tmp_path)
    with serving(ship) as server:
        page = opened(browser, server.address)
        ready(page)
        text = (ship / "ship.toml").read_text("utf-8")
        page.get_by_text("Steel", exact=True).click()
        page.get_by_text("Hull file", exact=True).click()
        depth = page.get_by_label("Depth [m]")
        depth.fill("900")
        depth.press("Tab")
        expect(page.get_by_text(re.compile(r"hull\.depth_m.*found 900.*at most 60"))).to_be_visible()
        assert (ship / "ship.toml").read_text("utf-8") == text
        # a depth that the description allows and the hull does not reach: no result, and all pictures say so
        depth.fill("3")
        depth.press("Tab")
        expect(page.locator(".state")).to_contain_text("no result")
        expect(page.locator(".old-mark").first).to_be_visible()
        page.get_by_role("button", name="Undo").click()
        ready(page)
        expect(page.locator(".old-mark").first).to_be_hidden()
        page.close()


def test_from_a_hull_file_to_a_booklet_by_mouse(browser: Browser, tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        page = opened(browser, server.address)
        page.locator('input[type="file"]').set_input_files(EXAMPLES / "merrow-tarn" / "hull.step")
        expect(page.get_by_text("What the file shows")).to_be_visible()
        page.get_by_label("Name of the ship").fill("Trial Ship")
        page.get_by_label("Rules").click()
        page.get_by_role("option", name="polar_iacs_2019").click()
        page.get_by_label("Ice class").click()
        page.get_by_role("option", name="PC6").click()
        page.get_by_label("Draught at the upper ice waterline").fill("5.0")
        page.get_by_label("Draught at the lower ice waterline").fill("4.6")
        page.get_by_label("Propulsion").click()
        page.get_by_role("option", name="shafts with rudders").click()
        page.screenshot(path=SHOTS / "new-ship-1280.png", full_page=True)
        page.get_by_role("button", name="Make the ship and go to the design").click()
        ready(page)
        page.get_by_role("button", name="Documents").click()
        page.get_by_role("button", name="Make the documents").click()
        with page.expect_download() as waiting:
            page.get_by_role("link", name="save booklet.pdf").click()
        assert waiting.value.path().read_bytes().startswith(b"%PDF")
        assert waiting.value.path().stat().st_size > 100_000
        page.screenshot(path=SHOTS / "documents-1280.png")
        page.close()
    assert (tmp_path / "trial-ship" / "results" / "booklet.pdf").read_bytes().startswith(b"%PDF")


def test_from_a_hull_file_to_a_booklet_by_keyboard_alone(browser: Browser, tmp_path: Path) -> None:
    """Tab, arrows, Enter and typing only; the dialogue of the system that chooses a file is not the page's."""
    with serving(tmp_path) as server:
        page = opened(browser, server.address)

        def go_to(wanted: str) -> None:
            """Press Tab until what bears this label or these words, and nothing else, has the focus."""
            for _ in range(150):
                page.keyboard.press("Tab")
                told = page.evaluate(NAMES_OF_FOCUS)
                if wanted in (part.strip() for part in told.split("|")):
                    return
            pytest.fail(f"{wanted} is not reached by Tab")

        def choose(wanted: str, option: str) -> None:
            """Open a list with the arrow and go down until the wanted entry, then take it."""
            go_to(wanted)
            page.keyboard.press("ArrowDown")
            options = page.get_by_role("option")
            expect(options.first).to_be_visible()
            at = options.all_inner_texts().index(option)
            page.keyboard.press("Home")
            for _ in range(at):
                page.keyboard.press("ArrowDown")
            page.keyboard.press("Enter")
            expect(options).to_have_count(0)

        go_to("Choose a hull file")
        with page.expect_file_chooser() as dialogue:
            page.keyboard.press("Enter")
        dialogue.value.set_files(EXAMPLES / "merrow-tarn" / "hull.step")
        expect(page.get_by_text("What the file shows")).to_be_visible()
        go_to("Name of the ship")
        page.keyboard.type("Keys Only")
        choose("Ice class", "PC6")
        for label, number in (
            ("Draught at the upper ice waterline [m]", "5.0"), ("Draught at the lower ice waterline [m]", "4.6"),
        ):  # fmt: skip
            go_to(label)
            page.keyboard.type(number)
        choose("Propulsion", "shafts with rudders")
        go_to("Make the ship and go to the design")
        page.keyboard.press("Enter")
        ready(page)
        go_to("drawing; arrow keys go from panel to panel")
        page.keyboard.press("ArrowRight")
        page.keyboard.press("ArrowUp")
        expect(page.locator(".headline", has_text="Plate")).to_be_visible()
        go_to("Documents")
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Make the documents")).to_be_visible()
        go_to("Make the documents")
        page.keyboard.press("Enter")
        expect(page.get_by_role("link", name="save booklet.pdf")).to_be_visible(timeout=WAIT_MS)
        go_to("save booklet.pdf")
        with page.expect_download() as waiting:
            page.keyboard.press("Enter")
        assert waiting.value.path().read_bytes().startswith(b"%PDF")
        page.close()


def test_hostile_names_and_files_stay_words_and_are_refused(browser: Browser, tmp_path: Path) -> None:
    ship = copy_of("merrow-tarn", tmp_path)
    text = (ship / "ship.toml").read_text("utf-8")
    hostile = "<img src=x onerror=window.caught=1>"
    (ship / "ship.toml").write_text(text.replace('name = "Merrow Tarn"', f'name = "{hostile}"', 1), "utf-8")
    with serving(ship) as server:
        page = opened(browser, server.address)
        ready(page)
        expect(page.locator(".ship")).to_have_text(hostile)
        page.get_by_role("button", name="Ships").click()
        for name, content in (
            ("hull.step", b"ISO-10303-21; nonsense" * 50),
            ("hull.exe", b"MZ"),
            ("hull.stl", b"\x00" * 500),
        ):
            page.locator('input[type="file"]').set_input_files({"name": name, "mimeType": "x/y", "buffer": content})
            expect(page.get_by_role("alert").first).not_to_have_text("")
            expect(page.get_by_text("What the file shows")).to_have_count(0)
            page.reload()
        assert page.evaluate("window.caught") is None
        page.close()


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_nothing_serious_for_people_who_see_or_click_otherwise(browser: Browser, tmp_path: Path, dark: bool) -> None:
    ship = copy_of("merrow-tarn", tmp_path)
    with serving(ship) as server:
        page = opened(browser, server.address)
        page.emulate_media(color_scheme="dark" if dark else "light")
        ready(page)
        page.locator(".drawing-view").focus()
        page.keyboard.press("ArrowRight")
        for title in ("Design", "Bow angles", "Least structure", "Compare", "Documents", "Ships"):
            page.get_by_role("button", name=title, exact=True).click()
            page.wait_for_timeout(1500)
            page.screenshot(path=SHOTS / f"{title.lower().replace(' ', '-')}-{'dark' if dark else 'light'}.png")
            assert serious(page) == [], title
        page.close()
