"""The page a blank form is written on: fields on the left with room to write, notes beside them."""

from collections.abc import Iterator
from contextlib import contextmanager
from textwrap import wrap

WIDTH = 100
"""Columns of the page: what A4 holds in a typeface of 9 points."""

NOTES_AT = 40
"""Column at which the notes beside the fields begin, counted from 0; before it is room to write."""

Note = tuple[str, ...]
"""What stands beside a field; its parts share a line where they fit on one."""


class Page:
    """Lines of YAML with comments, written one after the other.

    ``brief`` is True while notes beside fields are left out, because they stood there once already.
    """

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.brief = False

    @property
    def text(self) -> str:
        """The whole page."""
        return "\n".join(self.lines) + "\n"

    def put(self, *lines: str) -> None:
        """Add lines as they are."""
        self.lines += lines

    def prose(self, text: str, indent: int = 0, label: str = "") -> None:
        """Add a comment, wrapped; behind a label its lines hang."""
        lead = f"{' ' * indent}# "
        self.put(
            *wrap(
                " ".join(text.split()),
                WIDTH,
                initial_indent=lead + label,
                subsequent_indent=lead + " " * len(label),
                break_on_hyphens=False,
            )
        )

    def rule(self, name: str, text: str, indent: int = 0) -> None:
        """Add a heading as a line across the page."""
        sign = "-" if indent else "="
        title = f"{sign * 4} {name.replace('_', ' ').upper()} {sign * 4} {text.rstrip('.')} "
        self.put("", f"{' ' * indent}# {title:{sign}<{WIDTH - 2 - indent}}")

    def field(self, left: str, *notes: Note) -> None:
        """Add a field with the notes beside it, which go on below."""
        beside = [row for note in notes for row in _rows(note, WIDTH - NOTES_AT - 2)]
        margin = " " * NOTES_AT
        if not beside:
            self.put(left)
        elif len(left) >= NOTES_AT:
            self.put(left, *(f"{margin}# {row}" for row in beside))
        else:
            self.put(f"{left:<{NOTES_AT}}# {beside[0]}", *(f"{margin}# {row}" for row in beside[1:]))

    def empty_list(self, key: str, *notes: Note) -> None:
        """Add a field that takes several values, with room between its brackets."""
        self.field(f"{key} [{'':{max(1, NOTES_AT - len(key) - 4)}}]", *notes)

    def empty_text(self, key: str, *notes: Note) -> None:
        """Add a field whose text is written below it; a note behind its ``|`` would run into that text."""
        for note in notes:
            self.prose(" ".join(note), len(key) - len(key.lstrip()))
        self.put(f"{key} |")

    @contextmanager
    def without_notes(self) -> Iterator[None]:
        """Leave the notes beside fields out for a while."""
        before, self.brief = self.brief, True
        yield
        self.brief = before


def _rows(note: Note, width: int) -> list[str]:
    """Wrap the parts of a note, each beginning a new row unless it fits on the last one."""
    rows: list[str] = []
    for part in filter(None, note):
        if rows and len(rows[-1]) + 2 + len(part) <= width:
            rows[-1] += f"  {part}"
        else:
            # A bar between two words stays with the first one.
            tied = part.replace(" | ", "\u00a0| ")
            rows += [row.replace("\u00a0", " ") for row in wrap(tied, width, break_on_hyphens=False)]
    return rows
