"""Codes of languages, scripts and countries are those of the registers, and near misses get a suggestion."""

import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.model.codes import (
    canonical_language,
    country_name,
    is_country,
    is_language,
    is_script,
    language_name,
    script_name,
    suggest_country,
    suggest_language,
    suggest_script,
)


@pytest.mark.parametrize(
    ("tag", "name"),
    [
        # present and historical languages, ISO 639
        ("la", "Latin"),
        ("de", "German"),
        ("en", "English"),
        ("gmh", "Middle High German (ca. 1050-1500)"),
        ("goh", "Old High German (ca. 750-1050)"),
        ("gml", "Middle Low German"),
        ("enm", "Middle English (1100-1500)"),
        ("dum", "Middle Dutch (ca. 1050-1350)"),
        ("fro", "Old French (842-ca. 1400)"),
        ("grc", "Ancient Greek (to 1453)"),
        ("chu", None),  # the shortest code is cu
        ("cu", "Church Slavic"),
        ("gem", "Germanic languages"),
        ("mul", "Multiple languages"),
        ("und", "Undetermined"),
        ("zxx", "No linguistic content"),
        # with script and region
        ("de-Latf", "German, Latin (Fraktur variant)"),
        ("de-AT", "German, Austria"),
        ("de-Latf-AT", "German, Latin (Fraktur variant), Austria"),
        ("es-419", "Spanish, 419"),
        ("de-DD", "German, DD"),
        # variants and extensions, RFC 5646, appendix A
        ("sl-rozaj-biske", "Slovenian"),
        ("de-CH-1901", "German, Switzerland"),
        ("de-DE-u-co-phonebk", "German, Germany"),
        ("de-CH-x-phonebk", "German, Switzerland"),
        # private use
        ("x-whatever", "private use (x-whatever)"),
        ("qaa", "private use (qaa)"),
    ],
)
def test_languages(tag: str, name: str | None) -> None:
    """A tag of registered parts is known by name; a longer code for a language with a shorter one is not."""
    assert is_language(tag) is (name is not None)
    assert language_name(tag) == name


@pytest.mark.parametrize(
    "tag",
    [
        "", "-", "d", "xx", "xyz1", "deu", "ger", "german", "de_DE", "de-", "-de", "de--AT", "de-XX",
        "de-Xxxx", "de-AT-Latf", "de-419-DE", "a-DE", "ar-a-aaa-b-bbb-a-ccc", "de-1901-1901", "x-", "x",
        "x-ninechars", "i-klingon", "zh-yue", "de-u", "de-x", "de AT", "de\n", "dé", "ſl", "\u212al",
        "de-" + "a" * 100,
    ],
)  # fmt: skip
def test_what_is_no_language(tag: str) -> None:
    """Tags that RFC 5646 calls invalid, unregistered parts and look-alikes are refused."""
    assert not is_language(tag)
    assert language_name(tag) is None


def test_capitals_do_not_matter_in_tags() -> None:
    """A tag in any capitals is the same tag (RFC 5646, section 2.1.1), and has one recommended form."""
    for tag in ("DE-LATF-at", "de-latf-AT", "De-Latf-At"):
        assert is_language(tag)
        assert canonical_language(tag) == "de-Latf-AT"
    assert canonical_language("EN-CA-X-CA") == "en-CA-x-ca"
    assert canonical_language("AZ-latn-x-LATN") == "az-Latn-x-latn"
    assert canonical_language("MN-cYRL-mn") == "mn-Cyrl-MN"


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("Latn", "Latin"),
        ("Latf", "Latin (Fraktur variant)"),
        ("Grek", "Greek"),
        ("Cyrl", "Cyrillic"),
        ("Qaab", "private use (Qaab)"),
        ("latn", None),
        ("LATN", None),
        ("Latin", None),
        ("Xxxx", None),
        ("", None),
        ("Latn\n", None),
    ],
)
def test_scripts(code: str, name: str | None) -> None:
    """A script code is written and registered as in ISO 15924."""
    assert is_script(code) is (name is not None)
    assert script_name(code) == name


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("AT", "Austria"),
        ("GB", "United Kingdom"),
        ("NO", "Norway"),
        ("CZ", "Czechia"),
        ("at", None),
        ("AUT", None),
        ("UK", None),
        ("DD", None),
        ("ZZ", "code of the users' own (ZZ)"),
        ("XK", "code of the users' own (XK)"),
        ("QM", "code of the users' own (QM)"),
        ("QL", None),
        ("AB", None),
        ("", None),
        ("AT\n", None),
    ],
)
def test_countries(code: str, name: str | None) -> None:
    """A country code is one of ISO 3166-1 today, or one that it leaves to its users, in capitals."""
    assert is_country(code) is (name is not None)
    assert country_name(code) == name


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("deu", "de"),
        ("ger", "de"),
        ("German", "de"),
        ("LATIN", "la"),
        ("Latni", "la"),
        ("Middle High German", "gmh"),
        ("de_AT", "de-AT"),
        ("ger-Latf", "de-Latf"),
        ("chu", "cu"),
        ("qqqqqq", None),
        ("", None),
    ],
)
def test_suggestions_for_languages(text: str, suggestion: str | None) -> None:
    """A name, a longer code or a slip of the pen leads to the tag; what is like nothing leads nowhere."""
    assert suggest_language(text) == suggestion


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("latn", "Latn"),
        ("Latin", "Latn"),
        ("Fraktur", "Latf"),
        ("greek", "Grek"),
        ("Cyrilic", "Cyrl"),
        ("?", None),
    ],
)
def test_suggestions_for_scripts(text: str, suggestion: str | None) -> None:
    """A name or a code without its capital leads to the script."""
    assert suggest_script(text) == suggestion


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("at", "AT"),
        ("AUT", "AT"),
        ("austria", "AT"),
        ("Germny", "DE"),
        ("UK", "GB"),
        ("Scotland", "GB"),
        ("Atlantis", None),
    ],
)
def test_suggestions_for_countries(text: str, suggestion: str | None) -> None:
    """A name or another code leads to the country."""
    assert suggest_country(text) == suggestion


@settings(deadline=None)
@given(st.one_of(st.text(max_size=20), st.text("adeltn-AT019x", max_size=14)))
def test_any_text_is_a_tag_or_not(text: str) -> None:
    """No text breaks the checks, a suggestion is always registered, and canonical form keeps validity."""
    assert not is_language(text) or is_language(canonical_language(text))
    for suggestion, known in (
        (suggest_language(text), is_language),
        (suggest_script(text), is_script),
        (suggest_country(text), is_country),
    ):
        assert suggestion is None or known(suggestion)


def test_the_registers_load_late() -> None:
    """Importing the module does not load the library of the registers, which takes long."""
    program = "import sys, registry.model.codes; print('pycountry' in sys.modules)"
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "False"
