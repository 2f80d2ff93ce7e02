"""Which bells descend from which, and whether that can be."""

from collections.abc import Iterable, Mapping


def circles(parents: Mapping[str, Iterable[str]]) -> list[tuple[str, ...]]:
    """Find bells whose metal, traced back, comes from themselves.

    Parameters
    ----------
    parents : mapping
        For each bell those whose metal is in it.

    Returns
    -------
    list of tuple of str
        Each circle once, from the bell that comes first in the alphabet.
    """
    found: set[tuple[str, ...]] = set()
    done: set[str] = set()
    for start in sorted(parents):
        trail: list[str] = []
        places: dict[str, int] = {}
        stack = [(start, False)]
        while stack:
            bell, leaving = stack.pop()
            if leaving:
                del places[trail.pop()]
                done.add(bell)
            elif bell in places:
                loop = trail[places[bell] :]
                first = loop.index(min(loop))
                found.add(tuple(loop[first:] + loop[:first]))
            elif bell not in done:
                places[bell] = len(trail)
                trail.append(bell)
                stack.append((bell, True))
                stack += [(parent, False) for parent in sorted(parents.get(bell, ()), reverse=True)]
    return sorted(found)
