"""Section properties the strengths rest on, against a finite element analysis of the outlines."""

import itertools
import math
import warnings

import numpy as np
import pytest

from rackbook.structure.members.angles import principal
from rackbook.structure.members.section import as_section, round_tube
from rackbook.structure.members.torsion import _warping, offsets, round_constant, tube_constant
from rackbook.structure.members.torsional import channel_shear_center
from rackbook.tables import table
from rackbook.trace import LookupFailed, Source, given

pytest.importorskip("sectionproperties")

HERE = Source("input", "test")


def analyzed(geometry, size, warping=True):
    from sectionproperties.analysis import Section

    geometry.create_mesh(mesh_sizes=[size])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = Section(geometry)
        found.calculate_geometric_properties()
        if warping:
            found.calculate_warping_properties()
    return found


def of(shape, *names):
    return [as_section(shape)[name].magnitude for name in names]


@pytest.mark.parametrize("shape", ["HSS6X4X3/8", "HSS6X6X1/4", "HSS5X2X1/8"])
def test_tubes(shape):
    from sectionproperties.pre.library import rectangular_hollow_section

    H, B, t, A, I_x, I_y, J, C, r_y = of(shape, "H", "B", "t_des", "A", "I_x", "I_y", "J", "C", "r_y")
    found = analyzed(rectangular_hollow_section(d=H, b=B, t=t, r_out=2 * t, n_r=6), 6 * t * t)
    xx, yy, _ = found.get_ic()
    assert found.get_area() == pytest.approx(A, rel=0.012)
    assert (xx, yy) == pytest.approx((I_x, I_y), rel=0.02)
    assert math.sqrt(yy / found.get_area()) == pytest.approx(r_y, rel=0.01)
    assert found.get_j() == pytest.approx(J, rel=0.04)
    # the torsional constant of H3.1 is meant to be on the safe side of a thin tube's 2 A_m t
    middle = (H - t) * (B - t) - (4 - math.pi) * (1.5 * t) ** 2
    assert pytest.approx(2 * middle * t, rel=0.02) == C
    assert tube_constant(B=B, H=H, t=t) == pytest.approx(C, rel=0.015)


@pytest.mark.parametrize("shape", ["Pipe6STD", "Pipe3STD", "Pipe1-1/2STD"])
def test_pipes_and_round_tubes(shape):
    from sectionproperties.pre.library import circular_hollow_section

    OD, t, A, I, S, Z, J = of(shape, "OD", "t_des", "A", "I", "S", "Z", "J")
    found = analyzed(circular_hollow_section(d=OD, t=t, n=48), t * t)
    assert found.get_area() == pytest.approx(A, rel=0.02)
    assert found.get_ic()[0] == pytest.approx(I, rel=0.03)
    assert found.get_j() == pytest.approx(J, rel=0.03)
    made = round_tube(given(OD, "in", HERE), given(t, "in", HERE))
    for name, printed in (("A", A), ("I", I), ("S", S), ("Z", Z)):
        assert made[name].magnitude == pytest.approx(printed, rel=0.02), name
    assert round_constant(D=OD, t=t) == pytest.approx(4 * I / (OD - t), rel=0.03)  # J over the middle radius


@pytest.mark.parametrize("shape", ["C6X8.2", "C8X11.5", "C4X5.4"])
def test_channels(shape):
    """The published shear center is that of flanges of even thickness; tapered ones, thick at the web, have it nearer."""
    from sectionproperties.pre.library import channel_section, tapered_flange_channel

    names = ("d", "b_f", "t_f", "t_w", "A", "I_x", "I_y", "x_bar", "e_o", "J", "C_w")
    d, b, t_f, t_w, A, I_x, I_y, x_bar, e_o, J, C_w = of(shape, *names)
    real = analyzed(tapered_flange_channel(d=d, b=b, t_f=t_f, t_w=t_w, r_r=0.3, r_f=0.1, alpha=9.46, n_r=3), 0.02)
    found = analyzed(channel_section(d=d, b=b, t_f=t_f, t_w=t_w, r=0.01, n_r=1), 0.02)
    shear_center, left = found.get_sc()[0], found.mesh["vertices"][:, 0].min()
    assert real.get_c()[0] - real.mesh["vertices"][:, 0].min() == pytest.approx(x_bar, rel=0.04)
    assert left - shear_center == pytest.approx(e_o, rel=0.06)  # outside of the web, away from the flanges
    assert x_bar + left - shear_center == pytest.approx(channel_shear_center(x_bar=x_bar, e_o=e_o), rel=0.03)
    assert left - real.get_sc()[0] < e_o
    assert real.get_j() == pytest.approx(J, rel=0.08)
    assert found.get_gamma() == pytest.approx(C_w, rel=0.04)
    assert real.get_area() == pytest.approx(A, rel=0.03)
    assert real.get_ic()[:2] == pytest.approx((I_x, I_y), rel=0.06)
    e_y, e_x = offsets(shape)
    assert left + b / 2 - shear_center == pytest.approx(e_y.magnitude, rel=0.03)
    assert e_x.magnitude == 0


