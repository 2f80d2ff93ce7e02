"""Spellings that mean one word become one, each rule is shown at work, and every letter keeps its place."""

import csv
import itertools
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.inscriptions.alike import alike, fits, slips
from registry.inscriptions.folding import beginnings, keys_of
from registry.inscriptions.leiden import parse
from registry.inscriptions.normalising import normalise, normalise_names
from registry.inscriptions.spelling import spelling

TABLES = Path(__file__).resolve().parent / "tables"
TEXTS = st.one_of(
    st.text(max_size=60),
    st.text(alphabet="aeiouvyhctxsmnpqdDNS[]().-|\u0303\u0304\u0305' ꝑꝰ&ßæ", max_size=40),
)


def table(name: str) -> list[dict[str, str]]:
    """Read a table; its comment lines tell citation and meaning."""
    with (TABLES / name).open(encoding="utf-8", newline="") as lines:
        return [*csv.DictReader(line for line in lines if not line.startswith("#"))]


PAIRS = table("word_spellings.csv")


@pytest.mark.parametrize("row", PAIRS, ids=[f"{row['one']}={row['other']}" for row in PAIRS])
def test_published_spellings_are_one_word(row: dict[str, str]) -> None:
    """Two published spellings of a word share a key."""
    one, other = normalise(row["one"]).words, normalise(row["other"]).words
    assert len(one) == len(other) == 1
    assert set(one[0].keys) & set(other[0].keys)


@pytest.mark.parametrize("rule", spelling().sequences, ids=[rule.name for rule in spelling().sequences])
def test_each_rule_does_what_it_shows(rule) -> None:
    """The two spellings a rule shows become one, and it names its source."""
    assert normalise(rule.same[0]).text == normalise(rule.same[1]).text
    assert rule.source


def test_words_that_differ_stay_apart() -> None:
    """The rules do not make one of words that are none."""
    apart = [
        *("maria", "marta", "ave", "eva", "rex", "lex", "deus", "dies", "pax", "pars", "anno", "vivos"),
        *("mortuos", "voco", "vas", "vox", "1512", "1521", "1666", "1166", "xii", "xiii", "mm", "m"),
    ]
    for one, other in itertools.combinations(apart, 2):
        assert not set(normalise(one).words[0].keys) & set(normalise(other).words[0].keys), (one, other)


@pytest.mark.parametrize(
    ("text", "normal"),
    [
        ("gl(ori)e veni cv(m)", "glorie ueni cum"),
        ("[---]ria ple[na]", "[---]ria plena"),
        ("GLO=\nRIA | TIBI", "gloria tibi"),
        ("j'orne les fêtes", "i orne les fetes"),
        ("m cccc lxxx iii 1666", "m cccc lxxx iii 1666"),
        ("nob' S. MARIA. DOM. XXIII.", "nobis sanctus maria dom xxiii"),
        ("{zu} Gottes Ehr ⟨u⟩nd", "gotes er unt"),
        ("ˑ O ˑ REX ˑ cccco", "o rex cccco"),
        ("ΛИИO PAX ΛΛ ΝΙΚΑ", "ano pax λλ νικα"),
        ("ПИИО", "пиио"),
        ("", ""),
        ("+ · ✠", ""),
    ],
)
def test_whole_texts(text: str, normal: str) -> None:
    """Signs of the edition, line ends, numerals and stops are taken as they are meant."""
    assert normalise(text).text == normal


@given(TEXTS)
def test_normalising_twice_changes_nothing(text: str) -> None:
    """A normalised text is its own normalised text."""
    once = normalise(text).text
    assert normalise(once).text == once


@given(TEXTS, st.booleans())
def test_every_character_leads_back(text: str, backwards: bool) -> None:
    """Each character of a normalised text has its place in the text it comes from; so has each word."""
    normal = normalise(text, backwards=backwards)
    assert len(normal.text) == len(normal.origins)
    assert all(0 <= place < len(text) for place in normal.origins)
    for word in normal.words:
        assert 0 <= word.start < word.end <= len(text)
        assert len(word.keys[0]) == len(word.origins)
        assert all(word.start <= place < word.end for place in word.origins)
    normalise_names(text)


@given(st.text(alphabet="abcdefghilmnoprstuvx ", max_size=40))
def test_backwards_is_the_text_from_its_end(text: str) -> None:
    """Read from its end, a text is what its letters give in that order."""
    assert normalise(text, backwards=True).text == normalise(text[::-1]).text


@given(st.text(alphabet="abcdehilmnoprstuvxyæ", min_size=1, max_size=14), st.integers(1, 14))
def test_an_unfinished_word_is_no_stranger(word: str, length: int) -> None:
    """What has been typed of a word so far begins, in some reading, like the whole word; or is it."""
    whole = keys_of(tuple(word))
    typed = tuple(word[:length])
    starts = {*beginnings(typed), *(key.text for key in keys_of(typed))}
    if whole and length >= len(word):
        assert any(key.text.startswith(start) for key in whole for start in starts)


@pytest.mark.parametrize(
    "word", ["gratia", "praesens", "iosephus", "sollempnis", "brandaan", "exsultationis"]
)
def test_words_are_found_as_they_are_typed(word: str) -> None:
    """From three letters on, every beginning of a word leads to it."""
    key = keys_of(tuple(word))[0].text
    for length in range(3, len(word) + 1):
        assert any(key.startswith(start) for start in beginnings(tuple(word[:length]))), word[:length]


@pytest.mark.parametrize(
    ("one", "other", "freely", "same"),
    [
        ("nociua", "nocina", False, True),  # DI 88/98: n for u
        ("tecum", "decum", False, True),  # bell of 1740: d for t
        ("manet", "mauet", False, True),  # DI 96/121: n upside down
        ("gloria", "glorie", False, False),
        ("gloria", "glorie", True, True),
        ("quadringentesimo", "quadrimgentesimo", False, True),
        ("maria", "marta", False, False),
        ("rex", "lex", True, False),
        ("dominus", "domius", False, True),
        ("dominus", "domi", True, False),
        ("*ria", "maria", False, True),
        ("*a", "maria", False, False),
        ("ma*a", "maria", False, True),
    ],
)
def test_slips_and_losses(one: str, other: str, *, freely: bool, same: bool) -> None:
    """One letter may be taken for a like one, or be wrong in a long word; half of a word must stand."""
    assert alike(one, other, freely=freely) is alike(other, one, freely=freely) is same
    if "*" in one:
        assert fits(one, other) is same
    else:
        assert (other in slips(one, freely=freely)) is same


def test_only_one_letter_is_taken_for_another() -> None:
    """What `slips` lists is what `alike` grants, over all words of one letter's difference."""
    for word in ("dominus", "tecum", "rex", "sanctus"):
        for freely in (False, True):
            assert all(alike(word, other, freely=freely) for other in slips(word, freely=freely))


def test_every_group_of_rules_names_its_source() -> None:
    """No rule of spelling stands without a source, or the words that it comes from memory."""
    assert len(spelling().sources) >= 20
    assert all(source.strip() for source in spelling().sources)


def test_positions_lead_to_the_letters() -> None:
    """A word found in the normalised text is marked in the diplomatic one."""
    text = "+ O REX GL(ORI)E | VENI"
    normal = normalise(text)
    at = normal.text.index("glorie")
    places = normal.origins[at : at + 6]
    assert "".join(text[place] for place in places) == "GLORIE"
    assert parse(text).problems == ()
