"""Files of founders: read strictly, whole or not at all, and what bells are given to whom because of them."""

import json
from datetime import date
from pathlib import Path

import pytest
import yaml
from jsonschema import Draft202012Validator
from specimens import bell, logical_dump, rows, visit, write

from registry.forms.blank_founders import blank_founders
from registry.forms.json_schema import json_schema
from registry.intake import LoadReport, check, load
from registry.resources import shipped_text

TODAY = date(2026, 1, 1)
HEAD = "form: soundbow founders 1\nfounders:\n"
GIVEN = "SELECT bell_id, founder_id, basis, certainty FROM attribution ORDER BY 1, 2"


def founder(id_: str, name: str, *lines: str) -> str:
    """Write an entry."""
    return "".join(
        f"{'  - ' if n == 0 else '    '}{line}\n"
        for n, line in enumerate((f"id: {id_}", f"name: {name}", *lines))
    )


def told_by(name: str, cast: str = "", more: str = "") -> str:
    """Write a bell with a founder."""
    told = f", cast_date: '{cast}'" if cast else ""
    return f'identity: {{status: hanging, founder: "{name}"{told}{more}}}\n'


def run(*paths: Path, into: Path) -> LoadReport:
    """Load in this process, on a fixed day."""
    return load(list(paths), into, jobs=1, today=TODAY)


def problems(folder: Path, *entries: str) -> list[tuple[str, int, str]]:
    """Check one file of founders: code, line and path of each problem."""
    path = write(folder, "founders.yaml", HEAD + "".join(entries))
    return [(each.code, each.line, each.path) for each in check([path], jobs=1, today=TODAY).problems]


@pytest.fixture
def database(tmp_path: Path) -> Path:
    """Give the name of a registry that is not there yet."""
    return tmp_path / "bells.db"


SMITH = founder("smith", "Ada Smith", "active: 1700/1720", "variants: [{spelling: A. SMITH ME FECIT}]",
                "workshops: [{place: Harbour, latitude_deg: 52, longitude_deg: 2}]")  # fmt: skip


def test_founders_are_loaded_with_all_they_tell(tmp_path: Path, database: Path) -> None:
    """Names, times, workshops and ties stand in their tables, and the file is kept whole."""
    path = write(
        tmp_path,
        "f.yaml",
        HEAD + SMITH + founder("jones", "Jo Jones", "ties: [{kind: apprentice-of, founder: smith}]"),
    )
    report = run(path, into=database)
    assert report.problems == ()
    assert report.loaded == (str(path),)
    assert rows(database, "SELECT id, name FROM founder ORDER BY id") == [
        ("jones", "Jo Jones"),
        ("smith", "Ada Smith"),
    ]
    assert rows(
        database, "SELECT founder_id, ordinal, spelling, folded FROM founder_variant ORDER BY 1, 2"
    ) == [
        ("jones", 0, "Jo Jones", "jo jones"),
        ("smith", 0, "Ada Smith", "ada smith"),
        ("smith", 1, "A. SMITH ME FECIT", "a smith me fecit"),
    ]
    assert rows(database, "SELECT active_from, active_until FROM founder_told WHERE id = 'smith'") == [
        ("1700-01-01", "1720-12-31")
    ]
    assert rows(database, "SELECT founder_id, kind, other_id FROM founder_tie") == [
        ("jones", "apprentice-of", "smith")
    ]
    assert rows(database, "SELECT kind, text FROM source") == [("founders", path.read_bytes())]


def test_names_propose_founders(tmp_path: Path, database: Path) -> None:
    """A name that is a spelling proposes its founder, with the place behind it too; any other does not."""
    forms = visit(
        "a-2020",
        bell("a-fits", told_by("A. Smith me fecit", "1710")),
        bell("a-place", told_by("Áda SMITH, Harbour", "1710")),
        bell("a-undated", told_by("Ada Smith")),
        bell("a-late", told_by("Ada Smith", "1850")),
        bell("a-unsure", told_by("Ada Smith", "1710", ", founder_certainty: doubtful")),
        bell("a-other", told_by("Ada Smithers", "1710")),
        bell("a-stated", told_by("Ada Smith", "1850", ", founder_id: smith, founder_certainty: certain")),
        bell("a-against", told_by("Ada Smith", "1710", ", founder_id: jones")),
        tower="a",
    )
    run(write(tmp_path, "f.yaml", HEAD + SMITH), write(tmp_path, "a.yaml", forms), into=database)
    assert rows(database, GIVEN) == [
        ("a-against", "jones", "stated", None),
        ("a-against", "smith", "proposed", "doubtful"),
        ("a-fits", "smith", "proposed", "probable"),
        ("a-late", "smith", "proposed", "doubtful"),
        ("a-place", "smith", "proposed", "probable"),
        ("a-stated", "smith", "stated", "certain"),
        ("a-undated", "smith", "proposed", "possible"),
        ("a-unsure", "smith", "proposed", "doubtful"),
    ]
    reasons = dict(rows(database, "SELECT bell_id, reason FROM attribution WHERE founder_id = 'smith'"))
    assert "of 1700/1720, and the bell of 1850" in reasons["a-late"]
    assert "the founder worked 1700/1720, and the bell is of 1850" in reasons["a-stated"]
    assert "the form names jones" in reasons["a-against"]
    assert rows(database, "SELECT founder FROM bell_current WHERE id = 'a-fits'") == [("A. Smith me fecit",)]


