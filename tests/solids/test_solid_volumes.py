"""Volumes, parts and areas of cut solids against closed formulas and against another mesh library."""

import math

import pytest
import trimesh

from planbook.solids.frames import FACE_FRAMES, OPPOSITE, dot
from planbook.solids.plane import TOLERANCE, Area, Path, arc_band, blank_area, box, circle, ellipse
from planbook.solids.solid import Solid, block, cylinder, joined, nothing, prism

FRONT = FACE_FRAMES["front"]
BOARD = block((0, 0, 0), (200, 20, 100))


def other_volume(solid: Solid) -> float:
    """The volume as trimesh (a general-purpose mesh library) computes it from the same triangles."""
    vertices, triangles = solid.mesh
    mesh = trimesh.Trimesh(vertices, triangles, process=False)
    assert mesh.is_watertight
    return float(mesh.volume)


def chord_error(radius: float, length: float) -> float:
    """The most that chords within TOLERANCE of a circle can take from a round bar of this length."""
    return 2 * math.pi * radius * TOLERANCE * length


def test_a_block_has_the_volume_of_its_sides() -> None:
    assert BOARD.volume == pytest.approx(200 * 20 * 100, rel=1e-12)
    assert other_volume(BOARD) == pytest.approx(BOARD.volume, rel=1e-12)
    assert BOARD.extent == (200, 20, 100)


@pytest.mark.parametrize("radius", [0.5, 3.0, 12.7, 90.0])
def test_a_round_bar_is_pi_r_squared_long(radius: float) -> None:
    # V = pi r^2 h, any geometry handbook.
    bar = cylinder(FRONT, (0, 0), radius, 0, 40)
    exact = math.pi * radius**2 * 40
    assert exact - chord_error(radius, 40) <= bar.volume <= exact
    assert other_volume(bar) == pytest.approx(bar.volume, rel=1e-9)


def test_a_bored_board_loses_the_drill_s_volume_and_gains_a_hole() -> None:
    drill = cylinder(FRONT, (50, 50), 6, -30, 10)
    bored = BOARD.minus(drill)
    exact = BOARD.volume - math.pi * 36 * 20
    assert bored.volume == pytest.approx(exact, abs=chord_error(6, 20))
    assert bored.genus == 1
    assert other_volume(bored) == pytest.approx(bored.volume, rel=1e-9)


def test_a_cylinder_segment_has_its_textbook_volume() -> None:
    # Segment of a circle: A = r^2 (theta - sin theta) / 2 with cos(theta / 2) = 1 - h / r; any geometry handbook.
    radius, rise = 94.0, 30.0
    disc = prism(circle((0, 0), radius), FRONT, 0, 124)
    cap, _ = disc.split((0, 0, 1), radius - rise)
    theta = 2 * math.acos(1 - rise / radius)
    exact = radius**2 * (theta - math.sin(theta)) / 2 * 124
    assert cap.volume == pytest.approx(exact, rel=1e-3)


def test_splitting_conserves_volume() -> None:
    ring = prism(circle((100, 50), 40).minus(circle((100, 50), 30)), FRONT, -20, 0)
    one, two = ring.split((0.6, 0.0, 0.8), 71.3)
    assert one.volume + two.volume == pytest.approx(ring.volume, rel=1e-9)


def test_a_kerf_parts_a_board_in_a_fixed_order() -> None:
    kerf = block((99.5, -1, -1), (100.5, 21, 101))
    left, right = BOARD.minus(kerf).parts
    assert left.bounds[1][0] == pytest.approx(99.5)
    assert right.bounds[0][0] == pytest.approx(100.5)
    assert left.volume + right.volume + 1 * 20 * 100 == pytest.approx(BOARD.volume)


def test_boards_glued_face_to_face_are_one_part() -> None:
    other = block((0, 20, 0), (200, 40, 100))
    both = joined([BOARD, other])
    assert len(both.parts) == 1
    assert (BOARD.surface + other.surface - both.surface) / 2 == pytest.approx(200 * 100)


@pytest.mark.parametrize("face", sorted(FACE_FRAMES))
def test_frames_are_right_handed_and_look_outwards(face: str) -> None:
    frame, back = FACE_FRAMES[face], FACE_FRAMES[OPPOSITE[face]]
    cross = (
        frame.u[1] * frame.v[2] - frame.u[2] * frame.v[1],
        frame.u[2] * frame.v[0] - frame.u[0] * frame.v[2],
        frame.u[0] * frame.v[1] - frame.u[1] * frame.v[0],
    )
    assert cross == pytest.approx(frame.n)
    assert dot(frame.n, back.n) == -1
    point = frame.at((3, 4, 5)).world(7, 8, 9)
    assert frame.at((3, 4, 5)).local(point) == pytest.approx((7, 8, 9))


@pytest.mark.parametrize("face", sorted(FACE_FRAMES))
def test_a_face_and_a_shadow_are_seen_from_outside(face: str) -> None:
    wedge = prism(Area.of([(0, 0), (30, 0), (0, 20)]), FACE_FRAMES[face], -10, 0)
    seen = wedge.face(FACE_FRAMES[face])
    assert seen.size == pytest.approx(300)
    assert seen.bounds == pytest.approx((0, 0, 30, 20))
    assert wedge.shadow(FACE_FRAMES[face]).size == pytest.approx(300)
    assert wedge.shadow(FACE_FRAMES[OPPOSITE[face]]).bounds[2] == pytest.approx(0)


