"""What every page shares: the error for an address that names nothing.

What a page is made of stands in its module as a dataclass, each field annotated with a word of help for those
who write templates.
"""


class NotHereError(Exception):
    """Nothing in the registry has this address."""
