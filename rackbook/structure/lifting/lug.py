"""The lifting lug: a plate with a round end and one hole, by ASME BTH-1, design category B; its section and weld at the cap."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, largest, pick
from rackbook.trace.maths import abs, cos, min, sin, sqrt


def _bth(locator: str) -> Source:
    return Source("clause", "ASME BTH-1", "2020", locator, "memory")


_PIN = "3-3.3.1, pin-connected plates"
#: Design factor of category B: weights and conditions that are not known exactly, as on a site.
N_D = given(3.0, "", _bth("3-1.3, design category B"), "N_d")
PLANES = given(55.0, "deg", _bth(f"{_PIN}, angle of the shear planes"), "phi_s")
ONE = given(1.0, "", _bth(f"{_PIN}, pin diameter above 0.90 of the hole's"), "C_r")
CLOSE = 0.90
SIDE = given(
    5.0,
    "pct",
    Source(
        "common practice",
        "lug design: a side load of 5 percent of the sling's tension, or more where it is known",
        how="memory",
    ),
    "p_side",
)
_FOOT = Source("derivation", "elastic stresses of the lug's section at the cap plate")
_WELD_LINE = Source("derivation", "two fillet welds as lines, elastic; their ends not counted")


@formula(_bth(f"{_PIN}, loose pin"), C_r="")
def loose_pin(D_p, D_h):
    """Return the reduction for a pin that is loose in its hole."""
    C_r = 1 - 0.275 * sqrt(1 - D_p**2 / D_h**2)
    return C_r


@formula(Source("derivation", "plate beside the hole"), b_e="in")
def plate_beside(w_p, D_h):
    """Return the width of the plate on each side of the hole."""
    b_e = (w_p - D_h) / 2
    return b_e


@formula(_bth(f"{_PIN}, effective width"), b_eff="in")
def effective_width(t, b_e, F_u, F_y, D_h):
    """Return the effective width on each side of the hole."""
    b_eff = min(4 * t, 0.6 * F_u / F_y * sqrt(D_h / b_e) * b_e, b_e)
    return b_eff


@formula(_bth(f"{_PIN}, tension through the pinhole"), P_t="lbf")
def tension_strength(C_r, F_u, N_d, t, b_eff):
    """Return the allowable tension through the pinhole."""
    P_t = C_r * F_u / (1.20 * N_d) * 2 * t * b_eff
    return P_t


@formula(_bth(f"{_PIN}, single plane fracture"), P_b="lbf")
def fracture_strength(C_r, F_u, N_d, R, D_h, b_e, t):
    """Return the allowable load for fracture in a single plane beyond the pinhole."""
    P_b = C_r * F_u / (1.20 * N_d) * (1.13 * (R - D_h / 2) + 0.92 * b_e / (1 + b_e / D_h)) * t
    return P_b


@formula(_bth(f"{_PIN}, angle of the shear planes"), phi="deg")
def plane_angle(phi_s, D_p, D_h):
    """Return the angle at which the shear planes leave the pin."""
    phi = phi_s * D_p / D_h
    return phi


@formula(_bth(f"{_PIN}, loss of the shear planes at a curved edge"), Z_prime="in")
def edge_loss(R, D_p, phi):
    """Return what a shear plane loses of its length at the round end."""
    Z_prime = R - sqrt(R**2 - (D_p / 2 * sin(phi)) ** 2)
    return Z_prime


@formula(_bth(f"{_PIN}, shear planes"), A_v="in**2")
def shear_area(R, D_h, D_p, phi, Z_prime, t):
    """Return the area of the two shear planes beyond the pinhole."""
    A_v = 2 * (R - D_h / 2 + D_p / 2 * (1 - cos(phi)) - Z_prime) * t
    return A_v


@formula(_bth(f"{_PIN}, double plane shear"), P_v="lbf")
def shear_strength(F_u, N_d, A_v):
    """Return the allowable load for shear in two planes beyond the pinhole."""
    P_v = 0.70 * F_u / (1.20 * N_d) * A_v
    return P_v


@formula(_bth("3-3.3.4, pin bearing, no turning under load"), F_p="ksi", P_p="lbf")
def bearing_strength(F_y, N_d, D_p, t):
    """Return the allowable load of the pin's bearing: the allowable stress times the projected area."""
    F_p = 1.25 * F_y / N_d
    P_p = F_p * D_p * t
    return P_p


