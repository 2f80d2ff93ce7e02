"""The bell as an object: what it is, how large, what is written on it, how it sounds."""

from typing import Annotated, NamedTuple

from registry.model.fields import (
    Edtf,
    Identifier,
    Language,
    Note,
    Quantity,
    Script,
    Term,
    Text,
    Whole,
)


class EarlierMass(NamedTuple):
    """A mass stated elsewhere before this survey."""

    mass_kg: Annotated[float, Quantity("kg", 1, 250000, (5, 30000)), "The mass stated."]
    basis: Annotated[str, Term("mass_basis"), "How it was obtained."]
    source: Annotated[str, Text(500), "Where it is stated."]
    date: Annotated[str | None, Edtf(), "When it was stated."] = None


class Identity(NamedTuple):
    """What the bell is, and where it comes from."""

    name: Annotated[str | None, Text(200), "Name by which the bell is known."] = None
    position: Annotated[int | None, Whole(1, 200), "Place in the ring, 1 is the highest note."] = None
    status: Annotated[str | None, Term("bell_status"), "What has become of it."] = None
    material: Annotated[str | None, Term("material"), "What it is cast from."] = None
    founder: Annotated[str | None, Text(200), "Founder or workshop, as best known."] = None
    founder_id: Annotated[str | None, Identifier(), "The founder's permanent id, where one is in use."] = None
    founder_certainty: Annotated[str | None, Term("certainty"), "How certain the founder is."] = None
    cast_text: Annotated[str | None, Text(500), "The date as it stands on the bell, letter for letter."] = (
        None
    )
    cast_calendar: Annotated[str | None, Term("calendar"), "Calendar of the date on the bell."] = None
    cast_year_begins: Annotated[
        str | None, Term("year_begins"), "Day on which the year on the bell began, where known."
    ] = None
    cast_date: Annotated[
        str | None, Edtf(), 'The date of casting as EDTF: 1643, 164X, 1643?, "[1480,1483]".'
    ] = None
    dating_basis: Annotated[str | None, Term("dating_basis"), "What the date rests on."] = None
    protected: Annotated[str | None, Term("yes_no_unknown"), "Is the bell itself protected?"] = None
    protected_source: Annotated[str | None, Text(300), "The list or decision that says so."] = None
    wartime_class: Annotated[str | None, Term("wartime_class"), "Class given in a requisition."] = None
    wartime_class_source: Annotated[str | None, Text(300), "Document or mark that shows the class."] = None
    title: Annotated[str | None, Text(300), "Dedication, patron, office (hour bell, death bell)."] = None
    earlier_masses: Annotated[tuple[EarlierMass, ...], "Masses stated before, each with its source."] = ()
    remarks: Annotated[str | None, Text(4000, block=True), "Anything else that identifies the bell."] = None


class ProfilePoint(NamedTuple):
    """One point of the bell's section, from the lip upwards."""

    height_mm: Annotated[float, Quantity("mm", 0, 6500, (0, 3200)), "Height above the lip, upright; 0 there."]
    diameter_mm: Annotated[
        float,
        Quantity("mm", 0, 6700, (0, 3600)),
        "Outer diameter at this height; 0 in the middle of the head.",
    ]
    thickness_mm: Annotated[
        float | None,
        Quantity("mm", 0, 650, (0, 300)),
        "Wall here, square to the outside; at the lip the width of its edge.",
    ] = None


class Dimensions(NamedTuple):
    """Sizes, as measured."""

    mouth_diameter_mm: Annotated[
        float | None,
        Quantity("mm", 50, 6700, (150, 3600)),
        "Outer diameter at the lip; mean of the readings.",
    ] = None
    mouth_diameter_readings_mm: Annotated[
        tuple[float, ...],
        Quantity("mm", 50, 6700, (150, 3600)),
        "Each reading taken, in different directions.",
    ] = ()
    height_mm: Annotated[
        float | None,
        Quantity("mm", 40, 6500, (100, 3000)),
        "Upright height, lip to shoulder, without the crown.",
    ] = None
    slant_height_mm: Annotated[
        float | None,
        Quantity("mm", 40, 6500, (100, 3200)),
        "Lip to shoulder edge along the outside, straight.",
    ] = None
    shoulder_diameter_mm: Annotated[
        float | None, Quantity("mm", 20, 4000, (60, 1900)), "Outer diameter at the shoulder."
    ] = None
    soundbow_thickness_mm: Annotated[
        float | None, Quantity("mm", 3, 650, (10, 300)), "Greatest thickness of the sound-bow, unworn."
    ] = None
    waist_thickness_mm: Annotated[
        float | None, Quantity("mm", 1, 400, (4, 150)), "Thickness at the waist, half way up."
    ] = None
    head_thickness_mm: Annotated[
        float | None, Quantity("mm", 1, 500, (4, 200)), "Thickness of the head, beside the crown."
    ] = None
    profile: Annotated[
        tuple[ProfilePoint, ...],
        "The section, point by point: outside by template or plumb line, wall by gauge.",
    ] = ()
    mass_kg: Annotated[
        float | None, Quantity("kg", 1, 250000, (5, 30000)), "The mass, where it is known."
    ] = None
    mass_basis: Annotated[str | None, Term("mass_basis"), "How the mass was obtained."] = None
    mass_includes: Annotated[
        tuple[str, ...], Term("mass_part"), "What was on the scale or in the statement besides the bell."
    ] = ()
    mass_tolerance_kg: Annotated[
        float | None, Quantity("kg", 0.01, 5000, (0.1, 200)), "Largest error of the weighing."
    ] = None
    profile_class: Annotated[
        str | None, Term("profile_class"), "Weight class for its note, if one was stated."
    ] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Where and how the sizes were taken, ovality."] = (
        None
    )


