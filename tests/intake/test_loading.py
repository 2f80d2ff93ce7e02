"""Loading: nothing twice, nothing lost, nothing half."""

import hashlib
import shutil
from datetime import date
from pathlib import Path

import pytest
from specimens import bell, document, logical_dump, rows, visit, write

from registry.intake import LoadReport, load
from registry.problems import InputError, Level

TODAY = date(2026, 1, 1)
REGION = """{"type": "Feature", "id": "%s", "properties": {"name": "Invented"}, "geometry":
{"type": "Polygon", "coordinates": [[[5, 45], [6, 45], [6, 46], [5, 46], [5, 45]]]}}"""


def run(*paths: Path, into: Path, **options: object) -> LoadReport:
    """Load in this process, on a fixed day."""
    return load(list(paths), into, jobs=1, today=TODAY, **options)  # type: ignore[arg-type]


def codes(report: LoadReport) -> list[str]:
    """Give the codes of all problems."""
    return [problem.code for problem in report.problems]


@pytest.fixture
def forms(tmp_path: Path) -> Path:
    """Give a folder with three good forms: two visits to one tower, and another tower."""
    folder = tmp_path / "forms"
    write(folder, "oster-2010.yaml", visit("oster-2010", day="2010-05-04"))
    write(folder, "oster-2020.yaml", visit("oster-2020"))
    write(folder, "inner/wester-2019.yml", visit("wester-2019", tower="wester", day="2019-01-02"))
    return folder


@pytest.fixture
def database(tmp_path: Path) -> Path:
    """Give the name of a registry that is not there yet."""
    return tmp_path / "bells.db"


def test_new_forms_load(forms: Path, database: Path) -> None:
    """Every form of a folder and of the folders in it is in the registry, and the report names it."""
    report = run(forms, into=database)
    assert report.problems == ()
    assert report.changed
    assert not report.rebuilt
    assert len(report.loaded) == 3
    assert report.bells == 2
    assert rows(database, "SELECT id, tower_id FROM survey ORDER BY id") == [
        ("oster-2010", "oster-gate"),
        ("oster-2020", "oster-gate"),
        ("wester-2019", "wester"),
    ]


def test_the_same_again_changes_nothing(forms: Path, database: Path) -> None:
    """A second run with the same forms leaves the file untouched, byte for byte, its time included."""
    run(forms, into=database)
    before = database.read_bytes(), database.stat().st_mtime_ns, database.stat().st_ino
    report = run(forms, into=database)
    assert (database.read_bytes(), database.stat().st_mtime_ns, database.stat().st_ino) == before
    assert not report.changed
    assert report.unchanged == 3
    assert report.loaded == ()


def test_two_new_registries_are_alike(forms: Path, tmp_path: Path) -> None:
    """The same forms loaded into two new registries say the same."""
    first, second = tmp_path / "first.db", tmp_path / "second.db"
    run(forms, into=first)
    run(forms, into=second)
    assert logical_dump(first) == logical_dump(second)


def test_one_by_one_is_as_all_at_once(forms: Path, tmp_path: Path) -> None:
    """Forms loaded one after the other, the newest first, give the registry that all together give."""
    whole, piecemeal = tmp_path / "whole.db", tmp_path / "piecemeal.db"
    run(forms, into=whole)
    for path in sorted(forms.rglob("*.y*ml"), reverse=True):
        run(path, into=piecemeal)
    assert logical_dump(whole) == logical_dump(piecemeal)


def test_several_processes_do_as_one(forms: Path, tmp_path: Path) -> None:
    """Two processes give the registry that one gives, and count the forms as they go."""
    one, two = tmp_path / "one.db", tmp_path / "two.db"
    run(forms, into=one)
    seen: list[tuple[int, int]] = []
    load([forms], two, jobs=2, today=TODAY, progress=lambda done, total: seen.append((done, total)))
    assert logical_dump(one) == logical_dump(two)
    assert seen[-1] == (3, 3)


def test_a_corrected_form_replaces_its_own_rows(forms: Path, database: Path, tmp_path: Path) -> None:
    """A corrected form changes its own rows alone; the registry is as if it had been right at once."""
    run(forms, into=database)
    other = "SELECT * FROM dimensions WHERE survey_id <> 'oster-2020'"
    before = rows(database, other)
    write(forms, "oster-2020.yaml", visit("oster-2020").replace("1180", "1184"))
    report = run(forms, into=database)
    assert codes(report) == ["survey-replaced"]
    assert report.replaced == (str(forms / "oster-2020.yaml"),)
    assert rows(database, "SELECT mouth_diameter_mm FROM dimensions WHERE survey_id = 'oster-2020'") == [
        (1184,)
    ]
    assert rows(database, other) == before
    fresh = tmp_path / "fresh.db"
    run(forms, into=fresh)
    assert logical_dump(database) == logical_dump(fresh)


