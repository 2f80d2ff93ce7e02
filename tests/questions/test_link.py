"""A question is a link: one order, one spelling, and it comes back the same."""

from urllib.parse import parse_qsl, urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.geography.areas import Area
from registry.model.pitch import Pitch
from registry.questions import BellQuery, link_of, read_link, write_link
from registry.questions.kinds import Grade, Term, limits_hz
from registry.questions.link import RANGES, pairs_of
from registry.questions.parameters import BY_NAME, PARAMETERS
from registry.questions.query import SORTS
from registry.store.search_filters import TERMS


def decimals(low: float, high: float, places: int = 10) -> st.SearchStrategy:
    """Give numbers that people and instruments write: of so many decimals."""
    scale = 10**places
    return st.integers(int(low * scale), int(high * scale)).map(lambda number: number / scale)


LATITUDES, LONGITUDES = decimals(-90, 90), decimals(-180, 180, 12)
IDS = st.from_regex("[a-z0-9]{1,8}(-[a-z0-9]{1,8}){0,3}", fullmatch=True)


def several(values: st.SearchStrategy, name: str) -> st.SearchStrategy:
    """Give some different values in the order of a link."""
    rank = BY_NAME[name].kind.rank
    return st.lists(values, max_size=3, unique=True).map(lambda chosen: tuple(sorted(chosen, key=rank)))


def terms(name: str) -> st.SearchStrategy:
    """Give some terms of a filter."""
    kind = BY_NAME[name].kind
    assert isinstance(kind, Term | Grade)
    return several(st.sampled_from(kind.codes).map(kind.read), name)


def ordered(low: st.SearchStrategy, rank=lambda value: value) -> st.SearchStrategy:
    """Give the two ends of a range, each of which may be open."""

    def sort(pair):
        return pair if None in pair or rank(pair[0]) <= rank(pair[1]) else (pair[1], pair[0])

    return st.tuples(st.one_of(st.none(), low), st.one_of(st.none(), low)).map(sort)


NOTES = st.integers(12, 131).map(lambda number: Pitch(number).scientific)
LIMITS = st.one_of(NOTES, st.builds(lambda note, by: f"{note}{by:+d}", NOTES, st.integers(-16, 16)))
BOXES = st.tuples(st.integers(-180, 150), st.integers(-89, 60), st.integers(1, 28)).map(
    lambda box: Area(
        (
            (
                (
                    (float(box[0]), float(box[1])),
                    (box[0] + box[2] + 0.1, float(box[1])),
                    (box[0] + 1e-7, box[1] + box[2] / 3),
                ),
            ),
        )
    )
)


@st.composite
def questions(draw: st.DrawFn) -> BellQuery:
    """Draw any question that can be asked."""
    years, notes = draw(ordered(st.integers(-9999, 9999))), draw(ordered(LIMITS, lambda x: limits_hz(x)[0]))
    sizes, masses = draw(ordered(decimals(0, 1e6, 8))), draw(ordered(decimals(0, 1e6, 8)))
    near = draw(st.one_of(st.none(), st.tuples(LATITUDES, LONGITUDES, decimals(1e-3, 20_000, 9))))
    nearest = draw(st.one_of(st.none(), st.tuples(LATITUDES, LONGITUDES, st.integers(1, 1000))))
    century = draw(st.one_of(st.none(), st.integers(1, 30)))
    founders = draw(several(IDS, "founder"))
    regions = draw(several(IDS, "region"))
    at = draw(st.sampled_from([None, "1850", "1815/1918", "../1700"])) if regions else None
    bounded = any(each is not None for each in (founders or None, at, century, *years, *masses))
    kinds = [name for name in SORTS if name != "distance" or near or nearest]
    words = draw(st.text(st.characters(codec="utf-8"), max_size=30))
    words = " ".join(words.replace("\0", " ").split())
    return BellQuery(
        text=words,
        exact=bool(words) and draw(st.booleans()),
        formula=draw(several(st.sampled_from(BY_NAME["formula"].kind.codes), "formula")),
        tower_id=draw(st.one_of(st.none(), IDS)),
        founder_id=founders,
        founder_name=draw(st.sampled_from(["", "Hans", "Jost K."])),
        material=draw(terms("material")),
        status=draw(terms("status")),
        crack_state=draw(terms("crack")),
        profile_class=draw(terms("profile")),
        wartime_class=draw(terms("wartime")),
        region=regions,
        region_at=at,
        country=draw(several(st.sampled_from(["FR", "AT", "NL"]), "country")),
        note=draw(several(NOTES, "note")),
        condition=draw(terms("condition")),
        grade=draw(terms("grade")),
        century=century,
        from_year=years[0],
        to_year=years[1],
        from_note=notes[0],
        to_note=notes[1],
        diameter_mm=sizes,
        mass_kg=masses,
        certain=bounded and draw(st.booleans()),
        recording=draw(st.sampled_from([None, "yes", "no", "analysed"])),
        no_survey_since=draw(st.one_of(st.none(), st.dates().map(str))),
        near=near,
        nearest=nearest,
        area=draw(st.one_of(st.none(), BOXES)),
        sort=draw(st.sampled_from([sign + name for name in kinds for sign in ("", "-")])),
    )  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(questions())
