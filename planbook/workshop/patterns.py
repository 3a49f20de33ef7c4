"""Names with a `*` that stand for several: which names they mean, in natural order; it knows no operation."""

import re
from collections.abc import Collection, Iterator, Mapping

from planbook.model import Node

ANY = "*"


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """A key that sorts `leg 2` before `leg 10`."""
    return tuple((int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"([0-9]+)", name) if part)


def matching(pattern: str, names: Collection[str]) -> tuple[str, ...]:
    """The name itself where it is one of them, else those that a pattern means, in natural order."""
    if pattern in names or ANY not in pattern:
        return (pattern,) if pattern in names else ()
    parts = pattern.split(ANY)
    return tuple(sorted((name for name in names if _fits(name, parts)), key=natural))


def _fits(name: str, parts: list[str]) -> bool:
    """Whether a name has these parts in order, with something between them; taking the first is never wrong."""
    first, *middle, last = parts
    if not name.startswith(first) or not name.endswith(last):
        return False
    at, end = len(first), len(name) - len(last)
    for part in filter(None, middle):
        found = name.find(part, at + 1, end)
        if found < 0:
            return False
        at = found + len(part)
    return at < end


def meant(node: Node | None, names: Collection[str]) -> tuple[str, ...]:
    """The names that a field means: a text or a list of texts, its patterns spelled out, its other names as written."""
    if node is None:
        return ()
    each = node.value if isinstance(node.value, tuple) else (node,)
    return tuple(dict.fromkeys(name for item in each for name in _spelled(str(item.value), names)))


def spelled(node: Node, names: Collection[str]) -> Node:
    """A name, a list of names, or a table by names, with every pattern that means something spelled out."""
    if isinstance(node.value, str) and ANY in node.value:
        node = Node((node,), node.place, node.key)
    if isinstance(node.value, tuple):
        written = {str(item.value) for item in node.value}
        return Node(tuple(_listed(node, names, written)), node.place, node.key)
    if isinstance(node.value, Mapping):
        table = {name: item for key, item in node.table().items() for name in _spelled(key, names)}
        return Node(table, node.place, node.key)
    return node


def _listed(node: Node, names: Collection[str], written: set[str]) -> Iterator[Node]:
    """The items of a list; a name that is listed by itself too is not taken twice."""
    taken: set[str] = set()
    for item in node.value if isinstance(node.value, tuple) else ():
        found = _spelled(item.value, names) if isinstance(item.value, str) else ()
        if not found or found == (item.value,):
            yield item
            continue
        fresh = [name for name in found if name not in written | taken]
        taken.update(fresh)
        yield from (Node(name, item.place, item.key) for name in fresh)


def patterns_of(names: Collection[str]) -> tuple[str, ...]:
    """The patterns that would mean some of these names: each with one of its words left open."""
    words = (name.split(" ") for name in names)
    return tuple(
        dict.fromkeys(
            " ".join((*each[:k], ANY, *each[k + 1 :])) for each in words if len(each) > 1 for k in range(len(each))
        )
    )


def _spelled(name: str, names: Collection[str]) -> tuple[str, ...]:
    return matching(name, names) or (name,)
