"""The answer to which bell one without papers is, as data: the same from the command line and the pages."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.derive.identity.comparison import Answer
from registry.derive.identity.next_measurement import Next
from registry.derive.identity.rules import rules
from registry.wording.identity import CAUTIONS, Stated, factor_lines

Row = Mapping[str, Any]

SHOWN = ("name", "tower_id", "tower_name", "place", "status")
"""What is told of a candidate beside its id."""


class Answered(NamedTuple):
    """An answer with what is needed to write it: rows and statements of candidates, and what comes next."""

    answer: Answer
    named: Mapping[str, Row]
    stated: Mapping[str, Stated]
    further: Sequence[Next]
    still_open_bits: float
    records: int


def answer_data(told: Answered) -> dict[str, Any]:
    """Give an answer as data. Probabilities of ``candidates``, ``rest`` and ``none`` sum to one."""
    answer = told.answer
    return {
        "records": told.records,
        "compared": list(answer.compared),
        "believed_unregistered": answer.unregistered,
        "status_counts": answer.by_status,
        "none": answer.none,
        "candidates": [
            {
                "bell_id": each.bell_id,
                **{name: told.named[each.bell_id][name] for name in SHOWN},
                "probability": each.probability,
                "prior": (1.0 - answer.unregistered) * each.prior,
                "factors": factors_data(each.factors, told.stated[each.bell_id]),
            }
            for each in answer.candidates
            if each.bell_id in told.named
        ],
        "rest": answer.rest,
        "open_bits": round(told.still_open_bits, 3),
        "next": [{"fact": each.fact, "expected_bits": round(each.bits, 3)} for each in told.further],
        "caution": " ".join(CAUTIONS),
        "rules_version": rules()["version"],
    }


def factors_data(factors: Mapping[str, float], *stated: Stated) -> list[dict[str, Any]]:
    """Give factors as data: the fact, how it speaks, what is on record, and how strongly [bits]."""
    return [
        {**{name: line[name] for name in ("fact", "says", "on_record")}, "bits": round(line["bits"], 3)}
        for line in factor_lines(factors, *stated)
    ]
