"""The interface for other programs: the same use cases as the pages, as JSON, described by OpenAPI.

Every answer that refuses something is one line with status 422; nothing is changed then.
"""

from __future__ import annotations

import asyncio
import math
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query
from pydantic import BaseModel, ConfigDict, Field

from beltwright.app.colouring import COLOURINGS
from beltwright.core.errors import InputError, ToolError
from beltwright.report.calculation import calculation
from beltwright.scantlings.explain import explain_panel
from beltwright.web.desk import Desk
from beltwright.web.workshop import Workshop

Name = Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]*$")]


class Refusal(BaseModel):
    """Why something was refused, in one line."""

    error: str


class StateAnswer(BaseModel):
    """The ship on the desk and whether its results hold."""

    ship: str
    ice_class: str
    rules: str
    up_to_date: bool
    error: str
    outcome: str | None
    steel_t: float | None
    displacement_kt: float | None
    undo: str
    redo: str


class AreaAnswer(BaseModel):
    """One hull area with what came out for it; null where nothing is asked."""

    code: str
    title: str
    required_mm: float | None
    least_mm: float | None
    most_mm: float | None
    plate_ratio: float | None
    frame_ratio: float | None


class NumberAnswer(BaseModel):
    """One number of a story."""

    symbol: str
    value: str
    meaning: str
    source: str
    confirmed: bool


class StoryAnswer(BaseModel):
    """Why a plate is as thick as it is."""

    panel: str
    headline: str
    place: list[str]
    rounding: list[str]
    numbers: list[NumberAnswer]


class FindingAnswer(BaseModel):
    """One finding."""

    code: str
    severity: str
    title: str
    where: str
    message: str


class ColouringAnswer(BaseModel):
    """The panels by class: the class of each, in the order of the panels' names, and what the classes mean."""

    title: str
    panels: list[str]
    classes: list[int]
    labels: list[str]


class Change(BaseModel):
    """One setting to change: its place, such as ``["levels", 0, "height_m"]`` (rows from 0), and its new value."""

    model_config = ConfigDict(extra="forbid")
    path: list[Name | Annotated[int, Field(ge=0, le=10_000)]] = Field(min_length=1, max_length=8)
    value: str | float | int | bool | list[str | float] | None = None


class RevisionAnswer(BaseModel):
    """A revision that is kept."""

    number: int
    name: str
    author: str
    note: str
    at: str
    inputs_sha256: str
    result_sha256: str


class Keep(BaseModel):
    """What is said of a revision that is to be kept."""

    model_config = ConfigDict(extra="forbid")
    name: Name
    note: Annotated[str, Field(max_length=500, pattern=r"^[^\x00-\x1f\x7f]*$")] = ""


