"""What must hold between the fields of rack.yaml: rails hang on posts, braces end on steel, anchors stand in the concrete."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from rackbook.trace import InputError, Value

from . import catalog
from .catalog import listed
from .fields import number
from .rack import RackFile
from .steelwork import Lug
from .yamlfile import Mapping

#: How near a brace's end must lie to a post line or a rail, and how well its length must fit its ends [ft].
NEAR = 1 / 12


def rack_problems(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    """Yield what is wrong between the fields of rack.yaml."""
    yield from _ground_motion(rack, tree)
    yield from _names(rack, tree)
    yield from _frame(rack, tree["frame"])
    yield from _braces(rack, tree["frame"])
    yield from _soil(rack, tree["site"])
    yield from _foundation(rack, tree)
    yield from _lifting(rack, tree)


def _ground_motion(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    seismic, keys = rack.site.seismic, tree["site"]["seismic"].keys_at
    here = tree["site"].keys_at["seismic"]
    if seismic.mapped and seismic.spectral:
        yield keys["mapped"].problem("both 'mapped' and 'spectral' are given. Keep exactly one of them.")
    elif seismic.mapped and rack.codes.loads == "ASCE/SEI 7-22":
        yield keys["mapped"].problem(
            "mapped accelerations and site coefficients belong to ASCE/SEI 7-16; under ASCE/SEI 7-22 S_DS and S_D1 come from"
            " the multi-period spectra of the hazard service. Write 'spectral: {S_DS: , S_D1: , S_1: }' for the site."
        )
    elif not seismic.mapped and not seismic.spectral:
        yield here.problem(
            "neither 'mapped' nor 'spectral' is given. Write exactly one: spectral, or mapped with ASCE/SEI 7-16."
        )
    if seismic.stiffness and not (seismic.stiffness.along or seismic.stiffness.across):
        yield keys["stiffness"].problem("no stiffness is given. Write along, across or both, or leave 'stiffness' out.")


def _names(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    frame, edition = rack.frame, rack.codes.loads.removeprefix("ASCE/SEI ")
    yield from listed(frame.post, catalog.shapes("post"), "a post shape")
    yield from listed(frame.rail, catalog.shapes("rail"), "a rail shape")
    for brace in frame.braces:
        yield from listed(brace.shape, catalog.shapes("brace"), "a brace shape")
    for tie in frame.ties:
        yield from listed(tie.shape, catalog.shapes("rail"), "a tie shape")
    for name in ("post", "rail", "brace") if frame.materials else ():
        yield from listed(getattr(frame.materials, name), catalog.names("materials", "material"), "a material")
    if rack.connections is not None:
        bolt = rack.connections.bolt
        yield from listed(bolt.grade, catalog.names("bolt_stress", "fastener"), "a bolt grade")
        made = catalog.names("bolts", "diameter")
        if all(abs(number(size) - bolt.diameter.m_as("in")) > 1e-6 for size in made):
            at = tree["connections"]["bolt"]["diameter"].place
            yield at.problem(f"no bolt of {bolt.diameter.text()} is in the table. Allowed: {', '.join(made)} in.")
    yield from listed(
        rack.site.seismic.system, catalog.names("seismic_systems", "system", edition), f"a seismic system of {edition}"
    )


def _frame(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    frame, top, foot = rack.frame, rack.frame.height, _foot(rack)
    double, tied = frame.depth.magnitude > 0, {round(tie.height.m_as("ft"), 3) for tie in frame.ties}
    for rail, node in zip(frame.rails, tree["rails"], strict=True):
        at, height = node["height"].place, rail.height.m_as("ft")
        if height > top.m_as("ft") + 1e-9:
            yield at.problem(
                f"the rail at {node['height']} lies above the posts, which end at {top.text()}. Lower it or raise frame.height."
            )
        if height < foot - 1e-9:
            yield at.problem(
                f"the rail at {node['height']} has no post beside it: the posts start at {foot:.2f} ft, on pier and base plate."
                " Raise it, or lower piers.projection."
            )
        if rail.face == "center" and double and round(height, 3) not in tied:
            yield node["face"].place.problem(
                "a rail between two rows of posts has no post to hang on. Put it on the front or the back, or give a tie at"
                f" its height (frame.ties: [{{shape: , height: {node['height']}}}])."
            )
    for tie, node in zip(frame.ties, tree.get("ties", ()), strict=True):
        if not double:
            yield node["shape"].place.problem("a tie joins two rows of posts, but frame.depth is 0: one row. Leave it out.")
        elif not foot <= tie.height.m_as("ft") <= top.m_as("ft"):
            yield node["height"].place.problem(f"the tie lies off the posts, which go from {foot:.2f} ft to {top.text()}.")
    length = _length(rack)
    for x, node in zip(frame.splices, tree.get("splices", ()), strict=True):
        if x.m_as("ft") >= length - 1e-9:
            yield node.place.problem(
                f"the splice at {node} lies beyond the rack, which is {length:g} ft long. Put it between its outer posts."
            )
    for (before, _), (after, node) in itertools.pairwise(zip(frame.splices, tree.get("splices", ()), strict=True)):
        if after.m_as("ft") <= before.m_as("ft"):
            yield node.place.problem("the splices do not go from left to right. Write each once, in that order.")


def _braces(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    frame = rack.frame
    rails = {rail.height.m_as("ft") for rail in frame.rails}
    lines = list(itertools.accumulate((bay.m_as("ft") for bay in frame.bays), initial=0.0))
    for brace, node in zip(frame.braces, tree.get("braces", ()), strict=True):
        if (brace.from_ is None) != (brace.to is None):
            yield node.place.problem("one end of the brace is not placed. Write both 'from' and 'to', or neither.")
            continue
        if brace.from_ is None or brace.to is None:
            continue
        for name, end in (("from", brace.from_), ("to", brace.to)):
            x, z = end.x.m_as("ft"), end.height.m_as("ft")
            on_post = any(abs(x - line) <= NEAR for line in lines) and z <= frame.height.m_as("ft") + 1e-9
            on_rail = 0 <= x <= lines[-1] and any(abs(z - height) <= NEAR for height in rails)
            if not (on_post or on_rail):
                at = ", ".join(f"{line:g}" for line in lines)
                heights = ", ".join(f"{height:g}" for height in sorted(rails))
                yield node[name].place.problem(
                    f"the brace ends nowhere: at x = {x:g} ft, {z:g} ft up, is neither a post (x = {at} ft) nor a rail"
                    f" (heights {heights} ft). Move the end onto one."
                )
        if brace.from_.x.m_as("ft") == brace.to.x.m_as("ft") and brace.from_.height.m_as("ft") == brace.to.height.m_as("ft"):
            yield node["to"].place.problem("both ends of the brace are at one place. Move one of them.")
            continue
        apart = math.hypot(
            brace.to.x.m_as("ft") - brace.from_.x.m_as("ft"), brace.to.height.m_as("ft") - brace.from_.height.m_as("ft")
        )
        if abs(apart - brace.length.m_as("ft")) > 2 * NEAR + 0.02 * apart:
            yield node["length"].place.problem(
                f"the brace's ends lie {apart:.2f} ft apart, but its length is {brace.length.text()}. Mend one of them."
            )


def _soil(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    soil = rack.site.soil
    if soil is not None and (soil.class_ is None) == (soil.report is None):
        which = "both 'class' and 'report' are" if soil.report else "neither 'class' nor 'report' is"
        yield tree.keys_at["soil"].problem(
            f"{which} given. Write exactly one: class (presumptive, 1 to 5), or report with the values of the soil report."
        )


def _foundation(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    anchors, piers, plate = rack.anchors, rack.piers, rack.frame.base_plate
    if anchors is not None:
        keys = tree["anchors"].keys_at
        x, y, d = anchors.spacing_x.m_as("in") / 2, anchors.spacing_y.m_as("in") / 2, anchors.diameter.m_as("in") / 2
        half = piers.diameter.m_as("in") / 2
        reach = math.hypot(x, y) if piers.shape == "round" else max(x, y)
        if reach + d >= half:
            yield keys["spacing_x" if x >= y else "spacing_y"].problem(
                f"an anchor lies outside the concrete: its far side is {reach + d:.2f} in. from the pier's center, the"
                f" {piers.shape} pier ends at {half:.2f} in. Set the rods closer or widen piers.diameter."
            )
        if plate is not None:
            for name, inner, outer in (("spacing_x", x, plate.length), ("spacing_y", y, plate.width)):
                if inner + d >= outer.m_as("in") / 2:
                    yield keys[name].problem(
                        f"an anchor lies outside the base plate, which is {outer.text()} wide that way. Set the rods closer"
                        " or take a larger plate."
                    )
        depth = piers.embedment.m_as("in") + piers.projection.m_as("in")
        if anchors.embedment.m_as("in") + piers.cover.m_as("in") > depth and piers.footing is None:
            yield keys["embedment"].problem(
                f"the rods with their cover reach below the pier, which is {depth:g} in. high. Shorten them."
            )
    footing = piers.footing
    if footing is not None and footing.thickness.m_as("ft") > footing.depth.m_as("ft"):
        yield tree["piers"]["footing"].keys_at["thickness"].problem("the footing is thicker than its underside is deep.")
    if footing is not None and min(footing.length.m_as("ft"), footing.width.m_as("ft")) < piers.diameter.m_as("ft"):
        yield tree["piers"].keys_at["footing"].problem("the footing is narrower than the pier that stands on it.")
    if piers.shape == "square" and piers.bars is not None and piers.bars.count % 4:
        yield (
            tree["piers"]["bars"]
            .keys_at["count"]
            .problem(
                f"a square pier has the same on every side; {piers.bars.count} bars do not. Write 4, 8, 12 or a multiple of 4."
            )
        )
    for name in ("bars", "ties"):
        bars = getattr(piers, name)
        if bars is not None:
            yield from listed(bars.size, catalog.bar_sizes(), "a bar size")


def _lifting(rack: RackFile, tree: Mapping) -> Iterator[InputError]:
    if rack.lifting is None:
        return
    length = _length(rack)
    for x, node in zip(rack.lifting.picks, tree["lifting"]["picks"], strict=True):
        if x.m_as("ft") > length + 1e-9:
            yield node.place.problem(f"the pick point at {node} lies beyond the rack, which is {length:g} ft long. Move it.")
    yield from _pick_places(rack.lifting.picks, tree["lifting"])
    yield from _lug(rack.lifting.lug, tree["lifting"])


def _pick_places(picks: tuple[Value, ...], tree: Mapping) -> Iterator[InputError]:
    nodes = tree["picks"]
    if len(picks) < 2:
        yield tree.keys_at["picks"].problem(
            "a rack is picked at two places or more. Write them as x from the left post, such as picks: [8 ft, 16 ft]."
        )
    for (before, _), (after, node) in itertools.pairwise(zip(picks, nodes, strict=True)):
        if after.m_as("ft") <= before.m_as("ft"):
            yield node.place.problem("the picks do not go from left to right. Write each place once, in that order.")


def _lug(lug: Lug | None, tree: Mapping) -> Iterator[InputError]:
    if lug is None:
        return
    keys = tree["lug"].keys_at
    if lug.pin.m_as("in") >= lug.hole.m_as("in"):
        yield keys["pin"].problem(f"the pin ({lug.pin.text()}) does not go into the hole ({lug.hole.text()}). Mend one.")
    if lug.hole.m_as("in") >= min(lug.width.m_as("in"), 2 * lug.radius.m_as("in")):
        yield keys["hole"].problem(f"the hole ({lug.hole.text()}) leaves no steel beside it in the lug. Mend one.")
    if lug.height is not None and lug.height.m_as("in") <= lug.hole.m_as("in") / 2:
        yield keys["height"].problem(
            f"the center of the hole stands {lug.height.text()} above the weld: the hole ({lug.hole.text()}) cuts it. Raise it."
        )
    if lug.cap is not None and lug.cap_weld is None:
        yield keys["cap"].problem("the cap plate has no weld. Give cap_weld: the leg of its fillet all around the post.")


def _length(rack: RackFile) -> float:
    return sum(bay.m_as("ft") for bay in rack.frame.bays)


def _foot(rack: RackFile) -> float:
    """Return the height of the underside of the posts above grade [ft]."""
    plate: Value | None = rack.frame.base_plate.thickness if rack.frame.base_plate else None
    grout = rack.anchors.grout.m_as("ft") if rack.anchors else 0.0
    return rack.piers.projection.m_as("ft") + (plate.m_as("ft") if plate else 0.0) + grout
