"""Find bells by words: in any spelling, damaged, backwards, as a formula; or exactly as the letters stand."""

import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from registry.inscriptions.alike import slips
from registry.inscriptions.folding import GAP
from registry.inscriptions.matching import (
    LEAST_JOINED,
    Asked,
    Question,
    question,
    stand_in_gaps,
)
from registry.inscriptions.normalising import Word
from registry.inscriptions.reading import letters_on_bell
from registry.store.rows import to_json

NAMES = "names places founders translations"
SPELLINGS = "spellings inscriptions"
"""Columns of ``bell_text`` by the way their words are spelled."""

MOST_WORDS = 60
"""Words of a question that are looked for; a longer one is asked by its first."""

MOST_FITTING = 200
"""Words of a registry that may stand for a damaged one of a question."""


class TextCondition(NamedTuple):
    """A condition on ``bell_current AS bell``, and the values it asks with."""

    sql: str
    values: tuple[Any, ...]


NOTHING = TextCondition("FALSE", ())


def text_condition(conn: sqlite3.Connection, text: str, *, exact: bool = False) -> TextCondition | None:
    """Turn words that are asked for into a condition; None where nothing is asked.

    Parameters
    ----------
    conn : sqlite3.Connection
        The registry: the words it holds tell which slips and damaged words are worth asking for.
    text : str
        Any text; no character has a meaning of its own but Leiden signs.
    exact : bool
        Look for exactly these letters in the inscriptions, as they stand on the bell, case kept.
    """
    text = text.encode("utf-8", "replace").decode().replace("\0", " ")
    if not text.strip():
        return None
    if exact:
        letters = letters_on_bell(text).text
        if not letters:
            return NOTHING
        return TextCondition(
            "bell.id IN (SELECT bell_id FROM inscription_normalised WHERE instr(letters, ?))", (letters,)
        )
    asked = question(text)
    if not asked.words:
        return NOTHING
    return _Search(conn, asked).condition()


def formula_condition(formula_ids: Sequence[str]) -> TextCondition:
    """Give the condition that a bell carries one of these formulas."""
    places = ", ".join("?" * len(formula_ids))
    return TextCondition(
        f"bell.id IN (SELECT bell_id FROM inscription_formula WHERE formula IN ({places}))",
        tuple(formula_ids),
    )


