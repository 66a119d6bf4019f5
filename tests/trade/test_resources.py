"""The program's own files are found in a checkout and in an installed package."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.trade import resources
from hatchbook.trade.resources import ResourcesMissingError, find_resources, resource_path


@pytest.fixture
def package(tmp_path: Path) -> Path:
    folder = tmp_path / "hatchbook"
    folder.mkdir()
    return folder


def test_a_species_is_found() -> None:
    assert resource_path("species", "hen.toml").is_file()


def test_a_folder_that_is_not_there_yet_has_a_path_too() -> None:
    assert not resource_path("species", "nowhere").exists()


def test_an_installed_package_carries_them_inside(package: Path) -> None:
    (package / "resources").mkdir()
    (package.parent / "resources").mkdir()
    assert find_resources(package) == package / "resources"


def test_a_checkout_has_them_beside_the_package(package: Path) -> None:
    (package.parent / "resources").mkdir()
    (package.parent / "pyproject.toml").touch()
    assert find_resources(package) == package.parent / "resources"


def test_another_programs_folder_beside_an_installed_package_is_not_taken(package: Path) -> None:
    (package.parent / "resources").mkdir()
    with pytest.raises(ResourcesMissingError) as caught:
        find_resources(package)
    assert caught.value.places == (package / "resources", package.parent / "resources")
    assert str(caught.value).startswith("Hatchbook's own files are missing")
    assert str(package / "resources") in str(caught.value)


def test_the_package_is_the_one_this_module_is_in() -> None:
    assert Path(resources.__file__).parent.parent == resources.PACKAGE
