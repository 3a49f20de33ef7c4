"""The picture of a step: names, roles, signs, hidden pieces, scales."""

import math
import random

import pytest
from shapely.geometry import LineString, MultiPoint, Polygon, box

from planbook.drawing.ink import NEW, PAPER, SERIES, SQUARES, USUAL
from planbook.drawing.marks import Fill, Picture, Stroke, Words
from planbook.drawing.paint import CALM_OUTLINE, NEW_OUTLINE
from planbook.drawing.scales import shared_scales
from planbook.drawing.scene import BROAD, step_picture, step_scale, unseen
from planbook.drawing.svg import svg
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import circle
from planbook.solids.solid import block, joined, prism
from planbook.workshop import Cue, Shown

WIDE, HIGH = 90.0, 70.0


def picture_of(bench, event, wide=WIDE, high=HIGH, **more) -> Picture:
    return step_picture(bench.timeline(), event, wide, high, **more)


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


def test_every_piece_that_matters_is_named_once(bench):
    assert sorted(bench.texts(picture_of(bench, bench.sawn()))) == ["drum", "rim"]


def test_a_piece_that_stands_by_is_named_while_there_are_few(bench):
    def shown(count):
        beside = [bench.piece(f"foot {k}", block((0, 30 * k, 0), (20, 30 * k + 20, 20))) for k in range(count)]
        return [Shown(bench.piece("top", block((0, 0, 30), (300, 300, 40))), "worked", (0, 0, 90.0))] + [
            Shown(b, "context") for b in beside
        ]

    assert "foot 0" in bench.texts(picture_of(bench, bench.event("bore", "top", shown(4))))
    assert bench.texts(picture_of(bench, bench.event("bore", "top", shown(9)))) == ["top"]


def test_leaders_end_on_the_piece_they_name(bench):
    """The dot lies on a face in the colour of that piece's wood."""
    pieces = [Shown(bench.piece("pale", block((0, 0, 0), (60, 60, 60)), "sugar maple"), "worked")]
    pieces += [Shown(bench.piece("dark", block((90, 0, 0), (150, 60, 60)), "black walnut"), "worked")]
    picture = picture_of(bench, bench.event("finish", "top", pieces))
    brightness = {}
    for name, (_, dot) in zip(bench.texts(picture), bench.leaders(picture), strict=True):
        fills = [f for f in picture.of_layer("face") if isinstance(f, Fill) and _holds(f, dot)]
        assert len(fills) == 1
        brightness[name] = int(fills[0].colour[1:3], 16)
    assert brightness["pale"] > brightness["dark"] + 40


def _holds(fill: Fill, point: tuple[float, float]) -> bool:
    """Even-odd rule."""
    x, y = point
    hits = 0
    for ring in fill.rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                hits += 1
    return hits % 2 == 1


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
    """ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5 and 0.7 mm; beds that keep lines apart and dots are no lines."""
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


