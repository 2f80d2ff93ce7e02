"""Where in a running inscription a date stands, and which years it can mean."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import islice, product

from registry.derive.dating.date_words import CENTURIES, LABELS, MINIMS, STROKES, UNIT_BEHIND
from registry.derive.dating.numerals import Alternative
from registry.derive.dating.reading import Reading, year_cost
from registry.derive.dating.runs import Run, Spot, runs_of, with_joined_words
from registry.derive.dating.signs import Token, tokens_of
from registry.derive.dating.sums import Sign, Sum, grouped, sums_of

MOST_TOKENS = 14
MOST_COMBINATIONS = 48

REGULAR_ENOUGH = 1.6
"""In the midst of other words, numerals with more against them are taken for letters of words."""


def expression_readings(text: str, this_year: int) -> Iterator[Reading]:
    """Find every date in figures, Roman numerals or words, and give every year it can mean."""
    for expanded in (True, False) if "(" in text else (True,):
        for run in _runs_in(text, expanded=expanded):
            yield from _readings_of(run, this_year)


@lru_cache(maxsize=4096)
def _runs_in(text: str, *, expanded: bool) -> tuple[Run, ...]:
    """Find the runs of a text, the same for every year: the check and each survey ask for them again."""
    return tuple(runs_of(with_joined_words(tokens_of(text, expanded=expanded))))


def _readings_of(run: Run, this_year: int) -> Iterator[Reading]:
    """Read a run from each place where a year can begin to each where it can end."""
    spots = run.spots
    starts = [0]
    for at in range(1, len(spots)):
        hundreds = _has_hundreds(spots[at]) and not any(map(_has_thousands, spots[:at]))
        figures = _are_figures(spots[at:]) and not _are_figures(spots[at - 1 : at])
        if hundreds or figures or _has_thousands(spots[at]):
            starts.append(at)
    for start in starts:
        if len(spots) - start > MOST_TOKENS:
            continue
        ends = [(len(spots), 1.5 if run.day and len(spots) - start > 1 else 0.0)]
        if len(spots) - start > 1 and spots[-1].token.gap:
            last = spots[-1].token.plain
            if run.day or last.casefold() in STROKES:
                ends.append((len(spots) - 1, 0.0 if run.day else 2.5 if not run.behind else 1.8))
        for end, cost in ends:
            left = " ".join(spot.token.plain for spot in (*spots[:start], *spots[end:]))
            words = "the day" if run.day and end < len(spots) else "other words"
            doubt = f"'{left}' not counted, as part of {words}" if left else ""
            yield from _slice_readings(
                run, spots[start:end], 0.4 * start + cost, this_year, short=start == 0, doubt=doubt
            )
    if run.behind in MINIMS and spots[-1].token.plain.islower() and not run.day:
        doubt = f"'{run.behind}' taken for three strokes, iii"
        strokes = Alternative((Sign("letter", 1, "iii", many=3, apart=True),), 2.5, "roman", (doubt,))
        more = Spot(Token(run.behind, " "), (strokes,))
        yield from _slice_readings(run, (*spots, more), 0.0, this_year, short=True)


def _are_figures(spots: tuple[Spot, ...]) -> bool:
    return all(way.notation == "figures" for spot in spots for way in spot.ways)


def _has_thousands(spot: Spot) -> bool:
    return any(way.signs[0].value >= 1000 for way in spot.ways)


def _has_hundreds(spot: Spot) -> bool:
    """Say whether a word counts hundreds by itself, as ``xv^c`` and ``fourteenhundred`` do."""
    return any(len(way.signs) > 1 and way.signs[-1].value >= 100 for way in spot.ways)


def _slice_readings(  # noqa: PLR0913 - a slice of a run, and what its cut costs
    run: Run, spots: tuple[Spot, ...], cost: float, this_year: int, *, short: bool, doubt: str = ""
) -> Iterator[Reading]:
    text = "".join((spot.token.gap if at else "") + spot.token.plain for at, spot in enumerate(spots))
    notes = [
        note
        for told, note in (
            (any(spot.token.restored for spot in spots), "letters restored by the editor"),
            (any(spot.token.unclear for spot in spots), "letters uncertain"),
            (run.lost, "letters are lost behind it: the year may be later"),
            (bool(doubt), doubt),
        )
        if told
    ]
    allowed = short and (run.bare or run.cued)
    for ways in islice(product(*(spot.ways for spot in spots)), MOST_COMBINATIONS):
        signs = grouped([sign for way in ways for sign in way.signs])
        kinds = {way.notation for way in ways}
        notation = kinds.pop() if len(kinds) == 1 else "mixed"
        own = cost + sum(way.cost for way in ways) + (4.0 if UNIT_BEHIND(run.behind) else 0.0)
        doubts = (*notes, *(doubt for way in ways for doubt in way.doubts))
        if not (allowed or _looks_like_a_year(signs, notation, bare=run.bare)):
            continue
        found = _sums(signs, run, this_year)
        if not allowed and not run.bare and notation in ("roman", "mixed"):
            word = spots[0].token.plain.casefold()
            if len(spots) == 1 and len(word) < (7 if "o" in word else 4):
                continue
            least = 0.6 if len(spots) == 1 else REGULAR_ENOUGH
            found = iter([each for each in found if own + each.cost < least])
        for each in found:
            how = f"{LABELS[notation]}: {' + '.join(each.parts)}"
            sure = Reading(each.value, each.value, how, notation, own + each.cost, text, doubts)
            yield from _years(sure, signs, run, this_year, short=allowed)


def _looks_like_a_year(signs: tuple[Sign, ...], notation: str, *, bare: bool) -> bool:
    """Say whether a number in the midst of other words is a year and not initials or an ordinal."""
    if notation == "figures":
        return signs[0].value >= 1000 or _digits(signs) is not None
    if signs[0].value * signs[0].many not in (1000, 2000) and not (
        len(signs) > 1 and signs[1].value == 1000 and signs[0].value * signs[0].many in (2, 3)
    ):
        century = len(signs) > 1 and any(
            sign.kind in ("raised", "times") or sign.value == 100 for sign in signs[1:4]
        )
        if not (century and sum(sign.value * sign.many for sign in signs[:2]) <= 120):
            return False
    letters = sum(sign.many if sign.kind == "letter" else 3 for sign in signs)
    return letters >= (2 if bare else 3) and len(signs) > 1


def _digits(signs: tuple[Sign, ...]) -> int | None:
    """Read figures that ornament parts, ``1 5 0 4`` or ``16 + 43``, as one number of four."""
    if len(signs) < 2 or any(sign.kind != "figure" for sign in signs):
        return None
    text = "".join(sign.text for sign in signs)
    single = all(len(sign.text) == 1 for sign in signs)
    pairs = [len(sign.text) for sign in signs] == [2, 2]
    return int(text) if len(text) == 4 and text[0] in "12" and (single or pairs) else None


def _sums(signs: tuple[Sign, ...], run: Run, this_year: int) -> Iterator[Sum]:
    """Give the sums of the signs, and what they mean the other way round where forwards they mean nothing."""
    parted = _digits(signs)
    if parted is not None:
        yield Sum(parted, 0.2 if run.bare or run.cued else 1.0, (f"{parted}, parted",))
        return
    found = sums_of(signs)
    yield from found
    if len(signs) > 2 and all(sign.kind == "figure" and len(sign.text) == 1 for sign in signs[:2]):
        century = Sign("figure", int(signs[0].text + signs[1].text), f"{signs[0].text} {signs[1].text}")
        yield from sums_of((century, *signs[2:]))
    letters = all(sign.kind == "letter" for sign in signs)
    if letters and len(signs) > 2 and signs[-1].value >= 100 and (not found or found[0].cost >= 1.0):
        backwards = sums_of(signs[::-1])
        if backwards and backwards[0].cost < 0.5:
            best = backwards[0]
            yield Sum(best.value, 1.0, (*best.parts, "read backwards"))
    known = run.bare or run.cued
    if (
        known
        and len(signs) == 1
        and signs[0].kind == "figure"
        and signs[0].value > this_year
        and len(signs[0].text) == 4
    ):
        yield Sum(int(signs[0].text[::-1]), 1.2, (f"{signs[0].text[::-1]}, read backwards",))


def _years(
    sure: Reading, signs: tuple[Sign, ...], run: Run, this_year: int, *, short: bool
) -> Iterator[Reading]:
    """Give the years that a number can mean: as it stands, or with what bells leave out or get wrong."""
    value = sure.year
    if run.lost and sure.notation == "figures" and value < 1000 and len(signs) == 1:
        places = 10 ** (4 - len(signs[0].text))
        first, last = value * places, value * places + places - 1
        yield sure._replace(year=first, last_year=last, cost=sure.cost + 0.5 + year_cost(first, this_year)[0])
        return
    if value >= 800 or (run.bare and value >= 100):
        yield _dated(sure, value, this_year)
    if not short or value >= 1000 or value < (10 if sure.notation == "words" else 1):
        return
    if value >= 500 and signs[0].kind == "letter" and signs[0].value == 500:
        slip = "the founder may have set d for m"
        yield _dated(
            sure._replace(cost=sure.cost + 1.0), value + 500, this_year, f"{value}, and d read as m", slip
        )
    if value >= 100:
        omitted = "the thousand is left out"
        yield _dated(sure._replace(cost=sure.cost + 1.5), value + 1000, this_year, "1000 left out", omitted)
        return
    for century, cost in CENTURIES[_style(sure)].items():
        omitted = f"the century is left out: {century}00 is one of several"
        more = sure._replace(cost=sure.cost + 2.5 + cost)
        yield _dated(more, value + century * 100, this_year, f"{century}00 left out", omitted)


def _style(sure: Reading) -> str:
    """Name the style of the letters: which centuries they belong to."""
    if sure.notation == "figures":
        return "figures"
    return "small" if any(map(str.islower, sure.text)) else "capital"


def _dated(sure: Reading, year: int, this_year: int, said: str = "", doubt: str = "") -> Reading:
    cost, remark = year_cost(year, this_year)
    doubts = tuple(each for each in (*sure.doubts, doubt, remark) if each)
    return sure._replace(
        year=year,
        last_year=year,
        cost=sure.cost + cost,
        how=sure.how + (f"; {said}" if said else ""),
        doubts=doubts,
    )
