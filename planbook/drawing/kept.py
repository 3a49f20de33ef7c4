"""Pictures kept between runs: an unchanged step is not drawn again, in any edition; how to draw is elsewhere."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TypeVar

from pydantic import TypeAdapter, ValidationError

from planbook.cache import Cache
from planbook.drawing.marks import Picture
from planbook.drawing.sheet_paper import StencilPage
from planbook.model import Step
from planbook.model.digest import built_digests, digest
from planbook.speech import tongue
from planbook.workshop import Timeline

R = TypeVar("R")


@dataclass(frozen=True)
class Kept:
    """The kept pictures of one build."""

    timeline: Timeline
    cache: Cache

    def picture(self, key: str, draw: Callable[[], Picture]) -> Picture:
        """The picture kept under a key, or drawn and kept."""
        return self._record(key, _pictures(), draw)

    def pages(self, key: str, draw: Callable[[], tuple[StencilPage, ...]]) -> tuple[StencilPage, ...]:
        """The same for pages of stencils."""
        return self._record(key, _pages(), draw)

    def number(self, key: str, find: Callable[[], float | None]) -> float | None:
        """The same for a number that is slow to find."""
        data = self.cache.get(key)
        if data is not None:
            return float(data) if data != b"none" else None
        number = find()
        self.cache.put(key, b"none" if number is None else repr(number).encode())
        return number

    def _record(self, key: str, form: TypeAdapter[R], make: Callable[[], R]) -> R:
        data = self.cache.get(key)
        if data is not None:
            try:
                return form.validate_json(data)
            except ValidationError:
                pass
        record = make()
        self.cache.put(key, form.dump_json(record))
        return record

    def of_step(self, step: Step, *more: object) -> str:
        """The key of a picture of a step: all that was done up to its end."""
        return digest("step", self._after.get(step.number, ""), step.number, tongue(), *more)

    def of_all(self, *more: object) -> str:
        """The key of a picture of what comes out in the end."""
        last = next(reversed(list(self._after.values())), "")
        return digest("all", self.timeline.design.card.title, last, tongue(), *more)

    @cached_property
    def _after(self) -> Mapping[int, str]:
        design = self.timeline.design
        return {op.step: key for op, key in zip(design.operations, built_digests(design), strict=True)}


@cache
def _pictures() -> TypeAdapter[Picture]:
    return TypeAdapter(Picture)


@cache
def _pages() -> TypeAdapter[tuple[StencilPage, ...]]:
    return TypeAdapter(tuple[StencilPage, ...])
