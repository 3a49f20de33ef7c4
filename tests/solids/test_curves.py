"""Curves as chords: against closed forms, against integrals along the curves, and against another reader of paths."""

import math

import numpy as np
import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import parse_path
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.spatial import cKDTree

from planbook.model import Affine, ArcTo, CubicTo, LineTo, Segment, Stroke, bounds_of
from planbook.reader.svg_path import read_path
from planbook.solids import Area, Path
from planbook.solids.curves import SHARPEST, TooFine, outline, stroke_points
from planbook.solids.plane import TOLERANCE

MOST = 20_000


def ring(middle: tuple[float, float], rx: float, ry: float) -> Stroke:
    start = (middle[0] + rx, middle[1])
    return Stroke(start, (ArcTo(middle, (rx, 0.0), (0.0, ry), 0.0, math.tau, start),), True)


def area_of(*strokes: Stroke) -> Area:
    found = outline(strokes, MOST)
    assert isinstance(found, Area)
    assert found.fault() is None
    return found


def along(segment: Segment, start: tuple[float, float], t: float) -> tuple[float, float]:
    match segment:
        case CubicTo():
            return segment.at(start, t)
        case ArcTo():
            return segment.at(segment.begin + t * segment.sweep)
        case LineTo(end):
            return (start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1]))


def samples(stroke: Stroke, count: int = 400) -> np.ndarray:
    points, start = [], stroke.start
    for segment in stroke.segments:
        points += [along(segment, start, i / count) for i in range(count + 1)]
        start = segment.end
    return np.array(points)


@pytest.mark.parametrize(("rx", "ry"), [(40.0, 40.0), (0.5, 0.5), (80.0, 20.0), (120.0, 1.0), (3000.0, 2000.0)])
def test_area_and_length_of_ellipses(rx: float, ry: float) -> None:
    found = area_of(ring((5.0, -3.0), rx, ry))
    # The chords lie inside: what is missing is less than TOLERANCE along the edge.
    whole = math.pi * rx * ry
    length = quad(lambda a: math.hypot(rx * math.sin(a), ry * math.cos(a)), 0, math.tau, epsrel=1e-11, limit=500)[0]
    assert 0 <= whole - found.size <= TOLERANCE * length
    assert 0 <= length - found.perimeter <= 0.013 * length
    left, bottom, right, top = bounds_of([ring((5.0, -3.0), rx, ry)])
    assert (left, bottom, right, top) == pytest.approx((5 - rx, -3 - ry, 5 + rx, -3 + ry))


def test_an_ellipse_that_is_turned_and_sheared_keeps_its_area() -> None:
    by = Affine(1.2, 0.4, -0.7, 0.9, 10.0, 20.0)
    stroke = ring((0.0, 0.0), 30.0, 12.0).placed(by)
    whole = math.pi * 30 * 12 * (1.2 * 0.9 + 0.7 * 0.4)
    found = area_of(stroke)
    assert whole - TOLERANCE * found.perimeter <= found.size <= whole
    points = samples(stroke, 4000)
    low, high = points.min(axis=0), points.max(axis=0)
    assert bounds_of([stroke]) == pytest.approx((*low, *high), abs=1e-4)


def test_area_under_a_cubic_by_green() -> None:
    """Area between a cubic and its chord: (3/20) of a sum of cross products (Green's theorem on the curve)."""
    a, b, c, d = (0.0, 0.0), (10.0, 60.0), (70.0, 50.0), (90.0, 0.0)

    def cross(p: tuple[float, float], q: tuple[float, float]) -> float:
        return p[0] * q[1] - p[1] * q[0]

    # Half the integral of x dy - y dx over a cubic, multiplied out, and over the chord back.
    curve = (6 * cross(a, b) + 3 * cross(a, c) + cross(a, d) + 3 * cross(b, c) + 3 * cross(b, d) + 6 * cross(c, d)) / 20
    whole = abs(curve + cross(d, a) / 2)
    found = area_of(Stroke(a, (CubicTo(b, c, d), LineTo(a)), True))
    assert found.size == pytest.approx(whole, rel=2e-3)
    assert found.size < whole


