"""Numbers in a row within an inscription, and what stands round them."""

from collections.abc import Iterator
from typing import NamedTuple

from registry.derive.dating.date_words import BETWEEN, CLOSE_CUE, CUE, DAY_BEHIND, LORD, YEAR_BEHIND
from registry.derive.dating.numerals import LOOKALIKES, Alternative, alternatives
from registry.derive.dating.signs import LOST, Token
from registry.derive.dating.sums import Sign
from registry.derive.dating.vernacular import joins

TWO = (Alternative((Sign("letter", 2, "z", 1, apart=True),), 0.8, "roman", ("z taken for 2",)),)
"""What a z by itself is behind other numerals."""


class Spot(NamedTuple):
    """A token that can be part of a number, with all its ways."""

    token: Token
    ways: tuple[Alternative, ...]


class Run(NamedTuple):
    """Tokens in a row that can be numbers.

    ``cued`` says whether a word for "year" stands before, ``bare`` whether the text holds nothing else,
    ``lost`` whether letters are lost at its end, ``day`` whether its last number is that of a day.
    """

    spots: tuple[Spot, ...]
    cued: bool
    bare: bool
    lost: bool
    day: bool
    behind: str


def with_joined_words(tokens: tuple[Token, ...]) -> list[Token]:
    """Put together words that the end of a line parted, and figures that stand apart among lookalikes."""
    found: list[Token] = []
    tokens = _with_joined_figures(tokens)
    for token in tokens:
        if (
            found
            and ("|" in token.gap or "\n" in token.gap or "=" in token.gap)
            and token.gap.strip(" |\n=-/") == ""
        ):
            last = found[-1]
            whole = alternatives(last.plain + token.plain, apart=True)
            parts = [alternatives(each.plain, apart=True) for each in (last, token)]
            if any(way.notation == "words" and way.cost == 0.0 for way in whole) and not all(parts):
                found[-1] = last._replace(plain=last.plain + token.plain)
                continue
        found.append(token)
    return found


def _with_joined_figures(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """Put four single signs together where some are figures and the others look like figures: ``1 5 8 Z``."""
    found: list[Token] = []
    at = 0
    while at < len(tokens):
        four = [each.plain for each in tokens[at : at + 4]]
        whole = "".join(four)
        figures = sum(char.isdecimal() for char in whole)
        if len(whole) == len(four) == 4 and 2 <= figures < 4 and whole.translate(LOOKALIKES).isdecimal():
            found.append(tokens[at]._replace(plain=whole))
            at += 4
        elif len(whole) >= 2 and whole[0].isdecimal() and four[0] == whole[0] and four[1] in ("Z", "z"):
            found.append(tokens[at]._replace(plain=whole[:2]))
            at += 2
        else:
            found.append(tokens[at])
            at += 1
    return tuple(found)


def runs_of(tokens: list[Token]) -> Iterator[Run]:
    """Part the tokens into runs of numbers."""
    ways = [
        () if joins(each.plain) or BETWEEN(each.plain) else alternatives(each.plain, apart=bool(each.gap))
        for each in tokens
    ]
    for at in range(1, len(tokens) - 1):
        if LORD(tokens[at].plain) and CUE(tokens[at - 1].plain) and _has_thousands(ways[at + 1]):
            ways[at] = ()
    at = 0
    while at < len(tokens):
        if not ways[at]:
            at += 1
            continue
        end = at + 1
        whole = _is_whole_year(ways[at])
        while end < len(tokens) and not whole and LOST not in tokens[end].gap:
            if ways[end] and not _is_whole_year(ways[end]):
                end += 1
            elif tokens[end].plain in ("z", "Z"):
                ways[end] = TWO
                end += 1
            elif (step := _over_words(tokens, ways, at, end)) > 0:
                end += step
            else:
                break
        spots = tuple(Spot(tokens[k], ways[k]) for k in range(at, end) if ways[k])
        behind = tokens[end].plain if end < len(tokens) else ""
        rest = [
            each.plain
            for each in (*tokens[:at], *tokens[end:])
            if each.plain and not CUE(each.plain) and not joins(each.plain)
        ]
        yield Run(
            spots,
            _is_cued(tokens, ways, at) or bool(YEAR_BEHIND(behind)),
            not rest,
            end < len(tokens) and LOST in tokens[end].gap,
            _is_day(behind, following=end + 1 < len(tokens) and bool(ways[end + 1])),
            behind,
        )
        at = end


def _over_words(tokens: list[Token], ways: list[tuple[Alternative, ...]], at: int, end: int) -> int:
    """Say how many words further a number goes on: over "and", or over "year, in the" between its parts."""
    following = end
    while following < min(end + 4, len(tokens)) and not ways[following] and (
        joins(tokens[following].plain) or BETWEEN(tokens[following].plain)
    ):  # fmt: skip
        following += 1
    if following == end or following >= len(tokens) or not ways[following] or _is_whole_year(ways[following]):
        return 0
    if following > end + 1 or not joins(tokens[end].plain):
        thousands = _has_thousands(ways[at])
        small = all(sign.value < 100 for way in ways[following] for sign in way.signs)
        day = following + 1 < len(tokens) and DAY_BEHIND(tokens[following + 1].plain)
        if not thousands or not small or day:
            return 0
    return following - end + 1


def _is_day(behind: str, *, following: bool) -> bool:
    """Say whether the word behind a number makes it a day; ``die`` before a number belongs to that."""
    return bool(DAY_BEHIND(behind)) and not (following and behind.casefold() in ("die", "dies", "day", "tag"))


def _is_cued(tokens: list[Token], ways: list[tuple[Alternative, ...]], at: int) -> bool:
    """Say whether a word for "year" stands at most three words before, and no number between."""
    for before in range(at - 1, max(-1, at - 4), -1):
        plain = tokens[before].plain
        if CUE(plain) or (before == at - 1 and CLOSE_CUE(plain)):
            return True
        if ways[before]:
            return False
    return False


def _has_thousands(ways: tuple[Alternative, ...]) -> bool:
    return any(way.signs[0].value >= 1000 for way in ways)


def _is_whole_year(ways: tuple[Alternative, ...]) -> bool:
    return any(
        len(way.signs) == 1 and way.signs[0].kind == "figure" and way.signs[0].value >= 1000 for way in ways
    )
