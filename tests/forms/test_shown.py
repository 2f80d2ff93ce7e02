"""Text made fit to be shown: nothing hidden, not too long, and paths that count from one."""

import pytest

from registry.forms.shown import LONGEST, path_of, shown


@pytest.mark.parametrize(
    ("text", "visible"),
    [
        ("", ""),
        ("plain 1180 mm", "plain 1180 mm"),
        ("Größe 大鐘 ꝑ \ue8bf", "Größe 大鐘 ꝑ \ue8bf"),
        ("a\nb\tc", "a\\nb\\tc"),
        ("\x1b[31mred", "\\x1b[31mred"),
        ("1\xa0180", "1\\xa0180"),
        ("abc\u202edef", "abc\\u202edef"),
        ("\U000e0001x", "\\U000e0001x"),
        ("\udc80", "\\udc80"),
    ],
)
def test_shown(text, visible) -> None:
    """What leaves no mark is written out; letters of any script, private ones too, stay."""
    assert shown(text) == visible
    assert shown(visible) == visible


def test_long_texts_are_cut() -> None:
    """A long text is cut and says so, hidden characters or not, and cutting again changes nothing."""
    for text in ("x" * 5000, "\x00" * 5000, "word " * 1000):
        cut = shown(text)
        assert cut.endswith("…")
        assert len(cut) <= 2 * LONGEST
        assert shown(cut, 2 * LONGEST) == cut


@pytest.mark.parametrize(
    ("steps", "field", "path"),
    [((), "", ""), ((), "form", "form"), (("bells", 1, "sound"), "strike_hz", "bells[2].sound.strike_hz"),
     (("bells", 0), "", "bells[1]"), (("a", "b"), "", "a.b")],
)  # fmt: skip
def test_paths_count_from_one(steps, field, path) -> None:
    """The second item of a list is number 2 for people."""
    assert path_of(steps, field) == path
