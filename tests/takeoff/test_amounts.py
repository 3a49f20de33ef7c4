"""Amounts: conversion, allowance, rounding up, printing."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.takeoff.amounts import ALLOWANCE, in_us, rounded_up, show_amount, to_have
from planbook.takeoff.records import Amount
from planbook.units import INCH_16, MM_TENTH


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (Fraction("3785.411784"), "ml", (128, "fl oz")),  # the US gallon is 231 cubic inches, 3.785411784 l
        (Fraction("453.59237"), "g", (16, "oz")),  # the pound is 453.59237 g
        (Fraction("0.09290304"), "m2", (1, "ft2")),  # the foot is 0.3048 m
        (Fraction("0.3048"), "m", (1, "ft")),
        (Fraction(4), "pieces", (4, "pieces")),
    ],
)
def test_us_units_are_exact(value, unit, expected):
    amount = in_us(Amount(value, unit))
    assert (amount.value, amount.unit) == expected


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (Fraction("0.1"), "ml", "5 ml"),
        (Fraction(5), "ml", "5 ml"),
        (Fraction("50.1"), "ml", "60 ml"),
        (Fraction(251), "ml", "300 ml"),
        (Fraction(1000), "ml", "1000 ml"),
        (Fraction(1001), "ml", "1.1 l"),
        (Fraction("1.01"), "fl oz", "1 1/4 fl oz"),
        (Fraction("0.1"), "fl oz", "1/4 fl oz"),
        (Fraction("4.1"), "fl oz", "4 1/2 fl oz"),
        (Fraction("16.1"), "oz", "17 oz"),
        (Fraction("0.0301"), "m2", "0.04 m²"),
        (Fraction("1.01"), "m2", "1.1 m²"),
        (Fraction("2.3"), "ft2", "2 1/2 ft²"),
        (Fraction("3.2"), "pieces", "4 pieces"),
    ],
)
def test_rounded_up_to_what_can_be_measured_out(value, unit, shown):
    assert show_amount(rounded_up(Amount(value, unit))) == shown


def test_the_allowance_is_added_before_rounding():
    # common practice: 15 % more
    metric, us = to_have(Amount(Fraction(100), "ml"))
    assert (metric.value, metric.unit) == (120, "ml")
    assert (us.value, us.unit) == (4, "fl oz")  # 115 ml are 3.89 fl oz


def test_things_that_are_counted_get_no_allowance():
    assert to_have(Amount(Fraction(4), "pieces"))[0].value == 4


@given(st.fractions(min_value=Fraction(1, 1000), max_value=100000), st.sampled_from(["ml", "g", "m2", "m"]))
def test_what_to_have_is_never_less_than_what_is_needed(value, unit):
    for amount in to_have(Amount(value, unit)):
        factor = {"l": 1000, "fl oz": Fraction(473176473, 16 * 10**6), "oz": Fraction(45359237, 16 * 10**5)}
        factor |= {"ft2": Fraction(9290304, 10**8), "ft": Fraction(3048, 10**4)}
        assert amount.value * factor.get(amount.unit, 1) >= value * ALLOWANCE


@pytest.mark.parametrize(
    ("value", "unit", "style", "shown"),
    [
        (Fraction("0.42"), "m2", MM_TENTH, "0.42 m²"),
        (Fraction("0.00123"), "m2", MM_TENTH, "0.0012 m²"),
        (Fraction("0.42"), "m2", INCH_16, "4.52 ft²"),
        (Fraction(0), "m2", MM_TENTH, "0 m²"),
        (Fraction("0.186"), "m2", None, "0.19 m²"),
    ],
)
def test_amounts_are_printed_in_the_system_of_the_edition(value, unit, style, shown):
    assert show_amount(Amount(value, unit), style) == shown
