"""Whatever the bytes, the check gives a typed survey or problems at true places, and never fails itself."""

import re
import unicodedata
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from registry.forms.across import check_across, footprint
from registry.forms.check import Checked, check_bytes
from registry.forms.report import as_json, as_text
from registry.model.survey import ReadSurvey
from registry.problems import CATALOGUE, Level

SAMPLE = Path(__file__).resolve().parents[2] / "sample_data"
TODAY = date(2026, 1, 1)
FORMS = [path.read_bytes() for path in sorted((SAMPLE / "surveys").glob("*.yaml"))[::6]]
FAULTY = [path.read_bytes() for path in sorted((SAMPLE / "faulty").glob("*.yaml"))]

few = settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))

ODD = [
    *(
        "null",
        "~",
        "[]",
        "{}",
        "[",
        "}",
        "- ",
        ": ",
        "#",
        "'",
        '"',
        "|",
        ">",
        "&a ",
        "*a",
        "!t ",
        "<<",
        "---",
    ),
    *(
        "\t",
        "\r",
        "\x00",
        "\x85",
        "\u2028",
        "\ufeff",
        "\ud7ff",
        "🔔",
        "é",
        "e\u0301",
        "\u202e",
        "%",
        "@",
        "`",
    ),
    *("NO", "0123", "12:30", "1e3", "1e999", "-0", ".5", "1.10", "=", "inf", "nan", "9" * 400, "x" * 9000),
    *("2024-02-30", "9999-12-31", "-0001", "Y170000002", "[1480,1483]", "../1700", "2204", "0000-00-00"),
    *("46 1/2 in", "12-3-14", "1/0 in", "1180 mm", "0 mm", "-5 kg", "C#4", "h'", "/etc/passwd", "../x"),
]


def line_lengths(data: bytes) -> list[int]:
    """Count the characters of each line as an editor shows them."""
    text = data.removeprefix(b"\xef\xbb\xbf").decode("utf-8", errors="replace")
    return [len(line) for line in re.split("\r\n|\r|\n", text)]


def is_visible(text: str) -> bool:
    """Say whether a text holds nothing that leaves no mark on the page."""
    return not any(unicodedata.category(one) in ("Cc", "Cf", "Cn", "Cs", "Zl", "Zp") for one in text)


def look_at(data: bytes) -> Checked:
    """Check some bytes and make sure that everything said of them holds together."""
    checked = check_bytes(data, "form.yaml", today=TODAY)
    errors = [problem for problem in checked.problems if problem.level is Level.ERROR]
    assert (checked.read is None) == bool(errors)
    places = [(problem.line, problem.column) for problem in checked.problems]
    assert places == sorted(places)
    lengths = line_lengths(data)
    for problem in checked.problems:
        assert problem.code in CATALOGUE
        assert problem.file == "form.yaml"
        assert problem.expected
        assert problem.remedy
        assert is_visible(problem.read)
        assert is_visible(problem.path)
        if problem.line:
            assert 1 <= problem.line <= len(lengths) + 1
            assert 1 <= problem.column <= [*lengths, 0][problem.line - 1] + 1
        else:
            assert problem.column == 0
    assert all(is_visible(line) for line in as_text(checked.problems, files_checked=1).split("\n"))
    as_json(checked.problems, files_checked=1).encode()
    if checked.read is not None:
        assert isinstance(checked.read, ReadSurvey)
        check_across([footprint(checked.read, "a")], [footprint(checked.read, "b")])
    return checked


@pytest.mark.parametrize("data", FAULTY, ids=range(len(FAULTY)))
def test_faulty_forms_hold_together(data) -> None:
    """What is said of a faulty form stands at places that the file has."""
    look_at(data)


@few
@given(st.binary(max_size=400))
def test_any_bytes(data) -> None:
    """Bytes without any meaning give problems, not a traceback."""
    assert look_at(data).read is None


@few
@given(st.text(max_size=400))
def test_any_text(text) -> None:
    """Text without any meaning gives problems, not a traceback."""
    assert look_at(text.encode("utf-8", errors="surrogatepass")).read is None


@few
@given(st.text(alphabet="ab :-[]{}#&*!|>'\"%@`\n\t,?<~0.\\", max_size=120))
def test_any_signs_of_yaml(text) -> None:
    """The signs of YAML in any order, within a form, give problems, not a traceback."""
    look_at(("form: soundbow survey 1\nsurvey:\n  remarks: " + text).encode())


@few
@given(st.sampled_from(FORMS), st.data())
def test_bytes_changed(form, data) -> None:
    """A good form with some bytes changed is still read, or reported."""
    changed = bytearray(form)
    for _ in range(data.draw(st.integers(1, 6))):
        place = data.draw(st.integers(0, len(changed) - 1))
        changed[place] = data.draw(st.integers(0, 255))
    look_at(bytes(changed))


@few
@given(st.sampled_from(FORMS), st.data())
def test_lines_changed(form, data) -> None:
    """A good form with lines left out, doubled, exchanged or moved in is still read, or reported."""
    lines = form.splitlines(keepends=True)
    for _ in range(data.draw(st.integers(1, 4))):
        a = data.draw(st.integers(0, len(lines) - 1))
        b = data.draw(st.integers(0, len(lines) - 1))
        match data.draw(st.sampled_from(["drop", "double", "exchange", "indent", "outdent"])):
            case "drop" if len(lines) > 1:
                del lines[a]
            case "double":
                lines.insert(b, lines[a])
            case "exchange":
                lines[a], lines[b] = lines[b], lines[a]
            case "indent":
                lines[a] = b"  " + lines[a]
            case _:
                lines[a] = lines[a].removeprefix(b" ")
    look_at(b"".join(lines))


@few
@given(st.sampled_from(FORMS), st.data())
def test_values_changed(form, data) -> None:
    """A good form with values replaced by other values, or by odd ones, is still read, or reported."""
    text = form.decode()
    values = [match.span(1) for match in re.finditer(r"[:\[,-] +([^\s{}\[\],#|][^\n{}\[\],#]*)", text)]
    for _ in range(data.draw(st.integers(1, 5))):
        start, end = data.draw(st.sampled_from(values))
        if data.draw(st.booleans()):
            other = data.draw(st.sampled_from(values))
            new = text[other[0] : other[1]]
        else:
            new = data.draw(st.sampled_from(ODD))
        text = text[:start] + new + text[min(end, len(text)) :]
    look_at(text.encode())


@few
@given(st.sampled_from(FORMS), st.integers(0, 100_000))
def test_cut_short(form, length) -> None:
    """A form that breaks off anywhere is still read, or reported."""
    look_at(form[: length % len(form)])
