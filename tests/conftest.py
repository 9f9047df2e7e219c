"""What several test folders need."""

import os
import shutil
import sys

import pytest

CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
#: What the line setter sets while it works; a test that draws its own examples must not see it change.
sys.setrecursionlimit(3000)
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync", "--disable-quic"]


@pytest.fixture(scope="session")
def browser():
    """A browser without a window; skipped where there is none, but never in continuous integration."""
    if not os.path.exists(CHROMIUM):
        missing = "No Chromium on this machine: what a browser shows is not tested here."
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield started
        started.close()