def test_a_cue_moves_with_its_piece(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    base = bench.piece("base", block((0, 0, -200), (60, 60, -180)))
    line = Cue("cut line", ((10, 10, 60), (50, 10, 60), (50, 50, 60)), "cube")

    def height(apart):
        shown = [Shown(cube, "worked", (0, 0, apart)), Shown(base, "context")]
        picture = picture_of(bench, bench.event("saw", "top", shown, [line]), scale=0.1)
        cut = [p[1] for m in picture.of_layer("cut line") for p in m.points]
        base_low = max(p[1] for m in picture.of_layer(CALM_OUTLINE) for p in m.points)
        return base_low - min(cut)

    # Straight up is drawn at sqrt(2/3) of its length in an isometric view (descriptive geometry).
    assert height(100) - height(0) == pytest.approx(0.1 * 100 * (2 / 3) ** 0.5, abs=0.05)


def test_a_cut_line_is_not_drawn_where_a_piece_hides_it(bench):
    def length(aside):
        base = bench.piece("base", block((0, 0, 0), (200, 100, 10)))
        lid = bench.piece("lid", block((0, 0, 10), (100, 100, 20)))
        line = Cue("cut line", ((10, 50, 10), (190, 50, 10)), "base")
        shown = [Shown(base, "worked"), Shown(lid, "context", (0, aside, 0))]
        picture = picture_of(bench, bench.event("saw", "top", shown, [line]), scale=0.2)
        strokes = picture.of_layer("cut line")
        return sum(
            ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
            for m in strokes
            for a, b in zip(m.points, m.points[1:], strict=False)
        )

    # The eye looks along (-1, 1, -1), so the lid hides the line from x = 10 to x = 100 exactly.
    assert length(0) == pytest.approx(length(300) * 90 / 180, rel=0.08)


def test_a_closed_cut_line_stays_closed(bench):
    rim = bench.piece("rim", bench.rim())
    ring = ((20, 20, 60), (160, 20, 60), (160, 100, 60), (20, 100, 60), (20, 20, 60))
    picture = picture_of(bench, bench.event("stick", "top", [Shown(rim, "worked")], [Cue("cut line", ring, "rim")]))
    assert [(m.closed, len(m.points)) for m in picture.of_layer("cut line")] == [(True, 4), (True, 4)]


def test_an_axis_gets_its_cross_only_where_the_drill_meets_wood(bench):
    axis = Cue("drill axis", ((20, 30, 48), (20, 30, -6)), "rail")
    crosses = []
    for solid in (block((0, 0, 0), (160, 60, 30)), bench.bored()):
        shown = [Shown(bench.piece("rail", solid), "worked")]
        picture = picture_of(bench, bench.event("bore", "top", shown, [axis]))
        dashed = [m for m in picture.of_layer("drill axis") if m.pen.dashes]
        assert len(dashed) == 1
        crosses.append(len(picture.of_layer("drill axis")) - 1)
    assert crosses == [2, 0]


def test_an_arrow_to_a_hidden_face_stops_outside(bench):
    back = bench.piece("back", block((0, 50, 0), (100, 60, 80)))
    push = Cue("push", ((50, 100, 40), (50, 60, 40)), "back")
    picture = picture_of(bench, bench.event("glue", "front", [Shown(back, "worked")], [push]))
    arrow = next(m for m in picture.of_layer("push") if isinstance(m, Fill))
    faces = [m for m in picture.of_layer("face") if isinstance(m, Fill)]
    assert not any(_holds(face, point) for face in faces for point in arrow.rings[0])


def test_glue_and_sand_signs_keep_to_their_faces(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    lid = bench.piece("lid", block((0, 0, 60), (60, 30, 70)))
    ring = ((0, 0, 60), (60, 0, 60), (60, 60, 60), (0, 60, 60))
    cues = [Cue("glue face", ring, "cube"), Cue("sand", ((30, 0, 30),), "cube", "front")]
    shown = [Shown(cube, "worked"), Shown(lid, "context")]
    picture = picture_of(bench, bench.event("glue", "top", shown, cues))
    faces = {m.colour: m for m in picture.of_layer("face") if isinstance(m, Fill)}
    for layer in ("glue face", "sand"):
        middles = [tuple(sum(c) / len(m.points) for c in zip(*m.points, strict=True)) for m in picture.of_layer(layer)]
        hit = {colour for middle in middles for colour, face in faces.items() if _holds(face, middle)}
        assert len(middles) > 20
        assert len(hit) == 1, layer


def test_glue_is_shown_on_a_narrow_edge_too(bench):
    """Each ring is white in the middle, so that it is no dot of a leader, and lies wholly on the edge."""
    board = bench.piece("board", block((0, 0, 0), (60, 20, 300)))
    ring = ((60, 0, 0), (60, 20, 0), (60, 20, 300), (60, 0, 300))
    shown = [Shown(board, "worked")]
    picture = picture_of(bench, bench.event("glue up", "right", shown, [Cue("glue face", ring, "board")]))
    marks = [m for m in picture.of_layer("glue face") if isinstance(m, Stroke)]
    around, middles = marks[: len(marks) // 2], marks[len(marks) // 2 :]
    assert len(around) > 5
    assert [m.points for m in around] == [m.points for m in middles]
    assert {m.pen.colour for m in middles} == {PAPER}
    assert all(m.pen.width < around[0].pen.width for m in middles)


def test_ticks_lie_on_a_flat_that_passes_into_roundings_and_not_on_what_lies_deeper(bench):
    ends = [prism(circle((x, 30), 30), FACE_FRAMES["front"], -60, 0) for x in (0.0, 120.0)]
    slab = joined([block((0, 0, 0), (120, 60, 60)), *ends]).minus(block((50, -1, 20), (70, 61, 61)))
    cue = Cue("sand", ((20, 30, 60),), "slab", "top")
    event = bench.event("sand flush", "top", [Shown(bench.piece("slab", slab), "worked")], [cue])
    picture = picture_of(bench, event, scale=0.4)
    ticks = [m.points for m in picture.of_layer("sand")]
    # A level face is seen at 1/sqrt(3) of its area in an isometric view (descriptive geometry); the flat ends at 120 mm.
    around = MultiPoint([p for points in ticks for p in points]).convex_hull.area
    assert len(ticks) > 10
    assert around < 140 * 60 * 0.4**2 / 3**0.5


def test_a_note_points_at_the_first_of_its_places_that_is_in_sight(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))

    def end_of(*points):
        note = Cue("note", points, "cube", "felt")
        picture = picture_of(bench, bench.event("line", "top", [Shown(cube, "worked")], [note]))
        return {m.points for m in picture.of_layer("leader")}

    hidden, seen = (30.0, 30.0, 30.0), (30.0, 30.0, 60.0)
    assert end_of(hidden, seen) == end_of(seen)
    assert end_of(hidden) != end_of(seen)


def test_a_note_that_points_at_nothing_in_sight_gives_way_to_its_like(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))

    def told(*points):
        notes = [Cue("note", (at,), "cube", "screws") for at in points]
        return bench.texts(picture_of(bench, bench.event("fit hardware", "right", [Shown(cube, "worked")], notes)))

    left, right, front = (0.0, 30.0, 30.0), (60.0, 30.0, 30.0), (30.0, 0.0, 30.0)
    assert sorted(told(left, right)) == ["cube", "screws"]
    assert sorted(told(right, front)) == ["cube", "screws", "screws"]
    assert sorted(told(left)) == ["cube", "screws"]


def test_a_note_is_set_with_the_names(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    note = Cue("note", ((30, 0, 30),), "cube", "felt")
    picture = picture_of(bench, bench.event("line", "top", [Shown(cube, "worked")], [note]))
    assert sorted(bench.texts(picture)) == ["cube", "felt"]


def test_many_pieces_are_numbered_and_listed_in_a_key(bench):
    picture = picture_of(bench, bench.slatted(40))
    numbers, keyed = bench.texts(picture), bench.texts(picture, "key")
    assert len(numbers) == len(set(numbers)) == 42
    assert all(text.isdigit() for text in numbers)
    assert keyed[-2:] == ["42", "back rail"]
    assert len(keyed) == 84


def test_a_hidden_piece_is_drawn_in_dashes_and_reported(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)), "black walnut")
    shell = block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51)))
    shown = [Shown(core, "new"), Shown(bench.piece("shell", shell), "context")]
    picture = picture_of(bench, bench.event("assemble", "top", shown))
    assert unseen(picture) == ("core",)
    dashes = [m for m in picture.marks if m.layer.startswith("unseen") and isinstance(m, Stroke)]
    assert dashes
    assert all(m.pen.dashes for m in dashes)
    assert "core" in bench.texts(picture)
    assert unseen(picture_of(bench, bench.sawn())) == ()


