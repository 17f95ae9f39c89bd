"""The front of the small ship: its ends are the least of each, every point is a design, and its certificates hold."""

from __future__ import annotations

import io
import json
from functools import cache

import pytest
from pypdf import PdfReader
from tests.scantlings import ships
from tests.sizing import small

from beltwright.core.errors import InputError
from beltwright.drawing.front_chart import FrontPoint, front_chart
from beltwright.report.front import front_documents, front_lines
from beltwright.scantlings.design import Design
from beltwright.sizing.certificate import Certificate, certificate
from beltwright.sizing.certify import certify
from beltwright.sizing.front import Front, front
from beltwright.sizing.size import size

DEAR = [  # strong steel is dear and there is hardly any work: lightest and cheapest are two ships
    {"item": "plate work", "amount": 100.0},
    {"item": "frame work", "amount": 100.0},
    {"item": "steel", "grade": "EH40", "amount": 1150.0},
]


def priced(**settings: object) -> Design:
    sizing = {"plate_grades": ["EH36", "EH40"], **settings}
    return ships.redesigned(lambda d: d.update(cost={"prices": DEAR}, sizing=sizing))


@cache
def made() -> Front:
    return front(priced(), "mass", "cost", points=4)


@cache
def certificates() -> tuple[Certificate, ...]:
    return tuple(certificate(one, small.INPUTS) for one in made().sized)


pytestmark = pytest.mark.slow


def test_the_ends_are_the_least_of_each() -> None:
    """kind: second-method. Each end against a search for that objective alone."""
    first, last = made().points[0], made().points[-1]
    assert first.first == size(priced()).found.price
    assert last.second == size(priced(objective="cost")).found.price
    assert first.second > last.second
    assert 2 < len(made().points) <= 4
    assert not made().whole


def test_points_are_designs_none_of_which_beats_another() -> None:
    pairs = [(point.first, point.second) for point in made().points]
    assert pairs == sorted(pairs)
    assert [second for _, second in pairs] == sorted((second for _, second in pairs), reverse=True)
    for point, sized in zip(made().points, made().sized, strict=True):
        assert point.proved
        assert "not met" not in sized.design.plating.labels("outcome")
        assert "not met" not in sized.design.frames.labels("outcome")


def test_a_point_is_certified_and_what_is_not_on_the_front_is_refused() -> None:
    one = certificates()[1]
    assert one.second.most == one.second.price == made().points[1].second
    told = certify(one, priced(), small.INPUTS)
    assert told.holds, told.refused
    assert told.open == ()
    for change, words in (
        ({"second": one.second.model_copy(update={"price": one.second.price - 1})}, "adds up to"),
        ({"second": one.second.model_copy(update={"most": one.second.price - 1})}, "more than the"),
        ({"second": one.second.model_copy(update={"objective": "co2"})}, "question is not the one"),
        ({"second": one.second.model_copy(update={"most": certificates()[0].second.price + 1})}, "is above"),
        ({"objective": "cost"}, "question is not the one"),
    ):
        refused = certify(one.model_copy(update=change), priced(), small.INPUTS).refused
        assert refused, words
        assert words in refused[0]


def test_documents_tell_the_points() -> None:
    written = front_documents(made(), certificates(), small.INPUTS)
    assert {"front.csv", "front_plates.csv", "front.json", "front.svg", "front.pdf", "certificate-1.json",
            "prices.csv"} <= set(written)  # fmt: skip
    assert written == front_documents(made(), certificates(), small.INPUTS)
    told = json.loads(written["front.json"])
    assert [(p["first"], p["second"]) for p in told["points"]] == [(p.first, p.second) for p in made().points]
    lines = list(front_lines(made()))
    assert sum(" t, " in line and "EUR (proved" in line for line in lines) == len(made().points)
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(written["front.pdf"])).pages)
    assert "Points of the front" in text
    assert "EH36 EH40" in text


def test_two_objectives_that_are_one_or_not_known_are_refused() -> None:
    with pytest.raises(InputError, match="two different objectives"):
        front(priced(), "mass", "mass")
    with pytest.raises(InputError, match=r"is not known; found speed; allowed: mass, cost, co2, mix"):
        front(priced(), "mass", "speed")


def test_the_picture_keeps_its_words_on_the_sheet() -> None:
    many = [FrontPoint(number=n, first=700.0 + n, second=5000.0 / n, proved=n != 3) for n in range(1, 8)]
    for some in (many, many[:1]):
        scene = front_chart(some, ("steel mass [t]", "cost [thousand EUR]"), "A front")
        for words in scene.words():
            assert words.box.min() >= 0.0, words.text
            assert words.box[:, 0].max() <= scene.width_mm, words.text
            assert words.box[:, 1].max() <= scene.height_mm, words.text
