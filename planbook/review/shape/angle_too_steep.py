"""A saw is turned or tilted by a right angle or more, or a countersink is as flat as a table."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA42",
    "angle-too-steep",
    Severity.ERROR,
    "A mitre or bevel is cut at 90 degrees or more, or the sides of a countersink are 180 degrees or more apart.",
    "A mitre is counted from a square cut, a countersink from side to side; at these angles nothing is cut.",
    '```mitre\nangle = "135 deg"\n```',
    '```mitre\nangle = "45 deg"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    kind, angle, most = trouble.facts["operation"], f"{trouble.facts['angle']:g}°", trouble.facts["most"]
    return Words(
        f"step {trouble.step} has a `{kind}` block with an angle of {angle}; it must be under {most}°",
        f"under {most}°",
    )


check = Told(KIND, ("angle-too-steep",), _words)
