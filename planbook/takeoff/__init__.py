"""Lists read off a simulated build: lumber, pieces, tools, supplies, cautions, time; it writes no files."""

from planbook.takeoff.alike import group_name, together
from planbook.takeoff.amounts import show_amount
from planbook.takeoff.board_sizes import finished_told, to_buy_told
from planbook.takeoff.gather import Lists, lists
from planbook.takeoff.leeways import (
    diameters_of,
    leeways_of,
    levels_of,
    metric_sheets,
    places_set,
    prints_of,
    repeats_of,
    rows_of,
    sides_of,
    thicknesses,
)
from planbook.takeoff.machines import SANDERS, sanders_called
from planbook.takeoff.pieces import single_pieces
from planbook.takeoff.plans import CutPlan, CutPlans, cut_plans
from planbook.takeoff.pressed import clamped_minutes
from planbook.takeoff.records import (
    Amount,
    BoardRow,
    CautionHere,
    CutRow,
    Dimensions,
    Ending,
    LeftoverRow,
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
    in_short,
)
from planbook.takeoff.schedule import Schedule, plan
from planbook.takeoff.schema import lists_schema
from planbook.takeoff.settings import BORED, KERFS, kerf_style, lengths_given, lengths_set, show_setting
from planbook.takeoff.sheet import as_csv, as_json
from planbook.takeoff.shopping import Bought, shopping
from planbook.takeoff.stages import stages_of
from planbook.takeoff.table import as_table

__all__ = [
    "BORED",
    "KERFS",
    "SANDERS",
    "Amount",
    "BoardRow",
    "Bought",
    "CautionHere",
    "CutPlan",
    "CutPlans",
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
    "as_table",
    "clamped_minutes",
    "cut_plans",
    "diameters_of",
    "finished_told",
    "group_name",
    "in_short",
    "kerf_style",
    "leeways_of",
    "lengths_given",
    "lengths_set",
    "levels_of",
    "lists",
    "lists_schema",
    "metric_sheets",
    "places_set",
    "plan",
    "prints_of",
    "repeats_of",
    "rows_of",
    "sanders_called",
    "shopping",
    "show_amount",
    "show_setting",
    "sides_of",
    "single_pieces",
    "stages_of",
    "thicknesses",
    "to_buy_told",
    "together",
]
