"""The survey itself: who looked, when, with what, and what could not be seen."""

from typing import Annotated, NamedTuple

from registry.model.fields import Day, Edtf, Identifier, Language, Quantity, RelativePath, Term, Text


class Instrument(NamedTuple):
    """An instrument that was used, and how far it can be trusted."""

    kind: Annotated[str, Term("instrument_kind"), "What it is."]
    name: Annotated[str | None, Text(200), "Maker, model, number."] = None
    tolerance_mm: Annotated[
        float | None, Quantity("mm", 0.001, 50, (0.01, 10)), "Largest error of one reading, for lengths."
    ] = None
    tolerance_hz: Annotated[
        float | None, Quantity("hz", 0.0001, 20, (0.001, 5)), "Largest error of one reading, for frequencies."
    ] = None
    checked: Annotated[str | None, Edtf(), "When it was last checked against a standard."] = None


class NotInspected(NamedTuple):
    """A part that could not be inspected, and the reason."""

    part: Annotated[str, Term("part"), "The part."]
    reason: Annotated[str, Text(1000), "Why: no access, raised bell, nest, darkness, no time..."]
    bell: Annotated[str | None, Identifier(), "The bell concerned, where it is a part of one bell."] = None


class Document(NamedTuple):
    """The document that speaks of the bells, when the form records no visit."""

    kind: Annotated[str, Term("document_kind"), "What sort of document."]
    title: Annotated[str, Text(500), "Title or description."]
    date: Annotated[str | None, Edtf(), "When it was written."] = None
    author: Annotated[str | None, Text(200), "Who wrote it, if known."] = None
    holder: Annotated[str | None, Text(300), "Archive, library or person that keeps it."] = None
    shelfmark: Annotated[str | None, Text(200), "Shelfmark, volume, folio or page."] = None
    reliability: Annotated[str | None, Term("certainty"), "How far its statements can be trusted."] = None


class Visit(NamedTuple):
    """The survey: one visit to one tower, or one document that speaks of its bells."""

    id: Annotated[str, Identifier(), "Permanent id of this survey, e.g. tower and day; never used twice."]
    kind: Annotated[str, Term("survey_kind"), "A visit to the tower, or a document."]
    date: Annotated[str, Day(), "The day of the visit, or the day on which the document was read."]
    surveyors: Annotated[
        tuple[str, ...], Text(200), "Everyone who measured or judged, or who read the document."
    ]
    purpose: Annotated[str | None, Text(500), "Why the survey was made."] = None
    weather: Annotated[str | None, Text(200), "Weather, wind, wet or dry bells."] = None
    temperature_c: Annotated[
        float | None, Quantity("c", -50, 60, (-25, 45)), "Temperature in the bell chamber."
    ] = None
    instruments: Annotated[tuple[Instrument, ...], "Instruments used, with their tolerance."] = ()
    not_inspected: Annotated[
        tuple[NotInspected, ...],
        "Parts not inspected and why. A visit must say; [] says that none was left out.",
    ] = ()
    document: Annotated[Document | None, "The document, where the survey is one."] = None
    language: Annotated[str | None, Language(), "Language of the remarks in this form."] = None
    remarks: Annotated[str | None, Text(8000, block=True), "Anything the fields have no room for."] = None


class Attachment(NamedTuple):
    """A photo, drawing or recording kept beside the form."""

    file: Annotated[str, RelativePath(), "Path relative to the form."]
    kind: Annotated[str, Term("attachment_kind"), "Photo, recording, drawing, scan."]
    shows: Annotated[
        str | None, Text(500), "What it shows, from where; for sound: strokes, microphone, at rest?"
    ] = None
    bell: Annotated[str | None, Identifier(), "The bell concerned, if it is one."] = None
    credit: Annotated[str | None, Text(300), "Who made it, and its licence."] = None