def test_a_corrected_id_leaves_nothing_behind(forms: Path, database: Path, tmp_path: Path) -> None:
    """Where a form gives its survey, its tower and its bell another id, no trace of the old ones stays."""
    run(forms, into=database)
    text = visit("wester-2019-b", tower="wester-gate", day="2019-01-02")
    write(forms, "inner/wester-2019.yml", text)
    run(forms, into=database)
    assert rows(database, "SELECT id FROM tower ORDER BY id") == [("oster-gate",), ("wester-gate",)]
    fresh = tmp_path / "fresh.db"
    run(forms, into=fresh)
    assert logical_dump(database) == logical_dump(fresh)


def test_forms_may_exchange_their_ids(forms: Path, database: Path) -> None:
    """Two corrected forms may exchange their survey ids in one run."""
    run(forms, into=database)
    first, second = forms / "oster-2010.yaml", forms / "oster-2020.yaml"
    texts = first.read_text(), second.read_text()
    second.write_text(texts[0])
    first.write_text(texts[1])
    report = run(forms, into=database)
    assert not report.has_errors
    assert rows(database, "SELECT id, source_path FROM survey WHERE tower_id = 'oster-gate' ORDER BY id") == [
        ("oster-2010", "forms/oster-2020.yaml"),
        ("oster-2020", "forms/oster-2010.yaml"),
    ]


def test_a_removed_form_is_named(forms: Path, database: Path) -> None:
    """A form that is no longer in its folder is named each time, and its rows are kept."""
    run(forms, into=database)
    (forms / "oster-2010.yaml").unlink()
    for _ in range(2):
        report = run(forms, into=database)
        assert codes(report) == ["source-removed"]
        assert not report.changed
    assert ("oster-2010",) in rows(database, "SELECT id FROM survey")


def test_a_form_elsewhere_is_not_missed(forms: Path, database: Path) -> None:
    """Loading one folder says nothing on forms that were loaded from another."""
    run(forms, into=database)
    assert codes(run(forms / "inner", into=database)) == []


@pytest.mark.parametrize("edited", [False, True])
def test_a_moved_form_is_known_again(forms: Path, database: Path, tmp_path: Path, edited: bool) -> None:
    """A form under another name takes its rows along, whether its text changed on the way or not."""
    run(forms, into=database)
    (forms / "oster-2010.yaml").rename(forms / "renamed.yaml")
    if edited:
        write(forms, "renamed.yaml", visit("oster-2010", day="2010-05-04").replace("1180", "1181"))
    report = run(forms, into=database)
    assert codes(report) == ["source-moved"]
    assert report.moved == ("forms/renamed.yaml",)
    assert run(forms, into=database).problems == ()
    fresh = tmp_path / "fresh.db"
    run(forms, into=fresh)
    assert logical_dump(database) == logical_dump(fresh)


def test_a_folder_moved_with_its_registry_stays_known(forms: Path, database: Path, tmp_path: Path) -> None:
    """A registry and its forms copied elsewhere together need not be loaded again."""
    run(forms, into=database)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    shutil.copytree(forms, elsewhere / "forms")
    shutil.copy(database, elsewhere / "bells.db")
    report = run(elsewhere / "forms", into=elsewhere / "bells.db")
    assert report.unchanged == 3
    assert not report.changed


def test_a_faulty_form_is_left_out(forms: Path, database: Path) -> None:
    """A form with an error is named and left out; the others load."""
    faulty = write(forms, "faulty.yaml", visit("faulty-2020").replace("1180", "11800"))
    report = run(forms, into=database)
    assert report.has_errors
    assert report.left_out == (str(faulty),)
    assert len(report.loaded) == 3
    assert rows(database, "SELECT count(*) FROM source WHERE path LIKE '%faulty%'") == [(0,)]


def test_all_or_nothing(forms: Path, database: Path) -> None:
    """With all_or_nothing one faulty form keeps all out, and no registry appears."""
    write(forms, "faulty.yaml", "form: nothing\n")
    report = run(forms, into=database, all_or_nothing=True)
    assert report.has_errors
    assert report.loaded == ()
    assert not database.exists()


def test_an_earlier_text_stays_while_the_new_one_is_faulty(forms: Path, database: Path) -> None:
    """The rows of a form stay as they were when its new text has an error, and the report says so."""
    run(forms, into=database)
    before = database.read_bytes()
    write(forms, "oster-2020.yaml", visit("oster-2020").replace("1180", "11800"))
    report = run(forms, into=database)
    assert "earlier-text-kept" in codes(report)
    assert report.left_out == (str(forms / "oster-2020.yaml"),)
    assert database.read_bytes() == before


