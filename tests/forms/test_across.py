"""Rules across surveys: what new forms say, held against each other and against the registry."""

import pytest

from registry.forms.across import check_across, footprint
from registry.forms.thresholds import band
from registry.model.footprint import BellFootprint, Footprint
from registry.model.life import Happening

DATES = {"old": "2004-05-01", "mid": "2014-05-01", "new": "2024-05-01"}


def bell(bell_id: str = "hour", **changes) -> BellFootprint:
    """Make a bell as a survey saw it: nothing measured, nothing told of cracks."""
    return BellFootprint(bell_id, 7, 9, None, None, None, False, (), (), False, False)._replace(**changes)  # noqa: FBT003


def survey(name: str, *bells: BellFootprint, **changes) -> Footprint:
    """Make a survey of one tower; its name says which file, id and date it has."""
    return Footprint(
        f"{name}.yaml", 3, 7, f"gate-{name}", "visit", DATES[name], ("Ilse",), "gate", None, None, bells
    )._replace(**changes)


def told(new, known=()):
    """Give code, file and path of what is found."""
    return [(one.code, one.file, one.path) for one in check_across(new, known)]


def codes(new, known=()):
    """Give the codes of what is found."""
    return [one.code for one in check_across(new, known)]


def test_nothing_to_say() -> None:
    """A first survey, and one that agrees with an earlier one, have no problem."""
    assert told([survey("old", bell())]) == []
    assert told([survey("new", bell())], [survey("old", bell())]) == []
    assert told([], [survey("old", bell())]) == []


def test_duplicate_survey() -> None:
    """An id that another form has is told at the later one of a run, or at the one that is new."""
    a, b = survey("old", bell()), survey("new", bell(), survey_id="gate-old")
    assert told([a, b]) == [("duplicate-survey", "new.yaml", "survey.id")]
    assert told([b], [a]) == [("duplicate-survey", "new.yaml", "survey.id")]
    (problem,) = check_across([b], [a])
    assert "old.yaml" in problem.expected
    assert (problem.line, problem.column) == (3, 7)


def test_a_corrected_form_is_no_duplicate() -> None:
    """A form that is loaded again replaces what is known from its file."""
    before = survey("old", bell(mouth_diameter_mm=900.0))
    assert told([survey("old", bell(mouth_diameter_mm=990.0))], [before]) == []


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, ["duplicate-visit"]),
        ({"surveyors": ("ILSE",)}, ["duplicate-visit"]),
        ({"surveyors": ("Ilse", "Odo")}, []),
        ({"date": "2004-05-02"}, []),
        ({"tower_id": "chapel", "bells": ()}, []),
        ({"kind": "document"}, []),
    ],
)
def test_duplicate_visit(changes, expected) -> None:
    """The same tower, day and people twice is one visit in two forms; documents may be read together."""
    twin = survey("old", bell(), file="twin.yaml", survey_id="gate-twin")._replace(**changes)
    assert codes([survey("old", bell()), twin]) == expected
    assert codes([twin], [survey("old", bell())]) == expected


@pytest.mark.parametrize(
    ("here", "there", "expected"),
    [
        ({}, {}, True),
        ({}, {"came_from_elsewhere": True}, False),
        ({"gone": True}, {}, False),
        ({"came_from_elsewhere": True}, {}, True),
    ],
)
def test_bell_in_another_tower(here, there, expected) -> None:
    """A bell turns up in another tower only after something moved it there, or it was gone from the first."""
    first = survey("old", bell(**here))
    second = survey("new", bell(**there), tower_id="chapel")
    for new, known in (([first, second], []), ([second], [first]), ([first], [second])):
        assert codes(new, known) == ["bell-in-another-tower"] * expected
    if expected:
        assert told([first, second]) == [("bell-in-another-tower", "new.yaml", "bells[1].id")]
        assert told([first], [second]) == [("bell-in-another-tower", "old.yaml", "bells[1].id")]


def test_an_event_told_once_explains_every_later_survey() -> None:
    """A later visit need not tell again how the bell came."""
    surveys = [
        survey("old", bell()),
        survey("mid", bell(came_from_elsewhere=True), tower_id="chapel"),
        survey("new", bell(), tower_id="chapel"),
    ]
    assert "bell-in-another-tower" not in codes(surveys)


