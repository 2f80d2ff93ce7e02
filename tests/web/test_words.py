"""Inscriptions on the pages: hits marked and escaped, readings apart from what was seen, formulas listed."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
import yaml
from specimens import bell, visit

from registry.web.app import make_datasette

INSCRIPTIONS = {
    "rex": [{"transcription": "+ O REX GL(ORI)E VENI CV(M) PACE [---] 1[4]98"}],
    "damaged": [{"transcription": "[---]ria ple[na] dñs t[e]cum"}, {"transcription": "HANS GOS MICH"}],
    "retrograde": [{"transcription": "ECAP MVC INEV EIROLG XER O", "direction": "retrograde"}],
    "initials": [{"transcription": "1583 V D M I E"}],
    "hostile": [
        {"transcription": '<script>alert("maria")</script> <b>MARIA</b> & maria\'s [', "remarks": "<i>x</i>"}
    ],
    "read": [
        {"transcription": "ihs", "expansion": "Jesus ist <unser> Heil", "translation": "Our <salvation>"}
    ],
    "plain": [{"transcription": "FRIEDE AUF ERDEN"}],
}


@pytest.fixture(scope="module")
def get(tmp_path_factory: pytest.TempPathFactory, loading, asking) -> Iterator:
    """Ask the site of a registry of inscribed bells."""
    bells = [
        bell(
            name,
            yaml.safe_dump(
                {
                    "inscriptions": [
                        {"number": at, "place": "waist", **fields} for at, fields in enumerate(told, 1)
                    ]
                },
                allow_unicode=True,
            ),
        )
        for name, told in INSCRIPTIONS.items()
    ]
    path = loading({"words.yaml": visit("words", *bells)}, tmp_path_factory.mktemp("words") / "words.db")
    with asking(make_datasette(Path(path))) as function:
        yield function


def marked(text: str) -> list[str]:
    """List what is marked on a page."""
    return [unescape(each) for each in re.findall("<mark>(.*?)</mark>", text, re.DOTALL)]


def test_hits_stand_beneath_the_bells_found(get) -> None:
    """The list shows of each bell the words that answer, in the diplomatic text."""
    page = get("/bells", params={"text": "gloria"}).text
    assert marked(page) == ["[---]ria", "EIROLG", "GL(ORI)E"]
    page = get("/bells", params={"text": "o rex glorie criste"}).text
    assert marked(page) == ["ECAP MVC INEV EIROLG XER O", "O REX GL(ORI)E VENI CV(M) PACE"]
    page = get("/bells", params={"formula": "verbum-domini"}).text
    assert marked(page) == ["V D M I E"]
    page = get("/bells", params={"text": "HANS G", "exact": "yes"}).text
    assert marked(page) == ["HANS G"]


def test_a_reading_answers_where_the_letters_do_not(get) -> None:
    """What a surveyor read out or translated is told as such."""
    page = get("/bells", params={"text": "heil"}).text
    assert marked(page) == ["Heil"]
    assert "read out" in page
    page = get("/bells", params={"text": "salvation"}).text
    assert marked(page) == ["salvation"]
    assert ", translation:" in page


@pytest.mark.parametrize(
    "address", ["/bells?text=maria", "/bells?text=%3Cscript%3E", "/bell/hostile?text=maria", "/bell/hostile"]
)
def test_nothing_of_an_inscription_becomes_markup(get, address: str) -> None:
    """Brackets, quotes and ampersands of a transcription stay text, marked or not."""
    answer = get(address)
    assert answer.status_code == 200
    assert "<script>" not in answer.text
    assert not re.search(r"<b>MARIA|<i>x", answer.text)


def test_hits_in_hostile_text_are_marked_where_they_stand(get) -> None:
    """Marks go round the words, with everything between them still escaped."""
    assert marked(get("/bell/hostile?text=maria").text) == ["maria", "maria"]


def test_links_carry_the_words_to_the_page_of_the_bell(get) -> None:
    """The page of a bell marks what led to it."""
    page = get("/bells", params={"text": "plena"}).text
    (link,) = re.findall(r'href="(/bell/damaged\?[^"]*)"', page)
    assert marked(get(unescape(link).split("#")[0]).text) == ["ple[na]"]
    assert marked(get("/bell/damaged").text) == []


def test_what_follows_is_kept_apart_from_what_was_seen(get) -> None:
    """Signs are explained where they stand; reading text and formula are marked as computed."""
    page = get("/bell/rex").text
    for sign, meaning in (("(abc)", "abbreviation filled in"), ("[---]", "lost, nobody knows how much")):
        assert f"<dt>{sign}</dt><dd>{meaning}</dd>" in page
    assert "uncertain letter" not in page
    follows = page[page.index('<div class="follows is-computed">') :]
    assert "O REX GLORIE VENI CVM PACE […] 1498" in follows
    assert 'href="/formula/o-rex-gloriae"' in follows
    assert "O King of glory" in follows
    assert "<code>o rex glorie ueni cum pace [---] 1498</code>" in page
    assert '<div class="follows' not in get("/bell/plain").text


def test_a_line_that_runs_backwards_is_read_from_its_end(get) -> None:
    """A retrograde line is shown in the order in which it is read, and as it stands."""
    page = get("/bell/retrograde").text
    assert "ECAP MVC INEV EIROLG XER O" in page
    assert re.search(r"Read from its end:</span> <span[^>]*>O REX GLORIE VENI CVM PACE<", page)


def test_formulas_are_listed_with_their_bells(get) -> None:
    """Every formula has its meaning, source and count, and leads to the bells that carry it."""
    page = get("/formulas").text
    rows = re.findall(
        r'href="/formula/([a-z-]+)".*?<td class="amount is-computed">(\d+)</td>', page, re.DOTALL
    )
    assert rows[0] == ("o-rex-gloriae", "2")
    assert dict(rows)["verbum-domini"] == "1"
    assert dict(rows)["ave-maria"] == "1"
    assert dict(rows)["spes-mea"] == "0"
    page = get("/formula/o-rex-gloriae").text
    assert marked(page) == ["ECAP MVC INEV EIROLG XER O", "O REX GL(ORI)E VENI CV(M) PACE"]
    assert "2 inscriptions on 2 bells" in page
    assert "read from the end" in page
    assert 'href="/bells?formula=o-rex-gloriae"' in page
    assert "No bell of this registry carries it" in get("/formula/spes-mea").text
    assert get("/formula/no-such-formula").status_code == 404


def test_formulas_are_a_facet(get) -> None:
    """The search can be narrowed to the bells of one formula."""
    page = get("/bells").text
    assert re.search(r'href="/bells\?formula=verbum-domini">Verbum Domini', page)
    assert "none recognised" in page


def test_files_carry_the_hits(get) -> None:
    """JSON tells where in which text the words stand."""
    told = get("/bells.json", params={"text": "plena"}).json()
    (hit,) = told["hits"]["damaged"]
    assert hit["field"] == "transcription"
    (begin, end) = hit["marks"][0]
    assert hit["text"][begin:end] == "ple[na]"
    assert get("/bells.json").json()["hits"] == {}


@pytest.mark.parametrize(
    "text", ['"', "[", "[---]", "a" * 200, "مريم", "🔔", "\u202e", "AND OR", "%00", "<mark>", "{{ 7*7 }}"]
)
def test_any_words_give_a_page(get, text: str) -> None:
    """Whatever is typed, both pages are there."""
    assert get("/bells", params={"text": text}).status_code == 200
    assert get("/bells", params={"text": text, "exact": "yes"}).status_code == 200
    assert get("/bell/hostile", params={"text": text}).status_code == 200
