"""Notes have their published frequencies, and a name that could mean two notes is refused."""

import csv
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.model.pitch import (
    CENTS_PER_SIXTEENTH,
    GERMAN_A_HZ,
    NoteError,
    Pitch,
    cents_between,
    frequency_of,
    note_of,
    read_note,
)

TABLE = Path(__file__).parent / "tables" / "notes.csv"


def published() -> list[dict[str, str]]:
    """Read the published frequencies."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("case", published(), ids=lambda case: f"{case['note']}{case['sixteenths']}")
def test_published_frequencies(case: dict[str, str]) -> None:
    """A note, with its sixteenths, has the frequency printed for it."""
    cents = int(case["sixteenths"]) * CENTS_PER_SIXTEENTH
    frequency = frequency_of(case["note"], cents, float(case["reference_hz"]))
    assert frequency == pytest.approx(float(case["frequency_hz"]), abs=float(case["tolerance_hz"]))


@pytest.mark.parametrize("semitones", range(-30, 31))
@pytest.mark.parametrize("sixteenths", [-8, -1, 0, 3, 7.5])
def test_the_formula_of_the_reports(semitones: int, sixteenths: float) -> None:
    """Notes with sixteenths follow the formula of the German reports, f = 435 * 2^(n/12 + s/192)."""
    expected = 435.0 * 2.0 ** (semitones / 12 + sixteenths / 192)
    name = Pitch(69 + semitones).scientific
    assert frequency_of(name, sixteenths * CENTS_PER_SIXTEENTH, GERMAN_A_HZ) == pytest.approx(
        expected, rel=1e-14
    )


def test_worked_examples() -> None:
    """The worked examples come out: 513.5 Hz against both references, 334.4 Hz in cents and sixteenths."""
    read = note_of(513.5)
    assert (read.scientific, round(read.cents, 2), read.german) == ("C5", -32.57, "c''")
    assert round(note_of(513.5, 435.0).cents, 2) == -12.78
    read = note_of(334.4)
    assert (read.scientific, round(read.cents, 2)) == ("E4", 24.89)
    assert (read.german, round(read.sixteenths, 2)) == ("e'", 7.15)


def test_435_lies_below_440() -> None:
    """435 Hz is 19.79 cents below 440 Hz, and c' at 435 is 258.653 Hz."""
    assert round(cents_between(435.0, 440.0), 2) == -19.79
    assert round(frequency_of("c'", reference_hz=435.0), 3) == 258.653


NAMES = [
    # scientific
    ("C4", 60), ("A4", 69), ("C#4", 61), ("Db4", 61), ("C♯4", 61), ("B♭3", 58), ("Bb3", 58), ("B3", 59),
    ("C0", 12), ("E#4", 65), ("B#3", 60), ("Cb4", 59), ("C♮4", 60), ("C₄", 60), (" C4 ", 60),
    # German, octave by marks
    ("c'", 60), ("cis''", 73), ("c′", 60), ("c’", 60), ("c″", 72), ('c"', 72), ("c''", 72), ("c‴", 84),
    ("b'", 70), ("h'", 71), ("h°", 59), ("b°", 58), ("as°", 56), ("es''", 75), ("fis'", 66), ("ais'", 70),
    ("des'", 61), ("ges'", 66), ("his'", 72), ("ces''", 71), ("eis'", 65), ("fes'", 64),
    ("dis'", 63), ("gis'", 68), ("as'", 68), ("d'", 62), ("e'", 64), ("f'", 65), ("g'", 67), ("a'", 69),
    ("c²", 72), ("fis¹", 66), ("h²", 83),
    (",C", 24), ("C,", 24), (",,C", 12), (",H", 35), ("B,", 34), ("Fis,", 30),
    # German, octave by capitals, where the name itself is German
    ("h", 59), ("H", 47), ("cis", 49), ("Cis", 37), ("es", 51), ("Es", 39), ("as", 56), ("As", 44),
    # German with plain digits, where the name itself is German
    ("h1", 71), ("cis2", 73), ("as1", 68), ("es2", 75),
    # primes with an English sign
    ("c#'", 61), ("c♯'", 61), ("bb'", 70), ("b♭'", 70), ("b♮'", 71),
]  # fmt: skip


@pytest.mark.parametrize(("text", "number"), NAMES)
def test_names_of_notes(text: str, number: int) -> None:
    """Scientific and German names are read; in German ones h is B and b is B flat."""
    assert read_note(text).number == number


