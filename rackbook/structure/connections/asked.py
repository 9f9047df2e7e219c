"""What a job gives of its connections: bolts, clip, splice, weld at the foot, each as the detail that is checked."""

from __future__ import annotations

from typing import Any

from rackbook.tables import table
from rackbook.trace import InputError, Source, Value, given

from .adopted import words_of
from .bolts import Bolt, bolt
from .clips import Clip
from .feet import Foot
from .groups import whole
from .rail_welds import RailWeld
from .sections import PLATE_SAID, Post, Rail, plate_steel
from .splices import Splice
from .welds import filler

#: Rows of the table of seismic systems whose posts are cantilever columns.
CANTILEVER = "cantilever_column"
INSTALLED = {
    "snug": "Bolts are snug-tight: bearing-type connections in standard holes, no slip resistance is counted.",
    "pretensioned": "Bolts are pretensioned to Table J3.1, in standard holes; the connections are bearing-type, no slip "
    "resistance is counted.",
    "slip-critical": "Bolts are slip-critical: pretensioned to Table J3.1, class A faying surfaces (clean mill scale or "
    "hot-dip galvanized, mu = 0.30), standard holes. They are checked for slip and, as slip may come, in bearing too.",
}
HOT_DIP = "Bolts of Group 150 (A490) are not to be hot-dip galvanized; use Group 120 (A325) with a galvanized frame."
MOMENT_ENDS = (
    "The frame takes the rails as fixed to the posts, so they are welded to them. Bolts do not share the load "
    "of a weld (AISC 360, J1.8), so a clip of the job is not counted."
)
TRIAL = given(0.25, "in", Source("assumption", "leg of a trial weld, of which the leg needed is found"), "w")
THROUGH = "Bolts into tubular rails are counted on the wall at the clip alone; they need to be reached, or to go through."
OVERSTRENGTH = (
    "The posts are cantilever columns: their bases are checked for the combinations with overstrength (ASCE/SEI 7, 12.2.5.2)."
)


def asked_bolt(job: Any) -> Bolt | None:
    """Return the bolts of a job; None where it gives none.

    Raises:
        InputError: Common bolts are asked to be pretensioned, or the tables have no bolts of that diameter.
        LookupFailed: The tables have no such grade.

    """
    if job.connections is None:
        return None
    asked = job.connections.bolt
    if not table("bolts").has(round(asked.diameter.m_as("in"), 6)):
        made = ", ".join(str(row["diameter"]) for row in table("bolts").rows)
        raise InputError(
            f"{asked.diameter.text()} is no diameter of the book's bolts (AISC 360, Table J3.1): "
            f"{asked.diameter.source.locator}. Write one of: {made} in."
        )
    found = bolt(asked.diameter, str(asked.grade))
    if found.T_b is None and str(asked.installation) != "snug":
        _refuse(
            asked.installation,
            f"bolts of {found.grade} are not pretensioned, but '{asked.installation}' is asked (AISC 360, J3.1 and J3.2). "
            "Write installation: snug, or use a bolt of Group 120 (A325) or 150 (A490).",
        )
    return found


def _refuse(at: Any, text: str) -> None:
    place = getattr(at, "place", None)
    raise place.problem(text) if place is not None else InputError(text)


def slip_critical(job: Any) -> bool:
    """Say whether a job's bolts are slip-critical."""
    return job.connections is not None and str(job.connections.bolt.installation) == "slip-critical"


def asked_clip(job: Any, b: Bolt | None, rail: Rail, post: Post, method: str) -> Clip | None:
    """Return the clip of a job; None where it gives none."""
    if b is None or job.connections.clip is None:
        return None
    c = job.connections.clip
    F_y, F_u = plate_steel()
    n = whole(c.bolts, "rack.yaml, connections.clip.bolts", "n")
    return Clip(
        b, n, c.spacing, c.edge, c.thickness, c.weld, c.length, c.edge.named("a"), F_y, F_u,
        filler(str(job.connections.electrode)), rail, post.wall, slip_critical(job), method,
    )  # fmt: skip


def asked_splice(job: Any, b: Bolt | None, rail: Rail, method: str) -> Splice | None:
    """Return the splice of a job; None where it gives none.

    Raises:
        InputError: The bolts do not make equal rows, or the gage of several rows is missing.

    """
    if b is None or job.connections.splice is None:
        return None
    c = job.connections.splice
    if c.bolts % c.rows:
        raise InputError(
            f"{c.bolts} bolts on each side of a splice do not make {c.rows} equal rows (connections.splice). Write a number of "
            "bolts that the rows divide."
        )
    if c.rows > 1 and c.gage is None:
        raise InputError("A splice with several rows needs the gage between them. Write connections.splice.gage.")
    F_y, F_u = plate_steel()
    n_x = whole(c.bolts // c.rows, "rack.yaml, connections.splice: bolts over rows", "n_x")
    n_z = whole(c.rows, "rack.yaml, connections.splice.rows", "n_z")
    gage = c.gage if c.gage is not None else _no_gage()
    return Splice(b, n_x, n_z, c.spacing, gage, c.edge, c.thickness, F_y, F_u, rail, slip_critical(job), method)


def _no_gage() -> Value:
    return given(0.0, "in", Source("derivation", "one row"), "g")


def asked_rail_weld(job: Any, rail: Rail, post: Post, method: str) -> RailWeld | None:
    """Return the weld of a job's rails to its posts; None where the posts have no flat face for it.

    Where the job gives no leg (connections.rail_weld) it is one of 1/4 in., of which the leg needed is found.
    """
    if post.face is None:
        return None
    leg = job.connections.rail_weld if job.connections is not None else None
    filler_metal = filler(str(job.connections.electrode) if job.connections is not None else "E70")
    return RailWeld(leg or TRIAL, filler_metal, rail.d, rail.t_b, rail.t_toe or rail.t_b, rail.F_y, rail.F_u, post.face, method)


def asked_foot(job: Any, post: Post, method: str) -> Foot | None:
    """Return the weld at the foot of a job's posts; None where it gives no base plate or no weld."""
    plate = job.frame.base_plate
    if plate is None or job.connections is None or job.connections.base_weld is None:
        return None
    _, F_up = plate_steel()
    return Foot(
        post.foot, job.connections.base_weld, filler(str(job.connections.electrode)), post.t_foot, post.F_u, plate.thickness,
        F_up, post.family == "hss", method,
    )  # fmt: skip


def cantilever(job: Any) -> bool:
    """Say whether the posts are cantilever columns by the job's seismic system."""
    return CANTILEVER in str(job.site.seismic.system)


def notes(job: Any, rail: Rail) -> tuple[str, ...]:
    """Return what is assumed of the connections of a job, in words."""
    said = []
    if job.connections is not None:
        said += [PLATE_SAID, INSTALLED[str(job.connections.bolt.installation)]]
        if job.frame.galvanizing is not None and str(job.connections.bolt.grade).startswith("Group 150"):
            said.append(HOT_DIP)
    if str(job.frame.rail_ends) == "moment":
        said.append(MOMENT_ENDS)
    if rail.family == "hss":
        said.append(THROUGH)
    if cantilever(job):
        said.append(OVERSTRENGTH)
    return tuple(words_of(words, str(getattr(job.codes, "steel", ""))) for words in said)
