"""Notebooks run from top to bottom, each in a kernel of its own."""

from __future__ import annotations

import asyncio
import atexit
import contextlib
import os
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError, CellTimeoutError, DeadKernelError
from nbformat import NotebookNode
from traitlets.config import Config

from rackbook.trace import SheetError

KERNEL_TIMEOUT = 600
_TRY = "Run it in JupyterLab to see where it stops."


def run_notebooks(paths: list[Path]) -> list[NotebookNode]:
    """Return notebooks as they are after a run, side by side, each in the folder it stands in; the files stay as they are.

    The loop they run in is their own: it works in a notebook too.

    Raises:
        SheetError: A cell failed; its notebook, number and last message are named. Or a kernel did not start or finish.
    """

    async def together() -> list[NotebookNode]:
        return await asyncio.gather(*(_run(path) for path in paths))

    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(asyncio.run, together()).result()


async def _run(path: Path) -> NotebookNode:
    notebook = nbformat.read(path, as_version=4)
    with client(notebook, path.parent) as runs:
        try:
            return await runs.async_execute()
        except CellExecutionError as e:
            number = next(
                (n for n, c in enumerate(notebook.cells, 1) if any(o.output_type == "error" for o in c.get("outputs", ()))), 0
            )
            raise SheetError(f"{path.name}, cell {number}: {e.ename}: {e.evalue}") from None
        except (CellTimeoutError, DeadKernelError) as e:
            raise SheetError(f"{path.name}: the notebook did not finish ({type(e).__name__}). {_TRY}") from None
        except RuntimeError as e:
            atexit.unregister(runs._cleanup_kernel)  # it would stumble, at the very end, over the kernel that never was
            raise SheetError(f"{path.name}: the notebook did not start ({e}). {_TRY}") from None


@contextlib.contextmanager
def client(notebook: NotebookNode, folder: Path) -> Iterator[NotebookClient]:
    """Yield what runs a notebook in a folder.

    Its kernel talks through files of its own where the system has them: a port that was free may be another's
    when the kernel comes to take it.
    """
    with tempfile.TemporaryDirectory(prefix="rackbook") as sockets:
        own = {"transport": "ipc", "connection_file": str(Path(sockets) / "kernel.json")} if os.name == "posix" else {}
        yield NotebookClient(
            notebook,
            timeout=KERNEL_TIMEOUT,
            kernel_name="python3",
            resources={"metadata": {"path": str(folder)}},
            extra_arguments=["--IPKernelApp.log_level=ERROR"],  # the kernel's own remarks are not for the engineer
            config=Config({"KernelManager": own}),
        )
