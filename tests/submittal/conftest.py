# ruff: noqa: E501
"""Notebooks of an invented job, as they look after a run."""

import io

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from rackbook.submittal import Matter

VELOCITY = r"""**Velocity pressure**, ASCE/SEI 7-22, Eq. 26.10-1 (from memory: confirm against the adopted edition)

$$\begin{aligned} q_{z} &= c_{q} \cdot K_{z} \cdot K_{zt} \cdot K_{e} \cdot \left( V \right) ^{ 2 } \\ &= 0.00256\ \mathrm{psf/mph^2} \cdot 0.8489 \cdot 1.000 \cdot 1.000 \cdot \left( 115\ \mathrm{mph} \right) ^{ 2 } \\ &= 28.74\ \mathrm{psf} \end{aligned}$$
"""
FORCE = r"""**Wind force on a panelboard**, ASCE/SEI 7-22, Eq. 29.4-1

$$F = q_{z} \cdot K_{d} \cdot G \cdot C_{f} \cdot A_{f} = 28.74\ \mathrm{psf} \cdot 0.85 \cdot 0.85 \cdot 1.40 \cdot 12.50\ \mathrm{ft^2} = 363.4\ \mathrm{lbf}$$
"""
FRACTION = r"""**Elastic section modulus needed**, AISC 360-22, Eq. F7-1

$$\begin{aligned} S_{req} &= \frac{\Omega_{b} \cdot M}{F_{y}} = \frac{1.67 \cdot 4.210\ \mathrm{kip \cdot ft}}{46.0\ \mathrm{ksi}} \\ &= 1.834\ \mathrm{in^3} \end{aligned}$$
"""
LONG = r"""**Interaction of all actions at the post base**, AISC 360-22, Eq. H3-6

$$\frac{P_{r}}{P_{c}} + \frac{M_{rx}}{M_{cx}} + \left( \frac{V_{r}}{V_{c}} + \frac{T_{r}}{T_{c}} \right) ^{ 2 } = \frac{1.240\ \mathrm{kip}}{58.20\ \mathrm{kip}} + \frac{4.210\ \mathrm{kip \cdot ft}}{11.30\ \mathrm{kip \cdot ft}} + \frac{0.3150\ \mathrm{kip \cdot ft}}{9.410\ \mathrm{kip \cdot ft}} + \left( \frac{0.8420\ \mathrm{kip}}{19.70\ \mathrm{kip}} + \frac{0.1120\ \mathrm{kip \cdot ft}}{7.880\ \mathrm{kip \cdot ft}} \right) ^{ 2 } = 0.4304$$
"""
GIVEN = r"""| Given | Value | Source |
|:---|:---|:--------------------|
| $K_{z}$ | $0.8489$ | ASCE/SEI 7-22, Table 26.10-1, z = 8 ft, Exposure C (from memory: confirm against the adopted edition) |
| $V$ | $115\ \mathrm{mph}$ | rack.yaml, site.wind.speed, line 12 |
| $A_{f}$ | $12.50\ \mathrm{ft^2}$ | equipment.csv, PNL-1, line 3 |
"""
CHECKS = """| Check | Demand | Capacity | Ratio | Limit | Clause | Result |
|---|---:|---:|---:|---:|---|---|
| Post bending | 4.210 kip-ft | 11.30 kip-ft | 0.373 | 1 | AISC 360-22 F7 | **OK** |
| Anchor tension | 3.920 kip | 3.410 kip | 1.150 | 1 | ACI 318-19 17.6.1; deepen the embedment to 9 in | **NOT OK** |
"""
RACK = """<svg xmlns="http://www.w3.org/2000/svg" width="360" height="190" viewBox="0 0 360 190"><title>Front elevation of the rack</title>
<g fill="none" stroke="black"><path d="M40 10V180M180 10V180M320 10V180M30 40H330M30 110H330" stroke-width="4"/>
<rect x="60" y="30" width="70" height="95" fill="white"/><rect x="205" y="35" width="55" height="60" fill="white"/></g>
<text x="68" y="80" font-family="DejaVu Sans" font-size="11">PNL-1</text><text x="210" y="68" font-family="DejaVu Sans" font-size="11">DS-1</text></svg>"""


def said(text: str, count: int = 1):
    return new_code_cell("show()", execution_count=count, outputs=[new_output("display_data", {"text/markdown": text})])


def drawn(count: int = 1):
    return new_code_cell(
        "draw()",
        execution_count=count,
        outputs=[new_output("display_data", {"image/svg+xml": RACK}, metadata={"caption": "Front elevation, not to scale"})],
    )


