"""Folders to break: copies of the demo jobs."""

import shutil
from pathlib import Path

import pytest

from rackbook.job import FILES, FolderError, load
from rackbook.shipped import shipped


@pytest.fixture
def high(tmp_path: Path) -> Path:
    """Return a copy of the demo job of the current editions."""
    return copy("quartz_saddle", tmp_path)


@pytest.fixture
def coast(tmp_path: Path) -> Path:
    """Return a copy of the demo job of the earlier editions."""
    return copy("heron_quay", tmp_path)


def copy(demo: str, into: Path) -> Path:
    folder = into / demo
    folder.mkdir()
    for name in FILES:
        shutil.copyfile(shipped("data", "jobs", demo, name), folder / name)
    return folder


@pytest.fixture
def broken(high: Path, coast: Path):
    """Return a function that replaces a text in a file of a demo job and returns the problems of loading it."""

    def break_it(name: str, old: str, new: str, demo: str = "high") -> list:
        path = {"high": high, "coast": coast}[demo] / name
        text = path.read_bytes().decode()
        assert old in text, f"{old!r} is not in {name}"
        path.write_bytes(text.replace(old, new, 1).encode("utf-8", "surrogatepass"))
        with pytest.raises(FolderError) as caught:
            load(path.parent)
        assert str(caught.value).splitlines() == [str(problem) for problem in caught.value.problems]
        return list(caught.value.problems)

    return break_it
