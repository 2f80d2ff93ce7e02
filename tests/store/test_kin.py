"""The known bells of a registry: which bells speak, what they tell, and whom a new one touches."""

from datetime import date
from pathlib import Path

import pytest
from specimens import bell, logical_dump, rows, visit, write

from registry.intake import load

TODAY = date(2026, 1, 1)


def cast(
    bell_id: str,
    diameter_mm: float = 1000,
    strike_hz: float | None = 410,
    mass: str = "",
    *,
    founder: str = "Anders Invented",
    year: str = "1900",
) -> str:
    """Write a bell of bronze with what speaks for others."""
    sound = "" if strike_hz is None else f"sound: {{strike_hz: {strike_hz}}}\n"
    return bell(
        bell_id,
        f"identity: {{status: hanging, material: bronze, founder: {founder}, cast_date: '{year}'}}\n"
        f"dimensions: {{mouth_diameter_mm: {diameter_mm}{mass}}}\n{sound}",
    )


WEIGHED = ", mass_kg: 700, mass_basis: weighed, mass_tolerance_kg: 2"


def run(folder: Path, database: Path) -> None:
    """Load a folder on a fixed day."""
    report = load([folder], database, jobs=1, today=TODAY)
    assert not report.has_errors, report.problems


def estimate(database: Path, bell_id: str, quantity: str = "mass_kg") -> tuple[str, float, str]:
    """Give method, value and note of the first estimate of a bell."""
    (row,) = rows(
        database,
        "SELECT method, value, note FROM derived WHERE bell_id = ? AND quantity = ? AND rank = 1",
        bell_id,
        quantity,
    )
    return row


def test_known_bells(loaded) -> None:
    """A bell with size and note is known; its mass too if it was weighed alone."""
    database = loaded(
        visit(
            "oster",
            cast("a", mass=WEIGHED),
            cast("b", mass=", mass_kg: 700, mass_basis: weighed, mass_includes: [clapper]"),
            cast("c", mass=", mass_kg: 700, mass_basis: calculated"),
            cast("d", strike_hz=None),
            bell("e", "identity: {status: hanging}\ndimensions: {mouth_diameter_mm: 900}\n"),
        )
    )
    assert rows(database, "SELECT bell_id, mass_kg, mass_tolerance_kg FROM known_bell ORDER BY 1") == [
        ("a", 700.0, 2.0),
        ("b", None, None),
        ("c", None, None),
    ]


def test_where_it_comes_from(loaded) -> None:
    """Founder, tower and year are told; a date open by more than forty years gives no year."""
    database = loaded(
        visit("oster", cast("a", year="1898/1902"), cast("b", year="18XX"), cast("c", founder="''"))
    )
    assert rows(database, "SELECT bell_id, founder, tower_id, cast_year FROM known_bell ORDER BY 1") == [
        ("a", "Anders Invented", "oster-gate", 1900),
        ("b", "Anders Invented", "oster-gate", None),
        ("c", "", "oster-gate", 1900),
    ]


@pytest.mark.parametrize(
    ("sound", "cents"),
    [
        ("{strike_hz: 410}", 2.0),
        ("{note: G#4}", 49.2),
        ("{note: G#4, reference_hz: 440}", 45.0),
        ("{note: G#4, note_cents: -12, reference_hz: 440}", 3.0),
        ("{note: G#4, note_sixteenths: 2}", 20.2),
    ],
)
def test_how_far_a_note_is_trusted(loaded, sound, cents) -> None:
    """A measured frequency is trusted most, a note without deviation and reference least."""
    text = f"identity: {{material: bronze}}\ndimensions: {{mouth_diameter_mm: 1000}}\nsound: {sound}\n"
    database = loaded(visit("oster", bell("a", text)))
    ((told,),) = rows(database, "SELECT strike_tolerance_cents FROM known_bell")
    assert told == pytest.approx(cents, abs=0.1)


def test_how_far_a_size_is_trusted(loaded) -> None:
    """Half the range of the readings, or the tape's largest error, whichever is more."""
    sizes = "{mouth_diameter_mm: 1000, mouth_diameter_readings_mm: [996, 1004]}"
    text = f"identity: {{material: bronze}}\ndimensions: {sizes}\nsound: {{strike_hz: 410}}\n"
    form = visit("oster", bell("a", text))
    tape = "  not_inspected: []\n  instruments: [{kind: tape, tolerance_mm: 6}]\n"
    database = loaded(form, visit("wester", cast("b"), tower="wester").replace("  not_inspected: []\n", tape))
    assert rows(database, "SELECT bell_id, mouth_diameter_tolerance_mm FROM known_bell ORDER BY 1") == [
        ("a", 4.0),
        ("b", 6.0),
    ]


