"""What of many rows is told: the newest reading, each event once, the cautions that a record calls for."""

from collections.abc import Sequence

from registry.model.cautions import Caution, cautions
from registry.store.pages import GONE, Row

WORN_PERCENT = 10.0
"""Loss of the sound-bow above which the caution of wear is printed, as in ``schema/rules/cautions.yaml``."""


def newest_of(rows: list[Row]) -> list[Row]:
    """Keep the rows of the first survey in a list that has the newest first."""
    return [row for row in rows if row["survey_id"] == rows[0]["survey_id"]]


def newest_readings(rows: Sequence[Row]) -> list[Row]:
    """Keep of each inscription the newest reading that has words, in the order of their numbers."""
    newest: dict[int, Row] = {}
    for row in rows:
        kept = newest.get(row["number"])
        if kept is None or (kept["transcription"] is None and row["transcription"] is not None):
            newest[row["number"]] = row
    return [newest[number] for number in sorted(newest)]


def told_once(events: Sequence[Row]) -> list[Row]:
    """Keep each event once, as the newest survey tells it, in the order of their dates.

    ``told_by`` counts the surveys that tell it.
    """
    kept: dict[tuple[str, str | None, str | None], Row] = {}
    for event in events:
        key = event["kind"], event["date"], event["other_bell"]
        if key in kept:
            kept[key]["told_by"] += 1
        else:
            kept[key] = {**event, "told_by": 1}
    return sorted(kept.values(), key=when)


def when(event: Row) -> tuple[bool, str, int]:
    """Sort events by the first digits of their dates; undated ones come last."""
    digits = "".join(sign if sign.isdigit() else "0" for sign in (event["date"] or "").lstrip("[{.")[:7])
    return event["date"] is None, digits, event["ordinal"]


def cautions_of_bell(
    status: str | None, crack_state: str | None, loss_percent: float | None, *, cracks_told: bool
) -> list[tuple[Caution, bool]]:
    """Choose the cautions that what is on record of a bell calls for, and whether each is grave.

    Parameters
    ----------
    status, crack_state : str or None
        Words of their vocabularies; None where nobody tells.
    loss_percent : float or None
        The worst loss of the sound-bow [%].
    cracks_told : bool
        Whether any survey says that cracks were looked for.
    """
    words = cautions()
    if status in GONE:
        return []
    chosen = []
    if crack_state == "confirmed":
        chosen += [(words["crack"], True)]
    elif crack_state == "suspected":
        chosen += [(words["crack-suspected"], True)]
    elif not cracks_told:
        chosen += [(words["not-looked-for"], False)]
    if (loss_percent or 0) > WORN_PERCENT:
        chosen += [(words["wear"], True)]
    return chosen
