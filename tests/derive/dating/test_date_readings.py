"""Properties of every reading, and what must not be read."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from registry.derive.dating import read_date
from registry.derive.dating.chronogram import chronogram
from registry.derive.dating.reading import MOST_COST

THIS_YEAR = 2026
YEARS = st.integers(1144, THIS_YEAR)

LETTERS = ((1000, "m"), (500, "d"), (100, "c"), (50, "l"), (10, "x"), (5, "v"), (1, "i"))
TODAY = ((1000, "M"), (900, "CM"), (500, "D"), (400, "CD"), (100, "C"), (90, "XC"), (50, "L"), (40, "XL"),
         (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"))  # fmt: skip


def written(number: int, letters) -> str:
    """Write a number from the greatest letter to the smallest."""
    found = ""
    for value, letter in letters:
        count, number = divmod(number, value)
        found += letter * count
    return found


def by_hundreds(year: int, gap: str, raised: str) -> str:
    """Write a year as ``m v^c xxi``."""
    hundreds, rest = divmod(year % 1000, 100)
    parts = ["m" * (year // 1000)]
    if hundreds:
        parts.append(f"{written(hundreds, LETTERS)}{raised}c" if hundreds > 1 else "c")
    return gap.join([*parts, *([written(rest, LETTERS)] if rest else [])])


@given(YEARS, st.sampled_from(["", " ", " · ", "."]))
def test_added_numerals_are_read_first(year, gap):
    """A year written by adding alone, as the Middle Ages did, is the first reading, however it is parted."""
    groups = written(year, LETTERS)
    text = gap.join(groups[at] for at in range(len(groups))) if gap.strip() else groups
    assert read_date(text, THIS_YEAR).readings[0].year == year


@given(YEARS)
def test_numerals_of_today_are_read_first(year):
    """A year by the rules of today is the first reading."""
    assert read_date(f"ANNO {written(year, TODAY)}", THIS_YEAR).readings[0].year == year


@given(st.integers(1144, 1999), st.sampled_from([" ", "."]), st.sampled_from(["^", ""]))
@example(1504, "", "")
def test_counted_hundreds_are_among_the_readings(year, gap, raised):
    """A year whose hundreds are counted is among the readings, raised or on the line."""
    text = by_hundreds(year, gap, raised)
    assert year in [each.year for each in read_date(text, THIS_YEAR).readings]


UNITS = ("", "primo", "secundo", "tercio", "quarto", "quinto", "sexto", "septimo", "octavo", "nono")
TENS = ("", "decimo", "vicesimo", "tricesimo", "quadragesimo", "quinquagesimo", "sexagesimo", "septuagesimo",
        "octogesimo", "nonagesimo")  # fmt: skip
HUNDREDS = ("", "centesimo", "ducentesimo", "trecentesimo", "quadringentesimo", "quingentesimo",
            "sexcentesimo", "septingentesimo", "octingentesimo", "nongentesimo")  # fmt: skip


def in_ordinals(year: int) -> str:
    """Write a year from 1000 to 1999 in Latin ordinals; from 13 to 19 the units stand before the ten."""
    hundreds, tens, units = HUNDREDS[year // 100 % 10], TENS[year // 10 % 10], UNITS[year % 10]
    rest = (units, tens) if tens == "decimo" else (tens, units)
    return " ".join(filter(None, ("millesimo", hundreds, *rest)))


def with_raised_o(year: int) -> str:
    """Write a year as ``m° · cccc° · lxxxiij°``."""
    hundreds, rest = divmod(year % 1000, 100)
    last = written(rest, LETTERS)
    last = f"{last[:-1]}j" if last.endswith("i") else last
    return " · ".join(f"{part}°" for part in ("m", "c" * hundreds, last) if part)


def with_a_word(year: int) -> str:
    """Write a year as ``m cccc lxxx tercio``."""
    hundreds, rest = divmod(year % 1000, 100)
    parts = ("m", "c" * hundreds, written(rest - rest % 10, LETTERS), UNITS[rest % 10])
    return " ".join(filter(None, parts))


def with_strokes(year: int) -> str:
    """Write a year by the apostrophus."""
    return written(year, ((1000, "CIƆ"), (500, "IƆ"), (100, "C"), (50, "L"), (10, "X"), (5, "V"), (1, "I")))


@given(st.integers(1250, 1899), st.sampled_from([in_ordinals, with_raised_o, with_a_word, with_strokes]))
def test_medieval_habits_are_read_first_in_an_inscription(year, writer):
    """A year in ordinals, with raised o and final j, with a word, or by strokes is found and first."""
    text = f"+ o rex glorie veni cum pace anno domini {writer(year)} maria vocor"
    assert read_date(text, THIS_YEAR).readings[0].year == year


@given(YEARS)
def test_figures_are_read_in_the_midst_of_words(year):
    """Four figures in an inscription are read, and so are they when ornament parts them."""
    assert read_date(f"SOLI DEO GLORIA {year} ME FECIT", THIS_YEAR).readings[0].year == year
    parted = " + ".join(str(year))
    assert read_date(parted, THIS_YEAR).readings[0].year == year


@given(st.text(max_size=120))
@example("[" * 50 + "m cccc")
@example("^^^ m^ v^ °°")
@example("ↀↃ" * 40)
def test_no_text_raises(text):
    """Whatever a text holds, it is read without a fault, and every reading tells how it was got."""
    read = read_date(text, THIS_YEAR)
    for each in read.readings:
        assert each.how
        assert 0.0 <= each.cost <= MOST_COST
        assert each.year <= each.last_year
    assert [each.cost for each in read.readings] == sorted(each.cost for each in read.readings)


@settings(max_examples=60)
@given(st.text("ixvlcdmo°^ .|jquinsetrahpgfb¯", max_size=60))
def test_no_row_of_numerals_raises(text):
    """Rows of numeral letters and marks, however wild, are read without a fault."""
    assert read_date(text, THIS_YEAR).text == text


@given(st.text("IVXLCDMUJWYabciuvxyz ·", max_size=80))
def test_sums_hold_every_letter(text):
    """The plain sum of the capitals is among the sums, and never depends on their order."""
    found, backwards = chronogram(text), chronogram(text[::-1])
    assert (found is None) == (backwards is None)
    if found is not None:
        assert {each.sum for each in found.sums} == {each.sum for each in backwards.sums}
        assert "".join(text[place].upper() for place in found.places) == found.letters


@pytest.mark.parametrize(
    "text",
    [
        "I CALL THE LIVING AND I KEEP THE DEAD IN MIND",
        "O REX GLORIE VENI CVM PACE",
        "VERBVM DOMINI MANET IN AETERNVM V D M I AE",
        "goot mi peter",
        "MÓDL SIĘ ZA NAMI",
        "et modo vivo et modo voco populum",
        "יהוה",
        "D · O · M",
        "ΦΩΝΗ ΚΥΡΙΟΥ ΕΠΙ ΤΩΝ ΥΔΑΤΩΝ",
        "ХВАЛИТЕ ИМЯ ГОСПОДНЕ",
    ],
)
def test_words_are_no_dates(text):
    """Words that happen to be made of numeral letters state no year."""
    assert not read_date(text, THIS_YEAR).stated()


@pytest.mark.parametrize("text", ["WEIGHT 1250 KG", "1250 lb"])
def test_a_mass_is_hardly_a_year(text):
    """A number before a unit of mass is read with great doubt only."""
    assert all(each.weight < 0.05 for each in read_date(text, THIS_YEAR).readings)


def test_a_short_year_gives_its_centuries():
    """Where the bell leaves the century out, every century is told, and that it is one of several."""
    readings = read_date("lxxx · iii", THIS_YEAR).readings
    assert {1283, 1383, 1483, 1583, 1683, 1783, 1883, 1983} <= {each.year for each in readings}
    assert 1480 in [each.year for each in readings]  # iii can be the word "in" (DI 88 no. 45, Duingen)
    assert all("one of several" in " ".join(each.doubts) for each in readings)


def test_slips_are_flagged():
    """A founder's slip is read as what he may have meant and as what stands there, and says so."""
    readings = {each.year: each for each in read_date("d cccc lxx iiii", THIS_YEAR).readings}
    assert "d for m" in " ".join(readings[1474].doubts)
    assert 974 in readings


