"""A frame that is nothing but its reactions, so that what stands under it can be worked by hand."""

from types import SimpleNamespace as Plain

import numpy as np
import pytest

from rackbook.trace import Source, given
from rackbook.trace.columns import column

HAND = Source("input", "rack.yaml", locator="worked by hand")
COMPONENTS = ("P", "V_x", "V_y", "M_x", "M_y", "T")
UNITS = dict.fromkeys(COMPONENTS[:3], "kip") | dict.fromkeys(COMPONENTS[3:], "kip*in")


class Sets:
    """Combinations of one set: ``(label, kind, factor of D, {component: number or numbers by base})`` each."""

    def __init__(self, name, rows, bases):
        self.name, self.rows = name, rows
        self.labels = tuple(row[0] for row in rows)
        self.kinds = tuple(row[1] for row in rows)
        self.cases = ("D",)
        self.factors = np.array([[row[2]] for row in rows], float)
        self.reactions = Plain(
            **{c: np.array([np.broadcast_to(row[3].get(c, 0.0), bases) for row in rows], float) for c in COMPONENTS}
        )

    def value(self, k):
        return column("c", {"D": given(self.factors[k, 0], "", Source("clause", self.labels[k]), "c_D")}, "")


class Reacting:
    """A frame of ``bases`` posts 8 ft apart and the reactions of its sets."""

    def __init__(self, bases=2, **sets):
        self.bases = tuple(
            Plain(label=f"post {n + 1}", x=given(8.0 * n, "ft", HAND, "x"), y=given(0.0, "in", HAND, "y")) for n in range(bases)
        )
        self.sets = {name: Sets(name, rows, bases) for name, rows in sets.items()}

    def reactions(self, name):
        return self.sets[name].reactions

    def reaction(self, name, component, base, combination):
        number = getattr(self.sets[name].reactions, component)[combination, base]
        return given(float(number), UNITS[component], Source("derivation", f"reaction, {name} {combination}"), component)


@pytest.fixture(scope="session")
def reacting():
    """The builder of such frames."""
    return Reacting
