"""``soundbow find`` and ``soundbow show``: what a registry answers on the command line."""

import csv
import io
import json
import shutil
import sqlite3
from contextlib import closing

import pytest
from serving import CHECKOUT

from registry.cli.group import DONE, PROBLEMS, USAGE
from registry.cli.rows import Column, as_csv, as_table, display_width, shown
from registry.intake import load
from registry.model.validity import read_validity
from registry.questions import BellQuery
from registry.store.database import open_registry
from registry.store.pages_regions import read_bells_in, read_standing
from registry.store.search import find_bells
from registry.wording.asked import UNJUDGED


@pytest.fixture
def found(soundbow, sample_registry):
    """Give a function that finds bells in the sample, as data."""

    def find(*words):
        run = soundbow("find", *words, "--registry", sample_registry, "--format", "json")
        assert run.code == DONE, run.err
        return run.data

    return find


def ids(data):
    """List the bells found."""
    return [row["id"] for row in data["rows"]]


def test_without_a_question_all_bells_are_found(found, sample_registry):
    """Asked for nothing, all bells of the registry are given, however many."""
    with closing(open_registry(sample_registry)) as connection:
        everything = find_bells(connection, BellQuery(limit=None))
    data = found()
    assert data["total"] == len(data["rows"]) == everything.total >= 60
    assert data["rows"] == everything.rows


@pytest.mark.parametrize(
    ("words", "question"),
    [
        (["maria"], {"text": "maria"}),
        (["--tower", "vellhaven-minster"], {"tower_id": "vellhaven-minster"}),
        (["--founder", "karnbeck-successors"], {"founder_id": ("karnbeck-successors",)}),
        (["--material", "cast-steel", "--material", "cast-iron"], {"material": ("cast-steel", "cast-iron")}),
        (["--status", "requisitioned"], {"status": ("requisitioned",)}),
        (["--region", "vellmark-halvenau"], {"region": ("vellmark-halvenau",)}),
        (["--note", "e'"], {"note": ("E4",)}),
        (["--crack", "confirmed"], {"crack_state": ("confirmed",)}),
        (["--condition", "2", "--condition", "not-assessed"], {"condition": (2, "not-assessed")}),
        (["--century", "15"], {"century": 15}),
        (["--from-year", "1500", "--certain"], {"from_year": 1500, "certain": True}),
        (["--to-year", "1600"], {"to_year": 1600}),
        (["--from-diameter-mm", "1.2 m"], {"diameter_mm": (1200.0, None)}),
        (["--to-mass-kg", "1 cwt"], {"mass_kg": (None, 50.80234544)}),
        (["--near", "45.740194", "-7.380503", "5", "--sort", "distance"],
         {"near": (45.740194, -7.380503, 5.0), "sort": "distance"}),
        (["--nearest", "45.740194", "-7.380503", "9"],
         {"nearest": (45.740194, -7.380503, 9), "sort": "distance"}),
        (["--from-note", "d'", "--to-note", "A4"], {"from_note": "D4", "to_note": "A4"}),
        (["--profile", "medium"], {"profile_class": ("medium",)}),
        (["--wartime-class", "a", "--wartime-class", "b"], {"wartime_class": ("a", "b")}),
        (["--recording", "yes"], {"recording": "yes"}),
        (["--no-survey-since", "2020"], {"no_survey_since": "2020-01-01"}),
        (["--formula", "ave-maria"], {"formula": ("ave-maria",)}),
        (["--from-mass-kg", "400", "--certain"], {"mass_kg": (400.0, None), "certain": True}),
        (["--sort", "mass", "--reverse", "--limit", "3"], {"sort": "-mass", "limit": 3}),
    ],
)  # fmt: skip
def test_each_option_asks_its_question(found, sample_registry, words, question):
    """An option is the filter of that name, and finds some bells, not all."""
    with closing(open_registry(sample_registry)) as connection:
        expected = find_bells(connection, BellQuery(**({"limit": None} | question)))
    data = found(*words)
    assert data["rows"] == expected.rows
    assert data["unjudged"] == expected.unjudged
    assert 0 < len(data["rows"]) < found()["total"]


