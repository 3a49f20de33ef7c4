"""Findings and their texts as plain values for JSON, and back again; where they are stored is the caller's."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from planbook.text.findings import Aside, Finding, Severity
from planbook.text.places import Place, Source, Sources


def stored_findings(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """Every field of every finding."""
    return [asdict(finding) for finding in findings]


def restored_findings(stored: Iterable[Mapping[str, Any]]) -> tuple[Finding, ...]:
    """The findings that were stored. Raises KeyError, TypeError or ValueError for anything else."""
    return tuple(
        Finding(
            **{
                **each,
                "severity": Severity(each["severity"]),
                "place": Place(**each["place"]),
                "also": tuple(Aside(Place(**aside["place"]), aside["text"]) for aside in each["also"]),
                "notes": tuple(each["notes"]),
            }
        )
        for each in stored
    )


def stored_sources(sources: Sources) -> dict[str, str]:
    """The texts by the names they are shown under."""
    return {name: source.text for name, source in sources.items()}


def restored_sources(stored: Mapping[str, str]) -> dict[str, Source]:
    """The sources that were stored."""
    return {name: Source(name, text) for name, text in stored.items()}
