"""Says whether a heading of a table is that of a row or of a column, which the printer leaves out."""

from collections.abc import Iterable, Sequence
from typing import Any


def add_scopes(objects: Sequence[Any]) -> None:
    """Give every heading of a table a `Scope` (ISO 32000-1, table 349): of a column inside a THead.

    `objects` are those of a PDF that is about to be written, by their numbers.
    """
    for heading in _elements(objects, "/TH"):
        group = _parent(objects, _parent(objects, heading))
        heading["A"]["Scope"] = "/Column" if group["S"] == "/THead" else "/Row"


def _elements(objects: Iterable[Any], tag: str) -> Iterable[Any]:
    elements = (each for each in objects if isinstance(each, dict) and each.get("Type") == "/StructElem")
    return (each for each in elements if each["S"] == tag and "A" in each)


def _parent(objects: Sequence[Any], element: Any) -> Any:
    return objects[int(element["P"].split()[0])]
