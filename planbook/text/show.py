"""Findings as text: for people, as one line each, and as JSON; printing is the caller's."""

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass

from planbook.text.findings import Finding, Severity
from planbook.text.places import Place, Source, Sources

WIDEST = 110


@dataclass(frozen=True, slots=True)
class Span:
    """A run of text with the role it plays: error, warning, note, hint, place, excerpt, caret or plain."""

    role: str
    text: str


Line = tuple[Span, ...]


def plain(lines: Iterable[Line]) -> str:
    """Lines of spans as plain text."""
    return "\n".join("".join(span.text for span in line).rstrip() for line in lines)


def one_line(finding: Finding) -> str:
    """`file:line:column: severity CODE name: headline`, for editors."""
    where = finding.place
    return (
        f"{where.file}:{where.line}:{where.column}: {finding.severity} {finding.code} {finding.name}: "
        f"{_visible(finding.headline)}"
    )


def as_json(findings: Iterable[Finding]) -> str:
    """A JSON list of findings, every field spelled out."""
    return json.dumps([asdict(f) for f in findings], ensure_ascii=False, indent=2)


def tally(findings: Iterable[Finding]) -> str:
    """`2 errors, 1 warning`, or `nothing to mend`."""
    listed = list(findings)
    parts = []
    for severity in Severity:
        count = sum(f.severity is severity for f in listed)
        if count:
            parts.append(f"{count} {severity}{'s' if count > 1 else ''}")
    return ", ".join(parts) or "nothing to mend"


def for_people(finding: Finding, sources: Sources) -> list[Line]:
    """Headline, place, excerpt with a caret, second places, notes and hint."""
    role = str(finding.severity)
    lines: list[Line] = [
        (
            Span(role, f"{finding.severity}[{finding.code}] {finding.name}"),
            Span("headline", f": {_visible(finding.headline)}"),
        )
    ]
    marks = [(aside.place, "-", aside.text) for aside in finding.also]
    marks.append((finding.place, "^", finding.label))
    gutter = len(str(max(place.line for place, _, _ in marks)))
    where = finding.place
    lines.append((Span("place", f"{' ' * gutter}--> {where.file}:{where.line}:{where.column}"),))
    lines.append((Span("rule", f"{' ' * gutter} |"),))
    lines.extend(_excerpts(marks, sources, gutter, role))
    tail = [("note", f"= {_visible(note)}") for note in finding.notes]
    if finding.hint:
        tail.append(("hint", f"= hint: {_visible(finding.hint)}"))
    if tail:
        lines.append((Span("rule", f"{' ' * gutter} |"),))
    lines.extend((Span("rule", f"{' ' * gutter} "), Span(name, text)) for name, text in tail)
    return lines


def _excerpts(marks: list[tuple[Place, str, str]], sources: Sources, gutter: int, role: str) -> list[Line]:
    lines: list[Line] = []
    main = marks[-1][0]
    previous: Place | None = None
    for place, sign, text in sorted(marks, key=lambda m: (m[0].file != main.file, m[0])):
        source = sources.get(place.file)
        if previous is not None and place.file != previous.file:
            lines.append((Span("place", f"{' ' * gutter}::: {place.file}:{place.line}:{place.column}"),))
            previous = None
        if previous is not None and place.line > previous.line + 1:
            lines.append((Span("rule", "..."),))
        if source is not None:
            if previous is None or previous.line != place.line:
                shown, _ = _window(source, place)
                lines.append((Span("rule", f"{place.line:>{gutter}} | "), Span("excerpt", shown)))
            lines.append(_underline(source, place, sign, text, gutter, role))
        previous = place
    return lines


def _underline(source: Source, place: Place, sign: str, text: str, gutter: int, role: str) -> Line:
    _, start = _window(source, place)
    before = source.line(place.line)[start : place.column - 1]
    run = source.line(place.line)[place.column - 1 : place.column - 1 + place.length]
    carets = sign * max(1, min(_cells(run), WIDEST))
    words = f" {_visible(text)}" if text else ""
    return (
        Span("rule", f"{' ' * gutter} | "),
        Span("plain", " " * _cells(before)),
        Span(role if sign == "^" else "place", carets + words),
    )


def _window(source: Source, place: Place) -> tuple[str, int]:
    """The part of a line that is shown, and where it starts, so that a very long line stays readable."""
    line = source.line(place.line)
    start = 0 if place.column <= WIDEST - 20 else place.column - 40
    return _visible(line[start : start + WIDEST]), start


def _visible(text: str) -> str:
    """Control and direction-changing characters replaced, so that a name cannot disturb the screen."""
    return "".join(" " if char in "\t\n\r" else char if _harmless(char) else "\ufffd" for char in text)


def _harmless(char: str) -> bool:
    return char.isprintable() and char not in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


def _cells(text: str) -> int:
    from unicodedata import combining, east_asian_width

    return sum(0 if combining(c) else 2 if east_asian_width(c) in "WF" else 1 for c in text)
