"""A frame that is nothing but its reactions, so that what stands under it can be worked by hand."""

from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import settings

from rackbook.trace import Source, given
from rackbook.trace.columns import column

settings.register_profile("untimed", deadline=None)  # the machine may be busy; nothing here is about time
settings.load_profile("untimed")

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


def of(number, unit, symbol=""):
    """Return a number as an input worked by hand."""
    return given(number, unit, HAND, symbol)


def soil(**more):
    """Return soil of class 4, no frost; or what is asked for."""
    base = {
        "class_": "4", "report": None, "frost": of(0, "in", "d_f"), "discount": of(0, "ft", "d_0"), "doubled": False,
        "constrained": False, "unit_weight": None, "water": of(60, "ft", "z_w"), "group": of(1, "", "k_g"), "restraint": False,
    }  # fmt: skip
    return Plain(**{**base, **more})


def standing(bays=(8.0,), earth=None, **more):
    """Return a job as far as its foundations see it: 2 ft round piers, 8 ft deep and 6 in. high, 8 #6 in 4000 psi."""
    piers = {
        "diameter": of(2, "ft", "b"), "embedment": of(8, "ft", "d"), "projection": of(6, "in", "e"), "shape": "round",
        "concrete": of(4000, "psi", "f_c_prime"), "bars": Plain(count=8, size="#6"),
        "ties": Plain(size="#3", spacing=of(10, "in", "s_t"), top=None), "cover": of(3, "in", "c_c"), "footing": None,
        "exposure": Plain(freezing="F0", sulfate="S0", water="W0", corrosion="C1"),
    }  # fmt: skip
    return Plain(
        frame=Plain(bays=tuple(of(b, "ft", "L_bay") for b in bays), depth=of(0, "ft", "d")),
        anchors=None,
        piers=Plain(**{**piers, **more}),
        site=Plain(soil=earth),
    )


@pytest.fixture(scope="session")
def foundation():
    """The builder of such jobs, with ``foundation.soil`` and ``foundation.of``."""
    standing.soil, standing.of = soil, of
    return standing
