"""Kinds of findings about a price list; not how they are found."""

from planbook.text import Kind, Severity

ERROR = Severity.ERROR
_HEAD = 'currency = "EUR"\n\n'

CURRENCY = Kind(
    "COS01",
    "price-currency",
    ERROR,
    "A price list does not say its currency, or not in three letters.",
    "A number without a currency is not a price, and a sign such as $ stands for several.",
    'currency = "euros"',
    'currency = "EUR"',
)
TWO_CURRENCIES = Kind(
    "COS02",
    "two-currencies",
    ERROR,
    "A price is in another currency than the list.",
    "Sums of two currencies mean nothing, and a rate of exchange is not for a plan to guess.",
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50 USD"\nper = "board foot"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "board foot"',
)
NOT_A_PRICE = Kind(
    "COS03",
    "not-a-price",
    ERROR,
    "A price cannot be read as a number.",
    "A price is written with a point before its decimals and without other signs.",
    _HEAD + '[[item]]\nname = "cherry"\nprice = "about nine"\nper = "board foot"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.00"\nper = "board foot"',
)
NEGATIVE = Kind(
    "COS04",
    "negative-price",
    ERROR,
    "A price is below zero.",
    "Nobody is paid for taking wood home; most likely a sign was mistyped.",
    _HEAD + '[[item]]\nname = "cherry"\nprice = "-9.50"\nper = "board foot"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "board foot"',
)
UNKNOWN_SALE = Kind(
    "COS05",
    "unknown-unit-of-sale",
    ERROR,
    "What a price is for is not a known unit.",
    "A price needs a unit: board foot, m3, m2, m, l, kg, board, sheet, piece, hour, page, or a pack such as 500 ml.",
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "bord foot"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "board foot"',
)
PRICED_TWICE = Kind(
    "COS06",
    "priced-twice",
    ERROR,
    "One thing has two prices for the same unit and thickness.",
    "Nobody can know which of the two holds.",
    _HEAD
    + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "m2"\n\n[[item]]\nname = "cherry"\nprice = "9.80"\nper = "m2"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "m2"',
)
FOR_NOTHING = Kind(
    "COS07",
    "price-for-nothing-known",
    Severity.WARNING,
    "A price is for something that neither the handbook nor the design knows.",
    "A mistyped name is never found, and what it was meant for counts as having no price.",
    _HEAD + '[[item]]\nname = "chery"\nprice = "9.50"\nper = "board foot"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "board foot"',
)
UNFIT_SALE = Kind(
    "COS08",
    "unfit-unit-of-sale",
    ERROR,
    "A price is for a unit in which such a thing is not sold.",
    "Wood by the litre or glue by the board foot cannot be reckoned with.",
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "l"',
    _HEAD + '[[item]]\nname = "cherry"\nprice = "9.50"\nper = "board foot"',
)
NOT_A_THICKNESS = Kind(
    "COS09",
    "not-a-thickness",
    ERROR,
    "A thickness in a price list is neither a length nor a size of the trade such as 4/4.",
    "A price of one thickness must not be taken for another.",
    _HEAD + '[[item]]\nname = "cherry"\nthickness = "thin"\nprice = "9.50"\nper = "board foot"',
    _HEAD + '[[item]]\nname = "cherry"\nthickness = "4/4"\nprice = "9.50"\nper = "board foot"',
)
ALL: tuple[Kind, ...] = (
    CURRENCY,
    TWO_CURRENCIES,
    NOT_A_PRICE,
    NEGATIVE,
    UNKNOWN_SALE,
    PRICED_TWICE,
    FOR_NOTHING,
    UNFIT_SALE,
    NOT_A_THICKNESS,
)
