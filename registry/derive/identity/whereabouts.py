"""How likely a record is before comparing, by what became of it: a stolen bell before a hanging one."""

from registry.derive.identity.facts import Record
from registry.derive.identity.rules import rules


def status_weight(record: Record, today_year: int) -> float:
    """Give the weight of a record before anything is compared, against one whose fate is unknown, 0 to 1.

    A bell seen in its place becomes like one of unknown fate as the years since its last visit go by; one
    that documents alone have in its place may be gone since.
    """
    rule = rules()["prior"]
    weights: dict[str, float] = rule["by_status"]
    gone = weights["unknown"]
    weight = weights.get(record.status or "unknown", gone)
    if weight >= gone or record.status in ("destroyed", "recast"):
        return weight
    if record.last_visit_year is None:
        return max(weight, float(rule["documents_only"]))
    share = min(max(today_year - record.last_visit_year, 0) / float(rule["fades_over_years"]), 1.0)
    return weight + (gone - weight) * share
