"""When to do what: the graph of the work, its critical path, and days for one pair of hands; no drawing, no paper."""

from planbook.takeoff.schedule.calendar import Calendar
from planbook.takeoff.schedule.critical import Critical, Moment, critical
from planbook.takeoff.schedule.graph import Link, Task
from planbook.takeoff.schedule.hands import Placed, arranged, in_order
from planbook.takeoff.schedule.least import least_days
from planbook.takeoff.schedule.plan import plan
from planbook.takeoff.schedule.records import Day, Schedule, StepPlan, Stint, Wait, Waits
from planbook.takeoff.schedule.table import day_table, fact_table

__all__ = [
    "Calendar",
    "Critical",
    "Day",
    "Link",
    "Moment",
    "Placed",
    "Schedule",
    "StepPlan",
    "Stint",
    "Task",
    "Wait",
    "Waits",
    "arranged",
    "critical",
    "day_table",
    "fact_table",
    "in_order",
    "least_days",
    "plan",
]
