"""Cut layouts as printed: proofs in plain words, cuts in order with fence and parts set free, boards alike together."""

from fractions import Fraction

import pytest

from planbook.booklet.bought_rows import CutSection
from planbook.booklet.cutting import cut_sections
from planbook.booklet.editions import Edition
from planbook.takeoff import CutPlan
from planbook.takeoff.layout import Part, Problem, Stock, solve

F = Fraction
MM, INCHES = Edition("a4", "mm"), Edition("letter", "in")


def plan(*parts: Part, stock: Stock, kind="boards", kerf=3, edge=4, end=25, keep=(40, 150), rack=False) -> CutPlan:
    problem = Problem(kind, parts, (stock,), F(kerf), F(edge), F(end), (F(keep[0]), F(keep[1])))
    return CutPlan("cherry", "hardwood", F(27), rack, problem, solve(problem), (1,))


def board(length: int, width: int = 100, count: int | None = None) -> Stock:
    price = F(length * width, 100)
    return Stock(f"27 mm sawn, {width} mm wide, {length} mm long", F(width), F(length), count, price)


def one(found: CutPlan, edition: Edition = MM) -> CutSection:
    (section,) = cut_sections([found], edition)
    return section


# Two parts of 300 mm and a kerf between them fill 653 mm with 25 mm trimmed off each end, in full width.
PAIR = plan(Part("side", F(92), F(300), 2), stock=board(653))


def test_cuts_stand_in_order_with_the_fence_and_what_they_set_free():
    (sheet,) = one(PAIR).sheets
    rows = [(cut.number, cut.way, cut.fence, cut.frees) for cut in sheet.cuts]
    assert rows[:4] == [
        ("1", "Crosscut", "25 mm off", ""),
        ("2", "Crosscut", "603 mm", ""),
        ("3", "Rip", "4 mm off", ""),
        ("4", "Rip", "92 mm", ""),
    ]
    assert rows[4:] == [("5", "Crosscut", "300 mm", "2 × side")]


def test_every_part_is_set_free_by_some_cut():
    parts = (Part("a", F(40), F(300), 3), Part("b", F(30), F(120), 4), Part("c", F(92), F(200)))
    section = one(plan(*parts, stock=board(1800)))
    freed = " ".join(cut.frees for sheet in section.sheets for cut in sheet.cuts)
    assert all(name in freed for name in "abc")


def test_cuts_too_short_for_a_fence_are_named():
    # Two parts are crosscut to 120 mm and then ripped: nothing shorter than about 12 in (300 mm) goes along a fence.
    short = one(plan(Part("a", F(40), F(120), 2), Part("b", F(92), F(400)), stock=board(600))).sheets[0]
    first, second = (c.number for c in short.cuts if c.way == "Rip" and c.frees == "a")
    assert short.short.startswith(f"Cuts {first} and {second} are too short to be ripped along a fence")
    assert one(PAIR).sheets[0].short == ""


def test_a_proved_layout_says_so_in_plain_words():
    assert one(PAIR).proof == (
        "Takes 0.065 m². Proved: with these cuts and allowances no layout takes less wood sold in these sizes."
    )
    assert "in the rack" in one(plan(Part("side", F(92), F(300), 2), stock=board(653, count=1), rack=True)).proof


def test_another_layout_says_how_near_it_comes():
    parts = tuple(Part(f"p{n}", F(23 + 5 * n), F(200 + 57 * n), 2) for n in range(12))
    found = plan(*parts, stock=board(1800, 150))
    assert not found.layout.proved
    over = found.used - found.least
    said = f"within {float(over):.2f} m² ({round(100 * over / found.used)} %) of the least possible"
    assert said in one(found).proof
    assert f"no layout takes less than {float(found.least):.2f} m²" in one(found).proof


def test_boards_cut_alike_are_drawn_once():
    section = one(plan(Part("side", F(92), F(300), 6), stock=board(653)))
    (sheet,) = section.sheets
    assert section.title == "Cherry: 3 boards to buy"
    assert sheet.title == "Boards 1 to 3 of 3: 27 mm sawn, 100 mm wide, 653 mm long, cut alike"


def test_offcuts_worth_keeping_are_named_through_all_layouts():
    left = plan(Part("side", F(92), F(300)), stock=board(653))
    first, second = cut_sections([left, left], MM)
    assert first.sheets[0].offcuts == "Worth keeping: A 300 × 92 mm."
    assert second.sheets[0].offcuts == "Worth keeping: B 300 × 92 mm."
    assert one(plan(Part("side", F(92), F(300)), stock=board(460))).sheets[0].offcuts == ""


def test_in_inches_lengths_are_fractions_and_areas_square_feet():
    section = one(PAIR, INCHES)
    assert section.proof.startswith("Takes 0.703 ft².")
    assert section.settings == (
        "A kerf of 0.118 in is taken at every cut, and 31/32 in off each end and 5/32 in off each long edge to square up."
    )
    assert section.sheets[0].cuts[1].fence == "23 3/4 in"


def test_bars_are_counted_by_their_length():
    bar = Stock("45 mm planed, 45 mm wide, 2400 mm long", F(45), F(2400), None, F(2400))
    found = plan(Part("slat", F(45), F(793), 6), stock=bar, kind="bars", edge=0, end=5)
    section = one(found)
    assert section.title == "Cherry: 2 bars to buy"
    assert section.proof.startswith("Takes 4.8 m. Proved: with these cuts and allowances no layout takes less length")
    assert [cut.frees for cut in section.sheets[0].cuts][-3:] == ["slat"] * 3


@pytest.mark.parametrize("edition", [MM, INCHES])
def test_pictures_fit_the_page_and_say_what_they_show(edition):
    for sheet in one(PAIR, edition).sheets:
        for figure in sheet.figures:
            assert figure.width <= edition.sheet.width - 41
            assert "2 parts and 5 cuts" in figure.alt


def test_without_layouts_there_are_no_sections():
    assert cut_sections([], MM) == ()


def test_kerf_and_trims_are_said_once_as_long_as_they_stay_the_same():
    other = plan(Part("side", F(92), F(300)), stock=board(653), kerf=2)
    sections = cut_sections([PAIR, PAIR, other], MM)
    assert [bool(section.settings) for section in sections] == [True, False, True]
    assert sections[2].settings.startswith("A kerf of 2 mm is taken at every cut")


def test_the_cuts_of_a_short_board_stand_beside_it():
    (short,) = one(plan(Part("base", F(90), F(280)), stock=board(600, 100))).sheets
    assert short.beside
    assert short.together
    assert short.figures[0].width + 91 - 87 + 75 < MM.sheet.width - 41  # the gap, and the columns of the cuts
    (long,) = one(plan(Part("base", F(90), F(280)), stock=board(1200, 100))).sheets
    assert not long.beside


def test_a_low_picture_stays_with_its_cuts_and_a_tall_one_need_not():
    (low,) = one(PAIR).sheets
    assert low.together
    (tall,) = one(plan(Part("top", F(500), F(500)), stock=board(1220, 1220))).sheets
    assert tall.figures[0].height > 60
    assert not tall.together
