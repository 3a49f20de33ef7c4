"""Types of the values in `design.toml`: formulas, names, words and points; not the tables made of them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, cast

from pydantic import (
    BeforeValidator,
    Discriminator,
    Field,
    PlainValidator,
    StrictInt,
    Tag,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from planbook.model import Expr, Node
from planbook.reader.toml_places import Path
from planbook.units import UnitProblem, near, parse_formula

MOST_COUNT = 10_000
MOST_IN_BATCH = 200
MOST_HINTS = 50
ONE_PLACE, SEVERAL_PLACES = "one place", "several places"
"""How the validation calls the two ways to say where boards stand; they are no part of a path."""
MOST_TEETH = 100
What = Literal["length", "angle"]
Least = Literal["any", "zero", "above zero"]


class Told(str):
    """A text of the file that remembers its node, so that whatever is made of it keeps its place."""

    __slots__ = ("node", "path")
    node: Node
    path: Path


@dataclass(frozen=True, slots=True)
class Want:
    """What a formula must come to: a length or an angle, of any sign, zero or more, or more than zero."""

    what: What = "length"
    least: Least = "any"


@dataclass(frozen=True, slots=True)
class Asked:
    """A formula that was read, with what it must come to and the path of its key."""

    want: Want
    expr: Expr
    path: Path


@dataclass(slots=True)
class Found:
    """What the tables of a design refer to, gathered during validation, even where a table is broken."""

    formulas: list[Asked] = field(default_factory=list)
    shapes: list[Told] = field(default_factory=list)
    woods: list[Told] = field(default_factory=list)
    hints: int = MOST_HINTS

    def near(self, name: str, known: Iterable[str]) -> tuple[str, ...]:
        """The nearest names, for the first findings only: the search is slow, and many hints help nobody."""
        self.hints -= 1
        return near(name, known) if self.hints >= 0 else ()


def told(node: Node, path: Path = ()) -> Any:
    """The value of a node as the validation takes it, texts as `Told`."""
    if isinstance(node.value, Mapping):
        return {key: told(item, (*path, key)) for key, item in node.value.items()}
    if isinstance(node.value, tuple):
        return [told(item, (*path, at)) for at, item in enumerate(node.value)]
    if not isinstance(node.value, str):
        return node.value
    text = Told(node.value)
    text.node, text.path = node, path
    return text


def _found(info: ValidationInfo) -> Found:
    return cast(Found, info.context)


def named(value: object) -> str:
    """The type of a TOML value in plain words."""
    match value:
        case bool():
            return "true or false"
        case int() | float():
            return "a number"
        case str():
            return "a text"
        case list() | tuple():
            return "a list"
        case dict():
            return "a table"
        case _:
            return "a date or time"


def refuse(kind: str, **facts: Any) -> PydanticCustomError:
    """A refusal of this project's own, told from pydantic's by its kind; `facts` are for the finding."""
    return PydanticCustomError("planbook", "refused", {"kind": kind, **facts})


def _text(value: object) -> Told:
    if isinstance(value, Told):
        return value
    raise refuse("type", wanted="a text", found=named(value))


def _formula(want: Want) -> Callable[[Any, ValidationInfo], Expr]:
    def read(value: Any, info: ValidationInfo) -> Expr:
        if isinstance(value, int | float) and not isinstance(value, bool):
            raise refuse("unit", what=want.what, value=value)
        if not isinstance(value, Told):
            raise refuse("type", wanted=f"{_AN[want.what]} in quotation marks", found=named(value))
        try:
            expr = Expr(parse_formula(str(value)), value.node.place)
        except UnitProblem as problem:
            raise refuse("formula", problem=problem) from None
        _found(info).formulas.append(Asked(want, expr, value.path))
        return expr

    return read


_AN: Mapping[str, str] = {"length": "a length", "angle": "an angle"}
_EXAMPLES: Mapping[str, list[str]] = {
    "length": ["12 mm", "3 1/2 in", "wall + 2 mm"],
    "angle": ["30 deg", "180 deg / sides"],
}


def _formula_schema(want: Want) -> WithJsonSchema:
    about = {"any": "", "zero": ", zero or more", "above zero": ", more than zero"}[want.least]
    return WithJsonSchema(
        {
            "type": "string",
            "minLength": 1,
            "maxLength": 500,
            "description": f"{_AN[want.what].capitalize()}{about}: a value with its unit, or a formula.",
            "examples": _EXAMPLES[want.what],
        }
    )


_ANY, _ZERO, _ABOVE = Want(), Want(least="zero"), Want(least="above zero")
_ANGLE = Want("angle")

Length = Annotated[Expr, PlainValidator(_formula(_ANY)), _formula_schema(_ANY)]
Depth = Annotated[Expr, PlainValidator(_formula(_ZERO)), _formula_schema(_ZERO)]
Extent = Annotated[Expr, PlainValidator(_formula(_ABOVE)), _formula_schema(_ABOVE)]
Angle = Annotated[Expr, PlainValidator(_formula(_ANGLE)), _formula_schema(_ANGLE)]


def _count(number: int, each: str) -> BeforeValidator:
    def check(value: Any) -> Any:
        if not isinstance(value, list):
            raise refuse("type", wanted=f"a list of {number}: {each}", found=named(value))
        if len(value) != number:
            raise refuse("count", wanted=f"{number}: {each}", found=len(value))
        return value

    return BeforeValidator(check)


def _places(value: Any) -> Any:
    """A list of places, or one place, as `ONE_PLACE` or `SEVERAL_PLACES`."""
    return SEVERAL_PLACES if isinstance(value, list) and any(isinstance(item, list) for item in value) else ONE_PLACE


def _batch(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise refuse("type", wanted="a whole number", found=named(value))
    if not 2 <= value <= MOST_IN_BATCH:
        raise refuse("number", value=value, least=2, most=MOST_IN_BATCH)
    return value


def _several(least: int, each: str) -> BeforeValidator:
    def check(value: Any) -> Any:
        if not isinstance(value, list):
            raise refuse("type", wanted=f"a list of {each}", found=named(value))
        if len(value) < least:
            raise refuse("count", wanted=f"{least} or more {each}", found=len(value))
        return value

    return BeforeValidator(check)


Point = Annotated[tuple[Length, Length], _count(2, "to the right and up")]
Shift = Annotated[tuple[Length, Length, Length], _count(3, "along x, y and z")]
Box = Annotated[tuple[Extent, Extent, Extent], _count(3, "along x, y and z")]
Places = Annotated[
    Annotated[Shift, Tag(ONE_PLACE)]
    | Annotated[list[Shift], _several(1, "places"), Field(json_schema_extra={"minItems": 1}), Tag(SEVERAL_PLACES)],
    Discriminator(_places),
]
Batch = Annotated[
    StrictInt,
    PlainValidator(_batch),
    WithJsonSchema({"type": "integer", "minimum": 2, "maximum": MOST_IN_BATCH}),
]
Range = Annotated[tuple[Extent, Extent], _count(2, "the least and the most")]
Span = Annotated[tuple[Depth, Extent], _count(2, "from where and to where")]
Points = Annotated[list[Point], _several(3, "points"), Field(json_schema_extra={"minItems": 3})]


def _filled(value: object) -> str:
    text = _text(value)
    if not text.strip():
        raise refuse("empty")
    return str(text)


def _version(value: object) -> str:
    text = _filled(value)
    allowed = all(char.isascii() and (char.isalnum() or char in ".+-") for char in text)
    if not allowed or not text[0].isalnum() or len(text) > 30:
        raise refuse("version", value=text)
    return text


def _shape(value: object, info: ValidationInfo) -> str:
    text = _text(value)
    _found(info).shapes.append(text)
    return str(text)


def _wood(value: object, info: ValidationInfo) -> str:
    text = _text(value)
    _found(info).woods.append(text)
    return str(text)


def _flag(value: object) -> bool:
    if isinstance(value, bool):
        return value
    raise refuse("type", wanted="true or false", found=named(value))


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise refuse("type", wanted="a whole number", found=named(value))
    if not 1 <= value <= MOST_COUNT:
        raise refuse("number", value=value, most=MOST_COUNT)
    return value


def _teeth(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise refuse("type", wanted="a number", found=named(value))
    if value != value:
        raise refuse("type", wanted="a number", found="nan")
    if not 1 <= value <= MOST_TEETH:
        raise refuse("number", value=value, most=MOST_TEETH)
    return float(value)


def _amount(least: float, most: float, words: str) -> Callable[[object], float]:
    """A number between two others."""

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refuse("type", wanted=words, found=named(value))
        if not least <= value <= most:
            raise refuse("type", wanted=words, found=f"{value:g}")
        return float(value)

    return read


def _table(value: object) -> object:
    if isinstance(value, dict):
        return value
    raise refuse("type", wanted="a table", found=named(value))


_AT_LEAST_ONE = Field(json_schema_extra={"minItems": 1})
_WORDS: dict[str, Any] = {"type": "string"}
_NAME: dict[str, Any] = {"type": "string", "minLength": 1, "maxLength": 80}

Words = Annotated[str, PlainValidator(_text), WithJsonSchema(_WORDS)]
Filled = Annotated[str, PlainValidator(_filled), WithJsonSchema({"type": "string", "pattern": "\\S"})]
Version = Annotated[
    str,
    PlainValidator(_version),
    WithJsonSchema({"type": "string", "pattern": "^[0-9A-Za-z][0-9A-Za-z.+-]{0,29}$", "examples": ["1.0"]}),
]
Count = Annotated[
    StrictInt,
    PlainValidator(_whole),
    WithJsonSchema({"type": "integer", "minimum": 1, "maximum": MOST_COUNT}),
]
Teeth = Annotated[
    float,
    PlainValidator(_teeth),
    WithJsonSchema({"type": "number", "minimum": 1, "maximum": MOST_TEETH}),
]
Flag = Annotated[bool, PlainValidator(_flag), WithJsonSchema({"type": "boolean"})]
Humidity = Annotated[
    float,
    PlainValidator(_amount(1, 99, "a relative humidity from 1 to 99 (per cent)")),
    WithJsonSchema({"type": "number", "minimum": 1, "maximum": 99, "description": "Relative humidity in per cent."}),
]
Humidities = Annotated[tuple[Humidity, Humidity], _count(2, "the least and the most")]
Celsius = Annotated[
    float,
    PlainValidator(_amount(-40, 60, "a temperature from -40 to 60 (degrees Celsius)")),
    WithJsonSchema({"type": "number", "minimum": -40, "maximum": 60}),
]
ShapeName = Annotated[str, PlainValidator(_shape), WithJsonSchema({**_NAME, "description": "A name in [shapes]."})]
WoodName = Annotated[str, PlainValidator(_wood), WithJsonSchema(_NAME)]
PieceName = Annotated[str, PlainValidator(_filled), WithJsonSchema(_NAME)]
ShapeNames = Annotated[list[ShapeName], _several(1, "names of shapes"), _AT_LEAST_ONE]
Purposes = Annotated[
    list[Literal["wall", "seat", "small children", "food"]], _several(1, "uses, such as `wall`"), _AT_LEAST_ONE
]
SeveralShapeNames = Annotated[list[ShapeName], _several(2, "names of shapes"), Field(json_schema_extra={"minItems": 2})]
PieceNames = Annotated[list[PieceName], _several(1, "names of pieces"), _AT_LEAST_ONE]
TwoPieces = Annotated[tuple[PieceName, PieceName], _count(2, "the names of two pieces")]
OnlyTable = BeforeValidator(_table)
