"""The search for words: every spelling of a formula finds every other, and nothing typed breaks it."""

import csv
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from serving import CHECKOUT
from specimens import bell, visit, write

from registry.inscriptions.formulas import formulas
from registry.intake import load
from registry.questions import BellQuery
from registry.store.database import open_registry
from registry.store.search import find_bells
from registry.store.text_hits import hits_on, words_of

TABLES = CHECKOUT / "tests" / "inscriptions" / "tables"


def published(name: str) -> list[dict[str, str]]:
    """Read a table of published spellings or inscriptions."""
    with (TABLES / name).open(encoding="utf-8", newline="") as table:
        return [*csv.DictReader(line for line in table if not line.startswith("#"))]


SPELLINGS = published("formula_spellings.csv")

OTHERS = {
    "damaged-1": {"transcription": "[---]ria ple[na]"},
    "damaged-2": {"transcription": "+ ma[..]a hilf uns"},
    "damaged-3": {"transcription": "VIVOS VOCO M[---] FRANGO"},
    "lost-words": {"transcription": "SANCTA BARBARA [---] ANNO 1512"},
    "retrograde": {"transcription": "SVNITRAM SVTCNAS", "direction": "retrograde"},
    "mirrored": {"transcription": "sanctus georgius", "direction": "mirrored"},
    "together": {"transcription": "SITNOMENDOMINIBENEDICTVM"},
    "stroke": {"transcription": "HILF HEILIGE KATHA/RINA"},
    "two-words": {"transcription": "CONSOLOR/VIVA"},
    "expanded": {"transcription": "dn̄s noster", "expansion": "Dominus noster"},
    "german": {"transcription": "GOTT ALLEIN DIE EHRE | GOS MICH HANS MÜLLER"},
    "dutch": {"transcription": "SALVATOR · IS · MINE · NAME", "translation": "Saviour is my name"},
    "greek": {"transcription": "ΦΩΝΗ ΚΥΡΙΟΥ ΕΠΙ ΤΩΝ ΥΔΑΤΩΝ", "script": "Grek"},
    "cyrillic": {"transcription": "ПОКРОВОМЪ ТВОИМЪ ЗАСТУПИ НАСЪ · МѢДНЯКЪ", "script": "Cyrl"},
    "hebrew": {"transcription": "שָׁלוֹם עֲלֵיכֶם", "script": "Hebr"},
    "arabic": {"transcription": "اَلسَّلَامُ عَلَيْكُم", "script": "Arab"},
    "hostile": {"transcription": '<b>"AND" OR (NOT* x)</b>'},
}


def inscribed(fields: dict[str, str]) -> str:
    """Write an inscription for a form."""
    entry = {"number": 1, "place": "shoulder", **fields}
    return yaml.safe_dump({"inscriptions": [entry]}, allow_unicode=True, sort_keys=False)


@pytest.fixture(scope="module")
def conn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """Give a registry of one bell for each spelling and each difficulty."""
    folder = tmp_path_factory.mktemp("words")
    bells = [
        bell(f"{row['group']}-{number}", inscribed({"transcription": row["spelling"]}))
        for number, row in enumerate(SPELLINGS)
    ]
    bells += [bell(name, inscribed(fields)) for name, fields in OTHERS.items()]
    bells.append(bell("named", "identity: {name: Sint Brandaan, founder: Jörg Hüttel, status: hanging}\n"))
    write(folder, "words.yaml", visit("words-2020", *bells))
    report = load([folder], folder / "bells.db", jobs=1)
    assert not report.has_errors, report.problems
    with closing(open_registry(folder / "bells.db")) as connection:
        yield connection


Find = Callable[..., set[str]]


@pytest.fixture
def find(conn: sqlite3.Connection) -> Find:
    """Find bells by words and give their ids."""

    def found(text: str, **more: object) -> set[str]:
        return {row["id"] for row in find_bells(conn, BellQuery(text=text, limit=None, **more)).rows}  # type: ignore[arg-type]

    return found


