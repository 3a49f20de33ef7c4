"""Reads off a build what a release is in numbers, and what it is about in words."""

import hashlib
import math
from collections.abc import Iterable

from planbook.archive.facts import (
    Did,
    Dimension,
    Facts,
    FitFact,
    LumberFact,
    Measure,
    PieceFact,
    StencilFact,
    StepFact,
    Value,
)
from planbook.archive.manifest import About
from planbook.drawing.stencil_art import ArtHole, ArtLine, StencilArt, runs_of
from planbook.drawing.stencil_read import stencil_arts
from planbook.model import Design, Step
from planbook.solids import Area
from planbook.takeoff import Lists
from planbook.takeoff.amounts import show_amount
from planbook.takeoff.records import BoardRow, Dimensions, PieceRow, SupplyRow
from planbook.takeoff.settings import AREAS, settings_of
from planbook.units import Quantity
from planbook.workshop import Event, Fitted, Timeline

GRID = 0.01
"""Lines of stencils that differ by less (mm) are printed alike."""
_OFF = 0.3719
"""Lengths that a maker writes lie on round numbers; this moves the edges of the grid away from them."""
_KINDS: dict[int, Dimension] = {0: "number", 1: "length", 2: "area", 3: "volume"}


def facts_of(timeline: Timeline, taken_off: Lists) -> Facts:
    """The numbers of a build that can be compared."""
    design = timeline.design
    return Facts(
        title=design.card.title,
        units=design.card.units,
        words=_words(design),
        sizes={name: _measure(quantity) for name, quantity in timeline.sizes.items()},
        pieces={row.name: _piece(row) for row in taken_off.pieces},
        steps=tuple(_step(step, timeline) for step in design.steps),
        stencils=_stencils(stencil_arts(timeline)),
        lumber={row.name: _lumber(row) for row in taken_off.boards},
        fits={fitted.name: _fit(fitted, timeline) for fitted in timeline.fits},
        tools=tuple(sorted({row.name for row in taken_off.tools})),
        supplies={row.name: _supply(row, design.card.units) for row in taken_off.supplies},
    )


def about(timeline: Timeline, taken_off: Lists) -> About:
    """What a release is searched by."""
    card = timeline.design.card
    return About(
        title=card.title,
        summary=card.summary,
        maker=card.maker,
        units=card.units,
        skill=card.skill,
        licence=card.licence,
        price=card.price,
        woods=tuple(dict.fromkeys(row.wood for row in taken_off.boards)),
        pieces=tuple(row.name for row in taken_off.pieces),
        steps=tuple(step.title for step in timeline.design.steps),
        stencils=tuple(_stencils(stencil_arts(timeline))),
        tools=tuple(row.name for row in taken_off.tools),
        supplies=tuple(row.name for row in taken_off.supplies),
    )


def _words(design: Design) -> dict[str, str]:
    card = design.card
    found = {
        "title": card.title,
        "summary": card.summary,
        "maker": card.maker,
        "skill": card.skill,
        "licence": card.licence,
        "price": card.price,
        "film": card.film,
        "moments of the film": card.film_moment,
        "use": ", ".join(filter(None, (*card.made_for, card.load))),
        "introduction": design.intro,
        "list of remedies": "\n".join(prose.text for each in design.remedies.values() for prose in each.prose),
    }
    return {name: text for name, text in found.items() if text}


def _measure(quantity: Quantity) -> Measure:
    kind = "angle" if quantity.angle else _KINDS.get(quantity.length, "other")
    return Measure(round(float(quantity.value), 6), kind)


def _sides(size: Dimensions) -> tuple[float, float, float]:
    length, width, thickness = (round(float(side), 6) for side in (size.length, size.width, size.thickness))
    return length, width, thickness


def _piece(row: PieceRow) -> PieceFact:
    return PieceFact(_sides(row.final), round(float(row.cubic_metres) * 1e9, 3), row.woods, row.ending)


def _lumber(row: BoardRow) -> LumberFact:
    return LumberFact(row.wood, _sides(row.to_buy), row.count)


