"""The built wheel, installed with the checkout out of the way and without the development packages.

The dependencies that the wheel itself declares, and theirs, are linked into a fresh environment from this
one, so that the test needs no network; anything undeclared is not there, and the commands fail.
"""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]


def run(*command: str | Path, **options: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(word) for word in command],
        capture_output=True,
        text=True,
        check=False,
        **options,  # type: ignore[call-overload]
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=ROOT)
    assert built.returncode == 0, built.stderr
    (path,) = folder.glob("*.whl")
    return path


def requirements(dist: Distribution) -> list[str]:
    wanted = [Requirement(text) for text in dist.requires or []]
    return [one.name for one in wanted if one.marker is None or one.marker.evaluate({"extra": ""})]


def closure(names: list[str]) -> dict[str, Distribution]:
    found: dict[str, Distribution] = {}
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name.lower() in found:
            continue
        try:
            dist = distribution(name)
        except PackageNotFoundError:
            continue
        found[name.lower()] = dist
        waiting += requirements(dist)
    return found


@pytest.fixture(scope="module")
def clean(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The `bin` folder of an environment that holds the wheel and what it declares, and nothing else."""
    home = tmp_path_factory.mktemp("clean")
    venv.create(home, with_pip=False, symlinks=True)
    packages = Path(sysconfig.get_path("purelib", vars={"base": str(home), "platbase": str(home)}))
    with zipfile.ZipFile(wheel) as opened:
        opened.extractall(packages)
        (metadata,) = [name for name in opened.namelist() if name.endswith(".dist-info/METADATA")]
    own = Distribution.at(packages / Path(metadata).parent)
    for dist in closure(requirements(own)).values():
        for top in {file.parts[0] for file in dist.files or [] if file.parts[0] not in ("..", "__pycache__")}:
            link, target = packages / top, Path(str(dist.locate_file(top)))
            if target.exists() and not link.exists():
                link.symlink_to(target)
    script = home / "bin" / "gutterance"
    script.write_text(
        f"#!{home}/bin/python\nimport sys\nfrom gutterance.__main__ import main\nsys.exit(main())\n"
    )
    script.chmod(0o755)
    return home / "bin"


def in_clean(clean: Path, *args: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return run(clean / "gutterance", *args, cwd=cwd, env=environment)


def test_the_wheel_carries_its_data_and_none_of_the_tests(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        names = set(opened.namelist())
    for needed in (
        "gutterance/py.typed",
        "gutterance/cli/help.txt",
        "gutterance/examples/31-fennel-hill.prices.csv",
        "gutterance/examples/31-fennel-hill.txt",
        "gutterance/reading/lexicon.toml",
        "gutterance/measure/units.txt",
        "gutterance/measure/words.toml",
        "gutterance/shop/defaults.toml",
        "gutterance/stock/metals.toml",
        "gutterance/checking/plausible.toml",
    ):
        assert needed in names
    assert any(name.endswith(".dist-info/licenses/LICENSE") for name in names)
    assert not [name for name in names if name.startswith(("tests", "corpus", "docs"))]


def test_the_installed_command_helps_and_does_the_demo(clean: Path, tmp_path: Path) -> None:
    assert in_clean(clean, "--help", cwd=tmp_path).stdout.startswith("Usage: gutterance")
    assert in_clean(clean, "length", "58-6", cwd=tmp_path).stdout.startswith("58-6")
    demo = in_clean(clean, "demo", "--out", "lists", cwd=tmp_path)
    assert demo.returncode == 3, demo.stderr
    assert list((tmp_path / "lists").iterdir())


def test_the_environment_really_is_without_development_packages(clean: Path, tmp_path: Path) -> None:
    for absent in ("pytest", "hypothesis", "num2words", "mypy"):
        if absent == "num2words" and "num2words" in closure(["quantulum3"]):
            continue  # quantulum3 itself asks for it
        assert run(clean / "python", "-c", f"import {absent}", cwd=tmp_path).returncode == 1, absent
    where = run(clean / "python", "-c", "import gutterance; print(gutterance.__file__)", cwd=tmp_path).stdout
    assert str(clean.parent) in where
