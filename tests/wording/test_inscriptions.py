"""Inscriptions in words: signs explained, readings only where they say more, formulas with how they stand."""

from typing import Any

import pytest

from registry.inscriptions.answers import AskedWords
from registry.store.text_hits import Hit
from registry.wording.inscriptions import hits_shown, inscription_shown, signs_in, told_how


def row(text: str | None, **more: Any) -> dict[str, Any]:
    """Make the row of an inscription."""
    return {"transcription": text, "direction": None, **more}


def test_signs_are_explained_where_they_stand() -> None:
    """The legend names each sign once, in its own order, and no other."""
    told = signs_in(["a[b] (c)", None, "[..] +++ x|y", "ạ⟦b⟧ {c} <d> `e´ f͡g // [---]"])
    assert [sign.sign for sign in told] == [
        "(abc)", "[abc]", "[...]", "[---]", "+++", "ạ", "⟦abc⟧", "`abc´", "{abc}", "<abc>", "a͡b", "|", "||",
    ]  # fmt: skip
    assert signs_in(["AVE · MARIA\nGRATIA"]) == []


@pytest.mark.parametrize(
    ("text", "more", "reading", "backwards"),
    [
        ("FRIEDE AUF ERDEN", {}, None, False),
        ("gl(ori)a", {}, "gloria", False),
        ("XER", {"direction": "retrograde"}, "REX", True),
        ("XER", {"direction": "mixed"}, None, False),
        ("ECAP MVC INEV EIROLG XER O", {}, "O REX GLORIE VENI CVM PACE", True),
        ("O REX GLORIE VENI CVM PACE", {"direction": "mirrored"}, None, False),
        (None, {}, None, False),
    ],
)
def test_a_reading_is_given_where_it_says_more(
    text: str | None, more: dict[str, Any], reading: str | None, *, backwards: bool
) -> None:
    """A reading stands where signs are resolved or the line is turned; a formula tells which way it runs."""
    shown = inscription_shown(row(text, **more))
    assert (shown.reading, shown.backwards) == (reading, backwards)
    assert not shown.answers


def test_what_answers_is_marked() -> None:
    """Words that were asked for are cut out of the diplomatic text, which stays whole."""
    shown = inscription_shown(row("+ gl(ori)a t(i)bi"), AskedWords("gloria"))
    assert [part.text for part in shown.parts if part.marked] == ["gl(ori)a"]
    assert "".join(part.text for part in shown.parts) == "+ gl(ori)a t(i)bi"
    assert shown.answers


def test_formulas_say_how_they_stand() -> None:
    """Whole, in part, by initials or from the end."""
    assert told_how(1.0, "words", backwards=False) == "whole"
    assert told_how(0.62, "words", backwards=True) == "62% of its letters, read from the end"
    assert told_how(1.0, "initials", backwards=False) == "by its initials"
    (found,) = inscription_shown(row("gl(ori)e veni cv(m)")).formulas
    assert (found.formula.id, found.how) == ("o-rex-gloriae", "62% of its letters")


def test_hits_are_shortened_between_the_marks() -> None:
    """A long inscription is cut to what is around the hit."""
    text = "lorem " * 50 + "MARIA" + " ipsum" * 50
    hit = Hit(1, "waist", "s", "transcription", text, ((300, 305),), None, None)
    (shown,) = hits_shown({"b": [hit]})["b"]
    assert [part.text for part in shown.parts if part.marked] == ["MARIA"]
    assert sum(len(part.text) for part in shown.parts) < 150