def test_a_survey_id_is_given_once(forms: Path, database: Path) -> None:
    """A second form with the id of a survey is refused, be the first loaded already or beside it."""
    copy = write(forms, "zz-copy.yaml", visit("oster-2020", day="2020-05-05"))
    for _ in range(2):
        report = run(forms, into=database)
        assert [problem.file for problem in report.problems if problem.level is Level.ERROR] == [str(copy)]
        assert "duplicate-survey" in codes(report)
        assert rows(database, "SELECT source_path FROM survey WHERE id = 'oster-2020'") == [
            ("forms/oster-2020.yaml",)
        ]


def test_rules_across_surveys_know_the_registry(forms: Path, database: Path) -> None:
    """A diameter that changed is noticed against what is loaded, at the new form."""
    run(forms, into=database)
    new = write(forms, "oster-2024.yaml", visit("oster-2024", day="2024-05-04").replace("1180", "1250"))
    report = run(forms, into=database)
    assert ("diameter-changed", str(new)) in [(problem.code, problem.file) for problem in report.problems]
    assert report.loaded == (str(new),)


def test_regions_load_and_count(forms: Path, database: Path) -> None:
    """A tower outside the region it names is noticed, in the run that brings the border and in later ones."""
    write(forms, "border.geojson", REGION % "invented")
    inside = "latitude_deg: 45.5\nlongitude_deg: 5.5\nregion: invented\n"
    outside = inside.replace("45.5", "47.5")
    write(forms, "a.yaml", visit("a-2020", tower="a", in_tower=inside))
    write(forms, "b.yaml", visit("b-2020", tower="b", in_tower=outside))
    report = run(forms, into=database)
    assert [problem.file for problem in report.problems if problem.code == "outside-region"] == [
        str(forms / "b.yaml")
    ]
    write(forms, "c.yaml", visit("c-2020", tower="c", in_tower=outside))
    assert "outside-region" in codes(run(forms / "c.yaml", into=database))
    assert rows(database, "SELECT id, west_deg, north_deg FROM region") == [("invented", 5, 46)]


def test_a_region_has_one_border(forms: Path, database: Path) -> None:
    """A region id in a second file is refused, now and when the first is loaded."""
    write(forms, "border.geojson", REGION % "invented")
    write(forms, "other.geojson", REGION % "invented")
    assert codes(run(forms, into=database)) == ["bad-region"]
    assert codes(run(forms, into=database)) == ["bad-region"]
    write(forms, "other.geojson", REGION % "another")
    assert codes(run(forms, into=database)) == []
    write(forms, "border.geojson", (REGION % "invented").replace("Invented", "Renamed"))
    run(forms, into=database)
    assert rows(database, "SELECT id, name FROM region ORDER BY id") == [
        ("another", "Invented"),
        ("invented", "Renamed"),
    ]


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(visit("x-2020").replace("\n", "\r\n").encode(), id="CRLF"),
        pytest.param(b"\xef\xbb\xbf" + visit("x-2020").encode(), id="BOM"),
        pytest.param(
            visit("x-2020").encode() + b"# \xc3\xa9 \xe2\x80\x9cno newline at the end\xe2\x80\x9d", id="tail"
        ),
    ],
)
def test_forms_come_back_byte_for_byte(tmp_path: Path, database: Path, data: bytes) -> None:
    """The registry alone gives each form back as it was, its line ends and signs included."""
    run(write(tmp_path, "x.yaml", data), into=database)
    digest = hashlib.sha256(data).hexdigest()
    assert rows(database, "SELECT text, sha256, size_bytes FROM source") == [(data, digest, len(data))]


@pytest.mark.parametrize(
    ("module", "name"),
    [
        ("registry.store.write", "put_surveys"),
        ("registry.store.refresh", "refresh_bells"),
        ("registry.store.publish", "_check"),
        ("registry.store.publish", "_put_in_place"),
    ],
)
def test_a_crash_leaves_the_old_registry(
    forms: Path, database: Path, monkeypatch: pytest.MonkeyPatch, module: str, name: str
) -> None:
    """Whatever breaks, the registry is as before, nothing lies about, and the next run works."""
    run(forms, into=database)
    before = database.read_bytes()
    write(forms, "new.yaml", visit("new-2020", tower="new"))

    def crash(*_arguments: object) -> None:
        raise RuntimeError("pulled the plug")

    with monkeypatch.context() as broken:
        broken.setattr(f"{module}.{name}", crash)
        with pytest.raises(RuntimeError, match="pulled the plug"):
            run(forms, into=database)
    assert database.read_bytes() == before
    assert sorted(path.name for path in database.parent.iterdir()) == ["bells.db", "forms"]
    assert run(forms, into=database).loaded == (str(forms / "new.yaml"),)