def test_a_shared_spelling_told_apart_by_time(tmp_path: Path, database: Path) -> None:
    """Of two founders with one spelling the one of the bell's time is proposed, else neither for sure."""
    two = founder("elder", "Smith the elder", "variants: [{spelling: Smith, valid: 1650/1699}]") + founder(
        "younger", "Smith the younger", "variants: [{spelling: Smith, valid: 1700/1740}]"
    )
    forms = visit(
        "a-2020", bell("a-early", told_by("Smith", "1660")), bell("a-any", told_by("Smith")), tower="a"
    )
    report = run(write(tmp_path, "f.yaml", HEAD + two), write(tmp_path, "a.yaml", forms), into=database)
    assert not report.has_errors
    assert rows(database, GIVEN) == [
        ("a-any", "elder", "proposed", "possible"),
        ("a-any", "younger", "proposed", "possible"),
        ("a-early", "elder", "proposed", "probable"),
    ]


def test_a_spelling_of_two_founders_is_refused(tmp_path: Path) -> None:
    """Two owners of a spelling are an error at the second, unless times or places tell them apart."""
    one = founder("one", "One", "variants: [{spelling: Smïth}]")
    assert problems(tmp_path, one, founder("two", "Two", "variants:", "  - spelling: SMITH")) == [
        ("variant-shared", 9, "founders[2].variants[1].spelling")
    ]
    assert problems(tmp_path, founder("one", "Smith"), founder("two", "Smith")) == [
        ("variant-shared", 6, "founders[2].name")
    ]
    apart = founder("one", "One", "active: 1600/1650", "variants: [{spelling: Smith}]")
    assert (
        problems(tmp_path, apart, founder("two", "Two", "active: 1660/..", "variants: [{spelling: Smith}]"))
        == []
    )
    here = founder("one", "One", "variants: [{spelling: Smith, place: Ely}]")
    assert problems(tmp_path, here, founder("two", "Two", "variants: [{spelling: Smith, place: York}]")) == []
    assert [code for code, _, _ in problems(tmp_path, here, one)][:1] == ["duplicate-identifier"]


def test_founders_of_two_files_are_held_against_each_other(tmp_path: Path, database: Path) -> None:
    """An id or a spelling that a loaded file has is refused in another, and nothing of that is loaded."""
    run(write(tmp_path, "first.yaml", HEAD + SMITH), into=database)
    again = write(tmp_path, "second.yaml", HEAD + founder("smith", "Another") + founder("b", "Ada Smith"))
    report = run(again, into=database)
    assert [each.code for each in report.problems] == ["duplicate-identifier", "variant-shared"]
    assert "first.yaml" in report.problems[0].expected
    assert report.left_out == (str(again),)
    assert rows(database, "SELECT id FROM founder") == [("smith",)]
    assert [each.code for each in check([again], database, jobs=1, today=TODAY).problems] == [
        "duplicate-identifier", "variant-shared",
    ]  # fmt: skip


SHOP = "founders[1].workshops[1]"
NAME = "founders[1].variants[1]"
TIE = "founders[1].ties[1]"


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("active: '[1700,1720]'",), ("bad-date", 5, "founders[1].active")),
        (("active: 1720/1700",), ("bad-date", 5, "founders[1].active")),
        (("born: 1700", "died: 1650"), ("founder-contradiction", 6, "founders[1].died")),
        (("born: 1700", "active: 1650/1660"), ("founder-contradiction", 6, "founders[1].active")),
        (("active: 1700/1720", "died: 1690"), ("founder-contradiction", 5, "founders[1].active")),
        (("ties: [{kind: kin-of, founder: a}]",), ("founder-contradiction", 5, f"{TIE}.founder")),
        (("ties: [{kind: kin-of, founder: z}]",), ("unknown-founder", 5, "founders[1].ties[1].founder")),
        (("ties: [{kind: cousin, founder: z}]",), ("unknown-term", 5, "founders[1].ties[1].kind")),
        (("workshops: [{place: Ely, latitude_deg: 52}]",), ("missing-required", 5, f"{SHOP}.latitude_deg")),
        (("workshops: [{latitude_deg: 95}]",), ("bad-coordinate", 5, f"{SHOP}.latitude_deg")),
        (("variants: [{spelling: X, language: qqq9}]",), ("bad-language", 5, f"{NAME}.language")),
        (("alias: X",), ("unknown-key", 5, "founders[1].alias")),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named_by_line(
    tmp_path: Path, lines: tuple[str, ...], expected: tuple[str, int, str]
) -> None:
    """Each fault of an entry is told with its line and its field."""
    assert expected in problems(tmp_path, founder("a", "Ada", *lines))