@pytest.mark.parametrize("shape", ["W8X31", "W6X9"])
def test_wide_flanges(shape):
    from sectionproperties.pre.library import i_section

    d, b, t_f, t_w, A, I_x, I_y, J, C_w = of(shape, "d", "b_f", "t_f", "t_w", "A", "I_x", "I_y", "J", "C_w")
    found = analyzed(i_section(d=d, b=b, t_f=t_f, t_w=t_w, r=0.25, n_r=3), 0.06)
    xx, yy, _ = found.get_ic()
    assert found.get_area() == pytest.approx(A, rel=0.02)
    assert (xx, yy) == pytest.approx((I_x, I_y), rel=0.02)
    assert found.get_j() == pytest.approx(J, rel=0.12)
    assert found.get_gamma() == pytest.approx(C_w, rel=0.03)
    # doubly symmetric: the warping function is about the shear center, and largest at the tips
    omega = found.section_props.omega
    assert np.abs(omega).max() == pytest.approx(_warping(as_section(shape)).magnitude, rel=0.06)


@pytest.mark.parametrize("shape", ["L3X3X1/4", "L5X3X1/4", "L6X4X3/8", "L3X2X3/16"])
def test_angles(shape):
    from sectionproperties.pre.library import angle_section

    b, d, t, A, I_z, S_z, J = of(shape, "b", "d", "t", "A", "I_z", "S_z", "J")
    found = analyzed(angle_section(d=b, b=d, t=t, r_r=t, r_t=t / 2, n_r=4), t * t / 2)
    axes = principal(as_section(shape))
    major, minor = found.get_ip()
    assert found.get_area() == pytest.approx(A, rel=0.02)
    assert major == pytest.approx(axes.I_w.magnitude, rel=0.03)
    assert minor == pytest.approx(I_z, rel=0.03)
    moduli = found.get_zp()
    assert min(moduli[:2]) == pytest.approx(axes.S_w.magnitude, rel=0.03)
    assert min(moduli[2:]) == pytest.approx(S_z, rel=0.04)
    assert found.get_j() == pytest.approx(J, rel=0.12)
    away = math.hypot(axes.w_o.magnitude, axes.z_o.magnitude if axes.z_o is not None else 0.0)
    center, shear_center = np.array(found.get_c()), np.array(found.get_sc())
    assert np.linalg.norm(center - shear_center) == pytest.approx(away, rel=0.035)  # fillets draw it in
    monosymmetry = max(abs(x) for x in found.get_beta_p()[:2])
    assert monosymmetry == pytest.approx(abs(axes.beta_w.magnitude), rel=0.04, abs=0.03)


