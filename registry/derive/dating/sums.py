"""What a row of numeral signs can add up to: every way, with what speaks against it.

The rules, each named where it is used:

- signs add up from the greatest to the smallest, and any of them may stand four or more times (``lxxxx``);
- a smaller sign before a greater one is taken away, also groups (``IIX``, ``XXC``, ``IIID``);
- a number before ``c`` counts hundreds, before ``xx`` scores (``v^c``, ``iiii^xx``), raised or on the line;
- words add up as their language has it, units before tens too (``quinto decimo``, ``drei und achtzig``);
- a number from 10 to 20 at the beginning can stand for its hundreds (``15 xxi``, ``seventeen eighty``).

Sources: A. Cappelli, Lexicon abbreviaturarum (1912), pp. LIII-LVI; H. B. Wheatley, How to Catalogue a
Library (1889), and A. R. Spofford, A Book for All Readers (1900), on irregular dates; costs: common
practice, no source.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

Kind = Literal["letter", "raised", "word", "times", "figure", "often"]

MOST_SIGNS = 24
"""Groups of like signs a number may have; the longest year has a dozen."""

MOST_COST = 6.5


COST = {
    "upwards": 3.0,  # a greater part behind a smaller one, and both added
    "same place": 1.0,  # two parts of one decimal place: vi, then v
    "more than four": 0.1,  # each like letter behind the fourth
    "twice": 2.0,  # v, l or d more than once
    "set twice": 2.2,  # the same, one of them taken for a slip
    "raised idle": 2.0,  # a raised letter that multiplies nothing
    "like letters taken": 0.6,  # IIX, XXC: by the rule of today but for their number
    "other letter taken": 1.0,  # IC, VC, IIID
    "group taken": 1.5,  # VIC for 94
    "great group taken": 1.0,  # more than half is taken away, beside that
    "from several": 0.3,  # the greater letter stands more than once
    "hundreds on the line": 0.5,  # m vc xxi, xvc xxi
    "hundreds elsewhere": 3.0,  # the same in another place of the number
    "hundreds without c": 1.2,  # m v xxi
    "fourscore": 0.6,  # iiii xx
    "other scores": 1.8,  # vi xx
    "thousands counted": 2.0,  # ii m
    "units before tens": 0.1,  # quinto decimo
    "adverb": 0.2,  # c quater
    "century in figures": 0.4,  # 15 xxi, seventeen eighty
    "century in letters": 2.5,  # xv xxi
}
"""What speaks against each way of reading. Common practice, no source: no count of notations is published."""


class Sign(NamedTuple):
    """One sign of a number, or ``many`` like letters in a row.

    Kinds are a numeral letter, a raised multiplier, a word, a multiplying word, figures, and an adverb that
    says how often the number beside it counts. ``apart`` tells whether a space stood before it.
    """

    kind: Kind
    value: int
    text: str
    many: int = 1
    apart: bool = False


class Sum(NamedTuple):
    """A value, what speaks against it, and its parts in words."""

    value: int
    cost: float
    parts: tuple[str, ...]


class Term(NamedTuple):
    """A part of a number: how many signs it takes, its value and cost, and how it came about."""

    signs: int
    value: int
    cost: float
    said: str


STANDARD = {(1, 5), (1, 10), (10, 50), (10, 100), (100, 500), (100, 1000)}
"""Pairs in which a smaller letter is taken from a greater one by the rule of today."""


def grouped(signs: Sequence[Sign]) -> tuple[Sign, ...]:
    """Put like letters that follow each other together."""
    found: list[Sign] = []
    for sign in signs:
        last = found[-1] if found else None
        if last is not None and sign.kind == last.kind == "letter" and sign.value == last.value:
            found[-1] = last._replace(many=last.many + sign.many, text=f"{last.text}{sign.text}")
        else:
            found.append(sign)
    return tuple(found)


@lru_cache(maxsize=8192)
def sums_of(signs: tuple[Sign, ...]) -> tuple[Sum, ...]:
    """List the values that grouped signs can have, the most regular first; each value once."""
    if not signs or len(signs) > MOST_SIGNS:
        return ()
    terms = [list(_terms(signs, at)) for at in range(len(signs))]
    best: dict[int, Sum] = {}

    def follow(at: int, before: Term | None, total: int, cost: float, parts: tuple[str, ...]) -> None:
        if at == len(signs):
            known = best.get(total)
            if known is None or cost < known.cost:
                best[total] = Sum(total, cost, parts)
            return
        for term in terms[at]:
            more = cost + term.cost + (_step_cost(before, term) if before is not None else 0.0)
            if more <= MOST_COST:
                follow(at + term.signs, term, total + term.value, more, (*parts, term.said))

    follow(0, None, 0, 0.0, ())
    return tuple(sorted(best.values(), key=lambda each: (each.cost, each.value))[:30])


def _step_cost(before: Term, term: Term) -> float:
    """Give what speaks against one part behind another: parts go down, place by place."""
    if term.value == 0 or before.value == 0:
        return 0.0
    unit = 1
    while before.value % (unit * 10) == 0:
        unit *= 10
    if term.value < unit:
        return 0.0
    whole = before.value // unit
    fives = whole == 5 and term.value < 5 * unit and "−" not in term.said  # d cccc, l xxx, v iiii
    teens = whole in (6, 8) and 10 <= term.value < 20  # soixante-dix, quatre-vingt-onze
    if fives or teens:
        return 0.0
    return COST["same place"] if term.value < before.value else COST["upwards"]


def _terms(signs: tuple[Sign, ...], at: int) -> Iterator[Term]:
    """List the parts that can begin at a place."""
    first = signs[at]
    if first.kind != "often":
        yield from _alone(first)
    if at + 1 < len(signs) and (first.kind == "often") != (signs[at + 1].kind == "often"):
        both = (first, signs[at + 1])
        often, number = both if first.kind == "often" else both[::-1]
        value = often.value * number.value * number.many
        yield Term(
            2,
            value,
            COST["adverb"],
            f"{often.value} × {number.value * number.many} ({first.text} {both[1].text})",
        )
    before: list[Sign] = []
    for end in range(at, min(at + 4, len(signs) - 1)):
        before.append(signs[end])
        yield from _joined(signs, at, tuple(before), signs[end + 1])


def _alone(sign: Sign) -> Iterator[Term]:
    value = sign.value * sign.many
    said = sign.text if sign.text == str(value) else f"{sign.text} {value}"
    if sign.kind == "raised":
        yield Term(1, 0, COST["raised idle"], f"{sign.text} raised, not counted")
        return
    cost = 0.0
    if sign.kind == "letter":
        if sign.value in (5, 50, 500) and sign.many > 1:
            cost = COST["twice"]
            yield Term(1, sign.value, COST["set twice"], f"{sign.text} {sign.value}, set twice by mistake")
        elif sign.many > 4:
            cost = COST["more than four"] * (sign.many - 4)
    yield Term(1, value, cost, said)


def _joined(signs: tuple[Sign, ...], at: int, before: tuple[Sign, ...], last: Sign) -> Iterator[Term]:
    """List what a group of smaller signs makes of the greater one behind it."""
    if last.kind == "often" or any(sign.kind in ("raised", "often") for sign in before):
        return
    lasting = last.value * (last.many if last.kind == "letter" else 1)
    if last.kind in ("word", "figure"):
        if len(before) == 1 and before[0].kind == "word" and _units_before_tens(before[0].value, last.value):
            number = before[0].value + last.value
            yield Term(2, number, COST["units before tens"], f"{before[0].text} {last.text} {number}")
        yield from _century(at, before, last)
        return
    yield from _century(at, before, last)
    if any(sign.value >= last.value for sign in before):
        return
    small = _small(before)
    if small is None:
        return
    number, text = small, "".join(sign.text for sign in before)
    taken = len(before) + 1
    if last.kind in ("times", "raised"):
        if 2 <= number < min(last.value, 100) and not (last.value == 1000 and number > 9):
            yield Term(taken, number * last.value, 0.0, f"{number} × {last.value} ({text} {last.text})")
        elif last.kind == "times" and number == 1:
            yield Term(taken, last.value, 0.0, f"{text} {last.text} {last.value}")
        return
    yield from _multiplied(signs, at, number, text, last, taken)
    if all(sign.kind == "letter" for sign in before) and number < last.value:
        yield Term(
            taken,
            lasting - number,
            _taking_cost(before, last, number),
            f"{text}{last.text} {lasting} − {number}",
        )


def _multiplied(  # noqa: PLR0913, PLR0917 - the group and where it stands
    signs: tuple[Sign, ...], at: int, number: int, text: str, last: Sign, taken: int
) -> Iterator[Term]:
    """List products whose multiplier stands on the line: ``vc``, ``iiii xx``, ``ii m``."""
    thousand = at == 1 and signs[0].value * signs[0].many == 1000
    if thousand and 2 <= number <= 9 and 10 <= last.value <= 50 and last.kind == "letter":
        yield Term(
            taken - 1, number * 100, COST["hundreds without c"], f"{number} × 100 ({text}, its c left out)"
        )
    if last.value == 100 and last.many == 1 and 2 <= number <= 19:
        usual = (number <= 9 and thousand) or (number > 10 and at == 0)
        cost = COST["hundreds on the line" if usual else "hundreds elsewhere"]
        yield Term(taken, number * 100, cost, f"{number} × 100 ({text} {last.text})")
    elif last.value == 10 and last.many >= 2 and 2 <= number <= 15:
        rest = (last.many - 2) * 10
        cost = COST["fourscore" if number == 4 else "other scores"] + COST["from several"] * (last.many - 2)
        yield Term(
            taken,
            number * 20 + rest,
            cost,
            f"{number} × 20 ({text} {last.text})" + (f" + {rest}" if rest else ""),
        )
    elif last.value == 1000 and last.many == 1 and number in (2, 3) and at == 0:
        yield Term(taken, number * 1000, COST["thousands counted"], f"{number} × 1000 ({text} {last.text})")


def _taking_cost(before: tuple[Sign, ...], last: Sign, number: int) -> float:
    """Give what speaks against taking a group from the letter behind it."""
    cost = COST["from several"] if last.many > 1 else 0.0
    if len(before) == 1:
        if (before[0].value, last.value) in STANDARD:
            return cost + (0.0 if before[0].many == 1 else COST["like letters taken"])
        return cost + COST["other letter taken"]
    return cost + COST["group taken"] + (COST["great group taken"] if number > last.value / 2 else 0.0)


def _century(at: int, before: tuple[Sign, ...], last: Sign) -> Iterator[Term]:
    """Give hundreds that stand without their name: ``15 xxi``, ``seventeen eighty``, ``xv xxi``."""
    if at:
        return
    letters = all(sign.kind == "letter" for sign in before)
    if not letters and len(before) > 1:
        return
    number = _small(before)
    if number is None or not 8 <= number <= 20 or last.value >= 100 or (letters and not last.apart):
        return
    text = "".join(sign.text for sign in before)
    yield Term(
        len(before),
        number * 100,
        COST["century in letters" if letters else "century in figures"],
        f"{text} hundred",
    )


def _small(signs: tuple[Sign, ...]) -> int | None:
    """Read a group as a number below 100, by the regular rules alone."""
    if len(signs) == 1:
        number = signs[0].value * signs[0].many
        return number if number < 100 or signs[0].value >= 100 else None
    found = sums_of(signs)
    return found[0].value if found and found[0].cost < 0.5 else None


def _units_before_tens(units: int, tens: int) -> bool:
    return 1 <= units <= 9 and 10 <= tens <= 90 and tens % 10 == 0
