"""Good forms, spoiled at random: the command line always answers, and a registry is never half loaded."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from serving import CHECKOUT

from registry.cli.group import DONE, PROBLEMS

FORMS = sorted((CHECKOUT / "sample_data" / "surveys").glob("*.yaml"))
SOUND = CHECKOUT / "sample_data" / "surveys" / "kestrel-gate-2015.yaml"
"""A form that no mutation touches; it must load every time."""

NASTY = st.sampled_from(
    [
        "NO", "0123", "12:30", "1e3", "1.10", "=", "~", "null", "<<", "&a", "*a", "!!binary", "---", "...",
        "\t", "\r", "\r\n", "\u0085", "\u2028", "\ufeff", "\x00", "\x1b[31m", "\ud7ff", "e\u0301", "9" * 5000,
        "-", "- ", ": ", "#", "'", '"', "|", ">", "{", "}", "[", "]", ",", "%", "@", "`", "?", "NaN", ".inf",
        "1180 furlong", "-1", "2030-01-01", "2023-02-30", "../../x", "\\", "%s", "{0}", "'; drop table bell",
    ]
)  # fmt: skip
"""What has a meaning to someone, if not to a form."""

Change = tuple[str, float, float, str]

changes = st.lists(
    st.tuples(
        st.sampled_from(["insert", "replace", "delete", "double", "move", "bytes", "value"]),
        st.floats(0, 1, exclude_max=True),
        st.floats(0, 1, exclude_max=True),
        NASTY | st.text(max_size=12),
    ),
    min_size=1,
    max_size=4,
)


def mutated(data: bytes, change: Change) -> bytes:
    """Change a form at a place given as a share of its length."""
    kind, first, second, text = change
    new = text.encode("utf-8", "surrogatepass")
    at = int(first * len(data))
    if kind == "insert":
        return data[:at] + new + data[at:]
    if kind == "replace":
        return data[:at] + new + data[at + 1 + int(second * 20) :]
    if kind == "bytes":
        return data[:at] + bytes([int(second * 256)]) + data[at + 1 :]
    lines = data.splitlines(keepends=True) or [b""]
    line = int(first * len(lines))
    other = int(second * len(lines))
    if kind == "delete":
        del lines[line]
    elif kind == "double":
        lines.insert(other, lines[line])
    elif kind == "move":
        lines.insert(other, lines.pop(line))
    else:
        key, colon, _ = lines[line].partition(b": ")
        lines[line] = key + colon + new + b"\n"
    return b"".join(lines)


def contents(registry: Path) -> dict[str, bytes]:
    """Read what a registry holds, and make sure that it is whole and in order."""
    with closing(sqlite3.connect(f"file:{registry}?mode=ro", uri=True)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        return dict(connection.execute("SELECT path, text FROM source"))


@settings(
    max_examples=120,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(form=st.sampled_from(FORMS), spoil=changes)
def test_spoiled_forms(
    form: Path, spoil: list[Change], soundbow, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """A spoiled form loads whole or not at all, beside a sound one; nobody ever sees a traceback."""
    folder = tmp_path_factory.mktemp("spoiled")
    data = form.read_bytes()
    for change in spoil:
        data = mutated(data, change)
    (folder / "a-spoiled.yaml").write_bytes(data)
    (folder / "b-sound.yaml").write_bytes(SOUND.read_bytes())
    registry = folder / "bells.db"

    checked = soundbow("check", folder)
    loaded = soundbow("load", folder, "--registry", registry)
    for run in (checked, loaded):
        assert run.code in (DONE, PROBLEMS), run.err
        assert "Traceback" not in run.out + run.err
        assert "fault in the program" not in run.err
        assert not any(ord(sign) < 32 and sign != "\n" for sign in run.out), (
            "unseen characters are shown as such"
        )
    assert checked.code == loaded.code

    held = contents(registry)
    assert not list(folder.glob("bells.db-*"))
    if loaded.code == DONE:
        assert held == {"a-spoiled.yaml": data, "b-sound.yaml": SOUND.read_bytes()}
    else:
        # Only where the spoiled form passes for another text of the same survey can it be the one that stays.
        assert len(held) == 1
        assert set(held) <= {"a-spoiled.yaml", "b-sound.yaml"}
        assert held.get("a-spoiled.yaml", data) == data
    again = soundbow("load", folder, "--registry", registry)
    assert again.code == loaded.code
    assert contents(registry) == held
