"""Lists read off a simulated build: lumber, pieces, tools, supplies, cautions, time; it writes no files."""

from planbook.takeoff.alike import group_name, together
from planbook.takeoff.amounts import show_amount
from planbook.takeoff.gather import lists
from planbook.takeoff.records import (
    Amount,
    BoardRow,
    CautionHere,
    CutRow,
    Dimensions,
    Ending,
    LeftoverRow,
    Lists,
    PieceRow,
    Safety,
    Setting,
    StepSafety,
    StepTime,
    SupplyRow,
    Time,
    ToolRow,
    Unit,
    WoodRow,
    WoodTotal,
)
from planbook.takeoff.schedule import Schedule, plan
from planbook.takeoff.settings import show_setting
from planbook.takeoff.sheet import as_csv, as_json

__all__ = [
    "Amount",
    "BoardRow",
    "CautionHere",
    "CutRow",
    "Dimensions",
    "Ending",
    "LeftoverRow",
    "Lists",
    "PieceRow",
    "Safety",
    "Schedule",
    "Setting",
    "StepSafety",
    "StepTime",
    "SupplyRow",
    "Time",
    "ToolRow",
    "Unit",
    "WoodRow",
    "WoodTotal",
    "as_csv",
    "as_json",
    "group_name",
    "lists",
    "plan",
    "show_amount",
    "show_setting",
    "together",
]
