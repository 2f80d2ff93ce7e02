"""How bells are bound to each other: every link from both sides."""

from collections.abc import Iterable
from typing import NamedTuple

INVERSE = {
    "recast-from": "recast-into",
    "recast-into": "recast-from",
    "metal-from": "metal-into",
    "metal-into": "metal-from",
    "companion-of": "companion-of",
    "replaces": "replaced-by",
    "replaced-by": "replaces",
}
"""Words of ``event_kind`` that bind two bells, each with the word for the other side."""

FROM = frozenset({"recast-from", "metal-from"})
"""Links from a bell to one whose metal is in it."""


class Link(NamedTuple):
    """A link as an event of one bell tells it, or as it follows for the other."""

    bell_id: str
    relation: str
    other_bell_id: str
    date: str | None
    certainty: str | None
    source: str | None
    survey_id: str
    told_of: str = "this"


def both_sides(told: Iterable[Link]) -> list[Link]:
    """Give every link from both bells, each once.

    Parameters
    ----------
    told : iterable of Link
        As events tell them, the newest survey first. A date, certainty or source that the newest leaves out
        is taken from the next; what the bell's own events tell counts before those of the other.
    """
    told = list(told)
    links: dict[tuple[str, str, str], Link] = {}
    for link in [*told, *(_turned(link) for link in told)]:
        key = link[:3]
        kept = links.get(key)
        if kept is None:
            links[key] = link
            continue
        told_of = kept.told_of if kept.told_of == link.told_of else "both"
        links[key] = kept._replace(
            date=kept.date or link.date,
            certainty=kept.certainty or link.certainty,
            source=kept.source or link.source,
            told_of=told_of,
        )
    return [links[key] for key in sorted(links)]


def _turned(link: Link) -> Link:
    return link._replace(
        bell_id=link.other_bell_id,
        relation=INVERSE[link.relation],
        other_bell_id=link.bell_id,
        told_of="other",
    )
