"""The units: those that end the names of fields, and those that people write behind a number.

Sources: yard 0.9144 m and pound 0.453 592 37 kg exactly (Weights and Measures Act 1985, section 1, as in the
international yard and pound agreement of 1959); hundredweight of eight stones of fourteen pounds, ton of
twenty hundredweight (Weights and Measures Act 1878, quoted in Cooley's Cyclopaedia of Practical Receipts,
6th ed., vol. 2); the quarter of 28 lb is a quarter of a hundredweight. Standard gravity 9.806 65 m/s² (3rd
General Conference on Weights and Measures, 1901).
"""

from fractions import Fraction
from typing import NamedTuple


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
    "semitones": _unit("semitones", "interval", "100", 1),
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
    rate="/min|per_min|min⁻¹|rpm=1 /h=1/60 /s=60",
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

LONG_TON = Written(Fraction("1016.0469088"))
"""The ton of 20 hundredweights, meant only where hundredweights follow."""

LOCAL_UNITS = frozenset("ton tons zentner quintal pfund livre zoll pouce fuss fuß pied elle".split())  # noqa: SIM905
"""Units that meant something else in each town or country; only a person can convert them."""
