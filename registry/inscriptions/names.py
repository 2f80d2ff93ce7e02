"""Names of people and workshops made comparable."""

from functools import lru_cache
from itertools import islice, product

from registry.inscriptions.normalising import normalise_names

MOST_READINGS = 16


@lru_cache(maxsize=8192)
def name_readings(text: str) -> tuple[str, ...]:
    """Give the spellings by which a whole name is compared, the likeliest first.

    Capitals, accents and punctuation do not count, and ü is u or ue; the words and their order do. Two names
    are the same where they share one.
    """
    keys = [word.keys for word in normalise_names(text).words if word.keys]
    return tuple(dict.fromkeys(" ".join(chosen) for chosen in islice(product(*keys), MOST_READINGS)))
