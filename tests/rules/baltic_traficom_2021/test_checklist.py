"""Clauses of the regulation without a formula: items that the designer answers for."""

from __future__ import annotations

from beltwright.rules.baltic_traficom_2021.checklist import CHECKLIST
from beltwright.rules.registry import rule_set

BALTIC = rule_set("baltic_traficom_2021")


def test_items_are_told_apart_and_say_what_they_ask() -> None:
    assert BALTIC.checklist == CHECKLIST
    ids = [item.id for item in CHECKLIST]
    assert len(set(ids)) == len(ids) == 13
    for item in CHECKLIST:
        assert item.ref.startswith("FSICR ")
        assert len(item.requirement) > 60
        assert set(item.classes) <= set(BALTIC.classes)


def test_what_only_the_stronger_classes_are_asked() -> None:
    """Text of the regulation: ice knife and rudder stoppers are asked of IA Super and IA."""
    assert {item.id: item.classes for item in CHECKLIST if item.classes} == {
        "ice_knife_and_stoppers": ("IA Super", "IA")
    }


def test_the_chapters_beside_the_hull_are_all_named() -> None:
    assert {item.ref.split()[1].split(".")[0] for item in CHECKLIST} == {"2", "4", "5", "6", "7"}
