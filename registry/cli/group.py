"""The commands by name, and how a run of the command line ends: no traceback ever reaches the user."""

import os
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from importlib import import_module

import click

from registry import __version__
from registry.cli.entrances import Entrances
from registry.problems import InputError

COMMANDS = {
    "demo": "Show the invented sample district in your browser.",
    "form": "Write a survey form, blank or for a known tower.",
    "check": "Check filled forms, and tell everything that is wrong.",
    "load": "Load checked forms into a registry.",
    "find": "Find bells in a registry.",
    "statistics": "Count castings, reach, masses and survival of the bells asked for.",
    "show": "Show all that is known of a bell, a tower or a survey.",
    "estimate": "Estimate mass and note of a bell from its size.",
    "sound": "Measure the partials of a bell from a recording.",
    "date": "Read a date as it stands on a bell, in every way it can be read.",
    "design": "Give first sizes for a bell that is to have a wanted note.",
    "serve": "Show a registry in your browser.",
    "report": "Write a report on a bell, a tower or a visit as a PDF, or a form to print.",
    "candidates": "Rank the bells that need something, with what may be done.",
    "identify": "Rank the bells of a registry by how likely each is one that turned up.",
    "twins": "Propose pairs of records that may be one bell.",
    "worklist": "List what is to be done, and when to look again.",
    "restore": "Write loaded forms back, byte for byte.",
}
"""Every command with its one line, here so that ``--help`` need not import them all."""

DONE, PROBLEMS, USAGE = 0, 1, 2
FAULT = 70
"""The program itself is at fault (EX_SOFTWARE of BSD's sysexits)."""
STOPPED = 130
"""Stopped by Ctrl-C, as shells report it (128 + SIGINT)."""
READER_GONE = 141
"""Nobody reads the output any more (128 + SIGPIPE)."""

DETAILS = "SOUNDBOW_DETAILS"
"""Environment variable that lets a fault of the program show where it happened."""


class ReaderGoneError(Exception):
    """Nobody reads the output any more. Not an OSError, which click would turn into exit code 1."""


class Commands(click.Group):
    """The commands of `COMMANDS`, each imported when it is called."""

    def invoke(self, ctx: click.Context) -> object:
        """Run the command named."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            raise ReaderGoneError from None

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """List the names in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import one command."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"registry.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command where the one asked for does not exist."""
        name = args[0]
        if name not in COMMANDS and not name.startswith("-"):
            near = get_close_matches(name, COMMANDS, 1)
            ctx.fail(f"No command {name!r}." + (f" Did you mean {near[0]!r}?" if near else ""))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """Write the list of commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Example:  soundbow demo",
)
@click.version_option(__version__, "-V", "--version", message="%(prog)s %(version)s")
def soundbow() -> None:
    """Keep the registry of a district's bells: survey forms in, a browsable record out.

    Exit codes: 0 done, 1 the input has problems, 2 wrong usage.
    """


def run(entrances: Entrances, arguments: Sequence[str] | None = None) -> None:
    """Run the command line and end the process with its exit code.

    Parameters
    ----------
    entrances : Entrances
        What shows pages and what writes reports; given from above, for no entrance imports another.
    arguments : sequence of str, optional
        The words of the command line; those of the process unless given.
    """
    for stream in (sys.stdout, sys.stderr):
        # What cannot be shown on this terminal is shown by its code point; files and pipes are always UTF-8.
        stream.reconfigure(  # type: ignore[union-attr]
            encoding=stream.encoding if stream.isatty() else "utf-8", errors="backslashreplace"
        )
    try:
        code = ended(entrances, arguments)
        sys.stdout.flush()
    except (BrokenPipeError, ReaderGoneError):
        # Python writes what is left when it ends; give it somewhere to write to.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = READER_GONE
    sys.exit(code)


def ended(entrances: Entrances, arguments: Sequence[str] | None = None) -> int:
    """Run one command and turn however it ends into an exit code, with a plain message on stderr.

    Raises
    ------
    ReaderGoneError
        When nobody reads the output any more.
    """
    try:
        result = soundbow.main(arguments, prog_name="soundbow", standalone_mode=False, obj=entrances)
        return result if isinstance(result, int) else DONE
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        return STOPPED
    except InputError as error:
        from registry.forms.report import problem_text  # noqa: PLC0415 - not needed where all goes well

        for problem in error.problems:
            click.echo(problem_text(problem), err=True)
        return PROBLEMS
    except ReaderGoneError:
        raise
    except OSError as error:
        about = f"{error.filename}: " if error.filename else ""
        click.echo(f"soundbow: {about}{error.strerror or error}", err=True)
        return PROBLEMS
    except Exception as error:
        if os.environ.get(DETAILS):
            raise
        click.echo(
            f"soundbow: a fault in the program stopped this command ({type(error).__name__}: {error}).\n"
            "A registry is replaced as a whole or not at all, so it is as it was before.\n"
            f"Please report it with what you did; run it again with {DETAILS}=1 in the environment\n"
            "to see where it happened.",
            err=True,
        )
        return FAULT
