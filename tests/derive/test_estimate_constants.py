"""The constants of the estimates: each with its source, and none but what the published bells give."""

import importlib
from pathlib import Path

import pytest
from published import published

from registry.derive.constants import constants
from registry.derive.law import law_of
from registry.model.vocabulary import vocabulary

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"
SECTIONS = (
    "similarity",
    "kinship",
    "section",
    "readings",
    "design",
    "profile_class",
    "ring",
    "temperature",
    "strike_from_nominal",
    "partials",
    "wear",
)


@pytest.fixture(scope="module")
def fitted():
    """Fit the law to all published rows, as the benchmark does."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(BENCHMARKS))
        fitting = importlib.import_module("fitting")
    law = fitting.fit(fitting.published_rows())
    return fitting.constants_of(law), fitting.constants_of(law_of("bronze"))


@pytest.mark.parametrize(
    "name",
    [
        "mass_factor",
        "pitch_factor",
        "great_bells.slope",
        "medium_pitch_factor",
        "small_bells.onset_m",
        "carillon.onset_m",
        "casting_dates to 1550",
        "casting_dates to 1850",
        "casting_dates to 1945",
        "casting_dates to 9999",
        "mass_scatter",
        "undated_scatter",
        "pitch_scatter",
        "size_scatter",
    ],
)
def test_shipped_constants_are_the_fitted_ones(fitted, name):
    """The shipped constants are those of the benchmark's fit to all rows, to 1 %."""
    from_rows, shipped = fitted
    assert shipped[name] == pytest.approx(from_rows[name], rel=0.01)


@pytest.mark.parametrize("section", SECTIONS)
def test_section_has_version_and_source(section):
    """Every section has a version, so that stored values can become stale, and a source."""
    assert constants(section)["version"] >= 1
    assert constants(section)["source"]


def test_groups_of_constants_have_sources():
    """Every material, kind of bell, class and band stands with its source."""
    similarity, wear = constants("similarity"), constants("wear")
    groups = [
        *similarity["materials"].values(),
        similarity["small_bells"],
        similarity["carillon"],
        similarity["profile_classes"],
        *wear["bands"].values(),
    ]
    assert all(group["source"] for group in groups)


def test_words_are_those_of_the_vocabularies():
    """Materials, classes and partials of the constants are words of the form."""
    similarity = constants("similarity")
    assert similarity["materials"].keys() <= vocabulary("material").terms.keys()
    assert similarity["profile_classes"]["half_semitones"].keys() <= vocabulary("profile_class").terms.keys()
    assert constants("partials")["ratios"].keys() == vocabulary("partial").terms.keys()


@pytest.mark.parametrize(
    ("table", "rows"),
    [
        ("published_bells.csv", 96),
        ("foundry_tables.csv", 66),
        ("partials.csv", 107),
        ("steel_and_iron.csv", 4),
    ],
)
def test_tables_are_whole_and_cited(table, rows):
    """Every row of a published table names its source."""
    lines = published(table)
    assert len(lines) == rows
    assert all(line.get("source") or line.get("source_url") for line in lines)
