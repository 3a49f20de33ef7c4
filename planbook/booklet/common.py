"""Names of the handbook in the language spoken: woods, glues, finishes, linings, under any name they go by."""

from planbook.handbook import BUILT_IN
from planbook.speech import say, told


def row_said(name: str) -> str:
    """A wood or product in the language spoken; another name of it is said as the row that it stands for."""
    said = told(name)
    if said != name:
        return said
    rows = (BUILT_IN.wood(name), BUILT_IN.glue(name), BUILT_IN.finish(name), BUILT_IN.lining(name))
    found = next((row for row in rows if row is not None), None)
    return name if found is None or say(found.name) == found.name else say(found.name)
