import html
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from planbook.booklet import fractions


@pytest.mark.parametrize(
    ("text", "marked"),
    [
        ("1/2", '<span class="num"><span class="frac">1/2</span></span>'),
        ("1/2 in", '<span class="num"><span class="frac">1/2</span>\u00a0in</span>'),
        (
            "3 1/2 in",
            '<span class="num"><span class="whole">3 </span><span class="frac">1/2</span>\u00a0in</span>',
        ),
        ('3-1/2"', '<span class="num"><span class="whole">3 </span><span class="frac">1/2</span></span>&#34;'),
        (
            "12 mm (≈ 1/2 in)",
            '12\u00a0mm <span class="num">(≈\u00a0<span class="frac">1/2</span>\u00a0in</span>)',
        ),
        ("90 mm", "90\u00a0mm"),
        ("0.5 mm", "0.5\u00a0mm"),
        ("9 x 11 in", "9 × 11\u00a0in"),
        ("at 18 min 30 s", "at 18\u00a0min 30\u00a0s"),
        ("4 x 8 x 2", "4 × 8 × 2"),
        ("box 3 x axis", "box 3 x axis"),
    ],
)
def test_fractions_are_set_as_fractions(text: str, marked: str) -> None:
    assert fractions(text) == marked


@pytest.mark.parametrize(
    "text", ["24/7", "3/2", "0/4", "1/2/2025", "and/or", "a1/2", "1/2x", "1/1000000", "1/2.5", "2/4 rough"]
)
def test_what_is_no_proper_fraction_stays_as_it_is(text: str) -> None:
    assert fractions(text) == text


def test_text_around_a_fraction_is_escaped_and_markup_is_left_alone() -> None:
    assert fractions("<b>1/2</b>") == '&lt;b&gt;<span class="num"><span class="frac">1/2</span></span>&lt;/b&gt;'
    assert fractions(Markup("<b>1/2</b>")) == "<b>1/2</b>"


@given(st.text(alphabet="0123456789 /-.inmft<>&\"'\u00a0", max_size=40))
def test_no_letter_or_digit_is_lost(text: str) -> None:
    shown = html.unescape(re.sub(r"</?span[^>]*>", "", fractions(text)))
    blank = re.compile(r"[\s-]")
    assert blank.sub("", shown) == blank.sub("", text)