def test_length_of_a_cubic_by_integration() -> None:
    curve = CubicTo((10.0, 60.0), (70.0, 50.0), (90.0, 0.0))
    step = 1e-5

    def speed(t: float) -> float:
        (ax, ay), (bx, by) = curve.at((0.0, 0.0), t - step), curve.at((0.0, 0.0), t + step)
        return math.hypot(bx - ax, by - ay) / (2 * step)

    line = outline([Stroke((0.0, 0.0), (curve,), False)], MOST)
    assert isinstance(line, Path)
    assert line.length == pytest.approx(quad(speed, 0, 1)[0], rel=1e-3)


NUMBERS = st.floats(-200, 200, allow_nan=False).map(lambda x: round(x, 2))
POINTS = st.tuples(NUMBERS, NUMBERS)


@settings(max_examples=60, deadline=None)
@given(POINTS, POINTS, POINTS, POINTS)
def test_chords_stay_near_any_cubic(a, b, c, d) -> None:  # type: ignore[no-untyped-def]
    stroke = Stroke(a, (CubicTo(b, c, d),), False)
    corners = np.array(stroke_points(stroke))
    points = samples(stroke)
    assert tuple(corners[0]) == a
    assert tuple(corners[-1]) == d
    starts, ways = corners[:-1], np.diff(corners, axis=0)
    square = np.maximum((ways**2).sum(axis=1), 1e-30)
    gaps = []
    for point in points:
        share = np.clip(((point - starts) * ways).sum(axis=1) / square, 0, 1)
        gaps.append(np.linalg.norm(starts + share[:, None] * ways - point, axis=1).min())
    assert max(gaps) <= TOLERANCE * 1.001


@pytest.mark.parametrize(
    "stroke",
    [
        Stroke((0.0, 0.0), (CubicTo((40.0, 0.0), (0.0, 40.0), (40.0, 40.0)),), False),
        Stroke((0.0, 0.0), (CubicTo((4.0, 0.0), (0.0, 4.0), (4.0, 4.0)),), False),
        ring((0.0, 0.0), 60.0, 2.0),
        ring((0.0, 0.0), 0.3, 0.3),
    ],
)
def test_a_smooth_curve_has_no_corner_that_a_picture_would_show(stroke: Stroke) -> None:
    corners = np.array(stroke_points(stroke))
    ways = np.diff(corners, axis=0)
    angles = np.arctan2(ways[:, 1], ways[:, 0])
    turns = np.abs((np.diff(angles) + math.pi) % math.tau - math.pi)
    assert turns.max() <= SHARPEST + 1e-9


def test_a_line_within_another_is_a_hole_and_one_within_that_an_island() -> None:
    found = area_of(ring((0, 0), 40, 40), ring((0, 0), 30, 30), ring((0, 0), 10, 10), ring((60, 0), 5, 5))
    assert found.size == pytest.approx(math.pi * (1600 - 900 + 100 + 25), rel=2e-3)
    assert len(found.parts) == 3


def test_outlines_that_cross_each_other_are_faulty() -> None:
    found = outline([ring((0, 0), 10, 10), ring((12, 0), 10, 10)], MOST)
    assert found.fault() is not None


def test_too_many_corners_are_refused() -> None:
    with pytest.raises(TooFine) as refused:
        outline([ring((0, 0), 10_000, 10_000)], 100)
    assert refused.value.most == 100


# ------------------------------------------------------------ against the path reader of fontTools

