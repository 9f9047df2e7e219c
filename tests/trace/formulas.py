"""Formulas the tests of the core work with."""

from rackbook.trace import Source, formula, given
from rackbook.trace.maths import ceil, cos, exp, log10, max, min, pi, sin, sqrt

HERE = Source("clause", "Test standard", "1", "4.2", "derived")


def v(number, of="", symbol=""):
    """Return a leaf."""
    return given(number, of, HERE, symbol)


@formula(HERE, q_z="psf")
def pressure(c_q, K_z, V):
    """Return the velocity pressure."""
    q_z = c_q * K_z * V**2
    return q_z


@formula(HERE, L="ft")
def length(a, b):
    """Return the sum of two lengths."""
    L = a + 2 * b
    return L


@formula(HERE, A="ft**2", F="lbf")
def force(q, b, h):
    """Return the force on a rectangle."""
    A = b * h
    F = q * A
    return F


@formula(HERE, K="")
def profile(K_0, z, z_g, alpha):
    """Return a power law with its exponent given."""
    K = K_0 * (max(z, 0.1 * z_g) / z_g) ** (2 / alpha)
    return K


@formula(HERE, T_2="degC")
def warmed(T_1, dT):
    """Return a temperature after a rise."""
    T_2 = T_1 + dT
    return T_2


@formula(HERE, R_2="ohm")
def warm_resistance(R_1, alpha, T_2, T_1):
    """Return a resistance at another temperature."""
    R_2 = R_1 * (1 + alpha * (T_2 - T_1))
    return R_2


@formula(HERE, stated={"f_c": "psi", "b": "in", "d": "in"}, V_c="lbf")
def shear(f_c, b, d):
    """Return an empirical shear strength."""
    V_c = 2 * sqrt(f_c) * b * d
    return V_c


@formula(HERE, stated={"T": "degC"}, T_b="degF")
def empirical_temperature(T):
    """Return a tabulated temperature of an empirical line."""
    T_b = 1.8 * T + 32
    return T_b


@formula(HERE, h="ft")
def rise(L, theta):
    """Return the rise of a slope."""
    h = L * sin(theta)
    return h


@formula(HERE, I_t="A")
def with_share(I, p):
    """Return a current with a share on top."""
    I_t = I * (1 + p)
    return I_t


@formula(HERE, n="")
def pieces(L, s):
    """Return a count of pieces."""
    n = ceil(L / s)
    return n


@formula(HERE, F_t="lbf")
def total(F):
    """Return the sum of forces."""
    F_t = sum(F)
    return F_t


@formula(HERE, y="")
def mixed_functions(a, b):
    """Return several functions at once."""
    y = exp(-a) + log10(b) * cos(a) ** 2 - min(a, b) * pi
    return y


@formula(HERE, d="ft**0.5")
def root(A, B):
    """Return a root that may be of a negative number."""
    d = sqrt(A - B)
    return d


@formula(HERE, d="")
def odd_power(x):
    """Return a power that may be complex."""
    d = x ** (1 / 3)
    return d