def test_the_gap_and_the_rays_are_in_millimetres() -> None:
    other = block((210, 0, 0), (220, 20, 100))
    assert BOARD.gap(other, 50) == pytest.approx(10)
    assert BOARD.gap(other, 4) == pytest.approx(4)
    assert BOARD.hits((-50, 10, 50), (450, 10, 50)) == pytest.approx([50, 250])
    normals = [normal for _, normal in BOARD.walls((-50, 10, 50), (450, 10, 50))]
    assert normals[0] == pytest.approx((-1, 0, 0))


def test_a_mirrored_and_a_turned_solid_keep_their_volume() -> None:
    wedge = prism(Area.of([(0, 0), (30, 0), (0, 20)]), FRONT, -10, 0)
    assert wedge.mirrored((1, 0, 0), 50).bounds[1][0] == pytest.approx(100)
    assert wedge.turned((0, 0, 1), 37, (5, 5, 5)).volume == pytest.approx(wedge.volume, rel=1e-9)
    assert wedge.grown(1e-3).extent[0] == pytest.approx(30.002)


def test_nothing_is_nothing() -> None:
    assert nothing().empty
    assert nothing().parts == ()
    assert nothing().middle == (0, 0, 0)
    assert prism(blank_area(), FRONT, 0, 1).empty
    assert joined([]).empty


def test_plane_areas_have_their_textbook_sizes() -> None:
    # A = pi a b for an ellipse; A = w h - (4 - pi) r^2 for a rectangle with rounded corners; A = theta (R^2 - r^2) / 2.
    assert ellipse((0, 0), 60, 40).size == pytest.approx(math.pi * 30 * 20, rel=2e-3)
    assert box(0, 0, 60, 40, 9).size == pytest.approx(60 * 40 - (4 - math.pi) * 81, rel=1e-3)
    assert arc_band((0, 0), 75, 85, 6, 174).size == pytest.approx(math.radians(168) * (85**2 - 75**2) / 2, rel=1e-3)
    rounded = arc_band((0, 0), 75, 85, 6, 174, round_ends=True)
    assert rounded.size == pytest.approx(math.radians(168) * (85**2 - 75**2) / 2 + math.pi * 25, rel=1e-3)


def test_an_offset_ring_has_the_width_of_the_kerf() -> None:
    ring = circle((0, 0), 50).offset(1.1).minus(circle((0, 0), 50))
    assert ring.size == pytest.approx(math.pi * (51.1**2 - 50**2), rel=1e-3)
    strip = Path(((0, 0), (40, 0))).band(1.1, over=(2, 2))
    assert strip.bounds == pytest.approx((-2, -0.55, 42, 0.55))
    assert Path(((0, 0), (40, 0))).band(1.1, "left").bounds == pytest.approx((0, 0, 40, 1.1))
    assert Path(((0, 0), (40, 0))).band(1.1, "right").bounds == pytest.approx((0, -1.1, 40, 0))


def test_a_crossing_outline_says_so() -> None:
    bow = Area.of([(0, 0), (10, 10), (10, 0), (0, 10)])
    assert bow.fault() == ("Self-intersection", (5.0, 5.0))
    assert Path(((0, 0), (10, 10), (10, 0), (0, 10))).fault() is not None
    assert circle((0, 0), 3).fault() is None


def test_a_round_plug_fills_its_hole_after_a_quarter_turn() -> None:
    hole, plug = circle((0, 0), 6), circle((0, 0), 6).turned(90)
    assert hole.minus(plug).size < 1e-9
    assert plug.minus(hole).size < 1e-9
    assert circle((3, 2), 6).mirrored("u", 3).minus(circle((3, 2), 6)).size < 1e-9


def test_rounding_corners_takes_the_corner_away() -> None:
    square = box(0, 0, 40, 40)
    assert square.rounded(10).size == pytest.approx(1600 - (4 - math.pi) * 100, rel=2e-3)


def test_a_closed_cavity_is_no_part_of_its_own() -> None:
    hollow = BOARD.minus(block((10, 5, 10), (20, 15, 20)), block((50, 5, 10), (60, 15, 20)))
    apart = joined([hollow, block((0, 40, 0), (10, 60, 10)).minus(block((4, 44, 4), (6, 46, 6)))])
    assert [part.volume for part in hollow.parts] == [pytest.approx(200 * 20 * 100 - 2 * 1000)]
    assert sorted(part.volume for part in apart.parts) == [pytest.approx(2000 - 8), pytest.approx(400_000 - 2000)]
    assert hollow.parts[0].surface == pytest.approx(BOARD.surface + 2 * 600)


def test_a_part_inside_a_cavity_keeps_its_own_cavity() -> None:
    shell = block((0, 0, 0), (100, 100, 100)).minus(block((10, 10, 10), (90, 90, 90)))
    kernel = block((40, 40, 40), (60, 60, 60)).minus(block((45, 45, 45), (55, 55, 55)))
    volumes = sorted(part.volume for part in joined([shell, kernel]).parts)
    assert volumes == [pytest.approx(8000 - 1000), pytest.approx(1e6 - 512_000)]
