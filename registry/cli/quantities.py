"""Options that take a quantity as a surveyor writes it."""

from collections.abc import Callable

import click

from registry.units import QuantityError, read_quantity


def read_in(unit: str) -> Callable[[click.Context, click.Parameter, str | None], float | None]:
    """Make the callback of an option that takes a number in ``unit``, or with another unit of the same kind.

    Read are ``1180``, ``118 cm`` and ``46 1/2 in`` alike; what cannot be read is wrong usage.
    """

    def read(_context: click.Context, _option: click.Parameter, text: str | None) -> float | None:
        if text is None:
            return None
        try:
            return read_quantity(text, unit)
        except QuantityError as error:
            raise click.BadParameter(f"{text!r}: expected {error.expected}; {error.remedy}.") from error

    return read
