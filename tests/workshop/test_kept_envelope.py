"""The envelope kept between runs: the same as one that is proved, for the same wood and cuts, and for no others."""

from dataclasses import asdict, replace
from pathlib import Path

import pytest

from planbook.cache import Folder, Forgetful
from planbook.model import Design
from planbook.reader import read_design
from planbook.review import review
from planbook.text import Place
from planbook.workshop import At, Break, Envelope, Fitted, Proof, Trouble, kept
from planbook.workshop.envelope import prove
from planbook.workshop.kept import prove_or_recall

TOML = """
title = "Test"
version = "1"
maker = "Saltmarsh Workshop"
units = "mm"

[varies]
humidity = [45, 45]

[stock.plate]
wood = "sugar maple"
size = ["100 mm", "12 mm", "100 mm"]
grain = "x"

[shapes.circle]
kind = "circle"
at = ["50 mm", "50 mm"]
radius = "30 mm"

[shapes.way]
kind = "line"
from = ["50 mm", "-4 mm"]
to = ["50 mm", "20 mm"]

[stencils.plan]
title = "Plan"
face = "front"
lines = { circle = "circle", way = "way" }
regions = { disc = ["50 mm", "50 mm"] }

[tools.saw]
kind = "band saw"
kerf = "1 mm"
kerf_range = ["0.8 mm", "1.4 mm"]

[fits.turns]
kind = "gap"
between = ["disc", "ring"]
least = "0.8 mm"
most = "1.2 mm"
"""
STEPS = """# Test

## Saw

Some words.

```mill
boards = ["plate"]
```

```stick
piece = "plate"
stencil = "plan"
```

```saw
piece = "plate"
stencil = "plan"
blade = "saw"
lines = ["circle"]
entry = ["way"]
kerf_side = "inside"
makes = { disc = "disc", ring = "outside" }
```
"""


@pytest.fixture
def design_of(tmp_path: Path):
    def write(toml: str = TOML, steps: str = STEPS) -> Design:
        (tmp_path / "design.toml").write_text(toml, "utf-8")
        (tmp_path / "steps.md").write_text(steps, "utf-8")
        design = read_design(tmp_path).design
        assert design is not None
        return design

    return write


@pytest.fixture
def proofs(monkeypatch):
    """How often an envelope was really proved."""
    made = []

    def counted(design):
        made.append(design)
        return prove(design)

    monkeypatch.setattr(kept, "prove", counted)
    return made


def told(envelope):
    return asdict(envelope)


def test_it_is_the_same_after_a_changed_sentence_and_so_are_the_findings(design_of, proofs, tmp_path):
    store = Folder(tmp_path / "cache")
    first = prove_or_recall(design_of(), store)
    longer = design_of(steps=STEPS.replace("Some words.", "Some other words,\n\nand one paragraph more."))
    second = prove_or_recall(longer, store)
    assert len(proofs) == 1
    afresh = prove(longer)
    assert told(second.envelope) == told(afresh.envelope) == told(first.envelope)
    assert second.design is longer
    assert review(second) == review(afresh)
    assert "ENV" in {finding.code[:3] for finding in review(second)}, "the wide blade leaves too much room"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('kerf_range = ["0.8 mm", "1.4 mm"]', 'kerf_range = ["0.8 mm", "1.5 mm"]'),
        ("[45, 45]", "[40, 50]"),
        ('most = "1.2 mm"', 'most = "1.3 mm"'),
        ("sugar maple", "white ash"),
        ('radius = "30 mm"', 'radius = "31 mm"'),
    ],
)
def test_whatever_it_hangs_on_proves_it_anew(design_of, proofs, tmp_path, old, new):
    store = Folder(tmp_path / "cache")
    prove_or_recall(design_of(), store)
    changed = design_of(TOML.replace(old, new))
    assert told(prove_or_recall(changed, store).envelope) == told(prove(changed).envelope)
    assert len(proofs) == 2


def test_a_broken_entry_counts_as_missing(design_of, proofs, tmp_path):
    class Odd(Folder):
        def get(self, key):
            return b'{"spreads": 1}'

    found = prove_or_recall(design_of(), Odd(tmp_path / "cache"))
    assert told(found.envelope) == told(prove(design_of()).envelope)
    assert len(proofs) == 1
    prove_or_recall(design_of(), Forgetful())
    assert len(proofs) == 2


def test_what_names_lines_of_the_design_is_not_kept(design_of, proofs, tmp_path, monkeypatch):
    fitted = Fitted("turns", "gap", 1.0, 1.0)
    joined = replace(fitted, before=At(1, 1, Place("steps.md")))
    broken = Break((), Trouble("cut-misses", Place("steps.md"), 1))
    bare = Envelope((), (Proof("turns", fitted, (), fitted, ()),), ())
    for envelope, times in (
        (bare, 1),
        (replace(bare, breaks=(broken,)), 2),
        (replace(bare, proofs=(Proof("turns", fitted, (), joined, ()),)), 2),
    ):
        timeline, made = replace(prove(design_of()), envelope=envelope), []
        monkeypatch.setattr(kept, "prove", lambda _, timeline=timeline, made=made: made.append(1) or timeline)
        store = Folder(tmp_path / f"cache{len(envelope.breaks)}{envelope.proofs[0].most.before is not None}")
        for _ in range(2):
            prove_or_recall(design_of(), store)
        assert len(made) == times
