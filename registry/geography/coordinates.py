"""Latitudes and longitudes as people write them: degrees north and east, WGS 84."""

import re
from typing import Literal

Axis = Literal["latitude", "longitude"]

LONGEST = 60
"""Characters a written coordinate may have."""

_LIMITS = {"latitude": 90.0, "longitude": 180.0}
_LETTERS = {"latitude": "NS", "longitude": "EW"}
_EXAMPLES = {
    "latitude": "degrees north such as 51.2345 or 51° 14' 04.2\" N",
    "longitude": "degrees east such as -2.3456 or 2° 20' 44.2\" W",
}


class CoordinateError(ValueError):
    """A text or number that is no latitude or longitude.

    Attributes
    ----------
    code : str
        ``bad-coordinate``.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, axis: Axis, remedy: str) -> None:
        self.code = "bad-coordinate"
        self.expected = _EXAMPLES[axis]
        self.remedy = remedy
        super().__init__(f"expected {self.expected}: {remedy}")


_DECIMAL = re.compile(r"([+-]?)([0-9]{1,3}(?:\.[0-9]{1,15})?) ?°?").fullmatch
_LETTERED = re.compile(
    r"([0-9]{1,3}(?:\.[0-9]{1,15})?) ?°?"
    r"|([0-9]{1,3})(?: ?° ?| )([0-9]{1,2}(?:\.[0-9]{1,12})?) ?'?"
    r"|([0-9]{1,3})(?: ?° ?| )([0-9]{1,2})(?: ?' ?| )([0-9]{1,2}(?:\.[0-9]{1,10})?) ?\"?"
).fullmatch
_PLAIN = str.maketrans(
    {"\u2212": "-", "\u00ba": "°", "\u02da": "°", "\u00a0": " ", "\u2009": " ", "\u202f": " "}
    | dict.fromkeys("\u2032\u2019\u2018\u02b9", "'")
    | dict.fromkeys("\u2033\u201d\u201c\u02ba", '"')
)


def read_coordinate(text: str, axis: Axis) -> float:
    """Read one written coordinate.

    Parameters
    ----------
    text : str
        Decimal degrees with a point (``-37.951033``), or degrees, minutes and seconds with one of the letters
        N, S, E, W before or behind and no sign (``37° 57' 03.72" S``, ``37 57.062 S``).
    axis : str
        ``latitude`` or ``longitude``.

    Returns
    -------
    float
        Degrees north or east, WGS 84, within 90 or 180; nothing is wrapped round.

    Raises
    ------
    CoordinateError
        When the text is neither.
    """
    if len(text) > LONGEST:
        raise CoordinateError(axis, "write one coordinate alone")
    plain = " ".join(text.translate(_PLAIN).replace("''", '"').split())
    if decimal := _DECIMAL(plain):
        return checked(axis, float(decimal[1] + decimal[2]))
    letter, rest = _hemisphere(plain, axis)
    parts = _LETTERED(rest)
    if parts is None:
        raise CoordinateError(axis, _remedy(plain))
    degrees, minutes, seconds = (
        float(part) if part else 0.0
        for part in (parts[1] or parts[2] or parts[4], parts[3] or parts[5], parts[6])
    )
    if minutes >= 60.0 or seconds >= 60.0:
        raise CoordinateError(axis, "minutes and seconds go up to 59: check the digits")
    value = degrees + minutes / 60.0 + seconds / 3600.0
    return checked(axis, -value if letter in "SW" else value)


def _hemisphere(text: str, axis: Axis) -> tuple[str, str]:
    """Split off the letter of the hemisphere, before or behind the digits."""
    for letter, rest in ((text[:1], text[1:]), (text[-1:], text[:-1])):
        if letter and letter in "NSEW":
            if letter not in _LETTERS[axis]:
                other = "longitude" if axis == "latitude" else "latitude"
                raise CoordinateError(axis, f"{letter} belongs to a {other}: check which field this is")
            return letter, rest.strip()
    raise CoordinateError(axis, _remedy(text))


def _remedy(text: str) -> str:
    """Say what is wrong with a text that is no coordinate."""
    if "," in text:
        return "write a decimal point, and latitude and longitude each in its own field"
    if re.search("[NSEW]", text) and re.search("[+-]", text):
        return "write either a sign or a letter, not both"
    if re.search("[nsewOo]$|^[nsewOo]", text):
        return "write the letter as N, S, E or W (O means east in some languages and west in others)"
    if re.fullmatch("[-+]?[0-9]+[ °].*[0-9].*", text):
        return "degrees with minutes take one of the letters N, S, E, W and no sign"
    return "write decimal degrees, or degrees, minutes and seconds with one letter"


def checked(axis: Axis, value: float) -> float:
    """Return a coordinate that lies in its range, and refuse any other."""
    limit = _LIMITS[axis]
    if -limit <= value <= limit:
        return value + 0.0  # -0 becomes 0
    raise CoordinateError(axis, f"a {axis} lies between -{limit:.0f} and {limit:.0f}, not at {value}")


def checked_pair(latitude_deg: float, longitude_deg: float) -> tuple[float, float]:
    """Return a latitude and a longitude that lie in their ranges, and refuse any other.

    Raises
    ------
    CoordinateError
        When one does not.
    """
    return checked("latitude", latitude_deg), checked("longitude", longitude_deg)
