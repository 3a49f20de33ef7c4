"""A block takes a supply of a kind that cannot do its work."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, name_list, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "OPE17",
    "supply-unfit",
    Severity.ERROR,
    "A block takes a supply of another kind than its work needs.",
    "Oil glues nothing.",
    '[supplies.oil]\nkind = "finish"\n\n```glue\nglue = "oil"\n```',
    '[supplies.glue]\nkind = "glue"\n\n```glue\nglue = "glue"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, kind, wanted = (trouble.facts[key] for key in ("supply", "kind", "wanted"))
    fit = [each.name for each in say.timeline.design.supplies.values() if each.kind in wanted]
    return Words(
        f"step {trouble.step} takes {short(name)}, of kind `{kind}`, where {name_list(wanted)} is needed",
        f"kind `{kind}`",
        known_note("fit for it", fit),
    )


check = Told(KIND, ("supply-unfit",), _words)