@pytest.mark.parametrize(
    ("accuracies", "expected"),
    [((1000.0, 200.0), []), ((1000.0, 100.0), ["tower-moved"]), ((None, None), ["tower-moved"])],
)  # fmt: skip
def test_tower_moved(accuracies, expected) -> None:
    """A tower that stands farther off than both accuracies allow is told; 0.01 degrees north are 1.1 km."""
    first = survey("old", latitude_deg=45.70, longitude_deg=-7.5, accuracy_m=accuracies[0])
    second = survey("new", latitude_deg=45.71, longitude_deg=-7.5, accuracy_m=accuracies[1])
    assert codes([second], [first]) == expected
    assert codes([first], [second]) == expected
    assert codes([first, survey("mid"), second]) == expected


def test_a_few_metres_are_no_move() -> None:
    """Where no accuracy is stated, what is common passes."""
    metres = band("coordinate-accuracy-m").high
    north = 45.70 + 1.9 * metres / 111_200
    assert codes([survey("new", latitude_deg=north, longitude_deg=-7.5)],
                 [survey("old", latitude_deg=45.70, longitude_deg=-7.5)]) == []  # fmt: skip


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        ((1000.0, 1.0), (1002.0, 1.0), False),
        ((1000.0, 1.0), (1002.1, 1.0), True),
        ((1000.0, 0.0), (1000.0, 0.0), False),
        ((1000.0, None), (1010.0, None), False),
        ((1000.0, None), (1011.0, None), True),
        ((100.0, None), (106.0, None), False),
        ((100.0, None), (106.1, None), True),
        ((None, None), (1000.0, 1.0), False),
    ],
)
def test_diameter(before, after, expected) -> None:
    """A diameter that changed by more than both readings allow is told at the survey that is new."""
    first = survey("old", bell(mouth_diameter_mm=before[0], diameter_tolerance_mm=before[1]))
    second = survey("new", bell(mouth_diameter_mm=after[0], diameter_tolerance_mm=after[1]))
    wrong = ["diameter-changed"] * expected
    assert codes([second], [first]) == wrong
    assert codes([first], [second]) == wrong
    assert codes([first, second]) == wrong


def test_diameter_is_held_against_the_survey_before() -> None:
    """Between three surveys each is held against the one before it, and only new ones are told."""
    first, second, third = (survey(name, bell(mouth_diameter_mm=size, diameter_tolerance_mm=1.0))
                            for name, size in (("old", 900.0), ("mid", 950.0), ("new", 951.0)))  # fmt: skip
    assert told([third], [first, second]) == []
    assert told([second], [first, third]) == [
        ("diameter-changed", "mid.yaml", "bells[1].dimensions.mouth_diameter_mm")
    ]


def test_documents_do_not_measure() -> None:
    """A round figure in a document is not held against a reading, nor does one leave out a crack or bell."""
    seen = survey(
        "old", bell(mouth_diameter_mm=900.0, crack_numbers=(1,), cracks_mentioned=(1,)), bell("vesper")
    )
    paper = survey("mid", bell(mouth_diameter_mm=1000.0), kind="document")
    assert told([paper], [seen]) == []


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [("bronze", "bronze", 0), ("bronze", "cast-steel", 1), ("bronze", None, 0),
     ("unknown", "bronze", 0), (None, "bronze", 0)],
)  # fmt: skip
def test_material(before, after, expected) -> None:
    """Another material than before is told; not knowing is no contradiction."""
    first, second = survey("old", bell(material=before)), survey("new", bell(material=after))
    assert codes([second], [first]) == ["material-changed"] * expected
    assert codes([survey("mid", bell()), second], [first]) == ["material-changed"] * expected


def test_bell_not_mentioned() -> None:
    """A bell known in the tower and left out by a visit is noted, unless it is gone or went elsewhere."""
    first = survey("old", bell("a"), bell("b"), bell("c", gone=True))
    assert told([survey("new", bell("a"))], [first]) == [("bell-not-mentioned", "new.yaml", "bells")]
    assert told([survey("new", bell("a"), bell("b"))], [first]) == []
    moved = survey("mid", bell("b", came_from_elsewhere=True), tower_id="chapel")
    assert told([survey("new", bell("a"))], [first, moved]) == []


