"""The rows of a step: coats and their waits, and what is set after a wait stands after it."""

from dataclasses import dataclass

import pytest

from planbook.booklet.basics import Fact
from planbook.booklet.course import Course, course
from planbook.model import Node, Operation
from planbook.speech import speaking
from planbook.takeoff import CutRow
from planbook.text import Place
from planbook.workshop import At, Event

HERE = Place("steps.md")


@dataclass
class Work:
    """One thing done: its number in the step, how long it has to rest, and what it records."""

    number: int
    wait: float = 0.0
    coats: int = 0
    between: float = 480.0
    bare: str = ""
    clamp: float = 0.0

    @property
    def event(self) -> Event:
        told = (("coats", self.coats), ("between coats", self.between), ("bare", self.bare)) if self.coats else ()
        told = (*told, ("clamp", self.clamp)) if self.clamp else told
        operation = Operation(
            "finish" if self.coats else "glue" if self.clamp else "work", Node({}, HERE), 1, self.number, HERE
        )
        at = At(1, self.number, HERE)
        return Event(operation, at, (), (), (), (), None, {}, 1.0, self.wait, 0.0, settings=told)


def rows(*works: Work, tools: dict[int, str] | None = None) -> Course:
    cuts = [CutRow(1, number, "work", ("box",), (tool,), ()) for number, tool in (tools or {}).items()]
    wait = sum(work.wait for work in works)
    return course(
        [work.event for work in works], cuts, wait, lambda some: tuple(Fact("Tool", c.tools[0]) for c in some)
    )


def test_a_wait_for_every_coat_is_told_coat_by_coat() -> None:
    assert rows(Work(1, 960, coats=3), Work(2, 480)) == Course((Fact("Coats", "3"),), "8 h after each coat")


def test_where_the_last_coat_is_not_waited_for_the_time_is_that_between_coats() -> None:
    assert rows(Work(1, 960, coats=3)) == Course((Fact("Coats", "3"),), "8 h between coats")


def test_other_waits_are_told_from_the_last_coat_with_the_time_between_coats_beside_them() -> None:
    found = rows(Work(1, 480, coats=2), Work(2, 1440))
    assert found == Course((Fact("Coats", "2"), Fact("Between coats", "8 h")), "1 day")


def test_one_coat_has_nothing_between() -> None:
    assert rows(Work(1, coats=1), Work(2, 60)) == Course((Fact("Coats", "1"),), "1 h")


@pytest.mark.parametrize(("language", "label"), [("en", "Leave bare"), ("de", "Roh lassen")])
def test_what_stays_bare_is_said_in_the_words_of_the_maker(language: str, label: str) -> None:
    with speaking(language):
        assert Fact(label, "the dados") in rows(Work(1, 480, coats=2, bare="the dados"), Work(2, 480)).settings


def test_what_is_set_after_the_wait_stands_after_it() -> None:
    found = rows(Work(1, 60), Work(2, 1380), Work(3), tools={3: "flat board"})
    assert found == Course((), "1 day", (Fact("Tool", "flat board"),))


def test_a_wait_amid_others_is_a_row_in_its_place() -> None:
    found = rows(Work(1), Work(2, 60), Work(3), Work(4, 120), tools={1: "drill", 3: "flat board"})
    assert found == Course((Fact("Tool", "drill"), Fact("Then wait", "1 h"), Fact("Tool", "flat board")), "2 h")


def test_a_step_that_rests_at_its_end_alone_keeps_all_that_is_set_before() -> None:
    found = rows(Work(1), Work(2), Work(3, 60), tools={1: "drill", 2: "flat board"})
    assert found == Course((Fact("Tool", "drill"), Fact("Tool", "flat board")), "1 h")


@pytest.mark.parametrize(
    ("clamp", "rest", "told"),
    [
        (60, 1380, "1 day; clamps off after 1 h"),
        (60, 0, "1 h"),  # nothing is waited for but the clamps
        (0.5, 1440, "1 day"),
    ],
)
def test_when_the_clamps_come_off_is_told_where_the_joint_rests_longer(clamp: float, rest: float, told: str) -> None:
    assert rows(Work(1, clamp, clamp=clamp), Work(2, rest)).wait == told
