"""The program finds its tables and resources wherever it is installed, with no checkout around."""

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from tubeshelf.paths import root

CHECKOUT = Path(__file__).parents[1]
SHIPPED = get_args(get_type_hints(root)["kind"])


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder laid out as the wheel says, to be imported from."""
    folder = tmp_path_factory.mktemp("site")
    project = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
    wheel = project["tool"]["hatch"]["build"]["targets"]["wheel"]
    for package in wheel["packages"]:
        shutil.copytree(CHECKOUT / package, folder / package, ignore=shutil.ignore_patterns("__pycache__"))
    for source, place in wheel["force-include"].items():
        shutil.copytree(CHECKOUT / source, folder / place)
    return folder


def tubeshelf(site: Path, *argv: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "tubeshelf", *argv],
        cwd=site,
        env={**os.environ, "PYTHONPATH": str(site)},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )


def test_a_wheel_has_every_folder_that_is_asked_for(installed: Path) -> None:
    for kind in SHIPPED:
        assert root(kind) == CHECKOUT / kind
        within = installed / "tubeshelf" / "_shared" / kind
        shipped = {path.relative_to(CHECKOUT / kind) for path in (CHECKOUT / kind).rglob("*")}
        assert {path.relative_to(within) for path in within.rglob("*")} == shipped
        assert shipped


def test_the_command_line_works_from_a_wheel(installed: Path, tmp_path: Path) -> None:
    fit = tubeshelf(installed, "fit", "12AX7", "ECC83")
    assert (fit.returncode, fit.stderr) == (0, "")
    assert "right type" in fit.stdout
    demo = tubeshelf(installed, "demo", "--no-window", "--to", str(tmp_path))
    assert (demo.returncode, demo.stderr) == (0, "")
    assert (tmp_path / "demo.tubeshelf").is_file()
    assert (tmp_path / "order-list.pdf").is_file()


def test_an_installation_without_its_tables_says_what_is_missing(installed: Path, tmp_path: Path) -> None:
    shutil.copytree(installed / "tubeshelf", tmp_path / "tubeshelf", ignore=shutil.ignore_patterns("_shared"))
    bare = tubeshelf(tmp_path, "fit", "12AX7", "ECC83")
    assert bare.returncode == 1
    assert bare.stderr == (
        "tubeshelf: The folder 'data' is missing from this installation: install tubeshelf again.\n"
    )
