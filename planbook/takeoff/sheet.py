"""The lists as CSV and JSON text; it writes no files and makes no pages."""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any

from planbook.takeoff.alike import together
from planbook.takeoff.amounts import show_amount
from planbook.takeoff.records import (
    BoardRow,
    Dimensions,
    LeftoverRow,
    Lists,
    PieceRow,
    SupplyRow,
    ToolRow,
    in_short,
)
from planbook.takeoff.settings import show_setting
from planbook.units import LengthStyle, show_length, show_minutes

COLUMNS = (
    "list",
    "number",
    "name",
    "kind",
    "count",
    "length",
    "width",
    "thickness",
    "amount",
    "steps",
    "note",
)
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def as_csv(lists: Lists, style: LengthStyle) -> str:
    """All lists as one CSV table (RFC 4180) for a spreadsheet; the first column says which list a row is of.

    Lengths and amounts are printed in the style. A text that a spreadsheet would take for a formula gets an
    apostrophe before it.
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for row in _rows(lists, style):
        writer.writerow({key: _harmless(value) for key, value in row.items()})
    return text.getvalue()


def as_json(lists: Lists) -> str:
    """All lists as JSON: lengths in mm, times in minutes, amounts with their unit beside them."""
    head = {"units": {"length": "mm", "time": "minutes"}}
    return json.dumps({**head, **_plain(lists)}, ensure_ascii=False, indent=2) + "\n"


def _harmless(value: str) -> str:
    return f"'{value}" if value.startswith(_FORMULA_SIGNS) else value


def _rows(lists: Lists, style: LengthStyle) -> Iterator[dict[str, str]]:
    yield from (_board(row, style) for row in lists.boards)
    yield from (_piece(group, style) for group in together(lists.pieces))
    yield from (_leftover(row, style) for row in lists.leftovers)
    yield from (_tool(row, style) for row in lists.tools)
    yield from (_supply(row, style) for row in lists.supplies)
    for step in lists.time.steps:
        shown = show_minutes(Fraction(step.hands_on))
        note = f"then wait {show_minutes(Fraction(step.wait))}" if step.wait else ""
        yield {"list": "time", "number": str(step.step), "name": step.title, "amount": shown, "note": note}


def _board(row: BoardRow, style: LengthStyle) -> dict[str, str]:
    finished = "" if row.rough is None else f"finished {_size(row.size, style)}"
    measured = row.square_metres if row.board_feet is None else row.board_feet
    unit = "m2" if row.board_feet is None else "board feet"
    return {
        "list": "boards",
        "number": str(row.number),
        "name": row.name,
        "kind": row.wood,
        "count": str(row.count),
        **_sides(row.to_buy, style),
        "amount": f"{float(measured):.2f} {unit}",
        "steps": _steps(row.steps),
        "note": finished,
    }


def _piece(group: tuple[PieceRow, ...], style: LengthStyle) -> dict[str, str]:
    row, used = group[0], sorted({step for each in group for step in each.used_in})
    return {
        "list": "pieces",
        "number": str(row.number),
        "name": in_short(each.name for each in group),
        "kind": ", ".join(row.woods),
        "count": str(len(group)),
        **_sides(row.final, style),
        "steps": _steps((row.made_in, *used) if row.made_in else tuple(used)),
        "note": f"{row.ending} into {row.part_of}" if row.part_of else row.ending,
    }


def _leftover(row: LeftoverRow, style: LengthStyle) -> dict[str, str]:
    return {
        "list": "leftovers",
        "name": row.name,
        "kind": ", ".join(row.woods),
        "count": "1",
        **_sides(row.size, style),
        "steps": _steps((row.made_in,) if row.made_in else ()),
        "note": f"{row.ending}, worth keeping" if row.worth_keeping else row.ending,
    }


def _tool(row: ToolRow, style: LengthStyle) -> dict[str, str]:
    settings = [f"{setting.key} {show_setting(setting, style)}" for setting in row.settings]
    note = "; ".join(filter(None, (*settings, row.note)))
    return {"list": "tools", "name": row.name, "kind": row.kind, "steps": _steps(row.steps), "note": note}


def _supply(row: SupplyRow, style: LengthStyle) -> dict[str, str]:
    have = row.us if style.unit == "in" else row.metric
    coats = f"{row.coats} coats" if row.coats > 1 else ""
    return {
        "list": "supplies",
        "name": row.name,
        "kind": ": ".join(filter(None, (row.kind, row.product if row.product != row.name else ""))),
        "amount": show_amount(have) if have else "",
        "steps": _steps(row.steps),
        "note": "; ".join(filter(None, (coats, row.note))),
    }


def _sides(size: Dimensions, style: LengthStyle) -> dict[str, str]:
    return {
        "length": show_length(size.length, style),
        "width": show_length(size.width, style),
        "thickness": show_length(size.thickness, style),
    }


def _size(size: Dimensions, style: LengthStyle) -> str:
    return " x ".join(_sides(size, style).values())


def _steps(steps: tuple[int, ...]) -> str:
    return " ".join(map(str, dict.fromkeys(steps)))


def _plain(value: Any) -> Any:
    """A record as plain dictionaries, lists, numbers and texts; lengths to six decimals of a millimetre."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Fraction | float):
        return _number(value)
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


def _number(value: Fraction | float) -> int | float:
    rounded = round(float(value), 6)
    return int(rounded) if rounded.is_integer() else rounded
