"""Number words of languages in which bells are dated beside Latin.

They are German, Dutch, French, English, Italian and Spanish.

Sources, from memory for the older spellings: H. Paul, Deutsche Grammatik; A. van Loey, Middelnederlandse
spraakkunst; G. Zink, Morphologie du français médiéval; Oxford English Dictionary, under each number. The
words of today are checked against an independent speller of numbers. Spelling is levelled before words are
compared: v and f, i, j, y and ij, s and z, th and t, single and double letters.
"""

import re
from functools import cache, lru_cache

from registry.derive.dating.sums import Sign

WORDS = {
    "German": {
        1: "ein eins eyn erst ersten", 2: "zwei zwo zwey zwen ander anderen",
        3: "drei drey dritt dritten dry",
        4: "vier", 5: "fünf fuenf funf finf vif", 6: "sechs ses sees sechst",
        7: "sieben seven siben soven sibent",
        8: "acht", 9: "neun nun nuen neyn negen", 10: "zehn zehen zen tein teyn", 11: "elf eilf eylf",
        12: "zwölf zwolf zwelf twelf", 13: "dreizehn dreizehen drittein dreyzehn",
        14: "vierzehn vierzehen vertein",
        15: "fünfzehn funfzehn fünfzehen fuffzehn vefftein vifftein",
        16: "sechzehn sechszehn sechzehen sestein",
        17: "siebzehn siebenzehn siebzehen seventein", 18: "achtzehn achtzehen achtein",
        19: "neunzehn neunzehen negentein", 20: "zwanzig zwentzig twintig twyntig zwenzig",
        30: "dreißig dreissig dreisig drittig druttig dortig", 40: "vierzig vertig viertzig",
        50: "fünfzig funfzig fünffzig vefftig fuffzig vofftig", 60: "sechzig sechszig sestig sostig",
        70: "siebzig siebenzig seventig soventig", 80: "achtzig achtentig tachtentig achttzig",
        90: "neunzig negentig neuntzig", 100: "hundert hundred hondert hunderd undert",
        1000: "tausend tusent tusend dusent tausent dusend",
    },
    "Dutch": {
        1: "een eerste", 2: "twee tweede", 3: "drie dry derde", 4: "vier vierde", 5: "vijf vyf", 6: "zes ses",
        7: "zeven seven seuen", 8: "acht", 9: "negen neghen", 10: "tien thien", 11: "elf",
        12: "twaalf twaelf",
        13: "dertien", 14: "veertien viertien", 15: "vijftien", 16: "zestien", 17: "zeventien",
        18: "achttien",
        19: "negentien", 20: "twintig", 30: "dertig", 40: "veertig viertig", 50: "vijftig",
        60: "zestig tsestig",
        70: "zeventig tseventig", 80: "tachtig tachentig tachtentig", 90: "negentig tnegentig",
        100: "honderd hondert onderd ondert", 1000: "duizend duysent dusent duisent duyst",
    },
    "French": {
        1: "un une ung premier", 2: "deux second", 3: "trois troys tiers", 4: "quatre quattre",
        5: "cinq cincq",
        6: "six sis", 7: "sept", 8: "huit huict", 9: "neuf", 10: "dix", 11: "onze unze", 12: "douze doze",
        13: "treize trese", 14: "quatorze quatorse", 15: "quinze", 16: "seize sèze",
        20: "vingt vint vingts vins vingtz",
        30: "trente", 40: "quarante", 50: "cinquante", 60: "soixante", 70: "septante", 80: "huitante octante",
        90: "nonante", 100: "cent cens cents centz", 1000: "mil mille milles",
    },
    "English": {
        1: "one first", 2: "two second", 3: "three third", 4: "four fourth fower", 5: "five fifth",
        6: "six sixth",
        7: "seven seventh", 8: "eight eighth", 9: "nine ninth", 10: "ten tenth", 11: "eleven",
        12: "twelve twelfth",
        13: "thirteen", 14: "fourteen", 15: "fifteen", 16: "sixteen", 17: "seventeen", 18: "eighteen",
        19: "nineteen", 20: "twenty twentieth score scoore", 30: "thirty thirtieth",
        40: "forty fourty fortieth",
        50: "fifty fiftieth", 60: "sixty sixtieth", 70: "seventy seventieth", 80: "eighty eightieth",
        90: "ninety ninetieth", 100: "hundred hundreth hundredth", 1000: "thousand thousandth",
    },
    "Italian": {
        1: "uno un primo", 2: "due secondo", 3: "tre terzo", 4: "quattro", 5: "cinque", 6: "sei", 7: "sette",
        8: "otto", 9: "nove", 10: "dieci", 11: "undici", 12: "dodici", 13: "tredici", 14: "quattordici",
        15: "quindici", 16: "sedici", 17: "diciassette", 18: "diciotto", 19: "diciannove", 20: "venti vent",
        30: "trenta trent", 40: "quaranta quarant", 50: "cinquanta cinquant", 60: "sessanta sessant",
        70: "settanta settant", 80: "ottanta ottant", 90: "novanta novant", 100: "cento cent",
        1000: "mille mila",
    },
    "Spanish": {
        1: "uno un primero", 2: "dos", 3: "tres", 4: "cuatro quatro", 5: "cinco", 6: "seis", 7: "siete",
        8: "ocho",
        9: "nueve", 10: "diez", 11: "once", 12: "doce doze", 13: "trece treze", 14: "catorce", 15: "quince",
        16: "dieciséis", 17: "diecisiete", 18: "dieciocho", 19: "diecinueve", 20: "veinte", 21: "veintiuno",
        22: "veintidós", 23: "veintitrés", 24: "veinticuatro", 25: "veinticinco", 26: "veintiséis",
        27: "veintisiete", 28: "veintiocho", 29: "veintinueve", 30: "treinta", 40: "cuarenta quarenta",
        50: "cincuenta cinquenta", 60: "sesenta", 70: "setenta", 80: "ochenta", 90: "noventa",
        100: "cien ciento",
        200: "doscientos", 300: "trescientos", 400: "cuatrocientos", 500: "quinientos", 600: "seiscientos",
        700: "setecientos", 800: "ochocientos", 900: "novecientos", 1000: "mil",
    },
}  # fmt: skip

