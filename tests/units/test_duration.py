"""Durations: reading them, printing them, and both in turn."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.units import UnitProblem, read_minutes, show_minutes


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("30 min", 30),
        ("30min", 30),
        ("2 h", 120),
        ("1 h 30 min", 90),
        ("1h30min", 90),
        ("1 1/2 h", 90),
        ("1½ hours", 90),
        ("0.25 h", 15),
        ("3 days", 4320),
        ("1 day 6 h", 1800),
        ("1 week", 10080),
        ("90 s", Fraction(3, 2)),
        (" 24\u00a0HOURS ", 1440),
        ("0 min", 0),
    ],
)
def test_a_duration_is_read_in_minutes(text: str, minutes: Fraction) -> None:
    assert read_minutes(text) == minutes


@pytest.mark.parametrize(
    ("text", "kind", "offset", "length"),
    [
        ("", "syntax", 0, 1),
        (" soon", "syntax", 1, 4),
        ("-5 min", "syntax", 0, 6),
        ("1 h and 5 min", "syntax", 4, 9),
        ("1 h 5 h", "syntax", 4, 3),
        ("5 min 1 h", "syntax", 6, 3),
        ("1,5 h", "syntax", 0, 3),
        (" 45", "unit-mismatch", 1, 2),
        ("1 h 30", "unit-mismatch", 4, 2),
        ("30 mm", "unknown-unit", 3, 2),
        ("1/0 h", "division-by-zero", 2, 1),
        ("9999999 h", "out-of-range", 0, 9),
        ("1" * 19 + " h", "out-of-range", 0, 19),
        ("1" * 1000, "too-long", 500, 500),
    ],
)
def test_a_mistaken_duration_is_placed(text: str, kind: str, offset: int, length: int) -> None:
    with pytest.raises(UnitProblem) as caught:
        read_minutes(text)
    assert (caught.value.kind, caught.value.offset, caught.value.length) == (kind, offset, length)


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        (45, "45 min"),
        (90, "1 h 30 min"),
        (120, "2 h"),
        (1440, "1 day"),
        (2880, "2 days"),
        (1800, "1 day 6 h"),
        (1441, "1 day 1 min"),
        (0, "0 min"),
        (Fraction(1, 2), "30 s"),
        (Fraction(1, 1000), "0 min"),
        (Fraction(999, 1000), "1 min"),
        (Fraction(5, 2), "2 min"),
        (Fraction(-1, 1000), "0 min"),
        (-90, "-1 h 30 min"),
    ],
)
def test_minutes_are_printed_for_people(minutes: Fraction, text: str) -> None:
    assert show_minutes(minutes) == text


@settings(deadline=None)
@given(minutes=st.integers(0, 10**7))
def test_printed_minutes_read_back(minutes: int) -> None:
    assert read_minutes(show_minutes(minutes)) == minutes
