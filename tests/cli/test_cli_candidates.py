"""``soundbow candidates``: which bells need something, and what is never proposed."""

import csv
import io

import pytest

from registry.cli.group import DONE, USAGE

DAY = ("--date", "2026-01-01")
ORDER = ("leave-and-watch", "ring-less", "clapper", "turn", "weld", "retire-and-display", "recast")
COSTS = "turn: {low: 800, high: 1500, currency: EUR, per: bell, source: an offer of 2025}\n"


@pytest.fixture
def asked(soundbow, sample_registry):
    """Give a function that asks for candidates of the sample."""

    def ask(*words):
        run = soundbow("candidates", "--registry", sample_registry, *DAY, *words)
        assert run.code == DONE, run.err
        return run

    return ask


def test_every_bell_comes_with_reasons_evidence_and_least_intervention_first(asked):
    """Options stand in one order, each but watching with a finding and the survey that found it."""
    bells = asked("--format", "json").data["bells"]
    assert [bell["rank"] for bell in bells] == list(range(1, len(bells) + 1))
    assert len(bells) >= 5
    for bell in bells:
        codes = [option["code"] for option in bell["proposals"]]
        assert codes == sorted(codes, key=ORDER.index)
        assert codes[0] == "leave-and-watch"
        for option in bell["proposals"][1:]:
            assert option["because"]
            assert option["evidence"]
            assert option["source"]
            assert option["cost"] is None
        assert all(option["why"] for option in bell["withheld"])


def test_nothing_of_unknown_or_protected_status_is_proposed_for_recasting(asked, soundbow, sample_registry):
    """Recasting needs bell and tower known to be unprotected; else the authority is named."""
    known = soundbow("find", "--registry", sample_registry, "--format", "json").data["rows"]
    rows = {row["id"]: row for row in known}
    withheld = 0
    for bell in asked("--format", "json").data["bells"]:
        row = rows[bell["bell_id"]]
        free = row["protected"] == "no" and row["protection"] == "not-protected"
        assert free or "recast" not in [option["code"] for option in bell["proposals"]]
        if "recast" in [option["code"] for option in bell["withheld"]]:
            withheld += 1
            assert "heritage authority" in bell["refer"]
    assert withheld


def test_the_most_pressing_bell_comes_first(asked):
    """Urgency leads the ranking, then condition; the order of the table is that of the data."""
    bells = asked("--format", "json").data["bells"]
    pressing = [(-bell["urgency_at_least"], -bell["condition_at_least"]) for bell in bells]
    assert pressing == sorted(pressing)
    text = asked().out
    places = [text.index(f"   {bell['bell_id']};") for bell in bells]
    assert places == sorted(places)


def test_the_table_prints_cautions_and_is_no_decision(asked):
    """Cautions stand under what they belong to, and nothing calls itself a certificate."""
    text = asked().out
    for words in (
        "Do not ring this bell",
        "Stop ringing this bell",
        "Only tin bronze is welded",
        "Refer to the heritage authority",
        "No structural or safety certificate, and no decision",
    ):
        assert words in text
    assert all(len(line) <= 120 for line in text.splitlines())


def test_costs_come_from_the_table_given_and_from_nowhere_else(asked, tmp_path):
    """Without a table no cost is named; with one, its range, currency and source stand with the option."""
    assert "cost" not in asked().out
    costs = tmp_path / "costs.yaml"
    costs.write_text(COSTS)
    rows = list(csv.DictReader(io.StringIO(asked("--costs", costs, "--format", "csv").out)))
    turns = [row for row in rows if row["option"] == "turn" and row["answer"] == "proposed"]
    assert turns
    for row in rows:
        named = (row["cost_low"], row["cost_high"], row["currency"], row["cost_source"])
        assert named == (("800.0", "1500.0", "EUR", "an offer of 2025") if row in turns else ("", "", "", ""))
    assert "cost: 800 to 1,500 EUR (an offer of 2025)" in asked("--costs", costs).out


def test_bells_are_chosen_by_tower_region_and_number(asked):
    """Each choice leaves some of the bells, in the order of the whole."""
    whole = asked("--format", "json").data["bells"]
    tower = whole[0]["tower_id"]
    of_tower = asked("--tower", tower, "--format", "json").data["bells"]
    assert [bell["bell_id"] for bell in of_tower] == [b["bell_id"] for b in whole if b["tower_id"] == tower]
    region = whole[0]["region"]
    of_region = asked("--region", region, "--format", "json").data["bells"]
    assert [bell["bell_id"] for bell in of_region] == [b["bell_id"] for b in whole if b["region"] == region]
    assert len(asked("--limit", "2", "--format", "json").data["bells"]) == 2
    assert "No bell is on record" in asked("--tower", "nowhere").out


def test_a_stricter_country_withholds_more(asked, tmp_path):
    """Own settings of a country, with source and date, decide what is kept."""
    strict = tmp_path / "strict.yaml"
    strict.write_text("otherwise: {always_ask: true, source: a letter, as_of: '2026'}\n")
    bells = asked("--country-settings", strict, "--format", "json").data["bells"]
    reasons = [why for bell in bells for option in bell["withheld"] for why in option["why"]]
    assert any("decides in every case" in why for why in reasons)
    assert not any(option["code"] == "recast" for bell in bells for option in bell["proposals"])


@pytest.mark.parametrize("option", ["--costs", "--country-settings"])
@pytest.mark.parametrize("text", ["turn: [1]", "[", "\udcff"])
def test_a_table_that_is_none_is_refused_before_anything_is_judged(
    soundbow, sample_registry, tmp_path, option, text
):
    """A table of the user's own that cannot be taken is named with what is wrong in it."""
    table = tmp_path / "own.yaml"
    table.write_bytes(text.encode(errors="surrogateescape"))
    run = soundbow("candidates", "--registry", sample_registry, option, table)
    assert run.code == USAGE
    assert "own.yaml" in run.err
    assert run.out == ""