def _supply(row: SupplyRow, units: str) -> str:
    amount = row.us if units == "in" else row.metric
    return show_amount(amount) if amount else ""


def _fit(fitted: Fitted, timeline: Timeline) -> FitFact:
    proof = timeline.envelope.proof(fitted.name) if timeline.envelope else None
    least, most = (proof.least.least, proof.most.most) if proof else (fitted.least, fitted.most)
    ends = (fitted.asked_least, fitted.asked_most, least, most)
    return FitFact(fitted.kind, *(None if end is None or not math.isfinite(end) else round(end, 4) for end in ends))


def _step(step: Step, timeline: Timeline) -> StepFact:
    """Photos and the moment of the film belong to the words; a step without has the digest of its words alone."""
    photos = timeline.design.photos
    shown = [hashlib.sha256(photos[each.file].kept).hexdigest() for each in step.shown if each.file in photos]
    moment = [f"film {step.moment.seconds}"] if step.moment else []
    told = "\0".join((*(prose.text for prose in step.prose), *shown, *moment))
    words = hashlib.sha256(told.encode("utf-8", "replace")).hexdigest()
    return StepFact(step.title, words, tuple(_did(event) for event in timeline.of_step(step)))


def _did(event: Event) -> Did:
    settings: dict[str, Value] = {}
    for setting in settings_of(event.settings):
        if setting.key in AREAS:  # what came of it, which nobody sets
            continue
        value = setting.value
        many = (value,) if isinstance(value, Quantity) else value
        settings[setting.key] = many if isinstance(many, str) else tuple(map(_measure, many))
    return Did(
        kind=event.operation.kind,
        taken=tuple(piece.name for piece in event.taken),
        made=tuple(piece.name for piece in event.made),
        tools=tuple(dict.fromkeys(use.name for use in event.uses)),
        settings=settings,
    )


def _stencils(arts: Iterable[StencilArt]) -> dict[str, StencilFact]:
    """The sheets by their titles; a title that stands on several has a number."""
    found: dict[str, StencilFact] = {}
    for art in arts:
        name, count = art.title, 2
        while name in found:
            name, count = f"{art.title} ({count})", count + 1
        found[name] = _stencil(art)
    return found


def _stencil(art: StencilArt) -> StencilFact:
    left, bottom, right, top = art.face.bounds if not art.face.empty else (0.0, 0.0, 0.0, 0.0)
    geometry = [
        f"face {_rings(art.face)}",
        *sorted(map(_line, art.lines)),
        *sorted(map(_hole, art.holes)),
    ]
    grain = "end" if art.grain is None else f"{art.grain:.0f}"
    parts = sorted(f"{region.name} {region.waste}" for region in art.regions)
    names = sorted((*(line.name for line in art.lines), *(hole.name for hole in art.holes)))
    words = (art.title, art.note, art.face_name, grain, str(art.total), *art.pieces, *parts, *names)
    return StencilFact(art.number, (round(right - left, 3), round(top - bottom, 3)), _digest(geometry), _digest(words))


def _line(line: ArtLine) -> str:
    runs = (
        sorted(_run(run.points) for run in runs_of(line.outline))
        if isinstance(line.outline, Area)
        else [_at(tuple(x for point in line.outline.points for x in point))]
    )
    return f"{line.use} {line.side} {_at((line.leave, line.kerf))} {runs}"


def _hole(hole: ArtHole) -> str:
    return f"hole {_at((*hole.at, hole.diameter))} {'through' if hole.depth is None else _at((hole.depth,))}"


def _rings(area: Area) -> list[str]:
    return sorted(_run(run.points) for run in runs_of(area))


def _run(points: Iterable[tuple[float, float]]) -> str:
    """The corners of a closed line, wherever it begins."""
    return " ".join(sorted({_at(point) for point in points}))


def _at(values: Iterable[float]) -> str:
    """Lengths on the grid."""
    return ",".join(str(math.floor(value / GRID + _OFF)) for value in values)


def _digest(texts: Iterable[str]) -> str:
    return hashlib.sha256("\0".join(texts).encode("utf-8", "replace")).hexdigest()
