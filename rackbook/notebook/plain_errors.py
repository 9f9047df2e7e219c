"""An error of the book in a notebook is one plain message, not a traceback."""

from __future__ import annotations

from types import TracebackType
from typing import Any

from IPython.core.getipython import get_ipython

from rackbook.trace import RackbookError

#: Problems of a folder shown at once; the rest is counted.
MOST = 8


def speak_plainly() -> None:
    """Have this kernel show errors of the book as their message; the cell still counts as failed."""
    shell: Any = get_ipython()
    if shell is not None:
        shell.set_custom_exc((RackbookError,), _say)


def _say(shell: Any, kind: type, error: BaseException, trace: TracebackType, tb_offset: int | None = None) -> list[str]:
    lines = str(error).splitlines() or [kind.__name__]
    if len(lines) > MOST:
        lines = [*lines[:MOST], f"... and {len(lines) - MOST} more"]
    shell._showtraceback(kind, error, lines)  # the kernel's own way out, so that 'run all' and a print stop here
    return lines
