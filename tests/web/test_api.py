"""The interface for other programs: what it answers, what it refuses, and that no request of its scheme breaks it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse
from hypothesis import HealthCheck, given, settings
from starlette.testclient import TestClient
from tests.web.browser import copy_of

from beltwright.core.errors import ToolError
from beltwright.web.api import interface
from beltwright.web.workshop import Workshop

pytestmark = pytest.mark.slow


def application(workshop: Workshop) -> FastAPI:
    """The interface alone, without pages."""
    app = FastAPI()

    @app.exception_handler(ToolError)
    async def refused(_: Request, error: Exception) -> JSONResponse:
        return JSONResponse({"error": str(error)}, status_code=422)

    app.include_router(interface(workshop))
    return app


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A program before the interface, on a demo ship of its own."""
    folder = copy_of("merrow-tarn", tmp_path_factory.mktemp("api"))
    text = (folder / "ship.toml").read_text("utf-8").replace('"hull.step"', '"hull_offsets.csv"')
    (folder / "ship.toml").write_text(text, "utf-8")
    workshop = Workshop(folder.parent, folder)
    with TestClient(application(workshop)) as found:
        yield found
    workshop.close()


def test_state_areas_findings_and_stories_are_those_of_the_ship(client: TestClient) -> None:
    areas = {row["code"]: row for row in client.get("/api/areas").json()}
    assert areas["B"]["plate_ratio"] <= 1.0
    assert areas["Mb"]["required_mm"] is None
    state = client.get("/api/state").json()
    assert (state["ship"], state["ice_class"], state["up_to_date"], state["outcome"]) == (
        "Merrow Tarn",
        "PC6",
        True,
        "met",
    )
    assert any(row["code"].startswith("BW") for row in client.get("/api/findings").json())
    colouring = client.get("/api/colouring/hull area").json()
    assert len(colouring["panels"]) == len(colouring["classes"])
    panel = colouring["panels"][colouring["classes"].index(colouring["labels"].index("B"))]
    story = client.get("/api/story", params={"panel": panel}).json()
    assert story["headline"].startswith(f"Plate {panel}")
    assert len(story["numbers"]) > 10


def test_a_change_is_made_undone_and_done_again(client: TestClient) -> None:
    done = client.post("/api/change", json={"path": ["ice", "ice_class"], "value": "PC7"}).json()
    assert (done["ice_class"], done["up_to_date"], done["undo"]) == ("PC7", True, "ice.ice_class")
    assert client.post("/api/undo").json()["ice_class"] == "PC6"
    assert client.post("/api/redo").json()["ice_class"] == "PC7"
    assert client.post("/api/undo").json()["ice_class"] == "PC6"


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (["hull", "depth_m"], 900, "at most 60"),
        (["hull", "file"], "../../etc/passwd", "characters that are not allowed"),
        (["levels", 99, "height_m"], 3.0, "no such row"),
        (["nonsense"], 1, "unknown key"),
        (["levels"], "x", "levels"),
    ],
)
def test_a_refusal_is_one_line_and_moves_nothing(
    client: TestClient, path: list[str | int], value: object, words: str
) -> None:
    before = client.get("/api/state").json()
    got = client.post("/api/change", json={"path": path, "value": value})
    assert got.status_code == 422
    assert words in got.json()["error"]
    assert "\n" not in got.json()["error"]
    assert client.get("/api/state").json() == before


def test_a_revision_is_kept_and_listed(client: TestClient) -> None:
    kept = client.post("/api/revisions", json={"name": "A", "note": "first"}).json()
    assert kept in client.get("/api/revisions").json()
    assert len(kept["result_sha256"]) == 64


def test_without_a_ship_on_the_desk_everything_is_refused(tmp_path: Path) -> None:
    workshop = Workshop(tmp_path)
    with TestClient(application(workshop)) as bare:
        for way in ("state", "areas", "findings", "revisions", "colouring/thickness"):
            got = bare.get(f"/api/{way}")
            assert (got.status_code, "none is on the desk" in got.json()["error"]) == (422, True)
    workshop.close()


WAYS = (
    "GET /api/state", "GET /api/areas", "GET /api/findings", "GET /api/story", "GET /api/colouring/{by}",
    "POST /api/change", "POST /api/undo", "POST /api/redo", "GET /api/revisions", "POST /api/revisions",
)  # fmt: skip


@pytest.fixture(scope="module")
def operations(client: TestClient) -> dict[str, Any]:
    """Every operation of the interface's own description, by method and path."""
    described = schemathesis.openapi.from_asgi("/openapi.json", client.app)
    found = [made.ok() for made in described.get_all_operations()]
    return {f"{one.method.upper()} {one.path}": one for one in found}


def test_every_way_in_is_tried(operations: dict[str, Any]) -> None:
    assert set(operations) == set(WAYS)


@pytest.mark.parametrize("way", WAYS)
def test_no_request_of_its_own_scheme_breaks_it(operations: dict[str, Any], way: str) -> None:
    """Whatever is asked, the answer is never a fault of the program."""

    @settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
    @given(case=operations[way].as_strategy())
    def tried(case: Any) -> None:
        answer = case.call()
        assert answer.status_code < 500, answer.text

    tried()
