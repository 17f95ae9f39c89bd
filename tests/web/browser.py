"""A server of the pages as a user starts it, and a browser before it; both for the tests of this folder."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"
SHOTS = Path(__file__).resolve().parent.parent.parent / "build" / "pages"
GRAPHICS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")


def browser_path() -> str:
    """Return the system's browser; the set-up installs one."""
    found = next(
        (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), None
    )
    if found is None:
        raise RuntimeError("no browser was found: chromium is one of the packages that the set-up installs")
    return found


def copy_of(name: str, folder: Path) -> Path:
    """Return a copy of a demo ship in a folder."""
    made = folder / name
    shutil.copytree(EXAMPLES / name, made, ignore=shutil.ignore_patterns("results", "*.sqlite*"))
    return made


@dataclass(slots=True)
class Server:
    """A running server: its process and the address that it printed."""

    process: subprocess.Popen[str]
    address: str

    def kill(self) -> None:
        """End it at once, as a power cut would."""
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()


@contextmanager
def serving(folder: Path) -> Iterator[Server]:
    """Serve the pages of a folder until the block ends."""
    command = [sys.executable, "-m", "beltwright", "serve", str(folder), "--no-browser"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    line = process.stdout.readline()
    if not line.startswith("Beltwright: http://127.0.0.1:"):
        process.kill()
        raise RuntimeError(f"the server said: {line}{process.stdout.read()}")
    time.sleep(1.0)
    try:
        yield Server(process, line.split()[1])
    finally:
        process.kill()
        process.wait()
        process.stdout.close()
