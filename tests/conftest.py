"""What the tests share: expected files, the sample registry, a served site, a browser."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from serving import CHECKOUT, served

# A busy machine is no fault of the program: times are measured in benchmarks, never in tests.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")

Golden = Callable[[Path, str], None]
Once = Callable[[str, Callable[[Path], object]], Path]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the switch that writes expected files anew, to be read in the difference before a commit."""
    parser.addoption("--rewrite", action="store_true", help="write the expected files instead of comparing")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Run nothing but the comparisons with expected files where these are written anew."""
    if config.getoption("--rewrite"):
        items[:] = [item for item in items if "golden" in getattr(item, "fixturenames", ())]


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """Compare a text with the committed file it must equal, or write that file where --rewrite is given."""

    def compare(path: Path, text: str) -> None:
        if request.config.getoption("--rewrite"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode())
            return
        relative = path.relative_to(CHECKOUT)
        assert path.is_file(), f"{relative} is not there: run `make generate`"
        assert path.read_bytes().decode() == text, f"{relative} is out of date: run `make generate`"

    return compare


@pytest.fixture(scope="session")
def once(tmp_path_factory: pytest.TempPathFactory) -> Once:
    """Give a function that makes a folder once for all parallel workers of this run."""

    def made(name: str, make: Callable[[Path], object]) -> Path:
        base = tmp_path_factory.getbasetemp()
        if "PYTEST_XDIST_WORKER" in os.environ:
            base = base.parent
        folder = base / name
        making = base / f"{name}.making"
        with (base / f"{name}.lock").open("w") as lock:
            _wait_for(lock)
            if not folder.is_dir():
                shutil.rmtree(making, ignore_errors=True)
                making.mkdir()
                make(making)
                making.rename(folder)
        return folder

    return made


def _wait_for(lock: Any) -> None:
    """Hold a lock until the file is closed; systems without fcntl run the tests in one process."""
    try:
        import fcntl  # noqa: PLC0415 - absent on Windows
    except ImportError:
        return
    fcntl.flock(lock, fcntl.LOCK_EX)


@pytest.fixture(scope="session")
def sample_registry(once: Once) -> Path:
    """Load the sample district once and give its registry, which no test may change."""

    def make(folder: Path) -> None:
        command = [sys.executable, "-m", "registry", "demo", "--no-serve", "--folder", str(folder)]
        subprocess.run(command, check=True, cwd=CHECKOUT, capture_output=True)

    return once("sample", make) / "registry.db"


@pytest.fixture(scope="session")
def site(sample_registry: Path) -> Iterator[str]:
    """Serve the sample registry as a user does, and give its address."""
    command = [sys.executable, "-m", "registry", "serve", "--registry", str(sample_registry), "--port", "0"]
    with served(command, cwd=CHECKOUT) as address:
        yield address


def _missing(what: str) -> None:
    """Skip for want of a tool, or fail where the caller said that nothing may be skipped."""
    if os.environ.get("SOUNDBOW_BROWSER") == "required":
        pytest.fail(what)
    pytest.skip(what)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Start the Chromium that is installed; its life ends with the module, so other event loops can run."""
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
    program = os.environ.get("SOUNDBOW_CHROMIUM") or next(filter(None, map(shutil.which, names)), None)
    if program is None:
        _missing("no Chromium found: install it, or name it in SOUNDBOW_CHROMIUM")
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - slow, and only browser tests need it

    driver = sync_playwright()
    try:
        playwright = driver.start()
    except Exception as error:
        _missing(f"the browser cannot be driven here: {error}")
    chromium = playwright.chromium.launch(
        executable_path=program, args=["--no-sandbox", "--disable-dev-shm-usage"]
    )
    yield chromium
    chromium.close()
    playwright.stop()


@pytest.fixture(scope="session")
def axe_source() -> str:
    """Give the source of the accessibility rules, which come with `npm ci`."""
    script = CHECKOUT / "node_modules" / "axe-core" / "axe.min.js"
    if not script.is_file():
        _missing("axe-core is not installed: run `npm ci`")
    return script.read_text(encoding="utf-8")
