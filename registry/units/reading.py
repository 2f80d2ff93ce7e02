"""Read what a surveyor wrote as one number in the unit of the field.

A number is converted exactly and rounded once to a float. What could be read in two ways is refused with both
readings named.
"""

import re
import unicodedata
from fractions import Fraction

from registry.units.tables import EXAMPLES, FIELD_UNITS, LOCAL_UNITS, LONG_TON, WRITTEN, Written

LONGEST = 60
"""Characters a written quantity may have; no reading of an instrument needs more."""


class QuantityError(ValueError):
    """A text that is not one number in a unit of the field.

    Attributes
    ----------
    code : str
        ``not-a-number``, ``unknown-unit`` or ``ambiguous-number``.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, code: str, expected: str, remedy: str) -> None:
        super().__init__(f"expected {expected}: {remedy}")
        self.code = code
        self.expected = expected
        self.remedy = remedy


_FAST = re.compile(r"[+-]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?").fullmatch
_NUMBER = (
    r"[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+"  # 46 1/2, 1/2
    r"|[0-9]{1,3}(?: [0-9]{3})+(?:\.[0-9]+)?(?![0-9])"  # 1 180.5
    r"|(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?"  # 1180.5, .5, 1e3
)
_SINGLE = re.compile(rf"([+-]?) *({_NUMBER}) *(?![0-9.])(.*)").fullmatch
_PART = re.compile(rf" *({_NUMBER}) *([A-Za-z]+\.?|['\"°])(?![A-Za-z]) *")
_LIKE_A_UNIT = re.compile(r"[^0-9+±~<>=?:*-]+[23]?").fullmatch
_DASHED = re.compile(r"(?:([0-9]+)-)?([0-9]+)-([0-9]+)-([0-9]+(?:\.[0-9]+| +[0-9]+/[0-9]+)?)").fullmatch
_LEADING_ZERO = re.compile(r"[+-]?0[0-9]").match
_SIGNS = str.maketrans(
    dict.fromkeys("\u2212\u2010\u2011\u2012\u2013", "-")
    | dict.fromkeys("\u00a0\u2007\u2008\u2009\u200a\u202f\t", " ")
    | dict.fromkeys("\u2032\u2019\u2018\u02b9", "'")
    | dict.fromkeys("\u2033\u201d\u201c\u02ba", '"')
    | {"\u2044": "/", "\u03bc": "µ", "\u00ba": "°"}
)


def read_quantity(text: str, unit: str) -> float:
    """Read one written quantity as a number in the unit of its field.

    Parameters
    ----------
    text : str
        What the surveyor wrote: ``1180``, ``118 cm``, ``46 1/2 in``, ``3' 10½"``, ``12-3-14`` (hundredweight,
        quarters, pounds), ``68 °F``.
    unit : str
        The unit that ends the field's name, one of `FIELD_UNITS`.

    Returns
    -------
    float
        The value in ``unit``; finite. Whether any bell can have it is for the field to say.

    Raises
    ------
    QuantityError
        When the text is not one number, its unit is not of this kind, or it can be read in two ways.
    """
    if len(text) <= LONGEST:
        if _FAST(text):
            return float(text) + 0.0  # -0 becomes 0
        return _read_slowly(text, unit)
    raise _not_a_number(unit, f"write the reading alone, in at most {LONGEST} characters")


def _read_slowly(text: str, unit: str) -> float:
    """Read anything but a plain number."""
    field = FIELD_UNITS[unit]
    plain = _plain_characters(text)
    if "," in plain:
        raise _comma(plain, unit)
    if field.kind == "mass" and (dashed := _DASHED(plain)):
        tons, hundredweights, quarters, pounds = dashed.groups()
        plain = f"{hundredweights} cwt {quarters} qr {pounds} lb"
        plain = plain if tons is None else f"{tons} ton {plain}"
    single = _SINGLE(plain)
    if single is None:
        raise _not_a_number(unit, "write one number; a doubt, a range or a word belongs in the remarks")
    sign, number, name = single.groups()
    written = _find_unit(name, field.kind) if name else Written(field.size)
    if written:
        size = _fraction(number, unit) * (-1 if sign == "-" else 1)
        return float((size * written.size + written.offset) / field.size)
    if parts := _parts(plain):
        return float(_sum_of(parts, unit) / field.size)
    if _LIKE_A_UNIT(name):
        raise _unknown_unit(name, unit)
    raise _not_a_number(unit, "write one number; a doubt, a range or a word belongs in the remarks")


def _plain_characters(text: str) -> str:
    """Replace typographic spaces, dashes, primes and fractions by plain ones."""
    for character in set(text):
        if unicodedata.decomposition(character).startswith("<fraction>"):
            text = text.replace(character, f" {unicodedata.normalize('NFKC', character)} ")
    return text.translate(_SIGNS).replace("''", '"').strip()


def _find_unit(name: str, kind: str) -> Written | None:
    """Find a written unit of a kind, capitals or not."""
    table = WRITTEN[kind]
    name = name.replace(" ", "").removesuffix(".")
    if name in table or name == "mPa":  # not to be taken for MPa, a thousand million times as much
        return table.get(name)
    lower = name.casefold()
    return next((written for form, written in table.items() if form.casefold() == lower), None)


def _fraction(number: str, unit: str) -> Fraction:
    """Read the digits of one number exactly."""
    if _LEADING_ZERO(number) and "/" not in number:
        digits = number.lstrip("0") or "0"
        raise QuantityError(
            "ambiguous-number",
            f"{_wanted(unit)} without a leading zero",
            f"write {digits}, or 0.{number[1:]} if a point was lost",
        )
    whole, _, broken = number.rpartition(" ") if "/" in number else ("", "", number)
    if "/" not in broken:
        return Fraction(broken.replace(" ", ""))
    top, bottom = (int(part) for part in broken.split("/"))
    if bottom == 0 or (whole and top >= bottom):
        raise _not_a_number(unit, f"{broken} is no proper fraction")
    return Fraction(int(whole or 0)) + Fraction(top, bottom)


def _parts(text: str) -> list[tuple[str, str]]:
    """Split ``3 ft 10 1/2 in`` into numbers with units; an empty list where it is not of that form."""
    parts: list[tuple[str, str]] = []
    position = 0
    while position < len(text):
        part = _PART.match(text, position)
        if part is None:
            return []
        parts.append((part[1], part[2]))
        position = part.end()
    return parts


def _sum_of(parts: list[tuple[str, str]], unit: str) -> Fraction:
    """Add a quantity written in descending units, in the base unit of its kind."""
    kind = FIELD_UNITS[unit].kind
    total = Fraction(0)
    above = Fraction(0)
    following = [name.casefold() for _, name in parts[1:]] + [""]
    for (number, name), next_name in zip(parts, following, strict=True):
        written = _find_unit(name, kind)
        if kind == "mass" and next_name.startswith("cwt") and name.casefold().rstrip(".s") in ("t", "ton"):
            written = LONG_TON
        if written is None:
            raise _unknown_unit(name, unit)
        count = _fraction(number, unit)
        if next_name and count.denominator != 1:
            raise _not_a_number(unit, f"only the last part may carry a fraction, not {number} {name}")
        ratio = above / written.size
        if above and (ratio <= 1 or ratio.denominator != 1):
            raise _not_a_number(
                unit, f"the parts go from large to small in one system, and {name} does not fit"
            )
        if above and count >= ratio:
            raise _not_a_number(unit, f"{number} {name} is more than the part before it leaves room for")
        total += count * written.size
        above = written.size
    return total


def _comma(text: str, unit: str) -> QuantityError:
    """Name the readings of a number with a comma."""
    if "." in text:
        comma_is_decimal = text.rfind(",") > text.rfind(".")
        candidates = [text.replace(".", "").replace(",", ".") if comma_is_decimal else text.replace(",", "")]
    else:
        candidates = [text.replace(",", "."), text.replace(",", "")]
    readings = [candidate for candidate in candidates if _can_be_read(candidate, unit)]
    if not readings:
        return _not_a_number(unit, "write one number, with a decimal point and no commas")
    return QuantityError(
        "ambiguous-number",
        f"{_wanted(unit)} with a decimal point and no commas",
        f"write {' or '.join(readings)}, if that is meant",
    )


def _can_be_read(text: str, unit: str) -> bool:
    try:
        read_quantity(text, unit)
    except QuantityError:
        return False
    return True


def _wanted(unit: str) -> str:
    """Say what belongs in a field."""
    symbol = FIELD_UNITS[unit].symbol
    return f"a number in {symbol}" if symbol else "a plain number"


def _not_a_number(unit: str, remedy: str) -> QuantityError:
    return QuantityError("not-a-number", _wanted(unit), remedy)


def _unknown_unit(name: str, unit: str) -> QuantityError:
    """Make the error for a unit that is not one of the field's kind."""
    field = FIELD_UNITS[unit]
    name = name.strip()
    known = EXAMPLES.get(field.kind) or ", ".join(WRITTEN[field.kind])
    other = next((kind for kind in WRITTEN if kind != field.kind and _find_unit(name, kind)), None)
    if name.casefold().removesuffix(".") in LOCAL_UNITS:
        remedy = f"{name} differs from place to place: convert it, and say how in the remarks"
    elif other:
        remedy = f"{name} is a unit of {other}: check which field this is"
    else:
        remedy = "convert the reading, or leave the unit out where it is the field's own"
    expected = f"{_wanted(unit)}, or with one of the units {known}" if known else _wanted(unit)
    return QuantityError("unknown-unit", expected, remedy)
