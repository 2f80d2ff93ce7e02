"""The documents say what the program does, and what they tell to type works."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import click
import pytest
from serving import CHECKOUT

from registry.__main__ import papers
from registry.cli.entrances import Entrances
from registry.cli.group import COMMANDS, DONE, ended, soundbow
from registry.model.fields import Quantity, section_fields
from registry.model.survey import Survey
from registry.problems import CATALOGUE, Level
from registry.questions.parameters import PARAMETERS
from registry.units import FIELD_UNITS

README = (CHECKOUT / "README.md").read_text(encoding="utf-8")
DOCUMENTS = ("README.md", "DEVELOPERS.md", "CHANGELOG.md")


def quantities() -> dict[str, tuple[str, str, str]]:
    """List every quantity of the model: name to unit, section and meaning."""
    found: dict[str, tuple[str, str, str]] = {}

    def collect(section: type, title: str) -> None:
        for field in section_fields(section):
            if field.section is not None:
                collect(field.section, field.name if title in ("", "bells") else f"{title}.{field.name}")
            elif isinstance(field.kind, Quantity) and field.name not in found:
                symbol = FIELD_UNITS[field.kind.unit].symbol or "–"
                found[field.name] = symbol, title, field.help

    collect(Survey, "")
    return dict(sorted(found.items()))


def test_glossary_is_the_model(golden) -> None:
    """DEVELOPERS.md lists every quantity of the model with its unit, and no other."""
    path = CHECKOUT / "DEVELOPERS.md"
    lines = ["| name | unit | on the form | meaning |", "|---|---|---|---|"]
    lines += [
        f"| `{name}` | {unit} | {where} | {text} |" for name, (unit, where, text) in quantities().items()
    ]
    begin, end = "<!-- glossary -->\n", "<!-- end of glossary -->"
    text = path.read_text(encoding="utf-8")
    before, rest = text.split(begin)
    golden(path, before + begin + "\n".join(lines) + "\n" + end + rest.split(end)[1])


def test_every_part_of_a_question_is_documented(golden) -> None:
    """docs/asking.md lists every part of a link in its order, with its option and what it asks."""
    otherwise = {"text": "the words themselves", "area": "`--within`", "sort": "`--sort`, `--reverse`"}
    lines = ["| in a link | option | asks | several |", "|---|---|---|---|"]
    for parameter in PARAMETERS:
        option = f"`{parameter.option}`" if parameter.option else otherwise[parameter.name]
        unit = f" [{parameter.unit}]" if parameter.unit else ""
        asks = (parameter.help or parameter.title).rstrip(".")
        codes = getattr(parameter.kind, "codes", ()) if parameter.name != "formula" else ()
        words = f": {', '.join(f'`{code}`' for code in codes)}" if codes else ""
        lines.append(f"| `{parameter.name}` | {option} | {asks}{unit}{words} | {'yes' * parameter.many} |")
    path = CHECKOUT / "docs" / "asking.md"
    begin, end = "<!-- parameters -->\n", "<!-- end of parameters -->"
    before, rest = path.read_text(encoding="utf-8").split(begin)
    golden(path, before + begin + "\n".join(lines) + "\n" + end + rest.split(end)[1])


def test_problems_are_documented(golden) -> None:
    """docs/problems.md lists every problem the check can find, with its level and meaning."""
    told = {
        Level.ERROR: "the form does not load",
        Level.WARNING: "it loads, and needs a look",
        Level.NOTE: "worth knowing",
    }
    lines = [
        "# Problems",
        "",
        "What `soundbow check` and `load` can find. Codes are permanent. Written by `make generate`.",
    ]
    for level, meaning in told.items():
        lines += ["", f"## {level.value.capitalize()}: {meaning}", "", "| code | meaning |", "|---|---|"]
        lines += [f"| `{code}` | {text} |" for code, (at, text) in CATALOGUE.items() if at is level]
    golden(CHECKOUT / "docs" / "problems.md", "\n".join(lines) + "\n")


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_is_documented(name: str) -> None:
    """Each command stands in the README, shows an example in its help, and explains each option."""
    assert f"`soundbow {name}`" in README
    command = soundbow.get_command(click.Context(soundbow), name)
    assert command is not None
    assert f"soundbow {name}" in (command.epilog or "")
    assert "Example" in (command.epilog or "")
    for option in command.params:
        if isinstance(option, click.Option):
            explained = option.help or isinstance(option.type, click.Choice) or option.show_default
            assert explained, f"soundbow {name} does not explain {option.opts}"


def test_list_of_commands_is_complete() -> None:
    """The list of commands, written by hand to be quick, names each module that defines one."""
    modules = (CHECKOUT / "registry" / "cli").glob("*.py")
    commands = {path.stem for path in modules if "\ndef command(" in path.read_text(encoding="utf-8")}
    assert commands == set(COMMANDS)


@pytest.mark.parametrize("document", DOCUMENTS)
def test_links_lead_somewhere(document: str) -> None:
    """Each relative link in a document leads to a file of the project."""
    text = (CHECKOUT / document).read_text(encoding="utf-8")
    for target in re.findall(r"\]\((?!https?:)([^)#]+)", text):
        assert (CHECKOUT / target).exists(), f"{document} links to {target}"


def not_served(registry: Path, *, host: str, port: int) -> None:
    """Stand in for the server, which would not end."""


def test_readme_commands_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the README tells to type works in that order, once the form is filled in."""
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    lines = [line for block in blocks for line in block.splitlines()]
    assert len(lines) >= 8
    for line in lines:
        words = [word.strip('"') for word in re.findall(r'"[^"]*"|\S+', line)]
        assert words[0] == "soundbow"
        assert ended(Entrances(not_served, papers), words[1:]) == DONE, line
        if "-o" in words and "form" in words and "--tower" not in words:
            filled = CHECKOUT / "sample_data" / "surveys" / "vellhaven-minster-2025.yaml"
            shutil.copy(filled, tmp_path / words[words.index("-o") + 1])


@pytest.mark.parametrize("target", ["demo", "test"])
def test_readme_names_targets_that_exist(target: str) -> None:
    """The two commands at the top of the README are targets of the Makefile."""
    assert f"make {target}\n" in README
    command = ["make", "--dry-run", "--always-make", target]
    environment = {name: value for name, value in os.environ.items() if not name.startswith("MAKE")}
    tried = subprocess.run(command, cwd=CHECKOUT, check=False, capture_output=True, env=environment)
    assert tried.returncode == 0


def test_project_names_no_place_of_its_making() -> None:
    """No kept file names a folder of the machine it was written on."""
    command = ["git", "ls-files"]
    listed = subprocess.run(command, cwd=CHECKOUT, check=False, capture_output=True, text=True)
    if listed.returncode:
        pytest.skip("not a git checkout")
    forbidden = re.compile(r"(?<![\w.])/(home|root|tmp|work)/")
    for name in listed.stdout.splitlines():
        path = CHECKOUT / name
        if path.name == Path(__file__).name or not path.is_file() or path.suffix in (".png", ".woff2"):
            continue
        text = path.read_text(encoding="utf-8", errors="replace")
        assert not forbidden.search(text), f"{name} names {forbidden.search(text)}"
