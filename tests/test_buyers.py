"""The register of buyers: who has what, forgetting, and files that are no register."""

import os
import sqlite3
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from planbook.buyers import RegisterProblem, Version, enter, forget, holders
from planbook.model.orders import Order
from planbook.text import Place

OLD, NEW = Version("tray", "1.0", "aa"), Version("tray", "1.1", "bb")
AT = Place("orders.csv")


def order(number: str, name: str) -> Order:
    return Order(number, name, "For one maker", f"{name.lower()}@example.org", AT, AT)


@pytest.fixture
def register(tmp_path: Path) -> Path:
    path = tmp_path / "buyers.sqlite"
    enter(path, OLD, [order("1", "Ada"), order("2", "Bo")])
    enter(path, NEW, [order("2", "Bo"), order("3", "Zoë")])
    return path


def test_it_says_who_has_which_version(register: Path) -> None:
    assert [(each.number, each.name, each.of) for each in holders(register)] == [
        ("1", "Ada", OLD),
        ("2", "Bo", OLD),
        ("2", "Bo", NEW),
        ("3", "Zoë", NEW),
    ]
    assert holders(register, "bench") == ()


def test_what_is_entered_again_stands_once_and_a_mended_name_takes_the_place_of_the_old(register: Path) -> None:
    enter(register, OLD, [order("1", "Ada"), order("2", "Bea")])
    assert [each.name for each in holders(register) if each.of == OLD] == ["Ada", "Bea"]


def test_of_a_forgotten_buyer_nothing_is_left_in_the_file(register: Path) -> None:
    assert b"bo@example.org" in register.read_bytes()
    assert forget(register, "2") == 2
    assert forget(register, "2") == 0
    left = register.read_bytes()
    assert b"Bo" not in left
    assert b"bo@example.org" not in left
    assert [path.name for path in register.parent.iterdir()] == ["buyers.sqlite"]
    gone = [each for each in holders(register) if each.forgotten]
    assert [each.of for each in gone] == [OLD, NEW]
    assert not any((each.name, each.contact, each.licence) != ("", "", "") for each in gone)


def test_the_file_is_sound_and_its_owners_alone(register: Path) -> None:
    with sqlite3.connect(register) as book:
        assert book.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    book.close()
    if os.name == "posix":
        assert stat.S_IMODE(register.stat().st_mode) == 0o600


def test_nothing_is_entered_if_the_list_breaks_off(register: Path) -> None:
    def broken() -> Iterator[Order]:
        yield order("8", "Cy")
        raise KeyError("9")

    before = holders(register)
    with pytest.raises(KeyError):
        enter(register, NEW, broken())
    assert holders(register) == before


def test_what_is_no_register_is_refused(tmp_path: Path) -> None:
    other, text, folder = tmp_path / "other.sqlite", tmp_path / "notes.txt", tmp_path / "folder"
    with sqlite3.connect(other) as book:
        book.execute("CREATE TABLE mine (a)")
    book.close()
    text.write_text("not a database at all, but long enough to look at\n" * 9, "utf-8")
    folder.mkdir()
    for path in (other, text, folder):
        before = path.read_bytes() if path.is_file() else b""
        with pytest.raises(RegisterProblem):
            enter(path, NEW, [order("1", "Ada")])
        with pytest.raises(RegisterProblem):
            holders(path)
        assert not path.is_file() or path.read_bytes() == before
    with pytest.raises(RegisterProblem, match="no register"):
        holders(tmp_path / "missing.sqlite")
    assert not (tmp_path / "missing.sqlite").exists()


def test_a_damaged_register_is_told(register: Path) -> None:
    data = bytearray(register.read_bytes())
    data[100:2000] = b"\xff" * 1900
    register.write_bytes(data)
    with pytest.raises(RegisterProblem):
        holders(register)
