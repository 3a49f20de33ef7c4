"""Keeps what the printing libraries log, so that nothing of it reaches the screen; it judges nothing else."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager

FASTER = (
    "the library HarfBuzz-Subset is not installed, so fonts are embedded the slow way; "
    "to install it: sudo apt install libharfbuzz-subset0 (Debian, Ubuntu), sudo dnf install harfbuzz "
    "(Fedora), brew install harfbuzz (macOS)"
)
_SLOW = "Using fontTools instead of HarfBuzz-Subset"
_LONGEST = 300


class _Keeper(logging.Handler):
    def __init__(self, kept: list[str]) -> None:
        super().__init__(logging.WARNING)
        self.kept = kept

    def emit(self, record: logging.LogRecord) -> None:
        message = " ".join(record.getMessage().split())
        self.kept.append(message if len(message) <= _LONGEST else message[:_LONGEST] + "…")


@contextmanager
def heard(*names: str) -> Iterator[list[str]]:
    """The warnings and errors that the loggers of these names speak meanwhile."""
    kept: list[str] = []
    keeper = _Keeper(kept)
    loggers = [logging.getLogger(name) for name in names]
    before = [(logger, logger.handlers[:], logger.propagate) for logger in loggers]
    for logger in loggers:
        logger.handlers, logger.propagate = [keeper], False
    try:
        yield kept
    finally:
        for logger, handlers, propagate in before:
            logger.handlers, logger.propagate = handlers, propagate


def advice_in(said: list[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Complaints about the document, each once, and advice about the machine."""
    slow = any(message.startswith(_SLOW) for message in said)
    complaints = tuple(dict.fromkeys(message for message in said if not message.startswith(_SLOW)))
    return complaints, ((FASTER,) if slow else ())
