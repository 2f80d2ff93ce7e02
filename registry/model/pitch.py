"""Note names and frequencies: scientific pitch, German octave names, cents and sixteenths of a semitone.

Equal temperament throughout. Scientific pitch takes a reference a' (A4), 440 Hz where nothing else is said
(ISO 16:1975). German reports on bells give a note and signed sixteenths of a semitone against a' = 435 Hz:
``f = 435 * 2 ** (n / 12 + s / 192)``. In German names h is B, and b is B flat.
"""

import math
import re
from typing import NamedTuple

ISO_A_HZ = 440.0
"""Standard tuning frequency of a' (ISO 16:1975)."""

GERMAN_A_HZ = 435.0
"""Tuning frequency of a' in German reports on bells (that of the Vienna conference of 1885)."""

CENTS_PER_SIXTEENTH = 6.25

_SHARPS = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")
_GERMAN = ("c", "cis", "d", "es", "e", "f", "fis", "g", "as", "a", "b", "h")
_STEPS = {"c": 0, "d": 2, "e": 4, "f": 5, "g": 7, "a": 9, "b": 11}
_GERMAN_STEPS = _STEPS | {"b": 10, "h": 11} | {
    "cis": 1, "dis": 3, "eis": 5, "fis": 6, "gis": 8, "ais": 10, "his": 12,
    "ces": -1, "des": 1, "es": 3, "fes": 4, "ges": 6, "as": 8,
}  # fmt: skip
_ACCIDENTALS = {"": 0, "#": 1, "b": -1, "♮": 0}

EXPECTED = "a note such as C#4 or cis'"


class NoteError(ValueError):
    """A text that names no note, or could name two.

    Attributes
    ----------
    code : str
        ``bad-note``.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, remedy: str) -> None:
        super().__init__(f"expected {EXPECTED}: {remedy}")
        self.code = "bad-note"
        self.expected = EXPECTED
        self.remedy = remedy


class Pitch(NamedTuple):
    """A note of equal temperament, counted in semitones so that a' (A4) is 69 and c' (C4) is 60."""

    number: int

    @property
    def scientific(self) -> str:
        """The name in scientific pitch, in plain characters: ``C#4``."""
        octave, step = divmod(self.number, 12)
        return f"{_SHARPS[step]}{octave - 1}"

    @property
    def german(self) -> str:
        """The German octave name: ``cis'``, ``h°``, ``Fis``, ``,C``."""
        octave, step = divmod(self.number, 12)
        name = _GERMAN[step]
        if octave >= 5:
            return name + "'" * (octave - 4)
        if octave == 4:
            return name + "°"
        return "," * (3 - octave) + name.capitalize()

    @property
    def display(self) -> str:
        """The name in scientific pitch as printed: ``C♯4``."""
        return self.scientific.replace("#", "♯")


class NoteName(NamedTuple):
    """A frequency as nearest note and deviation, in both notations.

    Parameters
    ----------
    scientific : str
        Nearest note against the reference asked for, e.g. ``C#4``.
    cents : float
        Deviation from it [cents], -50 to 50.
    german : str
        Nearest note against a' = 435 Hz, e.g. ``cis'``; near the middle between two notes it can be another.
    sixteenths : float
        Deviation from that one [sixteenths of a semitone], -8 to 8.
    """

    scientific: str
    cents: float
    german: str
    sixteenths: float

    @property
    def display(self) -> str:
        """The scientific name as printed, with rounded cents: ``C♯4 −12 cents``."""
        cents = round(self.cents)
        sign = "−" if cents < 0 else "+"
        return self.scientific.replace("#", "♯") + (f" {sign}{abs(cents)} cents" if cents else "")

    @property
    def german_display(self) -> str:
        """The German name as printed in reports, with whole sixteenths: ``e' +7``."""
        sixteenths = round(self.sixteenths)
        sign = "−" if sixteenths < 0 else "+"
        return self.german + (f" {sign}{abs(sixteenths)}" if sixteenths else "")


def cents_between(frequency_hz: float, reference_hz: float) -> float:
    """Give the interval from a reference up to a frequency [cents], negative when it lies below."""
    return 1200.0 * math.log2(frequency_hz / reference_hz)


def _nearest(frequency_hz: float, a_hz: float) -> tuple[Pitch, float]:
    """Find the nearest note and the deviation from it [cents]."""
    cents = cents_between(frequency_hz, a_hz)
    semitones = round(cents / 100.0)
    return Pitch(69 + semitones), cents - 100.0 * semitones


def note_of(frequency_hz: float, reference_hz: float = ISO_A_HZ) -> NoteName:
    """Name the note nearest to a frequency.

    Parameters
    ----------
    frequency_hz : float
        Frequency [Hz], more than 0.
    reference_hz : float
        Frequency of a' (A4) for the scientific name [Hz]; the German name always takes 435 Hz.

    Raises
    ------
    ValueError
        When a frequency is not a positive, finite number.
    """
    if not (0.0 < frequency_hz < math.inf and 0.0 < reference_hz < math.inf):
        raise ValueError(f"a frequency is positive and finite: {frequency_hz}, {reference_hz}")
    note, cents = _nearest(frequency_hz, reference_hz)
    german, german_cents = _nearest(frequency_hz, GERMAN_A_HZ)
    return NoteName(note.scientific, cents, german.german, german_cents / CENTS_PER_SIXTEENTH)


