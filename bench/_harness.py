"""What every bench uses: medians of repeated runs, and one printed line with the ratio to a plainer way."""

from __future__ import annotations

import resource
import subprocess
import sys
from collections.abc import Callable, Sequence
from statistics import median
from time import perf_counter


def function_seconds(work: Callable[[], object], *, runs: int = 5) -> float:
    """Median wall-clock seconds of a call, after one call to warm up."""
    work()
    return median(_timed(work) for _ in range(runs))


def command_seconds(command: Sequence[str], *, runs: int = 7) -> float:
    """Median wall-clock seconds of a whole process; a command that fails ends the bench."""

    def work() -> None:
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            sys.exit(f"{' '.join(command)}: exit {done.returncode}\n{done.stderr[-2000:]}")

    return median(_timed(work) for _ in range(runs))


def peak_memory_mb() -> float:
    """Largest resident memory of this process or of any one finished child [MB]; not their sum."""
    own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    child = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    return max(own, child) / 1024.0


def show(
    what: str,
    seconds: float,
    *,
    plain_s: float | None = None,
    plain: str = "",
    budget_s: float | None = None,
    count: int | None = None,
) -> None:
    """Print one line: the median, the rate where ``count`` things were done, the ratio to the plain way, the budget."""
    parts = [f"{what:<44}{seconds:10.4f} s"]
    if count is not None:
        parts.append(f"{count / seconds:,.0f}/s")
    if plain_s is not None:
        parts.append(f"{seconds / plain_s:.3g} x the time of {plain} ({plain_s:.4f} s)")
    if budget_s is not None:
        parts.append(f"budget {budget_s:g} s: {'kept' if seconds <= budget_s else 'MISSED'}")
    print("; ".join(parts))


def _timed(work: Callable[[], object]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start
