"""Two records that may be one bell: which are compared, what is proposed, what their lives forbid."""

from collections.abc import Iterable

import pytest

from registry.derive.identity.comparison import Register
from registry.derive.identity.facts import Facts, Record, Years, diameter_sd
from registry.derive.identity.letters import plain_letters
from registry.derive.identity.lives import Life, Sighting, Tie, verdict
from registry.derive.identity.twins import find_twins, pairs_to_compare

WORDS = "hans meier burgermeister zu vellhaven"


def bell(mm: float, text: str = "", year: int | None = None, **more: object) -> Facts:
    """Give a bell of some size, with words and a year where they are given."""
    years = (Years(year, year),) if year else ()
    words = (plain_letters(text),) if text else ()
    return Facts(
        mouth_diameter_mm=mm, diameter_sd=diameter_sd(mm), inscription=words, cast_years=years, **more
    )  # type: ignore[arg-type]


def district() -> list[Record]:
    """Give records that have nothing to do with each other."""
    return [
        Record(
            f"other-{n}",
            bell(500 + 17 * n, f"soli deo gloria anno {1600 + 3 * n}", 1600 + 3 * n),
            "hanging",
            2020,
        )
        for n in range(60)
    ]


ONE = Record("lost-one", bell(860, WORDS, 1720, loops=6), "lost")
TWO = Record("museum-one", bell(862, "hans meier bvrgermeister", 1720, loops=6), "on-display", 2024)


def alone(ids: Iterable[str]) -> dict[str, Life]:
    """Give bells lives that say nothing."""
    return {bell_id: Life((), ()) for bell_id in ids}


def seen(tower: str, day: str, *, visit: bool = True, status: str = "hanging", survey: str = "") -> Sighting:
    """Give a sighting."""
    return Sighting(tower, day, visit, status, survey or f"{tower}-{day}")


def test_one_bell_in_two_records_is_proposed_and_nothing_else() -> None:
    """A lost bell and one in a museum that bear the same rare words are proposed; sixty others are not."""
    (found,) = find_twins(Register([*district(), ONE, TWO], 2026), alone)
    assert (found.first, found.second) == ("lost-one", "museum-one")
    assert found.probability > 0.9
    assert found.factors["inscription"] > 3.5


def test_a_formula_proposes_nobody() -> None:
    """Bells of one formula, size and century are many, and none is proposed."""
    like = [
        Record(f"like-{n}", bell(700 + 20 * n, "ave maria gracia plena dominus tecum"), "lost")
        for n in range(12)
    ]
    assert find_twins(Register([*district(), *like], 2026), alone) == []


def test_three_alike_share_what_one_pair_would_have() -> None:
    """A record is one bell with one other at most, so that two candidates weaken each other."""
    like = [Record(name, bell(860, WORDS, 1720, loops=6), "stolen") for name in ("second-one", "third-one")]
    found = find_twins(Register([*district(), ONE, *like], 2026), alone)
    assert [round(each.probability, 1) for each in found] == [0.5, 0.5, 0.5]
    assert sum(each.probability for each in found if "lost-one" in (each.first, each.second)) <= 1.0


def test_without_words_size_note_and_year_bring_records_together() -> None:
    """Close size, note and year are compared even without words; far ones are not."""
    close = [
        Record(f"close-{n}", bell(860 + n, year=1720 + n, strike_hz=470.0, strike_sd_cents=8.0))
        for n in range(2)
    ]
    far = Record("far", bell(1300, year=1720, strike_hz=470.0, strike_sd_cents=8.0))
    assert pairs_to_compare(Register([*close, far], 2026)) == {(0, 1)}


def test_progress_is_told() -> None:
    """Whoever waits is told from nothing done to all done."""
    told: list[tuple[int, int]] = []
    find_twins(Register([ONE, TWO], 2026), alone, lambda done, total: told.append((done, total)))
    assert told[0][0] == 0
    assert told[-1][0] == told[-1][1] > 0


def test_an_empty_registry_has_no_twins() -> None:
    """No records, no pairs."""
    assert find_twins(Register([], 2026), alone) == []


class TestLives:
    """What where and when bells were seen says of their being one."""

    def test_one_survey_knows_two_bells(self) -> None:
        """Whoever listed both in one survey knew them apart."""
        one, other = (Life((seen("minster", "2004-01-01", survey="s"),), ()) for _ in range(2))
        told = verdict("a", one, "b", other)
        assert not told.possible
        assert told.told_apart

    def test_two_towers_at_one_time(self) -> None:
        """A bell that visits saw elsewhere before and after cannot have been here in between."""
        stays = Life((seen("minster", "2004-01-01"), seen("minster", "2024-01-01")), ())
        passing = Life((seen("chapel", "2014-01-01"),), ())
        for one, other in ((stays, passing), (passing, stays)):
            told = verdict("a", one, "b", other)
            assert not told.possible
            assert not told.told_apart
            assert "2004 to 2024" in told.why

    def test_one_day(self) -> None:
        """The same day in two towers is enough."""
        one, other = (Life((seen(tower, "2014-05-05"),), ()) for tower in ("minster", "chapel"))
        assert not verdict("a", one, "b", other).possible

    def test_it_may_have_moved(self) -> None:
        """Seen here before and there after, it may have moved; a lost bell was nowhere meanwhile."""
        here = Life((seen("minster", "1990-01-01"), seen("minster", "2004-01-01", status="lost")), ())
        there = Life((seen("museum", "2000-01-01", status="on-display"),), ())
        told = verdict("a", here, "b", there)
        assert told.possible
        assert told.ratio == 1.0

    def test_documents_weigh_less_than_visits(self) -> None:
        """Papers that have a bell in two towers at once make it unlikely, and not impossible."""
        stays = Life(
            (seen("minster", "1880-01-01", visit=False), seen("minster", "1920-01-01", visit=False)), ()
        )
        passing = Life((seen("chapel", "1890-01-01", visit=False),), ())
        told = verdict("a", stays, "b", passing)
        assert told.possible
        assert 0.0 < told.ratio < 1.0

    def test_both_at_home(self) -> None:
        """Two bells hanging, each in its own tower, are hardly one."""
        one, other = Life((seen("minster", "2004-01-01"),), ()), Life((seen("chapel", "2014-01-01"),), ())
        assert verdict("a", one, "b", other).ratio < 0.1

    @pytest.mark.parametrize("turned", [False, True])
    def test_an_event_that_names_the_other(self, turned: bool) -> None:
        """Bells that an event ties already are told as such, whichever of the two has the event."""
        tied, free = Life((), (Tie("recast-into", "b", "s"),)), Life((), ())
        told = (
            verdict("b", free, "a", Life((), (Tie("recast-into", "b", "s"),)))
            if turned
            else verdict("a", tied, "b", free)
        )
        assert told.tied
        assert not told.possible
        assert "recast-into" in told.why
