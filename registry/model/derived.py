"""One estimated value with everything needed to trust or distrust it."""

from typing import Any, NamedTuple


class Derived(NamedTuple):
    """A computed value, never an observation.

    Parameters
    ----------
    quantity : str
        What is estimated, with its unit in the name: ``"mass_kg"``.
    value : float or None
        Best estimate; None where only bounds can be given, or no value (``note`` then says why).
    low, high : float or None
        Ends of the interval that holds the true value with probability ``level``.
    level : float
        Probability of the interval [-], 0.9 unless the method says otherwise; 1.0 for hard bounds.
    method : str
        Name of the method, kebab-case, e.g. ``"size-and-strike"``.
    version : int
        Version of the method; a new one makes stored values stale.
    inputs : dict
        Each input by its name with unit, e.g. ``{"mouth_diameter_mm": 1180.0}``.
    source : str
        Citation of the method.
    note : str
        A caveat for the reader, or empty.
    """

    quantity: str
    value: float | None
    low: float | None
    high: float | None
    level: float
    method: str
    version: int
    inputs: dict[str, Any]
    source: str
    note: str = ""

    @property
    def unit(self) -> str:
        """The unit that ends the quantity's name."""
        return self.quantity.rsplit("_", 1)[-1]
