"""Which parts of a booklet are not in its language, so that they can be marked for whoever has it read aloud."""

from collections.abc import Mapping

from planbook.model import Design, telling


def foreign(design: Design, language: str) -> Mapping[str, str]:
    """The language of each part that was not told in that of the booklet: title, summary, licence, intro, names."""
    own = design.card.language
    if own == language:
        return {}
    told = design.translations.get(language)
    written = dict(told.card, intro=told.intro, names="told") if told else {}
    return {part: own for part in ("title", "summary", "licence", "intro", "names") if not written.get(part)}


def foreign_step(design: Design, language: str, number: int) -> tuple[str, str]:
    """The languages of heading and prose of a step, where they are not that of the booklet; else empty."""
    own = design.card.language
    if own == language:
        return "", ""
    told = telling(design, language, number)
    return ("" if told and told.title else own, "" if told and told.prose else own)
