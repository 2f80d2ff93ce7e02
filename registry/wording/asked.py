"""Questions in words: each filter, each order, and why a bell could not be judged or may not hold."""

from typing import NamedTuple

from registry.inscriptions.formulas import formulas
from registry.model.vocabulary import label_of
from registry.questions.kinds import Flag, Grade, Term
from registry.questions.link import Pairs
from registry.questions.parameters import BY_NAME
from registry.wording.words import coordinates, date_words, day, grade, plain_number, plural

SORTS = {
    "place": "place",
    "name": "name",
    "date": "oldest first",
    "-date": "youngest first",
    "-diameter": "widest first",
    "diameter": "narrowest first",
    "-mass": "heaviest first",
    "mass": "lightest first",
    "note": "lowest note first",
    "-note": "highest note first",
    "-condition": "worst condition first",
    "distance": "nearest first",
}
"""Orders to choose from, and how each is called."""

UNJUDGED = {
    "material": "material not known",
    "status": "status not known",
    "founder_id": "founder not known",
    "founder_name": "founder not known",
    "region": "not known whether in the region",
    "country": "country not known",
    "note": "no note on record",
    "notes": "no strike note measured or written down",
    "crack_state": "no survey tells of cracks",
    "profile_class": "weight class not stated",
    "wartime_class": "wartime class not known",
    "condition": "not assessed",
    "grade": "may be graver: not all was inspected",
    "year": "undated",
    "diameter_mm": "diameter not measured",
    "mass_kg": "mass neither known nor computed",
    "near": "tower without coordinates",
    "nearest": "tower without coordinates",
    "area": "tower without coordinates",
}
"""Why a bell could not be judged, by the filter that asks."""

DOUBTFUL = {
    "founder_id": "proposed by a spelling of the name",
    "founder_name": "proposed by a spelling of the name",
    "region": "may not have been there then",
    "year": "may be of other years",
    "mass_kg": "mass computed, its interval reaches beyond the limits",
}
"""Why a bell that was found may not hold, by the filter that asks."""


class Chosen(NamedTuple):
    """One filter in words, and the question without it."""

    words: str
    without: Pairs


def chosen(pairs: Pairs) -> list[Chosen]:
    """Word every filter of a question, in its order; the order of the bells is none."""
    return [
        Chosen(in_words(name, text), pairs[:at] + pairs[at + 1 :])
        for at, (name, text) in enumerate(pairs)
        if name != "sort"
    ]


def in_words(name: str, text: str) -> str:  # noqa: PLR0911 - one line a kind
    """Word one part of a question as a link spells it."""
    parameter = BY_NAME[name]
    title, kind = parameter.title, parameter.kind
    if name == "text":
        return f"“{text}”"
    if name == "century":
        return f"{ordinal(int(text))} century"
    if name == "formula":
        return f"formula: {formulas()[text].text}"
    if name == "certain":
        return "certainly within these limits"
    if name in ("near", "nearest"):
        latitude, longitude, last = kind.read(text)
        place = coordinates(latitude, longitude)
        number = plain_number(last)
        return f"within {number}\u202fkm of {place}" if name == "near" else f"the {number} nearest to {place}"
    if name == "area":
        return f"within an area of {plural(kind.read(text).corners, 'corner')}"
    if name == "at":
        return f"{title} {date_words(text)}"
    if name == "no_survey_since":
        return f"{title} {day(text)}"
    if isinstance(kind, Grade):
        words = text.replace("-", " ") if text == kind.without else graded(name, int(text))
        return f"{title}: {words}"
    if isinstance(kind, Term):
        return f"{title}: {label_of(kind.vocabulary, text)}"
    if parameter.many or name in ("tower", "recording"):
        return f"{title}: {text}"
    if isinstance(kind, Flag):
        return title
    return f"{title} {text}{' ' if parameter.unit else ''}{parameter.unit}"


def graded(name: str, value: int) -> str:
    """Word a grade; a computed one is a lower bound, so that nothing found is never called good."""
    if name == "grade" and value == 0:
        return "0 – nothing found, or not inspected"
    return grade("condition", value)


def ordinal(number: int) -> str:
    """Write 15 as ``15th``."""
    teen = 10 <= number % 100 <= 20
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


def reasons(counted: dict[str, int], words: dict[str, str]) -> list[tuple[str, int]]:
    """Word counts by filter, those of none left out."""
    return [(words.get(name, name), count) for name, count in counted.items() if count]
