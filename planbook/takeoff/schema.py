"""The JSON Schema of the lists, made from their records, for programs that read them; it lists nothing."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from fractions import Fraction
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from planbook.takeoff.gather import Lists
from planbook.takeoff.layout import Sheet
from planbook.takeoff.sheet import FORM

_PLAIN: Mapping[Any, str] = {
    str: "string",
    int: "integer",
    float: "number",
    Fraction: "number",
    bool: "boolean",
    Decimal: "string",
    type(None): "null",
}
_NUMBER, _TEXT, _WHOLE, _FLAG = ({"type": name} for name in ("number", "string", "integer", "boolean"))
_LEFT_OUT = ("plans", "findings")


def lists_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of the text of `as_json`. Lengths are in mm, times in minutes."""
    shapes: dict[str, Any] = {}
    sheet = _shape(Sheet, shapes)
    hints = get_type_hints(Lists)
    body = {field.name: _shape(hints[field.name], shapes) for field in fields(Lists) if field.name not in _LEFT_OUT}
    units = _table({"length": {"const": "mm"}, "time": {"const": "minutes"}})
    shapes["Plan"] = _plan(sheet)
    listed = {"plans": {"type": "array", "items": {"$ref": "#/$defs/Plan"}}}
    top = _table({"form": {"const": FORM}, "units": units, **body, **listed})
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "planbook lists"}
    return {**head, "description": (Lists.__doc__ or "").strip(), **top, "$defs": shapes}


def _plan(sheet: dict[str, Any]) -> dict[str, Any]:
    missing = _table({"part": _TEXT, "count": _WHOLE})
    return _table(
        {
            "wood": _TEXT,
            "kind": {"enum": ["bars", "boards", "sheets"]},
            "thickness": _NUMBER,
            "from_rack": _FLAG,
            "kerf": _NUMBER,
            "edge_trim": _NUMBER,
            "end_trim": _NUMBER,
            "unit": {"enum": ["m2", "m"], "description": "What `used` and `least` count."},
            "used": _NUMBER,
            "least": {**_NUMBER, "description": "What any layout must take, proved."},
            "proved": {**_FLAG, "description": "Whether this layout takes no more than that."},
            "missing": {"type": "array", "items": missing},
            "sheets": {"type": "array", "items": sheet},
        }
    )


def _table(properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": list(properties)}


def _shape(kind: Any, shapes: dict[str, Any]) -> dict[str, Any]:
    """The schema of a type; a record stands once among the shapes and is referred to."""
    if kind in _PLAIN:
        return {"type": _PLAIN[kind]}
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (Union, UnionType):
        return {"anyOf": [_shape(each, shapes) for each in inner]}
    if origin is tuple and inner[-1:] == (...,):
        return {"type": "array", "items": _shape(inner[0], shapes)}
    if origin is tuple:
        each = [_shape(item, shapes) for item in inner]
        return {"type": "array", "prefixItems": each, "minItems": len(each), "maxItems": len(each)}
    if not is_dataclass(kind) or not isinstance(kind, type):
        raise TypeError(f"no JSON form is known for {kind}")
    if kind.__name__ not in shapes:
        shapes[kind.__name__] = {}
        hints = get_type_hints(kind)
        made = _table({field.name: _shape(hints[field.name], shapes) for field in fields(kind)})
        shapes[kind.__name__] = {"description": (kind.__doc__ or "").strip(), **made}
    return {"$ref": f"#/$defs/{kind.__name__}"}
