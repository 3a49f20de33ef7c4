"""Prints findings: for people with excerpts and colours, for editors a line each, or as JSON."""

import os
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

import click

from planbook.text import Finding, Line, Sources, Span, as_json, for_people, one_line, tally

Format = Literal["people", "lines", "json"]

STYLES: dict[str, dict[str, Any]] = {
    "error": {"fg": "red", "bold": True},
    "warning": {"fg": "yellow", "bold": True},
    "note": {"fg": "cyan"},
    "hint": {"fg": "green"},
    "headline": {"bold": True},
    "place": {"fg": "blue"},
    "rule": {"fg": "blue"},
}


MOST_NAMED = 3
"""Of more files in one folder, only their number is told."""


@dataclass
class Report:
    """Shows the findings of one design after another and knows the exit status at the end.

    With `aside` everything goes to stderr, because stdout is for something else.
    """

    form: Format
    quiet: bool
    aside: bool = False
    gathered: list[Finding] = field(default_factory=list)

    def add(self, folder: Path, findings: Sequence[Finding], sources: Sources, files: Iterable[Path] = ()) -> None:
        """Show what was found in a design and which files were written; JSON waits for the end."""
        self.gathered.extend(findings)
        if self.form == "lines":
            for finding in findings:
                click.echo(one_line(finding), err=self.aside)
        elif self.form == "people":
            for finding in findings:
                click.echo(shown(for_people(finding, sources), colours(self.aside)) + "\n", err=self.aside)
        if not self.quiet:
            self._sum_up(folder, findings, files)

    def answer(self, folder: Path, findings: Sequence[Finding], sources: Sources, sentences: Sequence[str]) -> None:
        """Show the answer to a question about a design, or the findings that stand in its place."""
        if findings:
            self.add(folder, findings, sources)
        for sentence in sentences:
            click.echo(sentence, err=self.form == "json")

    def end(self) -> int:
        """Print what is left and return the exit status: 1 if a finding stops a booklet."""
        if self.form == "json":
            # Bytes, so that it is UTF-8 everywhere; what UTF-8 cannot hold becomes an escape that JSON knows.
            click.echo(as_json(self.gathered).encode("utf-8", "backslashreplace"))
        return int(any(finding.stops for finding in self.gathered))

    def _sum_up(self, folder: Path, findings: Sequence[Finding], files: Iterable[Path]) -> None:
        aside = self.aside or self.form != "people"
        click.echo(f"{folder}: {tally(findings)}", err=aside)
        beside: dict[Path, list[Path]] = {}
        for path in files:
            beside.setdefault(path.parent, []).append(path)
        for parent, paths in beside.items():
            told = [f"{parent}{os.sep} ({len(paths)} files)"] if len(paths) > MOST_NAMED else map(str, paths)
            for name in told:
                click.echo(f"wrote {name}", err=aside)


def shown(lines: Iterable[Line], colour: bool) -> str:
    """Lines of spans as text, with colour codes if asked for."""
    return "\n".join("".join(_span(span, colour) for span in line).rstrip() for line in lines)


def colours(aside: bool = False) -> bool:
    """Whether stdout, or stderr, takes colours: a terminal, and the reader has not asked for none (no-color.org)."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return (sys.stderr if aside else sys.stdout).isatty() and not plain


def _span(span: Span, colour: bool) -> str:
    style = STYLES.get(span.role)
    return click.style(span.text, **style) if colour and style else span.text
