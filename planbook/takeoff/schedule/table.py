"""The schedule as plain rows of text for a command or a spreadsheet; it draws nothing and sets no page."""

from planbook.takeoff.schedule.records import Day, Schedule
from planbook.units import show_minutes

Row = tuple[str, ...]


def day_table(schedule: Schedule) -> tuple[Row, ...]:
    """The days as rows, the head first: day, step, what it is about, its work on that day, what rests overnight."""
    titles = {step.step: step.title for step in schedule.steps}
    rows: list[Row] = [("Day", "Step", "What", "Work", "Rests overnight")]
    for day in schedule.days:
        rests = _rests(day)
        for number, stint in enumerate(day.stints):
            part = f" ({stint.part} of {stint.parts})" if stint.parts > 1 else ""
            work = show_minutes(stint.end - stint.start)
            first = number == 0
            rows.append(
                (
                    str(day.number) if first else "",
                    str(stint.step),
                    titles[stint.step] + part,
                    work,
                    rests if first else "",
                )
            )
        if not day.stints:
            rows.append((str(day.number), "", "", "", rests))
    return tuple(rows)


def fact_table(schedule: Schedule) -> tuple[Row, ...]:
    """What the schedule comes to, as rows of a label and its value."""
    days = str(len(schedule.days))
    least = " (the fewest possible)" if schedule.is_least else f" (no plan takes fewer than {schedule.least_days})"
    return (
        ("Made together", str(schedule.count)),
        ("Hands-on work", show_minutes(schedule.work)),
        ("Work a day, at most", show_minutes(schedule.work_a_day)),
        ("Days of work", days + least),
        ("Days without using the waits", str(schedule.days_in_order)),
        ("Longest chain of work and waits", show_minutes(schedule.longest)),
        ("Steps of that chain", ", ".join(map(str, schedule.path))),
    )


def _rests(day: Day) -> str:
    steps = sorted({wait.step for wait in day.overnight})
    return f"step{'s' if len(steps) > 1 else ''} {', '.join(map(str, steps))}" if steps else ""
