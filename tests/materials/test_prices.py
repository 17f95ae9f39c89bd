"""The table of prices: complete, assumed and said to be, edited and read again, and refused line by line."""

from __future__ import annotations

from typing import get_args

import pytest

from beltwright.core.errors import InputError
from beltwright.materials.hull_steel import hull_steels
from beltwright.materials.prices import ASSUMED, BY_GRADE, ITEMS, PriceRow, PriceTable, package_prices, parse_prices
from beltwright.ship.cost import Item

HEAD = "# currency: EUR\nitem,grade,amount,unit,source\n"


def test_every_grade_and_every_item_has_a_price_that_says_it_is_assumed() -> None:
    table = package_prices()
    wanted = {(item, grade) for item in BY_GRADE for grade in hull_steels().grades}
    wanted |= {(item, "") for item in ITEMS if item not in BY_GRADE}
    assert {(row.item, row.grade) for row in table.rows} == wanted
    assert {row.source for row in table.rows} == {ASSUMED}
    assert set(get_args(Item)) == set(ITEMS), "ship.toml allows what the table has"


@pytest.mark.parametrize("item", BY_GRADE)
def test_colder_letters_and_higher_yields_are_never_cheaper(item: str) -> None:
    steels = hull_steels()
    for one in steels.grades:
        for other in steels.grades:
            a, b = steels.steel(one), steels.steel(other)
            if a.family == b.family and one[0] <= other[0] and a.thinnest.yield_MPa <= b.thinnest.yield_MPa:
                assert package_prices().amount(item, one) <= package_prices().amount(item, other), (one, other)


def test_a_table_that_is_written_is_read_again_the_same() -> None:
    given = PriceTable("NOK", (PriceRow(item="engine", grade="", amount=1234.5678, source='a quotation, "May"'),))
    again = parse_prices(given.text(), "mine.csv")
    assert again.currency == "NOK"
    assert [(r.item, r.amount, r.source) for r in again.rows] == [("engine", 1234.5678, "a quotation, 'May'")]
    assert parse_prices(package_prices().text(), "all.csv").rows == package_prices().rows


def test_rows_stand_over_those_of_the_program_and_another_currency_takes_all_money_away() -> None:
    own = (PriceRow(item="steel", grade="EH36", amount=1.0, source="mine"),)
    over = package_prices().over(own, "EUR")
    assert over.amount("steel", "eh36") == 1.0
    assert over.amount("steel", "DH36") == package_prices().amount("steel", "DH36")
    foreign = package_prices().over(own, "NOK")
    assert foreign.amount("steel", "EH36") == 1.0
    assert foreign.amount("co2", "DH36") == package_prices().amount("co2", "DH36")
    with pytest.raises(InputError, match=r"no price in this currency; found steel DH36; .* in NOK per t"):
        foreign.amount("steel", "DH36")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("item,grade,amount,unit,source\n", "the header lacks '# currency:'"),
        ("# currency: EUR\n", "the columns are not those of prices; found nothing"),
        ("# currency: EUR\nitem,amount\n", "the columns are not those of prices; found item,amount"),
        (HEAD + "engine,,900,per kW\n", "line 3: wrong number of fields; found 4; allowed: 5"),
        (HEAD + "\nweld,,1,per m,me\n", "line 4: item: no such item; found weld; allowed: the nearest is"),
        (HEAD + "steel,,900,per t,me\n", "line 3: grade: steel is priced by grade; found blank"),
        (HEAD + "engine,EH36,900,per kW,me\n", "line 3: grade: engine is priced without a grade; found EH36"),
        (HEAD + "steel,EH37,900,per t,me\n", "no such hull steel grade; found EH37"),
        (HEAD + "steel,EH36,nan,per t,me\n", "line 3: amount: is not a number; found nan"),
        (HEAD + "steel,EH36,dear,per t,me\n", "line 3: amount: is not a number; found dear"),
        (HEAD + "steel,EH36,-1,per t,me\n", "line 3: amount: is out of its range; found -1 per t"),
        (HEAD + "steel,EH36,900,per kg,me\n", "line 3: unit: is not that of the item; found per kg; allowed: per t"),
        (HEAD + "steel,EH36,900,per t,\n", "line 3: source: is blank"),
        (HEAD + "steel,EH36,900,per t,me\nsteel,eh36,901,per t,me\n", "line 4: stands twice; found steel eh36"),
    ],
)
def test_what_is_no_table_of_prices_is_refused(text: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_prices(text, "mine.csv")
    assert told in str(caught.value)
    assert str(caught.value).startswith(("mine.csv", "cost"))
    assert "\n" not in str(caught.value)
