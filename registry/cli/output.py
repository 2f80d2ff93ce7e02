"""Files that commands write: never over another one unless asked to."""

from pathlib import Path

import click

output_option = click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Where to write it; it is printed unless given.",
)


def write_new(path: Path, data: bytes, *, force: bool) -> None:
    """Write a file with the folders it needs; one that holds the same already is left as it is.

    Raises
    ------
    click.UsageError
        When there is another file of this name, and ``force`` does not allow to write over it.
    """
    if path.is_file() and path.read_bytes() == data:
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("wb" if force else "xb") as file:
            file.write(data)
    except FileExistsError:
        raise click.UsageError(f"{path} is there already; --force writes over it.") from None
