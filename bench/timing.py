"""Timing two ways of doing the same thing, turn by turn, so that a busy machine slows both."""

import gc
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """One line of the table: what, the book's seconds, the other way's seconds, and what they are to each other."""

    what: str
    ours: float
    other: float | None = None
    against: str = ""
    goal: str = ""
    note: str = ""

    @property
    def ratio(self) -> float | None:
        """How many times the book's time the other way takes."""
        return self.other / self.ours if self.other is not None and self.ours else None


def once(work: Callable[[], object], times: int) -> float:
    """Return the seconds one call takes, over ``times`` calls."""
    start = time.perf_counter()
    for _ in range(times):
        work()
    return (time.perf_counter() - start) / times


def side_by_side(ours: Callable, other: Callable, times: tuple[int, int] = (1, 1), rounds: int = 9) -> tuple[float, float]:
    """Return the least seconds a call of each takes, measured in turns."""
    ours(), other()
    found: tuple[list[float], list[float]] = ([], [])
    gc.collect()
    for _ in range(rounds):
        found[0].append(once(ours, times[0]))
        found[1].append(once(other, times[1]))
    return min(found[0]), min(found[1])


def seconds(x: float) -> str:
    """Return a duration as text."""
    for scale, unit in ((1.0, "s"), (1e-3, "ms"), (1e-6, "µs")):
        if x >= scale:
            return f"{x / scale:.3g} {unit}"
    return f"{x * 1e9:.3g} ns"


def table(rows: list[Row]) -> str:
    """Return the rows as text in columns."""
    heads = ("measured", "book", "other way", "other / book", "goal", "other way is")
    lines = [heads]
    for r in rows:
        ratio = f"{r.ratio:,.2f}" if r.ratio is not None else r.note
        times = [seconds(t) if t else "–" for t in (r.ours, r.other)]
        lines.append((r.what, *times, ratio, r.goal, r.against))
    widths = [max(len(line[n]) for line in lines) for n in range(len(heads))]
    out = ["  ".join(cell.ljust(w) for cell, w in zip(line, widths, strict=True)).rstrip() for line in lines]
    out.insert(1, "  ".join("-" * w for w in widths))
    return "\n".join(out)
