"""Which tones make one partial: a doublet, one tone alone, or one tone and what a room throws back of it."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from registry.derive.sound.fitting import Tone
from registry.derive.sound.limits import limits
from registry.model.pitch import cents_between


class Pair(NamedTuple):
    """One partial: its louder tone, the other of a doublet, and the share that a room smeared."""

    first: Tone
    second: Tone | None
    smear: float


def paired(tones: Sequence[Tone]) -> tuple[list[Pair], bool]:
    """Put tones together to partials.

    Parameters
    ----------
    tones : sequence of Tone
        All tones of one stroke.

    Returns
    -------
    tuple
        The partials, and whether the recording is reverberant: there a doublet must stand clear of what
        trails every tone.
    """
    clusters = _clusters(tones)
    room = _is_reverberant(clusters)
    return [_pair(cluster, room=room) for cluster in clusters], room


def _pair(cluster: Sequence[Tone], *, room: bool) -> Pair:
    strongest = max(cluster, key=_energy)
    partner = _partner(strongest, cluster, room=room)
    smear = 0.0
    if room:
        rest = sum(_energy(tone) for tone in cluster if tone is not strongest and tone is not partner)
        smear = math.sqrt(rest / max(_energy(strongest), 1e-300))
    if partner is None:
        return Pair(strongest, None, smear)
    louder, other = sorted((strongest, partner), key=lambda tone: -tone.amplitude)
    alike = 20.0 * math.log10(louder.amplitude / other.amplitude) < limits("doublet")["as_loud_db"]
    if alike and other.frequency_hz < louder.frequency_hz:
        louder, other = other, louder
    return Pair(louder, other, smear)


def _clusters(tones: Sequence[Tone]) -> list[list[Tone]]:
    """Put together what is one doublet, or what a room made of one tone; the strongest first."""
    left = sorted(tones, key=lambda tone: -_energy(tone))
    clusters = []
    while left:
        near = [tone for tone in left if _belongs(tone, left[0])]
        clusters.append(near)
        left = [tone for tone in left if tone not in near]
    return clusters


def _energy(tone: Tone) -> float:
    """Give what a tone holds over the first second."""
    twice = max(2.0 * tone.decay, 1e-9)
    return tone.amplitude**2 * -math.expm1(-twice) / twice


def _belongs(tone: Tone, strongest: Tone) -> bool:
    """Say whether a tone is near enough for a doublet, or in the skirt of a stronger one and much shorter."""
    rules = limits("doublet")
    apart = abs(tone.frequency_hz - strongest.frequency_hz)
    widest = strongest.frequency_hz * (2.0 ** (rules["widest_cents"] / 1200.0) - 1.0)
    if apart <= max(rules["room_hz"], widest):
        return True
    share, faster = _energy(tone) / max(_energy(strongest), 1e-300), tone.decay / max(strongest.decay, 1e-9)
    return any(
        share < rule["energy"]
        and faster > rule["faster"]
        and apart < rules["room_hz"] + rule["widths"] * tone.decay / (2.0 * math.pi)
        for rule in rules["room_skirts"]
    )


def _is_reverberant(clusters: Sequence[Sequence[Tone]]) -> bool:
    """Say whether many tones trail others that are no doublets: what walls throw back is no clean decay."""
    rules = limits("doublet")
    trailing = 0
    for cluster in clusters:
        strongest = max(cluster, key=_energy)
        trailing += len(cluster) - 1 - (_partner(strongest, cluster, room=False) is not None)
    most: float = max(rules["room_trailing"], rules["room_trailing_share"] * len(clusters))
    return trailing >= most


def _partner(strongest: Tone, cluster: Sequence[Tone], *, room: bool) -> Tone | None:
    """Give the second tone of a doublet: surely apart, loud enough, and in a room no echo of the first."""
    rules = limits("doublet")
    for tone in sorted(cluster, key=lambda each: -_energy(each)):
        split = abs(cents_between(tone.frequency_hz, strongest.frequency_hz))
        if tone is strongest or split > rules["widest_cents"]:
            continue
        apart = abs(tone.frequency_hz - strongest.frequency_hz)
        error = math.hypot(tone.frequency_error_hz, strongest.frequency_error_hz)
        weaker_db = 20.0 * math.log10(strongest.amplitude / max(tone.amplitude, 1e-15))
        unlike = max(tone.decay, strongest.decay) / max(min(tone.decay, strongest.decay), 0.05)
        clear = apart > rules["apart_by_errors"] * error and weaker_db < rules["weaker_by_db"]
        clear = clear and unlike < rules["decays_within"]
        if clear and room:
            widths = 2.0 * math.pi * apart / max(tone.decay, 1e-9)
            alike = unlike < rules["room_decays_within"] and weaker_db < rules["room_weaker_by_db"]
            clear = widths > rules["room_apart_by_widths"][0 if alike else 1]
        if clear:
            return tone
    return None
