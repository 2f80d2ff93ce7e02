"""Approximate dates are widened by a setting alone, and only where they are marked."""

import pytest

from registry.model.edtf import parse_edtf
from registry.model.edtf_circa import widened


@pytest.mark.parametrize(
    ("text", "earliest", "latest"),
    [
        ("1450~", "1445-01-01", "1455-12-31"),
        ("1450%", "1445-01-01", "1455-12-31"),
        ("1450?", "1450-01-01", "1450-12-31"),
        ("1450", "1450-01-01", "1450-12-31"),
        ("1350/1400~", "1350-01-01", "1405-12-31"),
        ("1350~/1400", "1345-01-01", "1400-12-31"),
        ("1350~/..", "1345-01-01", None),
        ("/1400~", None, "1405-12-31"),
        ("[1450~,1460]", "1445-01-01", "1460-12-31"),
        ("[1450,1460~]", "1450-01-01", "1465-12-31"),
        ("[..1450~]", None, "1455-12-31"),
        ("1452-02-29~", "1447-02-28", "1457-03-01"),
        ("0003~", "-0002-01-01", "0008-12-31"),
    ],
)
def test_only_marked_ends_move(text, earliest, latest):
    """Five years are added at the ends marked approximate; open and unknown ends stay as they are."""
    date = widened(parse_edtf(text), 5)
    assert (date.earliest, date.latest) == (earliest, latest)
    assert date.earliest_year == (None if earliest is None else int(earliest[:-6]))
    assert date.latest_year == (None if latest is None else int(latest[:-6]))


def test_no_setting_no_width():
    """With nought years nothing is widened, as the standard gives the mark no width."""
    assert widened(parse_edtf("1450~"), 0) == parse_edtf("1450~")
