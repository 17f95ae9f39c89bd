"""The command ``serve``: the pages in the browser, on this machine only."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path
from typing import Annotated

import typer


def serve(
    shipfolder: Annotated[
        Path | None,
        typer.Argument(
            help="Ship folder, or a folder in which ship folders lie; the folder at hand where not given.",
            show_default=False,
        ),
    ] = None,
    port: Annotated[
        int | None, typer.Option("--port", min=1024, max=65535, help="Port; a free one where not given.")
    ] = None,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open the browser on the pages.")] = True,
) -> None:
    """Show the design in the browser: hull, areas, loads, scantlings; change them and see what moves."""
    from beltwright.core.errors import InputError

    lacking = [name for name in ("fastapi", "nicegui", "sqlalchemy", "uvicorn") if find_spec(name) is None]
    if lacking:
        raise InputError("serve", f"needs the extra web, and lacks {', '.join(lacking)}; make pages sets it up")
    if shipfolder is not None and not shipfolder.is_dir():
        raise InputError(str(shipfolder), "is not a folder", allowed="a ship folder, or one in which ship folders lie")
    from beltwright.web.serve import serve as start

    start(shipfolder, port=port, browser=browser)
