"""One value by the kind of its field: what it gives, what is refused, and what is advised instead."""

import pytest

from registry.forms.values import FAULTS, reader_of
from registry.model.fields import (
    Coordinate,
    Country,
    Day,
    Edtf,
    Identifier,
    Language,
    Note,
    Quantity,
    RelativePath,
    Script,
    Term,
    Text,
    Whole,
)

MM = Quantity("mm", 50, 6700, (150, 3600))
KG = Quantity("kg", 1, 250000, (5, 30000))
YES_NO = Term("yes_no_unknown")


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        # What YAML itself would have taken for something else
        (Text(), "NO", "NO"),
        (Text(), "0123", "0123"),
        (Text(), "12:30", "12:30"),
        (Text(), "1.10", "1.10"),
        (Text(), "=", "="),
        (YES_NO, "NO", "no"),
        (YES_NO, "Yes", "yes"),
        (MM, "1e3", 1000.0),
        (MM, "1180.10", 1180.1),
        (Day(), "2024-05-14", "2024-05-14"),
        (Edtf(), "1643", "1643"),
        # Quantities in other units
        (MM, "1180 mm", 1180.0),
        (MM, "1180mm", 1180.0),
        (MM, "118 cm", 1180.0),
        (MM, "46 1/2 in", 1181.1),
        (KG, "12-3-14", 1442 * 0.45359237),
        (KG, "0.85 t", 850.0),
        (Quantity("deg", 0, 360), "90°", 90.0),
        (Quantity("deg", 0, 360), "90 °", 90.0),
        (Quantity("number", -10, 10), "-0", 0.0),
        (Whole(0, 3), "3", 3),
        (Whole(0, 3), "+3", 3),
        (Whole(0, 3), "-0", 0),
        # Texts are composed
        (Text(), "Gro\u0308ße", "Größe"),
        (Text(5), "a\u0308" * 5, "ä" * 5),
        (Text(block=True), "AVE\n\tMARIA", "AVE\n\tMARIA"),
        # Codes in their proper letters
        (Country(), "at", "AT"),
        (Script(), "latf", "Latf"),
        (Language(), "DE-latf", "de-Latf"),
        (Term("wartime_class"), "B", "b"),
        (Identifier(), "upper-gate-3", "upper-gate-3"),
        (Note(), "cis'", "cis'"),
        (Coordinate("longitude"), "7° 30' W", -7.5),
        (RelativePath(), "photos/./hour//bell.jpg", "photos/hour/bell.jpg"),
        (RelativePath(), "Größe 1..2.jpg", "Größe 1..2.jpg"),
    ],
)
def test_read(kind, text, value) -> None:
    """The kind of the field alone says what a text means."""
    read = reader_of(kind)(text)
    assert read == pytest.approx(value, rel=1e-9) if isinstance(value, float) else read == value
    assert type(read) is type(value)


