"""Time the words: inscriptions normalised and searched, and how many spellings of a formula are found.

Run ``python benchmarks/words.py``. It writes 50,000 invented inscriptions: formulas in spellings drawn at
random by what medieval founders did (letters exchanged, doubled, left out; marks; brackets of an edition;
damage; lines run backwards), names, dates and sentences between them. It tells the time to normalise them and
to put them into a registry, the time of typical questions, and for every kind of spelling how many of the
formulas written are recognised, and found by the formula as a book spells it. The last figure is how often a
text without a formula was taken for one.

The spellings are drawn by this script and not by the rules of the registry, but by the same mind that wrote
those: published spellings, in ``tests/inscriptions/tables``, are the better judge.
"""

import argparse
import random
import sqlite3
import statistics
import time
from collections import Counter
from collections.abc import Callable, Iterable
from typing import Any

from registry.inscriptions.formulas import formulas, recognise
from registry.inscriptions.normalising import normalise
from registry.store.database import create_schema
from registry.store.history import BellHistory
from registry.store.searchable import rows_of_words
from registry.store.text_search import text_condition

NAMES = ("hans", "peter", "iohannes", "martinus", "nicolaus", "gerhardus", "konrad", "elisabeth", "katherina")
PLAIN = (
    "gos mich", "me fecit", "hilf got maria berat", "in gottes namen flos ich", "the gift of many hands",
    "anno domini m cccc", "peace and good neighbourhood", "sancta barbara", "salvator is mine name",
    "je suis fait pour", "gott allein die ehre", "our voices shall in consort ring", "ich rufe die lebenden",
    "campana huius ecclesie", "heilige dreifaltigkeit",
)  # fmt: skip
EXCHANGES = {
    "ae": "e", "ti": "ci", "th": "t", "ph": "f", "i": "y", "u": "v", "v": "u", "c": "k", "ch": "c", "t": "th",
    "m": "mm", "nn": "n", "s": "ss", "mn": "mpn", "e": "ae", "ia": "ya", "h": "", "x": "xs", "ct": "cct",
}  # fmt: skip
LIKE = {"n": "u", "u": "n", "t": "c", "c": "t", "d": "t", "e": "i", "i": "e", "o": "u"}


def respelled(draw: random.Random, words: list[str]) -> list[str]:
    """Exchange letters as medieval writers did, one or two a word."""
    made = []
    for word in words:
        for _ in range(draw.choice((0, 1, 1, 2))):
            old, new = draw.choice([*EXCHANGES.items()])
            word = word.replace(old, new, 1)  # noqa: PLW2901
        made.append(word)
    return made


