"""All values of one bell: each from the facts it needs, from one survey where they come from one."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.bell import derive_bell
from registry.derive.inputs import range_of
from registry.derive.mass import mass_estimates
from registry.derive.strike import strike_estimate
from registry.derive.wear import soundbow_loss
from registry.model.bell_facts import BellFacts, Computed, HeardSound, StruckPoint, Told
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


def test_the_nominal_stands_for_a_strike_note_that_nobody_wrote() -> None:
    """Half the nominal is the first estimate of the strike note; the mass rests on it where no note is told."""
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
)


@given(ANY_FACTS)
def test_whatever_a_form_may_say_can_be_computed(facts: BellFacts) -> None:
    """No value within the ranges of the form breaks a computation, and each value lies in its interval."""
    for each in derive_bell(facts):
        derived = each.derived
        assert 0 <= derived.level <= 1
        assert derived.method
        assert derived.source
        if derived.value is not None and derived.low is not None and derived.high is not None:
            assert derived.low <= derived.value * (1 + 1e-12) + 1e-12
            assert derived.value <= derived.high * (1 + 1e-12) + 1e-12
