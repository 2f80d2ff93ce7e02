"""The wheel: built from a clean copy, installed outside the checkout, it shows itself whole."""

import os
import re
import shutil
import subprocess
import sys
import tomllib
import venv
from collections.abc import Iterator
from importlib.metadata import distribution
from pathlib import Path
from zipfile import ZipFile

import pytest
from packaging.requirements import Requirement
from serving import CHECKOUT, crawled, served

from registry import __version__

PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
SHIPPED = ("registry", "schema", "surveys", "sample_data")
"""Folders of the checkout that the wheel holds."""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a copy, so that no stale build folder can add to it."""
    copy = tmp_path_factory.mktemp("copy")
    for folder in SHIPPED:
        shutil.copytree(CHECKOUT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for file in ("pyproject.toml", "README.md", "LICENSE", "MANIFEST.in"):
        shutil.copy(CHECKOUT / file, copy)
    command = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation"]
    subprocess.run([*command, "--wheel-dir", "dist", "."], cwd=copy, check=True)
    (built,) = (copy / "dist").glob("soundbow-*.whl")
    return built


def runtime_distributions() -> set[str]:
    """Name every distribution that the declared dependencies bring in, and no other."""
    found: set[str] = set()
    waiting = list(PROJECT["project"]["dependencies"])
    while waiting:
        requirement = Requirement(waiting.pop())
        if requirement.marker and not requirement.marker.evaluate({"extra": ""}):
            continue
        if requirement.name not in found:
            found.add(requirement.name)
            waiting += distribution(requirement.name).requires or []
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Install the wheel into an environment that holds its declared dependencies only; give its commands."""
    folder = tmp_path_factory.mktemp("environment")
    venv.create(folder, with_pip=False, symlinks=os.name != "nt")
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    command = [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    library = Path(subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip())
    for name in runtime_distributions():
        files = distribution(name).files or []
        for top in {file.parts[0] for file in files} - {"..", "__pycache__"}:
            source = Path(str(distribution(name).locate_file(top)))
            if not (library / top).exists():
                (library / top).symlink_to(source, target_is_directory=source.is_dir())
    command = [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-deps"]
    subprocess.run([*command, "--no-index", str(wheel)], check=True)
    yield python.parent
    shutil.rmtree(folder)


def elsewhere(folder: Path) -> dict[str, object]:
    """Give the settings of a process that knows nothing of the checkout."""
    kept = {
        name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "PYTEST", "COV"))
    }
    return {"cwd": folder, "env": kept}


def test_packages_are_those_on_disk() -> None:
    """Every package on disk is named in pyproject.toml, or it would be missing from the wheel."""
    on_disk = {
        ".".join(path.parent.relative_to(CHECKOUT).parts) for path in CHECKOUT.glob("registry/**/__init__.py")
    }
    mapped = {f"registry.{folder}" for folder in SHIPPED[1:]}
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == on_disk | mapped


def test_wheel_holds_every_file(wheel: Path) -> None:
    """The wheel holds each file of the shipped folders that git keeps, and nothing else."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", *SHIPPED]
    try:
        listed = subprocess.run(
            command, cwd=CHECKOUT, check=True, capture_output=True, text=True
        ).stdout.split("\n")
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout")
    kept = {name for name in listed if (CHECKOUT / name).is_file() and not name.endswith(".gitattributes")}
    expected = {name if name.startswith("registry/") else f"registry/{name}" for name in kept}
    with ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    assert held == expected


def test_installed_wheel_shows_itself(installed: Path, tmp_path: Path) -> None:
    """In an empty environment outside the checkout, the demo loads and serves every page with its assets."""
    command = [str(installed / "soundbow"), "demo", "--folder", str(tmp_path / "demo")]
    surroundings = elsewhere(tmp_path)
    loaded = subprocess.run(
        [*command, "--no-serve"],
        check=False,
        capture_output=True,
        text=True,
        **surroundings,  # type: ignore[call-overload]
    )
    assert loaded.returncode == 0, loaded.stderr
    with served([*command, "--port", "0"], **surroundings) as site:
        found = crawled(site)
    assert {answer.status for answer in found.pages.values()} == {200}
    assert {answer.status for answer in found.files.values()} == {200}
    assert found.assets
    assert all(answer.status == 200 and answer.body for answer in found.assets.values())
    assert not found.elsewhere
    bells = [page for page in found.pages if re.fullmatch(r"/bell/[a-z0-9-]+", page)]
    towers = [page for page in found.pages if re.fullmatch(r"/tower/[a-z0-9-]+", page)]
    surveys = [page for page in found.pages if re.fullmatch(r"/survey/[a-z0-9-]+", page)]
    assert len(bells) >= 60
    assert len(towers) >= 14
    assert len(surveys) >= 22
    assert {"/", "/towers", "/bells", "/map", "/about", "/data"} <= set(found.pages)


def test_version_is_the_one_in_the_changelog() -> None:
    """The newest version in the changelog is the version of the package."""
    changelog = (CHECKOUT / "CHANGELOG.md").read_text(encoding="utf-8")
    newest = re.search(r"^## \[(\d+\.\d+\.\d+)\]", changelog, re.MULTILINE)
    assert newest
    assert newest[1] == __version__


def test_every_dependency_is_pinned_as_tested() -> None:
    """constraints.txt pins each distribution that the project and its tests name, and names no index."""
    text = (CHECKOUT / "constraints.txt").read_text(encoding="utf-8")
    pinned = {line.partition("==")[0].lower() for line in text.splitlines() if "==" in line}
    named = PROJECT["project"]["dependencies"] + PROJECT["dependency-groups"]["dev"]
    assert {Requirement(line).name.lower() for line in named} <= pinned
    assert "://" not in text


def test_lock_of_the_accessibility_rules_names_no_host() -> None:
    """The lock file pins by content and leaves the host to whoever installs."""
    assert "://" not in (CHECKOUT / "package-lock.json").read_text(encoding="utf-8")