class _Search:
    """One question put to the words of one registry."""

    def __init__(self, conn: sqlite3.Connection, asked: Question) -> None:
        self.conn = conn
        self.asked = asked
        self.words = asked.words[:MOST_WORDS]
        self.matches = [self._match(word) for word in self.words]

    def condition(self) -> TextCondition:
        """Say which bells answer: by all words, by the formula that they are, or by what is left of them."""
        others = self._damaged() | self._run_together() | self._beside_gaps()
        ways = ["SELECT bell_id FROM bell_text WHERE bell_text MATCH ?"]
        values: list[Any] = [" AND ".join(self.matches)]
        for formula_id, rest in self._as_formula():
            way = "SELECT bell_id FROM inscription_formula WHERE formula = ?"
            values.append(formula_id)
            if rest:
                way += " AND bell_id IN (SELECT bell_id FROM bell_text WHERE bell_text MATCH ?)"
                values.append(" AND ".join(rest))
            ways.append(way)
        if others:
            ways.append("SELECT value FROM json_each(?)")
            values.append(to_json(sorted(others)))
        return TextCondition(f"bell.id IN ({' UNION '.join(ways)})", tuple(values))

    def _match(self, asked: Asked) -> str:
        """Write what full-text search is asked for one word: as a name, or as a spelling."""
        ways = []
        names = [_quoted(key) for key in asked.names]
        last = asked is self.asked.words[-1]
        if names and not asked.word.is_damaged:
            ways.append(f"{{{NAMES}}} : ({' OR '.join(key + ' *' * last for key in names)})")
        keys = self._spellings(asked)
        if asked.word.parts:
            halves = " AND ".join(self._of_part(part) for part in asked.word.parts)
            ways.append(f"({halves})")
        if keys:
            ways.append(f"{{{SPELLINGS}}} : ({' OR '.join(keys)})")
        return f"({' OR '.join(ways)})" if ways else _NEVER

    def _spellings(self, asked: Asked) -> list[str]:
        """Give what a word may be spelled as in this registry."""
        keys: dict[str, None] = {}
        for key in asked.keys:
            if GAP in key:
                keys |= dict.fromkeys(self._fitting(key, asked.word))
            else:
                keys[key] = None
                keys |= dict.fromkeys(self._known(slips(key, freely=self.asked.freely)))
        return [_quoted(key) for key in keys] + [_quoted(each) + " *" for each in asked.begins]

    def _of_part(self, part: Word) -> str:
        return f"{{{SPELLINGS}}} : ({' OR '.join(_quoted(key) for key in part.keys)})"

    def _known(self, words: set[str]) -> list[str]:
        """Give those of some words that the registry holds."""
        if not words:
            return []
        rows = self.conn.execute(
            "SELECT term FROM bell_word WHERE term IN (SELECT value FROM json_each(?))",
            (to_json(sorted(words)),),
        )
        return [row[0] for row in rows]

    def _fitting(self, pattern: str, word: Word) -> list[str]:
        """Give the words the registry holds that a damaged word of the question may be."""
        least = word.standing + word.least
        most = None if word.most is None else word.standing + word.most
        rows = self.conn.execute(
            "SELECT term FROM bell_word WHERE term GLOB ? AND length(term) >= ?"
            " AND (? IS NULL OR length(term) <= ?) LIMIT ?",
            (pattern, least, most, most, MOST_FITTING),
        )
        return [row[0] for row in rows]

    def _damaged(self) -> set[str]:
        """Find bells on which some of the words stand damaged, and all the others whole."""
        standing = [self._damaged_on(word) for word in self.words]
        candidates = set().union(*standing)
        if not candidates:
            return set()
        for match, damaged in zip(self.matches, standing, strict=True):
            if candidates <= damaged:
                continue
            rows = self.conn.execute(
                "SELECT bell_id FROM bell_text WHERE bell_text MATCH ?"
                " AND bell_id IN (SELECT value FROM json_each(?))",
                (match, to_json(sorted(candidates - damaged))),
            )
            candidates &= damaged | {row[0] for row in rows}
        return candidates

    def _damaged_on(self, asked: Asked) -> set[str]:
        """Find bells with a damaged word that can be this one: half of its letters must stand."""
        found: set[str] = set()
        for key in asked.keys:
            if GAP in key:
                rows = self.conn.execute("SELECT bell_id FROM damaged_word WHERE pattern = ?", (key,))
                found |= {row[0] for row in rows}
            elif len(key) > 1:
                rows = self.conn.execute(
                    "SELECT bell_id FROM damaged_word WHERE ?1 GLOB pattern AND standing >= 2"
                    " AND 2 * standing >= length(?1) AND length(?1) >= standing + least"
                    " AND (most IS NULL OR length(?1) <= standing + most)",
                    (key,),
                )
                found |= {row[0] for row in rows}
        return found

    def _run_together(self) -> set[str]:
        """Find bells on which the words are parted otherwise, or not at all."""
        joined = self.asked.joined
        if len(joined) < LEAST_JOINED or GAP in joined:
            return set()
        rows = self.conn.execute(
            "SELECT DISTINCT bell_id FROM inscription_normalised WHERE instr(joined, ?)", (joined,)
        )
        return {row[0] for row in rows}

    def _beside_gaps(self) -> set[str]:
        """Find bells on which enough of the words stand, and the others may have stood in what is lost."""
        if len(self.words) < 2:
            return set()
        keys = sorted({key for word in self.words for key in word.keys if len(key) >= 3 and GAP not in key})
        if not keys:
            return set()
        some = " OR ".join(["instr(words, ?)"] * len(keys))
        rows = self.conn.execute(
            f"SELECT bell_id, words FROM inscription_normalised WHERE has_gap = 1 AND ({some})", keys
        )
        return {bell_id for bell_id, words in rows if stand_in_gaps(self.asked, _parted(words))}

    def _as_formula(self) -> Iterable[tuple[str, list[str]]]:
        """Give each formula the question names, with what is asked beside it."""
        for found in self.asked.formulas:
            rest = [
                match
                for word, match in zip(self.words, self.matches, strict=True)
                if not found.start <= word.word.start < found.end
            ]
            yield found.formula.id, rest


_NEVER = f'{{{SPELLINGS}}} : "0nothing0"'
"""What no bell answers: a key has no figure before letters and behind them."""


def _quoted(word: str) -> str:
    return '"' + word.replace('"', '""') + '"'


def _parted(words: str) -> list[list[str]]:
    return [word.split("|") for word in words.split(" ")]
