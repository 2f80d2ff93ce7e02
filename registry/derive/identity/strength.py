"""How strongly a factor speaks, in bits and in words."""

import math

from registry.derive.identity.rules import rules


def bits(log_ratio: float) -> float:
    """Give a logarithm of a likelihood ratio in bits: one more doubles the odds."""
    return log_ratio / math.log(2.0)


def strength(log_ratio: float) -> str:
    """Say how strongly a factor speaks: ``speaks strongly for it``, ``says nothing``."""
    size = abs(bits(log_ratio))
    if size < 0.05:
        return "says nothing"
    step = next(step for step in rules()["words"] if size >= step["from_bits"])
    return f"speaks {step['words']} {'for' if log_ratio > 0 else 'against'} it"
