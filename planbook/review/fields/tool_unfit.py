"""A block takes a tool of a kind that cannot do its work."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE15",
    "tool-unfit",
    Severity.ERROR,
    "A block takes a tool of another kind than its work needs.",
    "A drill saws no curve, and a saw without a kerf cannot be reckoned with.",
    '[tools.drill]\nkind = "drill"\n\n```saw\nblade = "drill"\n```',
    '[tools.blade]\nkind = "band saw"\n\n```saw\nblade = "blade"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, kind, wanted = (trouble.facts[key] for key in ("tool", "kind", "wanted"))
    fit = [each.name for each in say.timeline.design.tools.values() if each.kind in wanted]
    return Words(
        f"step {trouble.step} takes {short(name)}, of kind `{kind}`, where {name_list(wanted)} is needed",
        f"kind `{kind}`",
        known_note("fit for it", fit),
    )


check = Told(KIND, ("tool-unfit",), _words)