LETTERS = {
    "L": 2,
    "l": 2,
    "H": 1,
    "h": 1,
    "V": 1,
    "v": 1,
    "C": 6,
    "c": 6,
    "S": 4,
    "s": 4,
    "Q": 4,
    "q": 4,
    "T": 2,
    "t": 2,
}
COMMANDS = st.one_of(
    *[
        st.lists(NUMBERS, min_size=n, max_size=n).map(lambda v, c=letter: f"{c} {' '.join(map(str, v))}")
        for letter, n in LETTERS.items()
    ],
    st.tuples(
        st.sampled_from("Aa"),
        st.floats(1, 150),
        st.floats(1, 150),
        st.integers(-90, 90),
        st.sampled_from("01"),
        st.sampled_from("01"),
        POINTS,
    ).map(lambda v: f"{v[0]}{v[1]:.2f},{v[2]:.2f} {v[3]} {v[4]}{v[5]}{v[6][0]} {v[6][1]}"),
)


@settings(max_examples=150, deadline=None)
@given(POINTS, st.lists(COMMANDS, min_size=1, max_size=6), st.booleans())
def test_paths_are_read_as_another_reader_reads_them(start, commands, twice) -> None:  # type: ignore[no-untyped-def]
    text = f"M{start[0]} {start[1]} {' '.join(commands)} z"
    text += f" m 10 -5 {commands[0]} Z" if twice else ""
    area, box = AreaPen(), BoundsPen(None, ignoreSinglePoints=True)
    parse_path(text, area)
    parse_path(text, box)
    strokes = read_path(text, 1)
    points = [samples(stroke, 200) for stroke in strokes]
    # The other reader makes arcs out of cubics, a quarter turn at a time: off by 0.03 % of the radius.
    arcs = [s for stroke in strokes for s in stroke.segments if isinstance(s, ArcTo)]
    radii = [(math.hypot(*arc.right), math.hypot(*arc.up)) for arc in arcs]
    everything = np.concatenate([*points, np.zeros((1, 2))])
    if points:
        low, high = np.concatenate(points).min(axis=0), np.concatenate(points).max(axis=0)
        assert (*low, *high) == pytest.approx(
            box.bounds, abs=0.3 + 1e-3 * max((r for pair in radii for r in pair), default=0)
        )
    mine = sum(_green(each) for each in points)
    room = 1.0 + 1e-4 * float(np.ptp(everything, axis=0).prod()) + 2e-3 * sum(math.pi * rx * ry for rx, ry in radii)
    assert mine == pytest.approx(area.value, abs=room)


def _green(points: np.ndarray) -> float:
    x, y = points[:, 0], points[:, 1]
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)


@settings(max_examples=150, deadline=None)
@given(POINTS, POINTS, st.floats(1, 300), st.floats(1, 300), st.floats(-90, 90), st.booleans(), st.booleans())
def test_arcs_keep_what_their_flags_say(a, b, rx, ry, turned, large, onward) -> None:  # type: ignore[no-untyped-def]
    if math.dist(a, b) < 1:
        return
    text = f"M{a[0]} {a[1]} A {rx} {ry} {turned} {int(large)} {int(onward)} {b[0]} {b[1]}"
    (stroke,) = read_path(text, 1)
    (arc,) = stroke.segments
    assert isinstance(arc, ArcTo)
    assert arc.at(arc.begin) == pytest.approx(a, abs=1e-6)
    assert arc.at(arc.begin + arc.sweep) == pytest.approx(b, abs=1e-6)
    assert (arc.sweep > 0) is onward
    grown = math.hypot(*arc.right) / rx
    assert grown >= 1 - 1e-9
    assert math.hypot(*arc.up) == pytest.approx(grown * ry)
    if grown < 1 + 1e-9:
        assert (abs(arc.sweep) > math.pi + 1e-3) <= large
        assert (abs(arc.sweep) < math.pi - 1e-3) <= (not large)
    else:
        assert abs(arc.sweep) == pytest.approx(math.pi, abs=1e-3)


def test_a_stroke_run_backward_has_the_same_points() -> None:
    stroke = read_path("M0 0 C 10 30 40 30 50 0 L 60 5 A 20 10 15 0 1 90 20", 1)[0]
    there, back = samples(stroke), samples(stroke.backward())
    assert stroke.backward().start == stroke.end
    distances, _ = cKDTree(there).query(back)
    assert distances.max() < 1e-9
