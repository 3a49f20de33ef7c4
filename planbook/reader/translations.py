"""Reads what a maker wrote in other languages: `steps.de.md` and `design.de.toml` beside the design, and so on."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fnmatch import fnmatchcase
from pathlib import Path

from planbook.model import ON_THE_CARD, Node, Prose, Step, Telling, Translation
from planbook.model.sizes import folded
from planbook.reader import files, kinds, language_kinds
from planbook.reader.checking import Checked, check_one
from planbook.reader.faults import unknown_key
from planbook.reader.names import check_texts
from planbook.reader.steps import read_steps
from planbook.reader.tables import TranslationTable
from planbook.reader.toml_tree import Frame, every_node, read_tree
from planbook.reader.words import did_you_mean, listed
from planbook.speech import LANGUAGES, LostPlaceholder, placeholders
from planbook.text import Aside, Finding, Place, Source
from planbook.units import near

_LANGUAGE = "[A-Za-z]{2}(?:[-_][A-Za-z]+)?"
_FILES = re.compile(rf"(?:steps\.(?P<steps>{_LANGUAGE})\.md|design\.(?P<card>{_LANGUAGE})\.toml)")
_BENT = re.compile(r"\|[^{}\n]*\}")
"""The form of a name that a sentence needs, as in `{left cheek|linken Wange}`, up to its brace."""
_MOST = 20
"""So many unknown words of a file are told of."""


@dataclass(slots=True)
class Translations:
    """What was read: translations by language, texts, findings."""

    told: dict[str, Translation] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


def read_translations(folder: Path, design: Node | None, steps: list[Step], first: str) -> Translations:
    """Every translation in a folder of a design that is written in the language `first`.

    `design` is the root of its `design.toml`, if that could be read. Whatever the files hold, this raises nothing.
    """
    read = Translations()
    written = _written(folder)
    spoken = tuple(language for language in LANGUAGES if language != first)
    for language in sorted(written):
        if language in spoken:
            _read(read, folder, language, _Original(design, tuple(steps)))
        else:
            read.findings += [_unspoken(folder / name, language, first, spoken) for name in sorted(written[language])]
    return read


@dataclass(frozen=True, slots=True)
class _Original:
    design: Node | None
    steps: tuple[Step, ...]


def _written(folder: Path) -> Mapping[str, list[str]]:
    found: dict[str, list[str]] = {}
    try:
        names = sorted(path.name for path in folder.iterdir())
    except OSError:
        return {}
    for name in names:
        if match := _FILES.fullmatch(name):
            found.setdefault(match["steps"] or match["card"], []).append(name)
    return found


def _unspoken(path: Path, language: str, first: str, spoken: tuple[str, ...]) -> Finding:
    shown = files.shown(path)
    if language == first:
        headline = f"`{path.name}` is a translation into `{first}`, the language that the design is written in"
        return language_kinds.NO_SUCH_LANGUAGE.at(Place(shown), headline)
    headline = f"`{path.name}` is for the language `{language[:20]}`, in which nothing is printed"
    notes = (f"there are {listed(spoken, 'and')}",)
    return language_kinds.NO_SUCH_LANGUAGE.at(
        Place(shown), headline, notes=notes, hint=did_you_mean(near(language, spoken))
    )


def _read(read: Translations, folder: Path, language: str, original: _Original) -> None:
    before = len(read.findings)
    card = _load(read, folder, f"design.{language}.toml")
    markdown = _load(read, folder, f"steps.{language}.md")
    table = _card(read, card, original) if card else None
    intro, tellings = _steps(read, markdown, original, language) if markdown else ("", ())
    if not any(finding.stops for finding in read.findings[before:]):
        place = Place((markdown or card or Source("", "")).file, 1, 1)
        keys = {key: getattr(table, key) for key in ON_THE_CARD} if table else {}
        words = dict(table.words) if table else {}
        read.told[language] = Translation(language, keys, words, intro, tellings, place)


def _load(read: Translations, folder: Path, name: str) -> Source | None:
    path = folder / name
    if not (path.is_symlink() or path.exists()):
        return None
    loaded = files.load(folder, name)
    read.findings += loaded.findings
    if loaded.source:
        read.sources[loaded.source.file] = loaded.source
    return loaded.source if loaded.usable else None


def _card(read: Translations, source: Source, original: _Original) -> TranslationTable | None:
    tree = read_tree(source.text, Frame(source), Place(source.file, 1, 1))
    read.findings += tree.findings
    if tree.root is None:
        return None
    made = Checked(source, tree.root)
    known = TranslationTable.keys()
    top = tree.root.table()
    made.findings += [unknown_key(node, (key,), known) for key, node in top.items() if key not in known]
    own = Node({key: node for key, node in top.items() if key in known}, tree.root.place)
    table = check_one(made, own, (), TranslationTable)
    made.findings += check_texts(tree.root, keys=True)
    if table is not None and not made.findings:
        made.findings += _words(table, top.get("words"), original)
        made.findings += _same_braces(top, original)
    read.findings += made.findings
    return table


def _words(table: TranslationTable, node: Node | None, original: _Original) -> Iterator[Finding]:
    """Words for what is not in the design, and words that lost a placeholder."""
    known, patterns = _texts_of(original)
    entries = node.table() if node else {}
    unknown = [text for text in table.words if text not in known and not _made(text, known, patterns)]
    for text in unknown[:_MOST] if original.design else ():
        headline = f"there are words for `{text[:80]}`, but nothing in the design is called or says that"
        hint = did_you_mean(near(text, known)) if len(text) <= 80 else ""
        yield language_kinds.NOTHING_CALLED_SO.at(entries[text].named_at, headline, hint=hint)
    for text, words in table.words.items():
        yield from _braces(text, words, entries[text].place)


def _same_braces(top: Mapping[str, Node], original: _Original) -> Iterator[Finding]:
    first = original.design.table() if original.design else {}
    for key in ON_THE_CARD:
        if key in top and key in first and isinstance(first[key].value, str):
            yield from _braces(str(first[key].value), str(top[key].value), top[key].place)


def _braces(text: str, words: str, place: Place) -> Iterator[Finding]:
    first, then = (_BENT.sub("}", each) for each in (text, words))
    if words and placeholders(first) != placeholders(then):
        yield language_kinds.PLACEHOLDER_LOST.at(place, str(LostPlaceholder(first, then)))


def _texts_of(original: _Original) -> tuple[frozenset[str], tuple[str, ...]]:
    """Every name and text that a design has, and the patterns of names, such as `* back`."""
    roots = [op.fields for step in original.steps for op in step.operations]
    roots += [original.design] if original.design else []
    known: set[str] = set()
    for node in (each for root in roots for each in every_node(root)):
        known |= {node.value} if isinstance(node.value, str) else set()
        known |= set(node.value) if isinstance(node.value, Mapping) else set()
    return frozenset(known), tuple(text for text in known if "*" in text and text.strip("* "))


def _made(text: str, known: frozenset[str], patterns: tuple[str, ...]) -> bool:
    """Whether a name is one of a batch, a part of a name (as on a stencil for two pieces), or made by a pattern."""
    stem, _, number = text.rpartition(" ")
    batch = number.isdigit() and stem in known
    within = any(f" {text} " in f" {name} " for name in known if len(name) <= 80)
    return batch or within or any(fnmatchcase(text, pattern.replace("[", "[[]")) for pattern in patterns)


def _telling(step: Step, language: str) -> Telling:
    shown = tuple(replace(each, language=language) for each in step.shown)
    return Telling(step.title, step.prose, step.place, shown)


def _steps(read: Translations, source: Source, original: _Original, language: str) -> tuple[str, tuple[Telling, ...]]:
    found = read_steps(source)
    read.findings += [each for each in found.findings if each.code != kinds.UNTITLED_STEP.code]
    for operation in (op for step in found.steps for op in step.operations):
        headline = f"step {operation.step} of the translation holds the operation `{operation.kind[:40]}`"
        hint = "leave it out; operations are taken from `steps.md`"
        read.findings.append(language_kinds.OPERATION_IN_TRANSLATION.at(operation.place, headline, hint=hint))
    for step in found.steps:
        if step.moment:
            headline = f"step {step.number} of the translation names a moment of the film"
            hint = "leave it out; it is taken from `steps.md`"
            read.findings.append(language_kinds.OPERATION_IN_TRANSLATION.at(step.moment.place, headline, hint=hint))
    if original.steps and found.steps:
        read.findings += _compared(found.steps, original.steps, source)
    return found.intro, tuple(_telling(step, language) for step in found.steps)


def _compared(told: list[Step], first: tuple[Step, ...], source: Source) -> Iterator[Finding]:
    if len(told) != len(first):
        here = next((n for n, (a, b) in enumerate(zip(told, first, strict=False)) if list(_lost(a, b))), None)
        at = min(len(told), len(first)) - 1 if here is None else here
        headline = f"`{Path(source.file).name}` has {len(told)} steps, and `{files.STEPS}` has {len(first)}"
        label = "they part here at the latest"
        also = (Aside(first[at].place, f"step {at + 1} there"),)
        yield language_kinds.STEPS_DIFFER.at(told[at].place, headline, label=label, also=also)
        return
    for step, original in zip(told, first, strict=True):
        for mention, place in _lost(step, original):
            headline = f"step {step.number} of the translation lacks `{{{mention}}}`"
            also = (Aside(place, "it stands here"),)
            yield language_kinds.PLACEHOLDER_LOST.at(_first(step.prose, step), headline, also=also)


def _lost(step: Step, original: Step) -> Iterator[tuple[str, Place]]:
    """Names of the original that a told step leaves out, each once; a step without prose leaves it all as it is."""
    there = {folded(mention.name) for prose in step.prose for mention in prose.mentions}
    for mention in (each for prose in original.prose for each in prose.mentions) if step.prose else ():
        if folded(mention.name) not in there:
            there.add(folded(mention.name))
            yield mention.name, mention.place


def _first(prose: tuple[Prose, ...], step: Step) -> Place:
    return prose[0].place if prose else step.place
