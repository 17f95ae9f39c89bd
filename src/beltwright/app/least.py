"""The search for the least structure while it runs: best and bound as they close, stopped at any time; the study."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

from beltwright.core.errors import ToolError
from beltwright.scantlings.design import Design
from beltwright.ship.loading import LoadingCase

if TYPE_CHECKING:
    from beltwright.sizing.study import Study


class LeastRun:
    """One search on one design, in a thread of its own.

    Attributes
    ----------
    best, bound : price of the best found and proved lower bound, in the problem's unit; None before there are any
    study : the study when the search is done, None before and where there is none
    error : the line that says why there is none, empty otherwise
    of : what the search stands on, to tell later whether it still holds
    """

    def __init__(self, design: Design, cases: tuple[LoadingCase, ...], of: str, *, seconds: float = 600.0) -> None:
        self.best: int | None = None
        self.bound: int | None = None
        self.study: Study | None = None
        self.error = ""
        self.of = of
        self.stopped = False
        self._began = time.monotonic()
        self._ended: float | None = None
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, args=(design, cases, seconds), daemon=True)
        self._thread.start()

    @property
    def running(self) -> bool:
        """Whether the search goes on."""
        return self._ended is None

    @property
    def seconds(self) -> float:
        """How long it has run."""
        return (self._ended or time.monotonic()) - self._began

    @property
    def gap(self) -> float | None:
        """What is left between best and bound, as a share of the best; None before both are known."""
        if self.best is None or self.bound is None or self.best <= 0:
            return None
        return max(self.best - self.bound, 0) / self.best

    def stop(self) -> None:
        """End the search early with the best found."""
        self.stopped = True
        self._stop.set()

    def wait(self, seconds: float) -> None:
        """Wait until the search is done, at most so long."""
        self._thread.join(seconds)

    def _run(self, design: Design, cases: tuple[LoadingCase, ...], seconds: float) -> None:
        """Search, and keep what came of it."""
        from beltwright.sizing.study import study

        try:
            self.study = study(design, cases, heard=self._heard, stop=self._stop, seconds=seconds)
            found = self.study.sized.found
            self.best, self.bound = found.price, found.bound
        except ToolError as error:
            self.error = str(error)
        finally:
            self._ended = time.monotonic()

    def _heard(self, best: int | None, bound: int | None) -> None:
        """Keep how far the search has come."""
        if best is not None:
            self.best = best
        if bound is not None:
            self.bound = bound
