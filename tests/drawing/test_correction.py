import pytest

from planbook.drawing.correction import Correction, NotMeasured, read_measured
from planbook.drawing.marks import Fill, Pen, Stroke, Words


@pytest.mark.parametrize(
    ("text", "across", "along"),
    [
        ("99.4x100.2", 99.4, 100.2),
        (" 99,4 × 100,2 mm", 99.4, 100.2),
        ("99.4mm x 100.2mm", 99.4, 100.2),
        ("3.98x4.01", 99.5, 100.25),
        ("3.98x4.01 in", 99.5, 100.25),
        ("97x103", 97.0, 103.0),
        ("100x100", 100.0, 100.0),
    ],
)
def test_what_was_measured_is_read_in_either_unit(text, across, along):
    found = read_measured(text)
    assert (found.across, found.along) == pytest.approx((across, along), abs=1e-12)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not two lengths"),
        ("99.4", "not two lengths"),
        ("99.4x", "not two lengths"),
        ("x" * 500, "not two lengths"),
        ("-99x100", "not two lengths"),
        ("99.4 mm x 4 in", "mixes two units"),
        ("96.9x100", "3.1% too short"),
        ("100x103.1", "3.1% too long"),
        ("99x50 in", "too long"),
        ("0x100", "100.0% too short"),
        ("4x100", "too short"),
    ],
)
def test_what_cannot_be_corrected_is_refused_with_the_reason(text, said):
    with pytest.raises(NotMeasured, match=said):
        read_measured(text)


def test_a_corrected_mark_comes_out_true():
    correction = Correction(99.0, 102.0)
    marks = (
        Stroke(((0.0, 0.0), (100.0, 50.0)), Pen(0.3), "cut"),
        Fill((((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)),), "#000000"),
        Words((30.0, 40.0), "name", 3.0),
    )
    stroke, fill, words = correction.applied(marks)
    across, along = correction.factors

    def printed(point):
        return (point[0] * across, point[1] * along)

    assert [printed(p) for p in stroke.points] == [pytest.approx(p) for p in marks[0].points]
    assert [printed(p) for p in fill.rings[0]] == [pytest.approx(p) for p in marks[1].rings[0]]
    assert printed(words.at) == pytest.approx((30.0, 40.0))
    assert (stroke.pen, words.size) == (Pen(0.3), 3.0)


def test_the_sheet_in_true_millimetres_fills_the_paper():
    correction = Correction(99.0, 102.0)
    width, height = correction.sheet((210.0, 297.0))
    assert (width / 0.99, height / 1.02) == pytest.approx((210.0, 297.0))
    assert not Correction().needed
    assert correction.needed
