"""The one door to the files that ship with the package: schema, blank forms, sample data."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def shipped_folder(name: str) -> Traversable:
    """Give the folder of shipped files called ``name``.

    Parameters
    ----------
    name : str
        ``"schema"``, ``"surveys"`` or ``"sample_data"``.

    Raises
    ------
    ModuleNotFoundError
        When the installation lacks the folder.
    """
    try:
        return files(f"registry.{name}")
    except ModuleNotFoundError:
        # A checkout that is on sys.path but was never installed.
        checkout = Path(__file__).resolve().parent.parent
        if not (checkout / "pyproject.toml").is_file():
            raise
        return checkout / name


def shipped_text(folder: str, *parts: str) -> str:
    """Read one shipped text file, e.g. ``shipped_text("schema", "vocabularies", "material.yaml")``."""
    return shipped_folder(folder).joinpath(*parts).read_text(encoding="utf-8")


def copy_missing(source: Traversable, target: Path) -> None:
    """Copy a shipped file or folder; what is there already may have been changed, and is left as it is."""
    if source.is_dir():
        target.mkdir(parents=True, exist_ok=True)
        for inner in source.iterdir():
            copy_missing(inner, target / inner.name)
    elif not target.exists():
        target.write_bytes(source.read_bytes())
