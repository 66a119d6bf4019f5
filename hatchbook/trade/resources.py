"""Where the program's own files lie: TOML of the trade, icons, translations.

An installed program carries them inside the package (`hatchbook/resources`); a checkout has them beside it
(`resources`).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1]


class ResourcesMissingError(FileNotFoundError):
    """The folder with the program's own files is nowhere; `places` are where it was looked for."""

    def __init__(self, places: tuple[Path, ...]) -> None:
        super().__init__()
        self.places = places

    def __str__(self) -> str:
        looked = " or ".join(str(place) for place in self.places)
        return f"Hatchbook's own files are missing: there is no folder {looked}. Install the program again."


def find_resources(package: Path) -> Path:
    """The folder of resources that belongs to a package folder.

    Raises:
        ResourcesMissingError: when there is none.
    """
    inside, beside = package / "resources", package.parent / "resources"
    if inside.is_dir():
        return inside
    # Beside an installed package lie other people's packages: only a checkout's folder is ours.
    if beside.is_dir() and (package.parent / "pyproject.toml").is_file():
        return beside
    raise ResourcesMissingError((inside, beside))


@cache
def _root() -> Path:
    return find_resources(PACKAGE)


def resource_path(*parts: str) -> Path:
    """The path of a file or folder of the resources, such as ``resource_path("species", "hen.toml")``.

    The file itself need not exist.

    Raises:
        ResourcesMissingError: when the resources are not there at all.
    """
    return _root().joinpath(*parts)
