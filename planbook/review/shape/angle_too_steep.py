"""A saw is to be turned or tilted by a right angle or more."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA42",
    "angle-too-steep",
    Severity.ERROR,
    "A mitre or bevel is cut at 90 degrees or more.",
    "The angle is counted from a square cut: at 90 degrees the blade would lie in the face.",
    '```mitre\nangle = "135 deg"\n```',
    '```mitre\nangle = "45 deg"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    angle = f"{trouble.facts['angle']:g}°"
    return Words(
        f"step {trouble.step} has a `{trouble.facts['operation']}` block with an angle of {angle}; it must be under 90°",
        "counted from a square cut",
    )


check = Told(KIND, ("angle-too-steep",), _words)
