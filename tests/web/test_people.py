"""The pages of founders and of missed bells, and what they add to the page of a bell."""

import re
from datetime import date
from pathlib import Path

import pytest
from specimens import bell, document, visit, write

from registry.intake import load
from registry.web.app import make_datasette

FOUNDERS = """form: soundbow founders 1
founders:
  - id: smith
    name: Ada <Smith>
    kind: person
    active: 1700/1720
    variants: [{spelling: A. SMITH, valid: 1700/1720, source: "bell & book"}]
    workshops: [{place: Ely, latitude_deg: 52, longitude_deg: 0}]
    ties: [{kind: master-of, founder: jones, certainty: possible}, {kind: kin-of, founder: nobody}]
  - {id: jones, name: Jo Jones}
"""
OLD = """identity: {status: stolen, founder: A. Smith, cast_date: '1710', cast_text: MDCCX, wartime_class: b,
  wartime_class_source: list M 4}
dimensions: {mouth_diameter_mm: 640}
inscriptions: [{number: 1, place: waist, transcription: "AVE <MARIA>"}]
events: [{kind: stolen, date: 1993-11, source: chapter}]
"""
BACK = """identity: {status: hanging, founder: Ada Smith, founder_id: smith, cast_date: '1850'}
events: [{kind: requisitioned, date: '1942'}, {kind: returned, date: '1947'}]
"""
RECAST = """identity: {status: hanging, cast_date: '1900', founder: Unheard Of}
events:
  - {kind: recast-from, date: '1900', other_bell: gate-older}
  - {kind: companion-of, other_bell: gate-back}
"""
OLDER = "identity: {status: recast, cast_date: '1500'}\nevents: [{kind: cast, date: '1510'}]\n"


@pytest.fixture(scope="module")
def registry(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Load a tower with a stolen bell, one that returned, a recast one and its ancestor, and founders."""
    folder = tmp_path_factory.mktemp("people")
    placed = "latitude_deg: 52\nlongitude_deg: 1\n"
    bells = [bell("gate-back", BACK), bell("gate-new", RECAST)]
    write(folder, "gate.yaml", visit("gate-2020", *bells, tower="gate", in_tower=placed))
    write(folder, "list.yaml", document("gate-list", bell("gate-older", OLDER), tower="gate", written="1899"))
    taken = document("gate-theft", bell("gate-stolen", OLD), tower="gate", written="1993-12")
    write(folder, "taken.yaml", taken)
    write(folder, "founders.yaml", FOUNDERS)
    report = load([folder], folder / "bells.db", jobs=1, today=date(2026, 1, 1))
    assert not report.has_errors, report.problems
    return folder / "bells.db"


@pytest.fixture(scope="module")
def ask(registry: Path, asking):
    """Ask for an address and give the text without tags."""
    with asking(make_datasette(registry)) as get:

        def plain(address: str, status: int = 200) -> str:
            answer = get(address)
            assert answer.status_code == status, address
            return " ".join(re.sub(r"<[^>]+>", " ", answer.text).split())

        yield plain


def test_founders_are_listed_with_their_bells(ask) -> None:
    """The list has each founder with time, place and bells, and the names that nobody owns."""
    text = ask("/founders")
    assert "Ada &lt;Smith&gt; 1700–1720 Ely 1 1" in text
    assert "Jo Jones not told 0 0" in text
    assert "Unheard Of 1 bell" in text


def test_the_page_of_a_founder(ask) -> None:
    """A founder shows names, ties from both sides, bells stated and proposed, and how far they went."""
    text = ask("/founder/smith")
    assert "A. SMITH 1700–1720 bell &amp; book" in text
    assert "Master of Jo Jones possible" in text
    assert "Kin of nobody" in text
    assert "1 bell stated by surveyors, 1 more proposed by the name" in text
    assert "proposed, probable" in text
    assert "the founder worked 1700/1720, and the bell is of 1850" in text
    # 1° of longitude at 52° N: 68.68 km (a cos φ / sqrt(1 - e² sin² φ) per radian, WGS 84).
    assert "Half of 2 bells within 68.7 km" in text
    assert "Ada &lt;Smith&gt; : master of this founder" in ask("/founder/jones")
    ask("/founder/nobody", 404)


def test_missed_bells_can_be_known_again(ask) -> None:
    """A stolen bell is told with its last place, its day, size, words, class and sources, under a caution."""
    text = ask("/lost")
    assert "1 bell on record" in text
    assert "Report it to the heritage authority and the police" in text
    assert "Invented Gate , Nowhere, until November 1993" in text
    assert "640 mm across the mouth" in text
    assert "AVE &lt;MARIA&gt;" in text
    assert "B list M 4" in text
    assert "Told by Invented inventory" in text
    assert "Came back" in text
    assert "gate-back , Invented Gate" in text


def test_the_page_of_a_bell_tells_its_life(ask) -> None:
    """A bell shows proposals, stays, lineage from both sides, and dates of casting that contradict."""
    assert "Perhaps by Ada &lt;Smith&gt; , probable: the name is that spelling of smith" in ask(
        "/bell/gate-stolen"
    )
    text = ask("/bell/gate-back")
    assert "requisitioned: since 1942, until 1947" in text
    assert "Companion of another bell: gate-new" in text
    assert "told of the other bell" in text
    new = ask("/bell/gate-new")
    assert "gate-older , 1500" in new
    assert "1 casting before" in new
    assert "Recast into a newer bell: gate-new , 1900" in ask("/bell/gate-older")
