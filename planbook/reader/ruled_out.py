"""What stands before a thing that a text names only to leave it out; it understands no more of the sentence."""

import re

NOT_MEANT = re.compile(
    r"(?:\bno|\bnot?|\bnever|\bwithout|\binstead of|\bunlike|\bif you have(?: a| an)?)\W+(?:\w+\W+)?$", re.I
)
