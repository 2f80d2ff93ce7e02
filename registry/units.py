"""Read what a surveyor wrote as a number in the unit of the field, and write numbers for people.

A field's unit is the last part of its name (``mouth_diameter_mm``). A bare number is in that unit; a number
with another unit of the same kind is converted, exactly, and rounded once to a float.

Sources: inch 25.4 mm, foot 0.3048 m, pound 0.453 592 37 kg (international yard and pound agreement, 1959);
1 ton = 20 cwt, 1 cwt = 4 qr = 112 lb (Weights and Measures Act 1878, First and Second Schedules);
1 kgf = 9.806 65 N (3rd General Conference on Weights and Measures, 1901).
"""

import re
import unicodedata
from fractions import Fraction
from typing import NamedTuple

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


class FieldUnit(NamedTuple):
    """A unit that ends field names: how it is shown, its kind, its size there, and decimals worth showing."""

    symbol: str
    kind: str
    size: Fraction
    decimals: int


def _unit(symbol: str, kind: str, size: str, decimals: int) -> FieldUnit:
    return FieldUnit(symbol, kind, Fraction(size), decimals)


FIELD_UNITS: dict[str, FieldUnit] = {
    "mm": _unit("mm", "length", "1/1000", 1),
    "cm": _unit("cm", "length", "1/100", 1),
    "m": _unit("m", "length", "1", 2),
    "km": _unit("km", "length", "1000", 1),
    "mm2": _unit("mm²", "area", "1", 1),
    "kg": _unit("kg", "mass", "1", 1),
    "g": _unit("g", "mass", "1/1000", 1),
    "kg_m3": _unit("kg/m³", "density", "1", 0),
    "hz": _unit("Hz", "frequency", "1", 2),
    "per_min": _unit("/min", "rate", "1", 1),
    "cents": _unit("cents", "interval", "1", 1),
    "deg": _unit("°", "angle", "1", 5),
    "c": _unit("°C", "temperature", "1", 1),
    "percent": _unit("%", "share", "1", 1),
    "s": _unit("s", "duration", "1", 2),
    "hours": _unit("h", "duration", "3600", 1),
    "days": _unit("d", "duration", "86400", 0),
    "years": _unit("years", "years", "1", 1),
    "m_s": _unit("m/s", "speed", "1", 2),
    "m_s2": _unit("m/s²", "acceleration", "1", 2),
    "n": _unit("N", "force", "1", 0),
    "kn": _unit("kN", "force", "1000", 2),
    "knm": _unit("kN·m", "moment", "1000", 2),
    "kg_m2": _unit("kg·m²", "inertia", "1", 2),
    "mpa": _unit("MPa", "pressure", "1000000", 1),
    "gpa": _unit("GPa", "pressure", "1000000000", 1),
    "db": _unit("dB", "level", "1", 1),
    "v": _unit("V", "voltage", "1", 0),
    "w": _unit("W", "power", "1", 0),
    "kw": _unit("kW", "power", "1000", 2),
    "hrc": _unit("HRC", "rockwell", "1", 1),
    "hb": _unit("HB", "brinell", "1", 0),
    "number": _unit("", "number", "1", 6),
    "none": _unit("", "number", "1", 6),
}
"""Every unit a field's name may end in; one more line makes one more unit."""


class Written(NamedTuple):
    """A unit as written: its size in the base unit of its kind, and what is added (temperatures only)."""

    size: Fraction
    offset: Fraction = Fraction(0)


def _written(**kinds: str) -> dict[str, dict[str, Written]]:
    """Read ``"mm=1/1000 in,inch=0.0254"`` into a table by written form, for each kind."""
    table: dict[str, dict[str, Written]] = {}
    for kind, line in kinds.items():
        table[kind] = {}
        for entry in line.split():
            forms, _, size = entry.partition("=")
            factor, _, offset = size.partition(":")
            for form in forms.split("|"):
                table[kind][form] = Written(Fraction(factor), Fraction(offset or 0))
    return table


