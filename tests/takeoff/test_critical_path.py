"""The critical path, against published examples and an independent library."""

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.takeoff.schedule import Link, Task, critical


def network(text: str) -> tuple[str, tuple[Task, ...]]:
    """Activities as "B4:A" (four long, after A), in an order in which each comes after those it needs."""
    names = "".join(word[0] for word in text.split())
    tasks = []
    for word in text.split():
        duration, _, before = word[1:].partition(":")
        tasks.append(Task(int(duration), tuple(Link(names.index(name)) for name in before)))
    return names, tuple(tasks)


CONTRACTOR = "A2 B4:A C10:B D6:C E4:C F5:E G7:D H9:EG I7:C J8:FI K4:J L5:J M2:H N6:KL"
"""Hillier and Lieberman, Introduction to Operations Research: building a plant, weeks (data from memory)."""
PAPER_MILL = "A2 B3 C2:A D4:AB E4:C F3:C G5:DE H2:FG"
"""Heizer and Render, Operations Management: Milwaukee Paper, weeks (data from memory)."""
COURSE = "A4 B6:A C3:A D6:B E14:D F5:C G2:EF H2:G I3:G J4:HI K2:J"
"""A course on project scheduling, slides 3283910 of slideplayer.com; the order is inferred from its dates."""
QUIZ = "A4 B3:A C5:A D2:A E5:BC F6:CD G4:EF H3:G"
"""The quiz of the same slides."""
DEGENERATE = "A7 B5 C3:A D5:B E4:C F4:CD G3:EF H1:G"
"""Exercise 114392 of brainmass.com: everything is critical."""


@pytest.mark.parametrize(
    ("text", "length", "path"),
    [
        (CONTRACTOR, 44, "ABCEFJLN"),
        (PAPER_MILL, 15, "ACEGH"),
        (COURSE, 41, "ABDEGIJK"),
        (QUIZ, 22, "ACFGH"),
        (DEGENERATE, 18, "ACEGH"),
    ],
)
def test_length_and_path_of_published_examples(text, length, path):
    names, tasks = network(text)
    found = critical(tasks)
    assert found.length == length
    assert "".join(names[k] for k in found.path) == path


@pytest.mark.parametrize(
    ("text", "slacks"),
    [
        (CONTRACTOR, {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1}),
        (PAPER_MILL, {"B": 1, "D": 1, "F": 6}),
        (DEGENERATE, {}),
    ],
)
def test_slack_of_published_examples(text, slacks):
    names, tasks = network(text)
    found = {name: moment.slack for name, moment in zip(names, critical(tasks).moments, strict=True)}
    assert {name: slack for name, slack in found.items() if slack} == slacks


def test_printed_dates_of_the_course():
    names, tasks = network(COURSE)
    dates = dict(zip(names, critical(tasks).moments, strict=True))
    assert (dates["C"].latest, dates["C"].latest + 3) == (22, 25)
    assert (dates["H"].latest, dates["H"].latest + 2) == (33, 35)


def test_printed_dates_of_the_quiz():
    names, tasks = network(QUIZ)
    dates = dict(zip(names, critical(tasks).moments, strict=True))
    assert (dates["G"].earliest, dates["G"].earliest + 4) == (15, 19)
    assert dates["E"].latest == 10


def test_several_critical_paths_are_counted():
    assert [critical(network(text)[1]).paths for text in (CONTRACTOR, DEGENERATE)] == [1, 3]  # ACEGH, ACFGH, BDFGH


def test_a_wait_counts_and_so_does_drying_at_the_end():
    tasks = (Task(10), Task(5, (Link(0, 60),)), Task(20, tail=100))
    found = critical(tasks)
    assert (found.length, found.path, [m.slack for m in found.moments]) == (120, (2,), [45, 45, 0])


def test_nothing_takes_no_time():
    assert (critical(()).length, critical(()).path, critical(()).paths) == (0, (), 0)


def test_a_task_cannot_wait_for_a_later_one():
    with pytest.raises(ValueError, match="task 0 waits for task 1"):
        critical((Task(1, (Link(1),)), Task(1)))


@st.composite
def networks(draw):
    """Random work: each task after some of the earlier ones, with waits and drying."""
    tasks = []
    for number in range(draw(st.integers(1, 9))):
        before = draw(st.sets(st.integers(0, number - 1), max_size=3)) if number else set()
        links = tuple(Link(k, draw(st.sampled_from((0, 0, 30, 400, 1440)))) for k in sorted(before))
        tasks.append(Task(draw(st.sampled_from((0, 5, 20, 60, 170))), links, draw(st.sampled_from((0, 0, 480)))))
    return tuple(tasks)


@given(networks())
def test_the_longest_chain_is_that_of_an_independent_library(tasks):
    graph = networkx.DiGraph()
    for number, task in enumerate(tasks):
        graph.add_edge("start", (number, "work"), weight=0)
        graph.add_edge((number, "work"), (number, "done"), weight=task.work)
        graph.add_edge((number, "done"), "end", weight=task.tail)
        for link in task.after:
            graph.add_edge((link.before, "done"), (number, "work"), weight=link.lag)
    found = critical(tasks)
    assert found.length == networkx.dag_longest_path_length(graph)
    spent = [
        tasks[a].work + max(k.lag for k in tasks[b].after if k.before == a)
        for a, b in zip(found.path, found.path[1:], strict=False)
    ]
    assert sum(spent) + found.tails[found.path[-1]] == found.length
    assert found.tails[found.path[-1]] == tasks[found.path[-1]].work + tasks[found.path[-1]].tail