@pytest.mark.parametrize("row", SPELLINGS, ids=[row["spelling"] for row in SPELLINGS])
def test_each_spelling_finds_all_the_others(find: Find, row: dict[str, str]) -> None:
    """Any published spelling of a formula, asked for, finds the bells with all its other spellings."""
    groups: defaultdict[str, set[str]] = defaultdict(set)
    for number, other in enumerate(SPELLINGS):
        groups[other["group"]].add(f"{other['group']}-{number}")
    found = find(row["spelling"])
    assert groups[row["group"]] <= found
    strangers = found - groups[row["group"]]
    related = {
        "ave": {"damaged-1"},
        "vivos": {"damaged-3"},
        "nomen": {"together"},
        "matthew": groups["evangelists"],
    }
    assert strangers <= related.get(row["group"], set())


QUESTIONS: list[tuple[str, set[str]]] = [
    ("o rex glorie", {"o-rex-0", "o-rex-1", "o-rex-2", "o-rex-3", "o-rex-4"}),
    ("gratia plena", {"ave-7", "ave-8", "ave-9", "ave-10", "damaged-1"}),
    ("hilf maria", {"damaged-2"}),
    ("ma[..]a hilf", {"damaged-2"}),
    ("ma[---]a hilf", {"damaged-2"}),
    ("vivos voco mortuos plango fulgura frango", {"vivos-5", "vivos-6", "damaged-3"}),
    ("sancta barbara ora pro nobis", {"lost-words"}),
    ("de sancta barbara", set()),
    ("sanctus martinus", {"retrograde"}),
    ("SVNITRAM", {"retrograde"}),
    ("georgius", {"mirrored"}),
    ("suigroeg", {"mirrored"}),
    ("sit nomen domini benedictum", {"nomen-25", "together"}),
    ("katharina", {"stroke"}),
    ("caterina", {"stroke"}),
    ("consolor", {"two-words"}),
    ("consolor viva", {"two-words"}),
    ("dominus noster", {"expanded"}),
    ("dñs nr̄", {"expanded"}),
    ("goss mich hans", {"german"}),
    ("Gott alleyn", {"german"}),
    ("mueller", {"german"}),
    ("saviour", {"dutch"}),
    ("saluator", {"dutch"}),
    ("φωνὴ Κυρίου", {"greek"}),
    ("υδάτων", {"greek"}),
    ("медняк", {"cyrillic"}),
    ("твоим нас", {"cyrillic"}),
    ("שלום", {"hebrew"}),
    ("السلام", {"arabic"}),
    ("sint brandaan", {"named"}),
    ("Sint Bra", {"named"}),
    ("joerg huttel", {"named"}),
    ("Nowhere Brandaan", {"named"}),
]


@pytest.mark.parametrize(("text", "expected"), QUESTIONS)
def test_words_are_found_however_they_are_written(find: Find, text: str, expected: set[str]) -> None:
    """Damage, direction, division, umlauts, other scripts and unfinished words hide nothing."""
    assert find(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("GOTT ALLEIN", {"german"}),
        ("gott allein", set()),
        ("GOS MICH HANS MÜLLER", {"german"}),
        ("LLEIN DIE", {"german"}),
        ("dn̄s noster", {"expanded"}),
        ("dns noster", set()),
        ("gle veni cv", {"o-rex-2"}),
        ("glorie criste", {"o-rex-1"}),
        ("SVNITRAM", {"retrograde"}),
        ("SANCTVS MARTINVS", {"retrograde"}),
        ("Brandaan", set()),
        ("?!", set()),
    ],
)
def test_exact_letters(find: Find, text: str, expected: set[str]) -> None:
    """The exact search keeps case and marks, and knows only what stands on the metal."""
    assert find(text, exact=True) == expected


def test_a_formula_is_a_filter(find: Find) -> None:
    """Bells are found by the id of a formula, without any word."""
    assert find("", formula=("verbum-domini",)) == {"verbum-17", "verbum-18", "verbum-19"}
    assert find("aethernum", formula=("verbum-domini",)) == {"verbum-17", "verbum-18"}


