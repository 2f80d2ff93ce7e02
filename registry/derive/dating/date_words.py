"""Words round a date: before a year, behind a day, between the parts of a number."""

import re

CUE = re.compile(
    r"a[nñ]n+[oi°]?(?:s|rum|ee|ée)?|a[nñ]o|a°|ao|ā°?|d(?:o?mi)?ni|dn[oi]?|domini|christi|xpi|salutis|gracie|gratie"
    r"|incarnationis|i?[jiy]h?a+e?h?re?s?|iaers?|jaers?|jair|j[oa]r|iar|year[es]?|yere|roku|rok|léta|leta|года"
    r"|годъ|рокꙋ|l[’']?an",
    re.IGNORECASE,
).fullmatch
"""Words before a year. Common practice, no source."""

CLOSE_CUE = re.compile("an|a|d", re.IGNORECASE).fullmatch
"""Short words that say "year" only directly before the number."""

YEAR_BEHIND = re.compile(
    r"i?[jiy]h?a+e?h?re?s?|iaers?|jaers?|jair|j[oa]r|iar|roku|года", re.IGNORECASE
).fullmatch
"""Words behind a number that make it a year."""

LORD = re.compile("d|dm|dn|do|dom", re.IGNORECASE).fullmatch
"""Short forms of "domini": behind a word for "year" no numerals, where a thousand follows."""

DAY_BEHIND = re.compile(
    r"kal(?:end.*)?|kl|k|non(?:as|is)?|id(?:us|ibus)?|die|dies|day|daye?s?|dach|tag[es]?|dag[hes]*|mensis|jan.*|feb.*|mart.*"
    r"|april.*|m[ae]i[io]?|iuni.*|juni.*|iuli.*|juli.*|aug.*|sept.*|octob.*|okt.*|nov(?:emb.*)?|dec(?:emb.*)?|dez.*",
    re.IGNORECASE,
).fullmatch
"""Words that make the number before them a day."""

STROKES = {"i", "iii", "iij"}
"""Last groups that may be letters of the words behind."""

MINIMS = {"in", "iu", "ni", "m"}
"""Short words that cannot be told from three strokes in black letter (DI 88 no. 45, Duingen)."""

CENTURIES = {
    "small": {14: 0.0, 15: 0.3, 13: 0.7, 16: 1.0, 12: 1.6, 17: 1.6, 18: 2.2, 19: 2.6},
    "capital": {16: 0.0, 15: 0.2, 17: 0.4, 14: 0.6, 18: 0.9, 19: 1.1, 13: 1.3, 12: 1.8},
    "figures": {17: 0.0, 16: 0.2, 18: 0.2, 15: 0.6, 19: 0.6, 14: 1.6, 13: 3.0, 12: 4.0},
}
"""What speaks against each century where a bell leaves it out. Common practice, no source."""

BETWEEN = re.compile(
    r"i?[jiy]h?a+e?h?re?|in|im|dem|den|der|dar|na|annis|anno|domini|dn[iī]|nach|post", re.IGNORECASE
).fullmatch
"""Words that may stand between the hundreds and the rest of a year: "m cccc jar, in dem xxi"."""

UNIT_BEHIND = re.compile(
    r"kgs?|kilo.*|lbs?|pfd|pfund|p(?:on|un)ds?|livres?|cwt|ctr|zentner|hz|mm|cm|libr.*|lib", re.IGNORECASE
).fullmatch
"""Units: the number before one is a mass or a size."""

LABELS = {"figures": "figures", "roman": "Roman numerals", "words": "number words", "mixed": "mixed notation"}