def wind_notebook():
    return new_notebook(
        cells=[
            new_markdown_cell("# Wind\n\nWind on the rack and on each item, both directions."),
            said(
                "## Wind on the front\n\nForce on every item in the wind direction, from the ground up.\n\n"
                + GIVEN
                + "\n"
                + VELOCITY
                + "\n"
                + FORCE
            ),
            drawn(2),
            new_markdown_cell(
                "### By hand\n\nThe engineer's own check of the *largest* panel, $F \\approx 360$ lbf: agrees within 1 %."
            ),
            new_code_cell(
                "hand()",
                execution_count=3,
                outputs=[
                    new_output("stream", name="stderr", text="a warning nobody prints"),
                    new_output(
                        "display_data",
                        {"text/latex": r"\[\begin{aligned} F_{hand} &= 28.7 \cdot 12.5 = 358.8\ \mathrm{lbf} \end{aligned}\]"},
                    ),
                ],
            ),
        ]
    )


def frame_notebook():
    return new_notebook(
        cells=[
            new_markdown_cell("# Frame\n\nPosts as cantilevers from the base plates."),
            said("## Posts\n\n" + FRACTION + "\n" + LONG + "\n" + CHECKS, 1),
        ]
    )


def matter(**changes):
    given = {
        "title": "Switch rack SR-101, north transfer pump area",
        "job": "24-0117",
        "place": "Example Flats, Texas",
        "client": "Demonstration Water District",
        "revision": "B",
        "date": "2026-03-14",
        "prepared": "A. Writer",
        "checked": "B. Reader",
        "criteria": (
            "## Design criteria\n\n| Criterion | Value | Where stated |\n|:---|:---|:---|\n"
            "| Wind | 115 mph, Exposure C, Risk Category II | rack.yaml |\n| Steel | ASTM A500 Grade C, ASD | rack.yaml |\n"
        ),
        "checks": [
            ("Frame", "Post bending", "4.210 kip-ft", "11.30 kip-ft", "0.373", "1", "AISC 360-22 F7", "OK"),
            ("Anchors", "Anchor tension", "3.920 kip", "3.410 kip", "1.150", "1", "ACI 318-19 17.6.1", "NOT OK"),
        ],
        "largest": [("Frame", "Post bending", "4.210 kip-ft", "11.30 kip-ft", "0.373", "1", "AISC 360-22 F7", "OK")],
        "unconfirmed": 7,
        "verification": {
            "versions": [("rackbook", "0.1.0"), ("Python", "3.11.7")],
            "inputs": [("rack.yaml", "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08")],
            "publications": [("ASCE/SEI 7 commentary", "22", "–", "1", "0 of 1")],
            "own": [("ASCE/SEI 7", "22", "4", "4 of 4")],
            "formulas": [("ASCE/SEI 7-22", "Eq. 26.10-1†; Eq. 29.4-1", "4 of 4")],
            "disagreements": [("ASCE/SEI 7-22 commentary", "K_z at 15 ft", "K_z", "0.85", "0.8489", "0.0001", "NOT OK")],
            "memory": [("ASCE/SEI 7-22", "Table 26.10-1 (C: K_z)")],
        },
        "cautions": ["One anchor check is not OK; see the check summary."],
        "revisions": [
            ("A", "2026-02-02", "First issue", "A. Writer", ""),
            ("B", "2026-03-14", "Panel PNL-1 moved", "A. Writer", "B. Reader"),
        ],
    }
    return Matter(**{**given, **changes})


class Sample:
    """What the tests build documents from."""

    wind, frame, matter = staticmethod(wind_notebook), staticmethod(frame_notebook), staticmethod(matter)
    said, notebook = staticmethod(said), staticmethod(lambda *cells: new_notebook(cells=list(cells)))
    markdown = staticmethod(new_markdown_cell)
    code, output = staticmethod(new_code_cell), staticmethod(new_output)
    velocity, checks, rack = VELOCITY, CHECKS, RACK


@pytest.fixture(scope="session")
def sample():
    return Sample


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    """A job folder with its three input files."""
    path = tmp_path_factory.mktemp("job")
    (path / "rack.yaml").write_text("job:\n  number: 24-0117\n")
    (path / "equipment.csv").write_text("tag,kind\nPNL-1,panelboard\n")
    (path / "circuits.csv").write_text("tag,from,to\nC-1,utility,PNL-1\n")
    return path


@pytest.fixture(scope="session")
def printed(sample, folder):
    from rackbook.submittal import bind_notebooks

    return bind_notebooks([sample.wind(), sample.frame()], sample.matter(), folder, ["wind", "frame"])


@pytest.fixture(scope="session")
def pdf_text(printed):
    from pypdf import PdfReader

    return [page.extract_text() for page in PdfReader(io.BytesIO(printed.pdf)).pages]


assert nbformat.current_nbformat >= 4