def test_another_version_of_the_form_is_refused(tmp_path: Path) -> None:
    """A file that calls itself founders of another version is told what to write, as a file of founders."""
    path = write(tmp_path, "f.yaml", "form: soundbow founders 2\nfounders: [{id: a, name: A}]\n")
    (problem,) = check([path], jobs=1, today=TODAY).problems
    assert (problem.code, problem.expected) == ("unknown-form", "form: soundbow founders 1")


@pytest.mark.parametrize(
    "text",
    [
        'form: "soundbow founders 1"\nfounders: [{id: smith, name: Ada Smith}]\n',
        "'form':   soundbow founders 1 # mine\nfounders: [{id: smith, name: Ada Smith}]\n",
        "{form: soundbow founders 1, founders: [{id: smith, name: Ada Smith}]}\n",
        "founders: [{id: smith, name: Ada Smith}]\nform: soundbow founders 1\n",
    ],
)
def test_the_form_is_known_in_every_spelling_of_yaml(tmp_path: Path, database: Path, text: str) -> None:
    """A file that an editor wrote anew, with quotes or other spaces, is still one of founders."""
    assert run(write(tmp_path, "f.yaml", text), into=database).problems == ()
    assert rows(database, "SELECT name FROM founder") == [("Ada Smith",)]


def test_a_changed_file_takes_the_place_of_the_earlier_one(tmp_path: Path, database: Path) -> None:
    """Founders that are no longer told lose their names and bells; the order of loading does not matter."""
    forms = write(
        tmp_path, "a.yaml", visit("a-2020", bell("a-fits", told_by("Ada Smith", "1710")), tower="a")
    )
    path = write(tmp_path, "f.yaml", HEAD + SMITH)
    run(forms, path, into=database)
    assert rows(database, GIVEN) == [("a-fits", "smith", "proposed", "probable")]
    write(tmp_path, "f.yaml", HEAD + founder("jones", "Jo Jones", "variants: [{spelling: Ada Smith}]"))
    run(path, into=database)
    assert rows(database, GIVEN) == [("a-fits", "jones", "proposed", "possible")]
    assert rows(database, "SELECT id FROM founder") == [("jones",)]
    other = tmp_path / "other.db"
    run(path, into=other)
    run(forms, into=other)
    assert logical_dump(other) == logical_dump(database)


def test_a_moved_file_keeps_its_founders(tmp_path: Path, database: Path) -> None:
    """A file that has another name now keeps what it told."""
    path = write(tmp_path, "f.yaml", HEAD + SMITH)
    run(path, into=database)
    report = run(path.rename(tmp_path / "g.yaml"), into=database)
    assert [each.code for each in report.problems] == ["source-moved"]
    assert rows(database, "SELECT source_path FROM founder_told") == [("g.yaml",)]


def test_a_blank_file_lacks_only_what_is_required(tmp_path: Path) -> None:
    """The blank file of founders is read as one, and told to lack an id and a name and nothing else."""
    path = write(tmp_path, "blank.yaml", blank_founders())
    told = {(each.code, each.path) for each in check([path], jobs=1, today=TODAY).problems}
    assert told == {("missing-required", "founders")}


def test_the_schema_for_editors_takes_the_sample(tmp_path: Path) -> None:
    """The JSON Schema of the file accepts the founders of the sample, and no founder without a name."""
    validator = Draft202012Validator(json_schema("founders"))
    sample = yaml.safe_load(shipped_text("sample_data", "founders.yaml"))
    assert list(validator.iter_errors(json.loads(json.dumps(sample, default=str)))) == []
    assert not validator.is_valid({"form": "soundbow founders 1", "founders": [{"id": "a"}]})
    assert not validator.is_valid({"form": "soundbow survey 1", "founders": [{"id": "a", "name": "A"}]})


def test_the_sample_founders_have_no_problem(tmp_path: Path) -> None:
    """The file of invented founders loads without a word."""
    path = write(tmp_path, "f.yaml", shipped_text("sample_data", "founders.yaml"))
    assert check([path], jobs=1, today=TODAY).problems == ()
