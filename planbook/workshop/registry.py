"""Finds the operations: every module of the folder operations/ that defines one; nothing is registered by hand."""

import importlib
import inspect
import pkgutil
from collections.abc import Mapping
from functools import lru_cache

from planbook.workshop import operations as folder
from planbook.workshop.shop import Work
from planbook.workshop.timeline import Event


@lru_cache(maxsize=1)
def operations() -> Mapping[str, type[Work]]:
    """The operations by the info string of their block, in alphabetical order."""
    found: dict[str, type[Work]] = {}
    for module in pkgutil.iter_modules(folder.__path__):
        loaded = importlib.import_module(f"{folder.__name__}.{module.name}")
        for _, kind in inspect.getmembers(loaded, inspect.isclass):
            if issubclass(kind, Work) and kind.KIND and kind.__module__ == loaded.__name__:
                found[kind.KIND] = kind
    return dict(sorted(found.items()))


def operation_of(event: Event) -> type[Work]:
    """The operation that an event carried out."""
    return operations()[event.operation.kind]
