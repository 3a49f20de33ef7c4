"""Runs the program and turns everything that can end it into one sentence and an exit status."""

import os
import sys
from collections.abc import Sequence

import click

from planbook.cli.program import program
from planbook.cli.refusal import Refusal, fault_words

CLEAN, FINDINGS, REFUSED, FAULT, INTERRUPTED, PIPE_CLOSED = 0, 1, 2, 3, 130, 141
"""Exit statuses: 130 and 141 are what a shell reports for a program ended by Ctrl-C or a closed pipe."""

TRACE = "PLANBOOK_TRACE"
"""Set this in the environment to see where the program itself went wrong."""


def run(args: Sequence[str]) -> int:
    """Carry out a command line and return its exit status; prints a sentence, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")
    try:
        status = program.main(args=list(args), prog_name="planbook", standalone_mode=False)
    except click.ClickException as problem:
        problem.show()
        return REFUSED
    except (click.Abort, KeyboardInterrupt):
        click.echo("planbook: stopped", err=True)
        return INTERRUPTED
    except SystemExit:
        # The one place where click ends the process by itself: nobody reads the output any more.
        return PIPE_CLOSED
    except Exception as fault:
        return _fault(fault)
    return status if isinstance(status, int) else CLEAN


def _fault(fault: Exception) -> int:
    """A fault of the program itself. The traceback is shown only to those who ask for it."""
    if os.environ.get(TRACE):
        raise fault
    Refusal(f"{fault_words(fault)}; set {TRACE}=1 to see where").show()
    return FAULT
