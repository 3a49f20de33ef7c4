"""The drill of a block does not match the holes of its stencil."""

from planbook.review.lengths import length_of
from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE19",
    "drill-unfit",
    Severity.ERROR,
    "A drill has another diameter than the holes it is to bore.",
    "The hole would be too wide or too narrow for what goes into it.",
    '[tools.drill]\ndiameter = "8 mm"\n\n'
    '[stencils.front]\nholes = { peg = { at = ["10 mm", "10 mm"], diameter = "6 mm" } }',
    '[tools.drill]\ndiameter = "6 mm"\n\n'
    '[stencils.front]\nholes = { peg = { at = ["10 mm", "10 mm"], diameter = "6 mm" } }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    if trouble.kind == "no-hole-of-size":
        stencil, size = trouble.facts["stencil"], say.length(trouble.facts["diameter"])
        headline = f"step {trouble.step} bores with a drill of {size}, which stencil {short(stencil)} has no hole for"
        return Words(headline, f"a drill of {size}", _holes(stencil, say))
    asked, have = say.pair(trouble.facts["asked"], trouble.facts["diameter"])
    name = trouble.facts["hole"]
    headline = f"step {trouble.step} bores hole {short(name)} of {asked} with a drill of {have}"
    return Words(headline, f"a drill of {have}", _drills(trouble.facts["asked"], say))


def _holes(stencil: str, say: Say) -> tuple[str, ...]:
    """What is to be bored on the stencil."""
    stuck = next((each for each in say.timeline.stuck if each.stencil.name == stencil), None)
    sizes = sorted({hole[2] for hole in stuck.holes.values()}) if stuck else []
    return (f"its holes are {' and '.join(map(say.length, sizes))} wide",) if sizes else ()


def _drills(diameter: float, say: Say) -> tuple[str, ...]:
    """Drills of the design that have the diameter."""
    found = []
    for tool in say.timeline.design.tools.values():
        have = length_of(tool.diameter, say.timeline)
        if tool.kind == "drill" and have is not None and abs(have - diameter) < 1e-6:
            found.append(tool.name)
    return known_note("drills of that diameter", found)


check = Told(
    KIND,
    (
        "drill-unfit",
        "no-hole-of-size",
    ),
    _words,
)
