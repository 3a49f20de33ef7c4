"""Which joints clamps press while the glue takes hold, and for how long."""

from planbook.workshop import Event

PRESSED = ("glue up", "glue", "shim")
"""A plug sits in its hole by itself."""


def clamped_minutes(event: Event) -> float:
    """How long the clamps of a joint stay on, minutes; 0 where none press it."""
    return float(dict(event.settings).get("clamp") or 0.0) if event.operation.kind in PRESSED else 0.0
