"""The workshop: the folder in which ship folders lie, which of them is on the desk, and hull files on their way in.

Nothing that comes from a browser becomes part of a path: ships are chosen by their number in a list made here, a new
folder's name is made of letters and figures, and an uploaded file gets a name of our own.
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from typing import Final

from beltwright.app.new_ship import Answers, first_description, folder_name, hull_name
from beltwright.core.errors import InputError
from beltwright.drawing.backends.live import to_live_svg
from beltwright.drawing.scene import Scene
from beltwright.hull.placing import HullSettings
from beltwright.store.folder import SHIP_FILE
from beltwright.web.desk import Desk

MOST_SHIPS: Final = 200


class Workshop:
    """Ship folders, and the one on the desk.

    Parameters
    ----------
    root : the folder in which ship folders lie, or where new ones are made
    folder : the ship folder to begin with, if there is one
    """

    def __init__(self, root: Path, folder: Path | None = None) -> None:
        self.root = root
        self.desk: Desk | None = None
        self._incoming = Path(tempfile.mkdtemp(prefix="beltwright-incoming-"))
        self._pictures: list[str] = []
        if folder is not None:
            self.desk = Desk(folder)

    def close(self) -> None:
        """Let go of everything."""
        if self.desk is not None:
            self.desk.close()
        shutil.rmtree(self._incoming, ignore_errors=True)

    def ships(self) -> tuple[Path, ...]:
        """Return the ship folders under the root, by name; that on the desk too, wherever it lies."""
        found = {path.parent for path in self.root.glob(f"*/{SHIP_FILE}") if path.is_file()}
        if (self.root / SHIP_FILE).is_file():
            found.add(self.root)
        if self.desk is not None:
            found.add(self.desk.session.folder)
        return tuple(sorted(found, key=lambda path: path.name.lower())[:MOST_SHIPS])

    def open(self, number: int) -> Desk:
        """Put a ship of the list on the desk; InputError where there is none of that number or it cannot be read."""
        ships = self.ships()
        if not 0 <= number < len(ships):
            raise InputError("ship", "there is no such ship", value=number + 1, allowed=f"1 to {len(ships)}")
        return self._put(ships[number])

    def take_in(self, name: str, content: bytes) -> Path:
        """Keep an uploaded hull file until it becomes a ship's; InputError for a kind that no reader takes."""
        place = self._incoming / hull_name(name)
        place.write_bytes(content)
        return place

    def show(self, picture: Scene) -> int:
        """Keep the picture of a hull on its way in; returns the number under which a page fetches it."""
        self._pictures.append(to_live_svg(picture, prefix="incoming-", names=[]))
        return len(self._pictures) - 1

    def picture(self, number: int) -> str:
        """Return a kept picture; InputError where there is none of that number."""
        if not 0 <= number < len(self._pictures):
            raise InputError("picture", "there is no such picture", value=number)
        return self._pictures[number]

    def new_ship(self, answers: Answers, settings: HullSettings, hull: Path, hull_x_m: tuple[float, float]) -> Desk:
        """Make a folder for a new ship and put it on the desk; InputError where that cannot be, with nothing left."""
        folder = self.root / folder_name(answers.name)
        if folder.exists():
            raise InputError("name of the ship", "a folder of this name is there already", value=folder.name)
        text = first_description(answers, settings, hull_x_m)
        try:
            folder.mkdir(parents=True)
            shutil.copyfile(hull, folder / answers.hull_file)
            (folder / SHIP_FILE).write_text(text, encoding="utf-8")
        except OSError as error:
            shutil.rmtree(folder, ignore_errors=True)
            raise InputError(folder.name, f"cannot be written: {error.strerror}") from None
        try:
            return self._put(folder)
        except InputError:
            shutil.rmtree(folder, ignore_errors=True)
            raise

    def _put(self, folder: Path) -> Desk:
        """Put a ship folder on the desk in the place of the one before."""
        made = Desk(folder)
        if self.desk is not None:
            self.desk.close()
        self.desk = made
        return made