class Inscription(NamedTuple):
    """Words, signs and ornament on the bell."""

    number: Annotated[int, Whole(1, 99), "Running number on this bell, the same at every visit."]
    place: Annotated[str, Term("inscription_place"), "Where on the bell it stands."]
    transcription: Annotated[
        str | None,
        Text(4000, block=True),
        "Letter for letter, Leiden signs: (abc) expanded, [abc] lost, [---] gap, | line end.",
    ] = None
    expansion: Annotated[str | None, Text(4000, block=True), "Read out in full."] = None
    translation: Annotated[
        str | None, Text(4000, block=True), "What it means, in the language of this form."
    ] = None
    language: Annotated[str | None, Language(), "Language of the text, BCP 47: la, de, gmh, mul."] = None
    script: Annotated[str | None, Script(), "Script, ISO 15924: Latn, Latf, Cyrl, Hebr."] = None
    lettering: Annotated[str | None, Term("lettering"), "Style of the letters."] = None
    direction: Annotated[
        str | None, Term("writing_direction"), "Does it read onwards, backwards, mirrored?"
    ] = None
    technique: Annotated[str | None, Term("inscription_technique"), "How it was made."] = None
    legibility: Annotated[str | None, Term("legibility"), "How well it can be read."] = None
    letter_height_mm: Annotated[float | None, Quantity("mm", 1, 400, (5, 120)), "Height of the letters."] = (
        None
    )
    ornament: Annotated[
        str | None, Text(2000, block=True), "Ornament, coins, seals, figures beside the words."
    ] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Slips, mirrored or inverted letters, doubts."] = (
        None
    )


class Partial(NamedTuple):
    """One partial tone heard or read by hand."""

    name: Annotated[str, Term("partial"), "Which partial."]
    frequency_hz: Annotated[float, Quantity("hz", 15, 20000, (30, 12000)), "Its frequency."]
    beat_hz: Annotated[
        float | None, Quantity("hz", 0, 60, (0, 15)), "Beats a second, where it is a doublet."
    ] = None


class Sound(NamedTuple):
    """The sound as judged by ear and by hand."""

    note: Annotated[str | None, Note(), "Strike note: C#4, cis', or a frequency in strike_hz."] = None
    note_cents: Annotated[float | None, Quantity("cents", -60, 60), "Deviation from the note, in cents."] = (
        None
    )
    note_sixteenths: Annotated[
        float | None, Quantity("number", -10, 10), "Deviation in sixteenths of a semitone, signed."
    ] = None
    reference_hz: Annotated[
        float | None, Quantity("hz", 390, 480, (415, 466)), "Frequency of a' the note refers to; 435 or 440."
    ] = None
    strike_hz: Annotated[
        float | None, Quantity("hz", 20, 8000, (60, 5000)), "Strike note as a frequency (half the nominal)."
    ] = None
    partials: Annotated[tuple[Partial, ...], "Partials read by hand, physical names."] = ()
    heard: Annotated[str | None, Text(2000, block=True), "What was heard: clear, dull, jarring, beats."] = (
        None
    )
    rings_for_s: Annotated[
        float | None, Quantity("s", 0.2, 600, (2, 240)), "Audible ring after one stroke, by stopwatch."
    ] = None
    temperature_c: Annotated[
        float | None, Quantity("c", -50, 60, (-25, 45)), "Temperature of the bell when it was heard."
    ] = None
    method: Annotated[
        str | None, Text(300), "How the frequencies were read: tuning forks, meter, analysis."
    ] = None
