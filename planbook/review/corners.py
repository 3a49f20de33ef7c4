"""How the corners of an envelope are spoken of: what is otherwise there than in the nominal build."""

from collections.abc import Callable, Iterable

from planbook.review.say import short
from planbook.speech import called, say
from planbook.workshop import Corner, Setting, Spread

Length = Callable[[float], str]
"""Prints a length in mm with its unit."""


def corner_words(corner: Corner, length: Length, named: Callable[[str], str] = short) -> str:
    """`with a kerf of 1.3 mm from `narrow blade`, at 65 % humidity`; `named` prints the name of a tool."""
    return listed([_setting_words(setting, length, named) for setting in corner]) if corner else say("as drawn")


def _setting_words(setting: Setting, length: Length, named: Callable[[str], str]) -> str:
    amount = length(abs(setting.value))
    match setting.what:
        case "kerf":
            return say("with a kerf of {amount} from {tool}", amount=amount, tool=named(setting.tool))
        case "sanding":
            return say(
                "with {amount} more sanded off" if setting.value > 0 else "with {amount} less sanded off", amount=amount
            )
        case "thickness":
            return say(
                "with boards {amount} thicker" if setting.value > 0 else "with boards {amount} thinner", amount=amount
            )
        case _:
            return say("at {share} % humidity", share=f"{setting.value:g}")


def range_words(spreads: Iterable[Spread], length: Length) -> str:
    """`kerf 0.9 mm to 1.3 mm (`narrow blade`), sanding 0.1 mm more or less, indoor humidity 25 to 65 %`."""
    kerfs: dict[tuple[float, float], list[str]] = {}
    others: list[str] = []
    for spread in spreads:
        if spread.what == "kerf":
            kerfs.setdefault((spread.least, spread.most), []).append(spread.tool)
        elif spread.what == "humidity":
            least, most = f"{spread.least:g}", f"{spread.most:g}"
            others.append(say("indoor humidity {least} to {most} %", least=least, most=most))
        else:
            what = (
                "sanding {amount} more or less"
                if spread.what == "sanding"
                else "thickness of boards {amount} more or less"
            )
            others.append(say(what, amount=length(spread.most)))
    shown = [
        say("kerf {range} ({tools})", range=_from_to(length(least), length(most)), tools=", ".join(map(called, tools)))
        for (least, most), tools in kerfs.items()
    ]
    return listed([*shown, *others])


def _from_to(least: str, most: str) -> str:
    """`0.9 to 1.3 mm`: the unit once."""
    number, _, unit = least.rpartition(" ")
    return say("{first} to {last}", first=number if most.endswith(f" {unit}") else least, last=most)


def listed(parts: list[str]) -> str:
    """Parts of a sentence with commas between them."""
    return ", ".join(parts)
