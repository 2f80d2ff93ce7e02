"""The cautions that pages and reports print."""

import re

import pytest

from registry.model.cautions import Caution, cautions


@pytest.mark.parametrize("caution", cautions().values(), ids=lambda caution: caution.code)
def test_every_caution_says_what_to_do_and_what_it_rests_on(caution: Caution) -> None:
    """Whole sentences, a title, and a source or the words that there is none."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", caution.code)
    assert caution.title
    assert caution.points
    assert all(point[0].isupper() and point.endswith(".") for point in caution.points)
    assert caution.source


def test_the_dangers_of_the_trade_are_covered() -> None:
    """Cracks, climbing, noise, welding, recasting and estimates each have their words."""
    words = " ".join(point for caution in cautions().values() for point in caution.points).lower()
    for danger in ("stop ringing", "raised bells", "hearing protection", "welded", "recasting", "weighed"):
        assert danger in words
    assert "heritage authority" in words
    assert "licensed practice" in words
