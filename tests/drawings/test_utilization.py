"""Utilization: a ratio on every member, a line as thick as the ratio, stripes beyond the strength."""

import re

import pytest
from racks import FRAMES, legible, scale_of, solved

from rackbook.drawings.utilization import CLASSES, utilization


@pytest.mark.parametrize(("name", "demo"), [*((n, "quartz_saddle") for n in FRAMES), ("", "heron_quay")])
def test_every_frame_is_legible_and_every_member_has_its_weight(name, demo):
    of = solved(name, demo)
    seen = legible(utilization(of.frame, of.members))
    assert scale_of(seen) > 0
    for mark, m in of.members.by_mark.items():
        if m.part == "tie":  # seen on end
            continue
        ratio = float(m.utilization.magnitude)
        width = float(re.search(r"stroke-width: ([\d.]+)", seen.style(mark)).group(1))
        expected = (
            CLASSES[3][1] if ratio > 1 else CLASSES[2][1] if ratio >= 0.9 else CLASSES[1][1] if ratio >= 0.5 else CLASSES[0][1]
        )
        assert width == pytest.approx(expected)


@pytest.mark.parametrize("demo", ["quartz_saddle", "heron_quay"])
def test_every_member_has_its_ratio(demo):
    of = solved(demo=demo)
    seen = legible(utilization(of.frame, of.members))
    ratios = sorted(f"{float(v.magnitude):.2f}" for v in of.members.utilization.values())
    assert sorted(w for w in seen.words if re.fullmatch(r"\d+\.\d\d", w)) == ratios
    for m in of.members.governing.values():
        assert f"{m.part} {m.utilization.text()} ({m.mark}, {m.governs.kind})" in seen.said.replace("\n", " ")


def test_what_has_no_room_is_counted():
    of = solved("ten bays")
    seen = legible(utilization(of.frame, of.members))
    written = sum(bool(re.fullmatch(r"\d+\.\d\d", w)) for w in seen.words)
    left = re.search(r"(\d+) smaller ratios are not written", seen.said)
    assert written + (int(left.group(1)) if left else 0) == len(of.frame.members)
    assert written > len(of.frame.members) / 2


def test_ties_are_told_in_words():
    of = solved("double row")
    worst = max(m.utilization.magnitude for m in of.members.by_mark.values() if m.part == "tie")
    assert f"ties: at most {worst:.2f}" in legible(utilization(of.frame, of.members)).said
