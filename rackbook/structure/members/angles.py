"""Principal axes of angles: the major axis w and the minor axis z, and the shear center between the legs.

Coordinates: the longer leg stands upright at the left, the shorter one points to the right; x_bar and y_bar are those of
the centroid from the heel. Both legs are rectangles; fillets are left out where the table does not give the property.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula, given, largest
from rackbook.trace.maths import abs, atan, cos, sin

from .section import Section, radius_of_gyration

_LEGS = Source("derivation", "two rectangular legs, fillets left out")
_PRINCIPAL = Source("derivation", "principal axes: the sum of both moments of inertia stays")
_NONE = given(0.0, "in", Source("clause", "AISC 360", "16 and 22", "F10.2: zero for equal legs", "memory"), "beta_w")


@formula(_PRINCIPAL, I_w="in**4")
def major_inertia(I_x, I_y, I_z):
    """Return the moment of inertia about the major principal axis."""
    I_w = I_x + I_y - I_z
    return I_w


@formula(_PRINCIPAL, alpha="deg")
def principal_angle(tan_alpha):
    """Return the angle between the longer leg and the minor principal axis."""
    alpha = atan(tan_alpha)
    return alpha


@formula(_LEGS, c_w="in")
def longer_toe(x_bar, y_bar, b, alpha):
    """Return the distance of the longer leg's toe from the major principal axis."""
    c_w = x_bar * sin(alpha) + (b - y_bar) * cos(alpha)
    return c_w


@formula(_LEGS, c_w="in")
def shorter_toe(x_bar, y_bar, d, alpha):
    """Return the distance of the shorter leg's toe from the major principal axis."""
    c_w = (d - x_bar) * sin(alpha) + y_bar * cos(alpha)
    return c_w


@formula(_LEGS, S_w="in**3")
def major_modulus(I_w, c_w):
    """Return the smaller section modulus about the major principal axis."""
    S_w = I_w / c_w
    return S_w


@formula(
    _LEGS, X_1="in", Y_1="in", X_2="in", Y_2="in", R_1="in**2", R_2="in**2", K_x="in**5", K_y="in**5", z_o="in", beta_w="in"
)
def monosymmetry(b, d, t, x_bar, y_bar, alpha, I_w):
    """Return the size of the section property of Eq. F10-4 of an angle with unequal legs."""
    X_1 = t / 2 - x_bar
    Y_1 = b / 2 - y_bar
    X_2 = (d + t) / 2 - x_bar
    Y_2 = t / 2 - y_bar
    R_1 = X_1**2 + Y_1**2
    R_2 = X_2**2 + Y_2**2
    K_x = t * b * X_1 * (R_1 + t**2 / 4 + b**2 / 12) + t * (d - t) * X_2 * (R_2 + (d - t) ** 2 / 4 + t**2 / 12)
    K_y = t * b * Y_1 * (R_1 + b**2 / 4 + t**2 / 12) + t * (d - t) * Y_2 * (R_2 + t**2 / 4 + (d - t) ** 2 / 12)
    z_o = (x_bar - t / 2) * sin(alpha) - (y_bar - t / 2) * cos(alpha)
    beta_w = abs((K_y * cos(alpha) - K_x * sin(alpha)) / I_w - 2 * z_o)
    return beta_w


@formula(_LEGS, w_o="in")
def shear_center_along_w(x_bar, y_bar, t, alpha):
    """Return the distance of the shear center from the centroid along the major principal axis."""
    w_o = (x_bar - t / 2) * cos(alpha) + (y_bar - t / 2) * sin(alpha)
    return w_o


@formula(_LEGS, z_o="in")
def shear_center_along_z(x_bar, y_bar, t, alpha):
    """Return the distance of the shear center from the centroid along the minor principal axis."""
    z_o = (x_bar - t / 2) * sin(alpha) - (y_bar - t / 2) * cos(alpha)
    return z_o


@formula(_PRINCIPAL, M_w="kip*in")
def about_major(M_x, M_y, alpha):
    """Return the largest moment about the major principal axis of moments whose signs are not told apart."""
    M_w = abs(M_x) * cos(alpha) + abs(M_y) * sin(alpha)
    return M_w


@formula(_PRINCIPAL, M_z="kip*in")
def about_minor(M_x, M_y, alpha):
    """Return the largest moment about the minor principal axis of moments whose signs are not told apart."""
    M_z = abs(M_x) * sin(alpha) + abs(M_y) * cos(alpha)
    return M_z


@dataclass(frozen=True)
class Principal:
    """Principal axes of an angle.

    Attributes:
        alpha: Angle between the longer leg and the minor axis z.
        I_w, r_w, S_w: Inertia, radius of gyration and smaller section modulus about the major axis w.
        beta_w: Size of the section property of Eq. F10-4; zero for equal legs.
        w_o, z_o: Shear center from the centroid along the axes; z_o is None for equal legs, which are symmetric about w.

    """

    alpha: Value
    I_w: Value
    r_w: Value
    S_w: Value
    beta_w: Value
    w_o: Value
    z_o: Value | None


def principal(of: Section) -> Principal:
    """Return the principal axes of an angle."""
    x_bar, y_bar, b, d, t = (of[name] for name in ("x_bar", "y_bar", "b", "d", "t"))
    alpha = principal_angle(tan_alpha=of["tan_alpha"])
    I_w = major_inertia(I_x=of["I_x"], I_y=of["I_y"], I_z=of["I_z"])
    toes = {
        "toe of the longer leg": longer_toe(x_bar=x_bar, y_bar=y_bar, b=b, alpha=alpha),
        "toe of the shorter leg": shorter_toe(x_bar=x_bar, y_bar=y_bar, d=d, alpha=alpha),
    }
    beta_w, z_o = _NONE, None
    if not of.equal_legs:
        beta_w = monosymmetry(b=b, d=d, t=t, x_bar=x_bar, y_bar=y_bar, alpha=alpha, I_w=I_w)
        z_o = shear_center_along_z(x_bar=x_bar, y_bar=y_bar, t=t, alpha=alpha)
    return Principal(
        alpha,
        I_w,
        radius_of_gyration(I=I_w, A=of["A"]).named("r_w"),
        major_modulus(I_w=I_w, c_w=largest("c_w", toes)),
        beta_w,
        shear_center_along_w(x_bar=x_bar, y_bar=y_bar, t=t, alpha=alpha),
        z_o,
    )
