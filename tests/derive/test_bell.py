"""All values of one bell: each from the facts it needs, from one survey where they come from one."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sections import invented_bell

from registry.derive.bell import derive_bell
from registry.derive.inputs import range_of
from registry.derive.mass import mass_estimates
from registry.derive.section import section_mass
from registry.derive.size_and_note import kindred_of
from registry.derive.strike import strike_estimate
from registry.derive.wear import soundbow_loss
from registry.model.bell import ProfilePoint
from registry.model.bell_facts import (
    BellFacts,
    Computed,
    DatedText,
    HeardSound,
    MeasuredSection,
    StruckPoint,
    Told,
)
from registry.model.known_bell import KnownBell, Tolerances
from registry.model.vocabulary import vocabulary


def of(computed: list[Computed], quantity: str) -> list[Computed]:
    """Give the computed values of one quantity."""
    return [each for each in computed if each.derived.quantity == quantity]


def test_nothing_known_gives_nothing() -> None:
    """A bell of which nothing is known has no computed value."""
    assert derive_bell(BellFacts("b")) == []


def test_mass_and_note_come_with_their_survey() -> None:
    """Mass and note are those of their modules, best method first; inputs of two surveys name none."""
    size, bronze, strike = Told(1180.0, "s1"), Told("bronze", "s1"), Told(345.0, "s2")
    computed = derive_bell(BellFacts("b", material=bronze, mouth_diameter_mm=size, strike_hz=strike))
    masses = of(computed, "mass_kg")
    assert [each.derived for each in masses] == list(mass_estimates(1180.0, 345.0, None, "bronze"))
    assert [(each.rank, each.survey_id) for each in masses] == [(1, None), (2, None)]
    (note,) = of(computed, "strike_hz")
    assert note.derived == strike_estimate(1180.0, None, "bronze")
    assert note.survey_id == "s1"


SIZED = BellFacts(
    "b", material=Told("bronze", "s"), mouth_diameter_mm=Told(1000.0, "s"), strike_hz=Told(410.0, "s")
)
KIN = KnownBell("b", "Anders", "north", 1900, 1000.0, 410.0)


def test_year_and_soundbow_count() -> None:
    """The year of casting refines the mass by the note, and the sound-bow gives mass and note of its own."""
    facts = SIZED._replace(kin=KIN, soundbow_thickness_mm=Told(74.0, "s"))
    masses = [each.derived.method for each in of(derive_bell(facts), "mass_kg")]
    assert masses == ["size-strike-and-date", "size-and-thickness", "size"]
    (note,) = of(derive_bell(facts), "strike_hz")
    assert note.derived.method == "size-and-thickness"


def test_sisters_speak() -> None:
    """Weighed bells of the founder come first, with how many spoke, and name no single survey."""
    sister = KIN._replace(bell_id="a", mouth_diameter_mm=1200.0, strike_hz=345.0, mass_kg=1050.0)
    first, *others = of(derive_bell(SIZED._replace(kin=KIN), kindred_of([("bronze", sister)])), "mass_kg")
    assert first.derived.method == "size-strike-and-sisters"
    assert first.survey_id is None
    assert "1 weighed bell spoke" in first.derived.note
    assert [each.rank for each in others] == [2, 3, 4]
    alone = of(derive_bell(SIZED._replace(kin=KIN), kindred_of([("cast-steel", sister)])), "mass_kg")
    assert alone[0].derived.method == "size-strike-and-date"


def test_sisters_tell_the_note() -> None:
    """A bell without a note gets one from its sisters, before that of its size alone."""
    sister = KIN._replace(bell_id="a", mouth_diameter_mm=1200.0, strike_hz=345.0)
    facts = SIZED._replace(strike_hz=None, kin=KIN._replace(strike_hz=None))
    notes = of(derive_bell(facts, kindred_of([("bronze", sister)])), "strike_hz")
    assert [(each.rank, each.derived.method) for each in notes] == [(1, "size-and-sisters"), (2, "size")]


def test_a_section_comes_first() -> None:
    """The mass of a measured section leaves least open; without a value it stands last and says why."""
    points = tuple(invented_bell())
    whole = SIZED._replace(section=MeasuredSection("s2", points, None, "canons", 3.0, 1.0))
    masses = of(derive_bell(whole), "mass_kg")
    assert [each.derived.method for each in masses] == ["section", "size-and-strike", "size"]
    assert masses[0].survey_id == "s2"
    expected = section_mass(points, crown_kind="canons").value
    assert masses[0].derived.value == expected
    broken = SIZED._replace(section=MeasuredSection("s2", points[:3]))
    masses = of(derive_bell(broken), "mass_kg")
    assert [each.derived.method for each in masses][:1] == ["size-and-strike"]
    assert "no mass" in next(each.derived.note for each in masses if each.derived.method == "section")


def test_section_without_a_diameter() -> None:
    """A section needs no mouth diameter beside it."""
    facts = BellFacts("b", Told("bronze", "s"), section=MeasuredSection("s", tuple(invented_bell())))
    (only,) = of(derive_bell(facts), "mass_kg")
    assert only.derived.method == "section"


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"strike_hz": Told(820.0, "s")}, "octave too high"),
        ({"mouth_diameter_mm": Told(500.0, "s")}, "radius"),
        ({"mass_kg": Told(640.0 / 0.45359237, "s"), "mass_basis": "weighed"}, "pounds"),
        ({"soundbow_thickness_mm": Told(33.0, "s")}, "sound-bow"),
    ],
)
def test_contradictions_are_told(changed: dict[str, Any], named: str) -> None:
    """Readings that contradict each other are told once, with the likelier mistake."""
    assert of(derive_bell(SIZED), "misfit_sd") == []
    (found,) = of(derive_bell(SIZED._replace(**changed)), "misfit_sd")
    assert named in found.derived.note


def test_class() -> None:
    """Size and note give the class in semitones from medium; another metal has none."""
    (step,) = of(derive_bell(SIZED), "profile_step_semitones")
    assert step.survey_id == "s"
    assert "most like" in step.derived.note
    steel = SIZED._replace(material=Told("cast-steel", "s"))
    assert of(derive_bell(steel), "profile_step_semitones") == []


def test_the_nominal_stands_for_a_strike_note_that_nobody_wrote() -> None:
    """Half the nominal is the first estimate of the strike note; the mass rests on it if no note is told."""
    facts = BellFacts(
        "b",
        material=Told("bronze", "s"),
        mouth_diameter_mm=Told(1180.0, "s"),
        nominal_hz=Told(690.0, "s"),
    )
    computed = derive_bell(facts)
    assert [(each.rank, each.derived.method) for each in of(computed, "strike_hz")] == [
        (1, "half-nominal"),
        (2, "size"),
    ]
    assert of(computed, "mass_kg")[0].derived.inputs["strike_hz"] == 345.0
    told = derive_bell(facts._replace(strike_hz=Told(350.0, "s")))
    assert of(told, "mass_kg")[0].derived.inputs["strike_hz"] == 350.0


@pytest.mark.parametrize(
    ("basis", "compared"),
    [("weighed", True), ("founder-record", True), ("inscribed", True), ("calculated", False), (None, False)],
)
def test_only_independent_masses_are_compared(basis: str | None, compared: bool) -> None:
    """A mass is held against the estimate unless it was itself computed or no one knows how it came about."""
    facts = BellFacts(
        "b",
        material=Told("bronze", "s"),
        mouth_diameter_mm=Told(1180.0, "s"),
        mass_kg=Told(1040.0, "s"),
        mass_basis=basis,
    )
    assert bool(of(derive_bell(facts), "weighed_to_estimated_ratio")) is compared


@pytest.mark.parametrize(
    ("text", "bounds", "note"),
    [
        ("1643", (1643.0, 1643.0, 1643.0), False),
        ("164X", (None, 1640.0, 1649.0), False),
        ("1643?", (1643.0, 1643.0, 1643.0), True),
        ("1600/..", (None, 1600.0, None), False),
        ("[1480,1483]", (None, 1480.0, 1483.0), False),
    ],
)
def test_years_of_casting_are_bounds(text: str, bounds: tuple[Any, ...], note: bool) -> None:
    """The date gives hard bounds in years, a value only where it is one year; doubts are named."""
    (computed,) = derive_bell(BellFacts("b", cast_date=Told(text, "s")))
    derived = computed.derived
    assert (derived.quantity, derived.level, derived.unit) == ("cast_year", 1.0, "year")
    assert (derived.value, derived.low, derived.high) == bounds
    assert bool(derived.note) is note
    assert computed.survey_id == "s"


def test_wear_is_told_for_each_point_of_each_survey() -> None:
    """Each strike point with a reading has its loss under its own name; one without readings has none."""
    points = (
        StruckPoint("s2", 1, 90.0, 100.0, None, 0.5),
        StruckPoint("s2", 2, None, None, None, None),
        StruckPoint("s1", 1, None, 100.0, 6.0, None),
    )
    computed = derive_bell(BellFacts("b", strike_points=points))
    assert [(each.subject, each.survey_id) for each in computed] == [
        ("strike-point:1", "s2"),
        ("strike-point:1", "s1"),
    ]
    assert computed[0].derived == soundbow_loss(
        thickness_at_pit_mm=90.0, thickness_beside_mm=100.0, tolerance_mm=0.5
    )


def test_partials_are_told_for_each_survey() -> None:
    """Each survey's partials have their deviations under their names, with third and octaves."""
    partials = {"hum": 172.0, "prime": 345.0, "tierce": 413.0, "nominal": 690.0, "octave-nominal": 1430.0}
    computed = derive_bell(BellFacts("b", sounds=(HeardSound("s", partials, 345.0, 0.5),)))
    assert [each.subject for each in computed] == [
        "partial:hum",
        "partial:prime",
        "partial:tierce",
        "partial:nominal",
        "partial:octave-nominal",
        "bell",
        "bell",
    ]
    assert {each.survey_id for each in computed} == {"s"}
    assert [each.derived.quantity for each in computed[-2:]] == [
        "tierce_below_nominal_cents",
        "octave_deviation_cents",
    ]


