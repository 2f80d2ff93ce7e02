"""Whether to ring a bell: the strictest word of the rules, and none where nobody looked."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from registry.derive.condition.fact import Fact
from registry.derive.condition.firing import Fired
from registry.derive.condition.rulebook import Rulebook

Advice = Literal["normal", "reduced", "stop", "cannot-say"]


class RingingAdvice(NamedTuple):
    """Whether to ring: ``normal``, ``reduced``, ``stop``, or ``cannot-say``, which is no leave to ring.

    ``told_as`` names the words for it: the code, or ``not-hung`` where nothing can be said for that reason.
    """

    code: Advice
    text: str
    source: str
    because: tuple[Fired, ...]
    not_known: tuple[Fact, ...]
    expert: bool
    cautions: tuple[str, ...]
    told_as: str


def ringing_advice(
    fired: Sequence[Fired], unknown: Sequence[Fact], book: Rulebook, *, hung: bool, visited: bool
) -> RingingAdvice:
    """Advise on ringing.

    Parameters
    ----------
    fired : sequence of Fired
        All rules that fired for the bell.
    unknown : sequence of Fact
        What the newest visit did not settle.
    book : Rulebook
        The rules; those that speak on ringing say what must have been looked at.
    hung, visited : bool
        Whether the bell hangs, and whether it was ever visited.

    Returns
    -------
    RingingAdvice
        ``stop`` where a rule says so, whatever else is unknown; ``cannot-say`` where something that could
        speak against ringing was not settled; else ``reduced`` or ``normal``.
    """
    asking = {rule.fact for rule in book.rules if rule.ringing is not None}
    speaking = [each for each in fired if each.rule.ringing is not None]
    not_known = [fact for fact in unknown if fact.name in asking]
    stop = [each for each in speaking if each.rule.ringing == "stop"]
    code: Advice
    if stop:
        code, because = "stop", stop
    elif not hung or not visited or not_known:
        code, because = "cannot-say", speaking
    else:
        code, because = ("reduced" if speaking else "normal"), speaking
    cautions = dict.fromkeys(caution for each in because for caution in each.rule.cautions)
    told_as = "not-hung" if code == "cannot-say" and not hung else code
    return RingingAdvice(
        code,
        book.ringing[told_as]["text"],
        book.ringing[told_as]["source"],
        tuple(because),
        tuple(not_known),
        any(each.rule.expert for each in because),
        tuple(cautions),
        told_as,
    )
