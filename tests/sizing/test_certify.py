"""Certificates: what holds is confirmed, twenty that are tampered with are refused, each for its reason."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.sizing import small

from beltwright.core.errors import InputError
from beltwright.sizing import certify as module
from beltwright.sizing.certificate import Certificate, Verdict, certificate, read_certificate, to_text
from beltwright.sizing.certify import certify
from beltwright.sizing.size import size

Plain = dict[str, Any]
pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def _asked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The question of the small ship is made once; trying more spans only adds to it."""
    monkeypatch.setattr(module, "ask", lambda design, *, second: small.asked())


def verdict(made: Certificate) -> Verdict:
    return certify(made, small.with_settings(), small.INPUTS)


def test_a_certificate_is_confirmed_from_its_file() -> None:
    text = to_text(small.certified())
    assert to_text(read_certificate(text, "certificate.json")) == text
    told = verdict(read_certificate(text, "certificate.json"))
    assert told.holds
    assert told.open == ()
    assert any("the bound" in line for line in told.confirmed)
    assert any("plating" in line for line in told.confirmed)


def first_plate(plain: Plain) -> Plain:
    """The thickest of the plates that could have been chosen one step thinner."""
    problem, chosen = small.sized().problem, small.sized().found.solution.choices
    names = [plate.name for plate, k in zip(problem.plates, chosen, strict=True) if k > 0]
    found: Plain = max((plain["plates"][name] for name in names), key=lambda one: float(one["thickness_mm"]))
    return found


@cache
def lighter_section() -> tuple[int, str]:
    """A group and a section below its own, by name order of the stock's masses."""
    made = small.certified()
    for number, one in enumerate(made.frames):
        if one.section != "FB100x8":
            return number, "FB100x8"
    raise AssertionError


def swap_two(plain: Plain) -> None:
    frames = plain["frames"]
    other = next(k for k in range(1, len(frames)) if frames[k]["section"] != frames[0]["section"])
    frames[0]["section"], frames[other]["section"] = frames[other]["section"], frames[0]["section"]


def thinner(plain: Plain, *, priced: bool = False, by_mm: float = 0.5) -> None:
    plate = first_plate(plain)
    plate["thickness_mm"] -= by_mm
    if priced:
        plain["price"] -= 1000
        plain["bound"] -= 1000


def drop(plain: Plain, key: str) -> None:
    if isinstance(plain[key], dict):
        plain[key].pop(next(iter(plain[key])))
    else:
        plain[key].pop()


MUTANTS: dict[str, tuple[Callable[[Plain], object], str]] = {
    "a plate one step thinner": (lambda d: thinner(d), ""),
    "a plate one step thinner, price lowered": (lambda d: thinner(d, priced=True), ""),
    "a plate one step thicker": (lambda d: thinner(d, by_mm=-0.5), ""),
    "a plate of no stock": (lambda d: thinner(d, by_mm=0.1),
                            "was not there to choose"),
    "a plate of another grade": (lambda d: first_plate(d).update(grade="A"), "was not there to choose"),
    "two profiles swapped": (swap_two, ""),
    "a weak profile": (lambda d: d["frames"][lighter_section()[0]].update(section=lighter_section()[1]), ""),
    "a profile of no stock": (lambda d: d["frames"][0].update(section="T999x99+99x99"), "was not there to choose"),
    "a frame grade of no stock": (lambda d: d["frames"][0].update(grade="AH32"), "was not there to choose"),
    "the bound raised": (lambda d: d.update(bound=d["bound"] + 1), "above the price"),
    "price and bound raised": (lambda d: d.update(price=d["price"] + 5, bound=d["bound"] + 5), "adds up to"),
    "the price lowered": (lambda d: d.update(price=d["price"] - 1, bound=d["bound"] - 1), "adds up to"),
    "the bound lowered, still finished": (lambda d: d.update(bound=d["bound"] - 1), "the other way round"),
    "not finished with an equal bound": (lambda d: d.update(finished=False), "the other way round"),
    "another ship's inputs": (lambda d: d.update(inputs_sha256="6" * 64), "another hash"),
    "another question": (lambda d: d.update(question_sha256="7" * 64), "the question is not the one"),
    "another class": (lambda d: d.update(ice_class="PC5"), "ice class is another"),
    "another rule set": (lambda d: d.update(rule_set="polar_iacs_2016"), "rule set is another"),
    "another unit": (lambda d: d.update(unit="kg"), "unit of the price is another"),
    "a second price": (lambda d: d["second"].update(price=7), "adds up to 0, not to 7"),
    "another unit of the second price": (lambda d: d["second"].update(unit="g"), "unit of the price is another"),
    "a plate left out": (lambda d: drop(d, "plates"), "plates without an entry"),
    "a group left out": (lambda d: drop(d, "frames"), "frames without an entry"),
    "a group twice": (lambda d: d["frames"].append(d["frames"][0]), "stands twice"),
    "a plate too many": (lambda d: d["plates"].update({"C99/S9": {"thickness_mm": 20.0, "grade": "EH36"}}),
                         "plates that are not there"),
    "an option that is not there": (lambda d: d["framing"].update(side="longitudinal"), "has no option"),
    "a zone left out": (lambda d: drop(d, "framing"), "zones without an entry"),
}  # fmt: skip


@pytest.mark.parametrize("what", list(MUTANTS))
def test_what_was_tampered_with_is_refused(what: str) -> None:
    change, told = MUTANTS[what]
    plain = json.loads(to_text(small.certified()))
    change(plain)
    found = verdict(read_certificate(json.dumps(plain), "certificate.json"))
    assert not found.holds, what
    assert told in " ".join(found.refused)


def test_a_dearer_design_called_the_least_is_refused() -> None:
    """A whole design that meets everything, only not the least: the second solver finds a cheaper one."""
    dear = size(small.with_settings(alike_through="every support"))
    question = small.certified().question_sha256
    made = certificate(dear, small.INPUTS).model_copy(update={"question_sha256": question})
    if dear.found.price == small.certified().price:
        pytest.skip("alike at every support costs nothing on this ship")
    adds_up = re.search(r"adds up to (\d+)", " ".join(verdict(made).refused))  # groups round otherwise
    if adds_up:
        made = made.model_copy(update={"price": int(adds_up[1]), "bound": int(adds_up[1])})
    found = verdict(made)
    assert not found.holds
    assert f"the bound {made.bound} is above" in " ".join(found.refused)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "is not a certificate"),
        ("[1, 2]", "x.json: "),
        ('{"format": "beltwright sizing certificate 1", "format": "x"}', "a key stands twice"),
        ('{"format": NaN}', "is not a number"),
        ("{" * 100_000, "is not a certificate"),
    ],
)
def test_what_is_no_certificate_is_one_line(text: str, told: str) -> None:
    with pytest.raises(InputError, match=r".") as caught:
        read_certificate(text, "x.json")
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_recheck_imports_nothing_of_the_solver_s_model() -> None:
    folder = Path(module.__file__).parent
    seen, left = set(), ["certify"]
    while left:
        name = left.pop()
        if name in seen:
            continue
        seen.add(name)
        tree = ast.parse((folder / f"{name}.py").read_text("utf-8"))
        tree.body = [node for node in tree.body if ast.dump(node)[:40].find("If(test=Name(id='TYPE_CHECKING'") < 0]
        left += [
            str(node.module).rsplit(".", 1)[1]
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("beltwright.sizing.")
        ]
    assert not {"solve", "reduce"} & seen, seen
