"""``soundbow statistics``: the same figures as table, CSV and JSON, with what was left out."""

import csv
import io

import pytest

from registry.cli.group import DONE, USAGE
from registry.wording.statistics import TABLES


@pytest.mark.parametrize("name", TABLES)
def test_statistics_in_every_form(soundbow, sample_registry, name):
    """Each is there as a table with its method, as CSV and as JSON with the explained columns."""
    words = ("statistics", name, "--registry", sample_registry, "--status", "hanging")
    data = soundbow(*words, "--format", "json").data
    rows = list(csv.DictReader(io.StringIO(soundbow(*words, "--format", "csv").out)))
    assert rows
    assert list(rows[0]) == list(data["columns"])
    assert len(rows) == len(data["rows"])
    run = soundbow(*words)
    assert run.code == DONE
    assert data["link"] == "/statistics?status=hanging"
    assert f"{data['link']} (registry {data['registry']})" in run.out
    assert data["method"].split()[0] in run.out


def test_castings_add_up(soundbow, sample_registry):
    """Every bell is counted: expected in a decade, undated, or with an open end."""
    words = ("statistics", "castings", "--registry", sample_registry, "--format", "json")
    data = soundbow(*words).data
    expected = sum(row["expected"] for row in data["rows"])
    beside = sum(int(text.split()[0]) for text in data["beside"])
    assert expected + beside == pytest.approx(data["bells"], abs=0.01)


def test_nothing_to_count(soundbow, sample_registry):
    """No bell found gives an empty table that says so."""
    run = soundbow("statistics", "masses", "--registry", sample_registry, "--from-mass-kg", "900000")
    assert (run.code, "Nothing to count" in run.out) == (DONE, True)


def test_unknown_statistics_are_wrong_usage(soundbow, sample_registry):
    """A name that is none is wrong usage."""
    assert soundbow("statistics", "wealth", "--registry", sample_registry).code == USAGE
