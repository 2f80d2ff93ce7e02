"""``soundbow report`` and ``soundbow worklist``: what is asked, and what is refused."""

import csv
import io

import icalendar
import pypdf
import pytest

from registry.cli.group import DONE, PROBLEMS, USAGE
from registry.cli.worklist import FIELDS

DAY = ("--date", "2026-01-02")


def test_a_report_is_written_and_not_over_another(soundbow, sample_registry, tmp_path):
    """A PDF is made; the same again changes nothing, and another file stays unless asked to go."""
    output = tmp_path / "reports" / "bell.pdf"
    asked = ("report", "quarrendyke-school-bell", "--registry", sample_registry, "-o", output, *DAY)
    run = soundbow(*asked)
    assert (run.code, run.out, run.err) == (DONE, "", f"{output} is ready.\n")
    first = output.read_bytes()
    assert pypdf.PdfReader(output).metadata.title.startswith("Condition report")
    assert soundbow(*asked).code == DONE
    assert output.read_bytes() == first
    output.write_bytes(b"mine")
    run = soundbow(*asked)
    assert run.code == USAGE
    assert "--force writes over it" in run.err
    assert soundbow(*asked, "--force").code == DONE
    assert output.read_bytes() == first


def test_a_form_to_print(soundbow, sample_registry, tmp_path, monkeypatch):
    """Without a name it goes into this folder, under one that says what it is."""
    monkeypatch.chdir(tmp_path)
    assert soundbow("report", "skarnow-point", "--registry", sample_registry, "--blank", *DAY).code == DONE
    assert "Survey by hand" in pypdf.PdfReader(tmp_path / "form-skarnow-point.pdf").metadata.title


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nowhere",), "has no bell, tower or survey nowhere"),
        (("skarnow-point", "--kind", "bell"), "has no bell skarnow-point"),
        (("skarnow-point-fog", "--blank"), "has no tower skarnow-point-fog"),
    ],
)
def test_what_the_registry_does_not_have(soundbow, sample_registry, tmp_path, words, said):
    """An id of nothing, or of something else, is told and nothing is written."""
    run = soundbow("report", *words, "--registry", sample_registry, "-o", tmp_path / "x.pdf")
    assert run.code == PROBLEMS
    assert said in run.err
    assert not (tmp_path / "x.pdf").exists()


def test_a_day_that_is_none(soundbow, sample_registry):
    """The day is a calendar day."""
    run = soundbow("report", "skarnow-point", "--registry", sample_registry, "--date", "2026-02-30")
    assert run.code == USAGE


def test_what_is_to_be_done_is_listed_most_urgent_first(soundbow, sample_registry):
    """Each line names tower, bell, what was found and by which rule."""
    rows = soundbow("worklist", "--registry", sample_registry, "--format", "json", *DAY).data
    assert [row["urgency"] for row in rows] == sorted((row["urgency"] for row in rows), reverse=True)
    assert list(rows[0]) == list(FIELDS[False])
    assert any(
        row["rule"] == "crack-through" and row["bell_id"] == "ostrelle-notre-dame-felicite" for row in rows
    )
    table = soundbow("worklist", "--registry", sample_registry, "--urgency", "3", *DAY).out
    assert table.splitlines()[0].split() == ["urgency", "tower", "bell", "component", "do", "because", "seen"]


def test_filters_of_what_is_to_be_done(soundbow, sample_registry):
    """Tower, region, component and urgency narrow the list, and all must hold."""

    def rows(*words):
        return soundbow("worklist", "--registry", sample_registry, "--format", "json", *DAY, *words).data

    everything = rows()
    for words, holds in (
        (("--tower", "kestrel-gate"), lambda row: row["tower_id"] == "kestrel-gate"),
        (("--region", "vellmark-ostrelle"), lambda row: row["region"] == "vellmark-ostrelle"),
        (
            ("--component", "crown", "--component", "frame"),
            lambda row: row["component"] in ("crown", "frame"),
        ),
        (("--urgency", "2"), lambda row: row["urgency"] >= 2),
    ):
        assert rows(*words) == [row for row in everything if holds(row)] != []
    assert len(rows("--limit", "2")) == 2
    assert rows("--tower", "nowhere") == []


