"""Stencils read off a finished build: which line is used how, and what the saw made of the face."""

from collections.abc import Iterable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest

from planbook.drawing.stencil_art import laid
from planbook.drawing.stencil_read import grain_on, sheet_numbers, stencil_arts, stencilled
from planbook.model import Node, Operation, Stencil
from planbook.solids import FACE_FRAMES, Area, Outline, Path
from planbook.solids.plane import box
from planbook.solids.solid import block, prism
from planbook.text import Place
from planbook.workshop import At, Event, Fate, Member, Piece, Stuck, Timeline

PLACE = Place("steps.md")
FRONT = FACE_FRAMES["front"]
FACE = box(0, 0, 200, 100)
SQUARE = box(60, 30, 80, 40)


def piece(name: str, area: Area, stuck: Iterable[Stuck] = (), sources: tuple[str, ...] = ()) -> Piece:
    solid = prism(area, FRONT, -20.0, 0.0)
    board = block((0, 0, 0), (200, 20, 100))
    member = Member("board", "cherry", (1.0, 0.0, 0.0), board, board.bounds)
    return Piece(name, solid, (member,), At(1, 1, PLACE), sources, stuck=tuple(stuck))


def sheet(on: str, face: Area = FACE, step: int = 1) -> Stuck:
    stencil = Stencil("window", "Window", 2, "front", "world", (), (), (), "Mind the knot.", PLACE)
    lines: dict[str, Outline] = {
        "square": SQUARE,
        "way in": Path(((100, 0), (100, 30))),
        "level": Path(((0, 50), (200, 50))),
    }
    holes = {"start": (65.0, 35.0, 8.0), "spare": (20.0, 20.0, 4.0)}
    return Stuck(stencil, FRONT, lines, holes, {"inside": (100.0, 50.0)}, face, on, At(step, 1, PLACE))


def event(
    kind: str, taken: Iterable[Piece], made: Iterable[Piece], stuck: Stuck | None = None, **settings: Any
) -> Event:
    written = tuple((name.replace("_", " "), value) for name, value in settings.items())
    operation = Operation(kind, Node({}, PLACE), 1, 1, PLACE)
    return Event(
        operation,
        stuck.at if stuck else At(2, 1, PLACE),
        tuple(taken),
        tuple(made),
        (),
        (),
        None,
        {},
        0.0,
        0.0,
        0.0,
        written,
        stuck,
    )


def timeline(*events: Event, discarded: Iterable[Piece] = ()) -> Timeline:
    fates = {p.name: Fate(p, "discarded", p.at) for p in discarded}
    design = cast(Any, SimpleNamespace(stencils={"window": None, "other": None, "third": None}))
    return Timeline(design, {}, {}, events, (), fates, {}, (), ())


def sawn() -> Timeline:
    on = sheet("blank")
    blank = piece("blank", FACE, [on])
    frame, plug = piece("frame", FACE.minus(SQUARE), [on], ("blank",)), piece("plug", SQUARE, [on], ("blank",))
    return timeline(
        event("stick", [piece("blank", FACE)], [blank], on, stencil="window"),
        event("bore", [blank], [blank], stencil="window", holes=("start",), depth="through"),
        event(
            "saw",
            [blank],
            [frame, plug],
            stencil="window",
            lines=("square",),
            kerf_side="inside",
            leave=0.5,
            entry=("way in",),
            kerf=0.9,
            waste=("plug",),
        ),
        event("sand to line", [frame], [frame], stencil="window", lines=("square",)),
    )


def test_the_stencil_is_read_whole() -> None:
    (art,) = stencil_arts(sawn())
    assert (art.number, art.total, art.title, art.face_name, art.pieces) == (2, 3, "Window", "front", ("blank",))
    assert art.note == "Mind the knot."
    assert art.grain == 0.0
    assert art.face.size == pytest.approx(20000)


def test_lines_get_the_use_that_later_steps_make_of_them() -> None:
    (art,) = stencil_arts(sawn())
    lines = {line.name: line for line in art.lines}
    assert {name: line.use for name, line in lines.items()} == {"square": "cut", "way in": "entry", "level": "guide"}
    square = lines["square"]
    assert (square.side, square.leave, square.kerf) == ("inside", 0.5, 0.9)


