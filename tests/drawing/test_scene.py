"""The picture of a step: inks, widths of lines, scales, and that it is tidy whatever it shows."""

import random

import pytest
from shapely.geometry import Polygon, box

from planbook.drawing.ink import NEW, SERIES, SQUARES, USUAL
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.paint import NEW_OUTLINE
from planbook.drawing.scales import shared_scales
from planbook.drawing.scene import BROAD, step_scale
from planbook.drawing.svg import svg
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

from .conftest import HIGH, WIDE, picture_of


def scenes(bench):
    """One event of each sort a reader meets."""
    oak = bench.piece("peg rail", bench.bored())
    foot = bench.piece("foot", block((0, -20, -40), (160, 80, -20)), "black walnut")
    boards = [bench.piece(f"board {k}", block((0, 30 * k, 0), (200, 30 * k + 25, 20))) for k in range(4)]
    yield bench.sawn()
    yield bench.event("bore", "top", [Shown(oak, "worked"), Shown(foot, "context")])
    yield bench.event("glue up", "front", [Shown(b, "worked", (0, 20.0 * k, 0)) for k, b in enumerate(boards)])
    yield bench.event("trim", "bottom", [Shown(oak, "worked"), Shown(foot, "new", (0, 0, -30))])
    yield bench.event("wait", "back", [Shown(bench.piece("ring", bench.ring(), "black cherry"), "context")])
    yield bench.slatted(10)
    yield bench.slatted(13)
    yield bench.slatted(40)


@pytest.mark.parametrize("which", range(8))
@pytest.mark.parametrize("size", [(90.0, 70.0), (120.0, 95.0), (60.0, 60.0)])
def test_everything_stands_inside_the_picture_and_no_name_touches_another(bench, overlaps, which, size):
    picture = picture_of(bench, list(scenes(bench))[which], *size)
    left, top, right, bottom = bench.extent(picture)
    assert left >= 0
    assert top >= 0
    assert right <= picture.width
    assert bottom <= picture.height
    assert picture.width == size[0]
    assert overlaps([*bench.boxes(picture), *bench.boxes(picture, "key")]) == []


@pytest.mark.parametrize("which", range(8))
@pytest.mark.parametrize("size", [(90.0, 70.0), (120.0, 95.0)])
def test_leaders_never_cross(bench, crossings, which, size):
    picture = picture_of(bench, list(scenes(bench))[which], *size)
    assert crossings(bench.leaders(picture)) == []


@pytest.mark.parametrize("which", range(6))
def test_names_stand_clear_of_the_drawing(bench, which):
    """Beside it, or in a corner that it leaves empty."""
    picture = picture_of(bench, list(scenes(bench))[which])
    rings = [ring for mark in picture.of_layer("face") if isinstance(mark, Fill) for ring in mark.rings]
    wood = [Polygon(ring).buffer(0) for ring in rings]
    assert bench.boxes(picture)
    assert all(box(*name).distance(each) > 1.0 for name in bench.boxes(picture) for each in wood)


def test_woods_of_a_laminated_piece_have_their_own_tints(bench):
    solid = block((0, 0, 0), (80, 60, 40))
    one = picture_of(bench, bench.event("square", "top", [Shown(bench.piece("blank", solid), "worked")]))
    woods = ("black walnut", "sugar maple", "black cherry")
    blank = bench.layered("blank", solid, (0, 12, 26, 40), woods)
    three = picture_of(bench, bench.event("square", "top", [Shown(blank, "worked")]))

    def tints(picture):
        return {m.colour for m in picture.of_layer("face")}

    assert len(tints(one)) == 3  # top, front, right
    assert len(tints(three)) == 7  # cherry on top, three woods on front and right
    assert three.of_layer("seam")
    assert not one.of_layer("seam")


def test_faces_in_different_light_differ_and_the_top_is_lightest(bench):
    picture = picture_of(
        bench, bench.event("square", "top", [Shown(bench.piece("cube", block((0, 0, 0), (9, 9, 9))), "worked")])
    )
    by_height = sorted(
        (min(p[1] for ring in m.rings for p in ring), m.colour) for m in picture.of_layer("face") if isinstance(m, Fill)
    )
    brightness = [int(colour[1:3], 16) for _, colour in by_height]
    assert brightness[0] == max(brightness)
    assert len(set(brightness)) == 3


