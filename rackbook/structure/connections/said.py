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
        "The rail's web lies on the face of the post, toes outward; the clip is a vertical plate on the side of the "
        "post, flush with its face. Forces at the face of the post, absolute values added, elastic method; a moment "
        "about the line of the bolts is resisted by the plate bearing on its edge. Rail's web under the pull of the "
        "bolts: yield lines. Bearing and tearout: the most loaded bolt against the smallest clear distance.",
        "Wall of the post: AISC 360 has no row for a plate lengthwise on a rectangular tube. Tables K3.2 and K4.2 are "
        "used with the plate's thickness as width of the branch, as Table K1.2 of 360-10 did. U: utilization of the "
        "post at the crossing.",
    ),
    "rail weld": (
        "Both toes of the rail are welded to the flat of the post's face, as two lines across it; each counts with the "
        "effective width of a plate across a tube (Eq. K1-1), half of it at each end. Elastic method, absolute values "
        "added. Legs and the rail's metal go by the thickness at the toe.",
        "Metal beside the weld, on a unit of length: pull F_u t (Eq. J4-2), shear 0.60 F_u t (Eq. J4-4), both as a "
        "vector; punching of the wall 0.60 F_u t. Plastification of the wall: Tables K3.2 and K4.2, branch as wide as "
        "the flat and as deep as the rail. U: utilization of the post at the crossing.",
    ),
    "splice": (
        "One plate on the wall of the rail passes all forces at the joint; the bolts of each side carry them at their "
        "middle. Elastic method, absolute values added. The plate's own bending is checked at the joint, so prying does"
        " not arise. Of the rail the connected wall alone counts in the net section; holes in a web do not reduce its "
        "bending.",
    ),
    "foot": (
        "Fillet all around, a line of unit throat with corners of radius 2 t for tubes; all parts of the force are "
        "added at the corner. Forces at the underside of the base plate; bearing of the post's end is not counted on. "
        "Metal beside the weld, on a unit of length: pull F_u t (Eq. J4-2), shear 0.60 F_u t (Eq. J4-4), both as a "
        "vector; base plate 0.60 F_u t.",
    ),
}
SEAM = (
    "Welds of the clip: inner face, fillet over the root gap r - √(r² - (r - t_p)²) at the corner radius r = 2 t, its "
    "leg increased by a gap over 1/16 in. (AWS D1.1); outer face, flare-bevel groove filled flush, throat 5/16 r (AISC "
    "360, Table J2.2, SMAW, FCAW-S or SAW). The weaker of the two counts for both."
)
#: How the item meets the rail: web outward (welded rails), or toes outward (rails on clips).
ON_WEB = "The item's back lies on the rail's web, which faces outward."
ON_TOES = (
    "The item's back bears on the rail's toes, which face outward; each bolt passes to the web through a spacer, a pipe"
    " of twice the bolt's diameter, held at the web alone, so shear adds to tension."
)
FASTENED = (
    "Stated assumptions, as the job gives no bolts for the equipment: 1/2 in. ASTM A307, snug-tight, standard holes; "
    "two bolts on the lowest and two on the highest rail the item hangs on, 0.8 of its width apart; on one rail two "
    "bolts, the back bearing at 0.9 of the distance to the nearer edge of rail or item. Confirm with the manufacturer's"
    " mounting holes; the item's own metal is not checked here. Forces at the item's center: weight, the full wind on "
    "its face from either side (sheet Wind loads), F_p without overstrength and F_v = 0.2 S_DS W_p (sheet Seismic "
    "forces on equipment)."
)
