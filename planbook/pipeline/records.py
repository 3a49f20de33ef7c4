"""What goes into and comes out of the whole way; nothing is done here, and nothing heavy is loaded."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from planbook.cache import Forgetful
from planbook.text import Finding, Sources

if TYPE_CHECKING:
    from planbook.model import Design, Rack
    from planbook.takeoff import Lists
    from planbook.takeoff.prices import Prices
    from planbook.workshop import Timeline

Progress = Callable[[str], None]
FORGETFUL = Forgetful()
Units = Literal["in", "mm"]


@dataclass(frozen=True, eq=False)
class Checked:
    """What a check found: findings, the source texts they speak of, and the build if there was one."""

    findings: tuple[Finding, ...]
    sources: Sources
    design: "Design | None" = None
    timeline: "Timeline | None" = None

    @property
    def stops(self) -> bool:
        """True if no booklet may be printed (but for a draft)."""
        return any(finding.stops for finding in self.findings)


@dataclass(frozen=True, eq=False)
class Built:
    """What a build found and wrote."""

    findings: tuple[Finding, ...]
    sources: Sources
    files: tuple[Path, ...] = ()


@dataclass(frozen=True, eq=False)
class TakenOff:
    """What was listed from a build, or None where a finding stops it; `units` are those to print in.

    `by_choice` are the costs of all choices of woods side by side, as rows with a head, if prices were given.
    """

    findings: tuple[Finding, ...]
    sources: Sources
    lists: "Lists | None" = None
    units: Units = "mm"
    by_choice: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, eq=False)
class Answered:
    """What a question about a size found: findings, or the answer in sentences."""

    findings: tuple[Finding, ...]
    sources: Sources
    sentences: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Brought:
    """What a reader or maker gives beside the design: a rack and prices, and what is wrong with their files."""

    rack: "Rack | None" = None
    prices: "Prices | None" = None
    findings: tuple[Finding, ...] = ()
    sources: Sources = field(default_factory=dict)
