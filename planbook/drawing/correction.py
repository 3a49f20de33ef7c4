"""The correction of a printer that prints too large or too small: how it is told, and pages stretched against it."""

import re
from dataclasses import dataclass
from fractions import Fraction

from planbook.drawing.marks import Mark, scaled

BAR = 100.0
"""The bar that is measured, mm; in inches it is the one of 4 in."""
BAR_IN = Fraction(4)
MOST = 0.03
"""A printer further off than this is set wrongly; its settings are mended, not the stencils."""
_NUMBER = r"(\d{1,3}(?:[.,]\d{1,4})?)"
_MEASURED = re.compile(rf"\s*{_NUMBER}\s*(mm|in)?\s*[x×*]\s*{_NUMBER}\s*(mm|in)?\s*", re.IGNORECASE)


class NotMeasured(ValueError):  # noqa: N818 - it reports what was typed, not a failure of the program
    """What was typed is not a pair of measured bars that can be corrected."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What the bar of 100 mm measured on paper, across the page and along it, mm."""

    across: float = BAR
    along: float = BAR

    @property
    def factors(self) -> tuple[float, float]:
        """How much larger the printer prints, across and along."""
        return self.across / BAR, self.along / BAR

    @property
    def needed(self) -> bool:
        """Whether there is anything to correct."""
        return self.factors != (1.0, 1.0)

    def sheet(self, paper: tuple[float, float]) -> tuple[float, float]:
        """The part of a drawing in true millimetres that the printer puts on a paper of this size (mm)."""
        return paper[0] * self.factors[0], paper[1] * self.factors[1]

    def applied(self, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
        """Marks in true millimetres as they must be sent to the printer."""
        across, along = self.factors
        return scaled(marks, 1 / across, 1 / along)


UNCORRECTED = Correction()
"""A printer that prints true."""


def read_measured(text: str) -> Correction:
    """What a reader measured: `99.4x100.2` for the bar of 100 mm, `3.98x4.01 in` for the bar of 4 in.

    Bars of 100 mm are also meant without a unit where the numbers lie near 100, those of 4 in where they lie near 4.
    Raises NotMeasured with a sentence.
    """
    match = _MEASURED.fullmatch(text)
    if match is None:
        raise NotMeasured(f"`{text}` is not two lengths such as 99.4x100.2, across the page and along it")
    numbers = [Fraction(match[i].replace(",", ".")) for i in (1, 3)]
    unit = (match[4] or match[2] or ("in" if max(numbers) < 10 else "mm")).lower()
    if match[2] and match[4] and match[2].lower() != match[4].lower():
        raise NotMeasured(f"`{text}` mixes two units; measure both bars in the same one")
    across, along = (float(number / BAR_IN * 100 if unit == "in" else number) for number in numbers)
    bar = "4 in" if unit == "in" else "100 mm"
    for way, found, typed in (("across", across, numbers[0]), ("along", along, numbers[1])):
        off = found / BAR - 1
        if abs(off) > MOST + 1e-9:
            raise NotMeasured(
                f"the bar of {bar} measured {float(typed):g} {unit} {way} the page, which is {abs(off):.1%} too "
                f"{'long' if off > 0 else 'short'}; more than {MOST:.0%} is a setting of the printer "
                "(print at 100 %, actual size), so it is not corrected"
            )
    return Correction(across, along)
