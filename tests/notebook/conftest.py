"""A demo job on the desk, in a folder of its own."""

import pytest

from rackbook.job import new
from rackbook.notebook import open_job


class Site:
    """A job folder and the workbook opened on it."""

    def __init__(self, folder):
        self.folder = folder
        self.workbook = open_job(folder)

    def text(self, name="rack.yaml"):
        return (self.folder / name).read_text(encoding="utf-8")

    def edit(self, old, new, name="rack.yaml"):
        """Change a file as a text editor or a spreadsheet would."""
        text = self.text(name)
        assert old in text
        (self.folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.fixture(params=["quartz_saddle"])
def site(request, tmp_path):
    return Site(new(tmp_path / "job", request.param))


@pytest.fixture
def coast(tmp_path):
    return Site(new(tmp_path / "coast", "heron_quay"))