MULTIPLYING = frozenset({100, 1000})
SCORES = frozenset({"vingt", "vint", "vingts", "vins", "vingtz", "score", "scoore"})
JOINING = frozenset(
    (
        "und",
        "vnd",
        "unnd",
        "vnnd",
        "undt",
        "vndt",
        "unde",
        "vnde",
        "vn",
        "ende",
        "en",
        "end",
        "and",
        "et",
        "ac",
        "&",
        "y",
    )
)

JOINED = frozenset(("und", "unde", "ende", "en", "end", "et"))
"""The same inside one word, levelled."""

ORDINAL_ENDINGS = {
    "German": ("sten", "stem", "ste", "ten", "te"),
    "Dutch": ("sten", "ste", "den", "de"),
    "French": ("iesme", "ieme"),
    "English": ("eth", "th"),
    "Italian": ("esimo", "esima"),
}

_SPELLINGS = (
    (re.compile("ß"), "ss"),
    (re.compile("vv"), "w"),
    (re.compile("ij|y|j"), "i"),
    (re.compile("v(?=[aeiou])|(?<![a-z])u(?=[ei])"), "f"),
    (re.compile("v"), "u"),
    (re.compile(r"(?<![a-z])tz|cz|z"), "s"),
    (re.compile("th"), "t"),
    (re.compile("gh(?!t)"), "g"),
    (re.compile("ck"), "k"),
    (re.compile("ich(?=$|s)"), "ig"),
    (re.compile(r"(.)\1+"), r"\1"),
)


def levelled(word: str) -> str:
    """Bring a word to the one spelling in which words of these languages are compared."""
    word = word.casefold()
    for pattern, letters in _SPELLINGS:
        word = pattern.sub(letters, word)
    return word


_MARKS = str.maketrans("äöüéèêëïôûçáíóúñ", "aoueeeeioucaioun")


@cache
def _forms() -> dict[str, dict[str, tuple[str, int, bool]]]:
    forms: dict[str, dict[str, tuple[str, int, bool]]] = {}
    for language, numbers in WORDS.items():
        known = forms.setdefault(language, {})
        for value, words in numbers.items():
            for word in words.split():
                times = value in MULTIPLYING or word in SCORES
                known.setdefault(levelled(word.casefold().translate(_MARKS)), (word, value, times))
    return forms


@lru_cache(maxsize=8192)
def joins(word: str) -> bool:
    """Say whether a word stands for "and" between numbers."""
    return word.casefold().replace("¯", "") in JOINING


@lru_cache(maxsize=4096)
def vernacular_signs(word: str) -> tuple[tuple[str, tuple[Sign, ...]], ...]:
    """Read a word, or several written as one, as numbers: with each language in which it is one."""
    if not 2 <= len(word) <= 80:
        return ()
    plain = levelled(word.casefold().translate(_MARKS).rstrip("°").replace("^", "").replace("¯", "n"))
    read = {language: _parted(plain, forms) for language, forms in _forms().items()}
    if not any(read.values()):
        read = {language: _ordinal(plain, language) for language in ORDINAL_ENDINGS}
    found: list[tuple[str, tuple[Sign, ...]]] = []
    for language, parts in read.items():
        if parts:
            whole = [(word, *parts[0][1:])] if len(parts) == 1 else parts
            signs = tuple(Sign("times" if times else "word", value, text) for text, value, times in whole)
            if all(signs != others for _, others in found):
                found.append((language, signs))
    return tuple(found)


Parts = list[tuple[str, int, bool]]


def _ordinal(word: str, language: str) -> Parts | None:
    """Read a number with the ending of an ordinal; French drops an e before it."""
    forms = _forms()[language]
    for ending in ORDINAL_ENDINGS[language]:
        if word.endswith(ending) and len(word) > len(ending) + 2:
            base = word[: -len(ending)]
            parts = _parted(base + "e", forms) if language in ("French", "Italian") else None
            parts = parts or _parted(base, forms)
            if parts:
                return parts
    return None


def _parted(word: str, forms: dict[str, tuple[str, int, bool]], before: int = 0) -> Parts | None:
    """Part a word into number words and words for "and"; a letter that two of them share counts for both.

    ``before`` is the value of the part before, 0 at the beginning.
    """
    if word in forms:
        return [forms[word]]
    for length in range(min(len(word) - 1, 14), 1, -1):
        front = word[:length]
        ways: list[Parts] = [[forms[front]]] if front in forms else []
        if before and front in JOINED:
            # After units "en" is "and", elsewhere it may be one.
            ways = [[], *ways] if before < 10 else [*ways, []]
        for start in ways:
            value = start[0][1] if start else 100
            for rest in (word[length:], word[length - 1 :]):
                following = _parted(rest, forms, value) if len(rest) < len(word) else None
                if following:
                    return [*start, *following]
    return None