def test_a_question_comes_back_from_its_link(query: BellQuery) -> None:
    """Whatever can be asked is the same question after it went through a link, and has one link."""
    link = link_of(query)
    read = read_link(pairs_of(link))
    assert read.query == query
    assert not read.ignored
    assert link_of(read.query) == link
    assert link.isascii()
    assert " " not in link


@settings(deadline=None, max_examples=40)
@given(questions(), st.randoms(use_true_random=False))
def test_a_link_has_one_order(query: BellQuery, chance) -> None:
    """However the parts of a link are shuffled, it is the same question and the same link."""
    pairs = write_link(query)
    shuffled = chance.sample(pairs, len(pairs))
    assert write_link(read_link(shuffled).query) == pairs


@settings(deadline=None)
@given(st.lists(st.tuples(st.sampled_from([*BY_NAME, "x"]), st.text(max_size=20)), max_size=8))
def test_no_link_breaks_the_reader(pairs) -> None:
    """Any names and values give a question that has a link; what was left out is named."""
    read = read_link(pairs)
    assert read_link(parse_qsl(urlsplit(link_of(read.query)).query)).query == read.query
    named = {each.name for each in read.ignored} | {name for name, _ in read.pairs}
    asked = {name for name, text in pairs if text.replace("\0", " ").strip()}
    assert asked - named <= {"sort"}


@pytest.mark.parametrize(
    ("given", "canonical"),
    [
        ([("note", "cis'"), ("note", "A3")], [("note", "A3"), ("note", "C#4")]),
        ([("note_from", "a° +5")], [("note_from", "A3+5")]),
        ([("mass_from", "1 cwt")], [("mass_from", "50.80234544")]),
        ([("diameter_to", "118.0 cm")], [("diameter_to", "1180")]),
        ([("country", "fr")], [("country", "FR")]),
        ([("text", "  ave   maria ")], [("text", "ave maria")]),
        ([("no_survey_since", "2015")], [("no_survey_since", "2015-01-01")]),
        ([("near", "45° 30' N, 5.50, 25 km")], [("near", "45.5,5.5,25")]),
        ([("nearest", "45.5,5.5,10")], [("nearest", "45.5,5.5,10")]),
        ([("from", "0")], [("from", "0")]),
        ([("mass_from", "0")], [("mass_from", "0")]),
        ([("area", "0,0 1,0 1,1 0,0")], [("area", "0,0 1,0 1,1")]),
        ([("sort", "place")], []),
        ([("century", "15"), ("century", "16")], [("century", "16")]),
    ],
)
def test_one_spelling(given, canonical) -> None:
    """However a value is written, its link has the one spelling."""
    read = read_link(given)
    assert (read.pairs, read.ignored) == (canonical, [])


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ([("from", "1600"), ("to", "1500")], "from"),
        ([("note_from", "A4"), ("note_to", "A3")], "note_from"),
        ([("mass_from", "5"), ("mass_to", "4")], "mass_from"),
        ([("certain", "yes")], "certain"),
        ([("exact", "yes")], "exact"),
        ([("at", "1850")], "at"),
        ([("sort", "distance")], "sort"),
        ([("near", "0,0,20005")], "near"),
        ([("near", "0,0")], "near"),
        ([("nearest", "0,0,1001")], "nearest"),
        ([("note_from", "A3+17")], "note_from"),
        ([("note", "B#9")], "note"),
        ([("area", "0,0 200,0 1,1")], "area"),
        ([("area", "0,0 1,1 1,0 0,1")], "area"),
        ([("area", '{"type":"Point","coordinates":[0,0]}')], "area"),
        ([("colour", "red")], "colour"),
    ],
)
def test_what_makes_no_sense_is_named(given, named) -> None:
    """A part without sense is named with the reason, and the question does without it."""
    read = read_link(given)
    assert [each.name for each in read.ignored] == [named]
    assert read.ignored[0].why
    assert read.pairs == []


def test_names_beside_the_question_are_let_pass() -> None:
    """What belongs to the page is no part of the question, and no fault."""
    assert read_link([("page", "2"), ("material", "bronze")], ("page",)).ignored == []


def test_every_part_can_be_asked_everywhere() -> None:
    """Each field of a question has its parameter, and each parameter its field; ranges name known ends."""
    fields = set(BellQuery._fields) - {"limit", "offset"}
    assert {parameter.field for parameter in PARAMETERS} == fields
    assert len({parameter.option for parameter in PARAMETERS if parameter.option}) == len(PARAMETERS) - 3
    assert all(low.name in BY_NAME and high.name in BY_NAME for low, high in RANGES)
    many = {parameter.field for parameter in PARAMETERS if parameter.many}
    assert set(TERMS) | {"condition", "grade", "formula", "region", "founder_id"} == many


def test_notes_reach_half_a_semitone_and_sixteenths_are_exact() -> None:
    """A3 reaches from 213.74 to 226.45 Hz about 220 Hz (ISO 16); a° +8 is half a semitone above 217.5 Hz."""
    low, high = limits_hz("A3")
    assert low == pytest.approx(220.0 * 2 ** (-0.5 / 12), abs=1e-9)
    assert high == pytest.approx(220.0 * 2 ** (0.5 / 12), abs=1e-9)
    exact = 217.5 * 2 ** (8 / 192)
    assert limits_hz("A3+8") == pytest.approx((exact, exact), abs=1e-9)
