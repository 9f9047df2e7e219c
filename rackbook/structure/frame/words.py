"""What the sheets of the frame say in words."""

AXES = (
    "x runs along the rack from the left post line seen from the front, y from the post plane to the front, z up. Moments "
    "are components of r x F in these axes: M_x = y F_z - z F_y. In a member, x is the section's axis about which its "
    "depth works, y the other; P is compression."
)
MODEL = (
    "The open library PyNiteFEA assembles the stiffness of the frame in space, without shear flexibility; it is factored "
    "once for all unit cases. {nodes} nodes, {elements} elements. Posts run from the "
    "underside of their base plates, with a node at every rail and {more}; their depth lies across the rack. Rails run "
    "over the posts in their own plane, with nodes at the posts, at midspan, at splices and where equipment hangs; {lie}. "
    "Places within 1 in. of one another are one node. A link of A = 100 in2 and I = J = 1,000 in4 goes from the middle of "
    "a post to that of a rail; with links ten times as stiff no governing action changes by 1 %. Splices are as stiff as "
    "the rail. Rails are taken at the middle of their width: the offset of a channel's shear center is not in their torsion."
)
BASES = {True: "Bases are fixed.", False: "Bases turn freely about both level axes and are held in all else."}
RAILS = {
    True: "Rail ends and ties pass all moments.",
    False: "A clip lets the rail turn in the plane of the rack and about the vertical, and holds its torsion; ties are pinned.",
}
BRACES = "Braces are pinned and carry force along themselves alone."
LOADS = (
    "Equipment hangs on the rails of its face within its own height, at its two sides. Its weight, wind and seismic force "
    "act at their own points and go to these places as from a stiff body: least sum of squares, sums of forces and of "
    "moments kept; what places in one line cannot take goes in as couples. Rails, posts and ties carry their own evenly "
    "along themselves, base plates theirs at the base; hardware is spread by weight, zinc by surface. Conduit, wire and "
    "tray go evenly to all rails, with the couple of their offset; braces to their two ends by halves; a canopy to the "
    "post tops, with the couple of its offset."
)
CASES = (
    "What each case is, is on the sheet of the load combinations. W twist: torsion of Case B or C of solid faces, as "
    "a load across along all rails that grows evenly from the middle of the rack; Q twist likewise, V displaced by 5 % of the "
    "length. The twist of the parts' own places is in W and Q."
)
LIVE = (
    "L: the person stands at the middle of a bay, on the highest rail of the front (of all rails where the front has none), "
    "the load down through the middle of the rail's width. There the rail bends most. Not a case of its own: a person right "
    "at a post. The rail does not bend then, and the clip there and its post take all of the load, about half of it more than "
    "the cases of the bays beside give them: add that to F_z of the clip and P of the post where they are used nearly in full."
)
BALANCE = (
    "Sums of the loads, moments about the point at grade below the left post line. The reactions on the foundation sum to "
    "the same; the last column is the largest difference of the six (kip, kip in.)."
)
SECOND = (
    "First-order analysis, amplified (Appendix 8), with effective lengths (Appendix 7). B_2 is that of the whole rack, "
    "from the post top that moves most under the notional case. It amplifies all moments that bend with that sway, those "
    "of gravity too, and the lateral part of axial forces. B_1 takes each member between its ends, C_m = 1. Shears and "
    "torsion are not amplified."
)
LENGTHS = (
    "Effective lengths of the posts, about x (sway across) and about y (sway along); all other members have K = 1 between "
    "posts."
)
SERVICE = (
    "Posts: D + 0.6 W, second order at that level, against height over the number given. Rails, from the straight line "
    "between their posts: down under D + L, sideways under D + 0.6 W, at their nodes, against span over the number given. "
    "The posts are held at the underside of their plates: what the piers turn and shift in the soil is not in these numbers; a "
    "pier that turns by an angle moves the post tops by that angle times their height above it."
)
SHAKEN = (
    "Drift under the design earthquake, C_d delta_xe / I_e of ASCE/SEI 7, 12.8.6, is a value without a limit: 15.4.5 frees "
    "nonbuilding structures of the limits of 12.12.1 where analysis shows that their stability bears the drift and nothing on "
    "them is harmed by it. The check of B_2 is for stability; conduit, wire and what stands apart need slack for this "
    "drift. delta_xe is the largest of the post tops under Q of the direction, across with accidental torsion to either "
    "side, with the second order of the weights; the piers' turning is not in it either. The clauses are from memory: confirm "
    "against the adopted edition."
)
HAND = "Unit cases at strength level, first order. Rails share loads between posts, which an estimate by hand leaves out."
USES = (
    "By the {name} combinations, the set the steel is designed by ({method}). Members, connections, anchorage and piers "
    "are checked on sheets of their own."
)
MADE = (
    "The sheets that check them list what their forces are made of as the table below does, without setting the lines again: "
    "each unit case with its factor and its own numbers, their sum, the amplifiers where they apply, the number with second "
    "order. B_2 on cases along or across multiplies those cases alone (for P and the forces of rails on posts), B_2 and B_1 "
    "on the sum all of it. What is below 1e-9 of the largest number is rounding of the solution and printed as 0."
)
SIGNS = (
    "What the frame exerts on the foundation at the underside of each base plate: P down, V_x to the right, V_y to the "
    "front. A force along V_x above the base gives M_y above zero, one along V_y gives M_x below zero. P and moments have "
    "the second order in them. A row is one combination with all its components; each base lists the combinations with the "
    "largest and the least P and the largest shears and moments."
)
WITH_OVERSTRENGTH = (
    "A set with overstrength is whole: its combinations of gravity and wind are those of the set without it. Of the largest "
    "and the least over such a whole set only those are listed that a combination with overstrength gives; where one of wind "
    "or gravity gives it, it stands in the table of the set without. The numbers count within the whole set."
)
ADDED = (
    "First order. A reaction above is the sum of each case's factor times its number here: V_x, V_y and T as they are; M_x "
    "times B_2 across, M_y times B_2 along; of P the cases along the rack (left, right, along) times B_2 along, those across "
    "it (front, back, twist, across) times B_2 across, all others as they are. The words of a combination have its factors to "
    "a thousandth. Components that no case has at any base are left out."
)
#: Letter of the numbers of each set's combinations, and its title.
SETS = {
    "strength": ("S", "Strength combinations"),
    "strength_overstrength": ("SO", "Strength combinations with overstrength"),
    "allowable": ("A", "Allowable stress combinations"),
    "allowable_overstrength": ("AO", "Allowable stress combinations with overstrength"),
}