def frequency_of(note_text: str, cents: float = 0.0, reference_hz: float = ISO_A_HZ) -> float:
    """Give the frequency of a written note [Hz].

    For the German notation take ``cents=6.25 * sixteenths`` and ``reference_hz=435.0``.

    Raises
    ------
    NoteError
        When the text names no note, or could name two.
    """
    return reference_hz * math.exp2((read_note(note_text).number - 69) / 12.0 + cents / 1200.0)


_PLAIN = str.maketrans(
    dict.fromkeys("\u2032\u2019\u2018\u02b9\u00b4`", "'")
    | dict.fromkeys('\u2033\u201d\u201c\u02ba"', "''")
    | {"\u2034": "'''", "\u2057": "''''", "♯": "#", "♭": "b", "\u00ba": "°", "\u2070": "°"}
    | dict(zip("¹²³⁴⁵⁶", ("'" * count for count in range(1, 7)), strict=True))
    | dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True))
)
_SCIENTIFIC = re.compile(r"([A-G])([#b♮]?)([0-9])").fullmatch
_FLAT_DIGIT = re.compile(r"([a-h][#b♮]?)([0-9])").fullmatch
_GERMAN_DIGIT = re.compile(r"([a-h](?:is|es)|es|as|h)([1-6])").fullmatch
_OCTAVE = re.compile(r"(,{0,2})([A-Ha-h](?:is|es|s|[#b♮])?)((?:'{1,6}|°|,{1,2})?)").fullmatch


def read_note(text: str) -> Pitch:
    """Read a note in scientific pitch or by its German octave name.

    Scientific names have a capital letter and a digit (``C4``, ``C#4``, ``B♭3``); German ones marks
    (``cis'``, ``h°``, ``c²``, ``,C``), or none where the name itself is German (``cis``, ``Es``, ``H``).
    Primes make a name German: ``b'`` is B flat, ``h'`` is B. A letter alone is refused, for it can be a note
    without its octave; so is a small letter with a plain digit, which people use in both senses.

    Raises
    ------
    NoteError
        When the text names no note, or could name two.
    """
    plain = text.strip().translate(_PLAIN)
    if match := _SCIENTIFIC(plain):
        letter, accidental, octave = match.groups()
        return _note(int(octave), _STEPS[letter.lower()] + _ACCIDENTALS[accidental])
    if match := _GERMAN_DIGIT(plain):
        name, octave = match.groups()
        if name in _GERMAN_STEPS:
            return _note(3 + int(octave), _GERMAN_STEPS[name])
    if match := _FLAT_DIGIT(plain):
        raise _two_readings(*match.groups())
    if match := _OCTAVE(plain):
        before, name, after = match.groups()
        step = _step(name)
        if step is not None:
            return _note(_octave(before, name, after), step)
    raise NoteError("write the letter, # or b, and the octave, e.g. F#4; a deviation has its own field")


def _note(octave: int, step: int) -> Pitch:
    """Count a note from its octave in scientific pitch and its step in semitones above C."""
    return Pitch(12 * (octave + 1) + step)


def _step(name: str) -> int | None:
    """Give the step of a letter, German or with a sign, in semitones above C."""
    lower = name.lower()
    if lower in _GERMAN_STEPS:
        return _GERMAN_STEPS[lower]
    letter, sign = lower[0], lower[1:]
    return _STEPS[letter] + _ACCIDENTALS[sign] if letter in _STEPS and sign in _ACCIDENTALS else None


def _octave(before: str, name: str, after: str) -> int:
    """Give the octave in scientific pitch from the case of the letter and the marks round it."""
    marks = before + after
    if not marks and (len(name) == 1 or name[1] in "#b♮") and name not in "hH":
        raise _no_octave(name)
    if before and after:
        raise NoteError("write the marks of the octave on one side only")
    if name[0].islower() and "," not in marks:
        return 3 + marks.count("'")
    if name[0].isupper() and marks.strip(",") == "":
        return 2 - len(marks)
    raise NoteError("small letters take primes (c'), capital letters commas (,C): write F#4 to be safe")


def _no_octave(name: str) -> NoteError:
    """Make the error for a letter alone."""
    scientific = name[0].upper() + name[1:]
    octave = 3 if name[0].islower() else 2
    if name in "bB":
        return NoteError(f"{name} says no octave, and is B flat in German: write B{octave} or Bb{octave}")
    return NoteError(
        f"{name} alone says no octave: write {scientific}4, or {scientific}{octave} if this was a German name"
    )


def _two_readings(name: str, digit: str) -> NoteError:
    """Make the error for a small letter with a plain digit."""
    if name[0] == "h":
        return NoteError(f"{name}{digit} mixes two notations: write B{digit}, or h with primes")
    scientific = name[0].upper() + name[1:]
    german = "Bb" if name == "b" else scientific
    return NoteError(
        f"write {scientific}{digit} if the digit counts octaves, {german}{int(digit) + 3} if it counts primes"
    )
