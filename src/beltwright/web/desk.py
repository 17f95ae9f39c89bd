"""The desk: the ship that is being edited, its results, and the pictures made from them, shared by every open tab.

What a browser fetches by address (the shell, a drawing, a document) carries the number of the state that it belongs
to, so that nothing old is shown under a new name. Pictures are made when first asked for.
"""

from __future__ import annotations

import asyncio
import json
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from beltwright.app.colouring import Colouring, colour_panels
from beltwright.app.compare import State
from beltwright.app.least import LeastRun
from beltwright.app.loadpatch import patch_on_panel
from beltwright.app.record import RevisionLine, ShipRecord
from beltwright.app.results import Results
from beltwright.app.session import DesignSession
from beltwright.app.shellmesh import shell_mesh
from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError, ToolError
from beltwright.drawing.backends.live import to_live_svg
from beltwright.drawing.picture import ShipPicture
from beltwright.drawing.standard import standard_sheets
from beltwright.scantlings.members import MemberRun

SHEETS: Final = ("shell-expansion", "profile", "body-plan")
Listener = Callable[[str], None]


@dataclass(slots=True)
class _Pictures:
    """Pictures of one result, made when first asked for."""

    results: Results
    lock: threading.Lock = field(default_factory=threading.Lock)
    shell: bytes | None = None
    picture: ShipPicture | None = None
    drawings: dict[str, str] = field(default_factory=dict)
    documents: dict[str, bytes] = field(default_factory=dict)


