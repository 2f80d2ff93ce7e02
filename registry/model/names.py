"""The names that founders go by, as they are held against what stands in a form."""

from typing import NamedTuple

from registry.model.founders import Founder
from registry.model.validity import Validity, read_validity


class OwnedName(NamedTuple):
    """A spelling and whose it is.

    ``time`` is when it was written so, else when its founder worked. ``places`` are those that may stand
    behind it, where it does not itself end in one. ``place`` is the one that tells it from another's.
    """

    founder_id: str
    spelling: str
    time: Validity
    time_text: str = ""
    place: str = ""
    places: tuple[str, ...] = ()
    file: str = ""
    line: int = 0
    column: int = 0
    path: str = ""


def owned_names(founder: Founder) -> list[OwnedName]:
    """List the names of a founder: that of today, then each spelling."""
    active = founder.active or ""
    places = tuple(dict.fromkeys(workshop.place for workshop in founder.workshops))
    names = [OwnedName(founder.id, founder.name, read_validity(active), active, "", places)]
    for variant in founder.variants:
        time = variant.valid or active
        names.append(
            OwnedName(
                founder.id,
                variant.spelling,
                read_validity(time),
                time,
                variant.place or "",
                tuple(dict.fromkeys((*filter(None, [variant.place]), *places))),
            )
        )
    return names
