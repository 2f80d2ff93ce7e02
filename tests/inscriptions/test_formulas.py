"""Recurrent formulas are recognised in every published spelling, and not where they do not stand."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.inscriptions.formulas import formulas, recognise
from registry.inscriptions.matching import exact_spans, excerpt, parts_of, question, spans, stand_in_gaps

TABLES = Path(__file__).resolve().parent / "tables"


def published(name: str) -> list[dict[str, str]]:
    """Read a table of published inscriptions."""
    with (TABLES / name).open(encoding="utf-8", newline="") as lines:
        return [*csv.DictReader(line for line in lines if not line.startswith("#"))]


ROWS = [row for row in published("formula_spellings.csv") if row["formula"]]
INSCRIPTIONS = published("formula_inscriptions.csv")


@pytest.mark.parametrize("row", ROWS, ids=[row["spelling"] for row in ROWS])
def test_published_spellings_are_recognised(row: dict[str, str]) -> None:
    """Each spelling is recognised as its formula, also from its end."""
    assert [each.formula.id for each in recognise(row["spelling"])] == [row["formula"]]
    if not set("()") & set(row["spelling"]) and row["formula"] != "verbum-domini":
        (found,) = recognise(row["spelling"][::-1])
        assert (found.formula.id, found.backwards) == (row["formula"], True)


@pytest.mark.parametrize("row", INSCRIPTIONS, ids=[row["source"] for row in INSCRIPTIONS])
def test_formulas_are_recognised_in_whole_inscriptions(row: dict[str, str]) -> None:
    """Dates, names and other words beside a formula neither hide it nor make another."""
    assert [each.formula.id for each in recognise(row["inscription"])] == row["formula"].split()


@pytest.mark.parametrize(
    ("text", "formula", "where"),
    [
        ("o rex glorie xpe veni cū pace", "o-rex-gloriae", "o rex glorie xpe veni cū pace"),
        ("OREXGLORIEVENICVMPACE 1500", "o-rex-gloriae", "OREXGLORIEVENICVMPACE"),
        ("anno dni 1490 o rex glo[---] pace hans", "o-rex-gloriae", "o rex glo[---] pace"),
        ("o gor rex gloru criste uem abrinn pate", "o-rex-gloriae", "o gor rex gloru criste uem abrinn pate"),
        ("V.D.M.I.E.", "verbum-domini", "V.D.M.I.E."),
        ("1583 VDMIE", "verbum-domini", "VDMIE"),
        ("verbū dñi manet in eternū", "verbum-domini", "verbū dñi manet in eternū"),
        ("V D M I Æ", "verbum-domini", "V D M I Æ"),
        ("V D M I AE 1600", "verbum-domini", "V D M I AE"),
        ("IHS NAZ REX IVD", "titulus-triumphalis", "IHS NAZ REX IVD"),
        ("AVE MARIA [---]", "ave-maria", "AVE MARIA"),
        ("ΛVE MΛRIΛ GRΛTIΛ PLEИΛ", "ave-maria", "ΛVE MΛRIΛ GRΛTIΛ PLEИΛ"),
        ("AVE MARIA GRA PLENA DNS TECV", "ave-maria", "AVE MARIA GRA PLENA DNS TECV"),
        ("I N R I", "titulus-triumphalis", "I N R I"),
        ("S MARCVS S LVCAS S MATEVS S IOHES", "evangelists", "MARCVS S LVCAS S MATEVS S IOHES"),
        ("kaspar melchior baltasar", "three-kings", "kaspar melchior baltasar"),
        ("[---]ria ple[na]", "ave-maria", "---]ria ple[na"),
        ("sit nomen dñi bñdictum", "sit-nomen", "sit nomen dñi bñdictum"),
        ("sca barbara ora p nobis", "ora-pro-nobis", "ora p nobis"),
        ("sca barbara ora ꝓ nobis", "ora-pro-nobis", "ora ꝓ nobis"),
        ("sca barbara ora pro nob'", "ora-pro-nobis", "ora pro nob'"),
    ],
)
def test_other_ways_to_write_them(text: str, formula: str | None, where: str) -> None:
    """Abbreviated, run together, damaged, as initials, in another order: recognised, and bounded."""
    found = recognise(text)
    assert [each.formula.id for each in found] == ([formula] if formula else [])
    for each in found:
        assert text[each.start : each.end] == where


@pytest.mark.parametrize(
    "text",
    [
        "", "GOTT ALLEIN DIE EHR", "THE GIFT OF MANY HANDS 1902", "ave maria", "PEACE & GOOD WILL 1787",
        "maria · es · minen · naem", "IN DEO", "SANCTA MARIA", "O MARIA", "a b c d e f g h i", "vox mea vita",
        "[---] MARIA", "CASPAR GOS MICH", "LVCAS CRANACH", "IN GOTTES NAMEN FLOS ICH", "vidme", "Inri",
        "SOLI DEO GLORIA", "anno domini millesimo quingentesimo", "REX", "dominus",
    ],
)  # fmt: skip
def test_chance_is_no_formula(text: str) -> None:
    """A word or two that formulas also have do not make one."""
    assert recognise(text) == ()


@given(st.text(alphabet="aeioruvxglncmp[]-. \u0304", max_size=60))
def test_recognising_never_fails(text: str) -> None:
    """Any text is looked at; what is found lies in it, and a share is a share."""
    for each in recognise(text):
        assert 0 <= each.start < each.end <= len(text)
        assert 0 < each.share <= 1


def test_every_formula_is_complete_and_recognises_itself() -> None:
    """Each has a meaning and a published source, and is found in its own text."""
    for id_, formula in formulas().items():
        assert formula.meaning
        assert formula.source
        assert formula.language == "la"
        assert id_ in {each.formula.id for each in recognise(formula.text)}


@pytest.mark.parametrize(
    ("asked", "text", "marked"),
    [
        ("gloria", "+ gl(ori)a t(i)bi", ["gl(ori)a"]),
        ("dominus", "in d(omi)n(u)s [d(omi)n(u)s] dñs", ["d(omi)n(u)s", "[d(omi)n(u)s]", "dñs"]),
        ("plena", "[---]ria ple[na] x", ["ple[na]"]),
        ("o rex glorie criste", "AVE O REX GLORIE VENI CVM PACE 1500", ["O REX GLORIE VENI CVM PACE"]),
        ("verbum domini manet in aeternum", "1583 V D M I E hans", ["V D M I E"]),
        ("vivosvoco", "VIVOS VOCO", ["VIVOS VOCO"]),
        ("brand", "IC HETE BRANDAAN", ["BRANDAAN"]),
        ("nichts", "AVE MARIA", []),
    ],
)
def test_hits_are_marked_in_the_diplomatic_text(asked: str, text: str, marked: list[str]) -> None:
    """What answers is marked with the signs that belong to it, and nothing of the text is lost."""
    parts = parts_of(text, spans(question(asked), text))
    assert [part.text for part in parts if part.marked] == marked
    assert "".join(part.text for part in parts) == text


def test_retrograde_hits_are_marked_where_they_stand() -> None:
    """A line that runs backwards is marked at the letters that answer from its end."""
    parts = parts_of("AVE AIRAM", spans(question("maria"), "AVE AIRAM", also_backwards=True))
    assert [part.text for part in parts if part.marked] == ["AIRAM"]
    assert spans(question("maria"), "AVE AIRAM") == ()


def test_exact_hits() -> None:
    """Exactly the letters that stand there are marked, wherever the edition has filled in between."""
    parts = parts_of("gl(ori)e GLE gle", exact_spans("gle", "gl(ori)e GLE gle"))
    assert [part.text for part in parts if part.marked] == ["gl(ori)e", "gle"]
    assert exact_spans("REX", "O REX\u0305 x") == ((2, 6),)
    assert exact_spans("REX\u0305", "O REX\u0305 x") == ((2, 6),)
    assert exact_spans("REX", "O XER") == ()
    assert exact_spans("REX", "O XER", also_backwards=True) == ((2, 5),)


def test_excerpts_keep_what_is_marked() -> None:
    """Long texts are shortened between the hits, never in one."""
    text = "wort " * 60 + "AVE " + "wort " * 60 + "AVE" + " wort" * 60
    parts = excerpt(parts_of(text, spans(question("ave"), text)))
    assert [part.text for part in parts if part.marked] == ["AVE", "AVE"]
    assert len("".join(part.text for part in parts)) < 300


@pytest.mark.parametrize(
    ("asked", "words", "stands"),
    [
        ("gratia plena", [["*ria"], ["plena"]], True),
        ("sancta barbara ora", [["sancta"], ["barbara"], ["*"]], True),
        ("sancta barbara ora", [["*"], ["sancta"], ["barbara"]], False),
        ("sancta maria barbara", [["sancta"], ["*"], ["barbara"]], True),
        ("sancta maria barbara", [["sancta"], ["barbara"], ["*"]], False),
        ("sancta barbara", [["sancta"], ["barbara"], ["*"]], False),
        ("ora pro", [["ora"], ["*"]], False),
    ],
)
def test_what_may_have_stood_in_a_gap(asked: str, words: list[list[str]], stands: bool) -> None:
    """What is missing must meet a gap in its place, and enough must stand; whole texts need no gap."""
    assert stand_in_gaps(question(asked), words) is stands
