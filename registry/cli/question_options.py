"""The options that ask for bells, made from the one table of what can be asked, and their question."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, TypeVar

import click

from registry.geography.areas import AreaError, read_area
from registry.problems import InputError, Problem, whole_file_problem
from registry.questions import Asked, read_link
from registry.questions.kinds import Around, Choice, Flag, Grade, Term
from registry.questions.link import LinkError, Pairs, pairs_of
from registry.questions.parameters import PARAMETERS, Parameter
from registry.store.unknown_ids import UnknownId

Command = TypeVar("Command", bound=Callable[..., Any])

LARGEST_AREA_BYTES = 5_000_000


def question_options(command: Command) -> Command:
    """Give a command every option that asks for bells; :func:`question_of` reads them."""
    command = click.option(
        "--link", metavar="LINK", help="Ask the question of a link again; options given beside it narrow it."
    )(command)
    command = click.option(
        "--within",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        metavar="FILE",
        help="Inside the polygons of a GeoJSON file (RFC 7946), borders included.",
    )(command)
    for parameter in reversed([each for each in PARAMETERS if each.option]):
        command = _option(parameter)(command)
    return command


def _option(parameter: Parameter) -> Callable[[Command], Command]:
    kind, more = parameter.kind, dict[str, Any]()
    if isinstance(kind, Flag):
        more["is_flag"] = True
    elif isinstance(kind, Around):
        more |= {"nargs": 3, "type": str, "metavar": f"LAT LON {'COUNT' if kind.counts else 'KM'}"}
    elif isinstance(kind, Term | Choice | Grade):
        more["metavar"] = f"[{'|'.join(kind.codes)}]"
    elif parameter.name in ("tower", "founder", "region", "formula"):
        more["metavar"] = "ID"
    elif parameter.name == "country":
        more["metavar"] = "CC"
    elif parameter.name == "no_survey_since":
        more["metavar"] = "DAY"
    text = parameter.help
    return click.option(
        parameter.option, _variable(parameter), multiple=parameter.many, help=text or None, **more
    )


def _variable(parameter: Parameter) -> str:
    return f"ask_{parameter.name}"


def question_of(words: tuple[str, ...], options: dict[str, Any]) -> Asked:
    """Read the question from the words and options of a command; they are taken out of ``options``.

    Raises
    ------
    click.UsageError
        Naming every option without sense.
    InputError
        Where the file of an area has problems.
    """
    link, within = options.pop("link"), options.pop("within")
    pairs: Pairs = [] if link is None else _pairs_of(link)
    cited = dict(pairs).get("registry", "")
    named: Mapping[str, str] = {each.name: each.option or each.name for each in PARAMETERS} | {
        "area": "--within"
    }
    pairs += [("text", " ".join(words))] if words else []
    for parameter in PARAMETERS:
        given = options.pop(_variable(parameter), None)
        if given in (None, (), False):
            continue
        if parameter.kind == Flag() or given is True:
            pairs.append((parameter.name, "yes"))
        elif isinstance(parameter.kind, Around):
            pairs.append((parameter.name, ",".join(given)))
        else:
            pairs += [(parameter.name, text) for text in (given if parameter.many else [given])]
    if within is not None:
        pairs.append(("area", _area_text(within)))
    sort, reverse = options.pop("sort", None), options.pop("reverse", False)
    read = read_link(pairs, ("page", "registry", "bbox"))
    if sort or reverse:
        order = ("-" if reverse else "") + (sort or read.query.sort)
        again = read_link([*read.pairs, ("sort", order)])
        read = again._replace(ignored=read.ignored + again.ignored)
    if read.ignored:
        said = [f"{named.get(each.name, each.name)} {each.value!r}: {each.why}" for each in read.ignored]
        raise click.UsageError("\n".join(said))
    return read._replace(cited=cited)


def tell_if_changed(asked: Asked, mark: str) -> None:
    """Say on stderr that a question was cited of another state of the registry, where it was."""
    if asked.cited and asked.cited != mark:
        words = "The registry has changed since this question was cited"
        click.echo(f"{words} (mark then {asked.cited[:40]}, now {mark}): the answer may differ.", err=True)


def tell_unknown(unknown: Iterable[UnknownId]) -> None:
    """Say on stderr which ids asked for nothing in the registry has."""
    for each in unknown:
        near = f" Did you mean {each.near!r}?" if each.near else ""
        click.echo(f"No {each.kind} {each.id[:80]!r} in this registry.{near}", err=True)


def _pairs_of(link: str) -> Pairs:
    try:
        return pairs_of(link)
    except LinkError as error:
        wanted = "expected the link of a question, such as /bells?century=15"
        raise click.UsageError(f"--link {link[:60]!r}: {wanted}; {error}.") from error


def _area_text(path: Path) -> str:
    """Read the file of an area, and tell everything that is wrong in it.

    Raises
    ------
    InputError
        When it is no area.
    """
    with path.open("rb") as stream:
        data = stream.read(LARGEST_AREA_BYTES + 1)
    if len(data) > LARGEST_AREA_BYTES:
        read = f"over {LARGEST_AREA_BYTES // 10**6} MB"
        remedy = "simplify the border, then try again"
        raise InputError(
            [whole_file_problem(str(path), "file-too-large", read, "an area as GeoJSON", remedy)]
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        read, remedy = "bytes that are not UTF-8", "save it as UTF-8"
        raise InputError([whole_file_problem(str(path), "text-encoding", read, "GeoJSON", remedy)]) from error
    try:
        read_area(text)
    except AreaError as error:
        problems = [
            Problem(str(path), 0, 0, error.code, fault.path, fault.read, fault.expected, fault.remedy)
            for fault in error.faults
        ]
        raise InputError(problems) from error
    return text
