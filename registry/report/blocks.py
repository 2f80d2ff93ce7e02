"""The parts a report is put together from, and the data the template sets them from.

A report is a sequence of blocks. What they say is decided in Python and can be tested; how they look is
decided in ``templates/``. Texts travel as JSON, so that no sign in them can ever act as markup.
"""

from typing import Any, NamedTuple


class Heading(NamedTuple):
    """A heading; ``aside`` stands small at its right, such as an id. Level 0 is the title of the whole.

    Levels follow each other without a gap; ``compact`` takes less room.
    """

    text: str
    level: int = 2
    aside: str = ""
    compact: bool = False


class Prose(NamedTuple):
    """Paragraphs, one for each line. ``style`` is ``plain``, ``lead``, ``soft`` or ``stop``."""

    text: str
    style: str = "plain"


class FactLine(NamedTuple):
    """One fact: its name, its value, and where that is from if not from the visit reported on."""

    name: str
    text: str
    source: str = ""
    where: str = ""


class Facts(NamedTuple):
    """Facts below each other. ``caption`` says what they are; computed ones wear another dress."""

    lines: tuple[FactLine, ...]
    caption: str = ""
    computed: bool = False


class Column(NamedTuple):
    """One column of a table: its title, whether it holds numbers, its share of the width (0: as needed)."""

    title: str
    number: bool = False
    share: float = 0.0


class Cell(NamedTuple):
    """One cell; ``sub`` stands small below.

    ``style`` is ``plain``, ``strong``, ``computed``, ``soft``, ``alarm`` or ``warn``.
    """

    text: str
    sub: str = ""
    style: str = "plain"
    where: str = ""


class Table(NamedTuple):
    """A table whose head is repeated on every page.

    The first cell of a row names it; a row of one cell is the heading of those below it.
    """

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""


class Picture(NamedTuple):
    """A drawing (``svg``) or a photo (``file``) with its words; ``width`` is its share of the line."""

    alt: str
    caption: str = ""
    svg: str = ""
    file: str = ""
    width: float = 1.0
    tallest_mm: float = 110.0


class Ring(NamedTuple):
    """Bells side by side to one scale: drawing, name and note of each, and a bar for the scale."""

    bells: tuple[tuple[str, float, float, str, str], ...]
    """SVG text, width and height in drawing units, name, words below it."""
    scale_words: str
    scale_width: float
    alt: str
    caption: str


class Voice(NamedTuple):
    """An inscription, line by line as cast."""

    lines: tuple[str, ...]
    lang: str = ""
    rtl: bool = False
    where: str = ""


class Item(NamedTuple):
    """One item of a list; ``severity`` 3 to 1 sets a sign before it, 0 a dot."""

    text: str
    severity: int = 0
    more: str = ""
    where: str = ""


class Items(NamedTuple):
    """A list."""

    items: tuple[Item, ...]


class CautionBox(NamedTuple):
    """A caution, with what it rests on."""

    title: str
    points: tuple[str, ...]
    source: str
    grave: bool = False


class Verdict(NamedTuple):
    """A judgement at a glance: what it is about, and a few words."""

    label: str
    words: str
    style: str = "plain"


class Verdicts(NamedTuple):
    """Judgements side by side."""

    verdicts: tuple[Verdict, ...]


class Signature(NamedTuple):
    """Who surveyed, with room to sign."""

    lines: tuple[str, ...]


class Columns(NamedTuple):
    """Blocks side by side; ``shares`` are their parts of the width."""

    shares: tuple[float, ...]
    parts: tuple[tuple["Block", ...], ...]


class Box(NamedTuple):
    """A field to fill in by hand: its label, the value told last, its share of the row, words to tick."""

    label: str
    last: str
    share: float
    options: tuple[str, ...] = ()


class Boxes(NamedTuple):
    """Fields to fill in by hand, row by row."""

    rows: tuple[tuple[Box, ...], ...]


class FillIn(NamedTuple):
    """A table to fill in by hand; its cells hold what was told last."""

    titles: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]


class Sheet(NamedTuple):
    """A new page."""


Block = (
    Heading | Prose | Facts | Table | Picture | Ring | Voice | Items | CautionBox | Verdicts | Signature
    | Columns | Boxes | FillIn | Sheet
)  # fmt: skip


class Document(NamedTuple):
    """A whole report.

    ``day`` is the day it was made, ISO 8601; with the same registry and the same day the bytes are the same.
    ``head`` and ``foot`` stand on every page.
    """

    title: str
    authors: tuple[str, ...]
    description: str
    keywords: tuple[str, ...]
    day: str
    head: str
    record: str
    foot: str
    blocks: tuple[Block, ...]


def as_data(value: Any) -> Any:
    """Turn blocks into lists and mappings for JSON; a block is known by ``is``, its name in lower case."""
    if isinstance(value, str):
        return str(value)
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        named = {name: as_data(each) for name, each in zip(value._fields, value, strict=True)}
        return {"is": type(value).__name__.lower(), **named}
    if isinstance(value, tuple | list):
        return [as_data(each) for each in value]
    return value