def test_an_empty_list_is_told(soundbow, sample_registry):
    """No row makes a sentence for people and a line of titles for programs."""
    asked = ("worklist", "--registry", sample_registry, "--tower", "nowhere")
    assert soundbow(*asked).out == "Nothing is on record.\n"
    assert soundbow(*asked, "--format", "csv").out == ",".join(FIELDS[False]) + "\n"


def test_inspections_are_listed_and_make_a_calendar(soundbow, sample_registry, tmp_path):
    """The same dates stand in CSV and in the calendar, which an independent library reads back (RFC 5545)."""
    asked = ("worklist", "--registry", sample_registry, "--inspections", *DAY)
    rows = list(csv.DictReader(io.StringIO(soundbow(*asked, "--format", "csv").out)))
    assert [row["due"] for row in rows] == sorted(row["due"] for row in rows)
    output = tmp_path / "inspections.ics"
    assert (
        soundbow("worklist", "--registry", sample_registry, "--format", "ics", "-o", output, *DAY).code
        == DONE
    )
    data = output.read_bytes()
    assert b"\r\n" in data
    events = list(icalendar.Calendar.from_ical(data).walk("VEVENT"))
    assert sorted(str(event["DTSTART"].dt) for event in events) == [row["due"] for row in rows]
    assert len({str(event["UID"]) for event in events}) == len(rows)
    early = soundbow(*asked, "--format", "json", "--until", "2020-12-31").data
    assert early
    assert all(row["due"] <= "2020-12-31" for row in early)


@pytest.mark.parametrize(
    "words",
    [
        ("--inspections", "--urgency", "2"),
        ("--format", "ics", "--component", "bell"),
        ("--until", "2030-01-01"),
        ("--sort", "due"),
        ("--inspections", "--sort", "urgency"),
        ("--urgency", "4"),
    ],
)
def test_questions_that_do_not_go_together(soundbow, sample_registry, words):
    """A filter of the other list is wrong usage, not passed over in silence."""
    assert soundbow("worklist", "--registry", sample_registry, *words).code == USAGE


@pytest.mark.parametrize("order", ["place", "bell", "seen"])
def test_orders_of_the_list(soundbow, sample_registry, order):
    """The list can go by place, bell or day; what has none comes last."""
    field = {"place": "place", "bell": "bell_id", "seen": "survey_date"}[order]
    rows = soundbow("worklist", "--registry", sample_registry, "--format", "json", "--sort", order, *DAY).data
    values = [row[field] for row in rows]
    known = [value for value in values if value is not None]
    assert values == sorted(known) + [None] * (len(values) - len(known))


def test_tables_of_ones_own_stand_in_the_report(soundbow, sample_registry, tmp_path):
    """Costs and the rules of a country come from the user's files, and a faulty file is told."""
    costs, country = tmp_path / "costs.yaml", tmp_path / "country.yaml"
    costs.write_text("recast: {low: 900, high: 1600, currency: EUR, per: bell, source: an offer of 2025}\n")
    country.write_text("countries: {XV: {always_ask: true, source: a letter, as_of: '2026'}}\n")

    def said(*words):
        output = tmp_path / "report.pdf"
        asked = ("report", "pelagoussa-st-nicholas-harbour", "--registry", sample_registry, *DAY)
        assert soundbow(*asked, "-o", output, "--force", *words).code == DONE
        text = "".join(page.extract_text() for page in pypdf.PdfReader(output).pages)
        return " ".join(
            text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ").split()
        )

    assert "May cost 900 to 1 600 EUR (an offer of 2025)." in said("--costs", costs)
    assert "May cost" not in said()
    assert "The heritage authority decides in every case here" in said("--country-settings", country)
    run = soundbow("report", "skarnow-point", "--registry", sample_registry, "--costs", country)
    assert run.code == USAGE
    assert "no such option" in run.err
