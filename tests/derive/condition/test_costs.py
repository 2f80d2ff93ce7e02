"""A user's table of costs: taken as it stands, or refused with what is wrong."""

import pytest

from registry.derive.condition.costs import read_costs
from registry.derive.condition.judgement import CostLine
from registry.derive.condition.protection import protection_settings, read_protection

GOOD = "turn: {low: 800, high: 1500.5, currency: EUR, per: bell, source: an offer}"


def test_a_table_is_read_as_it_stands() -> None:
    """Each option has its range, its currency, what it goes by and what it rests on."""
    assert read_costs(GOOD) == {"turn": CostLine(800.0, 1500.5, "EUR", "bell", "an offer")}


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("- turn", "no costs by option"), ("", "no costs by option"), ("turn: [", "not YAML"),
        ("melt: {}", "no such option"), ("1: {}", "no such option"), ("turn: 5", "give low, high"),
        (GOOD.replace("source: an offer", "source: ''"), "what the cost rests on"),
        (GOOD.replace("EUR", "''"), "the currency"), (GOOD.replace("800", "2000"), "not above high"),
        (GOOD.replace("800", "-1"), "below nought"), (GOOD.replace("800", "cheap"), "are numbers"),
        (GOOD.replace("800", "true"), "are numbers"), (GOOD.replace("1500.5", ".inf"), "below nought"),
        (GOOD.replace("800", ".nan"), "below nought"), (GOOD.replace("per: bell", "per: hour"), "per is"),
        (GOOD.replace("}", ", tip: 5}"), "nothing else"),
    ],
)  # fmt: skip
def test_what_is_no_table_is_refused_in_words(text: str, wrong: str) -> None:
    """A table that would mislead is refused, and the refusal names what is wrong."""
    with pytest.raises(ValueError, match=wrong):
        read_costs(text)


def test_own_country_settings_stand_in_place_of_what_they_name_alone() -> None:
    """A country named anew has the new rule, every other keeps the shipped one."""
    own = read_protection("countries: {AT: {older_than_years: 40, source: a letter, as_of: '2026'}}")
    shipped = protection_settings()
    assert own.countries["AT"].older_than_years == 40
    assert {code: rule for code, rule in own.countries.items() if code != "AT"} == shipped.countries
    assert (own.otherwise, own.firm_dates) == (shipped.otherwise, shipped.firm_dates)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "one or more"), ("otherwise: [", "not YAML"), ("land: {}", "nothing else"),
        ("countries: [AT]", "by the two letters"), ("countries: {NO: {always_ask: true}}", "in quotes"),
        ("countries: {AT: 5}", "AT: give"), ("countries: {AT: {always_ask: true}}", "rests on"),
        ("otherwise: {older_than_years: old, source: x, as_of: y}", "whole number"),
        ("otherwise: {always_ask: 'no', source: x, as_of: y}", "true or false"),
        ("firm_dates: [hearsay]", "dating_basis"), ("firm_dates: inscribed", "dating_basis"),
    ],
)  # fmt: skip
def test_settings_that_would_mislead_are_refused(text: str, wrong: str) -> None:
    """What is no rule of a country, or has neither source nor date, is refused in words."""
    with pytest.raises(ValueError, match=wrong):
        read_protection(text)
