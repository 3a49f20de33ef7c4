"""How the reader speaks of things in a design file, as in "board `left`"; not the findings."""

from planbook.reader.toml_places import Path

NOUNS = {
    "sizes": "size",
    "stock": "board",
    "shapes": "shape",
    "stencils": "stencil",
    "tools": "tool",
    "supplies": "supply",
    "fits": "fit",
    "choices": "choice",
    "remedies": "remedy",
}
BOOK = {
    "wood": "wood",
    "glue": "glue",
    "finish": "finish",
    "blade": "blade",
    "abrasive": "abrasive",
    "rate": "rate",
    "lining": "lining",
    "sheet": "sheet",
    "lumber": "lumber",
}
"""Tables of a handbook of the maker's own."""
VARIES = "varies"
"""The one table that holds values of its own instead of named things."""
_SAID = {**NOUNS, **BOOK, "rack": "rack board"}
"""Tables of other files are spoken of in the same way."""
PARTS = {"lines": "line", "regions": "region", "holes": "hole"}


def thing(path: Path) -> str:
    """What stands at a path: the design, a table such as `board `left``, or a value of one."""
    if not path:
        return "the design"
    head, *rest = path
    if head == VARIES:
        return f"`{rest[0]}`{_items(tuple(rest[1:]))} of [{VARIES}]" if rest else f"[{VARIES}]"
    if head not in _SAID:
        return f"`{head}`{_items(tuple(rest))}"
    if not rest:
        return f"[{head}]"
    name, *rest = rest
    owner = f"{_SAID[str(head)]} `{name}`"
    if not rest:
        return owner
    if rest[0] in PARTS and len(rest) > 1:
        owner = f"{PARTS[str(rest[0])]} `{rest[1]}` of {owner}"
        rest = rest[2:]
    return f"`{rest[0]}`{_items(tuple(rest[1:]))} of {owner}" if rest else owner


def _items(rest: Path) -> str:
    numbers = [f"item {part + 1}" if isinstance(part, int) else f"`{part}`" for part in rest]
    return f" ({', '.join(numbers)})" if numbers else ""


def listed(names: "tuple[str, ...] | list[str]", joint: str = "or") -> str:
    """`a`, `b` or `c`."""
    quoted = [f"`{name}`" for name in names]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {joint} {quoted[-1]}"


def did_you_mean(names: "tuple[str, ...] | list[str]") -> str:
    """A hint with the nearest names, or nothing where there is none."""
    return f"did you mean {listed(names)}?" if names else ""
