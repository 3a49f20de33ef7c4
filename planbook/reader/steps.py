"""Reads `steps.md` into the introduction and the steps, with prose and operations; it carries none out."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from unicodedata import category

from planbook.model import Moment, Operation, Prose, Shown, Step
from planbook.reader import kinds, photo_kinds
from planbook.reader.brought import brought_by
from planbook.reader.markdown import Block, Outline, outline, without_comments
from planbook.reader.moments import FILM, moment_of
from planbook.reader.names import check_texts
from planbook.reader.prose import Lines, prose_of
from planbook.reader.toml_tree import Frame, read_tree
from planbook.text import Finding, Place, Source


@dataclass(slots=True)
class Read:
    """What was read of the steps."""

    intro: str = ""
    steps: list[Step] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def read_steps(source: Source) -> Read:
    """The introduction and the steps of a file, and what is wrong with its form."""
    read = Read()
    plan = outline(source.text)
    heads = [block for block in plan.blocks if block.kind == "step"]
    first = heads[0].start if heads else len(plan.lines)
    early = [block for block in plan.blocks if block.kind != "step" and block.start < first]
    read.intro = _intro(plan, early, first)
    read.findings += _shown_early(plan, first, source)
    read.findings += [_too_early(block, source) for block in early if block.kind == "operation"]
    if not heads:
        place = Place(source.file, 1, 1, max(1, len(source.line(1))))
        headline = "the list of steps has no step: no second-level heading such as `## Saw the outline`"
        read.findings.append(kinds.NO_STEPS.at(place, headline))
    ends = [*(block.start for block in heads[1:]), len(plan.lines)]
    for number, (head, end) in enumerate(zip(heads, ends, strict=False), 1):
        read.steps.append(_step(read, plan, head, end, number, source))
    read.findings += _unseen(plan, source)
    return read


def _intro(plan: Outline, early: list[Block], first: int) -> str:
    taken = {line for block in early for line in range(block.start, block.end)}
    kept = (plan.lines[line] for line in range(first) if line not in taken)
    return without_comments("\n".join(kept))


def _too_early(block: Block, source: Source) -> Finding:
    headline = f"operation `{_kind(block)}` stands before the first step"
    return kinds.OPERATION_BEFORE_STEP.at(_info_place(block, source), headline)


def _step(read: Read, plan: Outline, head: Block, end: int, number: int, source: Source) -> Step:
    title = " ".join(head.words.split())
    place = _title_place(head, source)
    if not title:
        read.findings.append(kinds.UNTITLED_STEP.at(place, f"step {number} has an empty heading"))
    if "{" in title:
        headline = f"the heading of step {number} has a brace; names in braces are for prose"
        read.findings.append(kinds.STRAY_BRACE.at(place, headline))
    parts: list[Prose | Operation | Shown | Moment] = []
    line, count = head.end, 0
    for block in plan.blocks_in(head.end, end):
        parts += _prose(read, plan, line, block.start, source)
        count += _kind(block) != FILM
        parts += _operation(read, block, number, count, source)
        line = block.end
    parts += _prose(read, plan, line, end, source)
    moments = [part for part in parts if isinstance(part, Moment)]
    for again in moments[1:]:
        headline = f"step {number} names a second moment of the film"
        read.findings.append(photo_kinds.TWO_MOMENTS.at(again.place, headline, hint="leave one of them out"))
    told = tuple(part for part in parts if isinstance(part, Prose | Operation))
    shown = tuple(part for part in parts if isinstance(part, Shown))
    return Step(number, title, told, place, shown, moments[0] if moments else None)


def _title_place(head: Block, source: Source) -> Place:
    line = source.line(head.start + 1)
    words = head.words.split("\n")[0]
    column = line.find(words) if words else 0
    return Place(source.file, head.start + 1, max(0, column) + 1, max(1, len(words or line.rstrip())))


def _prose(read: Read, plan: Outline, start: int, end: int, source: Source) -> Iterator[Prose | Shown]:
    """The prose of some lines and its photos, without blank lines at its ends; nothing where only comments are left."""
    while start < end and not plan.lines[start].strip():
        start += 1
    while end > start and not plan.lines[end - 1].strip():
        end -= 1
    text = "\n".join(source.line(line + 1) for line in range(start, end))
    if not without_comments(text):
        return
    lines = Lines(source.file, start + 1, text, plan.talk_in(start, end))
    prose, findings = prose_of(lines)
    brought = brought_by(lines)
    read.findings += (*findings, *brought.findings)
    yield prose
    yield from brought.shown


def _shown_early(plan: Outline, first: int, source: Source) -> Iterator[Finding]:
    """Photos before the first step, and what else is brought in wrongly there."""
    text = "\n".join(source.line(line + 1) for line in range(first))
    brought = brought_by(Lines(source.file, 1, text, plan.talk_in(0, first)))
    yield from brought.findings
    for shown in brought.shown:
        headline = "a photo stands before the first step; only its words are printed"
        yield photo_kinds.OUTSIDE_STEPS.at(shown.place, headline, hint="move it into the step that it belongs to")


def _operation(read: Read, block: Block, step: int, number: int, source: Source) -> Iterator[Operation | Moment]:
    place = _info_place(block, source)
    if not block.closed:
        headline = f"the block of operation `{_kind(block)}` in step {step} is not closed"
        hint = "end it with the same marks that it begins with, on a line of their own"
        read.findings.append(kinds.BLOCK_NOT_CLOSED.at(place, headline, label="begins here", hint=hint))
        return
    tree = read_tree(block.text, Frame(source, block.start + 1, block.indents), place)
    read.findings += tree.findings
    if tree.root is not None:
        read.findings += check_texts(tree.root, keys=True)
        if _kind(block) == FILM:
            moment, finding = moment_of(tree.root, place)
            read.findings += [finding] if finding else []
            yield from [moment] if moment else []
            return
        yield Operation(_kind(block), tree.root, step, number, place)


def _kind(block: Block) -> str:
    return block.words.lower()


def _info_place(block: Block, source: Source) -> Place:
    line = source.line(block.start + 1)
    first = block.words.split()[0]
    column = line.find(first)
    return Place(source.file, block.start + 1, max(0, column) + 1, max(1, len(line[column:].rstrip())))


def _unseen(plan: Outline, source: Source) -> Iterator[Finding]:
    """Control characters outside the operations, which report theirs themselves."""
    taken = {line for block in plan.blocks if block.kind == "operation" for line in range(block.start, block.end)}
    for number, line in enumerate(source.lines):
        column = next((at for at, char in enumerate(line) if category(char) == "Cc" and char != "\t"), None)
        if column is not None and number not in taken:
            headline = f"line {number + 1} has the unseen character U+{ord(line[column]):04X} in it"
            yield kinds.BAD_TEXT.at(Place(source.file, number + 1, column + 1), headline)
