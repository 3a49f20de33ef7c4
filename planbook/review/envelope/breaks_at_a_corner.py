"""A build that can be carried out as drawn breaks somewhere in the envelope."""

from collections.abc import Iterator

from planbook.review.corners import corner_words
from planbook.review.registry import rules
from planbook.review.rule import Told
from planbook.review.say import Say
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline, Trouble

KIND = Kind(
    "ENV03",
    "breaks-at-a-corner",
    Severity.WARNING,
    "A step can be carried out as drawn, but not for every kerf, sanding and board for which the plan must work.",
    "The reader finds out at that step, with the wood already sawn.",
    'thickness = "1.1 mm"   (a shim for a kerf that may be 1.3 mm wide)',
    "thickness = \"kerf of 'narrow blade'\"",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Troubles that only a varied build has."""
    say = Say(timeline)
    for each in timeline.envelope.breaks if timeline.envelope else ():
        words = corner_words(each.corner, say.fine)
        what = _told(each.trouble, say) or f"step {each.trouble.step} cannot be carried out ({each.trouble.kind})"
        yield KIND.at(each.trouble.place, f"{what}, {words}", label="not here", hint=_hint(each.trouble))


def _told(trouble: Trouble, say: Say) -> str:
    """The headline that the rule of this trouble has for it."""
    for rule in rules():
        if isinstance(rule.check, Told) and trouble.kind in rule.check.troubles:
            told = rule.check.words(trouble, say)
            return told.headline if told else ""
    return ""


def _hint(trouble: Trouble) -> str:
    """An action that mends what is known to be mended by it."""
    if trouble.kind == "no-kerf-there" or (trouble.kind == "shim-too-small" and "thick" in trouble.facts):
        return 'write the thickness of the shim from the kerf as it is, as in `kerf of "band saw"`'
    return ""
