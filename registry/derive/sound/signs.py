"""Signs in the sound of a bell worth a closer look: no diagnosis, and their absence clears no bell."""

from collections.abc import Mapping
from typing import NamedTuple

from registry.derive.sound.limits import limits
from registry.derive.sound.partial_tones import PartialTone, Sounding


class Sign(NamedTuple):
    """One thing worth a closer look: what was found, what it was held against, and what that rests on."""

    code: str
    text: str
    source: str


def caution() -> str:
    """Give the sentence that stands wherever a sound is judged."""
    sentence: str = limits("signs")["caution"]
    return sentence


def signs_of(
    sounding: Sounding, partials: Mapping[str, PartialTone], mouth_diameter_mm: float | None
) -> tuple[Sign, ...]:
    """Give the signs that one stroke shows.

    Parameters
    ----------
    sounding : Sounding
        Its tones.
    partials : mapping
        Those with a name.
    mouth_diameter_mm : float, optional
        Outer diameter at the lip [mm]; without it the length of the ring is not judged.

    Returns
    -------
    tuple of Sign
        Empty where nothing was found, which clears no bell.
    """
    found = []
    if mouth_diameter_mm is not None and (short := _short_ring(sounding, mouth_diameter_mm)):
        found.append(short)
    if wide := _widened_doublets(partials):
        found.append(wide)
    return tuple(found)


def _short_ring(sounding: Sounding, mouth_diameter_mm: float) -> Sign | None:
    """Hold the slowest decay against the rule for the audible ring of sound bronze."""
    rule = limits("signs")["short_ring"]
    rings = [each.tone.t60_s for each in sounding.partials]
    if not rings or None in rings:  # one that does not fall within the recording may ring for long
        return None
    longest = max(each for each in rings if each is not None)
    audible_s = longest * rule["audible_db"] / 60.0
    expected_s = mouth_diameter_mm / 10.0 * rule["seconds_per_cm"]
    if audible_s >= expected_s * rule["share"]:
        return None
    text = (
        f"short ring for its size: the slowest partial falls by 60 dB in {longest:.1f} s, and the "
        f"ring may be heard "
        f"for about {audible_s:.0f} s; sound bronze of {mouth_diameter_mm:.0f} mm rings for at least "
        f"{expected_s:.0f} s. Time it with a stopwatch, and look whether something touches the bell"
    )
    return Sign("short-ring", text, rule["source"])


def _widened_doublets(partials: Mapping[str, PartialTone]) -> Sign | None:
    """Count the doublets that are wider than published sound bells have them."""
    rule = limits("signs")["widened_doublets"]
    wide = {
        name: each.split_cents for name, each in partials.items() if (each.split_cents or 0.0) > rule["cents"]
    }
    very = [name for name, split in wide.items() if split is not None and split > rule["very_cents"]]
    if len(wide) < rule["many"] and not very:
        return None
    listed = ", ".join(f"{name} {split:.1f}" for name, split in wide.items())
    text = (
        f"widened doublets (cents): {listed}; published sound bells have at most two beyond {rule['cents']} "
        f"cents and none beyond {rule['very_cents']}"
    )
    return Sign("widened-doublets", text, rule["source"])
