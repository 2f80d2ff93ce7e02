"""Coordinates are read as they are meant, or refused: none is turned into another place."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.geography import CoordinateError, read_coordinate
from registry.geography.coordinates import Axis

READ: list[tuple[str, Axis, float]] = [
    ("-37.951033", "latitude", -37.951033),
    ("+12.5", "longitude", 12.5),
    ("51", "latitude", 51.0),
    ("007.5", "longitude", 7.5),
    ("41.9°", "latitude", 41.9),
    ("41.9° N", "latitude", 41.9),
    ("41.9N", "latitude", 41.9),
    ("N 41.9", "latitude", 41.9),
    ("S41.9", "latitude", -41.9),
    ("12.5 W", "longitude", -12.5),
    ("\u221241.9", "latitude", -41.9),  # a true minus sign
    ("41 54 00 N", "latitude", 41.9),
    ("N 41 54 00", "latitude", 41.9),
    ("12 30 00 E", "longitude", 12.5),
    ("41 54.5 N", "latitude", 41 + 54.5 / 60),
    ("41° 54' N", "latitude", 41.9),
    ("41°54'00\"N", "latitude", 41.9),
    ("41º 54’ 00” N", "latitude", 41.9),
    ("41° 54' 00'' N", "latitude", 41.9),
    ("37° 57′ 03.72030″ S", "latitude", -(37 + 57 / 60 + 3.7203 / 3600)),
    ("144°25′29.52440″ E", "longitude", 144 + 25 / 60 + 29.5244 / 3600),
    ("0° 30' W", "longitude", -0.5),
    ("90 N", "latitude", 90.0),
    ("-90", "latitude", -90.0),
    ("180", "longitude", 180.0),
    ("180 0 0 W", "longitude", -180.0),
    ("-0", "latitude", 0.0),
    (" 51.5\u00a0", "latitude", 51.5),
]


@pytest.mark.parametrize(("text", "axis", "degrees"), READ)
def test_coordinates_are_read(text: str, axis: Axis, degrees: float) -> None:
    """Decimal degrees and degrees, minutes, seconds with a letter give the degrees they say."""
    read = read_coordinate(text, axis)
    assert read == pytest.approx(degrees, abs=1e-13)
    assert math.copysign(1.0, read) == math.copysign(1.0, degrees)


MISREAD_BY_OTHERS = [
    # Texts that geopy 2.5.0 reads as another place without a word.
    "41 54 00 N 12 30 00 E",
    "N 41 54 00 E 12 30 00",
    "41 54.5 N 12 30.5 E",
    "51,5 -0,12",
    "41,9N 12,5E",
    "\u221241.9, 12.5",
    "-41.9 S",
    "41.5 N -81.0 W",
    "10,200",
    "10,380",
    "12.5, 41.9",
    "the tower at 12.5",
]


@pytest.mark.parametrize("text", MISREAD_BY_OTHERS)
@pytest.mark.parametrize("axis", ["latitude", "longitude"])
def test_texts_that_others_misread_are_refused(text: str, axis: Axis) -> None:
    """A pair, a decimal comma, a sign with a letter or a word is no coordinate of one axis."""
    with pytest.raises(CoordinateError):
        read_coordinate(text, axis)


REFUSED: list[tuple[str, Axis, str]] = [
    ("51,5", "latitude", "decimal point"),
    ("-41.9 S", "latitude", "sign or a letter"),
    ("12.5 E", "latitude", "belongs to a longitude"),
    ("41.9 N", "longitude", "belongs to a latitude"),
    ("12.5 O", "longitude", "N, S, E or W"),
    ("41.9n", "latitude", "N, S, E or W"),
    ("41 54 00", "latitude", "one of the letters"),
    ("-37 57 03.7", "latitude", "one of the letters"),
    ("41 60 00 N", "latitude", "up to 59"),
    ("41 59 60 N", "latitude", "up to 59"),
    ("90.000001", "latitude", "between -90 and 90"),
    ("90 0 0.1 N", "latitude", "between -90 and 90"),
    ("200", "longitude", "between -180 and 180"),
    ("372.5", "longitude", "between -180 and 180"),
    ("-181", "longitude", "between -180 and 180"),
    ("41.5 54 N", "latitude", ""),
    ("41 54.5 30 N", "latitude", ""),
    ("N 41 N", "latitude", ""),
    ("NS 41", "latitude", ""),
    ("4154N", "latitude", ""),
    ("1e1", "latitude", ""),
    ("5.", "latitude", ""),
    ("inf", "latitude", ""),
    ("nan", "latitude", ""),
    ("٤١.٩", "latitude", ""),
    ("", "latitude", ""),
    ("N", "latitude", ""),
    ("1" * 100, "latitude", ""),
    ("51.5" + " " * 5000, "latitude", ""),
]


@pytest.mark.parametrize(("text", "axis", "words"), REFUSED, ids=lambda value: value[:20])
def test_what_is_no_coordinate_is_refused(text: str, axis: Axis, words: str) -> None:
    """What is no coordinate of the axis is refused with what to write; nothing is wrapped round."""
    with pytest.raises(CoordinateError) as caught:
        read_coordinate(text, axis)
    assert caught.value.code == "bad-coordinate"
    assert caught.value.expected
    assert words in caught.value.remedy


@settings(deadline=None)
@given(st.integers(-1800000000, 1800000000))
def test_decimals_read_back(ten_millionths: int) -> None:
    """Degrees with seven decimals read back as the nearest float, on either axis that holds them."""
    text = (
        f"{'-' if ten_millionths < 0 else ''}{abs(ten_millionths) // 10**7}.{abs(ten_millionths) % 10**7:07d}"
    )
    assert read_coordinate(text, "longitude") == ten_millionths / 10**7
    if abs(ten_millionths) <= 90 * 10**7:
        assert read_coordinate(text, "latitude") == ten_millionths / 10**7
    else:
        with pytest.raises(CoordinateError):
            read_coordinate(text, "latitude")


@settings(deadline=None)
@given(st.integers(0, 89), st.integers(0, 59), st.integers(0, 59999), st.sampled_from("NS"), st.booleans())
def test_sexagesimal_reads_back(
    degrees: int, minutes: int, thousandths: int, letter: str, before: bool
) -> None:
    """Degrees, minutes and seconds give their sum, with the sign of the letter, before or behind."""
    digits = f"{degrees}° {minutes}' {thousandths / 1000:.3f}\""
    text = f"{letter} {digits}" if before else f"{digits} {letter}"
    size = degrees + minutes / 60 + thousandths / 3600000
    assert read_coordinate(text, "latitude") == pytest.approx(-size if letter == "S" else size, abs=1e-12)


@settings(deadline=None)
@given(st.one_of(st.text(max_size=40), st.text("0123456789 .,-+°'\"NSEW", max_size=20)))
def test_any_text_gives_a_place_in_range_or_a_problem(text: str) -> None:
    """No text breaks the reader, and no latitude exceeds 90."""
    try:
        degrees = read_coordinate(text, "latitude")
    except CoordinateError as error:
        degrees = 0.0 if error.code == "bad-coordinate" else math.nan
    assert -90.0 <= degrees <= 90.0
