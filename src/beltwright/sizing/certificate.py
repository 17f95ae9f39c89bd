"""The certificate of a sizing: who the ship is, what was asked, the answer, its price and the proved bound, as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from beltwright.core.errors import InputError
from beltwright.sizing.problem import other_price
from beltwright.sizing.question import question_hash

if TYPE_CHECKING:
    from beltwright.sizing.size import Sized

FORMAT: Final = "beltwright sizing certificate 2"
Digest = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Whole = Annotated[int, Field(ge=0)]
Objective = Literal["mass", "cost", "co2", "mix"]


class _Part(BaseModel):
    """A part of the certificate: unknown keys are refused, nothing is converted."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class PlateEntry(_Part):
    """A plate as sized."""

    thickness_mm: Annotated[float, Field(gt=0.0, le=200.0)]
    grade: str


class FrameEntry(_Part):
    """The section of a group of frames, named by its zone and its own name."""

    zone: str
    group: str
    section: str
    grade: str


class ArrangementEntry(_Part):
    """An arrangement that there was to choose: how it came out, its proved bound, its price if searched."""

    choices: tuple[str, ...]
    state: Literal["chosen", "searched", "dropped", "nothing meets", "not searched"]
    bound: Whole
    price: Whole | None


class Second(_Part):
    """Another objective that was bounded: its price, and the most that it was allowed to be; none where blank."""

    objective: Annotated[str, Field(pattern=r"^(mass|cost|co2|mix)?$")]
    unit: str
    price: Whole
    most: Whole | None


class Certificate(_Part):
    """What a certificate file holds; see the manual for each entry."""

    format: Literal["beltwright sizing certificate 2"]
    ship: str
    inputs_sha256: Digest
    rule_set: str
    ice_class: str
    question_sha256: Digest
    objective: Objective
    unit: str
    second: Second
    arrangement: tuple[str, ...]
    arrangements: tuple[ArrangementEntry, ...]
    framing: dict[str, str]
    plates: dict[str, PlateEntry]
    frames: tuple[FrameEntry, ...]
    price: Whole
    bound: Whole
    finished: bool

    @property
    def sections(self) -> Mapping[tuple[str, str], tuple[str, str]]:
        """Section and grade by zone and group."""
        return {(one.zone, one.group): (one.section, one.grade) for one in self.frames}


def certificate(sized: Sized, inputs_sha256: str) -> Certificate:
    """Return the certificate of a sizing."""
    design, asked = sized.design, sized.asked
    thickness = sized.laid.thickness_mm
    return Certificate(
        format=FORMAT,
        ship=design.ship.ship.name,
        inputs_sha256=inputs_sha256,
        rule_set=design.rules.id,
        ice_class=design.ship.ice.ice_class,
        question_sha256=question_hash(asked),
        objective=asked.values.objective,
        unit=sized.problem.unit,
        second=Second(
            objective=asked.values.second,
            unit=asked.values.second_unit,
            most=sized.problem.most_other,
            price=other_price(sized.problem, sized.found.solution),
        ),
        arrangement=sized.arrangement,
        arrangements=tuple(
            ArrangementEntry.model_validate(
                {"choices": one.words, "state": one.state, "bound": one.bound, "price": one.price}
            )
            for one in sized.outcomes
        ),
        framing=dict(sized.framing),
        plates={
            asked.plates.names[p]: PlateEntry(thickness_mm=float(thickness[p]), grade=sized.laid.grade[p])
            for p in asked.sized.tolist()
        },
        frames=tuple(
            FrameEntry(zone=zone, group=group, section=section, grade=grade)
            for (zone, group), (section, grade) in sized.sections.items()
        ),
        price=sized.found.price,
        bound=sized.found.bound,
        finished=sized.found.finished,
    )


def to_text(made: Certificate) -> str:
    """Return the file's text: the same certificate always gives the same bytes."""
    return json.dumps(made.model_dump(mode="json"), indent=1, ensure_ascii=True, allow_nan=False) + "\n"


def read_certificate(text: str, where: str) -> Certificate:
    """Return a certificate from its file's text; InputError with one line for what is not one."""
    try:
        plain: Any = json.loads(text, parse_constant=_refuse, object_pairs_hook=_once)
        return Certificate.model_validate_json(json.dumps(plain))
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(part) for part in first["loc"])
        raise InputError(f"{where}: {place}", first["msg"], value=str(first["input"])[:40]) from None
    except (ValueError, RecursionError) as error:
        raise InputError(where, f"is not a certificate: {str(error)[:80]}") from None


def _refuse(word: str) -> None:
    raise ValueError(f"{word} is not a number")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A table in which no key stands twice."""
    table = dict(pairs)
    if len(table) < len(pairs):
        raise ValueError("a key stands twice")
    return table


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the recheck of a certificate found: ``refused`` says why it does not hold, ``open`` what is not confirmed.

    ``confirmed`` are sentences on what was recomputed.
    """

    refused: tuple[str, ...]
    confirmed: tuple[str, ...]
    open: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether nothing speaks against the certificate."""
        return not self.refused