def test_every_bell_found_by_its_inscription_shows_where(conn: sqlite3.Connection) -> None:
    """Search and marks agree: what finds a bell is marked in one of its texts, unless its names did."""
    asked = [text for text, _ in QUESTIONS] + [row["spelling"] for row in SPELLINGS]
    for text in asked:
        query = BellQuery(text=text, limit=None)
        found = {row["id"] for row in find_bells(conn, query).rows} - {"named"}
        assert set(hits_on(conn, words_of(query), found)) == found, text


HOSTILE = [
    '"', "'", '""', "AND", "NOT OR", "NEAR(a b)", "a:b", "-x", "*", "^a", "names:maria", "{", "}", "(", ")",
    "[", "[---]", "[" * 5000, "maria " * 2000, "x" * 10_000, "é" * 10_000, "\0", "a\0b", "\ud800", "مرحبا",
    "\u202eabc", "🔔", "🔔 maria 👨‍👩‍👧", "%", "_", "\\", "; DROP TABLE bell", "[..]" * 500, "a*b?c[d]",
    "&" * 300, "ß" * 300, "dñs " * 500, "\u0301" * 50, "⁊⁊⁊", "{a} <b> ⟦c⟧", "]]", "[[a]]", "\U0010ffff",
]  # fmt: skip


@pytest.mark.parametrize("exact", [False, True])
@pytest.mark.parametrize("text", HOSTILE, ids=[ascii(text)[:30] for text in HOSTILE])
def test_every_question_is_safe(find: Find, text: str, exact: bool) -> None:
    """Quotes, operators, ten thousand characters, right to left, emoji and broken text are mere words."""
    assert len(find(text, exact=exact)) <= len(SPELLINGS) + len(OTHERS) + 1


@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.one_of(
        st.text(max_size=40), st.from_regex(r'[a-e"*:^()\[\].\-+{}<>| ANDORNT\u0303]{0,30}', fullmatch=True)
    )
)
def test_any_question_is_safe(find: Find, text: str) -> None:
    """Whatever is typed is looked for as words."""
    find(text)
    find(text, exact=True)


def test_the_formula_of_books_finds_whole_inscriptions(tmp_path: Path) -> None:
    """Asked in common spelling, a formula finds every published inscription that carries it, and marks it."""
    told = published("formula_inscriptions.csv")
    bells = [bell(f"b-{at}", inscribed({"transcription": row["inscription"]})) for at, row in enumerate(told)]
    write(tmp_path, "forms/a.yaml", visit("a", *bells))
    load([tmp_path / "forms"], tmp_path / "bells.db", jobs=1)
    with closing(open_registry(tmp_path / "bells.db")) as connection:
        for formula in {name for row in told for name in row["formula"].split()}:
            carrying = {f"b-{at}" for at, row in enumerate(told) if formula in row["formula"].split()}
            query = BellQuery(text=formulas()[formula].text, limit=None)
            found = find_bells(connection, query)
            assert {row["id"] for row in found.rows} == carrying, formula
            assert set(hits_on(connection, words_of(query), carrying)) == carrying, formula


def test_words_of_an_older_survey_still_find_the_bell(tmp_path: Path) -> None:
    """A reading that a newer survey does not repeat finds the bell too, and goes with its survey."""
    old = visit("old", bell("g", inscribed({"transcription": "gl(ori)a t(i)bi"})), day="2001-01-01")
    write(tmp_path, "forms/old.yaml", old)
    write(tmp_path, "forms/new.yaml", visit("new", bell("g"), day="2020-01-01"))
    load([tmp_path / "forms"], tmp_path / "bells.db", jobs=1)

    def found() -> int:
        with closing(open_registry(tmp_path / "bells.db")) as connection:
            return find_bells(connection, BellQuery(text="gloria tibi")).total

    assert found() == 1
    write(tmp_path, "forms/old.yaml", old.replace("gl(ori)a t(i)bi", "SALVE"))
    load([tmp_path / "forms"], tmp_path / "bells.db", jobs=1)
    assert found() == 0
