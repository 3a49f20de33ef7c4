"""The table of fits: what was asked and found, where it is worst, and for which range it is proved."""

from dataclasses import replace

from planbook.booklet import Edition, Pictures, make_book, proved_range
from planbook.workshop import At, Envelope, Fitted, Proof, Spread
from planbook.workshop import Setting as Varied

from .conftest import HERE, book, lists, timeline


def test_a_flush_fit_is_asked_for_at_most_and_a_least_gap_tells_the_tightest_place() -> None:
    fits = (
        Fitted("even", "flush", None, 0.1, asked_most=0.3),
        Fitted("tongue", "gap", 0.25, 0.25, asked_least=0.2, before=At(7, 9, HERE)),
        Fitted("rail", "gap", 0.25, 47.75, asked_least=0.2),
    )
    shown = make_book(replace(timeline(), fits=fits), lists(), Pictures(), (), Edition("a4", "mm")).fits
    assert shown[1].what == "gap, before step 7 joins the pieces"
    assert [(row.asked, row.found) for row in shown] == [
        ("at most 0.30 mm", "at most 0.10 mm"),
        ("at least 0.20 mm", "0.25 mm"),
        ("at least 0.20 mm", "0.25 mm"),
    ]


def test_fits_that_were_measured_are_printed_with_what_was_asked() -> None:
    inch, metric = book().fits, book(Edition("a4", "mm")).fits
    assert [(row.name, row.what) for row in inch] == [
        ("wall", "wall"),
        ("lid slides", "slide, tightest at 40 % of the way"),
    ]
    assert [(row.asked, row.found) for row in inch] == [
        ("at least 0.315 in", "0.370 in"),
        ("0.008 to 0.059 in", "0.016 to 0.043 in"),
    ]
    assert [(row.asked, row.found) for row in metric] == [
        ("at least 8.00 mm", "9.40 mm"),
        ("0.20 to 1.50 mm", "0.40 to 1.10 mm"),
    ]


def test_fits_that_measure_alike_share_a_row() -> None:
    wall, *others = timeline().fits
    alike = replace(timeline(), fits=(wall, *others, replace(wall, name="far wall")))
    names = [row.name for row in make_book(alike, lists(), Pictures(), (), Edition()).fits]
    assert names == ["wall, far wall", *(row.name for row in book().fits[1:])]


def test_where_a_fit_is_worst_and_for_which_range_it_is_proved() -> None:
    wall, lid, _ = timeline().fits
    kerf, damp = Varied("kerf", 1.3, "narrow blade"), Varied("humidity", 65.0)
    proofs = (
        Proof("wall", replace(wall, least=9.0), (kerf,), wall, ()),
        Proof("lid slides", replace(lid, least=0.25), (kerf, damp), replace(lid, most=1.25), ()),
    )
    spreads = (
        Spread("kerf", 0.9, 1.1, 1.3, "narrow blade"),
        Spread("kerf", 0.9, 1.1, 1.3, "resaw blade"),
        Spread("sanding", -0.1, 0.0, 0.1),
        Spread("humidity", 25.0, 45.0, 65.0),
    )
    proved = replace(timeline(), envelope=Envelope(spreads, proofs, (), ("wenge",), 8))
    metric = Edition("a4", "mm")
    assert proved_range(proved, metric) == (
        "Proved for kerf 0.90 to 1.30 mm (narrow blade, resaw blade), sanding 0.10 mm more or less, indoor humidity"
        " 25 to 65 %. How much wenge moves is not known; it is taken not to."
    )
    assert proved_range(timeline(), metric) == ""
    rows = make_book(proved, lists(), Pictures(), (), metric).fits
    assert [(row.worst, row.corner) for row in rows] == [
        ("9.00 mm", "with a kerf of 1.30 mm from the narrow blade"),
        ("0.25 to 1.25 mm", "with a kerf of 1.30 mm from the narrow blade, at 65 % humidity; as drawn"),
    ]
    assert make_book(proved, lists(), Pictures(), (), Edition()).fits[0].worst == "0.354 in"
