"""Two exporters for ``jupyter nbconvert --to rackbook-pdf`` and ``--to rackbook-html``: one notebook, our own sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from nbconvert.exporters.base import Exporter
from nbformat import NotebookNode
from traitlets import default

from .bind import bind_notebooks
from .matter import Matter, Printed


def _printed(notebook: NotebookNode, resources: dict[str, Any]) -> Printed:
    """Print one notebook under a strip made of its ``rackbook`` metadata: title, job, place, revision and so on."""
    about = resources.get("metadata", {})
    name = str(about.get("name") or "notebook")
    told = {k: str(v) for k, v in notebook.metadata.get("rackbook", {}).items() if k in _STRIP}
    matter = Matter(**{"title": name, "attached": (), **told})  # type: ignore[arg-type]
    return bind_notebooks([notebook], matter, Path(about.get("path") or "."), [name], bound=False)


_STRIP = ("title", "job", "place", "client", "revision", "date", "prepared", "checked")


class _RackbookExporter(Exporter):
    """What both exporters share: the notebook is printed as it was executed; nothing of it is changed first."""

    def from_notebook_node(self, nb: NotebookNode, resources: Any = None, **kw: Any) -> Any:
        """Return the printed bytes and nbconvert's resources.

        Raises:
            SheetError: A cell ended in an error or was not run, or something cannot be printed whole.
        """
        nb_copy, resources = super().from_notebook_node(nb, resources, **kw)
        return getattr(_printed(nb_copy, resources), self.form), resources

    form = "pdf"


class PDFSheets(_RackbookExporter):
    """A notebook as a PDF."""

    form = "pdf"
    output_mimetype = "application/pdf"
    export_from_notebook = "Calculation sheets (PDF)"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".pdf"


class HTMLSheets(_RackbookExporter):
    """A notebook as one web page that needs no network."""

    form = "html"
    output_mimetype = "text/html"
    export_from_notebook = "Calculation sheets (HTML)"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".html"
