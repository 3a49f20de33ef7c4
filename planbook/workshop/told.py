"""What each field of an operation means, in one sentence, for the handbook of the tool; it reads no design.

A field tells it itself, by the text under it in its class; a field that means the same in most operations is told here.
"""

import ast
import inspect
from functools import cache
from itertools import pairwise
from textwrap import dedent
from typing import Any

from planbook.workshop.fields import Op

COMMON = {
    "takes": 'Its hands-on time, where you know better: `"20 min"`.',
    "piece": "The piece that is worked; it must be on the bench.",
    "pieces": "The pieces, by name; `leg *` means all on the bench whose name begins so.",
    "face": "The face that is worked, as the piece lies in the object.",
    "faces": "The faces that are worked.",
    "tool": "The tool, by its name among the tools.",
    "blade": "The saw, by its name among the tools.",
    "drill": "The drill, by its name among the tools.",
    "glue": "The glue, by its name among the supplies.",
    "stencil": "The stencil, which must be stuck on the piece.",
    "clamp": "How long it stays in clamps; as the handbook says of the glue if left out.",
    "moves": "How far pieces travel first, along x, y and z; those that are not named stay where they are.",
    "depth": "How deep, from the face.",
}
"""Fields that mean the same wherever nothing else is said."""

GENERAL = {
    "pieces": "Instead of `piece`: the same is done to each of these.",
    "mirror": 'The same is done, mirrored, to a partner: `{ piece = "right side", across = "x" }`.',
    "repeat": 'The same is done further on, so often in all: `{ count = 4, by = ["32 mm", "0 mm"] }`.',
}
"""Fields that operations have beside their own."""


def about(kind: type[Op], field: str) -> str:
    """What a field of an operation means, or an empty text where nobody said it."""
    for each in kind.__mro__:
        told = _told(each).get(field)
        if told:
            return told
    return COMMON.get(field, "")


@cache
def _told(kind: Any) -> dict[str, str]:
    """The texts that stand under the fields of a class."""
    if not issubclass(kind, Op):
        return {}
    (tree,) = ast.parse(dedent(inspect.getsource(kind))).body
    body = tree.body if isinstance(tree, ast.ClassDef) else []
    found = {}
    for field, text in pairwise(body):
        match field, text:
            case ast.AnnAssign(target=ast.Name(id=name)), ast.Expr(value=ast.Constant(value=str() as words)):
                found[name] = " ".join(words.split())
    return found