def test_founders_are_found_by_any_name_they_own(soundbow, sample_registry, tmp_path):
    """A founder is found by id and by every spelling; bells that are only proposed may not hold."""
    registry = tmp_path / "registry.db"
    shutil.copy(sample_registry, registry)
    report = load([CHECKOUT / "sample_data" / "founders.yaml"], registry, jobs=1)
    assert not report.has_errors

    def found(*words):
        return soundbow("find", *words, "--registry", registry, "--format", "json").data

    by_id = found("--founder", "clocsund-hinrik")
    assert by_id["total"] >= 2
    for name in ("Hinrick Klocksunt", "HINRICVS CLOCSVND", "hinrik clocsund"):
        assert ids(found("--founder-name", name)) == ids(by_id)
    doubted = found("--founder", "karnbeck-ehrenfried")
    assert doubted["doubtful"] == {"founder_id": 1}
    sure = found("--founder", "karnbeck-ehrenfried", "--certain")
    assert set(ids(doubted)) - set(ids(sure)) == {"halvenau-christ-church-old-1"}
    assert found("--founder-name", "nobody at all")["total"] == 0


def test_regions_hold_what_lies_within_them(found, sample_registry):
    """A region has the bells of the regions in it; at a date it has those that stood there, or may have."""
    with closing(open_registry(sample_registry)) as connection:
        outer, inner = connection.execute(
            "SELECT outer_id, region_id FROM region_within JOIN tower_region USING (region_id)"
        ).fetchone()
        inside = set(ids(found("--region", inner)))
        assert inside <= set(ids(found("--region", outer)))
        for region_id, date in (
            (outer, None),
            (inner, None),
            (outer, "1850"),
            (inner, "1750"),
            (outer, "1942"),
        ):
            if date is None:
                expected = {row["id"] for row in read_bells_in(connection, region_id)}
                assert set(ids(found("--region", region_id))) == expected
                continue
            standing = read_standing(connection, region_id, read_validity(date))
            data = found("--region", region_id, "--at", date)
            assert set(ids(data)) == {row["bell_id"] for row in standing}
            certain = {row["bell_id"] for row in standing if row["certain"]}
            assert data["doubtful"]["region"] == len(data["rows"]) - len(certain)
            assert set(ids(found("--region", region_id, "--at", date, "--certain"))) == certain


VALLEY = {
    "type": "Feature",
    "properties": {},
    "geometry": {
        "type": "Polygon",
        "coordinates": [
            [[-7.6, 45.6], [-7.2, 45.6], [-7.2, 45.9], [-7.6, 45.9], [-7.6, 45.6]],
            [[-7.39, 45.73], [-7.37, 45.73], [-7.37, 45.75], [-7.39, 45.75], [-7.39, 45.73]],
        ],
    },
}


@pytest.mark.parametrize(
    "link",
    [
        "/tower/kestrel-gate", "javascript:alert(1)", "http://[x/bells?century=15", "", "bells and more",
        "/bells?" + "&".join(["note=A4"] * 300),
    ],
    ids=lambda link: link[:30],
)  # fmt: skip
@pytest.mark.parametrize("command", [["find"], ["statistics", "castings"]], ids=lambda words: words[0])
def test_what_is_no_link_of_a_question_is_refused(soundbow, sample_registry, command, link):
    """A link that asks nothing of bells is wrong usage, and never answered with all of them."""
    run = soundbow(*command, "--registry", sample_registry, "--link", link)
    assert run.code == USAGE
    assert "expected the link of a question" in run.err


def test_a_link_says_whether_the_registry_has_changed(soundbow, sample_registry, found):
    """A question cited with the mark of another state is answered, and told to be of another state."""
    mark = found("--century", "15")["registry"]
    asked = ["find", "--registry", sample_registry, "--format", "json", "--link"]
    same = soundbow(*asked, f"http://host/base/bells.csv?century=15&registry={mark}")
    other = soundbow(*asked, "/bells?century=15&registry=000000000000")
    assert same.data == other.data
    assert (same.code, other.code) == (DONE, DONE)
    assert "has changed" not in same.err
    assert f"mark then 000000000000, now {mark}" in other.err


