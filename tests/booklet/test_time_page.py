"""How long it takes and what it costs, as printed."""

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from weasyprint import HTML

from planbook.booklet import Link, compose, edition_for, make_book
from planbook.booklet.basics import Fact
from planbook.booklet.costs import cost_page
from planbook.booklet.days import day_bars, days_taken, hours, meanwhile, rounded, time_page
from planbook.booklet.gathered import Pictures
from planbook.drawing.marks import Fill, Picture
from planbook.pipeline import check
from planbook.takeoff import lists
from planbook.takeoff.cost import Cost, CostRow
from planbook.takeoff.schedule import Wait
from planbook.takeoff.schedule.calendar import DAY


@pytest.fixture(scope="module")
def timeline():
    found = check(Path(__file__).parents[2] / "designs" / "curlew-box").timeline
    assert found is not None
    return found


@pytest.fixture(scope="module")
def taken_off(timeline):
    return lists(timeline)


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        (7, "7 min"),
        (43, "45 min"),
        (118, "2 h"),
        (127, "2 h"),
        (556, "9 h 15 min"),
        (1439, "1 day"),
        (3000, "2 days 2 h"),
    ],
)
def test_estimates_are_not_more_exact_than_they_are(minutes, text):
    assert rounded(minutes) == text


def test_work_is_counted_in_hours_however_long():
    assert [hours(minutes) for minutes in (50, 556, 1860)] == ["50 min", "9 h 15 min", "31 h"]


def _minutes(text):
    return sum(int(many) * {"h": 60, "min": 1}[unit] for many, unit in re.findall(r"(\d+) (h|min)", text))


def test_facts_of_the_page(taken_off):
    found = replace(taken_off.schedule, least_days=len(taken_off.schedule.days))
    page = time_page(replace(taken_off, schedule=found))
    assert page is not None
    assert page.facts[0].label == "Hands-on work"
    assert _minutes(page.facts[0].value) == sum(_minutes(day.work) for day in page.days)
    assert abs(_minutes(page.facts[0].value) - found.work) < 15 * len(page.days)
    assert page.facts[1] == Fact("Days of work", f"{len(found.days)}, the fewest possible")
    assert page.facts[2] == Fact("Days without using the waits", str(found.days_in_order))
    assert page.day == "3 h"


def test_the_fewest_possible_is_only_said_where_it_is_certain(taken_off):
    doubtful = replace(taken_off.schedule, least_days=2)
    page = time_page(replace(taken_off, schedule=doubtful))
    assert page is not None
    assert page.facts[1].value == f"{len(doubtful.days)}, no plan takes fewer than 2"


def test_drying_at_the_end_is_told(taken_off):
    late = replace(taken_off.schedule, ready=taken_off.schedule.ready + 480)
    page = time_page(replace(taken_off, schedule=late))
    assert page is not None
    assert page.facts[1].value.endswith("; then 8 h to dry")
    assert days_taken(replace(taken_off, schedule=late)) == f"{len(late.days)} days, then 8 h to dry"


def test_every_step_with_work_is_in_the_days_and_in_the_picture(taken_off):
    page = time_page(taken_off)
    assert page is not None
    steps = {step.step for step in taken_off.schedule.steps if step.work}
    assert {int(link.text) for day in page.days for link, _ in day.steps} == steps
    assert {bar.step for day in day_bars(taken_off.schedule) for bar in day.works} == steps


def test_a_day_without_work_says_what_rests(timeline, taken_off):
    found = taken_off.schedule
    rest = Wait(2, "cure", 100, 100 + 2 * DAY, ("blank",), True)
    days = tuple(replace(day, stints=() if day.number == 2 else day.stints) for day in found.days)
    page = time_page(replace(taken_off, schedule=replace(found, days=days, waits=(rest,))))
    assert page is not None
    assert (page.days[0].idle, page.days[1].idle) == ("", "Nothing to do; let it rest: glue of step 2")
    book = make_book(timeline, taken_off, Pictures(), (), edition_for(timeline.design.card))
    assert "<td>Nothing to do; let it rest: glue of step 2</td>" in compose(replace(book, time=page))


def test_a_step_in_two_parts_says_so(taken_off):
    titles = {
        n: [t for day in time_page(taken_off).days for link, t in day.steps if link.text == n] for n in ("10", "28")
    }
    assert titles["10"] == [
        "Close the two entry cuts, begin (up to the wait)",
        "Close the two entry cuts, finish (after the wait)",
    ]
    # No wait parts them, and both drawers are in both: the tools say which part is meant.
    assert titles["28"] == ["Fit the drawers, begin (flat board)", "Fit the drawers, finish (resaw blade, flat board)"]


def test_what_can_be_done_meanwhile_stands_at_the_step(timeline, taken_off):
    assert Link("25", "step-25") in meanwhile(taken_off)[10]
    book = make_book(timeline, taken_off, Pictures(), (), edition_for(timeline.design.card))
    assert book.steps[9].meanwhile == meanwhile(taken_off)[10]
    assert book.steps[0].meanwhile == ()
    assert "Do meanwhile" in compose(book)


