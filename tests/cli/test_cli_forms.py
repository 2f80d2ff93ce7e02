"""``soundbow form``, ``check``, ``load`` and ``restore``: a form's way into a registry and out again."""

import json
import shutil
from pathlib import Path

import pytest
from serving import CHECKOUT

from registry.cli.group import DONE, PROBLEMS, USAGE
from registry.cli.progress import draw
from registry.cli.restore import below
from registry.forms.blank import blank_form

SURVEYS = CHECKOUT / "sample_data" / "surveys"
MINSTER = ("vellhaven-minster-2004", "vellhaven-minster-2014", "vellhaven-minster-2025")


@pytest.fixture
def forms(tmp_path: Path) -> Path:
    """Give a folder with the three visits to the minster of the sample."""
    folder = tmp_path / "forms"
    folder.mkdir()
    for name in MINSTER:
        shutil.copy(SURVEYS / f"{name}.yaml", folder)
    return folder


@pytest.fixture
def registry(tmp_path: Path) -> Path:
    """Give the place of a registry that is not there yet."""
    return tmp_path / "bells.db"


def spoiled(form: Path) -> Path:
    """Write something into a form that cannot be."""
    text = form.read_text(encoding="utf-8")
    form.write_text(text.replace("material: bronze", "material: cheese", 1), encoding="utf-8")
    return form


def test_form_is_printed(soundbow):
    """Without a file to write, the blank form is printed, of the kind asked for."""
    assert soundbow("form").out.startswith("# yaml-language-server: $schema=survey.schema.json")
    document = soundbow("form", "--kind", "document")
    assert document.code == DONE
    assert "kind: document" in document.out


def test_form_has_an_entry_for_each_bell(soundbow):
    """As many entries for bells are written as asked for."""
    assert soundbow("form", "--bells", "5").out.count("strike_points:") == blank_form(bells=5).count(
        "strike_points:"
    )
    assert soundbow("form", "--bells", "0").code == USAGE


def test_form_is_written_with_its_schema(soundbow, tmp_path):
    """A form and its schema are written side by side, where the first line of the form looks for it."""
    form = tmp_path / "new" / "form.yaml"
    run = soundbow("form", "-o", form, "--schema")
    assert run.code == DONE
    first = form.read_text(encoding="utf-8").splitlines()[0]
    schema = form.parent / first.partition("$schema=")[2]
    assert json.loads(schema.read_text(encoding="utf-8"))["title"] == "soundbow survey 1"
    assert soundbow("form", "--schema").code == USAGE


def test_a_file_of_founders_comes_with_its_own_schema(soundbow, tmp_path):
    """Of kind founders the blank file is one of founders, with its schema beside it, and of no tower."""
    form = tmp_path / "founders.yaml"
    assert soundbow("form", "--kind", "founders", "-o", form, "--schema").code == DONE
    text = form.read_text(encoding="utf-8")
    assert "\nform: soundbow founders 1\n" in text
    schema = form.parent / text.splitlines()[0].partition("$schema=")[2]
    assert json.loads(schema.read_text(encoding="utf-8"))["title"] == "soundbow founders 1"
    assert soundbow("form", "--kind", "founders", "--tower", "north-gate").code == USAGE
    assert soundbow("check", form).code == PROBLEMS


def test_form_never_overwrites(soundbow, tmp_path):
    """A file that is there is left as it is, unless --force is given."""
    form = tmp_path / "form.yaml"
    form.write_text("half a day's work", encoding="utf-8")
    run = soundbow("form", "-o", form)
    assert run.code == USAGE
    assert "--force" in run.err
    assert form.read_text(encoding="utf-8") == "half a day's work"
    assert soundbow("form", "-o", form, "--force").code == DONE
    assert "soundbow survey 1" in form.read_text(encoding="utf-8")


