"""What the sound of a bell tells: partials, their decay, the strike note, and signs worth a closer look."""

from registry.derive.sound.analysis import NamedPartial, SoundAnalysis, analyse

__all__ = ["NamedPartial", "SoundAnalysis", "analyse"]
