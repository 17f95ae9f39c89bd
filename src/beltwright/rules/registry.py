"""The registry of rule sets: those of this package and those that outside packages bring by entry point."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from datetime import date
from importlib.metadata import entry_points

from beltwright.core.errors import InputError
from beltwright.rules.protocol import EditionDifference, RuleSet

ENTRY_POINT_GROUP = "beltwright.rules"

_FACTORIES: dict[str, Callable[[], RuleSet]] = {}


def register(rule_set_id: str, factory: Callable[[], RuleSet]) -> None:
    """Register a rule set under its id; an id may be taken only once."""
    if rule_set_id in _FACTORIES:
        raise ValueError(f"rule set {rule_set_id} is registered already")
    _FACTORIES[rule_set_id] = factory


def available() -> tuple[str, ...]:
    """Return the ids of all registered rule sets."""
    _load_outside()
    return tuple(sorted(_FACTORIES))


def rule_set(rule_set_id: str) -> RuleSet:
    """Return a rule set by id; an unknown id is an InputError that lists the known ones."""
    known = available()
    if rule_set_id not in known:
        raise InputError("ship.toml: ice.rules", "no such rule set", value=rule_set_id, allowed=", ".join(known))
    return _FACTORIES[rule_set_id]()


def differences(rule_set_id: str) -> tuple[EditionDifference, ...]:
    """Return where a rule set differs from the registered other editions of its documents, clause by clause.

    An unknown id is an InputError.
    """
    rule_set(rule_set_id)
    every = (one for known in available() for one in _FACTORIES[known]().differences)
    return tuple(one for one in every if rule_set_id in one.says)


def editions_for(short: str, contract: date) -> tuple[str, ...]:
    """Return the rule sets whose edition of a document (by its short name) applies to a contract date.

    Editions of which it is not known from when they apply are left out.
    """
    return tuple(
        known
        for known in available()
        for document in _FACTORIES[known]().documents
        if document.short == short and document.applies_from is not None and document.applies_to(contract)
    )


def _load_outside() -> None:
    """Register what outside packages offer; a broken one warns and is left out."""
    for entry in entry_points(group=ENTRY_POINT_GROUP):
        if entry.name in _FACTORIES:
            continue
        try:
            register(entry.name, entry.load())
        except Exception as error:  # an outside package must not stop the program
            warnings.warn(f"rule set {entry.name} cannot be loaded: {error}", stacklevel=2)


def _polar_iacs_2019() -> RuleSet:
    """IACS UR I1 and I2, the 2019 edition."""
    from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET

    return RULE_SET


def _polar_iacs_2016() -> RuleSet:
    """IACS UR I1 and I2, the 2016 edition."""
    from beltwright.rules.polar_iacs_2016.ruleset import RULE_SET

    return RULE_SET


def _baltic_traficom_2021() -> RuleSet:
    """The Finnish-Swedish ice class rules, as Traficom's regulation of 2021."""
    from beltwright.rules.baltic_traficom_2021.ruleset import RULE_SET

    return RULE_SET


register("baltic_traficom_2021", _baltic_traficom_2021)
register("polar_iacs_2016", _polar_iacs_2016)
register("polar_iacs_2019", _polar_iacs_2019)
