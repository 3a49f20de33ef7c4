"""What happens to a plan once it is released: buyers' copies, and sheets that correct them. Prints nothing."""

from planbook.selling.copying import copies, copy_name
from planbook.selling.correcting import Corrected, Told, errata
from planbook.selling.released import Master, NotReleased, Released, release_of

__all__ = ["Corrected", "Master", "NotReleased", "Released", "Told", "copies", "copy_name", "errata", "release_of"]
