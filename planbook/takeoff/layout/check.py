"""Says what of a problem cannot be cut as asked, and what is left to solve (it words nothing)."""

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction

from planbook.takeoff.layout.clear import clear_rectangles
from planbook.takeoff.layout.records import Code, Part, Problem, Stock, Trouble
from planbook.takeoff.layout.scale import scale_of

MOST_PARTS = 20_000
_Sizes = list[tuple[Fraction, Fraction]]


@dataclass(frozen=True, slots=True)
class Checked:
    """The troubles found, and the problem without what cannot be cut (None if nothing is left)."""

    troubles: tuple[Trouble, ...]
    problem: Problem | None


def check(problem: Problem) -> Checked:
    """Find what is wrong with a problem; nothing is raised, whatever it holds."""
    found = [*_settings(problem)]
    if found:
        return Checked(tuple(found), None)
    parts, stock = _parts(problem, found), _stock(problem, found)
    if sum(part.count for part in parts) > MOST_PARTS:
        many = Fraction(sum(part.count for part in parts))
        found.append(Trouble("too-many-parts", (), (("parts", many), ("most", Fraction(MOST_PARTS)))))
        return Checked(tuple(found), None)
    if not parts or not stock:
        found.append(Trouble("no-parts" if not parts else "no-stock", tuple(part.name for part in parts)))
        return Checked(tuple(found), None)
    prices = [row.price is None for row in stock]
    if any(prices) and not all(prices):
        found.append(Trouble("prices-missing", tuple(row.name for row in stock if row.price is None)))
    room = [size for row in stock for size in _room(problem, row)]
    fitting = [part for part in parts if _fit(problem, part, room, found)]
    return Checked(tuple(found), replace(problem, parts=tuple(fitting), stock=tuple(stock)) if fitting else None)


def _settings(problem: Problem) -> list[Trouble]:
    found = []
    if problem.kerf < 0:
        found.append(Trouble("bad-kerf", (), (("kerf", problem.kerf),)))
    for name, trim in (("trim_edge", problem.trim_edge), ("trim_end", problem.trim_end)):
        # A trim cut takes a whole kerf away.
        if trim < 0 or 0 < trim < problem.kerf:
            found.append(Trouble("bad-trim", (), ((name, trim), ("kerf", problem.kerf))))
    return found


def _parts(problem: Problem, found: list[Trouble]) -> list[Part]:
    seen = Counter(part.name for part in problem.parts)
    found += [Trouble("duplicate-part", (name,), (("times", Fraction(n)),)) for name, n in seen.items() if n > 1]
    good = []
    for part in problem.parts:
        width = Fraction(1) if problem.kind == "bars" else part.width
        if width is None or width <= 0 or part.length <= 0:
            amounts = (("width", width or Fraction(0)), ("length", part.length))
            found.append(Trouble("bad-size", (part.name,), amounts))
        elif part.count < 1:
            found.append(Trouble("bad-count", (part.name,), (("count", Fraction(part.count)),)))
        elif seen[part.name] == 1:
            good.append(part)
            least = part.length if problem.kind == "bars" else min(width, part.length)
            if problem.kerf > least:
                amounts = (("kerf", problem.kerf), ("least", least))
                found.append(Trouble("kerf-larger-than-part", (part.name,), amounts))
    return good


def _stock(problem: Problem, found: list[Trouble]) -> list[Stock]:
    seen = Counter(row.name for row in problem.stock)
    found += [Trouble("duplicate-stock", (name,), (("times", Fraction(n)),)) for name, n in seen.items() if n > 1]
    good = []
    for row in problem.stock:
        width = 2 * problem.trim_edge + 1 if problem.kind == "bars" else row.width
        if width is None or width <= 2 * problem.trim_edge or row.length <= 2 * problem.trim_end:
            amounts = (("width", width or Fraction(0)), ("length", row.length))
            found.append(Trouble("bad-size", (row.name,), amounts))
        elif row.price is not None and row.price < 0:
            found.append(Trouble("bad-price", (row.name,), (("price", row.price),)))
        elif row.count is not None and row.count < 0:
            found.append(Trouble("bad-count", (row.name,), (("count", Fraction(row.count)),)))
        elif row.count != 0 and seen[row.name] == 1:
            good.append(_sound(problem, row, width, found))
    return good


def _sound(problem: Problem, row: Stock, width: Fraction, found: list[Trouble]) -> Stock:
    """The stock with the defects that lie on it and have a size; bars take none."""
    good = tuple(
        d
        for d in row.defects
        if problem.kind != "bars"
        and d.width > 0
        and d.length > 0
        and d.x < width
        and d.y < row.length
        and d.x + d.width > 0
        and d.y + d.length > 0
    )
    if len(good) < len(row.defects):
        found.append(Trouble("bad-defect", (row.name,), (("defects", Fraction(len(row.defects) - len(good))),)))
    return replace(row, defects=good)


def _room(problem: Problem, row: Stock) -> _Sizes:
    """The largest clear sizes of one stock, without trim."""
    width = (row.width or Fraction(0)) - 2 * problem.trim_edge if problem.kind != "bars" else Fraction(1)
    length = row.length - 2 * problem.trim_end
    if not row.defects:
        return [(width, length)]
    corners = [(d.x - problem.trim_edge, d.y - problem.trim_end, d.width, d.length) for d in row.defects]
    scale = scale_of([width, length, *(value for corner in corners for value in corner)])
    x, y, w, h = ([scale.whole(corner[side]) for corner in corners] for side in range(4))
    defects = list(zip(x, y, w, h, strict=True))
    clear = clear_rectangles(scale.whole(width), scale.whole(length), defects, 0)
    return [(scale.exact(wide), scale.exact(high)) for _, _, wide, high in clear]


def _fit(problem: Problem, part: Part, room: _Sizes, found: list[Trouble]) -> bool:
    """Whether a part fits some stock; if not, by how much it is too large, or that its grain forbids it."""
    width = Fraction(1) if problem.kind == "bars" or part.width is None else part.width
    may_turn = part.may_turn and problem.kind == "sheets"
    if any(width <= w and part.length <= h for w, h in room):
        return True
    turned = any(part.length <= w and width <= h for w, h in room)
    if turned and may_turn:
        return True
    ways = [(width, part.length)] + ([(part.length, width)] if may_turn else [])
    over = [(max(a - w, Fraction(0)), max(b - h, Fraction(0))) for w, h in room for a, b in ways]
    if not over:
        over = ways
    across, along = min(over, key=lambda pair: (sum(pair), pair))
    code: Code = "grain-forbids-fit" if turned and problem.kind != "bars" else "part-too-large"
    amounts = (("over_width", across), ("over_length", along))
    found.append(Trouble(code, (part.name,), amounts))
    return False
