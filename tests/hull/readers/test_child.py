"""The child process: whatever happens over there is one line here, and nothing is left behind."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.hull.readers import child, worker
from beltwright.hull.readers.child import ChildLimits, run_child

LIMITS = ChildLimits(memory_bytes=600_000_000, wall_seconds=20.0, cpu_seconds=2, file_bytes=1_000_000)


def _pretend(
    monkeypatch: pytest.MonkeyPatch, code: str, *, limited: bool = False, cpu_seconds: int = LIMITS.cpu_seconds
) -> None:
    """Run ``code`` in place of the real child; ``folder`` is its folder."""
    head = f"import sys, pathlib; folder = pathlib.Path({{folder!r}});{{limits}}\n{code}"
    take = (
        f"from beltwright.hull.readers.worker import take_limits; "
        f"take_limits({LIMITS.memory_bytes}, {cpu_seconds}, {LIMITS.file_bytes})"
    )

    def command(job: str, folder: Path) -> list[str]:
        text = head.replace("{folder!r}", repr(str(folder))).replace("{limits}", take if limited else "")
        return [sys.executable, "-P", "-c", text]

    monkeypatch.setattr(child, "_command", command)


def _message(limits: ChildLimits = LIMITS) -> str:
    with pytest.raises(InputError) as caught:
        run_child("read-cad", {}, source="hull.stp", limits=limits)
    text = str(caught.value)
    assert text.startswith("hull.stp: ")
    assert "\n" not in text
    return text


def test_a_crash_names_the_file_and_the_signal(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "import os; os.abort()")
    assert "the parser crashed on this file (signal 6)" in _message()


def test_an_error_over_there_is_told_in_its_last_line(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "raise ValueError('line one\\nline two')")
    assert "the parser failed on this file (line two)" in _message()


def test_an_endless_loop_is_stopped_with_its_children(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    sleeper = (
        "import subprocess, sys, time; p = subprocess.Popen([sys.executable, '-c', 'import time; time.sleep(60)']);"
    )
    note = "pathlib.Path({note!r}).write_text(str(p.pid)); time.sleep(60)"
    path = tmp_path / "grandchild"
    _pretend(monkeypatch, sleeper + note.format(note=str(path)))
    start = time.monotonic()
    text = _message(ChildLimits(wall_seconds=4.0))
    assert time.monotonic() - start < 30.0
    assert "took too long and was stopped; found 4 s" in text
    entry = Path("/proc") / path.read_text() / "stat"
    deadline = time.monotonic() + 10.0  # a killed process needs a moment on a busy machine
    while not _gone(entry) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert _gone(entry)


def _gone(entry: Path) -> bool:
    """Return whether a process has ended: no entry any more, or dead and not reaped."""
    try:
        return entry.read_text().rpartition(") ")[2].startswith("Z")
    except (FileNotFoundError, ProcessLookupError):
        return True


def test_another_thread_can_stop_it(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "import time; time.sleep(60)")
    stop = threading.Event()
    threading.Timer(0.2, stop.set).start()
    start = time.monotonic()
    assert "reading was stopped" in _message(ChildLimits(stop=stop))
    assert time.monotonic() - start < 15.0


def test_the_memory_limit_is_kept_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    # filling memory takes processor time of its own, most on a busy machine
    _pretend(monkeypatch, "x = [bytearray(10_000_000) for _ in range(1000)]", limited=True, cpu_seconds=15)
    assert "reading needs more memory than its limit" in _message()


def test_the_processor_limit_is_kept_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "while True: pass", limited=True)
    assert "stopped at its limit of processor time or memory" in _message()


def test_the_file_limit_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "(folder / 'big').write_bytes(bytes(2_000_000))", limited=True)
    assert "failed on this file" in _message() or "crashed" in _message()


@pytest.mark.parametrize(
    "record",
    ["", "nonsense", "[]", "{}", '{"outcome": 7}', '{"outcome": "ok"', "[" * 100_000, '{"outcome": "great"}'],
)
def test_a_record_without_sense_is_told(monkeypatch: pytest.MonkeyPatch, record: str) -> None:
    _pretend(monkeypatch, f"(folder / 'record.json').write_text({record!r})")
    assert "gave an answer that makes no sense" in _message()


def test_no_record_at_all_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    _pretend(monkeypatch, "pass")
    assert "the parser failed on this file" in _message()


def test_arrays_are_never_unpickled(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    mark = tmp_path / "unpickled"
    code = f"""
