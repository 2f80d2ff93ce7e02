"""The parts of a question, one line each: its name in a link, its field, its kind, its option, its words.

The order is that of every link.
"""

from typing import NamedTuple

from registry.questions.kinds import (
    Around,
    Choice,
    Country,
    Day,
    Flag,
    Formula,
    Grade,
    Identifier,
    Kind,
    Note,
    PitchLimit,
    Polygon,
    Size,
    Term,
    Time,
    Whole,
    Words,
)
from registry.questions.query import SORTS


class Parameter(NamedTuple):
    """One part of a question.

    Parameters
    ----------
    name : str
        As it stands in a link.
    field : str
        The field of ``BellQuery`` it fills.
    kind : Kind
        How it is read and written.
    title : str
        What it asks, in words before the value.
    option : str
        As it stands on the command line; empty where the command line has another way.
    help : str
        What the option does; empty where its name says it.
    many : bool
        Whether several values may stand beside each other, of which one is enough.
    end : int or None
        Which end of a pair it is.
    unit : str
        Unit of the value in words.
    """

    name: str
    field: str
    kind: Kind
    title: str
    option: str = ""
    help: str = ""
    many: bool = False
    end: int | None = None
    unit: str = ""


CERTAIN_HELP = "Only bells that hold for certain: no other years, no mass whose interval reaches out."

PARAMETERS: tuple[Parameter, ...] = (
    Parameter("text", "text", Words(), "words"),
    Parameter(
        "exact", "exact", Flag(), "exactly these letters", "--exact",
        "The words exactly as their letters stand in an inscription, case kept.",
    ),
    Parameter(
        "formula", "formula", Formula(), "formula", "--formula", "A recurrent formula, by id.", many=True
    ),
    Parameter("tower", "tower_id", Identifier(), "tower", "--tower", "Bells of one tower."),
    Parameter(
        "founder", "founder_id", Identifier(), "founder", "--founder",
        "Founder, by id; bells proposed by a spelling of the name count as possible.", many=True
    ),
    Parameter(
        "founder_name", "founder_name", Words(), "founder called", "--founder-name",
        "Founder, by any spelling of the name that a founder owns or a survey writes.",
    ),
    Parameter(
        "material", "material", Term("material"), "material", "--material", "What it is cast from.",
        many=True,
    ),
    Parameter(
        "status", "status", Term("bell_status"), "status", "--status", "What has become of it.", many=True
    ),
    Parameter(
        "crack", "crack_state", Term("crack_state"), "crack", "--crack", "As last told.", many=True
    ),
    Parameter(
        "profile", "profile_class", Term("profile_class"), "profile", "--profile",
        "Weight class of the profile, as stated.", many=True,
    ),
    Parameter(
        "wartime", "wartime_class", Term("wartime_class"), "wartime class", "--wartime-class",
        "Class given in a requisition.", many=True,
    ),
    Parameter(
        "region", "region", Identifier(), "region", "--region",
        "Region of the tower, by id, with all that lie in it.", many=True,
    ),
    Parameter(
        "at", "region_at", Time(), "there at", "--at",
        "With a region: bells that were, or may have been, there at this date (EDTF)."
    ),
    Parameter(
        "country", "country", Country(), "country", "--country", "Country of the tower, two letters.",
        many=True,
    ),
    Parameter("note", "note", Note(), "note", "--note", "Strike note, e.g. C#4 or cis'.", many=True),
    Parameter(
        "condition", "condition", Grade("not-assessed"), "condition, surveyor", "--condition",
        "The surveyors' newest grade.", many=True,
    ),
    Parameter(
        "grade", "grade", Grade("not-graded"), "by the rules, at least", "--grade",
        "Computed by the rules, each as a lower bound: the worst part that safety hangs on.", many=True,
    ),
    Parameter(
        "century", "century", Whole(1, 30), "century", "--century",
        "Century of casting: 15 is 1401 to 1500.",
    ),
    Parameter(
        "from", "from_year", Whole(-9999, 9999), "cast from", "--from-year", "Cast in this year or later."
    ),
    Parameter(
        "to", "to_year", Whole(-9999, 9999), "cast to", "--to-year", "Cast in this year or earlier."
    ),
    Parameter(
        "note_from", "from_note", PitchLimit(), "strike note from", "--from-note",
        "Lowest strike note, e.g. A3; in sixteenths against 435 Hz \"a° +5\".",
    ),
    Parameter("note_to", "to_note", PitchLimit(), "strike note to", "--to-note", "Highest strike note."),
    Parameter(
        "diameter_from", "diameter_mm", Size("mm"), "diameter from", "--from-diameter-mm",
        "Least mouth diameter.", end=0, unit="mm",
    ),
    Parameter(
        "diameter_to", "diameter_mm", Size("mm"), "diameter to", "--to-diameter-mm",
        "Greatest mouth diameter.", end=1, unit="mm",
    ),
    Parameter(
        "mass_from", "mass_kg", Size("kg"), "mass from", "--from-mass-kg",
        "Least mass, stated or else estimated.", end=0, unit="kg",
    ),
    Parameter(
        "mass_to", "mass_kg", Size("kg"), "mass to", "--to-mass-kg",
        "Greatest mass, stated or else estimated.", end=1, unit="kg",
    ),
    Parameter("certain", "certain", Flag(), "for certain", "--certain", CERTAIN_HELP),
    Parameter(
        "recording", "recording", Choice(("yes", "analysed", "no")), "recording", "--recording",
        "Has a recording; analysed: one that could be judged.",
    ),
    Parameter(
        "no_survey_since", "no_survey_since", Day(), "no visit since", "--no-survey-since",
        "Last visited before this day, or never.",
    ),
    Parameter(
        "near", "near", Around(), "within", "--near", "Within so many kilometres of a place."
    ),
    Parameter(
        "nearest", "nearest", Around(counts=True), "nearest", "--nearest",
        "So many bells nearest to a place that meet all else; no tower is cut in two.",
    ),
    Parameter("area", "area", Polygon(), "within an area"),
    Parameter(
        "sort", "sort", Choice(tuple(f"{sign}{name}" for name in SORTS for sign in ("", "-"))), "order"
    ),
)  # fmt: skip

BY_NAME = {parameter.name: parameter for parameter in PARAMETERS}
"""The same by the name in a link."""