def test_sisters_in_one_form(loaded) -> None:
    """A weighed sister speaks for the bells of her tower, and not for herself."""
    database = loaded(visit("oster", cast("a", mass=WEIGHED), cast("b", 1200, 342)))
    method, _, note = estimate(database, "b")
    assert method == "size-strike-and-sisters"
    assert note.startswith("1 weighed bell spoke")
    assert estimate(database, "a")[0] == "size-strike-and-date"


def test_sisters_tell_a_note(loaded) -> None:
    """A bell without a note hears those of its founder."""
    database = loaded(visit("oster", cast("a"), cast("b", 1200, None)))
    method, value, _ = estimate(database, "b", "strike_hz")
    assert method == "size-and-sisters"
    assert value == pytest.approx(410.0 / 1.2, rel=0.02)


def test_a_new_weighing_reaches_every_bell(tmp_path) -> None:
    """A bell weighed later, in another tower, changes the estimates of bells that were there before."""
    folder, database = tmp_path / "forms", tmp_path / "bells.db"
    write(folder, "oster.yaml", visit("oster", cast("a"), cast("b", founder="Bruun Invented")))
    run(folder, database)
    before = estimate(database, "a"), estimate(database, "b")
    write(folder, "wester.yaml", visit("wester", cast("c", mass=WEIGHED), tower="wester"))
    run(folder, database)
    after = estimate(database, "a"), estimate(database, "b")
    assert [method for method, _, _ in after] == ["size-strike-and-founder", "size-strike-and-registry"]
    assert after[0][1] != before[0][1]
    assert after[1][1] != before[1][1]


def test_a_new_note_reaches_the_founders_bells(tmp_path) -> None:
    """A note heard later, in another tower, changes what is expected of the founder's bells alone."""
    folder, database = tmp_path / "forms", tmp_path / "bells.db"
    silent = cast("a", strike_hz=None), cast("b", strike_hz=None, founder="Bruun Invented")
    write(folder, "oster.yaml", visit("oster", *silent))
    run(folder, database)
    write(folder, "wester.yaml", visit("wester", cast("c", founder="ANDERS INVENTED"), tower="wester"))
    run(folder, database)
    assert estimate(database, "a", "strike_hz")[0] == "size-and-founder"
    assert estimate(database, "b", "strike_hz")[0] == "size"


@pytest.mark.parametrize("order", [("wester", "oster", "norder"), ("norder", "oster", "wester")])
def test_the_order_of_loads_does_not_matter(tmp_path, order) -> None:
    """Form by form, corrected and taken out again, a registry is that of a single load."""
    forms = {
        "oster": visit("oster", cast("a"), cast("b", 1200, None), cast("u", founder="''")),
        "wester": visit("wester", cast("c", mass=WEIGHED), cast("v", 900, founder="''"), tower="wester"),
        "norder": visit("norder", cast("d", 1100, 372, founder="Bruun Invented"), tower="norder"),
    }
    grown, whole = tmp_path / "grown", tmp_path / "whole"
    write(grown, "extra.yaml", visit("extra", cast("x", 800, mass=WEIGHED), tower="suder"))
    for name in order:
        write(grown, f"{name}.yaml", forms[name].replace("410", "405"))
        run(grown, tmp_path / "grown.db")
    for name in order:
        write(grown, f"{name}.yaml", forms[name])
        run(grown, tmp_path / "grown.db")
    for name in (*forms, "extra"):
        text = (grown / f"{name}.yaml").read_text()
        write(whole, f"{name}.yaml", text)
    run(whole, tmp_path / "whole.db")
    one, other = (logical_dump(tmp_path / f"{name}.db") for name in ("grown", "whole"))
    assert one["known_bell"] == other["known_bell"]
    assert one["derived"] == other["derived"]
    assert one["bell_current"] == other["bell_current"]


def test_a_measured_section_weighs(loaded) -> None:
    """The points of a section give the mass that leaves least open."""
    points = ", ".join(
        f"{{height_mm: {height}, diameter_mm: {diameter}, thickness_mm: {wall}}}"
        for height, diameter, wall in (
            (0, 1000, 6), (35, 965, 60), (70, 930, 76), (130, 850, 55), (250, 720, 36),
            (400, 620, 30), (600, 550, 29), (780, 520, 30),
        )
    )  # fmt: skip
    text = (
        "identity: {status: hanging, material: bronze}\ncrown: {kind: canons}\n"
        f"dimensions: {{mouth_diameter_mm: 1000, head_thickness_mm: 34, profile: [{points}]}}\n"
    )
    database = loaded(visit("oster", bell("a", text)))
    method, value, note = estimate(database, "a")
    assert method == "section"
    assert 500 < value < 800
    assert "3 % added for the crown" in note
    assert rows(database, "SELECT count(*), max(height_mm) FROM profile_point") == [(8, 780.0)]
