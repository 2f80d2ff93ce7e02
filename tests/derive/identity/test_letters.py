"""Letters, alignment and what a fragment says."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.identity.alignment import Fragment
from registry.derive.identity.facts import Facts
from registry.derive.identity.inscriptions import Texts
from registry.derive.identity.letters import UNREAD, pieces, plain_letters


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("+ A͡VE · MA[R]IA", "auemaria"),
        ("gl_r?a", "gl?r?a"),
        ("TE[.]VM", "te?um"),
        ("AVE [---] PLENA ... TECVM", "aue*plena*tecum"),
        ("AVE\n\nMARIA", "aue*maria"),
        ("ΚΥΡΙΕ ἐλέησον", "κυριεελεησον"),
        ("", ""),
    ],
)
def test_readings_are_reduced_to_letters(written: str, plain: str) -> None:
    """Marks, spaces and signs of an edition fall out; unread letters keep their place, gaps part the text."""
    assert plain_letters(written) == plain


@pytest.mark.parametrize(("one", "other"), [("Iesvs", "Jesus"), ("anno dñi", "anno domini"), ("goß", "gos")])
def test_spellings_of_one_word_are_one(one: str, other: str) -> None:
    """What the search takes for one word is one here too."""
    assert plain_letters(one) == plain_letters(other)


def test_a_gap_parts_a_text() -> None:
    """What stands before and after lost letters is read on its own; a gap alone leaves nothing."""
    assert pieces("aue*?plena?*tecum") == ("aue", "plena", "tecum")
    assert pieces("*") == pieces("") == pieces("??") == ()


@given(st.text(max_size=60))
def test_any_text_gives_letters(text: str) -> None:
    """Whatever is written gives letters, gaps and unread letters, and no spaces."""
    assert not set(plain_letters(text)) & set(" \n\t[]()")


def plainly(fragment: str, text: str) -> int:
    """Count the least changes by the textbook table, a row for each letter of the fragment."""
    row = [0] * (len(text) + 1)
    for at, letter in enumerate(fragment, start=1):
        before, row = row, [at]
        for place, other in enumerate(text, start=1):
            same = UNREAD in (letter, other) or letter == other
            row.append(min(before[place - 1] + (not same), before[place] + 1, row[-1] + 1))
    return min(row)


@given(st.text("abc?", min_size=1, max_size=70), st.text("abc?", max_size=40))
def test_alignment_agrees_with_the_textbook(fragment: str, text: str) -> None:
    """Myers' bits give what the table of P. H. Sellers (Journal of Algorithms 1 (1980) 359-373) gives."""
    assert Fragment(fragment).least_changes(text) == plainly(fragment, text)


def test_an_empty_fragment_is_refused() -> None:
    """A fragment has a letter."""
    with pytest.raises(ValueError, match="at least one letter"):
        Fragment("")


FORMULA = "ave maria gracia plena dominus tecum"


def texts(*inscriptions: str) -> Texts:
    """Lay out bells with one inscription each; an empty one is not on record."""
    return Texts([Facts(inscription=(plain_letters(text),) if text else ()) for text in inscriptions])


def read(found: str) -> Facts:
    """Give a find with this fragment."""
    return Facts(inscription=(plain_letters(found),))


def test_rare_words_say_more_than_a_formula() -> None:
    """What stands on one bell speaks for it more than what stands on thirty speaks for each of them."""
    register = texts(
        "hans meier burgermeister", *[FORMULA] * 30, *[f"soli deo gloria {n}" for n in range(30)]
    )
    rare = register.ratios(read("meier burgerm"))
    common = register.ratios(read("maria gracia p"))
    assert rare is not None
    assert common is not None
    assert rare[0] > common[1] + 2.0
    assert common[1] == pytest.approx(math.log(61 / 30), abs=0.8)


def test_a_misread_letter_costs_and_a_wrong_text_speaks_against() -> None:
    """Each letter misread takes some weight; another text speaks against the bell, but not without end."""
    register = texts("hans meier burgermeister", FORMULA, "")
    found = ("meier burger", "meier burgor", "neier burgor")
    exact, once, twice = (register.ratios(read(text)) for text in found)
    assert exact[0] > once[0] > twice[0]
    assert -5.0 < exact[1] < -2.0
    assert exact[2] == 0.0


def test_a_record_that_was_read_in_part_is_held_against_less() -> None:
    """Where a passage may be missing on record, a fragment that is not in it says less against the bell."""
    register = Texts(
        [Facts(inscription=(plain_letters(FORMULA),), inscription_gaps=gap) for gap in (0.04, 0.3)]
    )
    said = register.ratios(read("hans meier burgermeister"))
    assert said[0] < said[1] < 0.0


def test_no_words_is_a_fact_too() -> None:
    """A find without words speaks for a bell looked over and found without, against one with words."""
    register = Texts([Facts(wordless=True), Facts(inscription=(plain_letters(FORMULA),)), Facts()])
    bare, worded = register.ratios(Facts(wordless=True)), register.ratios(read("maria gracia"))
    assert bare[0] > 1.0
    assert bare[2] == 0.0 > bare[1]
    assert worded[0] < -2.0
    assert worded[2] == 0.0


@pytest.mark.parametrize("fragment", ["ab", "[---]", "···", ""])
def test_too_little_to_read_says_nothing(fragment: str) -> None:
    """A fragment of fewer than four letters is not compared at all."""
    assert texts(FORMULA).ratios(read(fragment)) is None


@given(st.permutations([FORMULA, "soli deo gloria", "hans meier", "", "vivos voco"]))
def test_the_order_of_the_records_says_nothing(order: list[str]) -> None:
    """Shuffled records get the same factors, shuffled."""
    said = texts(*order).ratios(read("dominus tec"))
    usual = texts(*sorted(order)).ratios(read("dominus tec"))
    places = [order.index(text) for text in sorted(order)]
    assert np.allclose(said[places], usual)
