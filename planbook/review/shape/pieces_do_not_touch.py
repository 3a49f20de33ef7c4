"""Pieces are glued that do not touch."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, name_list
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA21",
    "pieces-do-not-touch",
    Severity.ERROR,
    "Pieces are glued that do not all touch one another.",
    "Glue closes no gap.",
    '[stock.left]\nat = ["0 mm", "0 mm", "0 mm"]\n[stock.right]\nat = ["30 mm", "0 mm", "0 mm"]   (left is 20 mm wide)',
    '[stock.left]\nat = ["0 mm", "0 mm", "0 mm"]\n[stock.right]\nat = ["20 mm", "0 mm", "0 mm"]',
)


def _words(trouble: Trouble, say: Say) -> Words:
    names, parts = trouble.facts["pieces"], trouble.facts["parts"]
    return Words(
        f"step {trouble.step} glues {name_list(names, 'and')}, but they do not all touch: they stay {parts} parts",
        f"{parts} parts",
    )


check = Told(KIND, ("pieces-do-not-touch",), _words)
