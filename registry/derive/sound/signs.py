"""Signs in the sound of a bell worth a closer look: no diagnosis, and their absence clears no bell."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from registry.derive.sound.limits import limits
from registry.derive.sound.motion import AT_REST, Wander
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
    sounding: Sounding,
    partials: Mapping[str, PartialTone],
    mouth_diameter_mm: float | None,
    wander: Wander = AT_REST,
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
    wander : Wander, optional
        How far the pitch of all partials wandered together; too little for a refusal.

    Returns
    -------
    tuple of Sign
        Empty where nothing was found, which clears no bell.
    """
    found = []
    if mouth_diameter_mm is not None and (short := _short_ring(sounding, mouth_diameter_mm)):
        found.append(short)
    if moved := _may_have_moved(sounding, wander):
        found.append(moved)
    elif wide := _widened_doublets(partials):
        found.append(wide)
    if other := _other_tones(sounding, partials):
        found.append(other)
    return tuple(found)


def _other_tones(sounding: Sounding, partials: Mapping[str, PartialTone]) -> Sign | None:
    """Tell of loud tones among the partials that no name fits: too few for a refusal, yet not the rule."""
    rule = limits("signs")["other_tones"]
    nominal = partials.get("nominal")
    if nominal is None:
        return None
    low, high = (nominal.tone.frequency_hz * 2.0 ** (cents / 1200.0) for cents in rule["between_cents"])
    named = {each.tone.frequency_hz for each in partials.values()}
    others = [
        each.tone.frequency_hz
        for each in sounding.partials
        if each.tone.frequency_hz not in named
        and low < each.tone.frequency_hz < high
        and each.level_db > rule["above_db"]
    ]
    if len(others) < rule["many"]:
        return None
    listed = ", ".join(f"{hertz:.1f} Hz" for hertz in others)
    text = f"loud tones that no name fits, at {listed}: another bell or thing that sounds, or an unusual bell"
    return Sign("other-tones", text, rule["source"])


def _may_have_moved(sounding: Sounding, wander: Wander) -> Sign | None:
    """Tell where bell or microphone may have moved: what looks like doublets may be that alone."""
    rule = limits("signs")["moved"]
    beats = _common_beats(sounding.partials)
    if beats is not None:
        why = f"{len(beats)} partials waver at one rate, about {min(beats):.1f} times a second"
    elif wander.cents >= rule["wander_cents"] and sounding.left_over >= rule["left_over"]:
        why = f"the partials waver together by {wander.cents:.1f} cents"
    else:
        return None
    text = (
        f"{why}: the bell may have swung, or the microphone moved; frequencies may be off by some cents, and "
        "the doublets may be none. Record the bell at rest"
    )
    return Sign("may-have-moved", text, rule["source"])


def _common_beats(partials: Sequence[PartialTone]) -> list[float] | None:
    """Give the beats [Hz] of the doublets that beat at one rate, where these are many and most of all."""
    rule = limits("signs")["moved"]
    beats = sorted(
        abs(each.doublet.frequency_hz - each.tone.frequency_hz) for each in partials if each.doublet
    )
    within = rule["beats_within"]
    alike = max(
        (
            [beat for beat in beats if _is_rate(beat, rate, within)]
            for rate in beats
            if rate <= rule["fastest_hz"]
        ),
        key=len,
        default=[],
    )
    many = len(alike) >= rule["many"] and len(alike) > rule["of_doublets"] * len(beats)
    return alike if many else None


def _is_rate(beat: float, rate: float, within: float) -> bool:
    """Say whether a beat is the rate of a swing, or twice it: a swing makes side tones at both."""
    return any(times * rate / within <= beat <= times * rate * within for times in (1, 2))


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
