"""Latin number words by value: the stems and words of which every form is made.

Source: J. B. Greenough and others, Allen and Greenough's New Latin Grammar (1903), sections 133, 136 and
138. Spellings beside the classical ones are medieval; common practice, no source.
"""

ENDINGS = ("us", "a", "um", "i", "o", "e", "am", "orum", "arum", "os", "as", "is")

ORDINALS = {
    1: "prim", 2: "secund", 3: "terti", 4: "quart", 5: "quint", 6: "sext", 7: "septim", 8: "octav", 9: "non",
    10: "decim", 11: "undecim", 12: "duodecim", 20: "vicesim vigesim vicensim",
    30: "tricesim trigesim trecesim",
    40: "quadragesim", 50: "quinquagesim", 60: "sexagesim", 70: "septuagesim", 80: "octogesim octuagesim",
    90: "nonagesim", 100: "centesim", 200: "ducentesim", 300: "trecentesim tricentesim trescentesim",
    400: "quadringentesim quatringentesim quadragentesim quatuorcentesim",
    500: "quingentesim quinquecentesim",
    600: "sexcentesim sescentesim", 700: "septingentesim septuagentesim septemcentesim",
    800: "octingentesim octogentesim octocentesim",
    900: "nongentesim noningentesim nonagentesim novemcentesim",
    1000: "millesim milesim", 2000: "bismillesim",
}  # fmt: skip
"""Stems of the ordinals by value."""

CARDINALS = {
    1: "unus una unum uno unius uni unam", 2: "duo due duos duobus duabus duorum",
    3: "tres tria tribus trium",
    4: "quattuor", 5: "quinque", 6: "sex", 7: "septem", 8: "octo", 9: "novem", 10: "decem", 11: "undecim",
    12: "duodecim", 13: "tredecim", 14: "quattuordecim", 15: "quindecim", 16: "sedecim sexdecim",
    17: "septendecim septemdecim", 18: "octodecim", 19: "novendecim novemdecim", 20: "viginti",
    30: "triginta",
    40: "quadraginta", 50: "quinquaginta", 60: "sexaginta", 70: "septuaginta", 80: "octoginta octuaginta",
    90: "nonaginta", 100: "centum",
}  # fmt: skip

HUNDREDS = {
    200: "ducent", 300: "trecent", 400: "quadringent", 500: "quingent", 600: "sexcent sescent",
    700: "septingent", 800: "octingent", 900: "nongent",
}  # fmt: skip
"""Stems of the cardinal hundreds, which have cases."""

DISTRIBUTIVES = {
    2: "bin", 3: "tern trin", 4: "quatern", 6: "sen", 7: "septen", 8: "octon", 9: "noven", 10: "den",
    20: "vicen",
    30: "tricen", 40: "quadragen", 50: "quinquagen", 60: "sexagen", 70: "septuagen", 80: "octogen octuagen",
    90: "nonagen", 100: "centen", 200: "ducen ducenten", 300: "trecen trecenten tricenten",
    400: "quadringen quadringenten",
    500: "quingen quingenten", 600: "sescen sexcenten", 700: "septingen septingenten",
    800: "octingen octingenten",
    900: "nongen nongenten", 1000: "millen milen",
}  # fmt: skip
"""Stems of the distributives, which stand for other numbers in verse ("anno milleno quadringenteno")."""

ADVERBS = {
    2: "bis", 3: "ter", 4: "quater", 5: "quinquies", 6: "sexies", 7: "septies", 8: "octies",
    9: "novies nonies",
    10: "decies",
}  # fmt: skip
"""How often: they multiply a number beside them ("M C quater", "bis denis")."""

THOUSANDS = ("mille", "milia", "millia", "milibus", "millibus")
