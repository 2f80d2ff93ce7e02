"""Invent bells as a district has them, what a registry has on record of them, and what finders would tell.

Sizes, notes and masses follow the published proportions of ``schema/rules/estimates.yaml`` with their spread;
rings, founders with their years, formulas that recur, and gaps in the records are made up to look like real
registries (common practice, no source). The same seed gives the same bells.
"""

import math
import random
from collections.abc import Callable
from typing import Any, NamedTuple

from registry.derive.identity.facts import Facts, Record, Years, diameter_sd, mass_sd, strike_sd_cents
from registry.derive.identity.letters import plain_letters
from registry.derive.law import NINETY_PERCENT, law_of

FORMULAS = (
    "ave maria gracia plena dominus tecum",
    "o rex glorie veni cum pace",
    "vivos voco mortuos plango fulgura frango",
    "gloria in excelsis deo",
    "soli deo gloria",
    "sit nomen domini benedictum",
    "lobet den herrn mit hellen cymbeln",
    "te deum laudamus",
    "verbum domini manet in eternum",
    "da pacem domine in diebus nostris",
    "deo et ecclesie",
    "ehre sei gott in der hoehe",
    "sancta maria ora pro nobis",
    "sancte nicolae ora pro nobis",
    "venite adoremus",
    "sancte iohannes ora pro nobis",
    "jesus nazarenus rex judeorum",
    "laudate dominum omnes gentes",
    "sursum corda",
    "lucas marcus matheus johannes",
    "help ghot ut aller not",
    "maria bin ic ghenaemt",
    "praise ye the lord",
    "land land land hoere des herrn wort",
    "kommt lasset uns anbeten",
    "wachet und betet",
    "ad maiorem dei gloriam",
    "my treble voice makes hearts rejoice",
    "i to the church the living call and to the grave do summon all",
    "peace and good neighbourhood",
    "god save his church",
    "vox domini super aquas",
    "anno domini fusa sum",
    "mein mund soll verkuendigen des herrn ruhm",
    "consolor viva fleo mortua pello nociva",
    "dum trahor audite voco vos ad sacra venite",
    "friede sei ihr erst gelaeute",
    "ein feste burg ist unser gott",
)
"""Formulas that stand on many bells."""
STARTS = (
    "al", "ber", "con", "dirk", "ehr", "fro", "ger", "hen", "jak", "klaas", "lud", "mel", "nor", "ot",
    "peer", "quirin", "rem", "sig", "tob", "ulr", "vin", "wal", "zach", "bal", "cas",
)  # fmt: skip
ENDS = (
    "bert", "dorp", "er", "feld", "gard", "hof", "ing", "kamp", "lin", "man", "nach", "old", "rath",
    "sen", "stein", "thal", "wald", "weg", "zon", "bruck", "hausen",
)  # fmt: skip
"""Beginnings and ends of invented names."""
SAINTS = (
    "maria", "petrus", "paulus", "anna", "katharina", "barbara", "nikolaus", "johannes", "martinus",
    "georgius", "margareta",
)  # fmt: skip
ROLES = (
    "pastor", "consules", "provisores", "kirchmeister", "churchwardens", "vicar", "magister", "curate",
    "kerkmeesters",
)  # fmt: skip
"""Whoever had the bell made."""

FRAGMENT = (0.4, 0.7)
"""Share of the words that a finder reads, in one run and at least three of them: from, to."""
MISREAD = 0.05
"""Share of the letters that he takes for others, leaves out or doubles."""


class Founder(NamedTuple):
    """A founder: name, years, and how his bells differ in pitch and mass (natural logarithm)."""

    name: str
    first: int
    last: int
    pitch: float
    mass: float
    formulas: tuple[str, ...]


class Bell(NamedTuple):
    """A bell as it truly is."""

    id: str
    founder: Founder
    year: int
    material: str
    diameter_mm: float
    strike_hz: float
    mass_kg: float
    text: str
    crown: str
    loops: int
    tierce_cents: float
    hum_cents: float


