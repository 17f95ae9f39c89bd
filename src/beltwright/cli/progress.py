"""A progress bar that only shows when the work takes more than a second."""

from __future__ import annotations

import threading
import time
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

PATIENCE_S = 1.0


class TerminalProgress:
    """A bar on standard error, shown once ``PATIENCE_S`` has passed and taken away at the end."""

    def __init__(self, console: Console) -> None:
        self._bar = Progress(
            TextColumn("{task.description}"),
            BarColumn(),
            TimeElapsedColumn(),
            console=console,
            transient=True,
            disable=not console.is_terminal,
        )
        self._task = self._bar.add_task("reading", total=1)
        self._timer = threading.Timer(PATIENCE_S, self._bar.start)
        self._timer.daemon = True
        self.began = time.monotonic()

    def stage(self, name: str, done: int, total: int) -> None:
        """Show the stage that begins."""
        self._bar.update(self._task, description=name, completed=done, total=total)

    def __enter__(self) -> Self:
        self._timer.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, traceback: TracebackType | None
    ) -> None:
        self._timer.cancel()
        self._timer.join()
        if self._bar.live.is_started:
            self._bar.stop()
