"""What travels: the environment file, the lock files, the wheel."""

import re
import subprocess
import sys
import tomllib
import venv
import zipfile
from pathlib import Path

import pytest
from ruamel.yaml import YAML

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]


def test_environment_lists_the_same_dependencies():
    pip = YAML(typ="safe").load((ROOT / "environment.yml").read_text())["dependencies"][-1]["pip"]
    assert sorted(d for d in pip if d != "-e .") == sorted(PROJECT["dependencies"])


def plain_name(requirement):
    return re.sub(r"[-_.]+", "-", re.split(r"[<>=\[;]", requirement)[0].strip().lower())


@pytest.mark.parametrize("name", ["requirements.lock", "requirements-dev.lock"])
def test_locks_pin_every_dependency_and_name_no_host(name):
    lines = [line for line in (ROOT / name).read_text().splitlines() if line and not line.startswith("#")]
    assert not [line for line in lines if re.search(r"://|file:|^-", line)]
    pinned = {plain_name(line) for line in lines if "==" in line}
    wanted = PROJECT["dependencies"] + (PROJECT["optional-dependencies"]["dev"] if "dev" in name else [])
    assert {plain_name(d) for d in wanted} <= pinned


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    out = tmp_path_factory.mktemp("dist")
    done = subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", out, ROOT], capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return next(out.glob("*.whl"))


def test_wheel_carries_data_and_notebooks(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("data/tables", "data/cases", "data/jobs", "notebooks"):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and path.suffix in (".csv", ".yaml", ".ipynb"):
                assert f"rackbook/_shipped/{path.relative_to(ROOT).as_posix()}" in names


def test_installed_elsewhere_it_binds(wheel, tmp_path):
    """The wheel, unpacked away from the checkout beside the same libraries, starts a job and binds it."""
    home = tmp_path / "elsewhere"
    venv.create(home, with_pip=False, symlinks=True)
    python = home / "bin" / "python"
    ask = "import sysconfig; print(sysconfig.get_path('purelib'))"
    site = Path(subprocess.check_output([python, "-c", ask], text=True).strip())
    zipfile.ZipFile(wheel).extractall(site)
    libraries = next(p for p in sys.path if p.endswith("site-packages"))
    (site / "libraries.pth").write_text(libraries + "\n")
    run = [python, "-m", "rackbook.cli"]
    where = subprocess.check_output([python, "-c", "import rackbook; print(rackbook.__file__)"], text=True, cwd=tmp_path)
    assert str(home) in where
    subprocess.run([*run, "new", "job"], cwd=tmp_path, check=True, capture_output=True)
    # the notebooks' kernels run the same interpreter
    done = subprocess.run([*run, "bind", "job", "--out", "print"], cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert next((tmp_path / "print").glob("*.pdf")).read_bytes().startswith(b"%PDF")
