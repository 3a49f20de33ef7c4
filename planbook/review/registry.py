"""Finds the rules by folder and runs them over a timeline; a new rule is a new file and nothing else."""

import importlib
import pkgutil
from functools import lru_cache
from typing import cast

from planbook.review.rule import Rule
from planbook.text import Finding, Kind, in_order
from planbook.workshop import Timeline

_FOLDER = __name__.rpartition(".")[0]


@lru_cache(maxsize=1)
def rules() -> tuple[Rule, ...]:
    """Every rule, by code."""
    path = importlib.import_module(_FOLDER).__path__
    names = [m.name for m in pkgutil.walk_packages(path, f"{_FOLDER}.") if not m.ispkg]
    loaded = (importlib.import_module(name) for name in names if name.count(".") > _FOLDER.count(".") + 1)
    found = [cast(Rule, module) for module in loaded]
    return tuple(sorted(found, key=lambda rule: rule.KIND.code))


def kinds() -> tuple[Kind, ...]:
    """The kind of finding that each rule makes, by code."""
    return tuple(rule.KIND for rule in rules())


def review(timeline: Timeline) -> tuple[Finding, ...]:
    """What every rule finds in a build, in the order of the files."""
    return in_order(finding for rule in rules() for finding in rule.check(timeline))
