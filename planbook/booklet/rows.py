"""Rows of the lists as they are printed: tools, supplies, boards, pieces; takeoff worked them out."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from planbook.booklet.basics import Fact, Link
from planbook.booklet.bought_rows import BoardRow, ShoppingRow, SupplyRow
from planbook.booklet.common import row_said
from planbook.booklet.editions import Edition, times
from planbook.booklet.gathered import Pictures, figure
from planbook.booklet.names import piece_anchor, step_anchor
from planbook.booklet.records import PieceRow, SheetRow
from planbook.drawing.marks import Picture, Words
from planbook.handbook import BOARD_FOOT_MM3
from planbook.speech import called, comma, language, say, say_many, told
from planbook.takeoff import (
    KERFS,
    SANDERS,
    Amount,
    Bought,
    Dimensions,
    Lists,
    Setting,
    ToolRow,
    finished_told,
    group_name,
    in_short,
    kerf_style,
    sanders_called,
    show_amount,
    show_setting,
    to_buy_told,
    together,
)
from planbook.takeoff import BoardRow as Board
from planbook.takeoff import SupplyRow as Supply
from planbook.takeoff.supplies import NOT_KNOWN, NOT_STATED
from planbook.units import in_hundredths

FT2 = Fraction(9290304, 10**8)
"""A square foot in square metres, exactly."""
NO_BREAK = "\u00a0"
_COUNT = re.compile(r"\d+")
_THOUSANDTHS = re.compile(r"\d[.,]\d{3}\b")
_TIMES = re.compile(r" x (?=\d)")
_GRIT = re.compile(r"P\d+")
"""A grit alone (FEPA P series, ISO 6344), of which a list should say what it is."""


def step_links(steps: Iterable[int]) -> tuple[Link, ...]:
    """Steps as short links; step 0, which is before the first, has none."""
    return tuple(Link(str(number), step_anchor(number)) for number in steps if number)


def setting_fact(setting: Setting, edition: Edition) -> Fact:
    """A setting as it stands beside a step."""
    return Fact(capital(_said_key(setting.key)), show_setting(setting, edition.style))


def settings_once(settings: Iterable[Setting], edition: Edition) -> tuple[Fact, ...]:
    """Settings with each label once; different values of one label stand side by side."""
    values: dict[str, dict[str, None]] = {}
    for fact in (setting_fact(setting, edition) for setting in settings):
        values.setdefault(fact.label, {})[fact.value] = None
    return tuple(Fact(label, ", ".join(found)) for label, found in values.items())


def tool_rows(lists: Lists, edition: Edition) -> tuple[SupplyRow, ...]:
    """The tools that are used, with their settings on one line; a sander has one row, under the name that steps use."""
    called = {row.name: sanders_called(row.name) for row in lists.tools if row.kind in SANDERS.values()}
    twice = {(sander, row.steps) for row in lists.tools for sander in called.get(row.name, ()) if not row.implied}
    return tuple(
        SupplyRow(
            capital(told(row.name)),
            "; ".join(f"{uncapital(fact.label)} {fact.value}" for fact in _tool_settings(row.settings, edition)),
            _tool_about(row, called.get(row.name, ())),
            step_links(row.steps),
        )
        for row in lists.tools
        if not (row.implied and (row.name, row.steps) in twice)
    )


def _tool_about(row: ToolRow, sanders: Sequence[str]) -> str:
    kinds = ", ".join(map(say, sanders)) if row.name not in sanders else ""
    about = told(row.note) or ("" if row.implied or row.kind == row.name or kinds else say(row.kind))
    return "; ".join(filter(None, (kinds, about)))


def _tool_settings(settings: Sequence[Setting], edition: Edition) -> Iterable[Fact]:
    """The settings of a tool, with the range of its kerf behind the kerf, as fine as the proof of the fits tells it."""
    style = kerf_style(settings, edition.style)
    fine = in_hundredths(style)
    said = {s.key: show_setting(s, style if s.key == KERFS[0] else fine) for s in settings if s.key in KERFS}
    kerf, *ends = (said.get(key, "") for key in KERFS)
    for fact in settings_once((s for s in settings if s.key not in KERFS[1:]), edition):
        if fact.label == capital(_said_key(KERFS[0])):
            between = say("{least} to {most}", least=ends[0], most=ends[1]) if all(ends) else ""
            fact = replace(fact, value=f"{kerf} ({between})" if between else kerf)
        yield fact


def supply_rows(lists: Lists, edition: Edition) -> tuple[SupplyRow, ...]:
    """The supplies that are used, with what to have ready."""
    return tuple(
        SupplyRow(capital(_supply_name(row.name)), _have(row, edition), _about(row), step_links(row.steps))
        for row in lists.supplies
    )


def _supply_name(name: str, spoken: Callable[[str], str] = told) -> str:
    return say("abrasive paper {grit}", grit=name) if _GRIT.fullmatch(name) else spoken(name)


def board_rows(lists: Lists, edition: Edition) -> tuple[BoardRow, ...]:
    """The boards to buy."""
    return tuple(
        BoardRow(
            str(row.count),
            capital(row.name),
            row_said(row.wood),
            _board_size(row, to_buy_told, edition),
            _board_size(row, finished_told, edition),
            _volume([row], edition),
            row.board_feet is None,
        )
        for row in lists.boards
    )


def shopping_rows(lists: Lists, edition: Edition) -> tuple[ShoppingRow, ...]:
    """What to buy, as it is sold; boards that are in the rack already are said to be there.

    What the plan gives no amount of has no count either.
    """
    at_hand = {row.product or row.name for row in lists.supplies if row.metric is None and row.kind != "abrasive"}
    return tuple(
        ShoppingRow(
            "–" if row.name in at_hand else str(row.count),
            capital(_supply_name(row.name, row_said)),
            f"{sold_as(row.what)}; {say('from your rack')}" if row.from_rack else sold_as(row.what),
            _bought(row, edition),
            step_links(row.steps),
        )
        for row in lists.shopping
    )


def sold_as(what: str) -> str:
    """How a thing is sold, said part by part: "27 mm sawn, 200 mm wide, 600 mm long", with a true sign for times."""
    if (said := _note(what)) != what:
        return _TIMES.sub(" × ", said)
    return _TIMES.sub(" × ", ", ".join(map(_sold_part, what.split(", "))))


def _sold_part(part: str) -> str:
    size, _, kind = part.rpartition(" ")
    if kind in ("wide", "long", "sawn", "rough", "planed", "thick", "nominal"):
        return comma(say(f"{{size}} {kind}", size=size))
    return say(part)


def _bought(row: Bought, edition: Edition) -> str:
    """All of a line together, as it is measured in the shop; nothing where that is only the count again."""
    inches, amount = edition.system == "in", Fraction(row.amount).limit_denominator(10**6)
    match row.unit:
        case "m3":
            cubic = amount * 10**9 / BOARD_FOOT_MM3
            return comma(f"{float(cubic):.2f} board ft" if inches else f"{float(amount):.4f} m³")
        case "m2" | "m":
            return show_amount(Amount(amount, row.unit), edition.style)
        case "l" | "kg":
            return show_amount(Amount(amount * 1000, "ml" if row.unit == "l" else "g"), edition.style)
        case _:
            return ""


def lumber_facts(lists: Lists, edition: Edition) -> tuple[Fact, ...]:
    """The sum of every wood, as the lines of the list are printed; none where each is on one line, which tells it."""
    if len(lists.totals) == len(lists.boards):
        return ()
    lines = {total.wood: [row for row in lists.boards if row.wood == total.wood] for total in lists.totals}
    return tuple(Fact(capital(row_said(wood)), _volume(rows, edition)) for wood, rows in lines.items())


def piece_rows(lists: Lists, thumbnails: Mapping[str, Picture], edition: Edition) -> tuple[PieceRow, ...]:
    """The pieces, alike ones together, with the steps that make and take them."""
    return tuple(
        PieceRow(
            _in_runs(row.number for row in group),
            group_name(group),
            piece_anchor(group[0].number),
            figure(thumbnails[group[0].name], say("The piece {name}.", name=called(group[0].name)))
            if group[0].name in thumbnails
            else None,
            ", ".join(map(row_said, group[0].woods)),
            _size(group[0].final, edition),
            next(iter(step_links((group[0].made_in,))), None),
            step_links(sorted({step for row in group for step in row.used_in})),
            tuple(piece_anchor(row.number) for row in group[1:]),
        )
        for group in together(lists.pieces)
    )


def _in_runs(numbers: Iterable[int]) -> str:
    """Numbers in order, three and more that follow one another as a range: "1, 3–6"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = [f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return ", ".join(told)


def sheet_rows(lists: Lists, pictures: Pictures) -> tuple[SheetRow, ...]:
    """The measured drawings, each with the numbers and names of its pieces."""
    numbers = {row.name: row.number for row in lists.pieces}
    return tuple(
        SheetRow(_in_runs(numbers[name] for name in names if name in numbers), in_short(names), figure(picture))
        for names, picture in pictures.sheets
    )


def unmeasured(lists: Lists, pictures: Pictures) -> str:
    """The names of the pieces that have no measured drawing since their stencils tell them better."""
    drawn = {name for names, _ in pictures.sheets for name in names}
    return in_short([row.name for row in lists.pieces if row.single and row.name not in drawn])


def told_closely(pictures: Pictures, edition: Edition) -> bool:
    """Whether some figures of measured drawings are thousandths of an inch among fractions."""
    if edition.style.unit == "mm" or edition.style.decimal:
        return False
    words = (mark.text for _, picture in pictures.sheets for mark in picture.marks if isinstance(mark, Words))
    return any(_THOUSANDTHS.search(text) for text in words)


def _board_size(row: Board, sides: Callable[..., Sequence[str]], edition: Edition) -> str:
    own, also = replace(edition.style, also=None), edition.style.also
    if also is None:
        return times(sides(row, own), own)
    metric, inches = times(sides(row, own), own), times(sides(row, also, beside=True), also)
    return f"{metric} ({inches})".replace(" ", NO_BREAK).replace(f"{NO_BREAK}(", " (")


def _size(size: Dimensions, edition: Edition) -> str:
    return edition.box(size.length, size.width, size.thickness)


def _have(row: Supply, edition: Edition) -> str:
    amount = row.us if edition.system == "in" else row.metric
    return show_amount(amount) if amount else say("as needed")


def _about(row: Supply) -> str:
    coats = say_many("{count} coat", "{count} coats", row.coats) if row.coats > 1 else ""
    product = row.product if row.product.lower() != row.name.lower() else ""
    return "; ".join(filter(None, (row_said(product), coats, _note(row.note))))


def _note(note: str) -> str:
    """The maker's note on a supply, with what the takeoff adds to it."""
    for reason in (NOT_STATED, NOT_KNOWN):
        if note.endswith(reason):
            own = note.removesuffix(reason).rstrip()
            if not own:
                return say(reason)
            # The takeoff may have ended the note with a full stop that the maker's words do not have.
            said = told(own) if told(own) != own else told(own.removesuffix("."))
            return f"{said.removesuffix('.')}. {say(reason)}"
    return told(note)


def _volume(rows: Sequence[Board], edition: Edition) -> str:
    """Board feet and cubic metres of lumber; the area of sheet goods, which have no board feet."""
    metric = edition.system == "mm"
    if any(row.board_feet is None for row in rows):
        places, unit = (3, "m²") if metric else (2, "ft²")
        each = [row.square_metres if metric else row.square_metres / FT2 for row in rows]
    else:
        places, unit = (4, "m³") if metric else (2, "board ft")
        each = [row.cubic_metres if metric else row.board_feet or Fraction(0) for row in rows]
    return comma(f"{float(sum(round(amount, places) for amount in each)):.{places}f} {unit}")


def _said_key(key: str) -> str:
    """The label of a setting; a number at its end counts points, one inside it the places of a row."""
    stem, _, number = key.rpartition(" ")
    if number.isdigit():
        return f"{say(stem)} {number}"
    counts = _COUNT.findall(key)
    return say(_COUNT.sub("{count}", key), count=counts[0]) if len(counts) == 1 else say(key)


def uncapital(text: str) -> str:
    """A label as it stands in a sentence: with a small first letter, where the language writes its nouns so."""
    return text if language() == "de" else text[:1].lower() + text[1:]


def capital(text: str) -> str:
    """A text with a capital first letter."""
    return text[:1].upper() + text[1:]
