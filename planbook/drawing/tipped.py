"""A piece tipped so that its top faces the front, which leaves a flat one more room for its length; draws nothing."""

from collections.abc import Mapping

from planbook.drawing.bored_later import Spot
from planbook.solids import Solid


def tipped(solid: Solid) -> Solid:
    """The solid turned a quarter about x: its top to the front, its back upwards."""
    return solid.turned((1.0, 0.0, 0.0), 90.0)


def tipped_spots(steps: Mapping[Spot, int], solid: Solid) -> Mapping[Spot, int]:
    """What is told of holes by axis and middle, mm from the lower corner, as they lie once the solid is tipped."""
    high = solid.extent[2]

    def turned(spot: Spot) -> Spot:
        axis, (first, second) = spot
        if axis == 0:
            return (0, (high - second, first))
        return (2, (first, high - second)) if axis == 1 else (1, (first, second))

    return {turned(spot): step for spot, step in steps.items()}
