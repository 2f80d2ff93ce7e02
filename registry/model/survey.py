"""A whole survey, as one form carries it."""

from collections.abc import Mapping
from typing import Annotated, NamedTuple

from registry.model.bell import Dimensions, Identity, Inscription, Sound
from registry.model.condition import Assessment, Crack, StrikePoint
from registry.model.edtf import parse_edtf
from registry.model.fields import Identifier
from registry.model.hanging import Clapper, Crown, Fittings, Ringing
from registry.model.history import Event
from registry.model.tower import Frame, Hazard, Tower
from registry.model.visit import Attachment, Visit

FORM_NAME = "soundbow survey 1"
"""What the first line of every form says: ``form: soundbow survey 1``."""

Path = tuple[str | int, ...]
"""Where a section stands in the form: ``("bells", 2, "dimensions")``, counted from 0."""


class Written(NamedTuple):
    """A value as it stands in the form; ``line`` and ``column`` count from 1.

    ``text`` is empty for free text, which is kept as the value itself, and for sections and lists.
    """

    line: int
    column: int
    text: str


class BellEntry(NamedTuple):
    """One bell of the tower, as this survey saw it."""

    id: Annotated[str, Identifier(), "Permanent id of the bell; it keeps it wherever it goes."]
    identity: Annotated[Identity | None, "What the bell is, and where it comes from."] = None
    dimensions: Annotated[Dimensions | None, "Sizes, as measured."] = None
    inscriptions: Annotated[tuple[Inscription, ...], "Words, signs and ornament."] = ()
    sound: Annotated[Sound | None, "The sound by ear and by hand."] = None
    crown: Annotated[Crown | None, "Canons, argent, staple."] = None
    clapper: Annotated[Clapper | None, "The clapper."] = None
    strike_points: Annotated[tuple[StrikePoint, ...], "Where it is struck; two or more."] = ()
    cracks: Annotated[tuple[Crack, ...], "Cracks; one entry with state none where none was found."] = ()
    fittings: Annotated[Fittings | None, "Headstock, bearings, drive, hammer."] = None
    ringing: Annotated[Ringing | None, "How it is rung."] = None
    events: Annotated[tuple[Event, ...], "Its life."] = ()


class Survey(NamedTuple):
    """One form: one visit to one tower, or one document that speaks of its bells."""

    survey: Annotated[Visit, "The visit or the document."]
    tower: Annotated[Tower, "The tower."]
    frame: Annotated[Frame | None, "The bell frame."] = None
    hazards: Annotated[tuple[Hazard, ...], "What can hurt whoever goes up next."] = ()
    bells: Annotated[tuple[BellEntry, ...], "The bells, one entry each."] = ()
    assessments: Annotated[
        tuple[Assessment, ...], "The surveyor's own judgement, component by component."
    ] = ()
    attachments: Annotated[tuple[Attachment, ...], "Photos, recordings, drawings beside the form."] = ()


def as_of(survey: Survey) -> str:
    """Give the day whose state a survey tells, ISO 8601.

    That is the day of the visit; for a document the last day it can be from, where it says so, but never
    later than the day on which it was read.
    """
    visit = survey.survey
    if visit.document is None or visit.document.date is None:
        return visit.date
    date = parse_edtf(visit.document.date)
    told, year = (
        (date.latest, date.latest_year) if date.latest is not None else (date.earliest, date.earliest_year)
    )
    if told is None or year is None or not 0 <= year <= 9999:
        return visit.date
    return min(told, visit.date)


class ReadSurvey(NamedTuple):
    """A survey with the place and wording of each value in its form.

    ``written`` maps the path of a section to its values as written, by field name; the entry ``""`` is the
    place of the section itself. Items of a list of values stand under ``field[0]``, ``field[1]``, ...
    """

    survey: Survey
    written: Mapping[Path, Mapping[str, Written]]