def invent_bells(chance: random.Random, count: int) -> list[Bell]:
    """Invent so many bells, tower by tower."""
    founders = [_founder(chance) for _ in range(max(count // 25, 8))]
    bells: list[Bell] = []
    while len(bells) < count:
        tower = len(bells)
        largest_mm = 1000.0 * math.exp(chance.gauss(math.log(1.05), 0.32))
        ring = chance.choices(range(1, 9), (22, 22, 22, 14, 8, 5, 4, 3))[0]
        own = chance.sample(founders, chance.choice((1, 1, 1, 2, 3)))
        steps = chance.choice(
            ((0, 2, 4, 5, 7, 9, 11, 12), (0, 3, 5, 7, 8, 10, 12, 15), (0, 2, 3, 5, 7, 8, 10, 12))
        )
        bells += [
            _bell(chance, f"bell-{tower}-{place}", chance.choice(own), largest_mm * 2 ** (-steps[place] / 12))
            for place in range(ring)
        ]
    return bells[:count]


def _founder(chance: random.Random) -> Founder:
    name = f"{_name(chance)} {_name(chance)}"
    first = int(chance.triangular(1380, 1950, 1850))
    formulas = chance.sample(FORMULAS, 4)
    return Founder(
        name,
        first,
        first + chance.randint(8, 45),
        chance.gauss(0, 0.08),
        chance.gauss(0, 0.085),
        tuple(formulas),
    )


def _name(chance: random.Random) -> str:
    return chance.choice(STARTS) + chance.choice(ENDS)


def _bell(chance: random.Random, bell_id: str, founder: Founder, wanted_mm: float) -> Bell:
    year = chance.randint(founder.first, founder.last)
    material = "cast-steel" if year > 1855 and chance.random() < 0.12 else "bronze"
    law = law_of(material)
    if law is None:
        raise ValueError(material)
    diameter_mm = max(wanted_mm * math.exp(chance.gauss(0, 0.02)), 180.0)
    scatter = law.pitch_scatter.spread / NINETY_PERCENT
    strike_hz = law.strike(diameter_mm / 1000).value * math.exp(
        founder.pitch + chance.gauss(0, scatter * 0.4)
    )
    mass = law.mass_by_strike(diameter_mm / 1000, strike_hz).value
    canons = year < 1880 or chance.random() < 0.3
    removed = canons and chance.random() < 0.12
    return Bell(
        bell_id,
        founder,
        year,
        material,
        diameter_mm,
        strike_hz,
        mass * math.exp(founder.mass + chance.gauss(0, 0.045)),
        _text(chance, founder, year),
        "canons-removed" if removed else "canons" if canons else "flat-top",
        0 if removed or not canons else chance.choices((6, 4, 8, 2), (80, 14, 3, 3))[0],
        chance.gauss(305, 28),
        chance.gauss(-1200, 75),
    )


def _text(chance: random.Random, founder: Founder, year: int) -> str:
    """Write an inscription: formulas that recur, often a year, a founder, names; some bells bear nothing."""
    if chance.random() < 0.08:
        return ""
    parts = []
    if chance.random() < 0.7:
        source = founder.formulas if chance.random() < 0.75 else FORMULAS
        parts.append(chance.choice(source))
    if chance.random() < 0.25:
        parts.append(f"sancte {chance.choice(SAINTS)} ora pro nobis")
    if chance.random() < 0.6:
        written = _roman(year) if year < 1620 else str(year)
        parts.append(chance.choice(("anno domini {}", "anno {}", "{}", "im jahre {}")).format(written))
    if chance.random() < 0.5:
        parts.append(
            chance.choice(("{} me fecit", "gos mich {}", "{} founder", "me fudit {}")).format(founder.name)
        )
    if chance.random() < 0.35:
        parts.append(f"{_name(chance)} {_name(chance)} {chance.choice(ROLES)}")
    return " ".join(parts) or chance.choice(FORMULAS)


def _roman(year: int) -> str:
    text = ""
    for value, letters in ((1000, "m"), (500, "d"), (100, "c"), (50, "l"), (10, "x"), (5, "v"), (1, "i")):
        text += letters * (year // value)
        year %= value
    return text


def record_of(chance: random.Random, bell: Bell, *, documents: float = 0.25) -> Record:
    """Put a bell on record: mostly as surveyed in its tower, else as a list or an inventory has it."""
    return _listed(chance, bell) if chance.random() < documents else _surveyed(chance, bell)


def _has(chance: random.Random, share: float) -> bool:
    return chance.random() < share


def _surveyed(chance: random.Random, bell: Bell) -> Record:
    diameter_mm = round(bell.diameter_mm * (1 + chance.gauss(0, 0.003)))
    facts = Facts(material=bell.material if _has(chance, 0.98) else None)
    if _has(chance, 0.98):
        facts = facts._replace(mouth_diameter_mm=diameter_mm, diameter_sd=diameter_sd(diameter_mm, 2.0))
    if _has(chance, 0.9):
        measured = _has(chance, 0.75)
        cents = chance.gauss(0, 5 if measured else 15)
        hz = bell.strike_hz * 2 ** (cents / 1200)
        hz *= chance.choices((1, 2, 0.5), (0.97, 0.015, 0.015))[0]
        if not measured:
            hz = 440 * 2 ** (round(12 * math.log2(hz / 440)) / 12)
        sd = strike_sd_cents(2.0) if measured else strike_sd_cents(49.0)
        facts = facts._replace(strike_hz=hz, strike_sd_cents=sd)
        if measured and _has(chance, 0.7):
            facts = facts._replace(partials_hz=_partials(chance, bell, 3.0))
    if _has(chance, 0.35):
        facts = _with_mass(chance, facts, bell)
    if bell.text and _has(chance, 0.97):
        # Now and then a line was behind the headstock.
        words = bell.text.split()
        seen = words if _has(chance, 0.96) else words[: max(len(words) // 2, 2)]
        text = misread(chance, " ".join(seen), 0.01)
        facts = facts._replace(inscription=(plain_letters(text),), inscription_gaps=0.04)
    if not bell.text and _has(chance, 0.8):
        facts = facts._replace(wordless=True)
    return Record(bell.id, _dated(chance, facts, bell, 0.9, 0.6), "hanging", 2000 + chance.randint(0, 25))


def _listed(chance: random.Random, bell: Bell) -> Record:
    facts = Facts(material=bell.material if _has(chance, 0.7) else None)
    if _has(chance, 0.8):
        diameter_mm = float(10 * round(bell.diameter_mm * (1 + chance.gauss(0, 0.006)) / 10))
        facts = facts._replace(
            mouth_diameter_mm=diameter_mm, diameter_sd=diameter_sd(diameter_mm, document=True)
        )
    if _has(chance, 0.1):
        hz = 440 * 2 ** (round(12 * math.log2(bell.strike_hz / 440)) / 12)
        facts = facts._replace(strike_hz=hz, strike_sd_cents=strike_sd_cents(49.0))
    if _has(chance, 0.7):
        facts = _with_mass(chance, facts, bell)
    if bell.text and _has(chance, 0.55):
        words = bell.text.split()
        kept = words if _has(chance, 0.6) else words[: max(len(words) // 2, 2)]
        text = misread(chance, " ".join(kept), 0.03)
        facts = facts._replace(inscription=(plain_letters(text),), inscription_gaps=0.3)
    status = chance.choice(("requisitioned", "requisitioned", "lost", "hanging", "destroyed"))
    return Record(bell.id, _dated(chance, facts, bell, 0.8, 0.4), status, None)


def _with_mass(chance: random.Random, facts: Facts, bell: Bell) -> Facts:
    basis, spread = chance.choice((("weighed", 0.01), ("estimated", 0.15), ("calculated", 0.1)))
    kg = max(round(bell.mass_kg * math.exp(chance.gauss(0, spread))), 1)
    return facts._replace(mass_kg=kg, mass_sd=mass_sd(kg, basis))


def _dated(chance: random.Random, facts: Facts, bell: Bell, dated: float, founder: float) -> Facts:
    if _has(chance, dated):
        span = chance.choices((0, 3, 25, 99), (70, 8, 12, 10))[0]
        first = bell.year - chance.randint(0, span)
        facts = facts._replace(cast_years=(Years(first, first + span),))
    if _has(chance, founder):
        facts = facts._replace(founder=(bell.founder.name,))
    if _has(chance, 0.75):
        facts = facts._replace(crown=bell.crown, loops=bell.loops)
    return facts


def _partials(chance: random.Random, bell: Bell, sd_cents: float) -> dict[str, float]:
    cents = {"hum": bell.hum_cents, "tierce": bell.tierce_cents, "nominal": 1200.0}
    return {
        name: bell.strike_hz * 2 ** ((at + chance.gauss(0, sd_cents)) / 1200) for name, at in cents.items()
    }


def misread(chance: random.Random, text: str, share: float) -> str:
    """Write a text with letters changed, left out or doubled."""
    out = []
    for letter in text:
        if chance.random() >= share or letter == " ":
            out.append(letter)
        else:
            out.append(chance.choice(("", letter * 2, chance.choice("abcdefghilmnoprstu"))))
    return "".join(out)


def _found_diameter(chance: random.Random, bell: Bell) -> dict[str, Any]:
    # A tape across the mouth of a bell on the ground, chipped lip and all.
    slip = chance.choices((1.0, 0.5, 1 / 2.54, math.pi), (0.99, 0.004, 0.002, 0.004))[0]
    mm = round(bell.diameter_mm * slip * math.exp(_heavy(chance, 0.003)))
    return {"mouth_diameter_mm": mm, "diameter_sd": diameter_sd(mm, 3.0)}


def _found_note(chance: random.Random, bell: Bell) -> dict[str, Any]:
    # A telephone held to it; now and then the wrong octave.
    octave = chance.choices((1.0, 2.0, 0.5), (0.95, 0.03, 0.02))[0]
    hz = bell.strike_hz * octave * 2 ** (_heavy(chance, 9.0) / 1200)
    return {"strike_hz": hz, "strike_sd_cents": strike_sd_cents(10.0)}


def _found_mass(chance: random.Random, bell: Bell) -> dict[str, Any]:
    kg = bell.mass_kg * math.exp(_heavy(chance, 0.02))
    return {"mass_kg": kg, "mass_sd": mass_sd(kg, "weighed", 0.02 * kg)}


def _found_inscription(
    chance: random.Random, bell: Bell, shares: tuple[float, float] = FRAGMENT
) -> dict[str, Any]:
    words = bell.text.split()
    if not words:
        return {"wordless": True}
    count = min(max(round(chance.uniform(*shares) * len(words)), 3), len(words))
    start = chance.randint(0, len(words) - count)
    read = misread(chance, " ".join(words[start : start + count]), MISREAD)
    return {"inscription": (plain_letters(read),)}


def _found_date(chance: random.Random, bell: Bell) -> dict[str, Any]:
    # By the letters and the shape: a decade, half a century or a century, now and then missed.
    span = chance.choice((9, 49, 99))
    first = bell.year - chance.randint(0, span) + round(chance.gauss(0, 2))
    return {"cast_years": (Years(first, first + span),)}


def _found_material(chance: random.Random, bell: Bell) -> dict[str, Any]:
    return {"material": bell.material if chance.random() < 0.97 else "cast-iron"}


def _found_loops(chance: random.Random, bell: Bell) -> dict[str, Any]:
    return {"loops": bell.loops - (chance.random() < 0.05 and bell.loops > 0)}


def _found_founder(chance: random.Random, bell: Bell) -> dict[str, Any]:
    return {"founder": (misread(chance, bell.founder.name, 0.03),)}


def _found_partials(chance: random.Random, bell: Bell) -> dict[str, Any]:
    return {"partials_hz": _partials(chance, bell, 6.0)}


FOUND: dict[str, Callable[[random.Random, Bell], dict[str, Any]]] = {
    "diameter": _found_diameter,
    "note": _found_note,
    "mass": _found_mass,
    "inscription": _found_inscription,
    "three words": lambda chance, bell: _found_inscription(chance, bell, (0.0, 0.0)),
    "date": _found_date,
    "material": _found_material,
    "loops": _found_loops,
    "founder": _found_founder,
    "partials": _found_partials,
}
"""By name of a fact: how a finder tells it, with his errors."""


def _heavy(chance: random.Random, scale: float) -> float:
    """Give an error with heavier tails than a normal one: one in twelve is thrice as wide."""
    return chance.gauss(0.0, scale * (3.0 if chance.random() < 0.08 else 1.0))
