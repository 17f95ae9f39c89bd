"""The child process: takes its limits first, then runs one parser, and leaves arrays and a record in a folder.

Started as ``python -P -m beltwright.hull.readers.worker JOB FOLDER``. ``FOLDER/job.json`` holds the limits and the
job's own settings. It leaves ``arrays.npz`` and ``record.json``; the record is written last and says how it ended.
Nothing here trusts the file that is read: the parent checks all that comes back.
"""

from __future__ import annotations

import importlib
import json
import os
import resource
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

Record = dict[str, Any]
Arrays = dict[str, np.ndarray[Any, Any]]
Job = Callable[[Record, Arrays], tuple[Record, Arrays]]

JOBS: dict[str, tuple[str, str]] = {
    "read-cad": ("beltwright.hull.readers.step_iges_child", "read"),
    "write-cad": ("beltwright.hull.readers.step_iges_child", "write"),
    "read-3dm": ("beltwright.hull.readers.threedm_child", "read"),
    "read-mesh": ("beltwright.hull.readers.mesh_child", "read"),
}
"""Every job a child can do: module and function, called with the job record and its arrays."""


class RefusedError(Exception):
    """Raised by a job where the file itself is at fault; the text is one plain sentence for the user."""


def take_limits(memory_bytes: int, cpu_seconds: int, file_bytes: int) -> None:
    """Limit this process's address space, processor time and the files it may write; no core dumps."""
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    resource.setrlimit(resource.RLIMIT_CPU, (cpu_seconds, cpu_seconds + 1))
    resource.setrlimit(resource.RLIMIT_FSIZE, (file_bytes, file_bytes))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _run(folder: Path, job_name: str, job: Record) -> Record:
    """Run the job and return its record with the outcome."""
    module, function = JOBS[job_name]
    arrays: Arrays = {}
    given = folder / "given.npz"
    if given.exists():
        with np.load(given, allow_pickle=False) as stored:
            arrays = {key: stored[key] for key in stored.files}
    try:
        call: Job = getattr(importlib.import_module(module), function)
        record, found = call(job, arrays)
    except RefusedError as refusal:
        return {"outcome": "refused", "why": str(refusal)}
    except MemoryError:
        return {"outcome": "memory"}
    except ImportError as error:
        return {"outcome": "import", "why": str(error)}
    np.savez(folder / "arrays.npz", **found)  # type: ignore[arg-type]
    return {**record, "outcome": "ok"}


def main(argv: list[str]) -> int:
    """Run one job; the exit code is 0 where a record was left."""
    job_name, folder = argv[1], Path(argv[2])
    job = json.loads((folder / "job.json").read_text())
    take_limits(int(job["memory_bytes"]), int(job["cpu_seconds"]), int(job["file_bytes"]))
    record = _run(folder, job_name, job)
    (folder / "record.json").write_text(json.dumps(record))
    return 0


if __name__ == "__main__":
    # The jobs import this module by its name and raise its RefusedError: run that one, not the copy under __main__.
    status = importlib.import_module("beltwright.hull.readers.worker").main(sys.argv)
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(status)  # all is written: taking the CAD kernel's modules down in order would cost half a second
