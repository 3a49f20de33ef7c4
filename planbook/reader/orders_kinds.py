"""Kinds of findings about a list of orders."""

from planbook.text import Kind, Severity

ORDER_COLUMNS = Kind(
    "ORD01",
    "order-columns",
    Severity.ERROR,
    "The first line of a list of orders lacks a column, has one twice, or one that is not known.",
    "The first line says what the columns hold: order and name; if wanted also licence and contact.",
    "number,name\n1042,Ada Fenn",
    "order,name\n1042,Ada Fenn",
)
ORDER_LINE = Kind(
    "ORD02",
    "order-line",
    Severity.ERROR,
    "A line of a list of orders cannot be split into the columns of the first line.",
    "A quote that is not closed, or a comma too many, would put a name in the place of a number.",
    'order,name\n1042,"Ada Fenn',
    'order,name\n1042,"Fenn, Ada"',
)
ORDER_LACKS = Kind(
    "ORD03",
    "order-lacks-a-value",
    Severity.ERROR,
    "An order has no number, no name or no licence.",
    "All three are printed on every page. A licence that all orders share can be given once with `--licence`.",
    "order,name\n1042,",
    "order,name\n1042,Ada Fenn",
)
ORDER_UNSAFE = Kind(
    "ORD04",
    "order-unsafe",
    Severity.ERROR,
    "A value of an order holds a character that is not seen, or begins like a formula of a spreadsheet.",
    "Unseen characters make one name look like another; a spreadsheet that opens the register may carry out what "
    "begins with =, +, - or @.",
    'order,name\n1042,"=1+1"',
    "order,name\n1042,Ada Fenn",
)
ORDER_TWICE = Kind(
    "ORD05",
    "order-twice",
    Severity.ERROR,
    "The same order number stands in two lines.",
    "Both copies would have the same file name, and nobody could tell which buyer has which.",
    "order,name\n1042,Ada Fenn\n1042,Bo Reed",
    "order,name\n1042,Ada Fenn\n1043,Bo Reed",
)
ORDER_TOO_LONG = Kind(
    "ORD06",
    "order-too-long",
    Severity.ERROR,
    "Name, order number and licence together do not fit on the line that is printed for them, or one of them is "
    "longer than any list needs.",
    "The line is 150 mm long, and smaller type could not be read.",
    "order,name,licence\n1042,Ada Fenn,You may do this and that and also all of the following things as long as ...",
    "order,name,licence\n1042,Ada Fenn,For one maker",
)
ORDER_NO_FONT = Kind(
    "ORD07",
    "order-without-font",
    Severity.ERROR,
    "No font on this machine has a character of an order.",
    "The copy would show a blank where the buyer's name should be. Install a font of that script, or name one "
    "with `--font`.",
    "order,name\n1042,\U0001f4d0",
    "order,name\n1042,Ada Fenn",
)

ALL: tuple[Kind, ...] = (
    ORDER_COLUMNS,
    ORDER_LINE,
    ORDER_LACKS,
    ORDER_UNSAFE,
    ORDER_TWICE,
    ORDER_TOO_LONG,
    ORDER_NO_FONT,
)
