"""Founders and workshops as a file of them tells: names in every spelling, times, places, who taught whom."""

from typing import Annotated, NamedTuple

from registry.model.fields import Coordinate, Edtf, Identifier, Language, Term, Text

FOUNDERS_FORM_NAME = "soundbow founders 1"
"""What the first line of such a file says: ``form: soundbow founders 1``."""


class Variant(NamedTuple):
    """A spelling of the name, as it stands somewhere."""

    spelling: Annotated[str, Text(200), "The name, letter for letter."]
    valid: Annotated[str | None, Edtf(), "When it was written so, as EDTF: 1640/1668."] = None
    place: Annotated[str | None, Text(200), "Where, if that tells it from another founder's."] = None
    language: Annotated[str | None, Language(), "Its language, BCP 47."] = None
    source: Annotated[str | None, Text(500), "Where it is written so."] = None


class Workshop(NamedTuple):
    """A place where the founder cast."""

    place: Annotated[str, Text(200), "Town or village."]
    latitude_deg: Annotated[float | None, Coordinate("latitude"), "Degrees north, WGS 84."] = None
    longitude_deg: Annotated[float | None, Coordinate("longitude"), "Degrees east, WGS 84."] = None
    valid: Annotated[str | None, Edtf(), "When, as EDTF: 1640/1668."] = None
    source: Annotated[str | None, Text(500), "What says so."] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Anything else."] = None


class Tie(NamedTuple):
    """What binds the founder to another one."""

    kind: Annotated[str, Term("founder_tie"), "What the founder is to the other."]
    founder: Annotated[str, Identifier(), "Id of the other founder."]
    date: Annotated[str | None, Edtf(), "When, as EDTF."] = None
    certainty: Annotated[str | None, Term("certainty"), "How certain it is."] = None
    source: Annotated[str | None, Text(500), "What says so."] = None


class Founder(NamedTuple):
    """One founder or workshop."""

    id: Annotated[str, Identifier(), "Permanent id, the founder_id of the forms."]
    name: Annotated[str, Text(200), "The name used today."]
    kind: Annotated[str | None, Term("founder_kind"), "A person, a workshop, a family."] = None
    active: Annotated[str | None, Edtf(), "First and last year of work, as EDTF: 1643/1671, 1640~/.."] = None
    born: Annotated[str | None, Edtf(), "Born, as EDTF."] = None
    died: Annotated[str | None, Edtf(), "Died, as EDTF."] = None
    variants: Annotated[tuple[Variant, ...], "Other spellings of the name."] = ()
    workshops: Annotated[tuple[Workshop, ...], "Where the founder cast."] = ()
    ties: Annotated[tuple[Tie, ...], "Master, apprentice, successor, kin."] = ()
    sources: Annotated[tuple[str, ...], Text(500), "What all this rests on."] = ()
    remarks: Annotated[str | None, Text(4000, block=True), "Anything else."] = None


class Founders(NamedTuple):
    """A file of founders."""

    founders: Annotated[tuple[Founder, ...], "The founders, one entry each."]