def with_another_schema(monkeypatch: pytest.MonkeyPatch, forms: Path, database: Path) -> None:
    """Make the registry that another version of the program would have made."""
    with monkeypatch.context() as other:
        other.setattr("registry.store.database.fingerprint", lambda: "0" * 64)
        run(forms, into=database)


def test_another_schema_is_rebuilt(
    forms: Path, database: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A registry of another version is made again from the forms it holds, even if the files are gone."""
    write(forms, "border.geojson", REGION % "invented")
    fresh = tmp_path / "fresh.db"
    run(forms, into=fresh)
    with_another_schema(monkeypatch, forms, database)
    times = rows(database, "SELECT path, loaded_at FROM source ORDER BY path")
    shutil.rmtree(forms)
    report = run(into=database)
    assert report.rebuilt
    assert report.loaded == ()
    assert logical_dump(database) == logical_dump(fresh)
    assert rows(database, "SELECT path, loaded_at FROM source ORDER BY path") == times
    assert not run(into=database).changed


def test_a_rebuild_takes_corrections_along(
    forms: Path, database: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While a registry is made again, changed, moved and new forms take their place as ever."""
    with_another_schema(monkeypatch, forms, database)
    write(forms, "oster-2020.yaml", visit("oster-2020").replace("1180", "1184"))
    write(forms, "new.yaml", visit("new-2020", tower="new"))
    (forms / "inner" / "wester-2019.yml").rename(forms / "moved.yaml")
    report = run(forms, into=database)
    assert report.rebuilt
    assert not report.has_errors
    fresh = tmp_path / "fresh.db"
    run(forms, into=fresh)
    assert logical_dump(database) == logical_dump(fresh)


def test_a_rebuild_loses_no_form(forms: Path, database: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a form no longer passes the check, the registry of the other version is left alone."""
    with_another_schema(monkeypatch, forms, database)
    before = database.read_bytes()
    with pytest.raises(InputError) as refused:
        load([], database, jobs=1, today=date(2015, 1, 1))
    assert {problem.code for problem in refused.value.problems} == {"date-in-future"}
    assert {problem.file for problem in refused.value.problems} == {
        "forms/inner/wester-2019.yml",
        "forms/oster-2020.yaml",
    }
    assert database.read_bytes() == before


def test_values_are_computed_anew_with_the_method(
    forms: Path, database: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Under another way of computing all values are computed again, and the surveys stay."""
    run(forms, into=database)
    monkeypatch.setattr("registry.intake.loading.derivation", lambda: "another")
    monkeypatch.setattr("registry.intake.writing.derivation", lambda: "another")
    report = run(forms, into=database)
    assert report.changed
    assert report.bells == 2
    assert report.loaded == ()
    assert not run(forms, into=database).changed


def test_nothing_to_load_makes_no_registry(tmp_path: Path, database: Path) -> None:
    """A folder without forms is named, and no registry appears."""
    assert codes(run(tmp_path, into=database)) == ["no-forms"]
    assert not database.exists()


def test_missing_files_are_named(forms: Path, database: Path) -> None:
    """A name that is no file is an error; what else was named loads."""
    report = run(forms, forms / "nowhere.yaml", into=database)
    assert codes(report) == ["file-missing"]
    assert len(report.loaded) == 3


def test_documents_count_by_the_day_they_tell_of(forms: Path, database: Path) -> None:
    """An inventory of 1890 read today is older knowledge than a visit of 2010."""
    great = bell("oster-gate-great", "identity: {name: Grosse}\ndimensions: {mouth_diameter_mm: 1190}\n")
    write(forms, "inventory.yaml", document("oster-inventory-1890", great, day="2025-01-01"))
    run(forms, into=database)
    current = "SELECT name, mouth_diameter_mm, last_survey_id FROM bell_current WHERE id = 'oster-gate-great'"
    assert rows(database, current) == [("Grosse", 1180, "oster-2020")]
    assert rows(database, "SELECT as_of FROM survey WHERE kind = 'document'") == [("1890-12-31",)]


def test_a_moved_form_keeps_its_id(forms: Path, database: Path) -> None:
    """A second form with the id of a survey does not get it because the first has another name now."""
    run(forms, into=database)
    copy = write(forms, "zz-copy.yaml", visit("oster-2020", day="2020-05-05"))
    (forms / "oster-2020.yaml").rename(forms / "renamed.yaml")
    report = run(forms, into=database)
    assert report.left_out == (str(copy),)
    assert sorted(codes(report)) == ["duplicate-survey", "source-moved"]
    kept = "SELECT source_path FROM survey WHERE id = 'oster-2020'"
    assert rows(database, kept) == [("forms/renamed.yaml",)]
