"""Every kind of finding that the whole way can come to."""

from planbook.text import Kind


def all_kinds() -> tuple[Kind, ...]:
    """Every kind of finding, by code."""
    from planbook.archive.kinds import ALL as OF_ARCHIVES
    from planbook.drawing.findings import NOT_SHOWN, TOO_LARGE
    from planbook.press.findings import NEARLY_EMPTY
    from planbook.press.kinds import ALL as OF_COPIES
    from planbook.reader.kinds import ALL
    from planbook.reader.language_kinds import ALL as OF_LANGUAGES
    from planbook.reader.orders_kinds import ALL as ORDERS
    from planbook.reader.photo_kinds import ALL as OF_PHOTOS
    from planbook.reader.rack_kinds import ALL as RACK
    from planbook.review import kinds
    from planbook.review.answers import KINDS as OF_ANSWERS
    from planbook.takeoff.kinds import ALL as OF_BUYING
    from planbook.takeoff.prices import KINDS as OF_PRICES

    every = (
        *ALL,
        *RACK,
        *kinds(),
        *OF_ANSWERS,
        *OF_BUYING,
        TOO_LARGE,
        NOT_SHOWN,
        *OF_PRICES,
        *ORDERS,
        *OF_COPIES,
        *OF_ARCHIVES,
        *OF_LANGUAGES,
        *OF_PHOTOS,
        NEARLY_EMPTY,
    )
    return tuple(sorted(every, key=lambda kind: kind.code))


def explain(code: str) -> Kind | None:
    """The kind of finding with this code or name, or None."""
    wanted = code.strip().lower()
    return next((k for k in all_kinds() if wanted in (k.code.lower(), k.name)), None)
