"""Numbers in a row within an inscription, and what stands round them."""

from collections.abc import Iterator
from typing import NamedTuple

from registry.derive.dating.date_words import BETWEEN, CUE, DAY_BEHIND
from registry.derive.dating.numerals import Alternative, alternatives
from registry.derive.dating.signs import LOST, Token
from registry.derive.dating.vernacular import joins


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
    """Put words together again that the end of a line parted."""
    found: list[Token] = []
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


def runs_of(tokens: list[Token]) -> Iterator[Run]:
    """Part the tokens into runs of numbers."""
    ways = [
        () if joins(each.plain) or BETWEEN(each.plain) else alternatives(each.plain, apart=bool(each.gap))
        for each in tokens
    ]
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
            _is_cued(tokens, ways, at),
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
        thousands = any(way.signs[0].value >= 1000 for way in ways[at])
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
        if CUE(tokens[before].plain):
            return True
        if ways[before]:
            return False
    return False


def _is_whole_year(ways: tuple[Alternative, ...]) -> bool:
    return any(
        len(way.signs) == 1 and way.signs[0].kind == "figure" and way.signs[0].value >= 1000 for way in ways
    )
