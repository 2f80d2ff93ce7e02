"""What every page shares: the error for an address that names nothing.

What a page is made of stands in its module as a dataclass, each field annotated with a word of help for those
who write templates.
"""


class NotHereError(Exception):
    """Nothing in the registry has this address."""


class SenselessError(Exception):
    """A question whose answer would not be what was asked; ``faults`` say what makes no sense."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("; ".join(faults))
        self.faults = faults
