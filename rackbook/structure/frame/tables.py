"""Tables of the frame: what governs at every base, and every combination in full as text for a spreadsheet."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

import numpy as np

from rackbook.trace import LookupFailed
from rackbook.trace.errors import nearest

from .result import Frame
from .solve import REACTIONS

#: Components whose extremes are listed for a base, and how an extreme is found.
EXTREMES = {
    "P max": ("P", 1), "P min": ("P", -1), "V_x": ("V_x", 0), "V_y": ("V_y", 0), "M_x": ("M_x", 0), "M_y": ("M_y", 0),
    "T": ("T", 0),
}  # fmt: skip
#: An extreme this near to what a combination listed for the base comes to is listed with that combination.
TIE = 5e-3


@dataclass(frozen=True)
class Extreme:
    """A combination that governs at a base: the base, the components it governs, and the combination."""

    base: int
    what: str
    combination: int


def extremes(frame: Frame, set_name: str) -> tuple[Extreme, ...]:
    """Return the combinations that govern P, shears, moments and torsion at every base; one entry a combination and base.

    A combination listed already governs whatever it comes to within ``TIE`` of.
    """
    r = frame.reactions(set_name)
    found = []
    for base in range(len(frame.bases)):
        by: dict[int, list[str]] = {}
        for words, (component, sense) in EXTREMES.items():
            of = getattr(r, component)[:, base]
            size = np.abs(of) if not sense else sense * of
            least = size.max() - TIE * abs(size.max())
            k = next((k for k in by if size[k] >= least), int(np.argmax(size)))
            by.setdefault(k, []).append(words)
        found += [Extreme(base, ", ".join(words), k) for k, words in by.items()]
    return tuple(found)


def reactions_csv(frame: Frame, set_name: str) -> str:
    """Return the reactions at every base under every combination of a set, as comma-separated text (kip, kip in.).

    Raises:
        LookupFailed: There is no such set; those that exist are named.

    """
    if set_name not in frame.sets:
        sets = ", ".join(frame.sets)
        raise LookupFailed(
            f"There is no set of combinations '{set_name:.60}'.{nearest(set_name[:60], frame.sets)} Sets: {sets}."
        )
    r, of = frame.reactions(set_name), frame.sets[set_name]
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\n")
    units = {"P": "kip", "V_x": "kip", "V_y": "kip", "M_x": "kip in", "M_y": "kip in", "T": "kip in"}
    write.writerow(["base", "combination", *(f"{c} [{units[c]}]" for c in REACTIONS)])
    columns = [getattr(r, c) for c in REACTIONS]
    for base, label in enumerate(b.label for b in frame.bases):
        for k, combination in enumerate(of.labels):
            write.writerow([label, combination, *(f"{c[k, base]:.4f}" for c in columns)])
    return out.getvalue()
