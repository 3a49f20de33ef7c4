"""Lists of orders: what is read, and where what is wrong with them stands."""

from pathlib import Path

import pytest

from planbook.reader.orders_csv import LONGEST, read_orders
from planbook.reader.orders_kinds import ALL


def told(tmp_path: Path, text: str | bytes, licence: str = "For one maker") -> list[tuple[int, int, str]]:
    path = tmp_path / "orders.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return [(f.place.line, f.place.column, f.code) for f in read_orders(path, licence).findings]


def test_orders_are_read_with_their_places(tmp_path: Path) -> None:
    path = tmp_path / "orders.csv"
    path.write_text("Order, Name ;x\n".replace(" ;x", "") + '1042,Ada Fenn\n\n1043,"Reed, ""Bo"""\n', "utf-8")
    reading = read_orders(path, "For one maker")
    assert reading.findings == ()
    assert [(o.number, o.name, o.licence, o.name_at.line, o.name_at.column) for o in reading.orders] == [
        ("1042", "Ada Fenn", "For one maker", 2, 6),
        ("1043", 'Reed, "Bo"', "For one maker", 4, 7),
    ]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_columns_in_any_order_and_a_licence_of_its_own(tmp_path: Path, mark: str) -> None:
    path = tmp_path / "orders.csv"
    rows = [("name", "licence", "order", "contact"), ("Ada", "For two", "1", "ada@example.org"), ("Bo", "", "2", "")]
    path.write_text("\ufeff" + "\r\n".join(mark.join(row) for row in rows), "utf-8")
    first, second = read_orders(path, "For one").orders
    assert (first.licence, first.contact) == ("For two", "ada@example.org")
    assert (second.licence, second.contact) == ("For one", "")


WRONG = {
    "": [(1, 1, "ORD01")],
    "order,nam\n1,Ada": [(1, 1, "ORD01"), (1, 7, "ORD01")],
    "order,name,name\n1,Ada,Bo": [(1, 12, "ORD01")],
    "order,name\n1": [(2, 1, "ORD02")],
    "order,name\n1,Fenn, Ada": [(2, 1, "ORD02")],
    'order,name\n1,"Ada\nFenn"\n2,Bo': [(2, 1, "ORD02")],
    'order,name\n1,Ada\n2,"Bo': [(3, 1, "ORD02")],
    'order,name\n1,"Ada"Fenn': [(2, 1, "ORD02")],
    "order,name\n,Ada\n2,": [(2, 1, "ORD03"), (3, 3, "ORD03")],
    "order,name\n1,=1+1\n2,@x\n-3,Bo\n4,+Bo": [(2, 3, "ORD04"), (3, 3, "ORD04"), (4, 1, "ORD04"), (5, 3, "ORD04")],
    "order,name\n1,Ada\u202eFenn\n2,Bo\x07\n3,C\u2028D\n4,E\ufeffF": [
        (2, 3, "ORD04"),
        (3, 3, "ORD04"),
        (4, 3, "ORD04"),
        (5, 3, "ORD04"),
    ],
    "order,name\n1,Ada\n1,Ada\nA7,Bo\na7,Cy": [(3, 1, "ORD05"), (5, 1, "ORD05")],
    "order,name\n1," + "x" * 81: [(2, 3, "ORD06")],
    "order,name\n" + "1" * 41 + ",x": [(2, 1, "ORD06")],
}


@pytest.mark.parametrize("text", WRONG)
def test_what_is_wrong_is_told_with_line_and_column(tmp_path: Path, text: str) -> None:
    assert told(tmp_path, text) == WRONG[text]


def test_every_kind_but_those_of_the_page_has_a_line_here() -> None:
    seen = {code for lines in WRONG.values() for *_, code in lines}
    assert seen == {kind.code for kind in ALL} - {"ORD07"}


def test_an_order_without_any_licence_is_told(tmp_path: Path) -> None:
    assert told(tmp_path, "order,name\n1,Ada", "") == [(2, 1, "ORD03")]
    assert told(tmp_path, "order,name,licence\n1,Ada,", "") == [(2, 7, "ORD03")]


def test_names_that_need_joiners_are_taken(tmp_path: Path) -> None:
    """Persian and Hindi names are written with them (Unicode, chapter 23.2)."""
    assert told(tmp_path, "order,name\n1,می\u200cخواهم\n2,क्\u200dष") == []


@pytest.mark.parametrize("data", [b"\xff\xfeo\x00", b"order,name\n1,\xff", b"order,name\n1," + b"x" * 5000])
def test_what_is_no_text_is_told(tmp_path: Path, data: bytes) -> None:
    assert told(tmp_path, data)
    assert LONGEST["name"] == 80
