"""``soundbow serve`` and ``soundbow demo``: the command line up to the moment when pages are served."""

import socket

import pytest
from serving import CHECKOUT

from registry.__main__ import papers
from registry.cli import demo
from registry.cli.entrances import Entrances
from registry.cli.group import DONE, PROBLEMS, USAGE, ended

SAMPLE = CHECKOUT / "sample_data"


def test_serve_hands_the_registry_on(soundbow, sample_registry):
    """What is served is the registry named, on this machine alone unless asked otherwise."""
    run = soundbow("serve", "--registry", sample_registry)
    assert run.code == DONE
    assert run.served == [(sample_registry, "127.0.0.1", 8321)]
    run = soundbow("serve", "--registry", sample_registry, "--host", "::1", "--port", "0")
    assert run.served == [(sample_registry, "::1", 0)]


def test_serve_on_a_port_that_is_taken(sample_registry, capfd):
    """A port that cannot be used is told, with a way out."""

    def taken(registry, *, host, port):
        raise OSError(98, "Address already in use")

    assert ended(Entrances(taken, papers), ["serve", "--registry", str(sample_registry)]) == PROBLEMS
    assert "--port 0 takes a free one" in capfd.readouterr().err


@pytest.mark.parametrize("port", ["-1", "65536", "many"])
def test_ports_that_do_not_exist(soundbow, sample_registry, port):
    """A port is a number from 0 to 65535."""
    assert soundbow("serve", "--registry", sample_registry, "--port", port).code == USAGE


def test_demo_copies_loads_and_serves(soundbow, tmp_path):
    """The demo copies the invented forms, loads them and serves the registry."""
    folder = tmp_path / "demo"
    run = soundbow("demo", "--folder", folder, "--port", "1234")
    assert run.code == DONE
    assert run.served == [(folder / "registry.db", "127.0.0.1", 1234)]
    copied = {path.name: path.read_bytes() for path in (folder / "surveys").glob("*.yaml")}
    assert copied == {path.name: path.read_bytes() for path in (SAMPLE / "surveys").glob("*.yaml")}
    assert not (folder / "faulty").exists()


def test_demo_again_keeps_what_was_changed(soundbow, tmp_path):
    """A second demo leaves forms as they were changed, and loads the change."""
    folder = tmp_path / "demo"
    soundbow("demo", "--folder", folder, "--no-serve")
    form = folder / "surveys" / "vellhaven-minster-2025.yaml"
    text = form.read_text(encoding="utf-8").replace("742.5 mm", "743 mm")
    form.write_text(text, encoding="utf-8")
    run = soundbow("demo", "--folder", folder, "--no-serve")
    assert run.code == DONE
    assert run.served == []
    assert "1 replaced" in run.out
    assert form.read_text(encoding="utf-8") == text


def test_demo_takes_a_free_port(monkeypatch):
    """Where the usual port is taken the demo takes any free one, else the usual."""
    with socket.socket() as other:
        other.bind((demo.HOST, 0))
        other.listen()
        monkeypatch.setattr(demo, "PORT", other.getsockname()[1])
        assert demo.free_port() == 0
    assert demo.free_port() == demo.PORT