WRITTEN: dict[str, dict[str, Written]] = _written(
    length="mm=1/1000 cm=1/100 dm=1/10 m=1 km=1000 µm|um=1/1000000"
    " in|inch|inches|\"=0.0254 ft|foot|feet|'=0.3048 yd|yard|yards=0.9144",
    area="mm²|mm2=1 cm²|cm2=100 m²|m2=1000000",
    mass="mg=1/1000000 g=1/1000 kg=1 t|tonne|tonnes=1000"
    " oz=0.028349523125 lb|lbs|pound|pounds=0.45359237 qr|qrs|qtr=12.70058636 cwt|cwts=50.80234544",
    density="kg/m³|kg/m3=1 g/cm³|g/cm3=1000",
    frequency="Hz=1 kHz=1000",
    rate="/min|per_min|1/min|min⁻¹|rpm=1 /h=1/60 /s=60",
    interval="cents|cent|ct|¢=1 semitone|semitones=100",
    angle="°|deg|degree|degrees=1 '|arcmin=1/60 \"|arcsec=1/3600 gon=0.9",
    temperature="°C|C|ºC|degC=1 °F|F|ºF|degF=5/9:-160/9 K=1:-273.15",
    share="%|percent=1 ‰=1/10",
    duration="ms=1/1000 s|sec|second|seconds=1 min|minute|minutes=60 h|hr|hrs|hour|hours=3600"
    " d|day|days=86400",
    years="year|years|yr|yrs|a=1",
    speed="m/s=1 km/h=5/18 ft/s=0.3048 mph=0.44704",
    acceleration="m/s²|m/s2=1 mm/s²|mm/s2=1/1000",
    force="N=1 kN=1000 kgf|kp=9.80665 lbf=4.4482216152605",
    moment="Nm|N·m=1 kNm|kN·m=1000",
    inertia="kg·m²|kgm²|kgm2|kg·m2=1",
    pressure="Pa=1 kPa=1000 MPa|N/mm²|N/mm2=1000000 GPa=1000000000 bar=100000",
    level="dB|dB(A)|dBA=1",
    voltage="V=1 kV=1000",
    power="W=1 kW=1000",
    rockwell="HRC=1",
    brinell="HB|HBW=1",
    number="",
)
"""By kind of quantity, every unit that may stand behind a number."""

EXAMPLES = {
    "length": "mm, cm, m, in or ft",
    "mass": "kg, t, lb, or cwt-qr-lb as 12-3-14",
    "temperature": "°C, °F or K",
    "angle": "° (or ° ' \")",
}
"""The units named to a surveyor where listing all would be long."""

_LONG_TON = Written(Fraction("1016.0469088"))

LOCAL_UNITS = (
    "ton",
    "tons",
    "zentner",
    "quintal",
    "pfund",
    "livre",
    "zoll",
    "pouce",
    "fuss",
    "fuß",
    "pied",
    "elle",
)
"""Units that meant something else in each town or country; only a person can convert them."""

_FAST = re.compile(r"[+-]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?").fullmatch
_NUMBER = (
    r"[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+"  # 46 1/2, 1/2
    r"|[0-9]{1,3}(?: [0-9]{3})+(?:\.[0-9]+)?(?![0-9])"  # 1 180.5
    r"|(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?"  # 1180.5, .5, 1e3
)
_SINGLE = re.compile(rf"([+-]?) *({_NUMBER}) *(?![0-9.])(.*)").fullmatch
_PART = re.compile(rf" *({_NUMBER}) *([A-Za-z]+\.?|['\"°])(?![A-Za-z]) *")
_DASHED = re.compile(r"(?:([0-9]+)-)?([0-9]+)-([0-9]+)-([0-9]+(?:\.[0-9]+| +[0-9]+/[0-9]+)?)").fullmatch
_GROUPED = re.compile(r"[+-]?[0-9]{1,3}(?:,[0-9]{3})+(?![0-9,])").match
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
        tons, *rest = dashed.groups()
        names = ("cwt", "qr", "lb") if tons is None else ("ton", "cwt", "qr", "lb")
        numbers = rest if tons is None else [tons, *rest]
        return _in_field(_sum_of(list(zip(numbers, names, strict=True)), unit), field)
    if single := _SINGLE(plain):
        sign, number, name = single.groups()
        written = _find_unit(name, field) if name else Written(field.size)
        if written:
            size = _fraction(number, unit) * (-1 if sign == "-" else 1)
            return _in_field(size * written.size + written.offset, field)
        parts = _parts(plain)
        if parts:
            return _in_field(_sum_of(parts, unit), field)
        if not any(character.isdigit() for character in name.rstrip("²³23")):
            raise _unknown_unit(name, unit)
    raise _not_a_number(unit, "write one number; a doubt, a range or a word belongs in the remarks")


def _plain_characters(text: str) -> str:
    """Replace typographic spaces, dashes, primes and fractions by plain ones."""
    for character in set(text):
        if unicodedata.decomposition(character).startswith("<fraction>"):
            text = text.replace(character, f" {unicodedata.normalize('NFKC', character)} ")
    return text.translate(_SIGNS).replace("''", '"').strip()


def _find_unit(name: str, field: FieldUnit) -> Written | None:
    """Find a written unit of the field's kind; capitals matter only where both exist."""
    table = WRITTEN[field.kind]
    name = name.strip().removesuffix(".")
    if name in table:
        return table[name]
    if name == "mPa":  # a thousand-millionth of the unit meant
        return None
    lower = name.casefold()
    return next((written for form, written in table.items() if form.casefold() == lower), None)


