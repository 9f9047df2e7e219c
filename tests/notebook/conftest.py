"""A demo job on the desk, in a folder of its own."""

import secrets
import socket
import subprocess
import time
import urllib.request

import pytest

from rackbook.job import new
from rackbook.notebook import open_job
from rackbook.notebook.lab import lab_command


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


class Lab:
    """JupyterLab on a demo job of its own."""

    def __init__(self, folder, address, token):
        self.folder, self.address, self.token = folder, address, token

    def notebook(self, name):
        return f"{self.address}/lab/tree/{name}?token={self.token}&reset"


@pytest.fixture
def lab(tmp_path):
    """JupyterLab as 'rackbook open' starts it, with nobody's settings, until the test ends."""
    folder = new(tmp_path / "job")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    token = secrets.token_hex(12)
    command, environment = lab_command(folder)
    own = {
        name: str(tmp_path / name.lower())
        for name in ("JUPYTER_CONFIG_DIR", "JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR", "JUPYTER_RUNTIME_DIR")
    }
    started = subprocess.Popen(
        [*command, "--no-browser", f"--port={port}", "--port-retries=0", f"--IdentityProvider.token={token}", "--allow-root"],
        env={**environment, **own},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        until = time.monotonic() + 90
        while True:
            try:
                urllib.request.urlopen(f"{address}/api?token={token}", timeout=2).close()
                break
            except OSError:
                if started.poll() is not None or time.monotonic() > until:
                    pytest.fail("JupyterLab did not start.")
                time.sleep(0.3)
        yield Lab(folder, address, token)
    finally:
        started.terminate()
        try:
            started.wait(20)
        except subprocess.TimeoutExpired:
            started.kill()
            started.wait(10)