def test_an_area_without_end_is_refused(soundbow, sample_registry):
    """Of a device that never ends no more is read than an area may have."""
    run = soundbow("find", "--registry", sample_registry, "--within", "/dev/zero")
    assert run.code == PROBLEMS
    assert "file-too-large" in run.err


def test_bells_within_the_area_of_a_file(found, tmp_path):
    """An area from a file finds what stands in it and not in its hole; the same question is a link."""
    (tmp_path / "valley.geojson").write_text(json.dumps(VALLEY))
    data = found("--within", tmp_path / "valley.geojson")
    places = {(row["longitude_deg"], row["latitude_deg"]) for row in data["rows"]}
    assert places
    assert all(-7.6 <= x <= -7.2 and 45.6 <= y <= 45.9 for x, y in places)
    assert (-7.380503, 45.740194) not in places
    everything = found()
    away = [row for row in everything["rows"] if row["longitude_deg"] is None]
    assert data["unjudged"] == {"area": len(away)}
    again = found("--link", data["link"])
    assert (again["rows"], again["link"], again["registry"]) == (data["rows"], data["link"], data["registry"])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "mend the text"),
        ('{"type": "Point", "coordinates": [1, 2]}', "a Polygon or MultiPolygon"),
        (
            '{"type": "Polygon", "coordinates": [[[0, 0], [91, 91], [1, 1]], [[0, 0], [1, 0]]]}',
            "three corners",
        ),
        (
            '{"type": "Polygon", "coordinates": [[[0, 0], [1, 1], [1, 0], [0, 1]]]}',
            "neither cross nor overlap",
        ),
        ('{"type": "Polygon", "coordinates": [[[NaN, 0], [1, 1], [1, 0]]]}', "no number in JSON"),
    ],
)
def test_an_area_with_faults_is_told_in_full(soundbow, sample_registry, tmp_path, text, said):
    """Each fault of the file is told with its place under bad-area, and nothing is found."""
    (tmp_path / "area.json").write_text(text)
    run = soundbow("find", "--registry", sample_registry, "--within", tmp_path / "area.json")
    assert (run.code, run.out) == (PROBLEMS, "")
    assert "bad-area" in run.err
    assert said in run.err


def test_every_option_without_sense_is_named_at_once(soundbow, sample_registry):
    """Wrong usage tells all that makes no sense, each by its option."""
    run = soundbow("find", "--registry", sample_registry, "--century", "0", "--note", "b", "--mass-x", "1")
    assert run.code == USAGE
    run = soundbow("find", "--registry", sample_registry, "--century", "0", "--note", "b")
    assert "--century '0'" in run.err
    assert "--note 'b'" in run.err


def test_what_cannot_be_judged_is_counted(soundbow, sample_registry):
    """Bells that lack what is asked for are counted in the table and, beside CSV, on stderr."""
    words = ("find", "--note", "E4", "--registry", sample_registry)
    unjudged = soundbow(*words, "--format", "json").data["unjudged"]
    (name, count) = next(item for item in unjudged.items() if item[1])
    assert f"{count} more cannot be judged: {UNJUDGED[name]}" in soundbow(*words).out
    run = soundbow(*words, "--format", "csv")
    assert f"{count} more cannot be judged: {UNJUDGED[name]}" in run.err
    assert "cannot be judged" not in run.out