def shortened(draw: random.Random, words: list[str]) -> list[str]:
    """Shorten words with a mark, or with the brackets of an edition."""
    made = []
    for word in words:
        kind = draw.random()
        if len(word) > 3 and kind < 0.25:
            at = draw.randrange(1, len(word) - 1)
            made.append(word[:at] + "(" + word[at : at + 2] + ")" + word[at + 2 :])
        elif word[-1] == "m" and kind < 0.6:
            made.append(word[:-1] + "\u0304")
        elif len(word) > 5 and kind < 0.35:
            made.append(word[0] + word[len(word) // 2] + "\u0303" + word[-1])
        else:
            made.append(word)
    return made


def damaged(draw: random.Random, words: list[str]) -> list[str]:
    """Lose letters: in a word, or a word."""
    made = [*words]
    for _ in range(max(1, len(words) // 4)):
        at = draw.randrange(len(made))
        word = made[at]
        keep = draw.randrange(len(word) + 1)
        lost = draw.choice(("[---]", "[" + "." * max(len(word) - keep, 1) + "]"))
        made[at] = word[:keep] + lost if draw.random() < 0.7 else lost
    return made


def miscast(draw: random.Random, words: list[str]) -> list[str]:
    """Take one letter for a like one, or leave one out, in a third of the words."""
    made = []
    for word in words:
        at = draw.randrange(len(word))
        if draw.random() < 0.33 and len(word) > 3:
            made.append(word[:at] + (LIKE.get(word[at], "") if draw.random() < 0.7 else "") + word[at + 1 :])
        else:
            made.append(word)
    return made


def unparted(draw: random.Random, words: list[str]) -> list[str]:
    """Run some or all words together."""
    made = [words[0]]
    for word in words[1:]:
        if draw.random() < 0.5:
            made[-1] += word
        else:
            made.append(word)
    return made


def backwards(_draw: random.Random, words: list[str]) -> list[str]:
    """Write the line from its end."""
    return [" ".join(words)[::-1]]


KINDS: dict[str, Callable[[random.Random, list[str]], list[str]]] = {
    "as in books": lambda _draw, words: words,
    "respelled": respelled,
    "shortened": lambda draw, words: shortened(draw, respelled(draw, words)),
    "miscast": miscast,
    "damaged": damaged,
    "run together": unparted,
    "backwards": backwards,
}


def inscription(draw: random.Random, number: int) -> tuple[str, str | None, str, str | None]:
    """Draw an inscription: its text, the formula in it, the kind of its spelling, and its direction."""
    frame = [draw.choice(PLAIN), draw.choice(NAMES), "m cccc " + draw.choice(("xii", "lx", "lxxxviiii"))]
    if draw.random() < 0.5:
        return " ".join(frame[: draw.randrange(1, 4)]), None, "none", None
    formula = draw.choice([*formulas().values()])
    kind = [*KINDS][number % len(KINDS)]
    text = " ".join(KINDS[kind](draw, formula.text.lower().split()))
    if draw.random() < 0.5:
        text = f"{text} {frame[2]}" if kind != "backwards" else text
    return (
        (text.upper() if draw.random() < 0.4 else text),
        formula.id,
        kind,
        ("retrograde" if kind == "backwards" else None),
    )


def registry_of(inscriptions: Iterable[tuple[str, str | None, str, str | None]]) -> sqlite3.Connection:
    """Put inscriptions into the tables of words, one bell each."""
    conn = sqlite3.connect(":memory:")
    create_schema(conn)
    current = {"place": "Nowhere", "tower_name": "Invented Gate", "region": None}
    for number, (text, _, _, direction) in enumerate(inscriptions):
        row: Any = {
            "survey_id": "s", "number": 1, "transcription": text, "expansion": None, "translation": None,
            "direction": direction,
        }  # fmt: skip
        seen: Any = {"name": None, "title": None, "founder": NAMES[number % len(NAMES)]}
        empty: list[Any] = []
        history = BellHistory(
            f"bell-{number}", [seen], *[empty] * 6, [row], *[empty] * (len(BellHistory._fields) - 9)
        )
        conn.execute("INSERT INTO bell VALUES (?)", (history.bell_id,))
        for table, rows in rows_of_words(history, current).items():
            places = ", ".join("?" * len(rows[0])) if rows else ""
            conn.executemany(f"INSERT INTO {table} VALUES ({places})", rows) if rows else None  # noqa: S608
    return conn


def found(conn: sqlite3.Connection, text: str, *, exact: bool = False) -> set[str]:
    """Give the bells found by words."""
    condition = text_condition(conn, text, exact=exact)
    assert condition is not None  # noqa: S101
    rows = conn.execute(f"SELECT id FROM bell WHERE {condition.sql}", condition.values)  # noqa: S608
    return {row[0] for row in rows}


def main() -> None:
    """Measure and tell."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--inscriptions", type=int, default=50_000)
    count = asked.parse_args().inscriptions
    draw = random.Random(1)
    written = [inscription(draw, number) for number in range(count)]

    start = time.process_time()
    for text, *_ in written:
        normalise(text)
    spent = time.process_time() - start
    print(f"normalised: {count / spent:,.0f} inscriptions a second of processor time")
    start = time.process_time()
    conn = registry_of(written)
    spent = time.process_time() - start
    print(f"put into the registry, formulas recognised: {count / spent:,.0f} a second")

    print(f"\nquestions to {count:,} inscriptions, median of 5, ms of processor time")
    for text, exact in (
        ("maria", False), ("o rex glorie", False), ("o rex glorie criste veni cum pace", False),
        ("katherina", False), ("ma[..]a", False), ("V D M I E", False), ("dñs tecum", False),
        ("nobodywrotethis", False),
        ("hans gos mich", False), ("VENI CVM", True),
    ):  # fmt: skip
        times = []
        for _ in range(5):
            start = time.process_time()
            bells = found(conn, text, exact=exact)
            times.append(1000 * (time.process_time() - start))
        asked_for = text + (" (exact)" if exact else "")
        print(f"  {asked_for:40} {statistics.median(times):7.1f}  {len(bells):6} bells")

    recognised: Counter[str] = Counter()
    reached: Counter[str] = Counter()
    written_of: Counter[str] = Counter()
    by_formula = {id_: found(conn, formula.text) for id_, formula in formulas().items()}
    wrong = 0
    for number, (text, formula, kind, _) in enumerate(written):
        written_of[kind] += 1
        ids = {each.formula.id for each in recognise(text)}
        if formula is None:
            wrong += bool(ids)
            continue
        recognised[kind] += formula in ids
        reached[kind] += f"bell-{number}" in by_formula[formula]
    print("\nformulas               written  recognised  found by the formula of books")
    for kind in KINDS:
        of = written_of[kind]
        print(f"  {kind:18} {of:9} {recognised[kind] / of:11.1%} {reached[kind] / of:11.1%}")
    print(f"taken for a formula without being one: {wrong} of {written_of['none']}")


if __name__ == "__main__":
    main()