def test_a_piece_that_is_neither_seen_nor_needed_has_no_name(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)), "black walnut")
    shell = block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51)))
    shown = [Shown(core, "waste"), Shown(bench.piece("shell", shell), "worked")]
    picture = picture_of(bench, bench.event("assemble", "top", shown))
    assert bench.texts(picture) == ["shell"]
    assert unseen(picture) == ()


def test_a_thin_veneer_is_seen_and_named(bench):
    veneer = bench.piece("veneer", block((0, 0, 0), (200, 80, 0.2)), "black walnut")
    rest = bench.piece("block", block((0, 0, -30), (200, 80, -1.5)), "black walnut")
    shown = [Shown(veneer, "new", (0, 0, 30)), Shown(rest, "worked")]
    picture = picture_of(bench, bench.event("slice", "top", shown))
    assert sorted(bench.texts(picture)) == ["block", "veneer"]
    assert unseen(picture) == ()


@pytest.mark.parametrize(
    "name",
    [
        "",
        "   ",
        "<b>&\"'",
        "木の引き出し",
        "מגירה שמאלית",
        "درج",
        "x" * 400,
        "a\x00b\x1b\ud800",
        "e\u0301" * 30,
        "🪵🪚",
        "\u202edrawer",
    ],
)
def test_no_name_breaks_a_picture(bench, name):
    piece = bench.piece(name, block((0, 0, 0), (60, 60, 60)))
    other = bench.piece("other", block((0, 0, 60), (60, 60, 70)))
    picture = picture_of(bench, bench.event("saw", "top", [Shown(piece, "worked"), Shown(other, "new", (0, 0, 30))]))
    left, top, right, bottom = bench.extent(picture)
    assert left >= 0
    assert top >= 0
    assert right <= WIDE
    assert bottom <= picture.height
    assert all(len(text) <= 40 for text in bench.texts(picture))
    assert "other" in bench.texts(picture)
    svg(picture).encode("utf-8")