def test_a_curved_surface_is_shaded_in_steps(bench):
    picture = picture_of(bench, bench.event("sand face", "top", [Shown(bench.piece("ring", bench.ring()), "worked")]))
    shades = [m for m in picture.of_layer("shade") if isinstance(m, Fill)]
    assert len(shades) >= 3
    assert all(0 < m.opacity < 0.5 for m in shades)


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_new_pieces_have_a_stronger_line_and_waste_is_hatched(bench, ink):
    picture = picture_of(bench, bench.sawn(), ink=ink)
    (new,) = {m.pen for m in picture.of_layer(NEW_OUTLINE) if isinstance(m, Stroke)}
    (usual,) = {m.pen for m in picture.of_layer("outline") if isinstance(m, Stroke)}
    assert new.width > 1.3 * usual.width
    assert picture.of_layer("hatch")
    colours = {new.colour, usual.colour}
    assert (NEW in colours) is (ink == "colour")


def test_black_ink_has_no_colour(bench):
    for event in scenes(bench):
        for mark in picture_of(bench, event, ink="black").marks:
            colour = mark.pen.colour if isinstance(mark, Stroke) else mark.colour
            channels = [int(colour[k : k + 2], 16) for k in (1, 3, 5)]
            assert max(channels) - min(channels) <= 14, colour


def test_outlines_are_at_least_twice_as_thick_as_creases_are_thin(bench):
    """ISO 128-2: wide to narrow lines 2 : 1."""
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    picture = picture_of(bench, bench.event("square", "top", [Shown(cube, "worked")]))
    thick = {m.pen.width for m in picture.of_layer("outline") if isinstance(m, Stroke)}
    thin = {m.pen.width for m in picture.of_layer("crease") if isinstance(m, Stroke)}
    assert min(thick) >= 1.9 * max(thin)


@pytest.mark.parametrize("ink", ["colour", "black"])
@pytest.mark.parametrize("width", [40.0, 98.0])
def test_all_lines_are_of_the_series_of_widths(bench, ink, width):
    """ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 and 1 mm; beds that keep lines apart and dots are no lines."""
    cues = [
        Cue("cut line", ((0, 0, 60), (60, 60, 60)), "cube"),
        Cue("drill axis", ((30, 30, 80), (30, 30, 20)), "cube"),
        Cue("sand", ((30, 30, 60),), "cube", "top"),
    ]
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    for event in (*scenes(bench), bench.event("saw", "top", [Shown(cube, "worked")], cues)):
        picture = picture_of(bench, event, width, 64.0, ink=ink)
        strokes = [m for m in picture.marks if isinstance(m, Stroke) and len(m.points) > 1 and "bed" not in m.layer]
        assert strokes
        assert {m.pen.width for m in strokes if m.pen.colour != "#ffffff" and m.layer != "push"} <= set(SERIES)
    thin, thick = USUAL.crease, USUAL.outline
    assert thick / thin == pytest.approx(2.0, rel=0.05)
    assert USUAL.new / USUAL.seam >= 2.0


def test_pieces_pulled_far_apart_do_not_overlap(bench):
    left = bench.piece("left", block((0, 0, 0), (60, 60, 60)), "sugar maple")
    right = bench.piece("right", block((60, 0, 0), (120, 60, 60)), "black walnut")

    def gap(apart):
        shown = [Shown(left, "worked", (-apart, 0, 0)), Shown(right, "worked", (apart, 0, 0))]
        fills = picture_of(bench, bench.event("glue", "top", shown)).of_layer("face")
        xs = {}
        for fill in fills:
            pale = int(fill.colour[1:3], 16) > 180
            xs.setdefault(pale, []).extend(p[0] for ring in fill.rings for p in ring)
        return min(xs[False]) - max(xs[True])

    assert gap(0) < 0
    assert gap(90) > 1


def test_an_event_that_shows_nothing_has_no_marks_but_words(bench):
    picture = picture_of(bench, bench.event("wait", "top", []))
    assert picture.marks == ()
    assert picture.alt.startswith("Step 3, wait.")


def test_stencil_paper_is_drawn_as_long_as_its_face_is_there(bench):
    from planbook.model import Stencil
    from planbook.solids import Area
    from planbook.text import Place
    from planbook.workshop import At, Stuck

    place = Place("design.toml")
    stencil = Stencil("outline", "", 1, "top", "lower left", (), (), (), "", place)
    face = Area.of([(0, 0), (60, 0), (60, 60), (0, 60)])

    def picture(height, fields, **ink):
        stuck = Stuck(stencil, FACE_FRAMES["top"].at((0, 0, height)), {}, {}, {}, face, "cube", At(2, 1, place))
        cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)), stuck=(stuck,))
        return picture_of(bench, bench.event("saw", "top", [Shown(cube, "worked")], fields=fields), **ink)

    assert len(picture(60, {"stencil": None}).of_layer("sheet")) == 1
    assert len(picture(60, {}).of_layer("sheet")) == 1
    assert picture(50, {"stencil": None}).of_layer("sheet") == ()  # no face lies there any more
    squares = [m for m in picture(60, {"stencil": None}, ink="black").of_layer("sheet") if isinstance(m, Stroke)]
    assert len(squares) > 10
    assert {m.pen for m in squares} == {SQUARES}