def interface(workshop: Workshop) -> APIRouter:  # noqa: C901 - one function for each way in
    """Return the interface on the ship on the desk."""
    router = APIRouter(prefix="/api", responses={422: {"model": Refusal}})

    def desk() -> Desk:
        if workshop.desk is None:
            raise InputError("ship", "none is on the desk", allowed="open one on the page Ships")
        return workshop.desk

    async def current() -> Desk:
        found = desk()
        if not found.session.up_to_date:
            await found.recompute()
        if not found.session.up_to_date:
            raise InputError("results", found.error or "are out of date")
        return found

    @router.get("/state")
    async def state() -> StateAnswer:
        """The ship on the desk and whether its results hold."""
        return _state(desk())

    @router.get("/areas")
    async def areas() -> list[AreaAnswer]:
        """The hull areas with their plating and frames."""
        made = (await current()).results
        assert made is not None
        table = made.design.area_table

        def number(name: str, row: int) -> float | None:
            if name not in table or not table[name].applies[row]:
                return None
            value = float(table[name].data[row])
            return value if math.isfinite(value) else None

        return [
            AreaAnswer(
                code=str(table.labels("code")[row]), title=str(table.labels("title")[row]),
                required_mm=number("thickness_required_mm", row), least_mm=number("thickness_least_mm", row),
                most_mm=number("thickness_most_mm", row), plate_ratio=number("plate_ratio", row),
                frame_ratio=number("frame_ratio", row),
            )
            for row in range(table.rows)
        ]  # fmt: skip

    @router.get("/findings")
    async def findings() -> list[FindingAnswer]:
        """Everything that was noticed."""
        made = (await current()).results
        assert made is not None
        return [
            FindingAnswer(
                code=one.kind.code, severity=one.kind.severity.value, title=one.kind.title, where=one.where,
                message=one.message,
            )
            for one in made.findings
        ]  # fmt: skip

    @router.get("/story")
    async def story(panel: Annotated[str, Query(min_length=1, max_length=80)]) -> StoryAnswer:
        """Why a plate is as thick as it is."""
        made = (await current()).results
        assert made is not None
        tale = await asyncio.to_thread(explain_panel, made.design, panel)
        return StoryAnswer(
            panel=tale.id, headline=tale.headline, place=list(tale.place), rounding=list(tale.rounding),
            numbers=[
                NumberAnswer(symbol=line.symbol, value=line.value_words, meaning=line.meaning,
                             source=line.citation or line.origin, confirmed=line.confirmed)
                for line in calculation(tale.trace, tale.results)
            ],
        )  # fmt: skip

    @router.get("/colouring/{by}")
    async def colouring(by: Annotated[str, Path(max_length=40)]) -> ColouringAnswer:
        """The panels coloured one way."""
        if by not in COLOURINGS:
            raise InputError("colouring", "there is none of this name", value=by, allowed=", ".join(COLOURINGS))
        found = await current()
        made = found.colouring(by)
        assert made is not None
        assert found.arrangement is not None
        names = found.arrangement.panels.labels("id").tolist()
        return ColouringAnswer(title=made.title, panels=names, classes=made.classes.tolist(), labels=list(made.labels))

    @router.post("/change")
    async def change(asked: Change) -> StateAnswer:
        """Change one setting; the results are made anew."""
        found = desk()
        return await _edited(found, lambda: found.session.change({tuple(asked.path): asked.value}))

    @router.post("/undo")
    async def undo() -> StateAnswer:
        """Go back one change."""
        found = desk()
        return await _edited(found, found.session.undo)

    @router.post("/redo")
    async def redo() -> StateAnswer:
        """Do the next change again."""
        found = desk()
        return await _edited(found, found.session.redo)

    @router.get("/revisions")
    async def revisions() -> list[RevisionAnswer]:
        """The revisions that are kept."""
        return [RevisionAnswer(**_line(line)) for line in desk().record.revisions()]

    @router.post("/revisions")
    async def keep(asked: Keep) -> RevisionAnswer:
        """Keep the state in force as a revision."""
        found = await current()
        line = await asyncio.to_thread(lambda: found.keep(name=asked.name, note=asked.note))
        found.tell("edited")
        return RevisionAnswer(**_line(line))

    return router


async def _edited(desk: Desk, change: Any) -> StateAnswer:
    """Make a change and give the state after it; a refusal is an InputError."""
    try:
        refused = await desk.edit(change)
    except (TypeError, KeyError, IndexError) as error:
        raise InputError("path", f"leads nowhere ({error})") from None
    if refused:
        raise ToolError(refused)
    return _state(desk)


def _state(desk: Desk) -> StateAnswer:
    """The state of the desk."""
    session, made = desk.session, desk.results
    ship = session.ship
    return StateAnswer(
        ship=ship.ship.name, ice_class=ship.ice.ice_class, rules=ship.ice.rules, up_to_date=session.up_to_date,
        error=desk.error, outcome=None if made is None else ("met" if made.design.all_met else "not met"),
        steel_t=None if made is None else made.weight.total_t,
        displacement_kt=None if made is None else made.design.measures.upper.displacement_kt,
        undo=session.can_undo, redo=session.can_redo,
    )  # fmt: skip


def _line(line: Any) -> dict[str, Any]:
    """A revision's line as plain values."""
    return {name: getattr(line, name) for name in RevisionAnswer.model_fields}