class Desk:
    """One ship folder on the desk.

    ``on_change`` listeners hear one word: ``edited`` (the description moved), ``plates`` (plating and frames stand),
    ``results`` (all results stand), ``failed`` (there are none, ``error`` says why).
    """

    def __init__(self, folder: Path) -> None:
        self.record = ShipRecord(folder)
        try:
            self.session = DesignSession(folder, journal=self.record)
        except ToolError:
            self.record.close()
            raise
        self.error = ""
        self.busy = False
        self.chosen: str = ""
        self.author = ""
        self.least: LeastRun | None = None
        self._listeners: list[Listener] = []
        self._plates: tuple[Arrangement, MemberRun] | None = None
        self._pictures: _Pictures | None = None
        self._number = 0
        self._waiting = False

    def close(self) -> None:
        """Let go of the ship folder; a search that runs is stopped."""
        if self.least is not None:
            self.least.stop()
        self.record.close()

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Have a listener hear of changes; returns what ends it."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener) if listener in self._listeners else None

    def tell(self, what: str) -> None:
        """Tell every listener of a change."""
        for listener in tuple(self._listeners):
            listener(what)

    @property
    def results(self) -> Results | None:
        """The last results, which may be out of date."""
        return self.session.results

    @property
    def number(self) -> int:
        """The number of the state of the pictures; it grows with every new result."""
        return self._number

    async def edit(self, change: Callable[[], object]) -> str:
        """Make a change and then the results anew; returns the line that refuses it, empty where it stands."""
        try:
            await asyncio.to_thread(change)
        except ToolError as error:
            return str(error)
        self.tell("edited")
        await self.recompute()
        return ""

    async def recompute(self) -> None:
        """Make the results anew; a change that comes meanwhile is taken up when this run is done."""
        if self.busy:
            self._waiting = True
            return
        self.busy = True
        loop = asyncio.get_running_loop()

        def heard(arrangement: Arrangement, plating: MemberRun, _: MemberRun) -> None:
            self._plates = (arrangement, plating)
            loop.call_soon_threadsafe(self.tell, "plates")

        try:
            while True:
                self._waiting = False
                try:
                    made = await asyncio.to_thread(self.session.recompute, heard=heard)
                except ToolError as error:
                    self.error = str(error)
                    self.tell("failed")
                else:
                    self.error = ""
                    if self._pictures is None or self._pictures.results is not made:
                        self._number += 1
                        self._pictures = _Pictures(made)
                        self._plates = (made.design.arrangement, made.design.plating_run)
                    self.tell("results")
                if not self._waiting:
                    return
        finally:
            self.busy = False

    def colouring(self, by: str) -> Colouring | None:
        """Return the panels coloured one way, by the plates that stand now; None before there are any."""
        if self._plates is None:
            return None
        arrangement, plating = self._plates
        made = self.session.results
        fresh = made is not None and made.design.plating_run is plating
        grades = made.design.grades if fresh and made is not None else None
        return colour_panels(by, arrangement, plating.table, grades)

    @property
    def arrangement(self) -> Arrangement | None:
        """The arrangement of the plates that stand now."""
        return None if self._plates is None else self._plates[0]

    def shell(self) -> bytes:
        """Return the shell for the picture in three dimensions; InputError before there are results."""
        pictures = self._current()
        with pictures.lock:
            if pictures.shell is None:
                pictures.shell = shell_mesh(pictures.results.design)
            return pictures.shell

    def drawing(self, sheet: str) -> str:
        """Return a live drawing by its sheet's id; InputError for an unknown one, and before there are results."""
        if sheet == "least":
            return self._least_drawing()
        if sheet not in SHEETS:
            raise InputError("drawing", "there is no such drawing", value=sheet, allowed=", ".join(SHEETS))
        pictures = self._current()
        with pictures.lock:
            if sheet not in pictures.drawings:
                scene = standard_sheets().sheet(sheet).draw(self._picture(pictures))
                names = pictures.results.design.plating.labels("id").tolist()
                pictures.drawings[sheet] = to_live_svg(scene, prefix=f"{sheet}-", names=names)
            return pictures.drawings[sheet]

    def keep(self, *, name: str, note: str) -> RevisionLine:
        """Keep the description and its results as a revision; InputError where the results are out of date."""
        from beltwright.report.from_design import material_of
        from beltwright.report.result_json import result_text

        session = self.session
        made = session.results
        if made is None or not session.up_to_date:
            raise InputError("revision", "the results are out of date", allowed="results of the description in force")
        hull_file, files = session.files()
        material = material_of(made.design, made.weight, made.inputs_sha256)
        return self.record.keep(
            name=name, author=self.author or "not stated", note=note, inputs_sha256=made.inputs_sha256,
            result_sha256=made.result_sha256, description=session.text,
            hull_file=hull_file, result=json.loads(result_text(material)), files=files,
        )  # fmt: skip

    def _least_drawing(self) -> str:
        """The plates before and after the search."""
        if self.least is None or self.least.study is None:
            raise InputError("drawing", "no search for the least structure has ended")
        from beltwright.report.sizing import sizing_picture

        return to_live_svg(sizing_picture(self.least.study), prefix="least-", names=[])

    def classes(self) -> ColumnTable:
        """Return the ship under every class of its rules, a row each; InputError where the results are out of date."""
        from beltwright.weights.classes import compare_classes

        made = self.results
        if made is None or not self.session.up_to_date:
            raise InputError("classes", "the results are out of date", allowed="results of the description in force")
        design = made.design
        return compare_classes(design.ship, design.rules, design.measures, design.arrangement).summary

    def begin_least(self) -> str:
        """Start the search for the least structure; returns the line that refuses it, empty where it runs."""
        made = self.results
        if made is None or not self.session.up_to_date:
            return "least structure: the results are out of date"
        if self.least is not None and self.least.running:
            return "least structure: a search is running already"
        self.least = LeastRun(made.design, self.session.read.loading_cases, self.session.text)
        return ""

    def documents(self) -> tuple[str, ...]:
        """Return the names of the documents of the results in force; none where they are not made."""
        pictures = self._pictures
        if pictures is None or not self.session.up_to_date:
            return ()
        return tuple(pictures.documents)

    def document(self, name: str) -> bytes:
        """Return a document by its name; InputError where there is none of that name."""
        found = None if self._pictures is None else self._pictures.documents.get(name)
        if found is None:
            raise InputError(
                "document", "there is no such document", value=name[:60], allowed=", ".join(self.documents())
            )
        return found

    def make_documents(self) -> None:
        """Make every document of the results in force and write them into the results folder."""
        from beltwright.report.package import documents
        from beltwright.store.folder import write_results

        pictures = self._current()
        made = pictures.results
        if not self.session.up_to_date:
            raise InputError("documents", "the results are out of date", allowed="results of the description in force")
        found = documents(made.design, made.weight, made.inputs_sha256)
        write_results(self.session.folder / "results", found)
        pictures.documents = found

    def state(self, number: int) -> State:
        """Return a kept revision as a state to compare, with 0 the state in force; InputError where there is none."""
        if number:
            kept = self.record.revision(number)
            return State(description=kept.description, result=kept.result)
        from beltwright.report.from_design import material_of
        from beltwright.report.result_json import result_text

        made = self.results
        if made is None or not self.session.up_to_date:
            raise InputError("compare", "the results are out of date", allowed="results of the description in force")
        text = result_text(material_of(made.design, made.weight, made.inputs_sha256))
        return State(description=self.session.text, result=json.loads(text))

    def load_patch(self, row: int) -> tuple[list[float], int]:
        """Return the load patch on a panel as a flat list of points and its columns; empty where there is none."""
        made = self.results
        if made is None or self.arrangement is not made.design.arrangement:
            return [], 1
        points = patch_on_panel(made.design, row)
        return points.ravel().tolist(), max(points.shape[1], 1)

    def panel_row(self, name: str) -> int | None:
        """Return the row of a panel by its name, None where there is none."""
        if self.arrangement is None:
            return None
        names: Sequence[str] = self.arrangement.panels.labels("id").tolist()
        return names.index(name) if name in names else None

    def panel_name(self, row: int) -> str:
        """Return the name of a panel by its row; empty where there is none."""
        if self.arrangement is None or not 0 <= row < self.arrangement.panels.rows:
            return ""
        return str(self.arrangement.panels.labels("id")[row])

    def _current(self) -> _Pictures:
        """The pictures of the last results."""
        if self._pictures is None:
            raise InputError("pictures", "there are no results yet", allowed="a ship that can be designed")
        return self._pictures

    @staticmethod
    def _picture(pictures: _Pictures) -> ShipPicture:
        """The ship as a draughtsman sees it."""
        if pictures.picture is None:
            from beltwright.drawing.from_design import picture_of

            pictures.picture = picture_of(pictures.results.design, pictures.results.inputs_sha256)
        return pictures.picture