def within(field: str) -> st.SearchStrategy[float]:
    """Give any value that the form takes."""
    return st.floats(*range_of(field))


def told(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Told | None]:
    """Give a value of some survey, or none."""
    return st.none() | st.builds(Told, values, st.sampled_from(["s1", "s2"]))


def words(name: str) -> st.SearchStrategy[str]:
    """Give any word of a vocabulary."""
    return st.sampled_from(list(vocabulary(name).terms))


ANY_SECTION = st.builds(
    MeasuredSection,
    st.just("s1"),
    st.lists(
        st.builds(
            ProfilePoint, st.floats(0.0, 6500.0), st.floats(0.0, 6700.0), st.none() | st.floats(0.0, 650.0)
        ),
        max_size=9,
    ).map(lambda points: tuple(sorted(points, key=lambda point: point.height_mm))),
    st.none() | st.floats(1.0, 500.0),
    st.none() | words("crown_kind"),
    st.none() | st.floats(0.001, 50.0),
    st.none() | st.floats(0.001, 50.0),
)
ANY_KIN = st.builds(
    KnownBell,
    st.just("b"),
    st.sampled_from(["", "Anders", "Bruun"]),
    st.sampled_from(["north", "south"]),
    st.none() | st.integers(1200, 2100),
    within("mouth_diameter_mm"),
    st.none() | within("strike_hz"),
    st.none() | within("mass_kg"),
    st.none() | st.floats(0.01, 5000.0),
    st.builds(Tolerances, st.floats(0.0, 50.0), st.floats(0.0, 60.0), st.floats(0.0, 50.0)),
)
ANY_TEXT = st.builds(
    DatedText,
    st.sampled_from(["cast-text", "inscription:1"]),
    st.sampled_from(["s1", "s2"]),
    st.text("mdclxvij°^ .|[](){}0123456789anoCDIMXV⟦⟧", max_size=30) | st.text(max_size=20),
    st.integers(900, 2100),
    st.none() | words("year_begins"),
)
ANY_FACTS = st.builds(
    BellFacts,
    st.just("b"),
    told(words("material")),
    told(words("profile_class")),
    told(within("mouth_diameter_mm")),
    told(within("mass_kg")),
    st.none() | words("mass_basis"),
    told(st.floats(0.1, 30000.0)),
    told(within("frequency_hz")),
    told(st.sampled_from(["1643", "164X", "1600/..", "[1480,1483]", "Y170000002"])),
    st.lists(
        st.builds(
            HeardSound,
            st.just("s1"),
            st.dictionaries(words("partial"), within("frequency_hz")),
            st.none() | within("strike_hz"),
            st.none() | st.floats(0.0001, 20.0),
        ),
        max_size=2,
    ).map(tuple),
    st.lists(
        st.builds(
            StruckPoint,
            st.just("s1"),
            st.integers(1, 40),
            st.none() | within("thickness_at_pit_mm"),
            st.none() | within("thickness_beside_mm"),
            st.none() | within("pit_depth_mm"),
            st.none() | st.floats(0.001, 50.0),
        ),
        max_size=2,
    ).map(tuple),
    told(within("soundbow_thickness_mm")),
    st.none() | ANY_SECTION,
    st.none() | ANY_KIN,
    st.lists(ANY_TEXT, max_size=2).map(tuple),
)

