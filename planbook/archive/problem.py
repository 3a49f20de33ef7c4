"""Why something cannot be done with an archive; what is wrong inside one is a finding."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planbook.text import Finding


class ArchiveProblem(Exception):  # noqa: N818 - it is told to people in one sentence
    """Something that cannot be done as asked, in a sentence."""


class Refused(ArchiveProblem):
    """Something that the archive does not take, with the findings that say why."""

    def __init__(self, *findings: "Finding") -> None:
        super().__init__("; ".join(finding.headline for finding in findings))
        self.findings = findings


class Damaged(ArchiveProblem):
    """An object or manifest of the archive that is missing or is not what was put there."""

    def __init__(self, sentence: str, name: str) -> None:
        super().__init__(sentence)
        self.name = name