def test_holes_get_their_depth() -> None:
    (art,) = stencil_arts(sawn())
    assert {hole.name: hole.depth for hole in art.holes} == {"start": None, "spare": 0.0}


def test_regions_are_the_parts_that_came_loose() -> None:
    (art,) = stencil_arts(sawn())
    regions = {region.name: region for region in art.regions}
    assert {name: region.waste for name, region in regions.items()} == {"frame": False, "plug": True}
    assert regions["plug"].area.size == pytest.approx(3200)
    assert regions["frame"].area.size == pytest.approx(16800)


def test_what_is_thrown_away_later_is_waste_too() -> None:
    on = sheet("blank")
    blank, frame, plug = (
        piece("blank", FACE, [on]),
        piece("frame", FACE.minus(SQUARE), [on], ("blank",)),
        piece("plug", SQUARE, [on], ("blank",)),
    )
    build = timeline(
        event("stick", [blank], [blank], on),
        event("saw", [blank], [frame, plug], stencil="window", lines=("square",), kerf_side="inside"),
        discarded=[frame],
    )
    (art,) = stencil_arts(build)
    assert {region.name for region in art.regions if region.waste} == {"frame"}


def test_a_line_only_sanded_to_is_no_cut() -> None:
    on = sheet("blank")
    blank = piece("blank", FACE, [on])
    build = timeline(
        event("stick", [blank], [blank], on),
        event("sand to line", [blank], [blank], stencil="window", lines=("square",)),
    )
    (art,) = stencil_arts(build)
    assert {line.name: line.use for line in art.lines}["square"] == "sand to"


def test_copies_are_printed_once_and_named_without_the_piece() -> None:
    left, right = sheet("left"), sheet("right")
    pieces = [piece("left", FACE, [left]), piece("right", FACE, [right])]
    parts = [
        piece(f"{p.name} {part}", area, p.stuck, (p.name,))
        for p in pieces
        for part, area in (("frame", FACE.minus(SQUARE)), ("plug", SQUARE))
    ]
    build = timeline(
        event("stick", pieces, pieces, left),
        event(
            "saw",
            pieces,
            parts,
            stencil="window",
            lines=("square",),
            kerf_side="inside",
            waste=("left plug", "right plug"),
        ),
    )
    (art,) = stencil_arts(build)
    assert art.pieces == ("left", "right")
    assert {region.name: region.waste for region in art.regions} == {"frame": False, "plug": True}


def test_another_face_needs_another_sheet() -> None:
    left, right = sheet("left"), sheet("right", box(0, 0, 220, 100), step=3)
    events = [event("stick", [], [piece(s.piece, s.face, [s])], s) for s in (left, right)]
    arts = stencil_arts(timeline(*events))
    assert [art.pieces for art in arts] == [("left",), ("right",)]
    assert [art.title for art in arts] == ["Window: left", "Window: right"]
    assert [(art.number, art.total) for art in arts] == [(2, 4), (3, 4)]  # the second of three stencils, on two sheets


def test_what_a_stencil_was_stuck_on_hands_that_on_to_its_parts_and_to_nothing_else() -> None:
    built, shelf = sawn(), piece("shelf", FACE)
    together = event("assemble", [shelf, *built.events[-1].made], [shelf, *built.events[-1].made])
    assert stencilled(timeline(*built.events, together)) == {"blank", "frame", "plug"}


def test_no_stencils_is_no_sheets() -> None:
    assert stencil_arts(timeline()) == ()


def test_grain_is_seen_in_the_face() -> None:
    assert grain_on(FACE_FRAMES["front"], (1.0, 0.0, 0.0)) == 0.0
    assert grain_on(FACE_FRAMES["front"], (0.0, 0.0, 1.0)) == pytest.approx(90.0)
    assert grain_on(FACE_FRAMES["front"], (0.0, 1.0, 0.0)) is None
    assert grain_on(FACE_FRAMES["back"], (1.0, 0.0, 1.0)) == pytest.approx(135.0)


