"""Frozen records of everything listed from a build; lengths are exact millimetres, times are minutes."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.handbook import Caution, Precaution, SignalWord
from planbook.speech import called, say
from planbook.units import Quantity

Ending = Literal["part", "joined", "kept", "discarded", "left over"]
"""How a piece ended: as the workshop says, or joined into a larger piece that did not end as waste."""


_NUMBERED = re.compile(r"(.*\S) ([1-9][0-9]{0,8})")


def parted(name: str) -> tuple[str, int | None]:
    """The name and the number of a numbered piece, as in `leg 3`; (name, None) for any other."""
    found = _NUMBERED.fullmatch(name)
    return (found[1], int(found[2])) if found else (name, None)


def in_short(names: Iterable[str]) -> str:
    """Names with commas, numbers that follow each other as a range: "top, leg 1 to 4, 7"."""
    stems: dict[str, list[int | None]] = {}
    for name in names:
        stem, number = parted(name)
        stems.setdefault(stem, []).append(number)
    return ", ".join(_ranges(stem, numbers) for stem, numbers in stems.items())


def _ranges(stem: str, numbers: list[int | None]) -> str:
    counted = sorted(number for number in numbers if number is not None)
    told = [called(stem)] * (len(numbers) - len(counted))
    runs: list[list[int]] = []
    for number in counted:
        if runs and runs[-1][1] == number - 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join([*told, *([f"{called(stem)} {', '.join(_span(*run) for run in runs)}"] if runs else [])])


def _span(first: int, last: int) -> str:
    if last - first < 2:
        return str(first) if last == first else f"{first}, {last}"
    return say("{first} to {last}", first=first, last=last)


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Length along the grain, whatever it measures, then width and thickness (width >= thickness), in mm."""

    length: Fraction
    width: Fraction
    thickness: Fraction

    @property
    def volume(self) -> Fraction:
        """The volume of the box, mm3."""
        return self.length * self.width * self.thickness

    @property
    def sides(self) -> tuple[Fraction, Fraction, Fraction]:
        """The three sides, longest first, whatever the grain, mm."""
        longest, middle, shortest = sorted((self.length, self.width, self.thickness), reverse=True)
        return (longest, middle, shortest)


@dataclass(frozen=True, slots=True)
class BoardRow:
    """Boards alike in wood and size. Board feet are None for sheet goods, which are sold by area.

    The measures are for all boards of the row together, by the rough size (the finished one where the design
    gives no rough size); `board_feet_nominal` counts a thickness below one inch as one inch.
    """

    number: int
    names: tuple[str, ...]
    wood: str
    size: Dimensions
    rough: Dimensions | None
    grain: str
    board_feet: Fraction | None
    board_feet_nominal: Fraction | None
    square_metres: Fraction
    cubic_metres: Fraction
    steps: tuple[int, ...]

    @property
    def name(self) -> str:
        """The names of the boards, with commas, those of a batch as "leg 1 to 4"."""
        return in_short(self.names)

    @property
    def count(self) -> int:
        """How many boards of this size there are."""
        return len(self.names)

    @property
    def to_buy(self) -> Dimensions:
        """The size to look for: rough where the design gives it, else finished."""
        return self.rough or self.size