@pytest.mark.parametrize(
    ("kind", "text", "code", "advice"),
    [
        (MM, "11800", "out-of-range", "1180 mm"),
        (MM, "1.18", "out-of-range", "1.18 m"),
        (MM, "46.5", "out-of-range", "46.5 cm or 46.5 in"),
        (MM, "20000", "out-of-range", "2000 mm"),
        (MM, "150000", "out-of-range", "1500 mm"),
        (MM, "1200000", "out-of-range", "1200 mm"),
        (MM, "9000", "out-of-range", "900 mm"),
        (KG, "0.0009", "out-of-range", "check the reading"),
        (KG, "0.9", "out-of-range", "0.9 t or 0.9 cwt"),
        (MM, "1180 m", "out-of-range", "1180 mm"),
        (MM, "999999999 km", "out-of-range", "check the reading"),
        (MM, "9" * 5000, "not-a-number", ""),
        (MM, "1,180", "ambiguous-number", "1180"),
        (MM, "12:30", "not-a-number", ""),
        (MM, "=", "not-a-number", ""),
        (MM, "NaN", "not-a-number", ""),
        (MM, "1180 kg", "unknown-unit", ""),
        (MM, "01180", "ambiguous-number", ""),
        (KG, "0.5", "out-of-range", "0.5 t"),
        (Quantity("c", -50, 60, (-25, 45)), "68", "out-of-range", "68 °F"),
        (Whole(0, 3), "4", "out-of-range", ""),
        (Whole(0, 3), "9" * 5000, "out-of-range", ""),
        (Whole(0, 3), "1.0", "not-whole", ""),
        (Whole(0, 3), "02", "ambiguous-number", "write 2"),
        (Whole(0, 3), "0123456789", "out-of-range", ""),
        (Whole(0, 3), "1e0", "not-a-number", ""),
        (Whole(0, 3), "two", "not-a-number", ""),
        (Whole(0, 3), "²", "not-a-number", ""),
        (Whole(0, 3), "٣", "not-a-number", ""),
        (Whole(0, 3), "--1", "not-a-number", ""),
        (YES_NO, "true", "unknown-term", "write yes"),
        (YES_NO, "off", "unknown-term", "write no"),
        (Term("bell_status"), "hangs", "unknown-term", "write hanging"),
        (Term("bell_status"), "hanging in its tower", "unknown-term", "write hanging"),
        (Term("crown_kind"), "removed canons", "unknown-term", "write canons-removed"),
        (Term("bell_status"), "zzz", "unknown-term", "choose one"),
        (Text(5), "abcdefg", "text-too-long", "by 2"),
        (Text(), "a\x07b", "control-character", ""),
        (Text(), "a\u202eb", "control-character", ""),
        (Identifier(), "St. Märy 1", "bad-identifier", "write st-mary-1"),
        (Identifier(), "a--b", "bad-identifier", "write a-b"),
        (Identifier(), "n/a", "bad-identifier", ""),
        (Identifier(), "none", "bad-identifier", ""),
        (Identifier(), "大鐘", "bad-identifier", "such as"),
        (Identifier(), "x" * 81, "bad-identifier", "write xxx"),
        (Day(), "14.5.2024", "bad-date", "write 2024-05-14"),
        (Day(), "2024", "bad-date", "e.g."),
        (Day(), "2024-02-30", "impossible-date", ""),
        (Edtf(), "ca. 1643", "bad-date", "write 1643~"),
        (Note(), "c2", "bad-note", "C5"),
        (Language(), "german", "bad-language", "write de"),
        (Script(), "Fraktur", "bad-language", "write Latf"),
        (Country(), "UK", "bad-country", "write GB"),
        (Country(), "OO", "bad-country", "look"),
        (Coordinate("latitude"), "45,9", "bad-coordinate", "point"),
        (Coordinate("latitude"), "95", "bad-coordinate", "between"),
    ],
)
def test_refused(kind, text, code, advice) -> None:
    """What is no value of the field is refused: with a code, what belongs there, what may have been meant."""
    with pytest.raises(FAULTS) as refused:
        reader_of(kind)(text)
    assert refused.value.code == code
    assert refused.value.expected
    assert advice in refused.value.remedy


@pytest.mark.parametrize(
    "path",
    ["../x.jpg", "a/../../x.jpg", "/x.jpg", "C:/x.jpg", "c:x.jpg", "a\\b.jpg", "\\\\host\\x", "file:///x",
     "~/x.jpg", "https://example.org/x.jpg", "photos/", "photos/.", ".",
     "..", "a\nb.jpg", "a\x00b", "x" * 301],
)  # fmt: skip
def test_paths_stay_in_their_folder(path) -> None:
    """A path that is absolute, leads out of the folder, or means something else elsewhere is refused."""
    with pytest.raises(FAULTS) as refused:
        reader_of(RelativePath())(path)
    assert refused.value.code == "bad-path"


def test_kinds_without_parameters_are_not_confused() -> None:
    """Each kind has its own reader, although two kinds without parameters are equal as tuples."""
    assert Country() == Identifier()
    assert reader_of(Country())("at") == "AT"
    assert reader_of(Identifier())("at") == "at"
