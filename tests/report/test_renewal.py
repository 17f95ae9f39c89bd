"""The chapter on corrosion, abrasion and renewal: what it prints, and a rule set without renewal."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.report import sample

from beltwright.core.columns import ColumnTable
from beltwright.report.chapters.renewal import renewal
from beltwright.report.material import Material
from beltwright.report.selection import governing_rows
from beltwright.report.tables import csv_files


@pytest.fixture(scope="module")
def material() -> Material:
    """The invented ship."""
    return sample.material()


def test_every_group_tells_net_as_built_and_renewal(material: Material) -> None:
    """kind: hand. Renewal is the net thickness and 0.5 mm, whatever was fitted."""
    markup = renewal(material).markup
    panels = material.panels
    for row, _ in governing_rows(panels):
        net = float(panels["thickness_net_required_mm"].data[row])
        assert f'"{net:.2f}"' in markup
        assert f'"{net + 0.5:.2f}"' in markup
    assert '"16.0", "15.0", "15.5", "19.0", "18.0", "18.5"' in markup


def test_areas_of_which_nothing_is_asked_are_left_out(material: Material) -> None:
    table = material.area_table
    reason = np.where(np.arange(table.rows) == 2, "no member with a requirement", "")
    column = replace(table["renewal_most_mm"], reason=reason)
    areas = ColumnTable("areas", {**table, "renewal_most_mm": column})
    title = f'"{table.labels("title")[2]}"'
    assert title in renewal(material).markup
    assert title not in renewal(replace(material, area_table=areas)).markup


def test_a_rule_set_without_renewal_says_so(material: Material) -> None:
    panels = ColumnTable("panels", {name: material.panels[name] for name in material.panels if name != "renewal_mm"})
    markup = renewal(replace(material, panels=panels)).markup
    assert "The rule set gives no thickness for renewal." in markup
    assert "sheet(" not in markup


def test_the_tables_carry_the_columns(material: Material) -> None:
    files = csv_files(material)
    head = {name: text.splitlines()[0].split(",") for name, text in files.items()}
    assert {"thickness_net_required_mm", "thickness_net_fitted_mm", "renewal_mm"} <= set(head["panels.csv"])
    assert {"web_as_built_mm", "web_net_mm", "web_renewal_mm", "flange_net_mm"} <= set(head["frames.csv"])


def test_a_group_whose_worst_member_has_no_finite_ratio_is_told_by_it(material: Material) -> None:
    """A check that fails without a number (a frame end loose in the ice, a panel outside the formula) is not hidden."""
    ratio = material.panels["ratio"]
    row = 3
    group = material.panels.labels("group")[row]
    data, reason = ratio.data.copy(), np.array(ratio.reason, dtype="<U40")
    data[row], reason[row] = np.inf, "no result: the check fails"
    panels = ColumnTable("panels", {**material.panels, "ratio": replace(ratio, data=data, reason=reason)})
    chosen = {str(panels.labels("group")[one]): one for one, _ in governing_rows(panels)}
    assert chosen[str(group)] == row