REFUSED = [
    # could be two notes
    ("b", ["B3", "Bb3"]), ("B", ["B2", "Bb2"]), ("c1", ["C1", "C4"]), ("b1", ["B1", "Bb4"]),
    ("c4", ["C4", "C7"]), ("c#2", ["C#2", "C#5"]), ("C", ["C4", "C2"]), ("g", ["G4", "G3"]),
    ("F#", ["F#4", "F#2"]), ("Bb", ["Bb4", "Bb2"]),
    # no note
    ("", []), ("H4", []), ("Cis4", []), ("c'+4", []), ("c,", []), ("C'", []), (",c", []), ("hes'", []),
    ("hb'", []), ("aes'", []), ("C10", []), ("C-1", []), ("4C", []), ("c4'", []), (",C,", []), ("CC", []),
    ("c'''''''", []), ("do", []), ("440", []), ("C##4", []), ("ees'", []), ("h♮'", []), ("c'" * 50, []),
]  # fmt: skip


@pytest.mark.parametrize(("text", "readings"), REFUSED, ids=lambda value: str(value)[:12])
def test_what_names_no_single_note_is_refused(text: str, readings: list[str]) -> None:
    """A name with two readings is refused and both are named; what names no note is refused too."""
    with pytest.raises(NoteError) as caught:
        read_note(text)
    assert caught.value.code == "bad-note"
    assert caught.value.expected
    assert caught.value.remedy
    assert all(reading in caught.value.remedy for reading in readings)
    assert all(read_note(reading) for reading in readings)


@settings(deadline=None)
@given(st.integers(12, 127))
def test_scientific_names_read_back(number: int) -> None:
    """The scientific name of every note reads back as that note."""
    assert read_note(Pitch(number).scientific).number == number
    assert read_note(Pitch(number).display).number == number


@settings(deadline=None)
@given(st.integers(48, 119))
def test_german_names_read_back(number: int) -> None:
    """The German name of every note from the small octave up reads back as that note."""
    assert read_note(Pitch(number).german).number == number


@pytest.mark.parametrize(
    ("number", "german"),
    [(60, "c'"), (61, "cis'"), (58, "b°"), (59, "h°"), (47, "H"), (36, "C"), (24, ",C"), (35, ",H"),
     (12, ",,C"), (56, "as°"), (84, "c'''")],
)  # fmt: skip
def test_german_names(number: int, german: str) -> None:
    """German names count octaves by primes from c' up, by the circle, capitals and commas below."""
    assert Pitch(number).german == german


@settings(deadline=None)
@given(st.floats(20.0, 12000.0), st.floats(415.0, 466.0))
def test_note_and_deviation_give_the_frequency_back(frequency: float, reference: float) -> None:
    """The nearest note and its deviation, at most half a semitone, give the frequency back."""
    named = note_of(frequency, reference)
    assert -50.000001 <= named.cents <= 50.000001
    assert -8.0000001 <= named.sixteenths <= 8.0000001
    assert frequency_of(named.scientific, named.cents, reference) == pytest.approx(frequency, rel=1e-12)


@settings(deadline=None)
@given(st.floats(135.0, 12000.0))
def test_sixteenths_give_the_frequency_back(frequency: float) -> None:
    """The German name with its sixteenths gives the frequency back at a' = 435 Hz."""
    named = note_of(frequency)
    cents = named.sixteenths * CENTS_PER_SIXTEENTH
    assert frequency_of(named.german, cents, GERMAN_A_HZ) == pytest.approx(frequency, rel=1e-12)


@pytest.mark.parametrize(
    ("frequency", "shown", "german"),
    [
        (440.0, "A4", "a' +3"),
        (435.0, "A4 −20 cents", "a'"),
        (334.4, "E4 +25 cents", "e' +7"),
        (277.1826, "C♯4", "cis' +3"),
        (430.0, "A4 −40 cents", "a' −3"),
    ],
)
def test_notes_as_printed(frequency: float, shown: str, german: str) -> None:
    """A printed note has true signs, whole cents or sixteenths, and no deviation of nought."""
    assert note_of(frequency).display == shown
    assert note_of(frequency).german_display == german


@pytest.mark.parametrize("frequency", [0.0, -1.0, float("inf"), float("nan")])
def test_impossible_frequencies_are_refused(frequency: float) -> None:
    """A frequency that is not positive and finite has no note."""
    with pytest.raises(ValueError, match="positive and finite"):
        note_of(frequency)
    with pytest.raises(ValueError, match="positive and finite"):
        note_of(440.0, frequency)


@settings(deadline=None)
@given(st.one_of(st.text(max_size=12), st.text("abcdefghisABCDEFGH#♭'°,,0123456789²", max_size=6)))
def test_any_text_gives_an_audible_note_or_a_problem(text: str) -> None:
    """No text breaks the reader, and what it reads lies within the ten octaves of the notation."""
    try:
        number = read_note(text).number
    except NoteError as error:
        number = 60 if error.code == "bad-note" else -1
    assert 10 <= number <= 132
