"""Serving the pages on this machine: the application with its pages, pictures and documents behind one door."""

from __future__ import annotations

import socket
import sys
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn
from fastapi import FastAPI, Response
from fastapi.responses import JSONResponse, PlainTextResponse, RedirectResponse
from nicegui import ui
from starlette.requests import Request
from starlette.types import ASGIApp

from beltwright.core.errors import ToolError
from beltwright.web.api import interface
from beltwright.web.desk import Desk
from beltwright.web.pages.bow import BowPage
from beltwright.web.pages.compare import ComparePage
from beltwright.web.pages.design import DesignPage
from beltwright.web.pages.documents import DocumentsPage
from beltwright.web.pages.frame import Frame
from beltwright.web.pages.least import LeastPage
from beltwright.web.pages.ships import ShipsPage
from beltwright.web.safety import QUERY, Door, new_key
from beltwright.web.workshop import Workshop

_TYPES = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
}


def application(workshop: Workshop, *, key: str, port: int) -> ASGIApp:
    """Return the whole application behind its door."""
    app = FastAPI(title="Beltwright", docs_url=None, redoc_url=None, openapi_url="/api/openapi.json")

    @app.exception_handler(ToolError)
    async def refused(_: Request, error: Exception) -> Response:
        return JSONResponse({"error": str(error)}, status_code=422)

    app.include_router(interface(workshop))

    @app.get("/picture/{number}/{name}", include_in_schema=False)
    def picture(number: int, name: str) -> Response:
        desk = workshop.desk
        if desk is None or number != desk.number:
            return PlainTextResponse("this state is no longer there", status_code=404)
        if name == "shell":
            return Response(desk.shell(), media_type="application/octet-stream")
        return Response(desk.drawing(name), media_type="image/svg+xml")

    @app.get("/incoming/{number}", include_in_schema=False)
    def incoming(number: int) -> Response:
        return Response(workshop.picture(number), media_type="image/svg+xml")

    @app.get("/document/{number}/{name}", include_in_schema=False)
    def document(number: int, name: str, save: bool = False) -> Response:
        desk = workshop.desk
        if desk is None or number != desk.number:
            return PlainTextResponse("this state is no longer there", status_code=404)
        content = desk.document(name)
        kind = _TYPES.get(Path(name).suffix, "application/octet-stream")
        shown = "inline" if kind == "application/pdf" and not save else "attachment"
        return Response(content, media_type=kind, headers={"content-disposition": f'{shown}; filename="{name}"'})

    _pages(workshop)
    ui.run_with(
        app,
        title="Beltwright",
        dark=None,
        language="en-US",
        show_welcome_message=False,
        tailwind=False,
        reconnect_timeout=10.0,
    )
    return Door(app, key=key, port=port)


def _pages(workshop: Workshop) -> None:  # noqa: C901 - one function for each page
    """Declare the pages."""

    def ship_page(
        title: str, make: Callable[[Desk], DesignPage | BowPage | LeastPage | ComparePage | DocumentsPage]
    ) -> Response | None:
        desk = workshop.desk
        if desk is None:
            return RedirectResponse("/ships")
        frame, page = Frame(desk, title), make(desk)
        frame.build(page.build)

        def heard(what: str) -> None:
            with client:
                page.refresh(what)
                if what != "plates":
                    frame.refresh(what)

        client = ui.context.client
        end = desk.listen(heard)
        client.on_delete(end)

        async def begin() -> None:
            if not desk.session.up_to_date and not desk.busy:
                await desk.recompute()

        ui.timer(0.05, begin, once=True)
        return None

    @ui.page("/")
    def design_page() -> Response | None:
        return ship_page("Design", DesignPage)

    @ui.page("/bow")
    def bow_page() -> Response | None:
        return ship_page("Bow angles", BowPage)

    @ui.page("/least")
    def least_page() -> Response | None:
        return ship_page("Least structure", LeastPage)

    @ui.page("/compare")
    def compare_page() -> Response | None:
        return ship_page("Compare", ComparePage)

    @ui.page("/documents")
    def documents_page() -> Response | None:
        return ship_page("Documents", DocumentsPage)

    @ui.page("/ships")
    def ships_page() -> None:
        page, desk = ShipsPage(workshop), workshop.desk
        frame = Frame(desk, "Ships")
        frame.build(page.build)
        if desk is not None:
            client = ui.context.client

            def heard(what: str) -> None:
                if what != "plates":
                    with client:
                        frame.refresh(what)

            client.on_delete(desk.listen(heard))


def free_port() -> int:
    """Return a port of this machine that is free now."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def serve(folder: Path | None, *, port: int | None = None, browser: bool = True) -> None:
    """Serve the pages until interrupted.

    Parameters
    ----------
    folder : a ship folder, or a folder in which ship folders lie; the folder at hand where None
    port : the port; a free one where None
    browser : open the user's browser on the pages

    Raises
    ------
    InputError : the ship folder cannot be used
    """
    place = Path.cwd() if folder is None else folder
    single = (place / "ship.toml").is_file()
    workshop = Workshop(place.parent if single else place, place if single else None)
    taken, key = port or free_port(), new_key()
    address = f"http://127.0.0.1:{taken}/?{QUERY}={key}"
    sys.stdout.write(f"Beltwright: {address}\nOn this machine only; stop with Control and C.\n")
    sys.stdout.flush()
    if browser:
        webbrowser.open(address)
    config = uvicorn.Config(
        application(workshop, key=key, port=taken), host="127.0.0.1", port=taken, log_level="warning", access_log=False,
        ws_max_size=4_000_000, timeout_graceful_shutdown=2,
    )  # fmt: skip
    try:
        uvicorn.Server(config).run()
    finally:
        workshop.close()
