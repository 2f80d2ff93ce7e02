"""Kinds of values in a question: each reads one from text, and writes it in the one spelling it has.

Whatever is read and written is read again as the same value. A text without sense raises ``ValueError`` with
what belongs there.
"""

import re
from datetime import date
from typing import Any, NamedTuple, Protocol

from registry.geography import CoordinateError, read_coordinate
from registry.geography.areas import Area, read_area, write_area, written
from registry.inscriptions.formulas import formulas
from registry.model.edtf import EdtfError, parse_edtf
from registry.model.pitch import CENTS_PER_SIXTEENTH, GERMAN_A_HZ, frequency_of, read_note
from registry.model.validity import read_validity
from registry.model.vocabulary import vocabulary
from registry.units import QuantityError, read_quantity


class Kind(Protocol):
    """Reads and writes one value."""

    def read(self, text: str) -> Any:
        """Read a value.

        Raises
        ------
        ValueError
            When the text is none.
        """

    def write(self, value: Any) -> str:
        """Write a value in its one spelling."""

    def rank(self, value: Any) -> Any:
        """Give what several values are sorted by."""


class _Sorted:
    """What most kinds share: values are sorted as they are written."""

    def write(self, value: Any) -> str:
        return str(value)

    def rank(self, value: Any) -> Any:
        return value


LONGEST_TEXT = 200


class Words(_Sorted):
    """Words to look for, any characters."""

    def read(self, text: str) -> str:
        """Read words; spaces around and between them count once."""
        clean = " ".join(text.encode("utf-8", "replace").decode().replace("\0", " ").split())
        if len(clean) > LONGEST_TEXT:
            raise ValueError(f"at most {LONGEST_TEXT} characters")
        return clean


class Identifier(_Sorted):
    """The permanent id of something in the registry."""

    def read(self, text: str) -> str:
        """Read an id."""
        if len(text) > LONGEST_TEXT or not re.fullmatch("[a-z0-9]+(-[a-z0-9]+)*", text):
            raise ValueError("an id of small letters, digits and single hyphens")
        return text


class Country(_Sorted):
    """Two letters of ISO 3166-1."""

    def read(self, text: str) -> str:
        """Read a code, capitals or not."""
        if not re.fullmatch("[A-Za-z]{2}", text):
            raise ValueError("the two letters of a country, ISO 3166-1")
        return text.upper()


class Term(NamedTuple):
    """A term of a vocabulary."""

    vocabulary: str

    @property
    def codes(self) -> list[str]:
        """Every term, in the order of the form."""
        return list(vocabulary(self.vocabulary).terms)

    def read(self, text: str) -> str:
        """Read a term."""
        if text not in vocabulary(self.vocabulary).terms:
            raise ValueError(f"one of {', '.join(self.codes)}")
        return text

    def write(self, value: str) -> str:
        """Write the term."""
        return value

    def rank(self, value: str) -> int:
        """Sort as the form does."""
        return self.codes.index(value) if value in self.codes else len(self.codes)


class Formula(_Sorted):
    """A recurrent formula of inscriptions."""

    @property
    def codes(self) -> list[str]:
        """The id of every formula."""
        return list(formulas())

    def read(self, text: str) -> str:
        """Read an id."""
        if text not in formulas():
            raise ValueError(f"one of {', '.join(self.codes)}")
        return text


class Choice(NamedTuple):
    """One of a few words."""

    codes: tuple[str, ...]

    def read(self, text: str) -> str:
        """Read one of the words."""
        if text not in self.codes:
            raise ValueError(f"one of {', '.join(self.codes)}")
        return text

    def write(self, value: str) -> str:
        """Write the word."""
        return value

    def rank(self, value: str) -> int:
        """Sort in their order."""
        return self.codes.index(value)


class Grade(NamedTuple):
    """A grade from 0 to 3, or a word for bells without one."""

    without: str

    @property
    def codes(self) -> list[str]:
        """Every answer."""
        return ["0", "1", "2", "3", self.without]

    def read(self, text: str) -> int | str:
        """Read a grade or the word."""
        if text not in self.codes:
            raise ValueError(f"one of {', '.join(self.codes)}")
        return text if text == self.without else int(text)

    def write(self, value: int | str) -> str:
        """Write the grade."""
        return str(value)

    def rank(self, value: int | str) -> str:
        """Sort grades before the word."""
        return str(value)


class Whole(NamedTuple):
    """A whole number between two ends."""

    low: int
    high: int

    def read(self, text: str) -> int:
        """Read the number."""
        if (
            not re.fullmatch(r"-?[0-9]{1,9}(\.0{1,9})?", text)
            or not self.low <= int(float(text)) <= self.high
        ):
            raise ValueError(f"a whole number from {self.low} to {self.high}")
        return int(float(text))

    def write(self, value: int) -> str:
        """Write its digits."""
        return str(value)

    def rank(self, value: int) -> int:
        """Sort by size."""
        return value


class Size(NamedTuple):
    """A quantity that cannot be negative, in the unit of its column."""

    unit: str

    def read(self, text: str) -> float:
        """Read a number, or one with another unit of the kind."""
        try:
            value = read_quantity(text, self.unit)
        except QuantityError as error:
            raise ValueError(f"{error.expected}; {error.remedy}") from error
        if value < 0:
            raise ValueError("0 or more")
        return value

    def write(self, value: float) -> str:
        """Write it in the unit of the column, without it."""
        return written(value)

    def rank(self, value: float) -> float:
        """Sort by size."""
        return value


