"""Notebooks run for the print: a kernel of its own each, and one plain message where one fails."""

import nbformat
import pytest

from rackbook.submittal.run import run_notebooks
from rackbook.trace import SheetError


def stored(folder, *sources):
    path = folder / "beam.ipynb"
    nbformat.write(nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(s) for s in sources]), path)
    return path


def test_a_kernel_takes_no_port_that_another_may_take(tmp_path):
    ask = (
        "import ipykernel, json, os; info = json.loads(ipykernel.get_connection_info()); print(info['transport'], os.getcwd())"
    )
    one, two = run_notebooks([stored(tmp_path, ask)] * 2)
    assert one.cells[0].outputs[0].text == two.cells[0].outputs[0].text == f"ipc {tmp_path}\n"


def test_a_failing_cell_is_named(tmp_path):
    with pytest.raises(SheetError, match=r"^beam\.ipynb, cell 2: ValueError: too short$"):
        run_notebooks([stored(tmp_path, "1", "raise ValueError('too short')")])


def test_a_kernel_that_dies_is_named(tmp_path):
    with pytest.raises(SheetError, match=r"^beam\.ipynb: the notebook did not finish \(DeadKernelError\)\. Run it"):
        run_notebooks([stored(tmp_path, "import os; os._exit(1)")])


def test_a_kernel_that_does_not_start_is_named(tmp_path, monkeypatch):
    (tmp_path / "ipykernel_launcher.py").write_text("raise SystemExit(3)\n")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with pytest.raises(SheetError, match=r"^beam\.ipynb: the notebook did not start \(Kernel died .*\)\. Run it in JupyterLab"):
        run_notebooks([stored(tmp_path, "1")])
