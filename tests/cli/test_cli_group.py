"""How the command line starts and ends, whatever happens in between."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import click
import pytest

from registry import __version__
from registry.cli import group
from registry.cli.group import COMMANDS, DONE, FAULT, PROBLEMS, STOPPED, USAGE
from registry.problems import InputError, whole_file_problem


@pytest.fixture
def failing(monkeypatch):
    """Give a function that puts a command called ``check`` in place which raises what it is given."""

    def put(error: BaseException) -> None:
        @click.command
        def command() -> None:
            raise error

        monkeypatch.setattr(group.Commands, "get_command", lambda _self, _context, _name: command)

    return put


def test_help_lists_the_commands_without_importing_them():
    """The list of commands is printed without loading any of them, so that it is quick."""
    code = "import sys; from registry.cli.group import ended; ended(None, ['--help']); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert all(f"  {name} " in done.stdout for name in COMMANDS)
    loaded = set(done.stdout.splitlines()[-1].split())
    assert not loaded & {"yaml", "datasette", "sqlite3", "numpy", "registry.units", "registry.model"}


def test_version(soundbow):
    """The version is printed on request."""
    run = soundbow("--version")
    assert (run.code, run.out) == (DONE, f"soundbow {__version__}\n")


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_has_help(soundbow, name):
    """Each command explains itself, with an example."""
    run = soundbow(name, "--help")
    assert run.code == DONE
    assert "Example" in run.out
    assert f"  soundbow {name}" in run.out


def test_unknown_command_names_the_nearest(soundbow):
    """A command that does not exist is wrong usage, and the nearest one is named."""
    run = soundbow("chek")
    assert run.code == USAGE
    assert "Did you mean 'check'?" in run.err


def test_nothing_asked_is_wrong_usage(soundbow):
    """Without a command the help is shown."""
    run = soundbow()
    assert run.code == USAGE
    assert "Commands:" in run.out + run.err


def test_a_fault_is_told_plainly(soundbow, failing):
    """A fault of the program shows no traceback: it says that nothing was half done, and what to do."""
    failing(RuntimeError("the bell fell"))
    run = soundbow("check")
    assert run.code == FAULT
    assert "Traceback" not in run.err
    assert "RuntimeError: the bell fell" in run.err
    assert "report it" in run.err


def test_a_fault_shows_its_place_on_request(soundbow, failing, monkeypatch):
    """With SOUNDBOW_DETAILS set, a developer sees where a fault happened."""
    monkeypatch.setenv("SOUNDBOW_DETAILS", "1")
    failing(RuntimeError("the bell fell"))
    with pytest.raises(RuntimeError):
        soundbow("check")


def test_problems_of_the_input_are_told_as_in_a_report(soundbow, failing):
    """Problems that stop a command are printed on stderr, each with what to do."""
    failing(InputError([whole_file_problem("a.db", "not-a-registry", "text", "a registry", "give another")]))
    run = soundbow("check")
    assert run.code == PROBLEMS
    assert run.out == ""
    assert run.err.startswith("a.db: error not-a-registry\n")
    assert "do        give another\n" in run.err


@pytest.mark.parametrize(
    "error",
    [PermissionError(13, "Permission denied", "a.yaml"), OSError(28, "No space left on device", "a.yaml")],
)
def test_errors_of_the_machine_name_the_file(soundbow, failing, error):
    """A file that may not be written, or a full disk, is told with its name."""
    failing(error)
    run = soundbow("check")
    assert run.code == PROBLEMS
    assert run.err == f"soundbow: a.yaml: {error.strerror}\n"


def test_interrupted(soundbow, failing):
    """Ctrl-C ends quietly with the code that shells give it."""
    failing(KeyboardInterrupt())
    run = soundbow("check")
    assert run.code == STOPPED
    assert "Stopped." in run.err
    assert "Traceback" not in run.err


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_a_reader_that_goes_away(tmp_path: Path):
    """When nobody reads the output any more, the command ends without a word."""
    command = [sys.executable, "-m", "registry", "form"]
    run = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert run.stdout is not None
    run.stdout.close()
    _, said = run.communicate(timeout=30)
    assert said == b""
    assert run.returncode == group.READER_GONE


@pytest.mark.skipif(os.name == "nt", reason="signals end otherwise there")
def test_interrupted_while_serving(sample_registry: Path):
    """Ctrl-C stops a server without a traceback."""
    command = [sys.executable, "-m", "registry", "serve", "--registry", str(sample_registry), "--port", "0"]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert server.stdout is not None
    said = server.stdout.readline()
    while "http://" not in said:
        said = server.stdout.readline()
        assert said
    time.sleep(0.1)
    server.send_signal(signal.SIGINT)
    rest, _ = server.communicate(timeout=30)
    assert "Traceback" not in rest
    assert server.returncode in (DONE, STOPPED)
