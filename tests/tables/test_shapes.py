"""Steel shapes against geometry and against a section analysis of their outline."""

import math

import numpy as np
import pytest

from rackbook.tables import section, table
from rackbook.trace import LookupFailed

DENSITY = 490 / 144  # lbf/ft per in2: the steel of the shape tables


def columns(of, *names):
    return [of.array(name) for name in names]


@pytest.mark.parametrize(
    ("name", "pairs"),
    [
        ("hss", (("I_x", "r_x"), ("I_y", "r_y"))),
        ("channels", (("I_x", "r_x"), ("I_y", "r_y"))),
        ("wide_flanges", (("I_x", "r_x"), ("I_y", "r_y"))),
        ("angles", (("I_x", "r_x"), ("I_y", "r_y"), ("I_z", "r_z"))),
        ("pipes", (("I", "r"),)),
        ("strut", (("I_1", "r_1"), ("I_2", "r_2"))),
    ],
)
def test_radius_of_gyration(name, pairs):
    of = table(name)
    for inertia, radius in pairs:
        assert np.sqrt(of.array(inertia) / of.array("A")) == pytest.approx(of.array(radius), rel=0.009)


@pytest.mark.parametrize(
    ("name", "moduli"),
    [
        ("hss", (("I_x", "S_x", "H"), ("I_y", "S_y", "B"))),
        ("channels", (("I_x", "S_x", "d"),)),
        ("wide_flanges", (("I_x", "S_x", "d"), ("I_y", "S_y", "b_f"))),
        ("pipes", (("I", "S", "OD"),)),
    ],
)
def test_section_modulus(name, moduli):
    of = table(name)
    for inertia, modulus, depth in moduli:
        assert of.array(inertia) / (of.array(depth) / 2) == pytest.approx(of.array(modulus), rel=0.02)


def test_section_modulus_of_angles_and_channels_about_the_back():
    of = table("angles")
    I_x, S_x, b, y_bar = columns(of, "I_x", "S_x", "b", "y_bar")
    assert I_x / (b - y_bar) == pytest.approx(S_x, rel=0.02)
    of = table("channels")
    I_y, S_y, b_f, x_bar = columns(of, "I_y", "S_y", "b_f", "x_bar")
    assert I_y / (b_f - x_bar) == pytest.approx(S_y, rel=0.02)


@pytest.mark.parametrize("name", ["channels", "wide_flanges", "angles", "strut"])
def test_weight_is_that_of_the_area(name):
    of = table(name)
    light = of.array("weight") / (DENSITY * of.array("A"))
    shapes = of.column(of.keys[0])
    outside = {s for s, ratio in zip(shapes, light, strict=True) if abs(ratio - 1) > 0.03}
    assert outside <= {"C3X3.5", "C4X4.5"}, outside  # their nominal weight is not that of the area


def test_weight_of_tubes_is_that_of_the_nominal_wall():
    of = table("hss")
    H, B, t, weight = columns(of, "H", "B", "t_nom", "weight")
    corner = 2 * t  # outside radius
    area = 2 * t * (H + B - 2 * t) - (4 - math.pi) * (corner**2 - (corner - t) ** 2)
    assert area * DENSITY == pytest.approx(weight, rel=0.03)
    of = table("pipes")
    OD, t, weight = columns(of, "OD", "t_nom", "weight")
    assert math.pi * (OD - t) * t * DENSITY == pytest.approx(weight, rel=0.01)


def test_design_wall_is_093_of_the_nominal_wall():
    for name in ("hss", "pipes"):
        of = table(name)
        assert of.array("t_des") / of.array("t_nom") == pytest.approx(0.93, abs=0.009)


def test_area_and_torsion_of_pipes():
    of = table("pipes")
    OD, t = columns(of, "OD", "t_des")
    inner = OD - 2 * t
    assert math.pi / 4 * (OD**2 - inner**2) == pytest.approx(of.array("A"), rel=0.02)
    assert math.pi / 64 * (OD**4 - inner**4) == pytest.approx(of.array("I"), rel=0.02)
    assert 2 * of.array("I") == pytest.approx(of.array("J"), rel=0.02)
    assert (OD**3 - inner**3) / 6 == pytest.approx(of.array("Z"), rel=0.02)


