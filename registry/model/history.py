"""What happened to the bell in its life."""

from typing import Annotated, NamedTuple

from registry.model.fields import Edtf, Identifier, Quantity, Term, Text


class Event(NamedTuple):
    """An event in the bell's life."""

    kind: Annotated[str, Term("event_kind"), "What happened."]
    date: Annotated[str | None, Edtf(), "When, as EDTF."] = None
    place: Annotated[str | None, Text(300), "Where."] = None
    tower: Annotated[str | None, Identifier(), "Id of the tower it came from or went to."] = None
    actor: Annotated[str | None, Text(300), "Who did it: founder, firm, authority."] = None
    other_bell: Annotated[
        str | None, Identifier(), "The other bell: recast from or into, companion, in whose place."
    ] = None
    turned_by_deg: Annotated[float | None, Quantity("deg", 0, 360), "For a turning: by how much."] = None
    source: Annotated[str | None, Text(500), "What says so."] = None
    certainty: Annotated[str | None, Term("certainty"), "How certain it is."] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Anything else."] = None
