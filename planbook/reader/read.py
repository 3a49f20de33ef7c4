"""Reads a folder with `design.toml` and `steps.md` into a design, or says all that is wrong with it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from planbook.model import Design, Photo, Shown
from planbook.reader import building, files, kinds
from planbook.reader.checking import Checked, check
from planbook.reader.choice_checks import check_choices, check_effects
from planbook.reader.drawings import take_drawings
from planbook.reader.formulas import check_formulas, check_sizes
from planbook.reader.moments import check_film
from planbook.reader.names import check_names, check_texts
from planbook.reader.own_book import OwnBook, read_book
from planbook.reader.photos import take_photos
from planbook.reader.references import check_references
from planbook.reader.remedies import check_remedies, remedies_of
from planbook.reader.steps import Read, read_steps
from planbook.reader.toml_tree import Frame, read_tree
from planbook.reader.translations import Translations, read_translations
from planbook.text import Finding, Place, Source, Sources, in_order

BEARABLE = frozenset({kinds.UNKNOWN_KEY.code, kinds.UNTITLED_STEP.code})
"""Errors that leave every record whole: the design is handed on, so that more can be said about it."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read: the design, or None where a part of it could not be made out; findings; texts.

    A design that is handed on is whole: every record was built, every name of a wood, product, shape and size
    in `design.toml` is known, and every formula there comes to a value of the right kind and sign.
    """

    design: Design | None
    findings: tuple[Finding, ...]
    sources: Sources = field(default_factory=dict)


def read_design(folder: Path) -> Reading:
    """Read the design in a folder. Whatever the files hold, this raises nothing."""
    fault = files.folder_fault(folder)
    if fault:
        return Reading(None, (fault,))
    toml, markdown = files.load(folder, files.DESIGN), files.load(folder, files.STEPS)
    sources = {each.source.file: each.source for each in (toml, markdown) if each.source}
    findings = [*toml.findings, *markdown.findings]
    made, own = (None, OwnBook())
    if toml.usable and toml.source:
        made, own = _design_file(folder, toml.source, findings)
    if own.source:
        sources[own.source.file] = own.source
    steps = read_steps(markdown.source) if markdown.usable and markdown.source else None
    if steps:
        findings += steps.findings
    if made:
        findings += check_remedies(made, steps.steps if steps else ())
    first = made.card.language if made and made.card else "en"
    told = read_translations(folder, made.root if made else None, steps.steps if steps else [], first)
    findings += told.findings
    if made and made.card:
        findings += check_film(building.card_of(made, made.card), made.root, steps.steps if steps else ())
    photos, about_photos = take_photos(folder, _shown(steps, told))
    findings += about_photos
    sources |= told.sources
    whole = not any(finding.stops and finding.code not in BEARABLE for finding in findings)
    design = _design(folder, made, steps, told, sources, photos) if whole and made and steps else None
    findings += check_effects(design) if design else ()
    return Reading(design, in_order(findings), sources)


def _design_file(folder: Path, source: Source, findings: list[Finding]) -> tuple[Checked | None, OwnBook]:
    """Everything about `design.toml`: its syntax, its tables one by one, then what they say of each other.

    The rows of the handbook that are the maker's own belong to it: its woods and products are looked up there too.
    """
    tree = read_tree(source.text, Frame(source), Place(source.file, 1, 1))
    findings += tree.findings
    if tree.root is None:
        return None, OwnBook()
    made, own = check(tree.root, source), read_book(folder, tree.root)
    made.book, made.lost = own.book, tree.lost
    findings += own.findings
    declared = tuple(made.entries("sizes"))
    values, about_sizes = check_sizes(made.sizes, declared, source)
    findings += made.findings
    findings += about_sizes
    if not tree.lost:
        findings += check_formulas(made.found, values, declared, source)
    findings += check_names(made)
    findings += check_texts(made.root, keys=False)
    findings += check_references(made, values, tree.lost, own)
    findings += check_choices(made, tree.lost)
    findings += take_drawings(made, folder)
    return made, own


def _shown(steps: Read | None, told: Translations) -> Iterator[Shown]:
    """Every photo that a step asks for, in any language."""
    for step in steps.steps if steps else ():
        yield from step.shown
    for translation in told.told.values():
        for telling in translation.steps:
            yield from telling.shown


def _design(
    folder: Path, made: Checked, steps: Read, told: Translations, sources: Sources, photos: Mapping[str, Photo]
) -> Design | None:
    if made.card is None:
        return None
    return Design(
        folder=files.shown(folder),
        card=building.card_of(made, made.card),
        sizes=made.sizes,
        stock=building.stock_of(made),
        shapes=building.shapes_of(made),
        stencils=building.stencils_of(made),
        tools=building.tools_of(made),
        supplies=building.supplies_of(made),
        fits=building.fits_of(made),
        intro=steps.intro,
        steps=tuple(steps.steps),
        sources=sources,
        handbook=made.book,
        choices=building.choices_of(made),
        varies=building.varies_of(made),
        translations=told.told,
        remedies=remedies_of(made, steps.steps),
        photos=photos,
    )
