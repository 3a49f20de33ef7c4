"""How the settings of tools and cuts are told, and the lengths that are set."""

from dataclasses import replace
from fractions import Fraction

from planbook.speech import speaking
from planbook.takeoff.records import Setting
from planbook.takeoff.settings import lengths_set, settings_of, show_setting
from planbook.units import INCH_32, MM_TENTH, Quantity
from planbook.units.printing import THOUSANDTH

from .conftest import shown


def test_a_strip_that_is_cut_out_has_one_size_and_is_never_printed_too_small():
    (setting,) = settings_of((("strip", (110.9, 14.58, 1.1)),))
    assert show_setting(setting, MM_TENTH) == "110.9 × 14.6 × 1.1 mm"
    # 14.58 mm are 18.4 thirty-seconds of an inch: 18 would leave 0.3 mm of the cut open. 110.9 mm are 139.7.
    assert show_setting(setting, INCH_32) == "4 3/8 × 19/32 × 0.043 in"
    both = replace(MM_TENTH, also=INCH_32)
    assert show_setting(setting, both) == "110.9 × 14.6 × 1.1 mm (4 3/8 × 19/32 × 0.043 in)"
    # 96.9 mm are 3.815 in: 3 13/16 is only 0.06 mm less, and a slice of just that length is long enough.
    (setting,) = settings_of((("strip", (96.9, 20.7, 1.1)),))
    assert show_setting(setting, INCH_32).startswith("3 13/16 × ")


def test_settings_know_their_units():
    pairs = (
        ("leave", 1 / 32 * 25.4),
        ("kerf", 1.1),
        ("fence", Fraction(12)),
        ("mating area", 1250.0),
        ("clamp", 90.0),
        ("count", 4),
        ("tilt", 45.0),
        ("at", (20.0, 35.5)),
        ("through", True),
    )
    assert shown(settings_of(pairs)) == {
        "leave": "0.79 mm",
        "kerf": "1.1 mm",
        "fence": "12 mm",
        "mating area": "1250 mm²",
        "clamp": "1 h 30 min",
        "count": "4",
        "tilt": "45°",
        "at": "20 mm right, 35.5 mm up",
        "through": "yes",
    }
    inches = shown(settings_of(pairs), INCH_32)
    # 1.1 mm is 0.0433 in; the nearest 1/32 in would be 0.3 mm out
    assert (inches["leave"], inches["kerf"], inches["fence"]) == ("1/32 in", "0.043 in", "15/32 in")


def test_several_points_are_numbered_and_what_is_empty_or_zero_is_left_out():
    pairs = (
        ("at", ((1.0, 2.0), (3.0, 4.0))),
        ("entry", ""),
        ("waste", ()),
        ("depth", None),
        ("leave", 0.0),
        ("flip", False),
    )
    assert shown(settings_of(pairs)) == {"at 1": "1 mm right, 2 mm up", "at 2": "3 mm right, 4 mm up"}


def test_a_point_to_the_left_or_below_is_told_without_a_sign():
    pairs = (("at", ((-1.0, 2.0), (3.0, -4.0), (0.0, 5.0), (0.0, 0.0))),)
    assert list(shown(settings_of(pairs)).values()) == [
        "1 mm left, 2 mm up",
        "3 mm right, 4 mm down",
        "5 mm up",
        "0 mm",
    ]


def test_holes_of_a_stencil_are_counted_as_no_sheet_has_their_names():
    few, many = ("a", "b", "c"), tuple(f"hole {n}" for n in range(17))
    assert shown(settings_of((("stencil", "top"), ("holes", few))))["bore"] == "3 holes"
    assert shown(settings_of((("stencil", "top"), ("holes", many))))["bore"] == "17 holes"


def test_a_side_of_a_line_is_told_by_the_marks_of_the_stencil():
    assert shown(settings_of((("kerf side", "left"),))) == {"kerf side": "at the ticks"}
    assert shown(settings_of((("kerf side", "inside"),))) == {"kerf side": "inside"}


def test_lengths_are_gathered_by_what_is_set(bench):
    bench.step("Rout")
    bench.do("dado", settings=(("width", 18.1), ("depth", 7.0), ("at", (30.0, 40.0)), ("passes", 2)))
    bench.do("dado", settings=(("width", 18.6), ("depth", 7.0)))
    assert lengths_set(bench.timeline()) == {
        "width": frozenset({Fraction("18.1"), Fraction("18.6")}),
        "depth": frozenset({Fraction(7)}),
    }


def test_every_size_that_a_bit_is_bought_by_is_told_as_it_is_sold():
    found = shown(settings_of((("hole", 4.5), ("radius", 2.0), ("depth", 4.5))), INCH_32)
    assert found == {
        "hole": "4.5 mm (≈\u00a011/64\u00a0in)",
        "radius": "2 mm (≈\u00a05/64\u00a0in)",
        "depth": "3/16 in",
    }


def test_a_side_is_not_said_as_the_piece_that_is_called_like_it():
    told = settings_of((("faces", ("top", "left")), ("waste", "top"), ("edges", "the grip")))
    with speaking("de", {"top": "Trittfläche", "the grip": "das Griffloch"}):
        assert shown(told) == {"faces": "oben, links", "waste": "Trittfläche", "edges": "das Griffloch"}


def test_a_cut_along_the_middle_of_its_line_is_told_as_the_stencil_tells_it():
    for side, told in (("centre", "on the line"), ("outside", "outside")):
        (setting,) = settings_of((("kerf side", side),))
        assert show_setting(setting, MM_TENTH) == told


def test_a_strip_is_as_long_as_the_cut_is_deep_in_the_words_of_both(bench):
    """97.8 mm are 123.2 thirty-seconds of an inch; where that length is told in thousandths, so is that of the strip."""
    strip = Setting("strip", tuple(Quantity(Fraction(n, 10), length=1) for n in (978, 90, 11)))
    assert show_setting(strip, INCH_32) == "3 7/8 × 3/8 × 0.043 in"
    fine = replace(INCH_32, finer=((Fraction(978, 10), THOUSANDTH),))
    assert show_setting(strip, fine) == "3.850 × 3/8 × 0.043 in"


def test_a_lining_is_cut_with_a_knife_whatever_sums_and_fits_ask_of_the_wood(bench):
    """76 mm are 2.992 in, so 2 31/32 in at most; a drawer 90.7 mm deep may have to be told in thousandths, not its felt."""
    fine = replace(INCH_32, finer=((Fraction(76), THOUSANDTH), (Fraction(907, 10), THOUSANDTH)))
    felt = Setting("cut to", tuple(Quantity(Fraction(n, 10), length=1) for n in (760, 907)))
    assert show_setting(felt, fine) == "2 31/32 × 3 9/16 in"
    assert show_setting(replace(felt, key="strip"), fine) == "2.992 × 3.571 in"