def test_a_bell_first_seen_later_is_not_missed_before() -> None:
    """An old survey loaded late need not mention bells that only newer ones know."""
    assert told([survey("old", bell("a"))], [survey("new", bell("a"), bell("b"))]) == []


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, [1, 2]),
        ({"crack_numbers": (1,), "cracks_mentioned": (1,)}, [2]),
        ({"cracks_mentioned": (1, 2)}, []),
        ({"crack_numbers": (3,), "cracks_mentioned": (3,)}, [1, 2]),
        ({"gone": True}, []),
    ],
)
def test_crack_not_mentioned(changes, expected) -> None:
    """Each crack told of before is told of again, if only as not found; a bell that is gone has none."""
    first = survey("old", bell(crack_numbers=(1, 2), cracks_mentioned=(1, 2, 9)))
    problems = check_across([survey("new", bell(**changes))], [first])
    assert [(one.code, one.path) for one in problems] == [("crack-not-mentioned", "bells[1].cracks")] * len(
        expected
    )
    assert [one.expected for one in problems] == [
        f"crack {number}, which gate-old tells of" for number in expected
    ]


def test_a_crack_not_found_again_is_closed() -> None:
    """Once a survey says that a crack is no more, later ones need not."""
    surveys = [
        survey("old", bell(crack_numbers=(1,), cracks_mentioned=(1,))),
        survey("mid", bell(cracks_mentioned=(1,))),
        survey("new", bell()),
    ]
    assert told(surveys) == []


def test_order_of_the_run_does_not_matter() -> None:
    """The same forms in another order give the same problems."""
    surveys = [
        survey("old", bell(mouth_diameter_mm=900.0), bell("b")),
        survey("mid", bell(mouth_diameter_mm=950.0)),
        survey("new", bell(mouth_diameter_mm=1000.0)),
    ]
    assert sorted(told(surveys)) == sorted(told(surveys[::-1]))
    assert len(told(surveys)) == 4


def test_footprint(check) -> None:
    """A footprint carries what the rules need: places, readings as tolerance, arrivals, cracks and fates."""
    checked = check(
        """\
        form: soundbow survey 1
        survey:
          id: gate-2024
          kind: visit
          date: 2024-05-14
          surveyors: [Ilse]
          instruments:
            - {kind: tape, tolerance_mm: 1}
            - {kind: caliper, tolerance_mm: 0.1}
            - {kind: scales, tolerance_mm: 9}
          not_inspected: []
        tower: {id: gate, name: Gate, place: P, latitude_deg: 45.5, longitude_deg: -7.5, accuracy_m: 5}
        bells:
          - id: a
            identity: {material: bronze, status: hanging}
            dimensions: {mouth_diameter_mm: 900, mouth_diameter_readings_mm: [898, 902]}
            cracks: [{number: 1, state: none}, {number: 2, state: suspected}]
            events: [{kind: moved, date: 2001}]
          - id: b
            identity: {status: destroyed}
        """,
        whole=True,
    )
    assert footprint(checked.read, "x.yaml") == Footprint(
        "x.yaml", 3, 7, "gate-2024", "visit", "2024-05-14", ("Ilse",), "gate", 45.5, -7.5,
        (
            BellFootprint(
                "a", 14, 9, 900.0, 3.0, "bronze", True, (2,), (1, 2), True, False,  # noqa: FBT003
                happenings=(Happening("moved", "2001"),),
            ),
            BellFootprint("b", 19, 9, None, 1.0, None, False, (), (), False, True),  # noqa: FBT003
        ),
        5.0,
    )  # fmt: skip


def test_readings_alone_are_a_tolerance(bell) -> None:
    """Without an instrument's tolerance, half the spread of the readings counts; one reading says nothing."""
    for readings, tolerance in (("[898, 902]", 2.0), ("[900]", None)):
        sizes = f"{{mouth_diameter_mm: 900, mouth_diameter_readings_mm: {readings}}}"
        read = bell(dimensions=sizes, cracks="[{number: 1, state: none}]").read
        assert footprint(read, "x.yaml").bells[0].diameter_tolerance_mm == tolerance


def test_many_surveys() -> None:
    """Over a thousand surveys of hundreds of towers that all agree have no problem."""
    surveys = [
        survey("old", *(bell(f"t{tower}-{number}") for number in range(10)), tower_id=f"t{tower}",
               file=f"{tower}-{visit}.yaml", survey_id=f"s{tower}-{visit}", date=f"20{visit:02}-01-01")
        for tower in range(400) for visit in range(3)
    ]  # fmt: skip
    assert told(surveys) == []
