"""What is wrong with one value, before it is known where the value stands."""

from typing import NamedTuple, Protocol

from registry.forms.shown import shown
from registry.problems import Problem


class FormValueError(ValueError):
    """A text that is no value of its field.

    Attributes
    ----------
    code : str
        A code of the catalogue of problems.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, code: str, expected: str, remedy: str, read: str | None = None) -> None:
        super().__init__(f"expected {expected}: {remedy}")
        self.code = code
        self.expected = expected
        self.remedy = remedy
        self.read = read


class Spot(Protocol):
    """Anything that knows its line and column."""

    @property
    def line(self) -> int:
        """Line, counted from 1."""

    @property
    def column(self) -> int:
        """Column, counted from 1."""


class Finding(NamedTuple):
    """A code of the catalogue with what was read, what belongs there, and what to do."""

    code: str
    read: str
    expected: str
    remedy: str

    def at(self, file: str, spot: Spot, path: str = "") -> Problem:
        """Make the problem it is at a place of a file; what comes from the form is made fit to be shown."""
        return Problem(
            file,
            spot.line,
            spot.column,
            self.code,
            shown(path, 200),
            shown(self.read),
            self.expected,
            self.remedy,
        )