@dataclass(frozen=True, slots=True)
class WoodTotal:
    """All boards of one wood together; `kilograms` is None where the handbook does not know the wood."""

    wood: str
    boards: int
    board_feet: Fraction | None
    board_feet_nominal: Fraction | None
    square_metres: Fraction
    cubic_metres: Fraction
    kilograms: float | None


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece of the finished object, or one kept: its size when it was made and at the end.

    `made_in` is 0 for a board used as it was bought. `part_of` names the larger piece it was joined into.
    `single` is true for a piece of the object that was not joined from other listed ones.
    `kilograms` is None where the density of one of its woods is not known.
    """

    number: int
    name: str
    made: Dimensions
    final: Dimensions
    woods: tuple[str, ...]
    made_in: int
    used_in: tuple[int, ...]
    ending: Ending
    part_of: str
    single: bool
    cubic_metres: Fraction
    kilograms: float | None


@dataclass(frozen=True, slots=True)
class LeftoverRow:
    """A piece thrown away or left over, and whether it is worth keeping for another job."""

    name: str
    size: Dimensions
    woods: tuple[str, ...]
    made_in: int
    ending: Ending
    worth_keeping: bool


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting of a tool or cut: a quantity (a length is in mm), several of them (a point), or words."""

    key: str
    value: Quantity | tuple[Quantity, ...] | str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool that is used. `implied` tools are not in the design, but the work cannot do without them."""

    name: str
    kind: str
    settings: tuple[Setting, ...]
    steps: tuple[int, ...]
    note: str
    implied: bool


@dataclass(frozen=True, slots=True)
class CutRow:
    """How a tool was set for one operation; `number` counts the operations of the step from 1."""

    step: int
    number: int
    operation: str
    pieces: tuple[str, ...]
    tools: tuple[str, ...]
    settings: tuple[Setting, ...]


Unit = Literal["ml", "l", "g", "m2", "m", "fl oz", "oz", "ft2", "ft", "pieces", "sheets"]


@dataclass(frozen=True, slots=True)
class Amount:
    """How much of a supply to have, in the unit named."""

    value: Fraction
    unit: Unit


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """A supply that is used. `work` is what it is used on, without allowance, or None if not known.

    `metric` and `us` are what to have, with the allowance, rounded up; both None where that is not known, and
    `note` then says why. `coats` is 0 for anything but a finish. `need` is the exact amount for one build,
    without allowance.
    """

    name: str
    kind: str
    product: str
    steps: tuple[int, ...]
    work: Amount | None
    work_us: Amount | None
    coats: int
    metric: Amount | None
    us: Amount | None
    note: str
    implied: bool
    need: Amount | None = None


@dataclass(frozen=True, slots=True)
class CautionHere:
    """A caution at a step. `first_step` prints it in full; elsewhere a short mark points there."""

    caution: Caution
    first_step: int
    repeated: bool


@dataclass(frozen=True, slots=True)
class StepSafety:
    """The cautions of one step, the gravest first."""

    step: int
    title: str
    cautions: tuple[CautionHere, ...]


@dataclass(frozen=True, slots=True)
class Safety:
    """The page of general precautions, and the cautions of the steps that have any."""

    general: tuple[Precaution, ...]
    steps: tuple[StepSafety, ...]

    @property
    def signals(self) -> tuple[SignalWord, ...]:
        """The signal words that occur, so that the booklet explains those and no others."""
        return tuple(dict.fromkeys(here.caution.signal for step in self.steps for here in step.cautions))

    def of(self, step: int) -> tuple[CautionHere, ...]:
        """The cautions of a step; empty where there are none."""
        return next((row.cautions for row in self.steps if row.step == step), ())


@dataclass(frozen=True, slots=True)
class StepTime:
    """One step: minutes of work, minutes of waiting, and when it starts on the clock of the build."""

    step: int
    title: str
    hands_on: float
    wait: float
    start: float


@dataclass(frozen=True, slots=True)
class Time:
    """How long it takes as printed, in minutes: `elapsed` until the last work is done, `ready` until all is dry.

    No wait is used for other work; the schedule does that. `days` is the number of the day on which it is ready,
    with `work_a_day` minutes of work each day.
    """

    steps: tuple[StepTime, ...]
    hands_on: float
    wait: float
    elapsed: float
    ready: float
    work_a_day: float
    days: int


@dataclass(frozen=True, slots=True)
class WoodRow:
    """A wood of the design with what the reader should know of it; `notes` are whole sentences."""

    name: str
    known: bool
    latin: str
    group: str
    density: float | None
    dust: str
    source: str
    notes: tuple[str, ...]
