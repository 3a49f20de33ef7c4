"""Checks what the choices of woods say of the design and of each other; not the form of their tables."""

from collections.abc import Iterator, Mapping

from planbook.model import Choice, Node, Stock, with_choice
from planbook.model.choices import slug, wood_called
from planbook.model.design import Design
from planbook.reader import kinds
from planbook.reader.checking import Checked
from planbook.reader.toml_text import BROKEN
from planbook.reader.words import did_you_mean, listed, thing
from planbook.text import Aside, Finding

MOST_CHOICES = 5
"""More do not fit side by side on the page that shows them."""
_SORTS = {
    "woods": "no board of the design is of it",
    "stock": "no board is called that",
    "supplies": "no supply is called that",
}


def check_choices(made: Checked, lost: bool) -> Iterator[Finding]:
    """What a choice replaces that is not there, or replaces twice; how many choices there are, and their names.

    `lost` as in `Tree`: with parts of the file unread, nothing is said of what is not there.
    """
    entries = made.entries("choices")
    for name, node in entries.items():
        if not lost:
            yield from _not_there(made, name, node)
        yield from _twice(name, node)
    yield from _too_many(entries)
    yield from _file_names(entries)


def check_effects(design: Design) -> Iterator[Finding]:
    """Choices, or parts of one, that leave everything as it is, and choices that come to the same."""
    first: dict[tuple[object, ...], Choice] = {}
    as_written = _come_to(design)
    for choice in design.choices.values():
        made = _come_to(with_choice(design, choice.name))
        if made == as_written:
            headline = f"choice `{choice.name}` changes nothing: every board and supply stays as it is"
            yield kinds.CHOICE_WITHOUT_EFFECT.at(choice.place, headline, label="no difference")
        elif made in first:
            other = first[made]
            headline = f"choices `{other.name}` and `{choice.name}` come to the same woods and supplies"
            also = (Aside(other.place, "the other one"),)
            yield kinds.SAME_CHOICE.at(choice.place, headline, label="the same again", also=also)
        else:
            yield from _idle(choice, design.stock)
        first.setdefault(made, choice)


def _come_to(design: Design) -> tuple[object, ...]:
    woods = tuple(wood_called(stock.wood) for stock in design.stock.values())
    return (woods, tuple(supply.product for supply in design.supplies.values()))


def _idle(choice: Choice, stock: Mapping[str, Stock]) -> Iterator[Finding]:
    """Woods of a choice whose boards are all replaced by name: the wood is never taken."""
    own = {each.name for each in choice.stock}
    for each in choice.woods:
        boards = [name for name, board in stock.items() if wood_called(board.wood) == wood_called(each.name)]
        if own.issuperset(boards):
            headline = f"choice `{choice.name}` replaces `{each.name}`, but also every board of it by name"
            yield kinds.CHOICE_WITHOUT_EFFECT.at(each.name_place, headline, label="never taken")


def _not_there(made: Checked, name: str, choice: Node) -> Iterator[Finding]:
    known = {
        "woods": _woods_used(made),
        "stock": {key: key for key in made.entries("stock")},
        "supplies": {key: key for key in made.entries("supplies")},
    }
    for sort, why in _SORTS.items():
        for key, node in _table(choice, sort).items():
            wanted = wood_called(key) if sort == "woods" else key
            if wanted not in known[sort]:
                headline = f"choice `{name}` replaces `{key[:80]}`, but {why}"
                hint = did_you_mean(made.found.near(key, dict.fromkeys(known[sort].values())))
                yield kinds.NOTHING_TO_REPLACE.at(node.named_at, headline, label="not in the design", hint=hint)


def _woods_used(made: Checked) -> dict[str, str]:
    """The woods of the boards as they are written, by the handbook's own name."""
    woods = [node.table()["wood"].value for node in made.entries("stock").values() if "wood" in node.table()]
    return {wood_called(wood): wood for wood in woods if isinstance(wood, str) and wood != BROKEN}


def _twice(name: str, choice: Node) -> Iterator[Finding]:
    first: dict[str, tuple[str, Node]] = {}
    for key, node in _table(choice, "woods").items():
        other, there = first.setdefault(wood_called(key), (key, node))
        if other != key:
            headline = f"choice `{name}` replaces one wood twice: `{other}` and `{key}` are the same wood"
            also = (Aside(there.named_at, "replaced here first"),)
            yield kinds.REPLACED_TWICE.at(node.named_at, headline, label="the same wood", also=also)


def _table(choice: Node, key: str) -> Mapping[str, Node]:
    node = choice.table().get(key)
    return node.table() if node else {}


def _too_many(entries: Mapping[str, Node]) -> Iterator[Finding]:
    if len(entries) > MOST_CHOICES:
        node = tuple(entries.values())[MOST_CHOICES]
        headline = f"the design has {len(entries)} choices of woods; {MOST_CHOICES} is the most"
        yield kinds.TOO_MANY_CHOICES.at(node.named_at, headline, label="one too many")


def _file_names(entries: Mapping[str, Node]) -> Iterator[Finding]:
    """Choices whose names cannot be told apart, or seen at all, in the name of a booklet's file."""
    first: dict[str, str] = {}
    for name, node in entries.items():
        if not slug(name):
            headline = f"{thing(('choices', name))}: the name has no letter or digit for the name of the booklet"
            yield kinds.BAD_NAME.at(node.named_at, headline)
        elif (other := first.setdefault(slug(name), name)) != name and other.casefold() != name.casefold():
            headline = f"choices {listed((other, name), 'and')} would make booklets of the same name"
            also = (Aside(entries[other].named_at, "the other one"),)
            yield kinds.SAME_NAME.at(node.named_at, headline, also=also)
