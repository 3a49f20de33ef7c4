"""The sample booklet, and a small build with its lists, shared by the tests of this folder."""

import importlib.util
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pytest

from planbook.booklet import Book, Edition, Pictures, make_book
from planbook.drawing.marks import Pen, Picture, Stroke
from planbook.handbook import caution, general_precautions
from planbook.model import Card, Design, Prose, Step
from planbook.solids.solid import block
from planbook.takeoff import (
    Amount,
    BoardRow,
    CautionHere,
    CutRow,
    Dimensions,
    Lists,
    PieceRow,
    Safety,
    Setting,
    StepSafety,
    StepTime,
    SupplyRow,
    Time,
    ToolRow,
    WoodRow,
    WoodTotal,
)
from planbook.text import Place
from planbook.units import Quantity
from planbook.workshop import At, Fitted, Piece, Timeline

HERE = Place("steps.md")
WALL = Quantity(Fraction("9.525"), length=1)
SIZE = Dimensions(Fraction("285.75"), Fraction("139.7"), Fraction("9.525"))
DOT = Picture(20, 15, (Stroke(((1, 1), (19, 14)), Pen(0.2)),))


@pytest.fixture(scope="session")
def boat_tray() -> ModuleType:
    spec = importlib.util.spec_from_file_location("boat_tray", Path(__file__).with_name("boat_tray.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@dataclass(frozen=True)
class Page:
    picture: Picture
    title: str
    copies: int = 1


def design() -> Design:
    card = Card(
        title="Boat-shaped tray",
        summary="A tray 3/8 in thin.",
        version="1.2",
        maker="Saltmarsh Workshop",
        units="in",
        skill="some",
        licence="Make as many as you like.",
        price="",
        film="https://saltmarsh.example/film",
        place=HERE,
    )
    steps = (
        Step(1, "Saw the hull", (Prose("Take the {blank}; leave {Wall}.", HERE), Prose(" \n", HERE)), HERE),
        Step(2, "Oil it", (Prose("Oil the {hull} and {nothing}.", HERE),), HERE),
    )
    return Design("tray", card, {}, {}, {}, {}, {}, {}, {}, "Made in two evenings.", steps)


def timeline() -> Timeline:
    hull = Piece("hull", block((0, 0, 0), (285.75, 139.7, 88.9)), (), At(1, 1, HERE))
    fits = (
        Fitted("wall", "wall", 9.4, 9.4, asked_least=8.0),
        Fitted("lid slides", "slide", 0.4, 1.1, stage="40 %", asked_least=0.2, asked_most=1.5),
        Fitted("unknown", "slide", None, None),
    )
    return Timeline(design(), {"wall": WALL}, {}, (), (), {}, {"hull": hull}, (hull,), fits)


def lists() -> Lists:
    saw, dust = caution("saw"), caution("wood dust")
    assert saw is not None
    assert dust is not None
    board = BoardRow(
        1, ("plank", "rail"), "walnut", SIZE, None, "x", Fraction(7, 4), Fraction(2), Fraction(1, 25),
        Fraction(41, 10000), (1,),
    )  # fmt: skip
    kerf = Setting("kerf", Quantity(Fraction("0.79375"), length=1))
    return Lists(
        title="Boat-shaped tray",
        boards=(board,),
        totals=(WoodTotal("walnut", 2, Fraction(7, 4), Fraction(2), Fraction(1, 25), Fraction(41, 10000), 2.5),),
        pieces=(
            PieceRow(1, "blank", SIZE, SIZE, ("walnut",), 0, (1,), "joined", "hull", True, Fraction(0), None),
            PieceRow(2, "hull", SIZE, SIZE, ("walnut", "maple"), 1, (2,), "part", "", False, Fraction(0), None),
        ),
        leftovers=(),
        tools=(ToolRow("narrow blade", "band saw", (kerf, kerf), (1,), "", False),),
        supplies=(
            SupplyRow(
                "oil",
                "finish",
                "tung oil",
                (2,),
                None,
                None,
                3,
                Amount(Fraction(70), "ml"),
                Amount(Fraction(5, 2), "fl oz"),
                "",
                False,
            ),
            SupplyRow("P120", "abrasive", "P120", (2,), None, None, 0, None, None, "It depends.", False),
        ),
        safety=Safety(
            general_precautions(),
            (
                StepSafety(1, "", (CautionHere(saw, 1, False), CautionHere(dust, 1, False))),
                StepSafety(2, "", (CautionHere(dust, 1, True),)),
            ),
        ),
        time=Time((StepTime(1, "", 30, 0, 0), StepTime(2, "", 20, 90, 30)), 50, 90, 140, 140, 240, 2),
        woods=(WoodRow("walnut", True, "", "hardwood", None, "", "", ()),),
        cuts=(CutRow(1, 1, "saw", ("blank",), ("narrow blade",), (kerf,)),),
        kilograms=1.0,
    )


def book(edition: Edition | None = None, **pictures: object) -> Book:
    pages = (Page(Picture(215.9, 279.4, DOT.marks), "Stencil 1 of 1"),)
    shown = Pictures(**{"cover": DOT, "steps": {1: DOT}, "pieces": {"hull": DOT}, **pictures})  # type: ignore[arg-type]
    return make_book(timeline(), lists(), shown, pages, edition or Edition())
