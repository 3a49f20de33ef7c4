"""What a build costs: exact sums, thicknesses, packs, gaps that are said, and choices side by side."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.takeoff.cost import compare, comparison_table, cost_table, costs, rounded
from planbook.takeoff.gather import lists
from planbook.takeoff.prices import Prices, read_prices
from planbook.takeoff.shopping import Bought

LIST = """currency = "EUR"
[[item]]
name = "walnut"
thickness = "1 in"
price = "12.00"
per = "board foot"
[[item]]
name = "walnut"
thickness = "2 in"
price = "15.00"
per = "board foot"
[[item]]
name = "cherry"
price = "2100"
per = "m3"
[[item]]
name = "birch plywood"
price = "61.50"
per = "sheet"
[[item]]
name = "white glue"
price = "4.99"
per = "250 ml"
[[item]]
name = "white glue"
price = "13.99"
per = "1 l"
[[item]]
name = "danish oil"
price = "19.90"
per = "l"
[[item]]
name = "brass hinge"
price = "2.35"
per = "piece"
[[item]]
name = "work"
price = "24.00"
per = "hour"
[[item]]
name = "paper"
price = "0.05"
per = "page"
"""


@pytest.fixture
def prices(tmp_path) -> Prices:
    path = tmp_path / "prices.toml"
    path.write_text(LIST, "utf-8")
    found, findings = read_prices(path, known=("brass hinge",))
    assert findings == ()
    assert found is not None
    return found


def board(wood: str, thickness: float, count: int = 1, **more: bool) -> Bought:
    volume = count * thickness * 152.4 * 2438.4 / 1e9
    return Bought("board", wood, "rough board", count, volume, "m3", (thickness, 152.4, 2438.4), (1,), **more)


GLUE = Bought("glue", "white glue", "wood glue", 1, 0.3, "l", None, (2,))
OIL = Bought("finish", "danish oil", "oil", 1, 0.07, "l", None, (3,))
HINGES = Bought("hardware", "brass hinge", "hinge", 4, 4.0, "pieces", None, (4,))
PLY = Bought("sheet", "birch plywood", "full sheet", 2, 5.95, "m2", (12.0, 1219.2, 2438.4), (1,))


@pytest.mark.parametrize(
    ("bought", "times", "cost"),
    [
        (board("black walnut", 25.4, 3), Fraction(12), "144.00"),  # 4 board feet each at 12.00
        (board("walnut", 26.0), None, "49.13"),  # 26 mm is sold as 1 in: 4 x 26 / 25.4 board feet
        (board("walnut", 50.8), Fraction(8), "120.00"),
        (PLY, Fraction(2), "123.00"),
        (replace(GLUE, amount=0.2), Fraction(1), "4.99"),
        (GLUE, Fraction(2), "9.98"),  # two small bottles are cheaper than a large one
        (replace(GLUE, amount=0.7), Fraction(1), "13.99"),
        (OIL, Fraction(7, 100), "1.39"),
        (HINGES, Fraction(4), "9.40"),
    ],
)
def test_one_purchase(prices, bought, times, cost):
    row = costs([bought], None, prices).rows[0]
    assert row.cost == Decimal(cost)
    assert times is None or row.times == times


def test_sums_are_those_of_the_printed_rows(prices):
    found = costs([board("walnut", 25.4), GLUE, OIL, HINGES], Fraction(19, 2), prices, pages=31)
    assert [str(row.cost) for row in found.rows] == ["48.00", "9.98", "1.39", "9.40", "1.55", "228.00"]
    assert (str(found.materials), str(found.work), str(found.total)) == ("70.32", "228.00", "298.32")
    assert (found.missing, found.total_words) == ((), "298.32 EUR")


def test_what_has_no_price_is_said_and_not_guessed(prices):
    oak = board("white oak", 25.4)
    odd = Bought("glue", "white glue", "as needed", 1, 1.0, "pieces", None, ())
    found = costs([board("walnut", 38.0), oak, odd, HINGES], None, prices)
    assert found.missing == (
        "walnut: no price for 38 mm thick",
        "white oak",
        "white glue: its price is per 250 ml or 1 l, and how much that is cannot be told",
    )
    assert (found.total_words, found.work) == ("at least 9.40 EUR", None)
    assert [row.cost for row in found.rows[:3]] == [None] * 3


def test_the_rack_costs_nothing_and_is_no_gap(prices):
    found = costs([board("white oak", 25.4, from_rack=True), HINGES], None, prices)
    assert (found.missing, found.total_words) == ((), "9.40 EUR")
    assert cost_table(found)[1] == ("white oak (rough board)", "", "", "from the rack")


def test_work_and_paper_without_a_price_are_left_out(prices):
    bare = replace(prices, rows=tuple(row for row in prices.rows if row.name not in ("work", "paper")))
    assert costs([HINGES], 9.5, bare, pages=20) == costs([HINGES], None, bare)


def test_the_table_ends_with_the_total(prices):
    table = cost_table(costs([board("walnut", 25.4), board("white oak", 25.4)], 2, prices))
    assert table == (
        ("What", "How much", "Price", "Cost"),
        ("walnut (rough board)", "4 board feet", "12.00 EUR", "48.00 EUR"),
        ("white oak (rough board)", "", "", "no price"),
        ("work", "2 hours", "24.00 EUR", "48.00 EUR"),
        ("Materials, at least", "", "", "48.00 EUR"),
        ("Total, at least", "", "", "96.00 EUR"),
    )


def test_choices_side_by_side(prices):
    lists_of = {
        "walnut": [board("walnut", 25.4), HINGES],
        "cherry": [board("cherry", 25.4), HINGES],
        "oak": [board("white oak", 25.4)],
    }
    found = compare({name: costs(each, None, prices) for name, each in lists_of.items()})
    assert comparison_table(found) == (
        ("What", "walnut", "cherry", "oak"),
        ("walnut", "48.00 EUR", "–", "–"),
        ("brass hinge", "9.40 EUR", "9.40 EUR", "–"),
        ("cherry", "–", "19.82 EUR", "–"),
        ("white oak", "–", "–", "–"),
        ("Total", "57.40 EUR", "29.22 EUR", "at least 0.00 EUR"),
    )


def test_two_currencies_are_not_compared(prices):
    one, other = costs([HINGES], None, prices), costs([HINGES], None, replace(prices, currency="USD"))
    with pytest.raises(ValueError, match="different currencies"):
        compare({"here": one, "there": other})


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [("0.005", 2, "0.01"), ("0.0049", 2, "0.00"), ("2.675", 2, "2.68"), ("1234.5", 0, "1235"), ("1.2345", 3, "1.235")],
)
def test_money_is_rounded_half_up(value, decimals, shown):
    assert str(rounded(Fraction(value), decimals)) == shown


def test_a_currency_without_decimals(prices):
    found = costs([OIL], None, replace(prices, currency="JPY"))
    assert found.total_words == "1 JPY"


@given(st.lists(st.integers(1, 10**6), min_size=1, max_size=30))
def test_no_cent_is_lost(pence):
    assert sum(rounded(Fraction(p, 100), 2) for p in pence) == Decimal(sum(pence)) / 100


def test_the_sample_can_be_priced(prices):
    from planbook.reader import read_design
    from planbook.workshop.run import build

    design = read_design(Path(__file__).parents[2] / "designs" / "curlew-box").design
    assert design is not None
    taken_off = lists(build(design), system="in", prices=prices)
    found = taken_off.cost
    assert found == costs(taken_off.shopping, Fraction(taken_off.schedule.work, 60), prices)
    by_name = {row.name: row for row in found.rows}
    thick, wide, long = next(row.size for row in taken_off.shopping if row.name == "black walnut")
    # In board feet of 144 cubic inches.
    feet = thick * wide * long / Fraction("25.4") ** 3 / 144
    assert float(by_name["black walnut"].times) == pytest.approx(float(feet))
    assert found.at_least
    assert "P120" in found.missing
