"""Written quantities become numbers in the unit of their field, or are refused with what to do."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.units import FIELD_UNITS, QuantityError, format_quantity, read_quantity, unit_of
from registry.units.tables import WRITTEN

# International yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.453 592 37 kg, both exactly.
INCH_MM = Fraction(254, 10)
POUND_KG = Fraction(45359237, 100000000)

CODES = {"not-a-number", "unknown-unit", "ambiguous-number"}

READ = [
    # plain numbers, in the unit of the field
    ("1180", "mm", 1180.0),
    ("1180.5", "mm", 1180.5),
    ("-12.5", "cents", -12.5),
    ("+5", "cents", 5.0),
    ("0", "mm", 0.0),
    ("1/2 in", "mm", 12.7),
    ("½ in", "mm", 12.7),
    ("3/4", "mm", 0.75),
    ("-0", "c", 0.0),
    (".5", "mm", 0.5),
    ("1e3", "mm", 1000.0),
    ("1.5E-3", "m", 0.0015),
    # another metric unit
    ("1180 mm", "mm", 1180.0),
    ("1180mm", "mm", 1180.0),
    ("118 cm", "mm", 1180.0),
    ("1.18 m", "mm", 1180.0),
    ("1.13 m", "mm", 1130.0),  # 1.13 * 1000 as floats is 1129.9999999999998
    ("2 µm", "mm", 0.002),
    ("2 \u03bcm", "mm", 0.002),  # Greek mu instead of the micro sign
    ("0.85 t", "kg", 850.0),
    ("850 kg", "kg", 850.0),
    ("850 KG", "kg", 850.0),
    ("0.44 kHz", "hz", 440.0),
    ("12.5 %", "percent", 12.5),
    ("12.5 per cent", "percent", 12.5),
    ("8.7 g/cm³", "kg_m3", 8700.0),
    ("36 km/h", "m_s", 10.0),
    ("90 min", "hours", 1.5),
    ("2 min 4.3 s", "s", 124.3),
    ("38.6 /min", "per_min", 38.6),
    ("45 HRC", "hrc", 45.0),
    ("1 N/mm²", "mpa", 1.0),
    ("1 m 18 cm", "mm", 1180.0),
    # temperature: freezing and boiling point of water, and absolute zero
    ("68 °F", "c", 20.0),
    ("32F", "c", 0.0),
    ("212 °F", "c", 100.0),
    ("-40 °F", "c", -40.0),
    ("0 K", "c", -273.15),
    ("20 ° C", "c", 20.0),
    # angles
    ("12° 30' 36\"", "deg", 12.51),
    ("-12.5°", "deg", -12.5),
    # typography
    ("\u22125", "cents", -5.0),
    ("1\u00a0180 mm", "mm", 1180.0),
    ("1\u2009180\u202fmm", "mm", 1180.0),
    ("12 500", "kg", 12500.0),
    ("  1180  ", "mm", 1180.0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit", "value"), READ)
def test_readings_are_converted_exactly(text: str, unit: str, value: float) -> None:
    """A reading in any unit of its kind gives the number that is nearest to its exact size."""
    assert read_quantity(text, unit) == value
    assert math.copysign(1.0, read_quantity(text, unit)) == math.copysign(1.0, value)


@pytest.mark.parametrize(
    "text",
    [
        "46 1/2 in",
        '46½"',
        "46½ in.",
        "3 ft 10 1/2 in",
        "3' 10½\"",
        "3′10½″",
        "3’ 10.5”",
        "3' 10 1/2''",
        "3ft10.5in",
    ],
)
def test_feet_and_inches_agree(text: str) -> None:
    """Every way to write forty-six and a half inches gives 1181.1 mm."""
    assert read_quantity(text, "mm") == float(Fraction(93, 2) * INCH_MM) == 1181.1


@pytest.mark.parametrize(
    ("text", "pounds"),
    [
        ("12-3-14", 12 * 112 + 3 * 28 + 14),
        ("12–3–14", 12 * 112 + 3 * 28 + 14),
        ("12 cwt 3 qr 14 lb", 12 * 112 + 3 * 28 + 14),
        ("12cwt 3qrs 14lbs", 12 * 112 + 3 * 28 + 14),
        ("12 cwt 14 lb", 12 * 112 + 14),
        ("0-0-27", 27),
        ("1-12-3-14", 2240 + 12 * 112 + 3 * 28 + 14),
        ("1 ton 12 cwt", 2240 + 12 * 112),
        ("1 t 12 cwt 3 qr 14 lb", 2240 + 12 * 112 + 3 * 28 + 14),
        ("1 cwt", 112),
        ("1870 lb", 1870),
        ("12-3-14½", Fraction(25, 2) + 12 * 112 + 3 * 28 + 2),
    ],
)
def test_hundredweights(text: str, pounds: int | Fraction) -> None:
    """A hundredweight has 4 quarters of 28 lb, a ton before it has 20 hundredweights."""
    assert read_quantity(text, "kg") == float(pounds * POUND_KG)


def test_a_hundredweight_in_kilograms() -> None:
    """One hundredweight is 50.802 345 44 kg."""
    assert read_quantity("1-0-0", "kg") == 50.80234544


# Size of each written unit in a unit of the field, by the definitions that the tables of units cite.
SIZES = {
    "mm": {"mm": 1, "cm": 10, "dm": 100, "m": 1000, "km": 1000000, "µm um": 0.001, "in inch inches \"": 25.4,
           "ft foot feet '": 304.8, "yd yard yards": 914.4},
    "cm": {"m": 100}, "m": {"mm": 0.001}, "km": {"m": 0.001},
    "mm2": {"mm² mm2": 1, "cm² cm2": 100, "m² m2": 1000000},
    "kg": {"mg": 0.000001, "g": 0.001, "kg": 1, "t tonne tonnes": 1000, "oz": 0.028349523125,
           "lb lbs pound pounds": 0.45359237, "qr qrs qtr": 12.70058636, "cwt cwts": 50.80234544},
    "g": {"kg": 1000},
    "kg_m3": {"kg/m³ kg/m3": 1, "g/cm³ g/cm3": 1000},
    "hz": {"Hz": 1, "kHz": 1000},
    "per_min": {"/min per_min min⁻¹ rpm": 1, "/h": 1 / 60, "/s": 60},
    "cents": {"cents cent ct ¢": 1, "semitone semitones": 100},
    "semitones": {"cents cent ct ¢": 0.01, "semitone semitones": 1},
    "deg": {"° deg degree degrees": 1, "' arcmin": 1 / 60, '" arcsec': 1 / 3600, "gon": 0.9},
    "percent": {"% percent": 1, "‰": 0.1},
    "s": {"ms": 0.001, "s sec second seconds": 1, "min minute minutes": 60, "h hr hrs hour hours": 3600,
          "d day days": 86400},
    "hours": {"min": 1 / 60, "h": 1, "days": 24}, "days": {"h": 1 / 24},
    "years": {"year years yr yrs a": 1},
    "m_s": {"m/s": 1, "km/h": 1 / 3.6, "ft/s": 0.3048, "mph": 0.44704},
    "m_s2": {"m/s² m/s2": 1, "mm/s² mm/s2": 0.001},
    "n": {"N": 1, "kN": 1000, "kgf kp": 9.80665, "lbf": 0.45359237 * 9.80665}, "kn": {"N": 0.001, "kN": 1},
    "knm": {"Nm N·m": 0.001, "kNm kN·m": 1},
    "kg_m2": {"kg·m² kgm² kgm2 kg·m2": 1},
    "mpa": {"Pa": 0.000001, "kPa": 0.001, "MPa N/mm² N/mm2": 1, "GPa": 1000, "bar": 0.1},
    "gpa": {"MPa": 0.001},
    "db": {"dB dB(A) dBA": 1}, "v": {"V": 1, "kV": 1000}, "w": {"W": 1, "kW": 1000}, "kw": {"W": 0.001},
    "hrc": {"HRC": 1}, "hb": {"HB HBW": 1},
}  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "written", "size"),
    [
        (unit, form, size)
        for unit, sizes in SIZES.items()
        for forms, size in sizes.items()
        for form in forms.split()
    ],
)
def test_every_unit_has_its_size(unit: str, written: str, size: float) -> None:
    """One of any written unit has its defined size in the unit of the field."""
    assert read_quantity(f"1 {written}", unit) == pytest.approx(size, rel=1e-14)
    assert read_quantity(f"2.5{written}", unit) == pytest.approx(2.5 * size, rel=1e-14)


def test_every_unit_is_tested() -> None:
    """No unit escapes the test but those of temperature, which are tested above, and plain numbers."""
    tested = {
        (FIELD_UNITS[u].kind, form) for u, sizes in SIZES.items() for forms in sizes for form in forms.split()
    }
    known = {(kind, form) for kind, forms in WRITTEN.items() for form in forms if kind != "temperature"}
    assert tested == known
    assert set(FIELD_UNITS) - set(SIZES) == {"c", "number", "none"}


REFUSED = [
    # no number
    ("", "mm", "not-a-number"),
    ("abc", "mm", "not-a-number"),
    ("12:30", "mm", "not-a-number"),
    ("inf", "mm", "not-a-number"),
    ("nan", "mm", "not-a-number"),
    ("1_000", "mm", "not-a-number"),
    ("0x10", "mm", "not-a-number"),
    ("١١٨٠", "mm", "not-a-number"),
    ("5.", "mm", "not-a-number"),
    ("1.2.3", "mm", "not-a-number"),
    ("--5", "mm", "not-a-number"),
    ("1e999", "mm", "not-a-number"),
    ("1180-1190", "mm", "not-a-number"),
    ("1180 ± 2", "mm", "not-a-number"),
    ("ca. 1180", "mm", "not-a-number"),
    ("1180 1190", "mm", "not-a-number"),
    ("1/0 in", "mm", "not-a-number"),
    ("3 5/4 in", "mm", "not-a-number"),
    ("3 4/4 in", "mm", "not-a-number"),
    ("3 ft 2 ft", "mm", "not-a-number"),
    ("1" * 61, "mm", "not-a-number"),
    ("9" * 5000, "mm", "not-a-number"),
    ("1180" + " " * 5000, "mm", "not-a-number"),
    # parts that do not fit
    ("12-4-14", "kg", "not-a-number"),
    ("12-3-28", "kg", "not-a-number"),
    ("1-20-0-0", "kg", "not-a-number"),
    ("12-3", "kg", "not-a-number"),
    ("12-3-14", "mm", "not-a-number"),
    ("3 ft 12 in", "mm", "not-a-number"),
    ("3.5 ft 2 in", "mm", "not-a-number"),
    ("10 in 3 ft", "mm", "not-a-number"),
    ("1 m 3 in", "mm", "not-a-number"),
    ("3 ft 10", "mm", "not-a-number"),
    # units
    ("12 kg", "mm", "unknown-unit"),
    ("7 mm", "number", "unknown-unit"),
    ("20°", "c", "unknown-unit"),
    ("5 mPa", "mpa", "unknown-unit"),
    ("1 ton", "kg", "unknown-unit"),
    ("12 Zoll", "mm", "unknown-unit"),
    ("12 elephants", "mm", "unknown-unit"),
    ("3 ft 2 kg", "mm", "unknown-unit"),
    # two readings
    ("1,180", "mm", "ambiguous-number"),
    ("1,18 m", "mm", "ambiguous-number"),
    ("1.180,5", "mm", "ambiguous-number"),
    ("1,180.5", "mm", "ambiguous-number"),
    ("0123", "mm", "ambiguous-number"),
    ("007 cm", "mm", "ambiguous-number"),
    ("1,2,3", "mm", "ambiguous-number"),
    ("a,b", "mm", "not-a-number"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit", "code"), REFUSED, ids=lambda value: str(value)[:20])
def test_what_is_no_single_number_is_refused(text: str, unit: str, code: str) -> None:
    """A text that is no number, has a foreign unit or two readings is refused, with a remedy."""
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, unit)
    assert caught.value.code == code
    assert caught.value.expected
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        ("1,180", "mm", ["1.180", "1180"]),
        ("1,18 m", "mm", ["1.18 m"]),
        ("1.180,5", "mm", ["1180.5"]),
        ("1,180.5", "mm", ["1180.5"]),
        ("0123", "mm", ["123", "0.123"]),
        ("12 kg", "mm", ["mass"]),
        ("9" * 61, "mm", ["60 characters"]),
        ("1 ton", "kg", ["place to place"]),
        ("12-4-14", "kg", ["4 qr"]),
    ],
)
def test_remedies_name_the_readings(text: str, unit: str, words: list[str]) -> None:
    """The remedy names what could have been meant."""
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, unit)
    assert all(word in caught.value.remedy for word in words)


def test_sixty_characters_are_enough() -> None:
    """A number of sixty characters is still read."""
    assert read_quantity("1" * 60, "mm") == float("1" * 60)


@settings(deadline=None)
@given(st.floats(-1e9, 1e9).filter(lambda number: number == 0 or abs(number) > 1e-6))
def test_plain_numbers_are_read_as_python_reads_them(number: float) -> None:
    """A number without a unit is the float nearest to its digits."""
    text = format(number, ".9f")
    assert read_quantity(text, "mm") == float(text)


@settings(deadline=None)
@given(st.text(max_size=80), st.sampled_from(sorted(FIELD_UNITS)))
def test_any_text_gives_a_finite_number_or_a_problem(text: str, unit: str) -> None:
    """No text breaks the reader, and none gives infinity."""
    try:
        outcome: float | str = read_quantity(text, unit)
    except QuantityError as error:
        outcome = error.code
    assert outcome in CODES or math.isfinite(float(outcome))


@settings(deadline=None)
@given(st.text("0123456789 .,-+'\"½ftincwqrlb°", max_size=30), st.sampled_from(["mm", "kg", "deg"]))
def test_near_misses_give_a_finite_number_or_a_problem(text: str, unit: str) -> None:
    """Texts made of the right characters in the wrong order do not break the reader either."""
    try:
        outcome: float | str = read_quantity(text, unit)
    except QuantityError as error:
        outcome = error.code
    assert outcome in CODES or math.isfinite(float(outcome))


@settings(deadline=None)
@given(st.integers(0, 10**6), st.integers(0, 3), st.integers(0, 27))
def test_hundredweights_add_up(hundredweights: int, quarters: int, pounds: int) -> None:
    """Both spellings of hundredweights, quarters and pounds give the sum in pounds."""
    total = float((hundredweights * 112 + quarters * 28 + pounds) * POUND_KG)
    assert read_quantity(f"{hundredweights}-{quarters}-{pounds}", "kg") == total
    assert read_quantity(f"{hundredweights} cwt {quarters} qr {pounds} lb", "kg") == total


SHOWN = [
    (1180.0, "mm", None, "1\u202f180\u00a0mm"),
    (999.0, "mm", None, "999\u00a0mm"),
    (1181.12, "mm", None, "1\u202f181.1\u00a0mm"),
    (-12.54, "cents", None, "\u221212.5\u00a0cents"),
    (0.0044, "mm", None, "0.0044\u00a0mm"),
    (1234567.8, "kg", None, "1\u202f234\u202f567.8\u00a0kg"),
    (108.5, "deg", None, "108.5°"),
    (-0.0, "c", None, "0\u00a0°C"),
    (7.0, "number", None, "7"),
    (1054.7, "kg", 3, "1\u202f050\u00a0kg"),
    (123456.0, "kg", 2, "120\u202f000\u00a0kg"),
    (0.98765, "m", 2, "0.99\u00a0m"),
    (9.99, "kg", 2, "10\u00a0kg"),
    (0.5, "mm", None, "0.5\u00a0mm"),
    (0.0000123, "m", None, "0.000012\u00a0m"),
    (0.000000123, "m", None, "1.23e-07\u00a0m"),
    (440.126, "hz", None, "440.13\u00a0Hz"),
    (7.0, "years", None, "7\u00a0years"),
]


@pytest.mark.parametrize(("value", "unit", "significant", "shown"), SHOWN)
def test_quantities_are_written_for_people(
    value: float, unit: str, significant: int | None, shown: str
) -> None:
    """Numbers have thin thousands, a true minus, a symbol that does not break off, and no false digits."""
    assert format_quantity(value, unit, significant) == shown


@settings(deadline=None)
@given(
    st.floats(-1e7, 1e7).filter(lambda value: value == 0 or abs(value) > 1e-90),
    st.sampled_from(sorted(FIELD_UNITS)),
)
def test_what_is_written_can_be_read(value: float, unit: str) -> None:
    """A quantity written for people reads back as the same quantity, but for the rounding."""
    read = read_quantity(format_quantity(value, unit), unit)
    assert abs(read - value) <= max(
        0.51 * 10.0 ** -FIELD_UNITS[unit].decimals, 0.05 * abs(value) * (abs(value) < 1)
    )


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("mouth_diameter_mm", "mm"),
        ("density_kg_m3", "kg_m3"),
        ("speed_m_s", "m_s"),
        ("decay_s", "s"),
        ("strokes_per_min", "per_min"),
        ("note", None),
        ("mm", None),
        ("latitude_deg", "deg"),
    ],
)
def test_the_unit_ends_the_name(name: str, unit: str | None) -> None:
    """A field's unit is the longest known unit that ends its name."""
    assert unit_of(name) == unit
