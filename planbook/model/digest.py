"""Short digests of records by what they say, so that equal ones are recognised later; places in files do not count."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any

from planbook.model.design import Design
from planbook.model.written import Operation
from planbook.text import Place, Source
from planbook.units import Formula

_BUILT_FROM = ("sizes", "stock", "shapes", "stencils", "tools", "supplies", "handbook")


def digest(*things: Any) -> str:
    """32 hexadecimal digits: the same for the same values in any process, whatever file and line they stand in.

    Takes frozen records, mappings (their order counts), sequences, texts, numbers and None. Raises TypeError for
    anything else, so that nothing is left out unseen.
    """
    hashed = hashlib.sha256()
    for word in _words(things):
        hashed.update(word.encode("utf-8", "surrogatepass"))
        hashed.update(b"\0")
    return hashed.hexdigest()[:32]


def built_digests(design: Design) -> tuple[str, ...]:
    """One digest for each operation, in order: of the tables of the design and of all operations up to it.

    What an operation leaves on the bench is the same wherever its digest is; prose, titles and fits do not count.
    """
    last = digest(*(getattr(design, name) for name in _BUILT_FROM))
    found = []
    for operation in design.operations:
        last = digest(last, _told(operation))
        found.append(last)
    return tuple(found)


def _told(operation: Operation) -> tuple[Any, ...]:
    return (operation.kind, operation.fields, operation.step, operation.number)


def _words(thing: Any) -> Iterator[str]:
    if isinstance(thing, Place | Source):
        return
    if isinstance(thing, Formula):
        yield from ("formula", thing.text)
    elif isinstance(thing, str):
        yield from ("text", thing)
    elif thing is None or isinstance(thing, bool | int | float | Fraction):
        yield f"{type(thing).__name__} {thing!r}"
    elif isinstance(thing, Mapping):
        yield f"mapping {len(thing)}"
        for key, value in thing.items():
            yield from _words(key)
            yield from _words(value)
    elif isinstance(thing, tuple | list):
        yield f"sequence {len(thing)}"
        for item in thing:
            yield from _words(item)
    elif is_dataclass(thing):
        yield type(thing).__name__
        for field in fields(thing):
            yield from _words(getattr(thing, field.name))
    else:
        # Dates and times of TOML, which no field takes, but which a node may hold.
        yield from (type(thing).__name__, str(_known(thing)))


def _known(thing: Any) -> Any:
    import datetime

    if isinstance(thing, datetime.date | datetime.time):
        return thing
    raise TypeError(f"no digest of {type(thing).__name__}")
