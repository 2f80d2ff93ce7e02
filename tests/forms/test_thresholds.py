"""The bands of the rules: each with its source, each used; the words that rules go by still in the lists."""

import ast
import re
from pathlib import Path

import pytest

from registry.forms import (
    across,
    footprints,
    rules_clapper,
    rules_condition,
    rules_entries,
    rules_history,
    rules_sizes,
)
from registry.forms.thresholds import Band, band, bands
from registry.model.bell import Dimensions
from registry.model.fields import section_fields
from registry.model.survey import BellEntry
from registry.model.vocabulary import vocabulary

FORMS = Path(across.__file__).parent


def words_in_rules() -> set[str]:
    """Collect every text in the modules of the rules, the pieces of formatted ones joined by *."""
    found = set()
    for path in (*FORMS.glob("rules_*.py"), FORMS / "across.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
            elif isinstance(node, ast.JoinedStr):
                found.add("".join(one.value if isinstance(one, ast.Constant) else "*" for one in node.values))
    return found


def test_bands_used_are_there_and_all_are_used() -> None:
    """Each band of the file is used by a rule, by its name or by the end of it."""
    words = words_in_rules()
    laws = {f"{family}{size}-{law}" for family in ("bronze", "steel") for size in ("", "-small")
            for law in ("mass-to-cube", "strike-times-diameter") if law in words}  # fmt: skip
    assert set(bands()) - {"steel-small-mass-to-cube"} <= words | laws


@pytest.mark.parametrize("name", bands())
def test_band(name) -> None:
    """A band has an end that limits, its ends in order, and says what is compared and what it rests on."""
    one = band(name)
    assert one.low < one.high
    assert one.low > -1e9 or one.high < 1e9
    assert len(one.what) > 10
    assert re.search(r"[0-9]{4}|definition|geometry|common practice, no source", one.source)


def test_band_holds_its_ends() -> None:
    """The ends of a band belong to it."""
    one = Band(1.0, 2.0, "", "")
    assert [one.holds(value) for value in (0.99, 1.0, 1.5, 2.0, 2.01)] == [False, True, True, True, False]


def test_unknown_band() -> None:
    """A band that is not in the file is an error, not a rule that never speaks."""
    with pytest.raises(KeyError):
        band("no-such-band")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("component", rules_entries.OF_ONE_BELL),
        ("component", {one for one, _ in rules_condition.PART_OF.values() if one}),
        ("part", set(rules_condition.PART_OF)),
        ("material", rules_sizes.BRONZES | rules_sizes.STEELS),
        ("mass_part", rules_sizes.ON_THE_SCALE),
        ("presence", rules_clapper.NOT_THERE),
        ("ringing_style", rules_clapper.AT_REST | set(rules_clapper.CLAPPER_BANDS) | {"silent"}),
        ("crack_position", rules_condition.ABOVE_THE_SHOULDER | rules_condition.CROWN_CRACKS),
        ("crack_repair", rules_condition.MENDED),
        ("bell_status", rules_history.OUT_OF_REACH | footprints.GONE),
        ("event_kind", rules_history.CASTING | footprints.ARRIVALS),
        ("instrument_kind", footprints.MEASURING),
        ("survey_kind", {"visit", "document"}),
        ("crack_state", {"none", "suspected", "confirmed"}),
        ("crack_side", {"through"}),
        ("protection", {"protected", "pending"}),
        ("partial", {"nominal"}),
        ("strike_use", {"in-use"}),
    ],
)
def test_words_the_rules_go_by_are_in_the_lists(name, words) -> None:
    """A word that a rule looks for is one that the field can hold."""
    assert words <= set(vocabulary(name).terms)


def test_measured_fields_are_fields() -> None:
    """The fields that count as measured are fields of their sections."""
    sections = {field.name: field.section for field in section_fields(BellEntry)}
    for name, fields in rules_entries.MEASURED.items():
        assert set(fields) <= set(sections[name]._fields)
    assert "mass_kg" in Dimensions._fields
