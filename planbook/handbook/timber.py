"""Formulas for how wood takes up moisture, moves and weighs; tables of figures are elsewhere."""

FIBRE_SATURATION = 30.0
"""Moisture content in per cent above which wood no longer moves, when nothing better is known (Eq. 4-9)."""


def emc(rh_fraction: float, celsius: float) -> float:
    """Equilibrium moisture content of wood in per cent, at a relative humidity (0 to 1) and deg C.

    Source: Wood Handbook, USDA FPL-GTR-190 (2010), Eq. 4-5 in its SI form (two-hydrate Hailwood-Horrobin;
    Simpson 1973). Raises ValueError when the humidity is not between 0 and 1.
    """
    if not 0 <= rh_fraction <= 1:
        raise ValueError(f"relative humidity must be a fraction from 0 to 1, not {rh_fraction}")
    t = celsius
    weight = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * rh_fraction
    one, two = k1 * kh, k1 * k2 * kh**2
    return 1800 / weight * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two))


def change_coefficient(shrink_pct: float) -> float:
    """Fractional change of size per point of moisture content, from shrinkage green to ovendry in per cent.

    C = 1 / (3000/S - 20): Wood Handbook (2010) Eq. 13-3 taken at 10 % initial moisture, which gives most of
    Table 13-5 from Table 4-3 to its five printed decimals. No shrinkage gives no change.
    """
    return 0.0 if shrink_pct == 0 else 1 / (3000 / shrink_pct - 20)


def movement_mm(size_mm: float, coefficient: float, mc_from: float, mc_to: float) -> float:
    """Change of size in mm between two moisture contents (per cent), both from 6 to 14 %; growth is positive.

    Source: Wood Handbook (2010) Eq. 13-2.
    """
    return size_mm * coefficient * (mc_to - mc_from)


def movement_wide_mm(size_mm: float, shrink_pct: float, mc_from: float, mc_to: float) -> float:
    """Change of size in mm between any two moisture contents (per cent); above 30 % wood does not move.

    Source: Wood Handbook (2010) Eq. 13-3, with the shrinkage green to ovendry in per cent.
    """
    if shrink_pct == 0:
        return 0.0
    start, end = min(mc_from, FIBRE_SATURATION), min(mc_to, FIBRE_SATURATION)
    span = FIBRE_SATURATION * 100 / shrink_pct - FIBRE_SATURATION + start
    return size_mm * (end - start) / span


def gravity_at(basic_gravity: float, shrink_volumetric: float | None, mc: float) -> float:
    """Specific gravity at a moisture content (per cent) from the green-volume (basic) gravity.

    Source: Wood Handbook (2021), USDA FPL-GTR-282, Eq. 4-9 and 4-11; when the volumetric shrinkage is not
    known it is taken as 26.5 times the basic gravity (Eq. 4-12).
    """
    shrinkage = 26.5 * basic_gravity if shrink_volumetric is None else shrink_volumetric
    reached = shrinkage * max(0.0, 1 - mc / FIBRE_SATURATION)
    return basic_gravity / (1 - reached / 100)


def density(gravity: float, mc: float) -> float:
    """Density in kg/m3 from the specific gravity at a moisture content (per cent) and that moisture content.

    Source: Wood Handbook (2021), Eq. 4-14.
    """
    return 1000 * gravity * (1 + mc / 100)
