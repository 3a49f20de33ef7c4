"""Types of the values in a handbook of the maker's own: numbers within bounds, times, plain lengths; not the rows."""

from collections.abc import Callable
from fractions import Fraction
from typing import Annotated

from pydantic import BeforeValidator, PlainValidator, WithJsonSchema

from planbook.reader.fields import Filled, Told, named, refuse
from planbook.units import UnitProblem, read_length, read_minutes

LONGEST_MM = Fraction(100_000)


def _number(least: float, most: float) -> Callable[[object], float]:
    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refuse("type", wanted="a number", found=named(value))
        if not least <= value <= most:
            raise refuse("span", value=value, least=least, most=most)
        return float(value)

    return read


def _span(least: float, most: float) -> WithJsonSchema:
    return WithJsonSchema({"type": "number", "minimum": least, "maximum": most})


def _minutes(value: object) -> float:
    if not isinstance(value, Told):
        raise refuse("type", wanted='a time in quotation marks, such as "45 min"', found=named(value))
    try:
        return float(read_minutes(str(value)))
    except UnitProblem as problem:
        raise refuse("formula", problem=problem) from None


def _length(value: object) -> Fraction:
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise refuse("unit", what="length", value=value)
    if not isinstance(value, Told):
        raise refuse("type", wanted="a length in quotation marks", found=named(value))
    try:
        length = read_length(str(value))
    except UnitProblem as problem:
        raise refuse("formula", problem=problem) from None
    if not 0 < length <= LONGEST_MM:
        raise refuse("far", value=str(value), most="100 m")
    return length


def _tint(value: object) -> str:
    text = str(value)
    if (
        not isinstance(value, Told)
        or len(text) != 7
        or text[0] != "#"
        or set(text[1:].lower()) - set("0123456789abcdef")
    ):
        raise refuse("type", wanted='a colour such as "#c9a26a"', found="something else")
    return text.lower()


def _names(value: object) -> object:
    if not isinstance(value, list):
        raise refuse("type", wanted="a list of names", found=named(value))
    return value


Percent = Annotated[float, PlainValidator(_number(0, 40)), _span(0, 40)]
Gravity = Annotated[float, PlainValidator(_number(0.05, 1.5)), _span(0.05, 1.5)]
Density = Annotated[float, PlainValidator(_number(50, 1500)), _span(50, 1500)]
Change = Annotated[float, PlainValidator(_number(0, 0.02)), _span(0, 0.02)]
Spread = Annotated[float, PlainValidator(_number(1, 2000)), _span(1, 2000)]
Coverage = Annotated[float, PlainValidator(_number(0.5, 50)), _span(0.5, 50)]
Amount = Annotated[float, PlainValidator(_number(0.01, 5000)), _span(0.01, 5000)]
Teeth = Annotated[float, PlainValidator(_number(0.5, 100)), _span(0.5, 100)]
Grain = Annotated[float, PlainValidator(_number(0.1, 5000)), _span(0.1, 5000)]
Time = Annotated[
    float, PlainValidator(_minutes), WithJsonSchema({"type": "string", "minLength": 1, "examples": ["45 min", "24 h"]})
]
Size = Annotated[
    Fraction,
    PlainValidator(_length),
    WithJsonSchema({"type": "string", "minLength": 1, "examples": ["3 mm", "1/8 in"]}),
]
Tint = Annotated[str, PlainValidator(_tint), WithJsonSchema({"type": "string", "pattern": "^#[0-9A-Fa-f]{6}$"})]
Names = Annotated[list[Filled], BeforeValidator(_names)]