def _fraction(number: str, unit: str) -> Fraction:
    """Read the digits of one number exactly."""
    if _LEADING_ZERO(number) and "/" not in number:
        digits = number.lstrip("0") or "0"
        raise QuantityError(
            "ambiguous-number",
            f"a number in {_shown(unit)} without a leading zero",
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
    field = FIELD_UNITS[unit]
    total = Fraction(0)
    above: Written | None = None
    for index, (number, name) in enumerate(parts):
        written = _find_unit(name, field)
        followed_by_cwt = index + 1 < len(parts) and parts[index + 1][1].casefold().startswith("cwt")
        if followed_by_cwt and name.casefold().rstrip(".s") in ("t", "ton") and field.kind == "mass":
            written = _LONG_TON
        if written is None:
            raise _unknown_unit(name, unit)
        size = _fraction(number, unit)
        if index + 1 < len(parts) and size.denominator != 1:
            raise _not_a_number(unit, f"only the last unit may carry a fraction: {number} {name}")
        if above is not None:
            ratio = above.size / written.size
            if ratio <= 1 or ratio.denominator != 1:
                raise _not_a_number(unit, f"units must descend within one system, and {name} does not")
            if size >= ratio:
                raise _not_a_number(unit, f"{number} {name} is more than fits below the unit before it")
        total += size * written.size
        above = written
    return total


def _in_field(size: Fraction, field: FieldUnit) -> float:
    """Turn a size in the base unit into the unit of the field."""
    return float(size / field.size)


def _comma(text: str, unit: str) -> QuantityError:
    """Name the readings of a number with a comma."""
    candidates = [text.replace(".", "").replace(",", ".") if text.count(",") == 1 else ""]
    if _GROUPED(text):
        candidates.append(text.replace(",", ""))
    readings = []
    for candidate in candidates:
        try:
            read_quantity(candidate, unit)
        except QuantityError:
            continue
        readings.append(candidate)
    if not readings:
        return _not_a_number(unit, "write one number, with a decimal point and no commas")
    return QuantityError(
        "ambiguous-number",
        f"a number in {_shown(unit)} with a decimal point and no commas",
        "write " + " or ".join(readings) + ", whichever is meant",
    )


def _shown(unit: str) -> str:
    return FIELD_UNITS[unit].symbol or "plain digits"


def _not_a_number(unit: str, remedy: str) -> QuantityError:
    return QuantityError("not-a-number", f"a number in {_shown(unit)}", remedy)


def _unknown_unit(name: str, unit: str) -> QuantityError:
    kind = FIELD_UNITS[unit].kind
    known = EXAMPLES.get(kind) or ", ".join(WRITTEN[kind]) or "no unit at all"
    expected = f"a number in {_shown(unit)}, or with one of its units: {known}"
    if name.strip().casefold().removesuffix(".") in LOCAL_UNITS:
        return QuantityError(
            "unknown-unit",
            expected,
            f"{name} differs from place to place: convert it and say how in the remarks",
        )
    return QuantityError("unknown-unit", expected, f"convert {name} to {_shown(unit)}, or leave the unit out")


def format_quantity(value: float, unit: str, significant: int | None = None) -> str:
    """Write a quantity for people: ``1 180 mm``, ``−12.5 cents``, ``0.85 %``.

    Thousands are set off by a narrow space, the decimal mark is a point (International System of Units
    brochure, 9th edition, 5.4.4), and nothing breaks across lines.

    Parameters
    ----------
    value : float
        The value in ``unit``.
    unit : str
        One of `FIELD_UNITS`.
    significant : int, optional
        Round to so many significant digits instead of the decimals usual for the unit.
    """
    field = FIELD_UNITS[unit]
    size = abs(value)
    decimals = field.decimals
    exponent = int(f"{size:e}".partition("e")[2])
    if significant is not None:
        decimals = significant - 1 - exponent
    elif 0 < size < 1:
        decimals = max(decimals, 1 - exponent)
    digits = f"{round(size, decimals):,.{max(decimals, 0)}f}"
    if "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    digits = digits.replace(",", "\u202f")
    sign = "\u2212" if value < 0 and digits != "0" else ""
    gap = "" if unit == "deg" or not field.symbol else "\u00a0"
    return f"{sign}{digits}{gap}{field.symbol}"


def unit_of(name: str) -> str | None:
    """Find the unit that ends a field's name: ``"kg_m3"`` for ``density_kg_m3``, None where there is none."""
    parts = name.split("_")
    endings = ("_".join(parts[start:]) for start in range(1, len(parts)))
    return next((ending for ending in endings if ending in FIELD_UNITS), None)
