"""The envelope kept between runs: the same as one that is proved, for the same wood and cuts, and for no others."""

from dataclasses import asdict, replace

import pytest

from planbook.cache import Folder, Forgetful
from planbook.review import review
from planbook.text import Place
from planbook.workshop import At, Break, Envelope, Fitted, Proof, Trouble, kept
from planbook.workshop.envelope import prove
from planbook.workshop.kept import prove_or_recall


@pytest.fixture
def texts(ring):
    """The ring sawn with too wide a blade, and what varies by itself but for the seasons."""
    toml, steps = ring
    wide = toml.replace('most = "1.4 mm"', 'most = "1.2 mm"')
    return wide.replace('thickness = "0 mm"\nsanding = "0.1 mm"\n', ""), steps


@pytest.fixture
def design(design_of, texts):
    """The ring, afresh at each call, with something in its files put in the place of something else."""

    def changed(old: str = "", new: str = ""):
        return design_of(*(text.replace(old, new) if old else text for text in texts))

    return changed


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


def test_it_is_the_same_after_a_changed_sentence_and_so_are_the_findings(design, proofs, tmp_path):
    store = Folder(tmp_path / "cache")
    first = prove_or_recall(design(), store)
    longer = design("Some words.", "Some other words,\n\nand one paragraph more.")
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
def test_whatever_it_hangs_on_proves_it_anew(design, proofs, tmp_path, old, new):
    store = Folder(tmp_path / "cache")
    prove_or_recall(design(), store)
    changed = design(old, new)
    assert told(prove_or_recall(changed, store).envelope) == told(prove(changed).envelope)
    assert len(proofs) == 2


def test_a_broken_entry_counts_as_missing(design, proofs, tmp_path):
    class Odd(Folder):
        def get(self, key):
            return b'{"spreads": 1}'

    found = prove_or_recall(design(), Odd(tmp_path / "cache"))
    assert told(found.envelope) == told(prove(design()).envelope)
    assert len(proofs) == 1
    prove_or_recall(design(), Forgetful())
    assert len(proofs) == 2


def test_what_names_lines_of_the_design_is_not_kept(design, proofs, tmp_path, monkeypatch):
    fitted = Fitted("turns", "gap", 1.0, 1.0)
    joined = replace(fitted, before=At(1, 1, Place("steps.md")))
    broken = Break((), Trouble("cut-misses", Place("steps.md"), 1))
    bare = Envelope((), (Proof("turns", fitted, (), fitted, ()),), ())
    for envelope, times in (
        (bare, 1),
        (replace(bare, breaks=(broken,)), 2),
        (replace(bare, proofs=(Proof("turns", fitted, (), joined, ()),)), 2),
    ):
        timeline, made = replace(prove(design()), envelope=envelope), []
        monkeypatch.setattr(kept, "prove", lambda _, timeline=timeline, made=made: made.append(1) or timeline)
        store = Folder(tmp_path / f"cache{len(envelope.breaks)}{envelope.proofs[0].most.before is not None}")
        for _ in range(2):
            prove_or_recall(design(), store)
        assert len(made) == times
