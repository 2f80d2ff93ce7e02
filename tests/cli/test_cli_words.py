"""Words asked for on the command line: what answers is shown in the text of the bell."""

import json
from pathlib import Path


def test_what_answers_is_shown_below_the_bells(soundbow, sample_registry: Path) -> None:
    """Each inscription that answers follows the table, what answers between angle quotes."""
    ended = soundbow("find", "rex", "glorie", "--registry", sample_registry)
    assert ended.code == 0
    assert "kestrel-gate-hour, shoulder: + ẸCAP · MVC · INEV · »EIROLG · XER« · O" in ended.out
    assert "»" not in soundbow("find", "--century", "15", "--registry", sample_registry).out


def test_json_tells_where_the_words_stand(soundbow, sample_registry: Path) -> None:
    """Hits are text and places in it, by bell."""
    told = json.loads(soundbow("find", "dñs", "--registry", sample_registry, "--format", "json").out)
    ((bell_id, (hit,)),) = told["hits"].items()
    assert bell_id == told["bells" if "bells" in told else "rows"][0]["id"]
    assert [hit["text"][begin:end] for begin, end in hit["marks"]] == ["DOMINVS"]
    told = json.loads(soundbow("find", "--registry", sample_registry, "--format", "json").out)
    assert told["hits"] == {}


def test_the_very_letters_and_the_formulas(soundbow, sample_registry: Path) -> None:
    """--exact keeps case, --formula takes ids and names them all where one is wrong."""
    assert "3 bells" in soundbow("find", "o rex glorie", "--registry", sample_registry).out
    found = soundbow("find", "o rex glorie", "--exact", "--registry", sample_registry)
    assert "»o rex glorie« criste" in found.out
    found = soundbow("find", "O REX GLORIE", "--exact", "--registry", sample_registry)
    assert "»EIROLG · XER · O«" in found.out
    assert "\n1 bell\n" in found.out
    found = soundbow("find", "--formula", "o-rex-gloriae", "--registry", sample_registry)
    assert "3 bells" in found.out
    wrong = soundbow("find", "--formula", "nothing", "--registry", sample_registry)
    assert wrong.code == 2
    assert "verbum-domini" in wrong.err


def test_a_bracket_without_partner_is_told(soundbow, tmp_path: Path) -> None:
    """The check names the sign and where it stands, and the form still loads."""
    form = tmp_path / "form.yaml"
    faulty = Path(__file__).resolve().parents[2] / "sample_data" / "faulty" / "leiden-signs.yaml"
    form.write_bytes(faulty.read_bytes())
    ended = soundbow("check", form)
    assert ended.code == 0
    assert "leiden-sign-alone" in ended.out
    assert "[ at character 6: AVE M[ARIA" in ended.out
