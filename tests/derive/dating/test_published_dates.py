"""What published dates as cast are read as, against the years their editions give them."""

import csv
from pathlib import Path

import pytest

from registry.derive.dating import read_date
from registry.derive.dating.chronogram import chronogram

TABLES = Path(__file__).parent / "tables"
THIS_YEAR = 2026


def rows(name: str) -> list[dict[str, str]]:
    """Give the rows of a table without its comments."""
    with (TABLES / name).open(encoding="utf-8", newline="") as table:
        return [*csv.DictReader(line for line in table if not line.startswith("#"))]


ROMAN = rows("roman_dates.csv")
CHRONOGRAMS = [row for row in rows("chronograms.csv") if row["rule"] != "NEGATIVE"]
REJECTED = [row for row in rows("chronograms.csv") if row["rule"] == "NEGATIVE"]


@pytest.mark.parametrize("row", ROMAN, ids=lambda row: row["notation_as_published"])
def test_the_published_year_is_among_the_readings(row):
    """Every published date in Roman numerals or words can be read as the year its source gives."""
    read = read_date(row["notation_as_published"], THIS_YEAR)
    assert int(row["published_value"]) in [each.year for each in read.readings]
    assert all(each.how and each.text for each in read.readings)


def test_the_published_year_stands_first():
    """In nine of ten published dates the year of the source is the likeliest reading."""
    first = [
        read_date(row["notation_as_published"], THIS_YEAR).readings[0].year == int(row["published_value"])
        for row in ROMAN
    ]
    assert sum(first) >= 0.9 * len(first)


@pytest.mark.parametrize("row", CHRONOGRAMS, ids=lambda row: row["text"])
def test_the_claimed_year_is_among_the_sums(row):
    """Every published chronogram adds up to the year claimed, by one of the rules, and is read as such."""
    year = int(row["published_year"])
    letters = chronogram(row["text"])
    assert year in [each.sum for each in letters.sums]
    reading = next(each for each in read_date(row["text"], THIS_YEAR).readings if each.year == year)
    assert reading.notation == "chronogram"
    assert reading.doubts  # a sum is never a proof, and every one says so


@pytest.mark.parametrize("row", CHRONOGRAMS, ids=lambda row: row["text"])
def test_the_rule_that_gives_it_is_named(row):
    """The sum of a chronogram names the rule by which its source reads it."""
    found = next(each for each in chronogram(row["text"]).sums if each.sum == int(row["published_year"]))
    rules = " ".join(found.rules)
    for part in row["rule"].replace("caps", "").split(","):
        if part == "W=10":
            assert "W 10" in rules
        elif part == "U=0":
            assert "capitals only" in rules


@pytest.mark.parametrize("row", REJECTED, ids=lambda row: row["text"])
def test_a_rejected_chronogram_is_no_date(row):
    """A text wrongly taken for a chronogram is never read as a date, only added up, and that is said."""
    read = read_date(row["text"], THIS_YEAR)
    assert not read.stated()
    assert all(each.standing == "unmarked" and each.weight < 0.05 for each in read.readings)
    assert all("dates nothing" in " ".join(each.doubts) for each in read.readings)


@pytest.mark.parametrize("row", rows("printed_dates.csv"), ids=lambda row: row["text"])
def test_irregular_dates_of_printers(row):
    """Irregular dates of early printers are read first as their source has them, but for a misprint."""
    first = read_date(row["text"], THIS_YEAR).readings[0].year
    assert (first == int(row["year"])) == (row["text"] != "M.CCCC.M.j.XX.VIII")


@pytest.mark.parametrize("row", rows("whole_inscriptions.csv"), ids=lambda row: row["source"])
def test_dates_are_found_in_whole_inscriptions(row):
    """The date in the midst of a published inscription is found, and read first as its edition has it."""
    assert read_date(row["text"], THIS_YEAR).stated()[0].year == int(row["year"])


@pytest.mark.parametrize("row", rows("number_words.csv"), ids=lambda row: row["words"])
def test_years_in_words(row):
    """Years that an independent library spells out in six languages are read back; its one slip is not."""
    read = read_date(row["words"], THIS_YEAR)
    years = [each.year for each in read.readings[:1] if each.notation == "words"]
    assert years == ([] if "dicotto" in row["words"] else [int(row["year"])])


@pytest.mark.parametrize("row", rows("own_cases.csv"), ids=lambda row: row["text"])
def test_our_own_cases(row):
    """Notations of every kind that catalogues print give the year they were written for, first."""
    assert read_date(row["text"], THIS_YEAR).readings[0].year == int(row["first"])
