from dataclasses import dataclass, field
from pathlib import Path

import pytest

from planbook.drawing import steps
from planbook.drawing.kept import Kept
from planbook.drawing.marks import Fill, Pen, Picture, Stroke, Words
from planbook.reader import read_design
from planbook.workshop.run import build

DESIGN = """
title = "Block"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.board]
wood = "sugar maple"
size = ["100 mm", "40 mm", "20 mm"]
grain = "x"
[tools.bit]
kind = "drill"
diameter = "6 mm"
"""
STEPS = """## Mill it

Plane it.

```mill
boards = ["board"]
```

## Bore it

Bore it {here}.

```bore
piece = "board"
face = "top"
at = [["{u} mm", "20 mm"]]
drill = "bit"
```
"""


@dataclass
class Memory:
    """A cache that counts."""

    things: dict[str, bytes] = field(default_factory=dict)
    found: int = 0

    def get(self, key: str) -> bytes | None:
        self.found += key in self.things
        return self.things.get(key)

    def put(self, key: str, data: bytes) -> None:
        self.things[key] = data


def pictures(folder: Path, cache: Memory, u: int = 20, here: str = "here", room: float = 98.0) -> dict[int, Picture]:
    (folder / "design.toml").write_text(DESIGN, encoding="utf-8")
    (folder / "steps.md").write_text(STEPS.replace("{u}", str(u)).replace("{here}", here), encoding="utf-8")
    design = read_design(folder).design
    assert design is not None
    timeline = build(design)
    assert not timeline.troubles
    return steps.step_pictures(timeline, room, 64.0, cache=cache)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The steps that were really drawn."""
    numbers: list[int] = []
    draw = steps.step_picture

    def counted(timeline, event, *more):
        numbers.append(event.at.step)
        return draw(timeline, event, *more)

    monkeypatch.setattr(steps, "step_picture", counted)
    return numbers


def test_nothing_is_drawn_twice(tmp_path, drawn):
    cache = Memory()
    first = pictures(tmp_path, cache)
    assert drawn == [1, 2]
    assert pictures(tmp_path, cache) == first
    assert pictures(tmp_path, cache, here="there, with other words") == first
    assert drawn == [1, 2]
    assert all(picture.marks for picture in first.values())


def test_only_what_changed_is_drawn_again(tmp_path, drawn):
    cache = Memory()
    first = pictures(tmp_path, cache)
    second = pictures(tmp_path, cache, u=30)
    assert drawn == [1, 2, 2]
    assert second[1] == first[1]
    assert second[2] != first[2]


def test_another_room_is_another_picture(tmp_path, drawn):
    cache = Memory()
    pictures(tmp_path, cache)
    pictures(tmp_path, cache, room=60.0)
    assert drawn == [1, 2, 1, 2]


def test_a_picture_comes_back_as_it_was(tmp_path):
    picture = Picture(
        10.0,
        1 / 3,
        (
            Fill((((0.1, 0.2), (1e-17, 2.0)),), "#123456", "face", 0.5),
            Stroke(((0.0, -0.0), (1 / 7, 5.0)), Pen(0.25, dashes=(1.0, 0.5)), "line", True),
            Words((1.0, 2.0), "Höhe «3»", 2.8, "middle", 45.0, True),
        ),
        "alt",
    )
    cache = Memory()
    kept = Kept(None, cache)  # type: ignore[arg-type]
    assert kept.picture("a", lambda: picture) == picture
    again = kept.picture("a", lambda: pytest.fail("drawn twice"))
    assert again == picture
    assert [type(mark) for mark in again.marks] == [Fill, Stroke, Words]


def test_what_is_kept_in_another_form_is_drawn_again(tmp_path):
    picture = Picture(1.0, 1.0, ())
    for broken in (b"", b"{}", b'{"width": 1}', b"\xff", b'{"width":1,"height":1,"marks":[{"what":1}],"alt":""}'):
        cache = Memory({"a": broken})
        assert Kept(None, cache).picture("a", lambda: picture) == picture  # type: ignore[arg-type]