def test_the_same_event_gives_the_same_marks(bench):
    for one, two in zip(scenes(bench), scenes(bench), strict=True):
        assert picture_of(bench, one) == picture_of(bench, two)


def test_pictures_are_slim(bench):
    """A booklet of eighty steps should stay mailable: 15 kB a picture at the median."""
    sizes = sorted(len(svg(picture_of(bench, event))) for event in scenes(bench))
    assert sizes[len(sizes) // 2] <= 15_000
    assert sizes[-1] <= 40_000


def test_a_scale_can_be_given_and_is_only_ever_lowered(bench):
    event = bench.sawn()
    own = step_scale(bench.timeline(), event, WIDE, HIGH)

    def wide(scale):
        picture = picture_of(bench, event, scale=scale)
        xs = [p[0] for m in picture.of_layer("face") for ring in m.rings for p in ring]
        return max(xs) - min(xs)

    assert own is not None
    assert wide(own / 2) == pytest.approx(wide(None) / 2, rel=0.02)
    assert wide(own * 3) == wide(None)


def test_neighbours_of_nearly_one_size_share_a_scale(bench):
    def event(side):
        return bench.event("bore", "top", [Shown(bench.piece("cube", block((0, 0, 0), (side, side, side))), "worked")])

    events = [event(100.0), bench.event("wait", "top", []), event(110.0), event(300.0)]
    own = [step_scale(bench.timeline(), event, WIDE, HIGH) for event in events]
    first, none, second, third = shared_scales(own)
    assert none is None
    assert first == second
    assert third is not None
    assert third < first


def test_alternative_text_tells_operation_pieces_view_and_signs(bench):
    assert picture_of(bench, bench.sawn()).alt == (
        "Step 3, saw. New: drum. Waste: rim. The top face is turned to the reader, seen from the front right and "
        "above. The pieces are drawn pulled apart. Marked: a line to cut."
    )
    assert all(event_picture.alt for event_picture in (picture_of(bench, e) for e in scenes(bench)))


def test_words_are_never_smaller_than_print_allows(bench):
    for event in scenes(bench):
        picture = picture_of(bench, event)
        assert all(m.size >= 1.6 for m in picture.marks if isinstance(m, Words))


@pytest.mark.parametrize("seed", range(24))
def test_heaps_of_odd_boxes_make_tidy_pictures(bench, overlaps, crossings, seed):
    """Any number of boxes of any size, anywhere, with any sign on them."""
    draw = random.Random(seed)
    unit = 10 ** draw.uniform(0.3, 3.3)
    shown = []
    for number in range(draw.randint(1, 22)):
        low = [draw.uniform(0, 2 * unit) for _ in range(3)]
        high = [corner + draw.uniform(0.02, 1) * unit for corner in low]
        name = " ".join(draw.choice(["left", "drawer", "front", "shim", "木"]) for _ in range(draw.randint(1, 8)))
        piece = bench.piece(f"{name} {number}", block(tuple(low), tuple(high)), draw.choice(["sugar maple", "zzz"]))
        shown.append(Shown(piece, draw.choice(["worked", "new", "waste", "context"])))
    kinds = ["cut line", "drill axis", "push", "sand", "glue face", "note"]
    cues = [
        Cue(draw.choice(kinds), tuple(tuple(draw.uniform(0, unit) for _ in range(3)) for _ in range(k + 1)), "", "felt")
        for k in range(draw.randint(0, 4))
    ]
    wide, high_mm = draw.choice([(90.0, 70.0), (120.0, 95.0), (60.0, 50.0), (170.0, 120.0)])
    face = draw.choice(["front", "back", "left", "right", "top", "bottom"])
    picture = picture_of(bench, bench.event("saw", face, shown, cues), wide, high_mm)
    left, top, right, bottom = bench.extent(picture)
    assert min(left, top) >= 0
    assert right <= picture.width <= BROAD * wide + 0.01
    assert bottom <= picture.height
    assert overlaps([*bench.boxes(picture), *bench.boxes(picture, "key")]) == []
    assert crossings(bench.leaders(picture)) == []
