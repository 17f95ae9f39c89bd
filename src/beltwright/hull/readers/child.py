"""Run a parser in a child process with limits, so that a hostile or broken file cannot hurt this one.

Whatever happens over there (crash, endless loop, memory, nonsense written back) comes out as one ``InputError``
that names the file.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
import zipfile
from dataclasses import dataclass
from pathlib import Path
from threading import Event
from time import monotonic
from typing import Any

import numpy as np

import beltwright
from beltwright.core.errors import InputError

Arrays = dict[str, np.ndarray[Any, Any]]
Record = dict[str, Any]

SYSTEM_LIBRARIES = "apt-get install -y libgl1 libx11-6"
"""The command that installs the system libraries which the CAD kernel loads (Debian)."""

_RECORD_BYTES = 50_000_000
_LOOK_UP_S = 0.02  # how often it is asked whether to stop


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildLimits:
    """What a child may use: address space, wall-clock and processor time, size of each file it writes.

    ``stop``, where given, ends the child as soon as another thread sets it.
    """

    memory_bytes: int = 2_000_000_000
    wall_seconds: float = 60.0
    cpu_seconds: int = 60
    file_bytes: int = 1_000_000_000
    stop: Event | None = None


DEFAULT_LIMITS = ChildLimits()


def run_child(
    job: str, settings: Record, *, source: str, arrays: Arrays | None = None, limits: ChildLimits = DEFAULT_LIMITS
) -> tuple[Record, Arrays]:
    """Run one job of ``worker.JOBS`` in a child and return its record and arrays.

    Parameters
    ----------
    job : the job's name
    settings : the job's own settings, put into the job record (plain JSON values)
    source : the file's name for messages
    arrays : arrays the job needs, e.g. the poles to write
    limits : what the child may use

    Raises
    ------
    InputError : for a refused file, a crash, a limit reached, a missing library or a result that makes no sense
    """
    with tempfile.TemporaryDirectory(prefix="beltwright-") as name:
        folder = Path(name)
        record = {**settings, "memory_bytes": limits.memory_bytes, "cpu_seconds": limits.cpu_seconds}
        record["file_bytes"] = limits.file_bytes
        (folder / "job.json").write_text(json.dumps(record))
        if arrays is not None:
            np.savez(folder / "given.npz", **arrays)  # type: ignore[arg-type]
        code = _wait(job, folder, source, limits)
        return _collect(folder, source, code)


def _wait(job: str, folder: Path, source: str, limits: ChildLimits) -> int:
    """Start the child in its own session, wait for it, and kill the whole session at the time limit or when told."""
    command = _command(job, folder)
    with (folder / "stdout").open("wb") as out, (folder / "stderr").open("wb") as err:
        process = subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=out, stderr=err, cwd=folder, env=_environment(folder),
            start_new_session=True,
        )  # fmt: skip
        end = monotonic() + limits.wall_seconds
        try:
            while limits.stop is None or not limits.stop.is_set():
                try:
                    return process.wait(timeout=max(min(_LOOK_UP_S, end - monotonic()), 0.0))
                except subprocess.TimeoutExpired:
                    if monotonic() >= end:
                        what = "reading took too long and was stopped"
                        raise InputError(
                            source, what, value=limits.wall_seconds, unit="s", allowed="less time"
                        ) from None
            raise InputError(source, "reading was stopped")
        finally:
            if process.poll() is None:
                os.killpg(process.pid, signal.SIGKILL)
                process.wait()


def _command(job: str, folder: Path) -> list[str]:
    """Return the command line of a child."""
    return [sys.executable, "-P", "-m", "beltwright.hull.readers.worker", job, str(folder)]


def _environment(folder: Path) -> dict[str, str]:
    """Return a small environment: this package's path, one thread, the child's own temporary folder."""
    kept = {key: os.environ[key] for key in ("PATH", "LD_LIBRARY_PATH", "SYSTEMROOT") if key in os.environ}
    package_root = str(Path(beltwright.__file__).resolve().parents[1])
    threads = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    return {
        **kept, **threads, "PYTHONPATH": package_root, "LC_ALL": "C.UTF-8",
        "TMPDIR": str(folder), "HOME": str(folder),
    }  # fmt: skip


def _collect(folder: Path, source: str, code: int) -> tuple[Record, Arrays]:
    """Return what the child left, or raise saying how it ended."""
    path = folder / "record.json"
    if code != 0 or not path.exists():
        raise InputError(source, _ending(code, _tail(folder / "stderr")))
    try:
        if path.stat().st_size > _RECORD_BYTES:
            raise ValueError("record too long")
        record = json.loads(path.read_text())
        outcome = record["outcome"]
    except (ValueError, KeyError, TypeError, RecursionError):
        raise InputError(source, "the reader's child process gave an answer that makes no sense") from None
    if outcome == "refused":
        raise InputError(source, str(record.get("why", "cannot be read")))
    if outcome == "memory":
        raise InputError(source, "reading needs more memory than its limit")
    if outcome == "import":
        raise InputError(source, _missing(str(record.get("why", ""))))
    if outcome != "ok":
        raise InputError(source, "the reader's child process gave an answer that makes no sense")
    return record, _load(folder / "arrays.npz", source)


def _load(path: Path, source: str) -> Arrays:
    """Load the child's arrays without ever unpickling."""
    try:
        with path.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
            return {key: stored[key] for key in stored.files}
    except (OSError, ValueError, KeyError, EOFError, TypeError, AttributeError, zipfile.BadZipFile):
        raise InputError(source, "the reader's child process gave arrays that cannot be loaded") from None


def _ending(code: int, tail: str) -> str:
    """Say in words how a child ended that left no record."""
    if "MemoryError" in tail or "bad_alloc" in tail or "failed to map" in tail:
        return "reading needs more memory than its limit"
    if code == -signal.SIGXCPU or code == -signal.SIGKILL:
        return "reading was stopped at its limit of processor time or memory"
    if code < 0:
        return f"the parser crashed on this file (signal {-code})"
    return f"the parser failed on this file ({tail})" if tail else "the parser failed on this file"


def _missing(why: str) -> str:
    """Say which library is missing and how to install it."""
    if ".so" in why:
        return f"the CAD kernel needs a system library ({why}); install it with: {SYSTEM_LIBRARIES}"
    return f"the reader needs a Python package that is not installed ({why})"


def _tail(path: Path) -> str:
    """Return the last line of a child's messages, at most 200 characters."""
    try:
        with path.open("rb") as stream:
            stream.seek(max(0, path.stat().st_size - 2000))
            lines = stream.read().decode("utf-8", "replace").split("\n")
    except OSError:
        return ""
    said = [line.strip() for line in lines if line.strip()]
    return said[-1][:200] if said else ""
