"""The dates on a bell are held against the date entered: a misfit is a warning, and nothing is decided."""

from datetime import date
from pathlib import Path

import pytest
from specimens import bell, visit, write

from registry.intake import check, load

TODAY = date(2026, 1, 1)


def warned(folder: Path, identity: str, inscriptions: str = "") -> list[str]:
    """Check a form with one bell, and give the codes that concern its dates."""
    sections = f"identity: {{{identity}}}\ndimensions: {{mouth_diameter_mm: 1180}}\n"
    if inscriptions:
        sections += f"inscriptions: [{inscriptions}]\n"
    write(folder, "form.yaml", visit("oster-2020", bell("oster-great", sections)))
    codes = [problem.code for problem in check([folder], jobs=1, today=TODAY).problems]
    assert not set(codes) - {
        "cast-reading-against-date",
        "inscription-against-date",
        "cast-text-against-date",
    }
    return codes


@pytest.mark.parametrize(
    ("identity", "expected"),
    [
        ("cast_text: m cccc lxxxx iii, cast_date: 1493", []),
        ("cast_text: m cccc lxxxx iii, cast_date: 149X", []),
        ("cast_text: m cccc lxxxx iii", []),
        ("cast_text: m cccc lxxxx iii, cast_date: 1439", ["cast-reading-against-date"]),
        ("cast_text: lxxx iii, cast_date: 1583", []),
        ("cast_text: old and worn, cast_date: 1583", []),
        ("cast_text: MCCCCL, cast_date: 1451", ["cast-reading-against-date"]),
        ("cast_text: MCCCCL, cast_date: 1451, cast_year_begins: annunciation", []),
        ("cast_text: MCCCCL, cast_date: 1449, cast_year_begins: annunciation", ["cast-reading-against-date"]),
        ("cast_text: henrICVs Ieffreys keneLMo DeVoVIt, cast_date: 1669", ["cast-reading-against-date"]),
        ("cast_text: SVRGE O IEHOVA ATQVE DISPERGE, cast_date: 1700", []),
        ("cast_text: ANNO 1634, cast_date: 1643", ["cast-text-against-date"]),
    ],
)
def test_the_date_as_cast(tmp_path, identity, expected):
    """The date entered is one of the readings of the words; sums that nothing marks never count."""
    assert warned(tmp_path, identity) == expected


CAST = "{number: 1, place: waist, transcription: ME FECIT ANNO MDCCLIII}"


@pytest.mark.parametrize(
    ("identity", "inscriptions", "expected"),
    [
        ("cast_date: 1753", CAST, []),
        ("cast_date: 1735", CAST, ["inscription-against-date"]),
        ("cast_date: 1735, cast_text: MDCCXXXV", CAST, []),
        ("cast_date: 1735", CAST.replace("place: waist", "place: waist, technique: engraved"), []),
        ("cast_date: 1735", f"{CAST}, {{number: 2, place: shoulder, transcription: ANNO 1735}}", []),
        ("cast_date: 1735", CAST.replace("ME FECIT ANNO MDCCLIII", "O REX GLORIE VENI CVM PACE"), []),
    ],
)
def test_inscriptions(tmp_path, identity, inscriptions, expected):
    """One of the years cast on the bell is the date entered; what was added later never counts."""
    assert warned(tmp_path, identity, inscriptions) == expected


def test_a_load_warns_too_and_loads(tmp_path):
    """A load tells the same warning and loads the form: the surveyor says which of the two is right."""
    identity = "identity: {cast_text: m cccc lxxxx iii, cast_date: 1439}"
    sections = f"{identity}\ndimensions: {{mouth_diameter_mm: 1180}}\n"
    form = write(tmp_path, "form.yaml", visit("oster-2020", bell("oster-great", sections)))
    report = load([form], tmp_path / "bells.db", jobs=1, today=TODAY)
    assert [problem.code for problem in report.problems] == ["cast-reading-against-date"]
    assert len(report.loaded) == 1
