"""Begin a job: a new folder copied from a demo job, with the notebooks beside it."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from rackbook.shipped import shipped
from rackbook.trace import InputError
from rackbook.trace.errors import nearest

from .folder import FILES, RACK
from .text import shown


def demos() -> list[str]:
    """Return the names of the demo jobs."""
    return sorted(path.parent.name for path in shipped("data", "jobs").glob(f"*/{RACK}"))


def new(folder: str | Path, from_demo: str = "quartz_saddle") -> Path:
    """Make a job folder from a demo job and return its path; it appears complete or not at all.

    Raises:
        InputError: There is no such demo job, the folder exists and is not empty, or it cannot be written.

    """
    target = Path(folder)
    if from_demo not in demos():
        near = nearest(from_demo[:60], demos())
        raise InputError(
            f"there is no demo job {shown(from_demo)}.{near} Demo jobs: {', '.join(demos())}.", file=str(target.name)
        )
    files = [shipped("data", "jobs", from_demo, name) for name in FILES]
    files += sorted(shipped("notebooks").glob("*.ipynb"))
    try:
        if target.exists() and (not target.is_dir() or any(target.iterdir())):
            raise InputError(f"{shown(target, 200)} exists and is not empty. Name a new folder.", file=target.name)
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".new-", dir=target.parent) as temporary:
            made = Path(temporary) / "job"
            made.mkdir()
            for file in files:
                shutil.copyfile(file, made / file.name)
            made.replace(target)  # over an empty folder too
    except (OSError, ValueError) as e:
        if isinstance(e, InputError):
            raise
        why = getattr(e, "strerror", None) or "not a path"
        raise InputError(f"the folder {shown(target, 200)} cannot be made ({why}). Name another.", file=target.name) from e
    return target
