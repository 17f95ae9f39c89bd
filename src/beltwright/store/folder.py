"""Reading a ship folder, within limits, and writing a results folder in one go."""

from __future__ import annotations

import shutil
import stat
import tempfile
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from beltwright.core.canonical import fingerprint
from beltwright.core.errors import InputError
from beltwright.ship.loading import LoadingCase, parse_loading_cases
from beltwright.ship.model import Ship
from beltwright.ship.parse import parse_ship

SHIP_FILE = "ship.toml"
LARGEST_TEXT_BYTES = 5_000_000
_MARKER = ".beltwright-results"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipFolder:
    """A ship folder that has been read: where it is, what the user says, and the loading cases if there are any."""

    path: Path
    ship: Ship
    loading_cases: tuple[LoadingCase, ...]

    @property
    def hull_file(self) -> Path:
        """The hull file, inside the folder."""
        return self.path / self.ship.hull.file

    def inputs_fingerprint(self, hull_fingerprint: str) -> str:
        """Return the hash of everything the user gave: the description, the loading cases and the hull file."""
        return fingerprint(
            {
                "ship": self.ship.model_dump(mode="json"),
                "loading_cases": [case.model_dump(mode="json") for case in self.loading_cases],
                "hull_file": hull_fingerprint,
            }
        )


def open_folder(path: Path) -> ShipFolder:
    """Return the ship folder at ``path``; raises InputError naming file, field, value and what is allowed."""
    if not path.is_dir():
        raise InputError(str(path), "is not a folder", allowed=f"a folder with {SHIP_FILE} and a hull file")
    return parse_folder(path, read_text(path / SHIP_FILE))


def parse_folder(path: Path, text: str) -> ShipFolder:
    """Return the ship folder at ``path`` with ``text`` as its description; raises as :func:`open_folder`."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(SHIP_FILE, f"is not valid TOML: {error}") from None
    except RecursionError:
        raise InputError(SHIP_FILE, "is nested too deeply") from None
    ship = parse_ship(document, SHIP_FILE)
    cases: tuple[LoadingCase, ...] = ()
    if ship.waterlines.loading_cases is not None:
        name = ship.waterlines.loading_cases
        cases = parse_loading_cases(read_text(path / name), name)
    _check_hull_file(path / ship.hull.file)
    return ShipFolder(path=path, ship=ship, loading_cases=cases)


def _check_hull_file(path: Path) -> None:
    """Refuse a hull file that is not there, is no regular file, or lies elsewhere behind a link."""
    field = f"{SHIP_FILE}: hull.file"
    if not path.exists():
        raise InputError(field, "there is no such file in the ship folder", value=path.name)
    if not path.is_file():
        raise InputError(field, "is not a regular file", value=path.name)
    if path.resolve().parent != path.parent.resolve():
        raise InputError(field, "is a link out of the ship folder", value=path.name, allowed="a file in the folder")


def read_text(path: Path) -> str:
    """Return the text of a regular UTF-8 file of bounded size; anything else is an InputError naming it."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise InputError(path.name, "is not a regular file")
        if found.st_size > LARGEST_TEXT_BYTES:
            raise InputError(
                path.name, "is too large", value=found.st_size, unit="bytes", allowed=f"at most {LARGEST_TEXT_BYTES}"
            )
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise InputError(str(path), "there is no such file") from None
    except UnicodeDecodeError:
        raise InputError(path.name, "is not UTF-8 text") from None
    except OSError as error:
        raise InputError(path.name, f"cannot be read: {error.strerror}") from None


def write_results(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write all files into ``folder`` in one go: either the new results stand there complete, or the old ones do.

    A folder that was not made by this program is not replaced. Raises InputError where it cannot be written.
    """
    if folder.exists() and not (folder / _MARKER).is_file():
        raise InputError(
            str(folder),
            "is there already and was not made by this program",
            allowed="a new folder, or an old results folder",
        )
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        made = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as error:
        raise InputError(str(folder), f"cannot be written: {error.strerror}") from None
    try:
        for name, content in {**files, _MARKER: b"results folder; replaced as a whole by the next run\n"}.items():
            (made / name).write_bytes(content)
        made.chmod(0o755)
        _swap(made, folder)
    except OSError as error:
        raise InputError(str(folder), f"cannot be written: {error.strerror}") from None
    finally:
        shutil.rmtree(made, ignore_errors=True)


def _swap(made: Path, folder: Path) -> None:
    """Put the new folder in the place of the old one; an interrupted swap leaves one of the two complete."""
    old = Path(tempfile.mkdtemp(prefix=f".{folder.name}-old-", dir=folder.parent)) / "results"
    try:
        if folder.exists():
            folder.replace(old)
        made.replace(folder)
    except OSError:
        if old.exists() and not folder.exists():
            old.replace(folder)
        raise
    finally:
        shutil.rmtree(old.parent, ignore_errors=True)