def test_editorial_signs_are_told():
    """Restored, uncertain and lost letters are named as such beside the reading."""
    restored = read_date("m cccc [lx]xx iii", THIS_YEAR).readings[0]
    unclear = read_date("m cccc ḷxx", THIS_YEAR).readings[0]
    lost = read_date("m cccc lxx[---]", THIS_YEAR).readings[0]
    assert "restored" in " ".join(restored.doubts)
    assert "uncertain" in " ".join(unclear.doubts)
    assert "lost" in " ".join(lost.doubts)


def test_lost_figures_leave_the_year_open():
    """Of a year whose last figures are lost, the whole decade or century is meant."""
    reading = read_date("anno 14[--]", THIS_YEAR).readings[0]
    assert (reading.year, reading.last_year) == (1400, 1499)


def test_nothing_later_than_today_passes_unsaid():
    """A year that has not come yet is told only with that remark."""
    readings = read_date("MMCCC", THIS_YEAR).readings
    assert readings
    assert all("not come yet" in " ".join(each.doubts) for each in readings if each.year > THIS_YEAR)


def test_an_expression_keeps_its_ends():
    """Open and unknown ends of an EDTF expression stay open; the members of a set are all told."""
    assert (read_date("1640/..", THIS_YEAR).earliest, read_date("1640/..", THIS_YEAR).latest) == (1640, None)
    assert read_date("/1640", THIS_YEAR).earliest is None
    assert [each.year for each in read_date("[1480,1483]", THIS_YEAR).readings] == [1480, 1483]
    widened = read_date("1450~", THIS_YEAR, 5).readings[0]
    assert (widened.year, widened.last_year) == (1445, 1455)
    assert "setting" in " ".join(widened.doubts)
