"""What is worn at the work: what the cautions of a step ask for, and eyes and ears at every machine."""

from collections.abc import Iterable, Iterator

from planbook.takeoff.machines import PLANER, SANDERS, SAW
from planbook.takeoff.named import names
from planbook.takeoff.records import Safety, ToolRow

GEAR = "protective gear"
AT_MACHINES = ("safety glasses", "hearing protection")
"""As the general precautions ask (29 CFR 1910.133 and 1910.95)."""
NAMED: dict[str, tuple[str, ...]] = {
    "safety glasses": ("eye protection", "glasses"),
    "hearing protection": ("hearing protection",),
    "respirator": ("respirator",),
    "gloves": ("gloves",),
}
"""What is worn, and by which words a caution asks for it."""
AT_HAND = ("mallet", "hand drill", "brush or lint-free cloth")
"""Tools that strike, drill or put on finish without a machine: the general precautions ask for glasses there too."""
MACHINES = (PLANER, SAW, "table saw", "band saw", "scroll saw", "router", "drill", "drill press", *SANDERS.values())


def worn(told: Safety, rows: Iterable[ToolRow]) -> Iterator[ToolRow]:
    """Every such thing with its steps, of these cautions; `rows` are the tools, of which machines are told by kind."""
    rows = tuple(rows)
    turning = {step for row in rows if row.kind in MACHINES for step in row.steps}
    by_hand = {step for row in rows if row.name in AT_HAND for step in row.steps}
    asked = [(each.step, here.caution.avoid) for each in told.steps for here in each.cautions]
    for name, words in NAMED.items():
        steps = {step for step, text in asked if any(names(text, word) for word in words)}
        if name in AT_MACHINES:
            steps |= turning
        if name == "safety glasses":
            steps |= by_hand
        if steps:
            yield ToolRow(name, GEAR, (), tuple(sorted(steps)), "", implied=True)
