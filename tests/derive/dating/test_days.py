"""Days beside a year, by the Roman calendar and by the number of the month."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.dating.days import day_of_text


@pytest.mark.parametrize(
    ("text", "month", "day"),
    [
        # Freiburg, Hosanna bell: 18 July (Marmon 1878, p. 47)
        ("MCCLVIII XV Kal. Augusti", 7, 18),
        # Allen and Greenough's New Latin Grammar (1903), section 631: examples d and table e
        ("VIII. Kal. Feb.", 1, 25),
        ("IV. Non. Mar.", 3, 4),
        ("IV. Id. Sept.", 9, 10),
        ("VI. Non. Mart.", 3, 2),
        ("prid. Non. Ian.", 1, 4),
        ("VIII. Id. Apr.", 4, 6),
        ("KAL. FEB.", 2, 1),
        # J. P. Postgate, The New Latin Primer, section 460
        ("Nonis Martis", 3, 7),
        ("pridie Nonas Martias", 3, 6),
        ("ante diem tertium Nonas Martias", 3, 5),
        # Own, by the same rule
        ("3 nonas Augusti 1375", 8, 3),
        ("tertio Idus Iunii", 6, 11),
        ("XIX kal. Ianuarii", 12, 14),
        ("ANNO 1659 DIE I OCTOB FUSA EST", 10, 1),
        ("die xv mensis aprilis anno mccc", 4, 15),
        ("APRIL", None, None),
        ("12 APRIL OR 13 MAY 1700", None, None),
        ("MARIA MARTYR", None, None),
        ("1643 AUGUST", None, None),
    ],
)
def test_days(text, month, day):
    """The day is counted back from Kalends, Nones or Ides as published, or read before its month."""
    found = day_of_text(text)
    assert (found and found[:2]) == (month and (month, day))


@pytest.mark.parametrize(
    ("count", "common", "leap"),
    [("III", 27, 28), ("V", 25, 26), ("VI", 24, 24), ("VII", 23, 23), ("XVI", 14, 14)],
)
def test_leap_years(count, common, leap):
    """In a leap year the days behind the sixth before the Kalends of March are a day later."""
    assert day_of_text(f"{count} Kal. Martii", 1259).day == common
    assert day_of_text(f"{count} Kal. Martii", 1260).day == leap


@given(st.text(max_size=80))
def test_no_text_raises(text):
    """Whatever a text holds, a day is found or is not."""
    found = day_of_text(text)
    assert found is None or (1 <= found.month <= 12 and 1 <= found.day <= 31)
