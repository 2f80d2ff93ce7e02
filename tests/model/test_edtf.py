"""Date expressions give the bounds that the specification gives them, and nothing else is let through."""

import csv
import re
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import edtf
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from registry.model.edtf import EdtfDate, EdtfError, parse_edtf, read_day

TABLE = Path(__file__).parent / "tables" / "edtf_cases.csv"


def published() -> list[dict[str, str]]:
    """Read the examples of the specification."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("case", published(), ids=lambda case: case["expression"])
def test_examples_of_the_specification(case: dict[str, str]) -> None:
    """Each example of the specification has its published first and last day."""
    read = parse_edtf(case["expression"])
    assert (read.earliest or "", read.latest or "") == (case["earliest"], case["latest"])
    assert read.text == case["expression"]


def test_the_table_is_complete() -> None:
    """The table holds all 63 examples of the three levels."""
    levels = [case["level"] for case in published()]
    assert [levels.count(level) for level in "012"] == [13, 24, 26]


INVENTS_TEN_YEARS = {"1985-04-12/", "1985-04/", "1985/", "/1985-04-12", "/1985-04", "/1985"}
IGNORES_SIGNIFICANT_DIGITS = {"1950S2", "Y171010000S3", "Y3388E2S3"}
CANNOT_READ = {"1984-1X"}


def bounds_by_library(expression: str) -> tuple[str | None, str | None]:
    """Give the strict bounds of the library ``edtf``, an open end as None."""
    read = edtf.parse_edtf(expression)
    days = []
    for bound in (read.lower_strict(), read.upper_strict()):
        if not hasattr(bound, "tm_year"):
            days.append(None)  # infinity
            continue
        sign = "-" if bound.tm_year < 0 else ""
        days.append(f"{sign}{abs(bound.tm_year):04d}-{bound.tm_mon:02d}-{bound.tm_mday:02d}")
    return days[0], days[1]


@pytest.mark.parametrize("case", published(), ids=lambda case: case["expression"])
def test_bounds_agree_with_the_library(case: dict[str, str]) -> None:
    """Bounds equal those of ``edtf`` 5.0.2 on every example but the ten it is known to get wrong."""
    expression = case["expression"]
    ours = parse_edtf(expression)
    if expression in CANNOT_READ:
        with pytest.raises(AttributeError):
            bounds_by_library(expression)
        return
    known = expression in INVENTS_TEN_YEARS | IGNORES_SIGNIFICANT_DIGITS
    assert ((ours.earliest, ours.latest) != bounds_by_library(expression)) == known


@pytest.mark.parametrize(
    ("text", "start", "end"),
    [
        ("1650", "known", "known"),
        ("1650/..", "known", "open"),
        ("1650/", "known", "unknown"),
        ("../1650", "open", "known"),
        ("/1650", "unknown", "known"),
        ("[..1650]", "open", "known"),
        ("[1650..]", "known", "open"),
        ("{..1650,1660}", "open", "known"),
    ],
)
def test_open_and_unknown_ends_are_kept_apart(text: str, start: str, end: str) -> None:
    """An end that is open and one that is unknown both have no bound, and say which they are."""
    read = parse_edtf(text)
    assert (read.start_is, read.end_is) == (start, end)
    assert (read.earliest is None, read.latest is None) == (start != "known", end != "known")
    assert (read.earliest_year is None, read.latest_year is None) == (start != "known", end != "known")


@pytest.mark.parametrize(
    ("text", "uncertain", "approximate"),
    [
        ("1650", False, False),
        ("1650?", True, False),
        ("1650~", False, True),
        ("1650%", True, True),
        ("1650-~05", False, True),
        ("1650?/1660~", True, True),
        ("[1650?,1660]", True, False),
        ("165X~", False, True),
        ("1650S3~", False, True),
    ],
)
def test_marks_are_kept(text: str, uncertain: bool, approximate: bool) -> None:
    """A mark anywhere in the expression makes the date uncertain, approximate or both."""
    read = parse_edtf(text)
    assert (read.uncertain, read.approximate) == (uncertain, approximate)


BOUNDS = [
    # seasons: months by convention, a season that begins in December ends in the next year
    ("1650-22", "1650-06-01", "1650-08-31"),
    ("1650-23", "1650-09-01", "1650-11-30"),
    ("1650-24", "1650-12-01", "1651-02-28"),
    ("1650-25", "1650-03-01", "1650-05-31"),
    ("1650-26", "1650-06-01", "1650-08-31"),
    ("1650-27", "1650-09-01", "1650-11-30"),
    ("1651-28", "1651-12-01", "1652-02-29"),
    ("1650-29", "1650-09-01", "1650-11-30"),
    ("1650-30", "1650-12-01", "1651-02-28"),
    ("1650-31", "1650-03-01", "1650-05-31"),
    ("1650-32", "1650-06-01", "1650-08-31"),
    ("1650-33", "1650-01-01", "1650-03-31"),
    ("1650-34", "1650-04-01", "1650-06-30"),
    ("1650-35", "1650-07-01", "1650-09-30"),
    ("1650-36", "1650-10-01", "1650-12-31"),
    ("1650-37", "1650-01-01", "1650-04-30"),
    ("1650-38", "1650-05-01", "1650-08-31"),
    ("1650-39", "1650-09-01", "1650-12-31"),
    ("1650-40", "1650-01-01", "1650-06-30"),
    ("1650-41", "1650-07-01", "1650-12-31"),
    ("165X-21", "1650-03-01", "1659-05-31"),
    ("1650-21~", "1650-03-01", "1650-05-31"),
    # leap years
    ("1600-02", "1600-02-01", "1600-02-29"),
    ("1700-02", "1700-02-01", "1700-02-28"),
    ("156X-02-29", "1560-02-29", "1568-02-29"),
    ("1X00-02-29", "1200-02-29", "1600-02-29"),
    ("0000-02-29", "0000-02-29", "0000-02-29"),
    # digits anywhere
    ("X650", "0650-01-01", "9650-12-31"),
    ("1650-0X", "1650-01-01", "1650-09-30"),
    ("1650-X1", "1650-01-01", "1650-11-30"),
    ("1650-05-3X", "1650-05-30", "1650-05-31"),
    ("1650-04-3X", "1650-04-30", "1650-04-30"),
    ("1650-XX-31", "1650-01-31", "1650-12-31"),
    ("1650-04-X1", "1650-04-01", "1650-04-21"),
    ("-165X", "-1659-01-01", "-1650-12-31"),
    ("-165X-02-29", "-1656-02-29", "-1652-02-29"),
    # sets
    ("[1480,1483]", "1480-01-01", "1483-12-31"),
    ("[1483, 1480]", "1480-01-01", "1483-12-31"),
    ("{1960}", "1960-01-01", "1960-12-31"),
    ("[1650~..1660?,1670-05]", "1650-01-01", "1670-05-31"),
    # intervals
    ("1650~/1660?", "1650-01-01", "1660-12-31"),
    ("165X/166X", "1650-01-01", "1669-12-31"),
    ("145X~/..", "1450-01-01", None),
    ("-0044-03-15/0014-08-19", "-0044-03-15", "0014-08-19"),
    # long years
    ("Y123456789012", "123456789012-01-01", "123456789012-12-31"),
    ("Y12345", "12345-01-01", "12345-12-31"),
    ("Y-12345S2", "-12999-01-01", "-12000-12-31"),
    ("1650S4", "1650-01-01", "1650-12-31"),
]


@pytest.mark.parametrize(("text", "earliest", "latest"), BOUNDS)
def test_bounds_beyond_the_examples(text: str, earliest: str, latest: str | None) -> None:
    """Seasons, leap years, digits left open, sets and long years have the bounds worked out by hand."""
    read = parse_edtf(text)
    assert (read.earliest, read.latest) == (earliest, latest)
    assert read.earliest_year == int(re.match(r"-?\d+", earliest)[0])


def test_members_of_a_set_are_kept() -> None:
    """A set keeps its members, each with its own bounds, and says whether one or all are meant."""
    read = parse_edtf("[1667,1668-12,1670..1672?]")
    assert read.choice == "one-of"
    assert [(member.text, member.earliest, member.latest) for member in read.members] == [
        ("1667", "1667-01-01", "1667-12-31"),
        ("1668-12", "1668-12-01", "1668-12-31"),
        ("1670..1672?", "1670-01-01", "1672-12-31"),
    ]
    assert [member.uncertain for member in read.members] == [False, False, True]
    assert parse_edtf("{1667,1668}").choice == "all-of"
    assert parse_edtf("1667").members == ()


REFUSED = [
    # no such day
    ("2023-02-29", "impossible-date", "28 days"),
    ("1900-02-29", "impossible-date", "Julian"),
    ("1500-02-29", "impossible-date", "Julian"),
    ("1650-04-31", "impossible-date", "30 days"),
    ("1650-05-00", "impossible-date", "31 days"),
    ("1650-00", "impossible-date", "no month 00"),
    ("1650-13", "impossible-date", "no month 13"),
    ("1650-42", "impossible-date", "no month 42"),
    ("1650-21-05", "impossible-date", "no month 21"),
    ("1901-02-3X", "impossible-date", "no calendar"),
    ("X900-02-29", "impossible-date", "no calendar"),
    ("-0000", "impossible-date", "0000"),
    ("1985-02-30T10:00:00", "impossible-date", "28 days"),
    # backwards or empty
    ("1500/1400", "bad-date", "later"),
    ("1650-06/1650-05", "bad-date", "later"),
    ("[1672..1670]", "bad-date", "later"),
    ("/", "bad-date", "leave the field out"),
    ("/..", "bad-date", "leave the field out"),
    ("../..", "bad-date", "leave the field out"),
    ("[..1500,..1600]", "bad-date", "outer ends"),
    ("[1500..,1600]", "bad-date", "outer ends"),
    # forms of the draft of 2012
    ("156u", "bad-date", "write 156X"),
    ("15uu-12-uu", "bad-date", "write 15XX-12-XX"),
    ("1984?~", "bad-date", "write 1984%"),
    ("unknown/1500", "bad-date", "write /1500"),
    ("1500/unknown", "bad-date", "write 1500/"),
    ("1500/open", "bad-date", "write 1500/.."),
    ("y170000002", "bad-date", "write Y170000002"),
    ("156x", "bad-date", "write 156X"),
    # everyday forms
    ("c. 1450", "bad-date", "write 1450~"),
    ("ca 1450-06", "bad-date", "write 1450-06~"),
    ("before 1650", "bad-date", "write ../1650"),
    ("after 1650-05", "bad-date", "write 1650-05/.."),
    ("1450s", "bad-date", "write 145X"),
    ("1450-1460", "bad-date", "write 1450/1460"),
    ("1450–1460", "bad-date", "write 1450/1460"),
    ("1450-60", "impossible-date", "1450/1460"),
    ("1400-60", "impossible-date", "1400/1460"),
    ("1450-50", "impossible-date", "seasons 21 to 24"),
    ("12.5.1892", "bad-date", "write 1892-05-12"),
    ("1892-5-1", "bad-date", "write 1892-05-01"),
    (" 1450", "bad-date", "write 1450"),
    ("1450\n", "bad-date", "write 1450"),
    ("1450 ?", "bad-date", "write 1450?"),
    # anything else
    ("", "bad-date", ""),
    ("MCCCCL", "bad-date", ""),
    ("145", "bad-date", ""),
    ("14", "bad-date", ""),
    ("12/05/1892", "bad-date", ""),
    ("1450-05-12-13", "bad-date", ""),
    ("?1450?", "bad-date", ""),
    ("1450??", "bad-date", ""),
    ("[1450", "bad-date", ""),
    ("[1450}", "bad-date", ""),
    ("[]", "bad-date", ""),
    ("[1667,]", "bad-date", ""),
    ("[[1450]]", "bad-date", ""),
    ("1450/1460/1470", "bad-date", ""),
    ("[1450/1460]", "bad-date", ""),
    ("Y1985", "bad-date", ""),
    ("1450S5", "bad-date", "S1 to S4"),
    ("1450S0", "bad-date", "S1 to S4"),
    ("Y1E99", "bad-date", "12 digits"),
    ("Y1234567890123", "bad-date", "12 digits"),
    ("Y" + "9" * 100, "bad-date", "12 digits"),
    ("1985-04-12T25:00:00", "bad-date", ""),
    ("1985-04-12T10:00", "bad-date", ""),
    ("١٤٥٠", "bad-date", ""),
    ("1" * 201, "bad-date", "200 characters"),
]


@pytest.mark.parametrize(("text", "code", "words"), REFUSED, ids=lambda value: value[:30])
def test_what_is_no_date_is_refused(text: str, code: str, words: str) -> None:
    """Impossible days, ranges that run backwards, old and everyday forms are refused with what to write."""
    with pytest.raises(EdtfError) as caught:
        parse_edtf(text)
    assert caught.value.code == code
    assert words in caught.value.remedy
    assert caught.value.expected


@pytest.mark.parametrize(("text", "code", "words"), REFUSED, ids=lambda value: value[:30])
def test_remedies_can_be_followed(text: str, code: str, words: str) -> None:
    """An expression that a remedy tells to write can itself be read."""
    with pytest.raises(EdtfError) as caught:
        parse_edtf(text)
    told = re.fullmatch(r"write (\S+)", caught.value.remedy)
    assert told is None or parse_edtf(told[1]).text == told[1]


YEARS = st.integers(-9999, 9999).filter(bool)


def written_year(year: int) -> str:
    """Write a year with four digits."""
    return f"{year:05d}" if year < 0 else f"{year:04d}"


@st.composite
def simple_dates(draw: st.DrawFn) -> str:
    """Make a year, month or day, perhaps with a mark."""
    text = written_year(draw(YEARS))
    if draw(st.booleans()):
        text += f"-{draw(st.integers(1, 12)):02d}"
        if draw(st.booleans()):
            text += f"-{draw(st.integers(1, 28)):02d}"
    return text + draw(st.sampled_from(["", "", "?", "~", "%"]))


@settings(deadline=None)
@given(simple_dates(), simple_dates())
def test_an_interval_runs_from_its_start_to_its_end(start: str, end: str) -> None:
    """An interval has the first day of its start and the last of its end; backwards it is refused."""
    first, last = parse_edtf(start), parse_edtf(end)
    start_key = (first.earliest_year, first.earliest[-5:])
    end_key = (last.latest_year, last.latest[-5:])
    if start_key > end_key:
        with pytest.raises(EdtfError):
            parse_edtf(f"{start}/{end}")
        return
    interval = parse_edtf(f"{start}/{end}")
    assert (interval.earliest, interval.latest) == (first.earliest, last.latest)
    one_of = parse_edtf(f"[{end},{start}]")
    assert one_of.earliest_year == min(first.earliest_year, last.earliest_year)
    assert one_of.latest_year == max(first.latest_year, last.latest_year)


def days_that_fit(pattern: str) -> Iterator[date]:
    """Go through every day of the years 1 to 9999 that fits a pattern, by trying them all."""
    year, *_ = pattern.split("-")
    fits = re.compile(pattern.replace("X", "[0-9]")).fullmatch
    for number in range(int(year.replace("X", "0")), int(year.replace("X", "9")) + 1):
        day = date(number, 1, 1)
        while day.year == number:
            if fits(day.isoformat()):
                yield day
            if day == date.max:
                return
            day += timedelta(days=1)


@settings(deadline=None, max_examples=60)
@given(
    st.integers(100, 999).map(str),
    st.sampled_from("0123456789X"),
    st.from_regex(r"[01X][0-9X]", fullmatch=True),
    st.from_regex(r"[0-3X][0-9X]", fullmatch=True),
)
@example("156", "X", "02", "29")
@example("170", "0", "02", "2X")
@example("190", "X", "X2", "3X")
def test_open_digits_mean_every_day_that_fits(start: str, digit: str, month: str, day: str) -> None:
    """Digits left open give the first and last of all days that fit, found by trying each."""
    pattern = f"{start}{digit}-{month}-{day}"
    fitting = list(days_that_fit(pattern))
    if fitting:
        read = parse_edtf(pattern)
        assert (read.earliest, read.latest) == (fitting[0].isoformat(), fitting[-1].isoformat())
    else:
        with pytest.raises(EdtfError):
            parse_edtf(pattern)


@settings(deadline=None)
@given(simple_dates(), st.sampled_from("?~%"))
def test_marks_widen_nothing(text: str, mark: str) -> None:
    """A mark leaves the bounds as they are: the standard gives "about" no width."""
    plain, marked = parse_edtf(text.rstrip("?~%")), parse_edtf(text.rstrip("?~%") + mark)
    assert (plain.earliest, plain.latest) == (marked.earliest, marked.latest)


@settings(deadline=None)
@given(st.one_of(st.text(max_size=30), st.text("0123456789X-/.?~%[]{},SYET", max_size=25)))
def test_any_text_gives_bounds_in_order_or_a_problem(text: str) -> None:
    """No text breaks the parser, and bounds never run backwards."""
    try:
        read = parse_edtf(text)
    except EdtfError as error:
        outcome = error.code
    else:
        outcome = "read"
        if read.earliest_year is not None and read.latest_year is not None:
            assert read.earliest_year <= read.latest_year
    assert outcome in {"read", "bad-date", "impossible-date"}


WITHIN = [
    # expression, from, to, possibly, certainly
    ("1650", 1650, 1650, True, True),
    ("1650", 1651, 1700, False, False),
    ("165X", 1655, 1700, True, False),
    ("165X", 1650, 1659, True, True),
    ("165X", None, 1659, True, True),
    ("165X", 1650, None, True, True),
    ("165X", None, None, True, True),
    ("../1650", 1600, 1700, True, False),
    ("../1650", None, 1700, True, True),
    ("../1650", 1651, 1700, False, False),
    ("1650/", 1700, 1800, True, False),
    ("1650/", 1600, None, True, True),
    ("1650/", 1600, 1649, False, False),
    ("[1480,1483]", 1481, 1482, False, False),  # the gap between the members
    ("[1480,1483]", 1481, 1483, True, False),
    ("[1480,1483]", 1480, 1483, True, True),
    ("{1480,1483}", 1483, 1490, True, False),
    ("-0044", -50, -1, True, True),
]


@pytest.mark.parametrize(("text", "start", "end", "possibly", "certainly"), WITHIN)
def test_possibly_and_certainly_within(
    text: str, start: int | None, end: int | None, possibly: bool, certainly: bool
) -> None:
    """A date lies possibly in years it overlaps, certainly in years that hold all of it."""
    read = parse_edtf(text)
    assert read.possibly_within(start, end) is possibly
    assert read.certainly_within(start, end) is certainly


@settings(deadline=None)
@given(
    st.sampled_from([case["expression"] for case in published()]),
    st.one_of(st.none(), st.integers(-3000, 3000)),
    st.one_of(st.none(), st.integers(-3000, 3000)),
)
def test_what_is_certain_is_possible(text: str, start: int | None, end: int | None) -> None:
    """A date that lies certainly in some years lies possibly in them too."""
    read = parse_edtf(text)
    assert read.possibly_within(start, end) or not read.certainly_within(start, end)


@settings(deadline=None)
@given(st.dates())
def test_days_are_read(day: date) -> None:
    """Every calendar day reads back from its ISO form, as a day and as an expression."""
    assert read_day(day.isoformat()) == day
    assert parse_edtf(day.isoformat())[:3] == (day.isoformat(),) * 3


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("2023-02-29", "impossible-date"),
        ("0000-01-01", "impossible-date"),
        ("2024-13-01", "impossible-date"),
        ("2024-5-9", "bad-date"),
        ("20240509", "bad-date"),
        ("2024-W19-4", "bad-date"),
        ("2024-05-09\n", "bad-date"),
        ("2024-05", "bad-date"),
        ("2024-05-09T10:00:00", "bad-date"),
        ("٢٠٢٤-٠٥-٠٩", "bad-date"),
        ("", "bad-date"),
    ],
)
def test_what_is_no_day_is_refused(text: str, code: str) -> None:
    """A day is YYYY-MM-DD in the calendar, and nothing that other readers let through."""
    with pytest.raises(EdtfError) as caught:
        read_day(text)
    assert caught.value.code == code


def test_the_result_can_be_a_key() -> None:
    """Equal expressions give one and the same cached value."""
    assert parse_edtf("1650~") is parse_edtf("1650~")
    assert isinstance(parse_edtf("1650~"), EdtfDate)
