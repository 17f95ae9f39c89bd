"""Who may speak to the pages: the browser that was given the key, from this machine, on this page's own address.

Everything is refused that comes under another host name (a page elsewhere whose name was bent to this machine), from
another origin (a page elsewhere that sends to us), or without the key. The key is random, made anew at each start, and
kept by the browser in a cookie that no script can read.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

COOKIE = "beltwright-key"
QUERY = "key"
LARGEST_BODY_BYTES = 220_000_000  # of an upload; hull files themselves are held to their own limit

POLICY = "; ".join((
    "default-src 'self'",
    "script-src 'self' 'unsafe-inline' 'unsafe-eval'",  # the page library compiles its own templates; see DECISIONS.md
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self' ws://127.0.0.1:* ws://localhost:*",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
))  # fmt: skip
_HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}


def new_key() -> str:
    """Return a key that nobody can guess."""
    return secrets.token_urlsafe(32)


class Door:
    """The first thing that every request and every socket meets.

    Parameters
    ----------
    app : what lies behind
    key : the key of this start
    port : the port served; host names and origins are held to it
    """

    def __init__(self, app: ASGIApp, *, key: str, port: int) -> None:
        self.app = app
        self._key = key
        hosts = (f"127.0.0.1:{port}", f"localhost:{port}")
        self._hosts = frozenset(hosts)
        self._origins = frozenset(f"http://{host}" for host in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        refused = self._refusal(scope)
        if refused is None:
            await self.app(scope, receive, _with_headers(send))
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
        else:
            await refused(scope, receive, _with_headers(send))

    def _refusal(self, scope: Scope) -> Response | None:
        """The answer that a request gets in place of what it asked for; None lets it through."""
        headers = Headers(scope=scope)
        if headers.get("host", "") not in self._hosts:
            return PlainTextResponse("wrong host", status_code=421)
        origin = headers.get("origin")
        if origin is not None and origin not in self._origins:
            return PlainTextResponse("wrong origin", status_code=403)
        if origin is None and scope["type"] == "websocket":
            return PlainTextResponse("no origin", status_code=403)
        if _too_large(headers.get("content-length")):
            return PlainTextResponse("too large", status_code=413)
        given = parse_qs(scope.get("query_string", b"").decode("latin-1")).get(QUERY, [""])[0]
        if scope["type"] == "http" and given and self._fits(given):
            answer = RedirectResponse(scope["path"], status_code=303)
            answer.set_cookie(COOKIE, self._key, httponly=True, samesite="strict", path="/")
            return answer
        if not any(self._fits(key) for key in _cookies(headers.getlist("cookie"))):
            return PlainTextResponse("This page opens with the address that the program printed.", status_code=401)
        return None

    def _fits(self, key: str) -> bool:
        """Whether a key is ours, in a time that does not tell how much of it is."""
        return secrets.compare_digest(key.encode("utf-8"), self._key.encode("utf-8"))


def _cookies(lines: Iterable[str]) -> list[str]:
    """The keys in some lines of cookies."""
    found = []
    for line in lines:
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load(line)
        except CookieError:
            continue
        if COOKIE in jar:
            found.append(jar[COOKIE].value)
    return found


def _too_large(length: str | None) -> bool:
    """Whether a request says that it is larger than anything we take; a length that is no number is too large."""
    return length is not None and (not length.isdigit() or int(length) > LARGEST_BODY_BYTES)


def _with_headers(send: Send) -> Send:
    """Add our headers to every answer."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            raw = [pair for pair in message.get("headers", []) if pair[0].decode("latin-1").lower() not in _HEADERS]
            raw += [(name.encode("latin-1"), value.encode("latin-1")) for name, value in _HEADERS.items()]
            message = {**message, "headers": raw}
        await send(message)

    return sent