def test_area_of_angles():
    of = table("angles")
    d, b, t = columns(of, "d", "b", "t")
    assert t * (b + d - t) == pytest.approx(of.array("A"), rel=0.035)
    equal = d == b
    tan = of.array("tan_alpha")
    assert np.all(tan[equal] == 1)
    assert np.all(tan[~equal] < 1)


def test_plastic_modulus_is_above_the_elastic_one():
    for name, axes in (("hss", "xy"), ("channels", "xy"), ("wide_flanges", "xy"), ("angles", "xy")):
        for axis in axes:
            shape = table(name).array(f"Z_{axis}") / table(name).array(f"S_{axis}")
            assert shape.min() > 1.05, name
            assert shape.max() < 2.4, name


def test_area_of_wide_flanges():
    of = table("wide_flanges")
    d, b_f, t_w, t_f = columns(of, "d", "b_f", "t_w", "t_f")
    plates = 2 * b_f * t_f + (d - 2 * t_f) * t_w
    assert np.all(plates < of.array("A") * 1.005)
    assert plates == pytest.approx(of.array("A"), rel=0.05)


def test_areas_by_geometry_of_every_tube():
    of = table("hss")
    H, B, t, A = columns(of, "H", "B", "t_des", "A")
    area = 2 * t * (H + B - 2 * t) - (4 - math.pi) * ((2 * t) ** 2 - t**2)
    assert area == pytest.approx(A, rel=0.012)


@pytest.mark.parametrize("shape", ["HSS4X4X1/4", "HSS6X4X3/8", "HSS3X3X3/16", "HSS2X2X1/8"])
def test_tubes_against_a_section_analysis(shape):
    pytest.importorskip("sectionproperties")
    from sectionproperties.analysis import Section
    from sectionproperties.pre.library import rectangular_hollow_section

    of = table("hss")
    H, B, t = (of.cell(shape, c).magnitude for c in ("H", "B", "t_des"))
    geometry = rectangular_hollow_section(d=H, b=B, t=t, r_out=2 * t, n_r=8)
    geometry.create_mesh(mesh_sizes=[t * t / 2])
    analysis = Section(geometry)
    analysis.calculate_geometric_properties()
    I_x, I_y, _ = analysis.get_ic()
    Z_x = analysis.get_z()[0]
    assert analysis.get_area() == pytest.approx(of.cell(shape, "A").magnitude, rel=0.01)
    assert I_x == pytest.approx(of.cell(shape, "I_x").magnitude, rel=0.015)
    assert I_y == pytest.approx(of.cell(shape, "I_y").magnitude, rel=0.015)
    assert Z_x == pytest.approx(of.cell(shape, "S_x").magnitude, rel=0.015)


def test_double_strut_is_two_singles():
    of = table("strut")
    single, double = "1-5/8x1-5/8", "1-5/8x3-1/4 double"
    I, A, e = (of.cell(single, c).magnitude for c in ("I_1", "A", "e"))
    assert 2 * (I + A * e**2) == pytest.approx(of.cell(double, "I_1").magnitude, rel=0.01)
    for column in ("weight", "A", "I_2", "S_2"):
        assert 2 * of.cell(single, column).magnitude == pytest.approx(of.cell(double, column).magnitude, rel=0.002)


def test_section_finds_the_table():
    assert section("HSS4X4X1/4").name == "hss"
    assert section("hss4x4x1/4").cell("hss4x4x1/4", "weight").magnitude == 12.21
    assert section("C6X8.2").name == "channels"
    assert section("Pipe3STD").name == "pipes"
    assert section("1-5/8x1-5/8").name == "strut"
    with pytest.raises(LookupFailed, match=r"no shape 'HSS4X4X1/3'. Did you mean 'HSS4X4X1/"):
        section("HSS4X4X1/3")


def test_materials_are_stronger_in_rupture_than_in_yield():
    of = table("materials")
    F_y, F_u = columns(of, "F_y", "F_u")
    both = ~np.isnan(F_y)
    assert np.all(F_u[both] > F_y[both])
    assert np.all(F_u / np.where(both, F_y, F_u) <= 1.75)
    assert of.cell("A1085", "F_u").source.how == "memory"
    assert of.cell("A1085", "F_y").source.how == "read"


def test_weight_of_steel_is_that_of_the_shapes():
    steel = table("unit_weights").cell("steel", "weight").magnitude
    of = table("wide_flanges")
    assert np.median(of.array("weight") / of.array("A")) * 144 == pytest.approx(steel, rel=0.003)