BTH_WELD = _bth("3-3.4.3, fillet welds")


@formula(BTH_WELD, F_v="ksi", f_w="lbf/in")
def weld_line_strength(E_xx, N_d, w):
    """Return the allowable force on an inch of fillet weld with leg w."""
    F_v = 0.60 * E_xx / (1.20 * N_d)
    f_w = F_v * w / sqrt(2)
    return f_w


@formula(Source("derivation", "in proportion to the leg of the weld"), f_wc="lbf/in")
def cap_weld_strength(f_w, w_c, w):
    """Return the allowable force on an inch of the cap plate's weld."""
    f_wc = f_w * w_c / w
    return f_wc


@formula(_bth("3-3.4.3, fillet welds on both faces"), P_w="lbf")
def weld_strength(f_w, w_p):
    """Return the allowable vertical load of two fillet welds as long as the lug is wide."""
    P_w = 2 * f_w * w_p
    return P_w


@formula(Source("assumption", "lifting.lug.height left blank: the hole stands 1.5 R above the cap plate"), e_h="in")
def hole_height(R):
    """Return the height of the hole above the cap plate, where the lug ends."""
    e_h = 1.5 * R
    return e_h


def hole_above_foot(lug: Any) -> Value:
    """Return the height of the hole above the foot: what the job gives, or what is assumed."""
    return lug.height if lug.height is not None else hole_height(R=lug.radius)


@formula(SIDE.source, P_min="lbf")
def least_side(p_side, T):
    """Return the minimum side load of a lug."""
    P_min = p_side * T
    return P_min


def side_load(P_y: Value, T: Value) -> Value:
    """Return the side load of a lug: that of the sling, but not less than the minimum."""
    return largest("P_y", {"of the sling": P_y, "minimum side load": least_side(p_side=SIDE, T=T)}, SIDE.source)


@formula(_FOOT, f_b="ksi")
def side_bending(P_y, e_h, w_p, t):
    """Return the stress of bending out of the lug's plane."""
    f_b = 6 * P_y * e_h / (w_p * t**2)
    return f_b


@formula(_bth("3-2.3.4, solid bars bent about the minor axis"), F_b="ksi")
def minor_bending(F_y, N_d):
    """Return the allowable stress of bending out of the plate's plane."""
    F_b = 1.25 * F_y / N_d
    return F_b


@formula(_FOOT, f_n="ksi")
def foot_normal(V, H, e_h, w_p, t, f_b):
    """Return the maximum normal stress at the cap plate: tension and bending both ways."""
    f_n = V / (w_p * t) + 6 * H * e_h / (t * w_p**2) + f_b
    return f_n


@formula(_FOOT, f_v="ksi")
def foot_shear(H, P_y, w_p, t):
    """Return the mean shear stress at the cap plate."""
    f_v = sqrt(H**2 + P_y**2) / (w_p * t)
    return f_v


@formula(_bth("3-2.5, combined stresses"), f_cr="ksi")
def foot_stress(f_n, f_v):
    """Return the combined stress at the cap plate."""
    f_cr = sqrt(f_n**2 + 3 * f_v**2)
    return f_cr


@formula(_bth("3-2.5, combined stresses"), F_cr="ksi")
def combined_limit(F_y, N_d):
    """Return the allowable combined stress."""
    F_cr = F_y / N_d
    return F_cr


@formula(_WELD_LINE, q_n="lbf/in")
def weld_pull(V, H, P_y, e_h, w_p, t):
    """Return the maximum tension on an inch of the lug's welds to the cap plate."""
    q_n = V / (2 * w_p) + 3 * H * e_h / w_p**2 + P_y * e_h / (t * w_p)
    return q_n


