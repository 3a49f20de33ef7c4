"""The optional last resort against a long search; without a limit the same input gives the same layout."""

import time


class Clock:
    """Says when the time is over; without a limit (None) it never is."""

    def __init__(self, seconds: float | None) -> None:
        self.end = None if seconds is None else time.monotonic() + seconds

    def over(self) -> bool:
        """Whether the time is over."""
        return self.end is not None and time.monotonic() > self.end