def test_earlier_steps_that_the_days_do_in_a_wait_stand_at_the_step(timeline, taken_off):
    found = taken_off.schedule
    steps = tuple(replace(step, meanwhile=(25, 27), undone=(7,)) if step.step == 10 else step for step in found.steps)
    changed = replace(taken_off, schedule=replace(found, steps=steps))
    book = make_book(timeline, changed, Pictures(), (), edition_for(timeline.design.card))
    assert book.steps[9].undone == (Link("7", "step-7"),)
    html = compose(book)
    cell = html[html.index("Do meanwhile") :].split("</tr>")[0]
    text = " ".join(re.sub("<[^>]*>", " ", cell).replace(" ,", ",").split())
    assert text == "Do meanwhile steps 25, 27 ; if not yet done, step 7"


def test_the_work_is_one_figure_all_over_the_booklet(timeline, taken_off):
    more = replace(taken_off, schedule=replace(taken_off.schedule, work=taken_off.schedule.work + 60))
    book = make_book(timeline, more, Pictures(), (), edition_for(timeline.design.card))
    page = time_page(more)
    assert page is not None
    told = {fact.label: fact.value for fact in book.facts}
    assert f"about {told['Work']}" == {fact.label: fact.value for fact in page.facts}["Hands-on work"]


def test_nothing_is_to_be_done_meanwhile_where_the_step_has_no_wait(timeline, taken_off):
    """What rests while the next step is done anyway: who goes on by the numbers needs no word of that."""
    found = taken_off.schedule
    steps = tuple(replace(step, meanwhile=(30,)) if step.step == 28 else step for step in found.steps)
    lists_with_it = replace(taken_off, schedule=replace(found, steps=steps))
    assert meanwhile(lists_with_it)[28]
    book = make_book(timeline, lists_with_it, Pictures(), (), edition_for(timeline.design.card))
    assert (book.steps[27].wait, book.steps[27].meanwhile) == ("", ())
    assert book.steps[29].wait == "1 day"


@pytest.mark.parametrize("above", [60, 130, 170, 200])
def test_the_facts_stand_on_the_page_of_their_chart(timeline, taken_off, above):
    """Set by the printer below something so many mm high, with a chart of 110 mm."""
    ring = ((0.0, 0.0), (100.0, 0.0), (100.0, 110.0), (0.0, 110.0))
    chart = Picture(100.0, 110.0, (Fill((ring,), "#123456"),), "chart")
    html = compose(make_book(timeline, taken_off, Pictures(days=(chart,)), (), edition_for(timeline.design.card)))
    style, part = (
        re.search(pattern, html, re.DOTALL) for pattern in (r"<style.*</style>", r'<section[^>]*id="time".*?</section>')
    )
    assert style is not None
    assert part is not None
    spacer = f'<section class="part"><div style="height: {above}mm"></div></section>'
    pages = HTML(string=f"<html><head>{style[0]}</head><body>{spacer}{part[0]}</body></html>").render().pages
    found = [{place for place in ("facts", "days") if _has(page._page_box, place)} for page in pages]
    assert {"facts", "days"} in found
    assert {"facts"} not in found


def _has(box, name):
    own = box.element is not None and name in (box.element.get("class") or "").split()
    return own or any(_has(child, name) for child in getattr(box, "children", ()))


def test_without_a_schedule_there_is_no_page(timeline, taken_off):
    bare = replace(taken_off, schedule=None)
    book = make_book(timeline, bare, Pictures(), (), edition_for(timeline.design.card))
    assert book.time is None
    assert 'id="time"' not in compose(book)


ROW = CostRow("board", "walnut", "front board", Fraction(2), "board foot", Decimal("12"), Decimal("24.00"), "", (1,))
OAK = replace(ROW, name="oak", times=None, per="", price=None, cost=None, why="no price")


def test_costs_are_printed_only_if_there_are_prices(timeline, taken_off):
    cost = Cost("EUR", 2, (ROW, OAK), Decimal("24.00"), None, Decimal("24.00"), ("oak",))
    edition = edition_for(timeline.design.card)
    with_prices, without = (make_book(timeline, taken_off, Pictures(), (), edition, cost=c) for c in (cost, None))
    assert without.cost is None
    assert "What it costs" not in compose(without)
    html = compose(with_prices)
    assert "What it costs" in html
    assert "at least 24.00 EUR" in html
    assert "For the maker only" in html


def test_rows_of_costs():
    cost = Cost("EUR", 2, (ROW, OAK), Decimal("24.00"), Decimal("10.00"), Decimal("34.00"), ("oak",))
    page = cost_page(cost)
    assert page is not None
    assert [(r.what, r.times, r.price, r.cost) for r in page.rows] == [
        ("Walnut (front board)", "2 board feet", "12.00 EUR", "24.00 EUR"),
        ("Oak (front board)", "", "", "no price"),
    ]
    assert page.sums == (
        Fact("Materials", "at least 24.00 EUR"),
        Fact("Work", "10.00 EUR"),
        Fact("Total", "at least 34.00 EUR"),
    )
