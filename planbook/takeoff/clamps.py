"""How many clamps a build asks for at least, and how wide they have to open, as its steps are pressed."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import dist

from planbook.solids.frames import dot, negated, plus
from planbook.takeoff.measure import exact
from planbook.takeoff.records import Setting
from planbook.takeoff.schedule.records import Wait
from planbook.takeoff.settings import OPENING
from planbook.units import Quantity
from planbook.workshop import Cue, Timeline
from planbook.workshop.timeline import REACHING

COUNT = "at least"
PAD, THIN_PAD = 20.0, 3.0
"""Between each jaw and the work lies a block so thick, mm (scrap of a planed board; common practice); within an opening
a thin pad, such as leather or cork."""
_Place = tuple[float, ...]


def clamp_settings(timeline: Timeline, waits: Sequence[Wait], *, reaching: bool = False) -> tuple[Setting, ...]:
    """The most clamps that are on at any one time, as pictures show them and the schedule lets joints rest, and how far
    their jaws are apart at the widest work, with a block at each (mm).

    Small ones that reach in through an opening are told by themselves (`reaching`); only thin pads find room there.
    What a band goes around is drawn with no clamps and asks for none here.
    """
    steps = _openings(timeline, reaching)
    if not steps:
        return ()
    widest = max(far for found in steps.values() for far in found.values()) + 2 * (THIN_PAD if reaching else PAD)
    most = max(sum(len(steps[step]) for step in together) for together in _together([*steps], waits))
    return Setting(COUNT, Quantity(Fraction(most))), Setting(OPENING, Quantity(exact(widest), length=1))


def _together(steps: Sequence[int], waits: Sequence[Wait]) -> Iterator[set[int]]:
    """The steps whose clamps are on at one time: each by itself, and those that are on when one more is pressed."""
    yield from ({step} for step in steps)
    resting = [wait for wait in waits if wait.clamped and wait.step in steps]
    for one in resting:
        yield {other.step for other in resting if other.start <= one.start < other.start + other.clamped}


def steps_reaching(timeline: Timeline) -> tuple[int, ...]:
    """The steps in which small clamps reach in through an opening."""
    return tuple(sorted(_openings(timeline, reaching=True)))


def _openings(timeline: Timeline, reaching: bool) -> dict[int, dict[_Place, float]]:
    """How wide the clamps of each step open, mm, by where they press."""
    steps: dict[int, dict[_Place, float]] = {}
    for event in timeline.events:
        for one, two in _pairs(event.show.cues if event.show else ()):
            if (one.text == REACHING) is reaching:
                steps.setdefault(event.at.step, {})[_place(one, two)] = _opening(one, two)
    return steps


def _pairs(cues: tuple[Cue, ...]) -> Iterator[tuple[Cue, Cue]]:
    """The two ends of each clamp: they are recorded one after the other."""
    ends = [cue for cue in cues if cue.kind == "clamp"]
    return zip(ends[::2], ends[1::2], strict=False)


def _place(one: Cue, two: Cue) -> _Place:
    """Where a clamp presses: one that presses there for several joints is one."""
    return tuple(round(x, 1) for cue in (one, two) for x in cue.points[-1])


def _opening(one: Cue, two: Cue) -> float:
    """How far its jaws are apart, along the way it presses."""
    (tail, tip), other = (one.points[0], one.points[-1]), two.points[-1]
    return abs(dot(plus(tip, negated(tail)), plus(other, negated(tip)))) / dist(tail, tip)
