"""How JupyterLab is started on a job: on this machine alone, asking nothing of the network and nothing of the engineer."""

from __future__ import annotations

import os
import sys
from pathlib import Path

#: Defaults of settings; what the engineer has set stands above them.
_SETTINGS = Path(__file__).with_name("jupyter")


def lab_command(folder: str | Path, notebook: str = "") -> tuple[list[str], dict[str, str]]:
    """Return the command that opens a job folder in JupyterLab, and the environment to run it in."""
    folder = Path(folder).resolve()
    command = [
        sys.executable,
        "-m",
        "jupyterlab",
        *([str(folder / notebook)] if notebook else []),
        f"--notebook-dir={folder}",
        "--ip=127.0.0.1",
        "--LabApp.news_url=None",
        "--LabApp.extension_manager=readonly",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    ]
    paths = [str(_SETTINGS), *filter(None, [os.environ.get("JUPYTER_CONFIG_PATH")])]
    return command, {**os.environ, "JUPYTER_CONFIG_PATH": os.pathsep.join(paths)}
