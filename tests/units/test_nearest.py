"""Near names for a mistyped one."""

import pytest

from planbook.units import near

KNOWN = ["wall", "walls", "drawer height", "Drum", "rail"]


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("wal", ("wall", "walls")),
        ("WALL", ("wall", "walls")),
        ("drum", ("Drum",)),
        ("drawer", ("drawer height",)),
        ("drawer heigth", ("drawer height",)),
        ("zzz", ()),
        ("", ()),
    ],
)
def test_the_nearest_names_come_first_as_they_are_spelled(name: str, expected: tuple[str, ...]) -> None:
    found = near(name, KNOWN)
    assert found[: len(expected)] == expected
    assert bool(found) == bool(expected)


def test_at_most_so_many_are_given() -> None:
    known = [f"part {number}" for number in range(30)]
    assert len(near("part", known)) == 4
    assert len(near("part 1", known, most=2)) == 2
    assert near("part 1", known, most=0) == ()


def test_a_very_long_name_is_no_burden() -> None:
    assert near("x" * 100_000, ["wall", "y" * 100_000]) == ()