KINDRED = kindred_of(
    ("bronze" if number % 2 else "cast-steel", known)
    for number, known in enumerate(
        KnownBell(
            f"k{number}",
            "Anders",
            "north",
            1900,
            700.0 + 80.0 * number,
            410_000.0 / (700.0 + 80.0 * number),
            650.0 * (0.7 + 0.08 * number) ** 3,
        )
        for number in range(8)
    )
)


@given(ANY_FACTS)
def test_whatever_a_form_may_say_can_be_computed(facts: BellFacts) -> None:
    """No value within the ranges of the form breaks a computation, and each value lies in its interval."""
    for each in derive_bell(facts, KINDRED):
        derived = each.derived
        assert 0 <= derived.level <= 1
        assert derived.method
        assert derived.source
        if derived.value is not None and derived.low is not None and derived.high is not None:
            assert derived.low <= derived.value * (1 + 1e-12) + 1e-12
            assert derived.value <= derived.high * (1 + 1e-12) + 1e-12


def test_the_setting_for_circa_widens_the_years_and_says_so(monkeypatch) -> None:
    """An approximate date keeps its bounds as shipped; a registry that widens it tells so beside it."""
    facts = BellFacts("oster-great", cast_date=Told("1450~", "oster-2020"))

    def years():
        return next(each.derived for each in derive_bell(facts) if each.derived.quantity == "cast_year")

    assert (years().low, years().high) == (1450.0, 1450.0)
    monkeypatch.setattr("registry.derive.bell.circa_years", lambda: 10)
    assert (years().low, years().high) == (1440.0, 1460.0)
    assert "widened by 10 years" in years().note


def test_dates_on_the_bell_are_read_with_their_source() -> None:
    """Each text that states a date gives its readings, ranked, with the words they came from."""
    texts = (
        DatedText("cast-text", "oster-2020", "m v^c xii", 2020),
        DatedText("inscription:1", "oster-2010", "O REX GLORIE VENI CVM PACE", 2010),
        DatedText("inscription:2", "oster-2010", "ANNO DOMINI MDXII", 2010, "annunciation"),
    )
    found = [
        each
        for each in derive_bell(BellFacts("oster-great", texts=texts))
        if each.derived.quantity == "cast_reading_year"
    ]
    first = next(each for each in found if each.subject == "cast-text" and each.rank == 1)
    assert (first.derived.value, first.derived.level, first.survey_id) == (1512.0, 0.0, "oster-2020")
    assert first.derived.inputs["text"] == "m v^c xii"
    assert first.derived.source
    assert not [each for each in found if each.subject == "inscription:1"]
    marked = next(each for each in found if each.subject == "inscription:2")
    assert (marked.derived.value, marked.derived.low, marked.derived.high) == (None, 1512.0, 1513.0)
