"""A step gives a new piece a name that another piece has or had."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "FLO04",
    "piece-made-twice",
    Severity.ERROR,
    "A step makes a piece under a name that another piece already had.",
    "On the pictures and in the lists nobody could tell the two apart.",
    'makes = { strip = "layer", block = "rest" }\n...\nmakes = { strip = "layer", scrap = "rest" }',
    'makes = { strip = "layer", block = "rest" }\n...\nmakes = { "second strip" = "layer", scrap = "rest" }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    name, earlier = trouble.facts["piece"], trouble.facts["earlier"]
    if earlier == trouble.step:
        headline = f"step {trouble.step} makes two pieces called {short(name)}"
    else:
        headline = f"step {trouble.step} makes {short(name)}, but step {earlier} made a piece of that name"
    return Words(headline, "the same name again", hint="give this piece a name of its own", at=name)


check = Told(KIND, ("piece-made-twice",), _words)
