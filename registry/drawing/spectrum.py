"""The partials of a bell as stems on an axis of cents, with the ideal places marked."""

from collections.abc import Sequence
from typing import NamedTuple

WIDE, NARROW = 680.0, 340.0
LEFT, RIGHT, BASE = 14.0, 14.0, 166.0
TALLEST = 104.0
"""Length of the longest stem, in drawing units."""
SHORTEST_SHARE = 0.12
"""A partial at the level of the noise is still drawn this part of the tallest."""
LINE = 14.0
LETTER = 6.8
"""Mean width of a letter, in drawing units."""
ROOM_CENTS = 160.0
OCTAVE = 1200.0


class Stem(NamedTuple):
    """A partial: cents from the nominal, level over the loudest [dB]; None where nobody measured it.

    ``ideal_cents`` is its ideal place, None where there is none. ``split_cents`` is the width of a doublet.
    """

    name: str
    cents: float
    level_db: float | None = None
    ideal_cents: float | None = None
    split_cents: float | None = None
    doubtful: bool = False


class DrawnStem(NamedTuple):
    """A stem in drawing units; ``pair_x`` is the other tone of a doublet; its name stands at ``line_y``."""

    label: str
    x: float
    top: float
    pair_x: float | None
    doubtful: bool
    line_y: float
    label_x: float


class SpectrumDrawing(NamedTuple):
    """Stems over an axis. ``ideals`` are ideal places, ``marks`` the cents named below.

    ``levels`` says whether the heights mean anything.
    """

    width: float
    height: float
    base: float
    stems: tuple[DrawnStem, ...]
    ideals: tuple[float, ...]
    marks: tuple[tuple[float, int], ...]
    levels: bool


def spectrum_drawing(
    stems: Sequence[Stem], width: float = WIDE, floor_db: float = -60.0
) -> SpectrumDrawing | None:
    """Draw partials.

    Parameters
    ----------
    stems : sequence of Stem
        In any order.
    width : float
        Of the drawing.
    floor_db : float
        Level [dB] at which a stem is shortest.

    Returns
    -------
    SpectrumDrawing or None
        None with fewer than two partials: nothing stands in any relation.
    """
    if len(stems) < len("ab"):
        return None
    ordered = sorted(stems, key=lambda stem: stem.cents)
    places = [stem.cents for stem in ordered] + [
        stem.ideal_cents for stem in ordered if stem.ideal_cents is not None
    ]
    low, high = min(places) - ROOM_CENTS, max(places) + ROOM_CENTS

    def at(cents: float) -> float:
        return round(LEFT + (cents - low) / (high - low) * (width - LEFT - RIGHT), 1)

    loud = all(stem.level_db is not None for stem in ordered)
    names = _lines([(at(stem.cents), stem.name) for stem in ordered], width)
    drawn = []
    for stem, (line, label_x) in zip(ordered, names, strict=True):
        share = 1.0
        if loud and stem.level_db is not None:
            share = max(1.0 - stem.level_db / min(floor_db, -1.0), SHORTEST_SHARE)
        pair = at(stem.cents + stem.split_cents) if stem.split_cents else None
        top = round(BASE - TALLEST * min(share, 1.0), 1)
        drawn.append(
            DrawnStem(stem.name, at(stem.cents), top, pair, stem.doubtful, 12.0 + LINE * line, label_x)
        )
    # The names stand above the stems: move all down where they need more lines than there is room for.
    more = max(0.0, LINE * (max(line for line, _ in names) + 1) - (BASE - TALLEST - 8.0))
    octaves = range(-(-int(low) // int(OCTAVE)) - 1, int(high // OCTAVE) + 1)
    return SpectrumDrawing(
        width,
        BASE + more + 36.0,
        BASE + more,
        tuple(each._replace(top=round(each.top + more, 1)) for each in drawn),
        tuple(at(stem.ideal_cents) for stem in ordered if stem.ideal_cents is not None),
        tuple((at(n * OCTAVE), int(n * OCTAVE)) for n in octaves if low <= n * OCTAVE <= high),
        loud,
    )


def _lines(names: Sequence[tuple[float, str]], width: float) -> list[tuple[int, float]]:
    """Set names over their stems, each in the lowest line where it meets no other; give line and middle."""
    ends: list[float] = []
    placed = []
    for x, name in names:
        half = len(name) * LETTER / 2.0
        middle = min(max(x, half), width - half)
        line = next((at for at, end in enumerate(ends) if end <= middle - half), len(ends))
        if line == len(ends):
            ends.append(0.0)
        ends[line] = middle + half + LETTER
        placed.append((line, round(middle, 1)))
    return placed
