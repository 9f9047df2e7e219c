"""The frame in the open frame library PyNiteFEA: its stiffness matrix, and with loads the whole of it for checks."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from .stiffness import Model

if TYPE_CHECKING:
    from .solve import Solved

#: Axes of the library in those of the rack: it has Y up, and Z = -y keeps moments' signs.
TURN = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])
_NAMES = ("X", "Y", "Z")
_RELEASES = tuple(f"{kind}{axis}{end}" for end in "ij" for kind in "DR" for axis in "xyz")


#: Stiffness matrices of the frames asked for last: another load on the same steel needs no new one.
KEPT: OrderedDict[tuple, Any] = OrderedDict()
KEEP = 4


def library_stiffness(model: Model) -> Any:
    """Return the elastic stiffness matrix of all nodes (6 n, 6 n) as the library assembles it, in the axes of the rack.

    Args:
        model: Nodes, elements with their releases, sections.

    """
    from Pynite.Analysis import _prepare_model  # numbers nodes and members; Ke alone does not
    from scipy.sparse import block_diag

    arrays = (model.xyz, model.i, model.j, model.depth, model.section, model.sections, model.released, model.held)
    key = (model.E, model.G, *(a.tobytes() for a in arrays))
    if key in KEPT:
        KEPT.move_to_end(key)
        return KEPT[key]
    of = library_frame(model)
    _prepare_model(of)
    stiff = of.Ke(next(iter(of.load_combos)), check_stability=False).tocsc()
    turn = block_diag([TURN] * (2 * len(model.xyz)), format="csc")
    KEPT[key] = made = (turn.T @ stiff @ turn).tocsc()
    if len(KEPT) > KEEP:
        KEPT.popitem(last=False)
    return made


def library_model(solved: Solved, cases: tuple[str, ...], combinations: Mapping[str, np.ndarray]) -> Any:
    """Return the frame and its loads as a model of the library, ready to be analyzed.

    Args:
        solved: The frame with its loads.
        cases: Names of the load cases.
        combinations: Factors on the cases by the combination's name.

    """
    model = library_frame(solved.built.model)
    _loads(model, solved, cases)
    for combination, factors in combinations.items():
        model.add_load_combo(combination, {case: float(f) for case, f in zip(cases, factors, strict=True) if f})
    return model


def library_frame(of: Model) -> Any:
    """Return nodes, members and supports as a model of the library, without loads."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("steel", of.E, of.G, of.E / (2 * of.G) - 1, 0.0)
    for n, (A, I_x, I_y, J) in enumerate(of.sections):
        model.add_section(f"section {n}", A, I_y, I_x, J)
    for n, (at, held) in enumerate(zip(of.xyz @ TURN.T, of.held, strict=True)):
        model.add_node(f"n{n}", *at)
        if held.any():
            # a turn about y is one about -Z, so supports only change places
            x, y, z, about_x, about_y, about_z = map(bool, held)
            model.def_support(f"n{n}", x, z, y, about_x, about_z, about_y)
    depth = of.axes[:, 1] @ TURN.T
    for e, (i, j) in enumerate(zip(of.i, of.j, strict=True)):
        name = f"m{e}"
        model.add_member(name, f"n{i}", f"n{j}", "steel", f"section {of.section[e]}")
        plain = model.members[name].T()[:3, :3]
        turn = float(np.degrees(np.arctan2(depth[e] @ plain[2], depth[e] @ plain[1])))
        model.members[name].rotation = turn if abs(turn) > 1e-9 else 0.0
        if of.released[e].any():
            model.def_releases(name, **dict(zip(_RELEASES, map(bool, of.released[e]), strict=True)))
    return model


def _loads(model: Any, solved: Solved, cases: tuple[str, ...]) -> None:
    at_nodes = solved.loads.nodes.reshape(-1, 2, 3, len(cases))
    at_nodes = np.einsum("kl,nalc->nakc", TURN, at_nodes)
    for n, a, k, c in zip(*np.nonzero(at_nodes), strict=True):
        model.add_node_load(f"n{n}", f"{'FM'[a]}{_NAMES[k]}", float(at_nodes[n, a, k, c]), cases[c])
    along, slope = (np.einsum("kl,elc->ekc", TURN, of) for of in (solved.loads.uniform, solved.loads.slope))
    half = slope * solved.built.model.lengths[:, None, None] / 2
    for e, k, c in zip(*np.nonzero((along != 0) | (slope != 0)), strict=True):
        w, more = float(along[e, k, c]), float(half[e, k, c])
        model.add_member_dist_load(f"m{e}", f"F{_NAMES[k]}", w - more, w + more, case=cases[c])


def library_displacements(model: Any, combination: str) -> np.ndarray:
    """Return displacements and turns of all nodes in the axes of the rack, (n, 6)."""
    found = np.array([
        [getattr(node, name)[combination] for name in ("DX", "DY", "DZ", "RX", "RY", "RZ")] for node in model.nodes.values()
    ])  # fmt: skip
    return np.concatenate([found[:, :3] @ TURN, found[:, 3:] @ TURN], axis=1)


def library_reactions(model: Any, bases: np.ndarray, combination: str) -> np.ndarray:
    """Return what the frame exerts on the foundation at every base, P, V_x, V_y, M_x, M_y, T, (6, bases)."""
    names = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    found = np.array([[getattr(model.nodes[f"n{n}"], name)[combination] for name in names] for n in bases])
    force, moment = -found[:, :3] @ TURN, -found[:, 3:] @ TURN
    return np.stack([-force[:, 2], force[:, 0], force[:, 1], moment[:, 0], moment[:, 1], moment[:, 2]])


def difference(solved: Solved, cases: tuple[str, ...], factors: np.ndarray) -> float:
    """Return the largest difference between own and library's displacements and reactions, of the largest of each.

    Args:
        solved: The frame with its unit cases.
        cases: Names of the unit cases.
        factors: Factors of the combination that is asked.

    """
    model = library_model(solved, cases, {"asked": factors})
    model.analyze_linear(check_stability=False)
    own = (solved.displacements @ factors).reshape(-1, 6), solved.reactions @ factors
    theirs = library_displacements(model, "asked"), library_reactions(model, solved.built.bases, "asked")
    return max(float(np.abs(a - b).max() / np.abs(a).max()) for a, b in zip(own, theirs, strict=True))
