"""What the sheets of the connections say in words: titles, purposes, assumptions."""

TITLES = {
    "clip": "Rail clips",
    "rail weld": "Welds of the rails to the posts",
    "splice": "Rail splices",
    "foot": "Welds at the post bases",
}
PURPOSES = {
    "clip": "Checks the plates, bolts and welds that hold the rails on the posts, at every crossing and for every combination.",
    "rail weld": "Checks the welds that fix the rails to the posts, at every crossing and for every combination.",
    "splice": "Checks the bolted plates that join the lengths of the rails, at every joint and for every combination.",
    "foot": "Checks the fillet weld all around the base of every post, for every combination.",
}
ASSUMED = {
    "clip": (
        "Layout: the rail's web lies on the face of the post, its toes face outward. The clip is a vertical plate on the "
        "side of the post, its outer face flush with the face of the post, behind the rail's web: on the right side of "
        "the post seen from the front, at the last post on its left. The bolts stand one above the other in the middle of"
        " its width, their edge distance away from the post. Forces are those of the frame at the face of the post, "
        "absolute values added.",
        "Elastic method. Out of the plane, the tension of a moment goes linearly from the middle of the bolts; a moment "
        "about the line of the bolts is resisted by the plate bearing on its edge. Prying of the plate: AISC Manual, Part"
        " 9, as a limit state of its own. The rail's web under the pull of the bolts: yield lines, web hinged at the "
        "flanges, bolt heads as points.",
        "Bearing and tearout: the most loaded bolt against the smallest clear distance in any direction, in clip and rail.",
        "The wall of the post: AISC 360 has no row of its own for a plate lengthwise on a rectangular tube. The "
        "plastification formulas of Tables K3.2 and K4.2 are used with the plate's thickness as width of the branch, as "
        "Table K1.2 of 360-10 did, as if the plate stood in the middle of the wall; near its corner it is stiffer. U is "
        "the utilization of the post's steel at the crossing.",
    ),
    "rail weld": (
        "Layout: the toes of the rail face the post, its web faces outward. Both toes are welded to the face of the post "
        "over its flat width, as two lines across it; the rails run to the outer faces of the end posts, so the full flat"
        " width exists at every post. Of each line the effective width of a plate across a tube counts (Eq. K1-1), half "
        "of it at each end, where the side walls hold it. Legs and the rail's metal beside the weld go by the thickness "
        "at the toe. Elastic method, absolute values added. Punching: one plane of the wall for each line of weld. "
        "Plastification of the wall by Tables K3.2 and K4.2 for a branch as wide as the flat face and as deep as the "
        "rail, at most 0.85 of the width. U is the utilization of the post's steel at the crossing.",
    ),
    "splice": (
        "One plate on the wall of the rail passes all forces at the joint; the bolts of each side carry them at their "
        "middle. The rails' ends have the same edge distance as the plate. Elastic method, absolute values added. The "
        "plate may lie on either side of the wall: it keeps clear of the posts, with a clip on either side of them, and "
        "of the bolts of the equipment, and fits the flat of the wall between its fillets.",
        "The plate bends freely between the bolts: its own bending is checked at the joint, so prying does not arise. Of the "
        "rail, the connected wall's share alone counts in the net section. Holes in a web do not reduce the rail's bending.",
    ),
    "foot": (
        "The weld is a line of unit throat around the outline, at corners of radius 2 t for tubes. All parts of the force"
        " are added at the corner. Forces are those at the underside of the base plate, and compression counts as tension"
        " does: bearing of the post's end is not counted on.",
    ),
}
#: How the item meets the rail: web outward (welded rails), or toes outward (rails on clips).
ON_WEB = "The item's back lies on the rail's web, which faces outward."
ON_TOES = (
    "The item's back bears on the rail's toes, which face outward; each bolt passes to the web through a spacer, a pipe "
    "of twice the bolt's diameter as long as the toes stand before the web. The spacer is held at the web alone, so shear"
    " adds to tension."
)
FASTENED = (
    "Bolts of 1/2 in., ASTM A307, snug-tight, in standard holes: bearing connections in shear and tension. Two bolts on "
    "the lowest and two on the highest of the rails the item hangs on, in the middle of the rail, 0.8 of the item's width"
    " apart (stated assumptions: the job gives no bolts for the equipment; the manufacturer's mounting holes govern). The"
    " lever of overturning is the distance of these rails. An item on one rail has two bolts; its back bears on the "
    "rail's edge at 0.9 of half the rail's depth, or of the distance to the item's own nearer edge. The weight and the "
    "forces act at the item's center, half its depth before its back. Wind: the full force on the item's face, off the "
    "rail from either side. Earthquake: F_p, without overstrength, for steel fastens to steel. Holes in the rail have the"
    " minimum edge distance. The item's own metal is not checked here: confirm it with the manufacturer."
)
