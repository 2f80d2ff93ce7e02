"""What somebody knows of a bell: the finder of one without papers, or a record of the registry."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from registry.derive.identity.rules import rules
from registry.model.edtf import EdtfDate

CENTS = 1200.0 / math.log(2.0)
"""Cents of one unit of natural logarithm."""


class Years(NamedTuple):
    """A span of years, ends included; None where that end is open or unknown."""

    first: int | None
    last: int | None


class Facts(NamedTuple):
    """What is known of one bell. What is not known is None or empty, and is never held against anything.

    Parameters
    ----------
    mouth_diameter_mm : float, optional
        Outer diameter at the lip [mm], with ``diameter_sd``, its relative standard deviation.
    strike_hz : float, optional
        Strike note [Hz], with ``strike_sd_cents``.
    mass_kg : float, optional
        Mass [kg], with ``mass_sd``, its relative standard deviation.
    partials_hz : mapping
        Frequency [Hz] by the word of the vocabulary ``partial``.
    inscription : tuple of str
        Readings of what is written on it, whole or a fragment, as plain letters (``letters.plain_letters``),
        with ``inscription_gaps``, the chance that a passage of it is not among them.
    wordless : bool
        Whether it was looked for and there is none.
    cast_years : tuple of Years
        The spans it can have been cast in.
    material, crown : str, optional
        Words of the vocabularies ``material`` and ``crown_kind``; never ``unknown``.
    loops : int, optional
        Loops of the crown.
    founder : tuple of str
        Names and ids of the founder.
    founder_certainty : str
        Word of the vocabulary ``certainty``.
    """

    mouth_diameter_mm: float | None = None
    diameter_sd: float = 0.0
    strike_hz: float | None = None
    strike_sd_cents: float = 0.0
    mass_kg: float | None = None
    mass_sd: float = 0.0
    partials_hz: Mapping[str, float] = {}
    inscription: tuple[str, ...] = ()
    inscription_gaps: float = 0.04
    wordless: bool = False
    cast_years: tuple[Years, ...] = ()
    material: str | None = None
    crown: str | None = None
    loops: int | None = None
    founder: tuple[str, ...] = ()
    founder_certainty: str = "certain"

    @property
    def strike_reference_hz(self) -> float | None:
        """The strike note that partials are held against: half the nominal, else the strike note itself."""
        nominal_hz = self.partials_hz.get("nominal")
        return nominal_hz / 2.0 if nominal_hz else self.strike_hz


class Record(NamedTuple):
    """A bell of the registry: its facts, what became of it, and when it was last told of.

    ``last_visit_year`` is None where only documents tell of it.
    """

    bell_id: str
    facts: Facts
    status: str | None = None
    last_visit_year: int | None = None


def diameter_sd(mouth_diameter_mm: float, tolerance_mm: float = 0.0, *, document: bool = False) -> float:
    """Give the relative standard deviation of a statement of a mouth diameter.

    Parameters
    ----------
    mouth_diameter_mm : float
        The diameter [mm]; a document's round figures tell how it was rounded.
    tolerance_mm : float
        Half-width of the 90 % interval that its readings or instrument leave open [mm].
    document : bool
        Whether it stands in a list or an inventory.
    """
    rule = rules()["mouth_diameter"]
    rounded_to_mm = rounding_of(mouth_diameter_mm) if document else 1.0
    usual = rule["sd_document"] if document else rule["sd"]
    parts = (rounded_to_mm / math.sqrt(12.0), tolerance_mm / 1.645, float(rule["worn_mm"]))
    return math.hypot(usual, *(part / mouth_diameter_mm for part in parts))


def rounding_of(value: float) -> float:
    """Give what a round figure was rounded to: 50 for 1250, 10 for 860, else 1."""
    return next((step for step in (100.0, 50.0, 10.0, 5.0) if value % step == 0 and value >= 10 * step), 1.0)


def strike_sd_cents(tolerance_cents: float = 0.0) -> float:
    """Give the standard deviation of a strike note [cents] from the 90 % half-width of its reading."""
    return math.hypot(float(rules()["strike"]["sd_cents"]), tolerance_cents / 1.645)


def mass_sd(
    mass_kg: float, basis: str | None = None, tolerance_kg: float = 0.0, *, with_fittings: bool = False
) -> float:
    """Give the relative standard deviation of a stated mass by the way it was obtained."""
    rule = rules()["mass"]
    usual = rule["sd"].get(basis or "unknown", rule["sd"]["unknown"])
    parts = (rounding_of(mass_kg) / math.sqrt(12.0), tolerance_kg / 1.645)
    added = rule["fittings_sd"] if with_fittings else 0.0
    return math.hypot(usual, added, *(part / mass_kg for part in parts))


def widened(spans: tuple[Years, ...], text: str) -> tuple[Years, ...]:
    """Give spans some room where their date is marked as approximate (``~`` or ``%``)."""
    if "~" not in text and "%" not in text:
        return spans
    room: int = rules()["cast_years"]["approximate_years"]
    return tuple(
        Years(
            None if span.first is None else span.first - room, None if span.last is None else span.last + room
        )
        for span in spans
    )


def spans_of(date: EdtfDate) -> tuple[Years, ...]:
    """Give the spans of years that a date can mean; empty where it says nothing."""
    if date.members:
        return tuple(span for member in date.members for span in spans_of(member))
    if date.earliest_year is None and date.latest_year is None:
        return ()
    return (Years(date.earliest_year, date.latest_year),)
