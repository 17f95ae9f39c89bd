"""The contract date against the edition's own, and the forward perpendicular that an edition measures from."""

from __future__ import annotations

from datetime import date

import pytest
from tests.scantlings.ships import Document, Edit, measured, redesigned, ship

from beltwright.core.findings import Findings
from beltwright.rules.registry import rule_set
from beltwright.scantlings.edition import check_edition, edition_used
from beltwright.scantlings.ship_facts import ship_facts


def signed(day: date | None) -> Edit:
    def edit(doc: Document) -> None:
        doc["ship"]["contract_date"] = day
        if day is None:
            del doc["ship"]["contract_date"]

    return edit


def rules(name: str) -> Edit:
    return lambda doc: doc["ice"].update(rules=name)


def found(name: str, day: date | None) -> dict[str, str]:
    findings = Findings()
    check_edition(rule_set(name), ship(rules(name), signed(day)), findings)
    return {one.kind.code: one.message for one in findings}


@pytest.mark.parametrize(
    ("name", "day", "code", "fitting"),
    [
        ("polar_iacs_2019", date(2020, 12, 31), "BW434", "polar_iacs_2016"),
        ("polar_iacs_2019", date(2017, 6, 30), "BW434", "no rule set of this program"),
        ("polar_iacs_2019", date(2021, 1, 1), "", ""),
        ("polar_iacs_2016", date(2021, 1, 1), "BW435", "polar_iacs_2019"),
        ("polar_iacs_2016", date(2020, 12, 31), "", ""),
        ("polar_iacs_2016", date(2017, 7, 1), "", ""),
        ("polar_iacs_2016", date(2017, 6, 30), "BW434", "no rule set of this program"),
        ("polar_iacs_2019", None, "BW436", ""),
        ("polar_iacs_2016", None, "BW436", ""),
    ],
)
def test_contract_date_against_the_edition(name: str, day: date | None, code: str, fitting: str) -> None:
    said = {key: message for key, message in found(name, day).items() if key != "BW437"}
    assert list(said) == ([code] if code else [])
    if fitting:
        assert said[code].endswith(f"the edition for this date: {fitting}")
    standing = edition_used(rule_set(name), ship(rules(name), signed(day))).standing
    assert standing.startswith({"": "applies by the dates of UR I2", "BW436": "not known"}.get(code, "does not apply"))


def test_an_assumed_forward_perpendicular_is_told_where_it_is_read() -> None:
    assert "BW437" in found("polar_iacs_2016", date(2018, 1, 1))
    assert "BW437" not in found("polar_iacs_2019", date(2022, 1, 1))
    findings = Findings()
    given = ship(rules("polar_iacs_2016"), lambda doc: doc["hull"].update(length_between_perpendiculars_m=48.0))
    check_edition(rule_set("polar_iacs_2016"), given, findings)
    assert [one for one in findings if one.kind.code == "BW437"] == []
    # hand: the stem stands at x 47.5 m, so the perpendicular lies 0.5 m forward of it
    facts, origins = ship_facts(given, measured(), Findings(), rule_set("polar_iacs_2016").facts)
    assert facts["fp_forward_of_stem_m"][0] == pytest.approx(0.5, abs=1e-6)
    assert origins["fp_forward_of_stem_m"] == "ship.toml: hull.length_between_perpendiculars_m 48.000 m"


def test_a_design_in_both_editions() -> None:
    """A ship with a rudder and the perpendicular at the stem: every requirement and every scantling is the same."""
    new, old = redesigned(), redesigned(rules("polar_iacs_2016"), signed(date(2019, 5, 1)))
    for table in ("plating", "frames"):
        one, other = getattr(new, table), getattr(old, table)
        assert one.labels("outcome").tolist() == other.labels("outcome").tolist()
        assert (one["ratio"].data[one["ratio"].applies] == other["ratio"].data[other["ratio"].applies]).all()
    assert new.frames.labels("section").tolist() == old.frames.labels("section").tolist()
    assert {one.kind.code for one in old.findings} - {one.kind.code for one in new.findings} == {"BW437"}
    assert len(old.rules.unconfirmed(old.cells)) > len(new.rules.unconfirmed(new.cells))
    used = edition_used(old.rules, old.ship)
    assert (used.rule_set, used.contract) == ("polar_iacs_2016", "2019-05-01")
    assert len(used.differences) >= 6


def test_the_perpendicular_moves_the_load_in_the_older_edition_only() -> None:
    def pressure(name: str, length: float) -> float:
        design = redesigned(rules(name), lambda doc: doc["hull"].update(length_between_perpendiculars_m=length))
        return float(design.loads.columns["bow_pressure_mpa"][0])

    assert pressure("polar_iacs_2019", 47.5) == pressure("polar_iacs_2019", 49.0)
    assert pressure("polar_iacs_2016", 47.5) == pytest.approx(pressure("polar_iacs_2019", 47.5), rel=1e-9)
    assert pressure("polar_iacs_2016", 49.0) != pytest.approx(pressure("polar_iacs_2016", 47.5), rel=1e-3)