def _scientific(text: str) -> str:
    """Read a note into its one name, which the octaves 0 to 9 have."""
    pitch = read_note(text)
    if not 12 <= pitch.number < 132:
        raise ValueError("a note from C0 to B9")
    return pitch.scientific


class Note(_Sorted):
    """A note, kept in scientific pitch."""

    def read(self, text: str) -> str:
        """Read a note in scientific pitch or by its German name."""
        return _scientific(text)

    def rank(self, value: str) -> int:
        """Sort by pitch."""
        return read_note(value).number


_SIXTEENTHS = re.compile(r"(.*?[^\s+−-])\s*([+−-])\s*([0-9]{1,2})").fullmatch
MOST_SIXTEENTHS = 16


class PitchLimit(_Sorted):
    """An end of a range of notes: a whole note, or a pitch in sixteenths of a semitone."""

    def read(self, text: str) -> str:
        """Read ``A3``, ``a°`` or ``a° +5``, which is written ``A3+5``."""
        match = _SIXTEENTHS(text.strip())
        if match is None:
            return _scientific(text)
        if int(match[3]) > MOST_SIXTEENTHS:
            raise ValueError(f"at most {MOST_SIXTEENTHS} sixteenths of a semitone")
        sixteenths = int(match[3]) * (1 if match[2] == "+" else -1)
        return f"{_scientific(match[1])}{sixteenths:+d}"

    def rank(self, value: str) -> float:
        """Sort by pitch."""
        return limits_hz(value)[0]


def limits_hz(limit: str) -> tuple[float, float]:
    """Give the frequencies [Hz] that an end of a range of notes begins and ends with.

    A whole note reaches half a semitone to either side of its pitch against a' = 440 Hz (ISO 16). With
    sixteenths both are the pitch against a' = 435 Hz, as German reports on bells reckon.
    """
    if match := _SIXTEENTHS(limit):
        cents = CENTS_PER_SIXTEENTH * int(match[3]) * (1 if match[2] == "+" else -1)
        pitch_hz = frequency_of(match[1], cents, GERMAN_A_HZ)
        return pitch_hz, pitch_hz
    return frequency_of(limit, -50.0), frequency_of(limit, 50.0)


class Day(_Sorted):
    """A calendar day."""

    def read(self, text: str) -> str:
        """Read a day, or a year or month, which means its first day."""
        match = re.fullmatch("([0-9]{4})(?:-([0-9]{2}))?(?:-([0-9]{2}))?", text)
        try:
            if match is None:
                raise ValueError
            return date(int(match[1]), int(match[2] or 1), int(match[3] or 1)).isoformat()
        except ValueError:
            raise ValueError("a day, YYYY-MM-DD") from None


class Time(_Sorted):
    """A date expression, EDTF."""

    def read(self, text: str) -> str:
        """Read a date or an interval."""
        if len(text) > LONGEST_TEXT:
            raise ValueError(f"at most {LONGEST_TEXT} characters")
        try:
            read_validity(text)
            return parse_edtf(text).text
        except EdtfError as error:
            raise ValueError(f"{error.expected}; {error.remedy}") from error


class Flag(_Sorted):
    """A wish that is there or not."""

    def read(self, text: str) -> bool:
        """Read ``yes``."""
        if text != "yes":
            raise ValueError("yes, or nothing at all")
        return True

    def write(self, value: bool) -> str:
        """Write ``yes``."""
        return "yes" if value else ""


MOST_NEAREST = 1000
FARTHEST_KM = 20_004.0
"""Half the way round the earth along a meridian; no place is farther."""


class Around(NamedTuple):
    """A place and how far: a radius [km], or a number of bells where ``counts``."""

    counts: bool = False

    def read(self, text: str) -> tuple[float, float, float]:
        """Read latitude, longitude and the last number, with commas between them."""
        third = f"how many, 1 to {MOST_NEAREST}" if self.counts else "a radius in km"
        wanted = f"latitude, longitude and {third}"
        parts = [part.strip() for part in text.split(",")]
        if len(parts) != 3:
            raise ValueError(wanted)
        try:
            latitude = read_coordinate(parts[0], "latitude")
            longitude = read_coordinate(parts[1], "longitude")
        except CoordinateError as error:
            raise ValueError(f"{wanted}: {error.remedy}") from error
        if self.counts:
            return latitude, longitude, Whole(1, MOST_NEAREST).read(parts[2])
        radius_km = Size("km").read(parts[2])
        if not 0 < radius_km <= FARTHEST_KM:
            raise ValueError(f"{wanted}, more than 0 and at most {FARTHEST_KM:g} km")
        return latitude, longitude, radius_km

    def write(self, value: tuple[float, float, float]) -> str:
        """Write the three with commas between them, no farther than coordinates are read."""
        return ",".join(written(round(number, 15)) for number in value)

    def rank(self, value: tuple[float, float, float]) -> tuple[float, float, float]:
        """Sort as they are."""
        return value


class Polygon(_Sorted):
    """An area."""

    def read(self, text: str) -> Area:
        """Read GeoJSON or the spelling of a link."""
        return read_area(text)

    def write(self, value: Area) -> str:
        """Write the spelling of a link."""
        return write_area(value)
