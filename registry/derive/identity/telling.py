"""What a finder writes, read into facts: the same for options of the command line and fields of a page."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from registry.derive.identity.facts import (
    Facts,
    Years,
    diameter_sd,
    mass_sd,
    spans_of,
    strike_sd_cents,
    widened,
)
from registry.derive.identity.letters import pieces, plain_letters
from registry.derive.identity.rules import rules
from registry.model.edtf import EdtfError, parse_edtf
from registry.model.pitch import CENTS_PER_SIXTEENTH, NoteError, read_note
from registry.model.vocabulary import vocabulary
from registry.units import QuantityError, read_quantity

LONGEST = 4000
"""Characters of a fragment that are read."""

QUANTITIES = {
    "mouth_diameter_mm": (50.0, 6700.0),
    "mouth_diameter_tolerance_mm": (0.0, 1000.0),
    "strike_hz": (20.0, 8000.0),
    "mass_kg": (1.0, 250000.0),
    "mass_tolerance_kg": (0.0, 50000.0),
}
"""Quantities a finder may give, with the limits of the form."""

PARTIALS = ("hum", "prime", "tierce", "quint", "nominal", "superquint", "octave-nominal")
"""Partials that can be given, each as ``hum_hz``."""

WORDS = {"material": "material", "crown": "crown_kind", "mass_basis": "mass_basis"}
"""Words a finder may give, with their vocabularies."""

BELONGS_TO = {
    "mouth_diameter_tolerance_mm": "mouth_diameter_mm",
    "note_cents": "note",
    "reference_hz": "note",
    "mass_tolerance_kg": "mass_kg",
    "mass_basis": "mass_kg",
}
"""Fields that say something of another one, and nothing without it."""

FIELDS = (
    *QUANTITIES,
    "note",
    "note_cents",
    "reference_hz",
    *(f"{name.replace('-', '_')}_hz" for name in PARTIALS),
    "inscription",
    "wordless",
    "cast",
    "founder",
    *WORDS,
    "loops",
    "unregistered",
    "status_counts",
)
"""Everything that can be told, by its name in an address."""


class Fault(NamedTuple):
    """A field that could not be read: its name, what was written, what belongs there, and what to do."""

    field: str
    read: str
    expected: str
    remedy: str


class Told(NamedTuple):
    """What was told: the facts, what is believed before, and what could not be read."""

    facts: Facts
    unregistered: float
    by_status: bool
    faults: tuple[Fault, ...]


def read_told(written: Mapping[str, str], today: date | None = None) -> Told:
    """Read what a finder wrote.

    Parameters
    ----------
    written : mapping of str
        Text by field, of `FIELDS`; empty ones count as not told, others are not looked at.
    today : date, optional
        No bell was cast later.

    Returns
    -------
    Told
        What could be read, and every field that could not.
    """
    read = _Reading({name: text.strip()[:LONGEST] for name, text in written.items() if text.strip()})
    facts = read.facts(today or date.today())
    unregistered = read.share("unregistered", float(rules()["prior"]["unregistered"]))
    return Told(facts, unregistered, read.text("status_counts") != "no", tuple(read.faults))


class _Reading:
    """The fields as they are read, and what was wrong with them."""

    def __init__(self, written: Mapping[str, str]) -> None:
        self.written = written
        self.faults: list[Fault] = []

    def text(self, name: str) -> str:
        return self.written.get(name, "")

    def fault(self, name: str, expected: str, remedy: str) -> None:
        self.faults.append(Fault(name, self.text(name)[:60], expected, remedy))

    def quantity(self, name: str, unit: str, low: float, high: float) -> float | None:
        text = self.text(name)
        if not text:
            return None
        try:
            value = read_quantity(text, unit)
        except QuantityError as error:
            self.fault(name, error.expected, error.remedy)
            return None
        if not low <= value <= high:
            self.fault(name, f"{low:g} to {high:g}", "check number and unit")
            return None
        return value

    def word(self, name: str) -> str | None:
        text = self.text(name)
        if not text or text == "unknown":
            return None
        if text not in vocabulary(WORDS[name]).terms:
            self.fault(
                name, f"one of {', '.join(vocabulary(WORDS[name]).terms)}", "choose one, or leave it out"
            )
            return None
        return None if text == "other" else text

    def share(self, name: str, usual: float) -> float:
        text = self.text(name)
        if not text:
            return usual
        try:
            percent = text.endswith("%")
            value = float(text.removesuffix("%")) / (100.0 if percent else 1.0)
        except ValueError:
            value = -1.0
        if not 0.0 < value < 1.0:
            self.fault(
                name, "a chance between 0 and 1, or from 0 % to 100 %, the ends left out", "write 0.2 or 20 %"
            )
            return usual
        return value

    def lonely(self) -> None:
        """Tell what was said of something that was not told, and what speaks against itself."""
        for name, owner in BELONGS_TO.items():
            if self.text(name) not in ("", "unknown") and not self.text(owner):
                self.fault(name, f"{owner} beside it", f"tell {owner} as well, or leave {name} out")
        if self.text("wordless") == "yes" and self.text("inscription"):
            self.fault("wordless", "no inscription beside it", "leave one of the two out")

    def facts(self, today: date) -> Facts:
        self.lonely()
        quantities = {
            name: self.quantity(name, name.rpartition("_")[2], *QUANTITIES[name]) for name in QUANTITIES
        }
        mm, kg = quantities["mouth_diameter_mm"], quantities["mass_kg"]
        partials = {
            name: self.quantity(f"{name.replace('-', '_')}_hz", "hz", 15.0, 20000.0) for name in PARTIALS
        }
        strike_hz, strike_cents = self._strike(quantities["strike_hz"])
        nominal_hz = partials["nominal"]
        if strike_hz is None and nominal_hz is not None:
            strike_hz, strike_cents = nominal_hz / 2.0, 0.0
        return Facts(
            mouth_diameter_mm=mm,
            diameter_sd=0.0
            if mm is None
            else diameter_sd(mm, quantities["mouth_diameter_tolerance_mm"] or 0.0),
            strike_hz=strike_hz,
            strike_sd_cents=strike_sd_cents(strike_cents),
            mass_kg=kg,
            mass_sd=0.0
            if kg is None
            else mass_sd(kg, self.word("mass_basis"), quantities["mass_tolerance_kg"] or 0.0),
            partials_hz={name: hz for name, hz in partials.items() if hz is not None},
            inscription=self._inscription(),
            wordless=self.text("wordless") == "yes" and not self.text("inscription"),
            cast_years=self._years(today),
            material=self.word("material"),
            crown=self.word("crown"),
            loops=self._loops(),
            founder=(self.text("founder")[:200],) if self.text("founder") else (),
        )

    def _strike(self, strike_hz: float | None) -> tuple[float | None, float]:
        """Give the strike note [Hz] and what its reading leaves open [cents]."""
        note = self.text("note")
        cents = self.quantity("note_cents", "cents", -60.0, 60.0)
        reference_hz = self.quantity("reference_hz", "hz", 390.0, 480.0)
        if not note:
            return strike_hz, 10.0
        try:
            number = read_note(note).number
        except NoteError as error:
            self.fault("note", error.expected, error.remedy)
            return strike_hz, 10.0 if strike_hz is not None else 0.0
        if strike_hz is not None:
            return strike_hz, 10.0
        usual = float(rules()["strike"]["note_tolerance_cents"])
        hz = (reference_hz or 440.0) * 2.0 ** ((number - 69) / 12.0 + (cents or 0.0) / 1200.0)
        return hz, usual if cents is None else CENTS_PER_SIXTEENTH

    def _inscription(self) -> tuple[str, ...]:
        text = plain_letters(self.text("inscription"))
        if not self.text("inscription"):
            return ()
        least: int = rules()["inscription"]["least_letters"]
        if not any(len(piece) >= least for piece in pieces(text)):
            self.fault(
                "inscription", f"{least} letters that stand together", "a shorter fragment says nothing"
            )
            return ()
        return (text,)

    def _years(self, today: date) -> tuple[Years, ...]:
        text = self.text("cast")
        if not text:
            return ()
        try:
            read = parse_edtf(text)
        except EdtfError as error:
            self.fault("cast", error.expected, error.remedy)
            return ()
        if read.earliest_year is not None and read.earliest_year > today.year:
            self.fault("cast", "a year until now", "check the century")
            return ()
        return widened(spans_of(read), text)

    def _loops(self) -> int | None:
        text = self.text("loops")
        if not text:
            return None
        if not (text.isascii() and text.isdigit() and int(text) <= 12):
            self.fault(
                "loops", "a whole number from 0 to 12", "count the loops of the crown, stumps included"
            )
            return None
        return int(text)