def test_form_for_a_known_tower(soundbow, sample_registry):
    """A form for a known tower carries its bells' ids, and the last values as comments only."""
    words = ("form", "--tower", "vellhaven-minster", "--registry", sample_registry)
    form = soundbow(*words).out
    assert "id: vellhaven-minster-angelus" in form
    assert "vellhaven-minster-2025-05-06" in form
    filled = [line for line in form.splitlines() if "mouth_diameter_mm:" in line]
    assert filled
    assert all(not line.partition("#")[0].partition(":")[2].strip() for line in filled)
    assert soundbow("form", "--tower", "vellhaven-minster").code == USAGE
    unknown = soundbow("form", "--tower", "nowhere", "--registry", sample_registry)
    assert (unknown.code, "nowhere" in unknown.err) == (PROBLEMS, True)


def test_check_of_good_forms(soundbow, forms):
    """Good forms give no error, and exit code 0."""
    run = soundbow("check", forms)
    assert run.code == DONE
    assert "3 forms checked: 0 errors" in run.out


def test_check_tells_as_text_and_as_data(soundbow, forms):
    """An error is told with its line and gives exit code 1, as text and the same as JSON."""
    form = spoiled(forms / f"{MINSTER[0]}.yaml")
    text = soundbow("check", forms)
    data = soundbow("check", forms, "--format", "json")
    assert text.code == data.code == PROBLEMS
    (error,) = [problem for problem in data.data["problems"] if problem["level"] == "error"]
    assert error["code"] == "unknown-term"
    assert error["read"] == "cheese"
    assert f"{form}:{error['line']}:{error['column']}: error unknown-term  {error['path']}\n" in text.out
    assert data.data["counts"]["files"] == 3


def test_check_strictly(soundbow, tmp_path):
    """With --strict a warning is enough for exit code 1."""
    shutil.copy(SURVEYS / "marrewijk-town-hall-2024.yaml", tmp_path)  # its photo is not shipped
    assert soundbow("check", tmp_path).code == DONE
    assert soundbow("check", tmp_path, "--strict").code == PROBLEMS


def test_check_against_a_registry(soundbow, forms, sample_registry):
    """Held against a registry, an id that another form has there is told."""
    other = forms / "other.yaml"
    (forms / f"{MINSTER[1]}.yaml").rename(other)
    text = other.read_text(encoding="utf-8").replace("2014-09-16\n  kind", "2025-05-06\n  kind", 1)
    other.write_text(text, encoding="utf-8")
    assert soundbow("check", other).code == DONE
    run = soundbow("check", other, "--registry", sample_registry, "--format", "json")
    assert run.code == PROBLEMS
    assert "duplicate-survey" in {problem["code"] for problem in run.data["problems"]}


@pytest.mark.parametrize("words", [["check"], ["check", "--format", "xml", "a.yaml"], ["load"], ["restore"]])
def test_wrong_usage(soundbow, words, monkeypatch):
    """What is missing or unknown on the command line gives exit code 2."""
    monkeypatch.delenv("SOUNDBOW_REGISTRY", raising=False)
    assert soundbow(*words).code == USAGE


def test_check_of_what_is_not_there(soundbow, tmp_path):
    """A file that does not exist is a problem of the input, told like every other."""
    run = soundbow("check", tmp_path / "nothing.yaml")
    assert run.code == PROBLEMS
    assert "error file-missing" in run.out


def test_load_tells_what_it_did(soundbow, forms, registry):
    """Loading says what was loaded, a second time that nothing changed, and leaves the file as it was."""
    first = soundbow("load", forms, "--registry", registry)
    assert first.code == DONE
    assert "3 loaded" in first.out
    before = registry.read_bytes()
    second = soundbow("load", forms, "--registry", registry)
    assert second.code == DONE
    assert "as it was: 3 unchanged" in second.out
    assert registry.read_bytes() == before


def test_load_replaces_a_corrected_form(soundbow, forms, registry):
    """A corrected form replaces its rows and is named."""
    soundbow("load", forms, "--registry", registry)
    form = forms / f"{MINSTER[2]}.yaml"
    form.write_text(form.read_text(encoding="utf-8").replace("742.5 mm", "743 mm"), encoding="utf-8")
    run = soundbow("load", forms, "--registry", registry, "--format", "json")
    assert run.code == DONE
    assert run.data["replaced"] == [str(form)]
    assert run.data["unchanged"] == 2
    bell = soundbow("show", "vellhaven-minster-noon", "--registry", registry, "--format", "json").data[
        "current"
    ]
    assert bell["mouth_diameter_mm"] == 743