def test_an_event_that_shows_nothing_has_no_marks_but_words(bench):
    picture = picture_of(bench, bench.event("wait", "top", []))
    assert picture.marks == ()
    assert picture.alt.startswith("Step 3, wait.")


def test_stencil_paper_is_drawn_while_an_operation_follows_it(bench):
    from planbook.model import Stencil
    from planbook.solids import FACE_FRAMES, Area
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
    assert picture(60, {}).of_layer("sheet") == ()
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


def test_arrows_lie_over_leaders_and_under_names(bench):
    boards = [bench.piece(f"board {k}", block((0, 30 * k, 0), (200, 30 * k + 25, 20))) for k in range(4)]
    cues = [Cue("clamp", ((100.0, -40.0, 10.0), (100.0, 0.0, 10.0))), Cue("push", ((300.0, 0, 10), (200.0, 0, 10)))]
    picture = picture_of(bench, bench.event("glue up", "front", [Shown(b, "worked") for b in boards], cues))
    layers = [mark.layer for mark in picture.marks]
    for sign in ("clamp", "push"):
        assert layers.index(sign) > max(k for k, layer in enumerate(layers) if layer in ("leader", "leader bed"))
        assert layers.index(sign) < layers.index("name")


@pytest.mark.parametrize(("apart", "least", "most"), [(12.0, 0.5, 1.2), (100.0, 1.9, 2.1)])
def test_crosses_on_holes_that_lie_close_do_not_run_into_each_other(bench, apart, least, most):
    sheet = bench.piece("sheet", block((0, 0, 0), (600, 300, 10)))
    spots = [(60 + apart * k, 60.0) for k in range(4)]
    cues = [Cue("drill axis", ((u, v, 28.0), (u, v, 4.0)), "sheet") for u, v in spots]
    picture = picture_of(bench, bench.event("stick", "top", [Shown(sheet, "worked")], cues))
    crosses = [LineString(m.points) for m in picture.of_layer("drill axis") if not m.pen.dashes]
    assert len(crosses) == 8
    # An arm along one of the world's axes is drawn 0.8165 of its length in an isometric view (descriptive geometry).
    assert all(least < cross.length / 2 / math.sqrt(2 / 3) < most for cross in crosses)
    for k, one in enumerate(crosses):
        assert sum(one.intersects(other) for other in crosses[k + 1 :]) == (1 - k % 2)
    axes = [LineString(m.points) for m in picture.of_layer("drill axis") if m.pen.dashes]
    first, second = sorted(axis.interpolate(0.5, normalized=True).x for axis in axes)[:2]
    room = (second - first) / math.cos(math.radians(30))
    scale = room / (apart * math.sqrt(2 / 3))
    past = min(3.0, max(1.0, 0.6 * room))
    assert all(a.length == pytest.approx(24 * scale * math.sqrt(2 / 3) + 2 * past, rel=0.02) for a in axes)


def test_a_line_to_cut_ends_where_the_wood_ends_from_which_the_rest_is_pulled_away(bench):
    kept = bench.piece("kept", block((0, 0, 0), (100, 100, 20)))
    off = bench.piece("off", block((103, 0, 0), (200, 100, 20)))
    line = Cue("cut line", ((101.0, -60.0, 20.0), (101.0, 160.0, 20.0)), "kept")
    shown = [Shown(kept, "new"), Shown(off, "new", (60.0, 0.0, 0.0))]
    picture = picture_of(bench, bench.event("saw", "top", shown, [line]))
    (cut, _) = [LineString(m.points) for m in picture.of_layer("cut line")]
    wood = MultiPoint([p for m in picture.of_layer("face") for r in m.rings for p in r]).convex_hull
    # As long as the wood and a little beyond both ends, of 220 mm that were written.
    assert cut.length == pytest.approx(100 * math.sqrt(2 / 3) * scale_in(bench, shown, line), abs=4.5)
    assert wood.buffer(2.0).contains(cut)


def scale_in(bench, shown, line):
    scale = step_scale(bench.timeline(), bench.event("saw", "top", shown, [line]), WIDE, HIGH)
    assert scale is not None
    return scale
