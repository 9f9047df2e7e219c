"""What the sheets of the frame say in words."""

AXES = (
    "x runs along the rack from the left post line seen from the front, y from the post plane to the front, z up. Moments "
    "are components of r x F in these axes (M_x = y F_z - z F_y, M_y = z F_x - x F_z, M_z = x F_y - y F_x). By effect: M_x "
    "above zero tips the rack to the back, M_y above zero tips it to the right, M_z or T above zero turns its right end to the "
    "front. In a member, x is the section's axis about which its depth works, y the other; P is axial compression."
)
MODEL = (
    "The open library PyNiteFEA assembles the stiffness of the frame in space, without shear flexibility; it is factored "
    "once for all unit cases ({nodes} nodes, {elements} elements). Posts run from the "
    "underside of their base plates, with a node at every rail and {more}; their depth lies across the rack. Rails run "
    "over the posts in their own plane, with nodes at the posts, at midspan, at splices and where equipment hangs; {lie}. "
    "Places within 1 in. of one another are one node. A link of A = 100 in2 and I = J = 1,000 in4 goes from the middle of "
    "a post to that of a rail; with links ten times as stiff no governing action changes by 1 %. Splices are as stiff as "
    "the rail. Rails are modeled at the middle of their width: the offset of a channel's shear center is not in their torsion."
)
BASES = {True: "Bases are fixed.", False: "Bases turn freely about both level axes and are held in all else."}
RAILS = {
    True: "Rail ends and ties pass all moments.",
    False: "A clip lets the rail turn in the plane of the rack and about the vertical, and holds its torsion; ties are pinned.",
}
BRACES = "Braces are pinned and carry force along themselves alone."
LOADS = (
    "Equipment hangs on the rails of its face within its own height, at its two sides. Its weight, wind and seismic force "
    "act at their own points and are distributed to these places like a rigid bolt group: force and moment are kept, and what "
    "places in one line cannot resist is applied as couples. Rails, posts and ties carry their own loads evenly along "
    "themselves, base plates theirs at the base; hardware is distributed by weight, zinc by surface. Conduit, wire and tray "
    "go evenly to all rails, with the couple of their offset; braces to their two ends by halves; a canopy to the post tops, "
    "with the couple of its offset."
)
CASES = (
    "The Load combinations sheet says what each case is. W twist: torsion of Case B or C of solid faces, as a load across the "
    "rack along all rails that grows evenly from the middle; Q twist likewise, V moved by 5 % of the length. The torsion of "
    "the parts' own places is in W and Q."
)
LIVE = (
    "L: the person is a load of its own case at each place: at the middle of each bay on the highest rail of the front (of all "
    "rails where the front has none), where the rail bends most (L 1, L 2, ...); and on each rail at each post, where clips, "
    "welds and posts receive all of it (L 502: rail 5 at post line 2). The load acts down at the middle of the rail's width. "
    "Cases at posts differ in place only and are not listed below."
)
BALANCE = (
    "Sums of the loads, moments about the point at grade below the left post line. The residual is the largest difference "
    "from the sums of the reactions, of the six (kip, kip in.)."
)
SECOND = (
    "First-order analysis with unreduced stiffness, amplified (Appendix 8), with effective lengths (Appendix 7). B_2 is that "
    "of the whole rack, from the post top that moves most under the notional case. It amplifies moments that bend with that "
    "sway, those of gravity too, and the lateral part of axial forces. B_1 amplifies each member between its ends, C_m = 1. "
    "Internal moments of members have B_1 and B_2 in them; reactions on the foundation and forces of rails on posts have B_2 "
    "alone, so that a post's moment at its base is larger by B_1 than the reaction there. Shears and torsion are not amplified."
)
LENGTHS = (
    "Effective lengths of the posts, about x (sway across) and about y (sway along); all other members have K = 1 between "
    "posts."
)
SERVICE = (
    "Posts: D + 0.6 W, second order at that level, against height / n. Rails, from the line between their posts: "
    "down under D + L, sideways under D + 0.6 W, at their nodes, against span / n. Both n are job inputs "
    "(frame.limits); left blank they are common practice, not a code limit. The posts are fixed at the underside of their "
    "plates: rotation of the foundations in the soil is not in these numbers."
)
SHAKEN = (
    "Drift under the design earthquake, C_d delta_xe / I_e of ASCE/SEI 7, 12.8.6, on fixed bases, a value without a limit: "
    "15.4.5 exempts nonbuilding structures from 12.12.1 where analysis shows that their stability tolerates the drift and "
    "nothing on them is harmed by it. The check of B_2 is for stability; conduit, wire and adjacent structures need slack for "
    "this drift and for the rotation of the foundations. delta_xe is the largest of the post tops under Q of the direction, "
    "across with accidental torsion both ways, with the second order of the weights. The clauses are from memory: confirm "
    "against the adopted edition."
)
HAND = (
    "Independent check of the unit cases at strength level, first order: the analysis must lie between the bounds. Below, all "
    "posts share equally or the rails are rigid; above, each post is a cantilever, alone or on its own tributary width."
)
TURNING = (
    "Rotation of the foundations: the stiffness below uses up what the drift limit leaves. The check stays OPEN until the "
    "geotechnical engineer confirms it; the check that the structure is rigid for wind has it included."
)
STIFFNESS = (
    "Lateral stiffness of the frame with fixed bases along and across the rack, for information{input}. The base shear rests "
    "on {by}."
)
GIVEN_STIFFNESS = "; the job input site.seismic.stiffness (k on the seismic sheet) is the engineer's own value"
USES = (
    "By the {name} combinations, the set the steel is designed by ({method}). Members, connections, anchorage and piers "
    "are checked on sheets of their own."
)
MADE = (
    "The sheets that check them list the parts of their forces as the table below does: each unit case with its factor and its "
    "own numbers, their sum, the amplifiers where they apply, the number with second order. B_2 on cases along or across "
    "multiplies those cases alone (for P and the forces of rails on posts), B_2 and B_1 on the sum all of it. What is below "
    "1e-9 of the largest number is rounding of the solution and printed as 0."
)
SIGNS = (
    "What the frame exerts on the foundation at the underside of each base plate: P down, V_x to the right, V_y to the "
    "front. M_y above zero tips to the right, M_x above zero to the back, T above zero turns the right side to the front. P "
    "and moments have B_2 in them, not B_1. A row is one combination with all its components; each base lists the "
    "combinations with the maximum and the minimum P and the largest shears, moments and torsion."
)
WITH_OVERSTRENGTH = (
    "In a set with overstrength the combinations with E_mh replace those with E_h; its gravity and wind combinations are those "
    "of the set without. Of its extremes only those of combinations with E_mh are listed here. The numbers count within the "
    "set."
)
ADDED = (
    "First order; D and the cases in the combinations above. A reaction above is the sum of each case's factor times its "
    "number here: V_x, V_y and T as they are; M_x times B_2 across, M_y times B_2 along; of P the cases along the rack (left, "
    "right, along) times B_2 along, those across it (front, back, twist, across) times B_2 across, all others as they are. "
    "Factors in the words of a combination are rounded to a thousandth. Below 1e-6 of the largest of its column a number is "
    "printed as 0; components that no case has at any base are left out."
)
#: Letter of the numbers of each set's combinations, and its title.
SETS = {
    "strength": ("S", "Strength combinations"),
    "strength_overstrength": ("SO", "Strength combinations with overstrength"),
    "allowable": ("A", "Allowable stress combinations"),
    "allowable_overstrength": ("AO", "Allowable stress combinations with overstrength"),
}
