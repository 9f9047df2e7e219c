"""What the sheets of the frame say in words."""

AXES = (
    "Axes and signs are those of the Rack geometry sheet; T is M_z. In a member, x is the section's axis about which its depth "
    "works, y the other; P is axial compression. Posts and rails stand where that sheet and that of the "
    "weights list them."
)
MODEL = (
    "The open library PyNiteFEA assembles the stiffness of the frame in space, without shear flexibility ({nodes} nodes, "
    "{elements} elements). Posts run from the underside of their base plates, with a node at every rail and {more}; their "
    "depth lies across the rack. Rails run over the posts, with nodes at the posts, at midspan, at splices (as stiff as the "
    "rail) and where equipment hangs; {lie}. Places within 1 in. are one node. A link of A = 100 in2 and I = J = 1,000 in4 "
    "goes from the middle of a post to that of a rail; ten times as stiff it changes no governing action by 1 %. The offset of "
    "a channel's shear center is not in the torsion of the frame."
)
BASES = {True: "Bases are fixed.", False: "Bases turn freely about both level axes and are held in all else."}
RAILS = {
    True: "Rail ends and ties pass all moments.",
    False: "A clip lets the rail turn in the plane of the rack and about the vertical, and holds its torsion; ties are pinned.",
}
BRACES = "Braces are pinned and carry force along themselves alone."
LOADS = (
    "Equipment hangs on the rails of its face within its own height, at its two sides; its weight, wind and seismic force act "
    "at their own points and go to these places like those of a rigid bolt group. Rails, posts and ties carry their own loads "
    "evenly; hardware goes by weight, zinc by surface, conduit, wire and tray evenly to all rails with the couple of their "
    "offset, braces to their ends by halves, a canopy to the post tops with its couple."
)
CASES = (
    "Cases are described on the Load combinations sheet. W twist: torsion of Case B or C of solid faces, as a load across the "
    "rack along all rails that grows evenly from the middle; Q twist likewise, V moved by 5 % of the length. L acts down at "
    "the middle of the rail's width; the cases of L at posts differ in place only and are not listed. Moments are about the "
    "point at grade below the left post line. The residual is the largest difference from the sums of the reactions (kip, "
    "kip in.)."
)
SECOND = (
    "First-order analysis with unreduced stiffness, amplified (Appendix 8), with effective lengths (Appendix 7); members other "
    "than posts have K = 1 between posts. B_2 is that of the whole rack, from the post top that moves most under the notional "
    "case; it amplifies moments that bend with that sway, and the lateral part of axial forces. B_1 amplifies each member "
    "between its ends, C_m = 1. Moments in members have B_1 and B_2 in them, reactions and forces of rails on posts B_2 alone. "
    "Shears and torsion are not amplified. k_f = H / Delta_H is for information{input}; the base shear rests on {by}."
)
GIVEN_STIFFNESS = "; the job input site.seismic.stiffness is the engineer's own value"
SERVICE = (
    "Posts: D + 0.6 W with second order. Rails, from the line between their posts: down under D + L, sideways under D + 0.6 W. "
    "Both n are job inputs (frame.limits); left blank they are common practice, not a code limit. The posts are fixed at the "
    "underside of their plates: the foundations' rotation is not in the drift."
)
SHAKEN = (
    "delta_x = C_d delta_xe / I_e (ASCE/SEI 7, 12.8.6) on fixed bases, of the post top that moves most under Q, with second "
    "order. It has no limit here: 15.4.5 exempts nonbuilding structures from 12.12.1 where their stability (the check of B_2) "
    "tolerates the drift. Conduit, wire and adjacent structures need slack for it and for the foundations' rotation."
)
HAND = (
    "Unit cases, first order: the analysis must lie between the bounds. Lower: all posts share equally, or rails are rigid; "
    "upper: each post is a cantilever, alone or on its tributary width."
)
TURNING = (
    "The stiffness below uses up what the drift limit leaves. Its check stays OPEN until the geotechnical engineer confirms "
    "it; the check that the structure is rigid for wind has it included."
)
MADE = (
    "By the {name} combinations, the set the steel is designed by ({method}). Sheets that check these actions list their parts "
    "as the table below does: unit cases with their factors, sum, amplifiers, number with second order. B_2 on cases along or "
    "across multiplies those cases alone. Below 1e-9 of the largest number is rounding, printed as 0."
)
SIGNS = (
    "What the frame exerts on the foundation at the underside of each base plate: P down, V_x to the right, V_y to the front; "
    "M_y above zero tips to the right, M_x to the back, T turns the right side to the front. P and moments have B_2 in them, "
    "not B_1. A row is one combination with all its components; each base lists the combinations with the maximum and the "
    "minimum P and the largest shears, moments and torsion, those within 0.5 % of one another once."
)
OVERSTRENGTH = (
    "With overstrength only combinations with E_mh are listed; numbers count within the set. Those without a row below (SO n, "
    "AO n) are combination n of the same method with {times} times its factors on Q and the same B_2."
)
ADDED = (
    "First order; for each base D and the cases of its combinations above. A reaction above is the sum of each case's factor "
    "times its number here; M_x times B_2 across, M_y times B_2 along; of P the cases along the rack (left, right, along) "
    "times B_2 along, those across it (front, back, twist, across) times B_2 across. Factors in the words of a combination are "
    "rounded to a thousandth. Below 1e-6 of the largest of its column a number is printed as 0."
)
#: Letter of the numbers of each set's combinations, and its title.
SETS = {
    "strength": ("S", "Strength combinations"),
    "strength_overstrength": ("SO", "Strength combinations with overstrength"),
    "allowable": ("A", "Allowable stress combinations"),
    "allowable_overstrength": ("AO", "Allowable stress combinations with overstrength"),
}