@formula(_WELD_LINE, q_s="lbf/in")
def weld_shear(H, P_y, w_p):
    """Return the shear on an inch of the lug's welds to the cap plate."""
    q_s = sqrt(H**2 + P_y**2) / (2 * w_p)
    return q_s


@formula(_WELD_LINE, q="lbf/in")
def weld_force(q_n, q_s):
    """Return the force on an inch of the lug's welds."""
    q = sqrt(q_n**2 + q_s**2)
    return q


@formula(Source("derivation", "width of the plate against its round end"), d_R="in")
def misfit(w_p, R):
    """Return how far the lug's half width lies from its radius."""
    d_R = abs(w_p / 2 - R)
    return d_R


@dataclass(frozen=True)
class LugStrength:
    """Allowable loads of the plate at its pin: tension, single plane fracture, double plane shear, bearing."""

    C_r: Value
    b_e: Value
    b_eff: Value
    A_v: Value
    P_t: Value
    P_b: Value
    P_v: Value
    P_p: Value


def lug_strength(
    t: Value, w_p: Value, R: Value, D_h: Value, D_p: Value, F_y: Value, F_u: Value, N_d: Value = N_D
) -> LugStrength:
    """Return the allowable loads of a lug at its pin.

    Args:
        t: Thickness.
        w_p: Width.
        R: Radius of the round end, about the center of the hole.
        D_h: Diameter of the hole.
        D_p: Diameter of the pin.
        F_y: Yield strength of the plate.
        F_u: Tensile strength of the plate.
        N_d: Design factor.

    Raises:
        DomainError: The pin does not go into the hole, or the hole not into the plate.

    """
    hole = D_h.m_as("in")
    if not 0 < D_p.m_as("in") <= hole:
        raise DomainError(f"The pin of {D_p.text()} does not go into the hole of {D_h.text()} ({_where(D_p)}). Widen the hole.")
    if hole >= min(w_p.m_as("in"), 2 * R.m_as("in")):
        raise DomainError(
            f"The hole of {D_h.text()} leaves no plate around it: width {w_p.text()}, radius {R.text()} ({_where(D_h)}). "
            "Take a smaller hole or a larger lug."
        )
    close = D_p.m_as("in") / hole > CLOSE
    looser = None if close else loose_pin(D_p=D_p, D_h=D_h)
    chosen = "close pin" if close else "loose pin"
    C_r = pick("C_r", {"close pin": ONE, "loose pin": looser}, chosen, "pin against 0.90 of the hole", {"D_p": D_p, "D_h": D_h})
    b_e = plate_beside(w_p=w_p, D_h=D_h)
    b_eff = effective_width(t=t, b_e=b_e, F_u=F_u, F_y=F_y, D_h=D_h)
    phi = plane_angle(phi_s=PLANES, D_p=D_p, D_h=D_h)
    A_v = shear_area(R=R, D_h=D_h, D_p=D_p, phi=phi, Z_prime=edge_loss(R=R, D_p=D_p, phi=phi), t=t)
    return LugStrength(
        C_r, b_e, b_eff, A_v,
        tension_strength(C_r=C_r, F_u=F_u, N_d=N_d, t=t, b_eff=b_eff),
        fracture_strength(C_r=C_r, F_u=F_u, N_d=N_d, R=R, D_h=D_h, b_e=b_e, t=t),
        shear_strength(F_u=F_u, N_d=N_d, A_v=A_v),
        bearing_strength(F_y=F_y, N_d=N_d, D_p=D_p, t=t),
    )  # fmt: skip


def _where(v: Value) -> str:
    return v.source.citation or "as given"


def plate_material() -> tuple[Value, Value]:
    """Return yield and tensile strength of the lug's plate, A36."""
    of = table("materials")
    return of.cell("A36", "F_y", "F_y"), of.cell("A36", "F_u", "F_u")


def electrode(job: Any) -> Value:
    """Return the strength of the weld metal: that of the connections, or E70."""
    name = str(job.connections.electrode) if job.connections is not None else "E70"
    source = Source("clause", "AWS A5.1", "", f"classification {name}: its number is the strength in ksi", "memory")
    return given(float(name.removeprefix("E")), "ksi", source, "E_xx")
