"""The frame of a rack of ten bays: all combinations by superposition, against asking the frame library for every one."""

import csv
import functools
import io
import shutil
import tempfile
from pathlib import Path

from .timing import Row, once

BAYS, BAY, ITEMS = 10, 9, 40
#: Combinations the library is asked for, twice; what it takes for all is found from the two.
ASKED = (1, 4)
MISSING = "not available yet"


def ten_bays(demo: Path, into: Path) -> Path:
    """Write a copy of a demo job folder with ten bays and forty pieces of equipment: those of the demo, bay after bay."""
    shutil.copytree(demo, into)
    rack = (demo / "rack.yaml").read_text(encoding="utf-8")
    (into / "rack.yaml").write_text(
        rack.replace("[9 ft, 9 ft, 9 ft]", f"[{', '.join([f'{BAY} ft'] * BAYS)}]"), encoding="utf-8"
    )
    heads, *rows = csv.reader(io.StringIO((demo / "equipment.csv").read_text(encoding="utf-8")))
    x, tag = heads.index("x [ft]"), heads.index("tag")
    out = []
    for n in range(ITEMS):
        turn, k = divmod(n, len(rows))
        row = list(rows[k])
        row[x] = f"{float(row[x]) + turn * 3 * BAY:g}"
        row[tag] += f"-{turn}" if turn else ""
        out.append(row)
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([heads, *out])
    (into / "equipment.csv").write_text(text.getvalue(), encoding="utf-8")
    return into


def superposed() -> list[Row]:
    """Return the cost of the frame of ten bays, and of its combinations against those of the library."""
    what = f"frame of {BAYS} bays, {ITEMS} items"
    try:
        from rackbook import loads
        from rackbook.job import load
        from rackbook.shipped import shipped
        from rackbook.structure.frame import frame
        from rackbook.structure.frame.library import KEPT, library_model
    except ImportError:
        return [Row(what, 0.0, note=MISSING)]
    with tempfile.TemporaryDirectory() as where:
        job = load(ten_bays(shipped("data", "jobs", "heron_quay"), Path(where) / "job"))
    on = loads.acting(job)
    given = on.weights, on.wind, on.seismic, on.snow, on.ice

    def whole():
        made = frame(job, *given)
        for name in made.sets:
            made.actions(name), made.reactions(name), made.clips(name), made.splices(name)
        return made

    def fresh():
        KEPT.clear()
        return whole()

    made = whole()
    took = min(once(whole, 1) for _ in range(5))
    anew = min(once(fresh, 1) for _ in range(5))
    model, combinations = made.analysis.solved.built.model, {n: len(s.labels) for n, s in made.sets.items()}
    size = f"{len(model.xyz)} nodes, {len(model.i)} elements, {sum(combinations.values())} combinations"
    rows = [
        Row(f"{what}: every result of every set", took, goal="< 1 s", note=size),
        Row(f"{what}: the same, its steel new too", anew, goal="< 1 s", note="stiffness matrix assembled anew by PyNiteFEA"),
    ]  # fmt: skip

    def strength():
        of_set = frame(job, *given)
        of_set.actions("strength"), of_set.reactions("strength"), of_set.clips("strength")

    ours = min(once(strength, 1) for _ in range(5))
    count = combinations["strength"]
    few, more = (once(functools.partial(_library, made, library_model, n), 1) for n in ASKED)
    each = (more - few) / (ASKED[1] - ASKED[0])
    against = f"PyNiteFEA linear, each combination by itself; found from {ASKED[0]} and {ASKED[1]} of them"
    rows.append(Row(f"{what}: {count} combinations", ours, few + each * (count - ASKED[0]), against, "5"))
    return rows


def _library(made, library_model, count: int) -> None:
    """Build the same frame in the library; analyze some combinations and read forces at both ends of every member."""
    solved, of = made.analysis.solved, made.sets["strength"]
    asked = {str(k): of.factors[k] for k in range(0, len(of.labels), len(of.labels) // count)[:count]}
    model = library_model(solved, made.cases, asked)
    model.analyze_linear(check_stability=False)
    lengths = solved.built.model.lengths
    for name in asked:
        for e, long in enumerate(lengths):
            for x in (0.0, float(long)):
                _read(model.members[f"m{e}"], name, x)


def _read(member, name: str, x: float) -> tuple[float, ...]:
    return (
        member.axial(x, name), member.shear("Fy", x, name), member.shear("Fz", x, name), member.torque(x, name),
        member.moment("Mz", x, name), member.moment("My", x, name),
    )  # fmt: skip