def test_load_leaves_out_what_is_wrong(soundbow, forms, registry):
    """A form with errors is left out and named, the others load, and the exit code says so."""
    form = spoiled(forms / f"{MINSTER[0]}.yaml")
    run = soundbow("load", forms, "--registry", registry)
    assert run.code == PROBLEMS
    assert "2 loaded, 1 left out" in run.out
    assert f"  left out: {form}\n" in run.out
    assert "error unknown-term" in run.out


def test_load_all_or_nothing(soundbow, forms, registry):
    """With --all-or-nothing one faulty form keeps all from loading, and no registry is made."""
    spoiled(forms / f"{MINSTER[0]}.yaml")
    run = soundbow("load", forms, "--registry", registry, "--all-or-nothing")
    assert run.code == PROBLEMS
    assert not registry.exists()


def test_load_names_a_form_that_is_gone(soundbow, forms, registry):
    """A form that was loaded and is no longer in its folder is named, and its rows are kept."""
    soundbow("load", forms, "--registry", registry)
    (forms / f"{MINSTER[0]}.yaml").unlink()
    run = soundbow("load", forms, "--registry", registry)
    assert "source-removed" in run.out
    assert soundbow("show", "vellhaven-minster-2004-05-25", "--registry", registry).code == DONE


def test_load_never_touches_another_file(soundbow, forms, tmp_path):
    """A file that is no registry is refused and left as it is."""
    other = tmp_path / "letters.txt"
    other.write_text("Dear founder, ...", encoding="utf-8")
    run = soundbow("load", forms, "--registry", other)
    assert run.code == PROBLEMS
    assert "not-a-registry" in run.err
    assert other.read_text(encoding="utf-8") == "Dear founder, ..."


def test_progress_is_for_people_who_watch(capfd):
    """The bar is drawn over itself, and wiped at the end."""
    draw(1, 4)
    draw(4, 4)
    said = capfd.readouterr()
    assert said.out == ""
    assert said.err.startswith("\r##########")
    assert "1 of 4 forms" in said.err
    assert said.err.endswith(" \r")


def test_restore_gives_each_form_byte_for_byte(soundbow, sample_registry, tmp_path):
    """All forms come back from the registry alone as they were, and files that are there are not replaced."""
    copies = tmp_path / "copies"
    run = soundbow("restore", "--all", "--registry", sample_registry, "-o", copies)
    assert run.code == DONE
    restored = sorted((copies / "surveys").iterdir())
    assert [form.name for form in restored] == sorted(form.name for form in SURVEYS.iterdir())
    for form in restored:
        assert form.read_bytes() == (SURVEYS / form.name).read_bytes()
    assert (copies / "vellmark.geojson").read_bytes() == (SURVEYS.parent / "vellmark.geojson").read_bytes()
    restored[0].write_text("changed since", encoding="utf-8")
    assert soundbow("restore", "--all", "--registry", sample_registry, "-o", copies).code == USAGE
    assert restored[0].read_text(encoding="utf-8") == "changed since"


def test_restore_one_form(soundbow, sample_registry, tmp_path):
    """One form is printed, or written to the file named."""
    words = ("restore", "vellhaven-minster-2025-05-06", "--registry", sample_registry)
    original = (SURVEYS / f"{MINSTER[2]}.yaml").read_bytes()
    assert soundbow(*words).out.encode() == original
    assert soundbow(*words, "-o", tmp_path / "form.yaml").code == DONE
    assert (tmp_path / "form.yaml").read_bytes() == original
    assert soundbow("restore", "nothing", "--registry", sample_registry).code == PROBLEMS
    assert soundbow(*words, "--all", "-o", tmp_path).code == USAGE


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("forms/a.yaml", "forms/a.yaml"),
        ("../../forms/a.yaml", "forms/a.yaml"),
        ("/srv/forms/a.yaml", "srv/forms/a.yaml"),
        ("D:/forms/a.yaml", "D/forms/a.yaml"),
    ],
)
def test_restored_files_stay_below_their_folder(path, expected):
    """Wherever a form was loaded from, its copy stays inside the folder it is restored into."""
    assert str(below(path)) == expected