import json, numpy as np
class Trap:
    def __reduce__(self):
        return (pathlib.Path.touch, (pathlib.Path({str(mark)!r}),))
trap = np.empty(1, dtype=object); trap[0] = Trap()
np.savez(folder / 'arrays.npz', f0_poles=trap)
(folder / 'record.json').write_text(json.dumps(dict(outcome='ok')))
"""
    _pretend(monkeypatch, code)
    assert "gave arrays that cannot be loaded" in _message()
    assert not mark.exists()


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 cut short", b"not a zip"])
def test_broken_arrays_are_told(monkeypatch: pytest.MonkeyPatch, content: bytes) -> None:
    code = (
        f"(folder / 'arrays.npz').write_bytes({content!r}); "
        "(folder / 'record.json').write_text('{\"outcome\": \"ok\"}')"
    )
    _pretend(monkeypatch, code)
    assert "gave arrays that cannot be loaded" in _message()


def test_a_missing_system_library_names_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    why = "libGL.so.1: cannot open shared object file: No such file or directory"
    code = f"import json; (folder / 'record.json').write_text(json.dumps(dict(outcome='import', why={why!r})))"
    _pretend(monkeypatch, code)
    text = _message()
    assert "libGL.so.1" in text
    assert "apt-get install -y libgl1 libx11-6" in text


def test_the_child_has_no_input_one_thread_and_its_own_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("A_SECRET", "not for parsers")
    code = """
import json, os
said = dict(stdin=sys.stdin.read(), threads=os.environ['OMP_NUM_THREADS'], secret='A_SECRET' in os.environ,
            temporary=os.environ['TMPDIR'] == str(folder), here=os.getcwd() == str(folder.resolve()))
(folder / 'record.json').write_text(json.dumps(dict(outcome='refused', why=json.dumps(said))))
"""
    _pretend(monkeypatch, code)
    text = _message()
    for part in ('"stdin": ""', '"threads": "1"', '"secret": false', '"temporary": true', '"here": true'):
        assert part in text


def test_the_temporary_folder_is_removed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    _pretend(monkeypatch, "(folder / 'more').write_text('x'); raise SystemExit(3)")
    _message()
    assert list(tmp_path.iterdir()) == []


def test_a_refusal_of_the_real_worker_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "x.3dm"
    path.write_bytes(b"3D Geometry File Format " + bytes(100))
    with pytest.raises(InputError, match=r"^x.3dm: is not a 3DM file that can be read"):
        run_child("read-3dm", {"path": str(path)}, source="x.3dm")


def test_every_job_names_a_function_of_a_child_module() -> None:
    for module, function in worker.JOBS.values():
        assert module.startswith("beltwright.hull.readers.")
        assert module.endswith("_child")
        source = Path(worker.__file__).with_name(module.rsplit(".", 1)[1] + ".py").read_text()
        assert f"def {function}(" in source


def test_the_parent_never_imports_a_parser() -> None:
    code = (
        "import sys, beltwright.hull.readers, beltwright.hull.detect, beltwright.hull.readers.offsets; "
        "print([m for m in ('OCP', 'rhino3dm', 'trimesh') if m in sys.modules])"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(worker.__file__).parents[3])}
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=env)
    assert said.stdout.strip() == "[]"


def test_arrays_given_to_a_child_arrive(monkeypatch: pytest.MonkeyPatch) -> None:
    code = """
import json, numpy as np
with np.load(folder / 'given.npz', allow_pickle=False) as given:
    np.savez(folder / 'arrays.npz', twice=2 * given['a'])
(folder / 'record.json').write_text(json.dumps(dict(outcome='ok')))
"""
    _pretend(monkeypatch, code)
    _, arrays = run_child("write-cad", {}, source="out.stp", arrays={"a": np.arange(3.0)}, limits=LIMITS)
    np.testing.assert_array_equal(arrays["twice"], [0.0, 2.0, 4.0])