def test_a_mirrored_sheet_is_printed_as_one_of_its_own() -> None:
    first, twin = sheet("left side"), replace(sheet("right side"), mirrored=True)
    later = replace(sheet("lid"), stencil=replace(first.stencil, name="lid", title="Lid", number=3))
    pieces = [piece(s.piece, FACE, [s]) for s in (first, twin, later)]
    build = timeline(event("stick", pieces[:2], pieces[:2], first), event("stick", pieces[2:], pieces[2:], later))
    arts = stencil_arts(build)
    assert [(art.number, art.title, art.pieces) for art in arts] == [
        (2, "Window", ("left side",)),
        (3, "Window, mirrored", ("right side",)),
        (4, "Lid", ("lid",)),
    ]
    assert {art.total for art in arts} == {4}
    assert sheet_numbers(build) == ({first.stencil.name: (2, 3), "lid": (4,)}, 4)


def turned(axis: str, angle: float, *names: str, on: str = "blank") -> list[Event]:
    made = [piece(name, FACE, sources=(on,)) for name in names]
    return [event("turn", [each], [each], about=axis, angle=angle) for each in made]


@pytest.mark.parametrize(
    ("turns", "way"),
    [
        ([], "up"),
        ([("x", 90.0)], "front"),
        ([("x", 180.0)], "down"),
        ([("z", 180.0)], "up"),
        ([("y", 270.0)], "left"),
        ([("x", 90.0), ("z", 180.0)], "back"),
        ([("x", 45.0)], ""),
    ],
)
def test_the_upper_side_is_named_after_what_it_becomes(turns: list[tuple[str, float]], way: str) -> None:
    """A quarter left round about x, as seen against it, brings what was up to the front."""
    on = sheet("blank")
    blank = piece("blank", FACE, [on])
    stuck = event("stick", [piece("blank", FACE)], [blank], on, stencil="window")
    (art,) = stencil_arts(timeline(stuck, *(e for axis, angle in turns for e in turned(axis, angle, "blank"))))
    assert art.way == way


def test_parts_that_are_turned_each_another_way_name_no_side_and_waste_does_not_matter() -> None:
    first, last = sawn().events[:1], turned("x", 90.0, "frame")
    plug = piece("plug", SQUARE, sources=("blank",))
    cut = event("saw", [first[0].made[0]], [piece("frame", FACE, sources=("blank",)), plug])
    assert stencil_arts(timeline(*first, cut, *last))[0].way == ""
    fates = {"frame": Fate(piece("frame", FACE), "part", At(9, 1, PLACE)), "plug": Fate(plug, "discarded", plug.at)}
    assert stencil_arts(replace(timeline(*first, cut, *last), fates=fates))[0].way == "front"


def test_what_is_glued_to_others_goes_with_them() -> None:
    on = sheet("blank")
    blank = piece("blank", FACE, [on])
    glued = piece("box", FACE, sources=("blank", "rail"))
    events = (
        event("stick", [piece("blank", FACE)], [blank], on, stencil="window"),
        event("glue", [blank, piece("rail", SQUARE)], [glued]),
        event("turn", [glued], [glued], about="x", angle=-90.0),
    )
    assert stencil_arts(timeline(*events))[0].way == "back"


def test_an_edge_is_whole_where_a_groove_runs_out_of_it() -> None:
    """A board of 200 x 100 mm with a groove of 60 x 12 mm from its left edge, and its lower edge rabbeted by 8 mm."""
    face = FACE.minus(box(0, 40, 60, 12), box(0, 0, 200, 8))
    on = sheet("board", face)
    whole = piece("board", face, [on])
    board = replace(whole, solid=whole.solid.plus(prism(FACE, FRONT, -20.0, -7.0)))
    (art,) = stencil_arts(timeline(event("stick", [board], [board], on, stencil="window")))
    ends = sorted(tuple(sorted((round(u), round(v)) for u, v in (run.points[0], run.points[-1]))) for run in art.rim)
    assert ends == [((0, 8), (200, 8)), ((0, 40), (0, 52))]
    assert [round(value) for value in laid(art).bounds] == [0, -100, 200, 0]


def test_what_stands_far_behind_a_face_is_no_edge_of_it() -> None:
    on = sheet("block")
    front = piece("block", FACE, [on])
    block_ = replace(front, solid=front.solid.plus(prism(box(-60, -60, 320, 220), FRONT, -40.0, -20.0)))
    (art,) = stencil_arts(timeline(event("stick", [block_], [block_], on, stencil="window")))
    assert art.rim == ()
