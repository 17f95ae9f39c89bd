"""The door of the pages: only this machine's address, only this page's origin, only with the key of this start."""

from __future__ import annotations

from typing import Any

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route, WebSocketRoute
from starlette.testclient import TestClient
from starlette.websockets import WebSocket, WebSocketDisconnect

from beltwright.web.safety import COOKIE, LARGEST_BODY_BYTES, POLICY, Door, new_key

KEY, PORT = "the-key-of-this-start", 8123
HOST = f"127.0.0.1:{PORT}"
GOOD = {"host": HOST, "cookie": f"{COOKIE}={KEY}"}


async def answer(_: Request) -> PlainTextResponse:
    """What lies behind the door."""
    return PlainTextResponse("the ship")


async def socket(websocket: WebSocket) -> None:
    """A socket behind the door."""
    await websocket.accept()
    await websocket.send_text("the ship")
    await websocket.close()


@pytest.fixture
def client() -> TestClient:
    """A browser before the door."""
    behind = Starlette(routes=[Route("/", answer, methods=["GET", "POST"]), WebSocketRoute("/socket", socket)])
    return TestClient(Door(behind, key=KEY, port=PORT), base_url=f"http://{HOST}", follow_redirects=False)


def test_with_key_and_address_the_ship_is_shown(client: TestClient) -> None:
    got = client.get("/", headers=GOOD)
    assert (got.status_code, got.text) == (200, "the ship")
    assert got.headers["content-security-policy"] == POLICY
    assert got.headers["x-content-type-options"] == "nosniff"
    assert got.headers["referrer-policy"] == "no-referrer"


def test_the_address_with_the_key_gives_a_cookie_that_no_script_reads_and_hides_the_key(client: TestClient) -> None:
    got = client.get(f"/?key={KEY}")
    assert (got.status_code, got.headers["location"]) == (303, "/")
    cookie = got.headers["set-cookie"].lower()
    assert cookie.startswith(f"{COOKIE}={KEY}")
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": HOST}, 401),
        ({"host": HOST, "cookie": f"{COOKIE}=another"}, 401),
        ({"host": HOST, "cookie": f"other={KEY}"}, 401),
        ({**GOOD, "host": "ship.example"}, 421),
        ({**GOOD, "host": f"127.0.0.1:{PORT + 1}"}, 421),
        ({**GOOD, "host": "127.0.0.1"}, 421),
        ({**GOOD, "origin": "http://ship.example"}, 403),
        ({**GOOD, "origin": f"https://{HOST}"}, 403),
        ({**GOOD, "origin": "null"}, 403),
        ({**GOOD, "content-length": str(LARGEST_BODY_BYTES + 1)}, 413),
        ({**GOOD, "content-length": "many"}, 413),
    ],
)
def test_everything_else_is_refused(client: TestClient, headers: dict[str, Any], status: int) -> None:
    got = client.get("/", headers=headers)
    assert got.status_code == status
    assert "the ship" not in got.text
    assert got.headers["content-security-policy"] == POLICY


def test_a_wrong_key_in_the_address_opens_nothing(client: TestClient) -> None:
    assert client.get("/?key=guess").status_code == 401


@pytest.mark.parametrize("origin", [f"http://{HOST}", f"http://localhost:{PORT}"])
def test_a_socket_from_this_page_is_let_in(client: TestClient, origin: str) -> None:
    with client.websocket_connect("/socket", headers={**GOOD, "origin": origin}) as found:
        assert found.receive_text() == "the ship"


@pytest.mark.parametrize(
    "headers", [GOOD, {**GOOD, "origin": "http://ship.example"}, {"host": HOST, "origin": f"http://{HOST}"}]
)
def test_a_socket_from_elsewhere_is_not(client: TestClient, headers: dict[str, str]) -> None:
    with pytest.raises(WebSocketDisconnect), client.websocket_connect("/socket", headers=headers):
        pass


def test_keys_differ_and_are_long() -> None:
    keys = {new_key() for _ in range(50)}
    assert len(keys) == 50
    assert min(len(key) for key in keys) >= 40


def test_no_host_outside_stands_in_the_policy() -> None:
    words = POLICY.replace("ws://127.0.0.1:*", "").replace("ws://localhost:*", "")
    assert "http" not in words
    assert "*" not in words
