"""``soundbow restore``: loaded forms back, byte for byte, from the registry alone."""

from pathlib import Path, PurePosixPath

import click

from registry.cli.options import force_option, registry_option
from registry.cli.registry_file import opened
from registry.store.pages_survey import read_survey_source
from registry.store.write import known_sources, stored_text


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow restore north-gate-2026-05-09 --registry bells.db -o north-gate.yaml\n"
    "  soundbow restore --all --registry bells.db -o copies"
)
@click.argument("survey_id", required=False)
@click.option("--all", "everything", is_flag=True, help="Every form, and the region files, into a folder.")
@registry_option()
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="PATH",
    help="File to write, with --all a folder; a single form is printed unless given.",
)
@force_option
def command(
    survey_id: str | None, everything: bool, registry: Path, output: Path | None, force: bool
) -> None:
    """Write the form of SURVEY_ID as it was loaded, or all of them with --all."""
    if everything == bool(survey_id):
        raise click.UsageError("Give the id of one survey, or --all.")
    if everything and output is None:
        raise click.UsageError("--all needs -o: the folder to write into.")
    with opened(registry, any_version=True) as connection:
        if survey_id is not None:
            source = read_survey_source(connection, survey_id)
            if source is None:
                raise click.ClickException(f"{registry} has no survey {survey_id}.")
            texts = [(output, source.text)]
        else:
            assert output is not None  # noqa: S101 - made sure of above
            texts = [
                (output / below(source.path), stored_text(connection, source.path))
                for source in known_sources(connection)
            ]
    _write_all(texts, force=force)


def below(path: str) -> PurePosixPath:
    """Give the path of a source as one that stays below the folder it is written into."""
    parts = (part for part in PurePosixPath(path).parts if part not in ("/", ".."))
    return PurePosixPath(*(part.replace(":", "").replace("\\", "") or "_" for part in parts))


def _write_all(texts: list[tuple[Path | None, bytes]], *, force: bool) -> None:
    """Write files, but none at all if one of them is there with another text and may not be replaced."""
    taken = [path for path, text in texts if path and path.exists() and not _is(path, text)]
    if taken and not force:
        raise click.UsageError(f"{taken[0]} is there already and differs; --force writes over it.")
    for path, text in texts:
        if path is None:
            click.echo(text, nl=False)
        else:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text)
    written = [path for path, _ in texts if path]
    if written:
        click.echo(f"{len(written)} file{'s' * (len(written) != 1)} written.", err=True)


def _is(path: Path, text: bytes) -> bool:
    return path.is_file() and path.read_bytes() == text
