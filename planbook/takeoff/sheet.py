"""The lists as CSV and JSON text; it writes no files and makes no pages."""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from planbook.handbook import BOARD_FOOT_MM3
from planbook.takeoff.alike import together
from planbook.takeoff.amounts import in_us, show_amount
from planbook.takeoff.board_sizes import finished_told, to_buy_told
from planbook.takeoff.cost import Cost, cost_table
from planbook.takeoff.gather import Lists
from planbook.takeoff.plans import CutPlan
from planbook.takeoff.records import Amount, BoardRow, Dimensions, LeftoverRow, PieceRow, SupplyRow, ToolRow, in_short
from planbook.takeoff.settings import KERFS, kerf_style, show_setting
from planbook.takeoff.shopping import Bought
from planbook.units import LengthStyle, Quantity, show_fine, show_length, show_minutes

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
FORM = 1
"""Number of the form of the JSON text; it changes only when something that was there changes its meaning."""
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def as_csv(lists: Lists, style: LengthStyle) -> str:
    """All lists as one CSV table (RFC 4180) for a spreadsheet; the first column says which list a row is of.

    Lengths and amounts are printed in the style. A text that a spreadsheet would take for a formula gets an
    apostrophe before it.
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for row in rows_of(lists, style):
        writer.writerow({key: _harmless(value) for key, value in row.items()})
    return text.getvalue()


def as_json(lists: Lists) -> str:
    """All lists as JSON: lengths in mm, times in minutes, amounts with their unit beside them.

    The form is that of `lists_schema`; what is added later does not change what is there.
    """
    head = {"form": FORM, "units": {"length": "mm", "time": "minutes"}}
    body = {key: value for key, value in _plain(replace(lists, plans=(), findings=())).items() if key != "findings"}
    body["plans"] = [_plan(plan) for plan in lists.plans]
    return json.dumps({**head, **body}, ensure_ascii=False, indent=2) + "\n"


def _plan(plan: CutPlan) -> dict[str, Any]:
    """A layout with its stock, parts and cuts, without what the search needed to know."""
    return {
        "wood": plan.wood,
        "kind": plan.kind,
        "thickness": _number(plan.thickness),
        "from_rack": plan.from_rack,
        "kerf": _number(plan.problem.kerf),
        "edge_trim": _number(plan.problem.trim_edge),
        "end_trim": _number(plan.problem.trim_end),
        "unit": plan.unit,
        "used": _number(plan.used),
        "least": _number(plan.least),
        "proved": plan.layout.proved,
        "missing": [{"part": name, "count": count} for name, count in plan.layout.missing],
        "sheets": _plain(plan.layout.sheets),
    }


def _harmless(value: str) -> str:
    return f"'{value}" if value.startswith(_FORMULA_SIGNS) else value


def rows_of(lists: Lists, style: LengthStyle) -> Iterator[dict[str, str]]:
    """Every row of every list, as texts by column; a column without anything may be left out."""
    yield from (_board(row, style) for row in lists.boards)
    yield from (_piece(group, style) for group in together(lists.pieces))
    yield from (_leftover(row, style) for row in lists.leftovers)
    yield from (_tool(row, style) for row in lists.tools)
    yield from (_supply(row, style) for row in lists.supplies)
    yield from (_bought(number, row, style) for number, row in enumerate(lists.shopping, start=1))
    for plan in lists.plans:
        yield from _layout(plan, style)
    yield from _costs(lists.cost) if lists.cost else ()
    for step in lists.time.steps:
        shown = show_minutes(Fraction(step.hands_on))
        note = f"then wait {show_minutes(Fraction(step.wait))}" if step.wait else ""
        yield {"list": "time", "number": str(step.step), "name": step.title, "amount": shown, "note": note}


def _costs(cost: Cost) -> Iterator[dict[str, str]]:
    """What each purchase costs, and the sums."""
    _, *rows = cost_table(cost)
    for name, times, price, paid in rows:
        yield {"list": "costs", "name": name, "count": times, "amount": paid, "note": price}


def _board(row: BoardRow, style: LengthStyle) -> dict[str, str]:
    finished = "" if row.rough is None else f"finished {' x '.join(finished_told(row, style))}"
    area = _in_system(Amount(row.square_metres, "m2"), style)
    by_area, feet = f"{float(area.value):.2f} {area.unit}", row.board_feet
    amount = by_area if feet is None else f"{float(feet):.2f} board feet"
    return {
        "list": "boards",
        "number": str(row.number),
        "name": row.name,
        "kind": row.wood,
        "count": str(row.count),
        **dict(zip(("length", "width", "thickness"), to_buy_told(row, style), strict=True)),
        "amount": amount,
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
    kerfs = kerf_style(row.settings, style)
    settings = [f"{s.key} {show_setting(s, kerfs if s.key in KERFS else style)}" for s in row.settings]
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


def _bought(number: int, row: Bought, style: LengthStyle) -> dict[str, str]:
    sides = {}
    if row.size is not None:
        thickness, width, length = (Fraction(side).limit_denominator(10**6) for side in row.size)
        sides = _sides(Dimensions(length, width, thickness), style)
    return {
        "list": "shopping",
        "number": str(number),
        "name": row.name,
        "kind": row.kind,
        "count": str(row.count),
        **sides,
        "amount": "" if row.unit in ("pieces", "sheets") else _sold(row, style),
        "steps": _steps(row.steps),
        "note": f"{row.what}; in the rack" if row.from_rack else row.what,
    }


def _sold(row: Bought, style: LengthStyle) -> str:
    """All of a line together, in the units of the style as the pages have it."""
    amount, unit = Fraction(row.amount).limit_denominator(10**6), str(row.unit)
    if style.unit == "in" and row.unit == "m3":
        amount, unit = amount * 10**9 / BOARD_FOOT_MM3, "board feet"
    elif row.unit in ("m2", "m"):
        own = _in_system(Amount(amount, row.unit), style)
        amount, unit = own.value, str(own.unit)
    return f"{float(amount):.4f}".rstrip("0").rstrip(".") + f" {unit}"


def _in_system(amount: Amount, style: LengthStyle) -> Amount:
    return in_us(amount) if style.unit == "in" else amount


def _layout(plan: CutPlan, style: LengthStyle) -> Iterator[dict[str, str]]:
    """The parts on every board, then the cuts in the order to saw them."""
    for sheet in plan.layout.sheets:
        board = f"{plan.wood}, {sheet.stock}, no. {sheet.number}"
        for part in sheet.placements:
            size = {"length": show_length(part.length, style), "width": show_length(part.width, style)}
            yield {
                "list": "parts on boards",
                "number": str(sheet.number),
                "name": part.part,
                "kind": plan.wood,
                "count": "1",
                **size,
                "note": board,
            }
        for cut in sheet.cuts:
            yield {
                "list": "saw cuts",
                "number": str(cut.number),
                "name": cut.way,
                "kind": plan.wood,
                "amount": show_length(cut.fence, style),
                "note": board,
            }


def _sides(size: Dimensions, style: LengthStyle) -> dict[str, str]:
    """Those of a strip as thick as a kerf are as fine as on the pages."""
    sides = {"length": size.length, "width": size.width, "thickness": size.thickness}
    return {name: show_fine(Quantity(side, length=1), style) for name, side in sides.items()}


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
    if isinstance(value, Decimal):
        return str(value)  # money stays exact
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


def _number(value: Fraction | float) -> int | float:
    rounded = round(float(value), 6)
    return int(rounded) if rounded.is_integer() else rounded
