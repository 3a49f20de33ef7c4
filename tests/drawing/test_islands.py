"""Where on small faces leaders end: amid them, and not where another piece could be meant."""

from planbook.drawing.islands import by_themselves
from planbook.drawing.stage import stages
from planbook.solids.hatch import inside, roomy_parts, roomy_point
from planbook.solids.solid import block
from planbook.workshop import Shown


def seen(bench, wide):
    """A board of 400 x 200 mm with a strip along its front that is wide at its two ends, and a board at the right one."""
    strip = block((0, -wide / 4, 0), (400, -0.5, 20)).plus(block((0, -wide, 0), (2 * wide, -0.5, 20)))
    strip = strip.plus(block((400 - 2 * wide, -wide, 0), (400, -0.5, 20)))
    shown = [
        Shown(bench.piece("board", block((0, 0, 0), (400, 200, 20))), "new"),
        Shown(bench.piece("strip", strip), "waste"),
        Shown(bench.piece("next", block((401, -100, 0), (500, -4, 20))), "new"),
        Shown(bench.piece("last", block((401, -4, 0), (500, 200, 20))), "new"),
    ]
    (stage,) = stages(bench.event("saw", "top", shown))
    n = next(k for k, s in enumerate(stage.pieces) if s.piece.name == "strip")
    faces = [face.polygons for face in stage.look.of(n) if face.normal[2] > 0.9]
    return faces, by_themselves(faces, n, stage.look)


def test_of_two_wide_ends_of_a_slim_strip_a_leader_ends_on_that_which_lies_beside_fewer_pieces(bench):
    faces, kept = seen(bench, 8.0)
    assert kept != faces
    spots = [roomy_point(part, 0.0)[0] for part in kept]
    left = min(u for face in faces for outer, _ in face for u, _ in outer)
    assert all(abs(u - left) < 20.0 for u, _ in spots)
    assert all(any(inside(face, [spot])[0] for face in faces) for spot in spots)


def test_a_wide_strip_keeps_its_faces(bench):
    faces, kept = seen(bench, 60.0)
    assert kept == faces


def test_the_roomiest_parts_of_a_dumb_bell_are_its_two_ends():
    ring = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (90.0, 4.0), (90.0, 0.0), (100.0, 0.0))
    back = tuple((u, 10.0 - v) for u, v in reversed(ring))
    parts = roomy_parts((((*ring, *back), ()),))
    assert len(parts) == 2
    assert all(u < 10.0 or u > 90.0 for part in parts for u, _ in part[0][0])
