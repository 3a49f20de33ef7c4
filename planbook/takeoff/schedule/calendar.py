"""Working hours: so many minutes from the start of each day of 24 hours; waits run on day and night."""

from dataclasses import dataclass

DAY = 1440


@dataclass(frozen=True, slots=True)
class Calendar:
    """`work_a_day` minutes of work each day, from 1 to 1440; a day starts when its work can start."""

    work_a_day: int = DAY

    def __post_init__(self) -> None:
        if not 0 < self.work_a_day <= DAY:
            raise ValueError(f"a day of work is from 1 to {DAY} minutes long, not {self.work_a_day}")

    def place(self, ready: int, work: int) -> tuple[int, int]:
        """When work that is possible from `ready` on starts and ends.

        What fits into one day is not begun in one and ended in another: wet glue does not wait for the next
        evening. Longer work is carried on from day to day. No work takes no hands, at any hour.
        """
        if work <= 0:
            return ready, ready
        day, within = divmod(ready, DAY)
        if within >= self.work_a_day or work <= self.work_a_day < within + work:
            day, within = day + 1, 0
        whole, rest = divmod(within + work - 1, self.work_a_day)
        return day * DAY + within, (day + whole) * DAY + rest + 1

    def place_back(self, due: int, work: int) -> int:
        """The latest start of work that must have ended by `due`; the mirror of `place`."""
        if work <= 0:
            return due
        day, within = divmod(due, DAY)
        within = min(within, self.work_a_day)
        if within == 0 or within < work <= self.work_a_day:
            day, within = day - 1, self.work_a_day
        if work <= within:
            return day * DAY + within - work
        whole, rest = divmod(work - within - 1, self.work_a_day)
        return (day - 1 - whole) * DAY + self.work_a_day - rest - 1

    def day_of(self, moment: int) -> int:
        """The number of the day, from 1, in which work ends that ends at `moment`; 0 where there was none."""
        return -(-moment // DAY)
