"""What the sound of a bell tells: partials, their decay, the strike note, and signs worth a closer look."""

from registry.derive.sound.analysis import analyse
from registry.derive.sound.found import NamedPartial, SoundAnalysis

__all__ = ["NamedPartial", "SoundAnalysis", "analyse"]