def strut_outline(d, b=1.625, t=0.105, slot=7 / 8, back=9 / 32, inside=0.06):
    """Return the outline of strut, the line through the middle of its wall made thick: slot up, back down."""
    from sectionproperties.pre.geometry import Geometry
    from shapely import LineString

    h, r = t / 2, inside + t / 2
    x = b / 2 - h
    corners = [(slot / 2 + h, d - back), (slot / 2 + h, d - h), (x, d - h), (x, h), (-x, h), (-x, d - h)]
    corners += [(-slot / 2 - h, d - h), (-slot / 2 - h, d - back)]
    points = np.array(corners)
    line = [points[0]]
    for before, at, after in zip(points, points[1:], points[2:], strict=False):
        u, v = before - at, after - at
        u, v = u / np.linalg.norm(u), v / np.linalg.norm(v)
        reach = min(r, 0.49 * np.linalg.norm(before - at), 0.49 * np.linalg.norm(after - at))
        turns = np.linspace(0, math.pi / 2, 5)
        line += [at + reach * (u + v) - reach * (v * math.cos(a) + u * math.sin(a)) for a in turns]
    return Geometry(LineString([*line, points[-1]]).buffer(h, cap_style="flat", quad_segs=4))


@pytest.mark.parametrize(("section", "depth"), [("1-5/8x1-5/8", 1.625), ("1-5/8x3-1/4", 3.25)])
def test_strut(section, depth):
    A, I_1, I_2, e, J, C_w, x_o, j = of(section, "A", "I_1", "I_2", "e", "J", "C_w", "x_o", "j")
    found = analyzed(strut_outline(depth), 0.004)
    xx, yy, _ = found.get_ic()
    center, shear_center = found.get_c()[1], found.get_sc()[1]
    assert found.get_area() == pytest.approx(A, rel=0.01)
    assert (xx, yy) == pytest.approx((I_1, I_2), rel=0.015)
    assert center == pytest.approx(e, rel=0.01)
    assert found.get_j() == pytest.approx(J, rel=0.03)
    assert found.get_gamma() == pytest.approx(C_w, rel=0.02)
    assert center - shear_center == pytest.approx(x_o, rel=0.01)
    assert max(abs(b) for b in found.get_beta()[:2]) / 2 == pytest.approx(j, rel=0.02)
    assert offsets(section)[1].magnitude == pytest.approx(depth / 2 - shear_center, rel=0.02)


def test_unit_warping_of_channels_and_strut_along_the_middle_line():
    """The sectorial coordinate summed along the wall: about the shear center, its mean taken off."""

    def largest(points, thickness, pole):
        points = np.asarray(points, float)
        fine = [points[0]]
        for a, b in itertools.pairwise(points):
            fine += [a + (b - a) * k / 400 for k in range(1, 401)]
        fine = np.array(fine) - pole
        step = np.linalg.norm(np.diff(fine, axis=0), axis=1)
        area = np.repeat(thickness, 400) * step
        swept = fine[:-1, 0] * fine[1:, 1] - fine[:-1, 1] * fine[1:, 0]
        omega = np.concatenate([[0], np.cumsum(swept)])
        middle = (omega[1:] + omega[:-1]) / 2
        omega = omega - (middle * area).sum() / area.sum()
        return np.abs(omega).max()

    for shape in ("C6X8.2", "C10X15.3", "MC8X8.5"):
        h_o, b_f, t_w, t_f, e_o = of(shape, "h_o", "b_f", "t_w", "t_f", "e_o")
        outer = b_f - t_w / 2
        points = [(outer, h_o / 2), (0, h_o / 2), (0, -h_o / 2), (outer, -h_o / 2)]
        found = largest(points, [t_f, t_w, t_f], np.array([-(e_o + t_w / 2), 0]))
        assert found == pytest.approx(_warping(as_section(shape)).magnitude, rel=0.01), shape


def test_a_shape_given_by_its_properties():
    made = as_section({"family": "pipes", "OD": given(4.0, "in", HERE), "t_des": given(0.22, "in", HERE)})
    assert made["A"].magnitude == pytest.approx(math.pi * 3.78 * 0.22)
    assert made.closed
    assert as_section(made) is made
    with pytest.raises(LookupFailed, match="no property 'Z_w'"):
        made["Z_w"]
    with pytest.raises(LookupFailed, match="no family of shapes"):
        as_section({"family": "tees"})
    assert as_section("C6X8.2") is as_section("C6X8.2")


def test_properties_of_every_row_are_there():
    for name in ("hss", "pipes", "channels", "angles", "wide_flanges", "strut"):
        for row in table(name).rows:
            shape = as_section(row[table(name).keys[0]])
            assert shape.family == name
            assert shape["A"].magnitude > 0
            assert shape["J"].magnitude > 0
