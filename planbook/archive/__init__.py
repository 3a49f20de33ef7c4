"""Releases: frozen versions of designs in a folder of checked objects, their catalogue, comparison and exchange."""

from planbook.archive.archive import Archive, Taken
from planbook.archive.names import Ref, Version, design_name, read_ref, read_version, release_name, unsafe
from planbook.archive.problem import ArchiveProblem, Damaged, Refused

__all__ = [
    "Archive",
    "ArchiveProblem",
    "Damaged",
    "Ref",
    "Refused",
    "Taken",
    "Version",
    "design_name",
    "read_ref",
    "read_version",
    "release_name",
    "unsafe",
]