def test_csv_has_a_line_for_each_bell(soundbow, sample_registry):
    """CSV has the columns of the table of bells and a line for each one, even if there is none."""
    words = ("find", "--registry", sample_registry, "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(soundbow(*words).out)))
    assert len({row["id"] for row in rows}) == len(rows) >= 60
    (bell,) = [row for row in rows if row["id"] == "vellhaven-minster-noon"]
    assert bell["mouth_diameter_mm"] == "742.5"
    nothing = soundbow(*words, "no-such-word").out
    assert nothing.splitlines()[0].split(",") == list(rows[0])
    assert len(nothing.splitlines()) == 1


def test_geojson_has_longitude_first(soundbow, sample_registry):
    """GeoJSON gives longitude before latitude (RFC 7946, 3.1.1), and null for a bell without a place."""
    data = soundbow("find", "--registry", sample_registry, "--format", "geojson").data
    assert data["type"] == "FeatureCollection"
    places = {feature["id"]: feature["geometry"] for feature in data["features"]}
    assert places["vellhaven-minster-noon"] == {"type": "Point", "coordinates": [-7.380503, 45.740194]}
    for feature in data["features"]:
        assert (feature["geometry"] is None) == (feature["properties"]["latitude_deg"] is None)


@pytest.mark.parametrize(
    "words",
    [
        ["--material", "cheese"],
        ["--note", "b"],
        ["--century", "0"],
        ["--near", "91", "0", "5"],
        ["--near", "45", "0"],
        ["--from-diameter-mm", "wide"],
        ["--sort", "distance"],
        ["--limit", "0"],
    ],
)
def test_questions_without_sense_are_wrong_usage(soundbow, sample_registry, words):
    """What cannot be asked is wrong usage."""
    assert soundbow("find", *words, "--registry", sample_registry).code == USAGE


def test_registry_from_the_environment(soundbow, sample_registry, monkeypatch):
    """The registry may be named once, in SOUNDBOW_REGISTRY."""
    monkeypatch.setenv("SOUNDBOW_REGISTRY", str(sample_registry))
    assert soundbow("find", "--limit", "1").code == DONE
    monkeypatch.delenv("SOUNDBOW_REGISTRY")
    assert soundbow("find", "--limit", "1").code == USAGE


@pytest.mark.parametrize("command", [["find"], ["show", "x"], ["serve"], ["restore", "x"]])
def test_no_registry_there(soundbow, tmp_path, command):
    """A registry that is missing, or a file that is none, is told plainly."""
    missing = soundbow(*command, "--registry", tmp_path / "none.db")
    assert (missing.code, "file-missing" in missing.err) == (PROBLEMS, True)
    (tmp_path / "other.db").write_bytes(b"something else")
    other = soundbow(*command, "--registry", tmp_path / "other.db")
    assert (other.code, "not-a-registry" in other.err) == (PROBLEMS, True)


def test_registry_of_another_version(soundbow, sample_registry, tmp_path):
    """A registry written by another version says how to bring it up to date, and that way works."""
    old = tmp_path / "registry.db"
    shutil.copy(sample_registry, old)
    with closing(sqlite3.connect(old)) as connection, connection:
        connection.execute("UPDATE registry_meta SET value = 'older' WHERE key = 'schema_fingerprint'")
    run = soundbow("find", "--registry", old)
    assert (run.code, f"soundbow load --registry {old}" in run.err) == (PROBLEMS, True)
    assert soundbow("restore", "vellhaven-minster-2025-05-06", "--registry", old).code == DONE
    assert soundbow("load", "--registry", old).code == DONE
    assert soundbow("find", "--registry", old).code == DONE


def test_damaged_registry(soundbow, sample_registry, tmp_path):
    """A damaged registry is told as such."""
    damaged = tmp_path / "registry.db"
    data = bytearray(sample_registry.read_bytes())
    data[4096:-4096] = b"\xff" * (len(data) - 8192)
    damaged.write_bytes(data)
    run = soundbow("find", "--registry", damaged)
    assert run.code == PROBLEMS
    assert "fault in the program" not in run.err


def test_show_a_bell(soundbow, sample_registry):
    """The sheet of a bell keeps apart what was observed and what is computed, with survey and method."""
    words = ("show", "vellhaven-minster-angelus", "--registry", sample_registry)
    sheet = soundbow(*words).out
    observed, computed = sheet.split("Computed, not observed")
    assert "dimensions.mouth_diameter_mm" in observed
    assert "disagrees" in observed
    assert "by size-and-strike" in computed
    assert "by size-and-strike" not in observed
    data = soundbow(*words, "--format", "json").data
    assert data["kind"] == "bell"
    assert {"current", "facts", "derived", "observations", "surveys", "attention"} <= set(data)


def test_show_a_tower(soundbow, sample_registry):
    """The sheet of a tower has its ring, what needs attention and its surveys."""
    sheet = soundbow("show", "vellhaven-minster", "--registry", sample_registry).out
    for part in (
        "Minster of Our Lady, Vellhaven",
        "Needs attention",
        "vellhaven-minster-gloria",
        "2014-09-16",
    ):
        assert part in sheet


def test_show_a_survey_as_written(soundbow, sample_registry):
    """The sheet of a survey has the words of its form, each with the line it stands on."""
    run = soundbow("show", "vellhaven-minster-2025-05-06", "--registry", sample_registry)
    form = soundbow("restore", "vellhaven-minster-2025-05-06", "--registry", sample_registry).out.splitlines()
    number = next(at for at, line in enumerate(form, start=1) if "mouth_diameter_mm: 742.5 mm" in line)
    assert f"line {number}  mouth_diameter_mm           742.5 mm\n" in run.out


@pytest.mark.parametrize(
    "known", ["vellhaven-minster-noon", "vellhaven-minster", "vellhaven-minster-2025-05-06"]
)
def test_show_as_csv_and_geojson(soundbow, sample_registry, known):
    """Bells, towers and surveys come as one line of CSV, and as one GeoJSON point."""
    words = ("show", known, "--registry", sample_registry, "--format")
    (row,) = csv.DictReader(io.StringIO(soundbow(*words, "csv").out))
    assert row["id"] == known
    (feature,) = soundbow(*words, "geojson").data["features"]
    assert feature["geometry"]["coordinates"] == [-7.380503, 45.740194]


def test_show_what_is_not_there(soundbow, sample_registry):
    """An id that the registry has not is told; --kind looks among one kind only."""
    run = soundbow("show", "nothing", "--registry", sample_registry)
    assert (run.code, "nothing" in run.err) == (PROBLEMS, True)
    run = soundbow("show", "vellhaven-minster", "--kind", "bell", "--registry", sample_registry)
    assert (run.code, "has no bell" in run.err) == (PROBLEMS, True)


def test_table_is_aligned_whatever_the_script():
    """Columns stay aligned with wide and combining letters, long texts are shortened, nothing is a dash."""
    rows = [
        {"name": "鐘", "mass_kg": 1180.0},
        {"name": "Mari\u0301a", "mass_kg": None},
        {"name": "x" * 40, "mass_kg": 8.0},
    ]
    lines = as_table(rows, [Column("name", "name", 12), Column("mass_kg", "mass")]).splitlines()
    assert {display_width(line) for line in lines} == {display_width(lines[1])}
    assert lines[3].endswith("–")
    assert "…" in lines[4]


@pytest.mark.parametrize(
    ("value", "field", "text"),
    [
        (1180.0, "mouth_diameter_mm", "1\u202f180\u00a0mm"),
        (742.123, "mass_estimate_kg", "742\u00a0kg"),
        ("[743.0,742.0]", "mouth_diameter_readings_mm", "743\u00a0mm, 742\u00a0mm"),
        ("[abc] lost", "transcription", "[abc] lost"),
        (190.0, "hours_a_year", "190"),
        (None, "name", "–"),
        ("two\nlines", "remarks", "two | lines"),
    ],
)
def test_values_are_shown_for_people(value, field, text):
    """Quantities have their unit, lists no brackets, lines one line, and estimates no false digits."""
    assert shown(value, field) == text


def test_csv_quotes_what_needs_it():
    """Commas, quotes and line ends inside a value survive CSV (RFC 4180, section 2)."""
    rows = [{"a": 'say "hum", then\nstop', "b": None}]
    (read,) = csv.DictReader(io.StringIO(as_csv(rows, ["a", "b"])))
    assert read == {"a": 'say "hum", then\nstop', "b": ""}


@pytest.mark.parametrize("command", [("find",), ("statistics", "castings")])
def test_an_id_that_nothing_has_is_named(soundbow, sample_registry, command):
    """A slip in the id of a tower, founder or region is told, with what was perhaps meant."""
    words = ("--tower", "kestrel-gat", "--founder", "nobody-at-all", "--region", "vellmark")
    run = soundbow(*command, "--registry", sample_registry, *words)
    assert run.code == DONE
    assert "No tower 'kestrel-gat' in this registry. Did you mean 'kestrel-gate'?" in run.err
    assert "No founder 'nobody-at-all' in this registry." in run.err
    assert "No region" not in run.err
