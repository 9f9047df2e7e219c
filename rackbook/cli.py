"""The commands: new, open, check, reactions, seek, lightest, bind. Thin over the modules that do the work."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.table import Table
from rich.text import Text

from . import __version__
from .trace import InputError, RackbookError

app = typer.Typer(
    help="Workbook for outdoor electrical equipment racks. What it prints is a DRAFT until a licensed engineer seals it.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
FAILED, REFUSED = 1, 2
Folder = Annotated[Path, typer.Argument(help="Job folder: rack.yaml, equipment.csv, circuits.csv and the notebooks.")]


def _say(console: Console, text: str, style: str = "") -> None:
    # the engineer's own words may hold square brackets; they are never markup
    console.print(Text(text, style=style), soft_wrap=True)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"rackbook {__version__}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")] = False,
) -> None:
    del version


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="Folder to make; it must not hold anything yet.")],
    demo: Annotated[str, typer.Option("--demo", help="Demo job to start from.")] = "quartz_saddle",
) -> None:
    """Start a job folder from a demo job: the three input files and the notebooks."""
    from .job import new as start

    start(folder, from_demo=demo)
    out = Console()
    _say(out, f"Made {folder}: change rack.yaml, equipment.csv and circuits.csv, or run 'rackbook open {folder}'.")


@app.command("open")
def open_(folder: Folder, browser: Annotated[bool, typer.Option(help="Open a browser window.")] = True) -> None:
    """Open the job's notebooks in JupyterLab."""
    import subprocess

    from .job import load
    from .notebook.lab import lab_command

    load(folder)  # refuse early, in plain words
    first = min(folder.glob("*.ipynb"), default=None)
    if first is None:
        raise InputError("there is no notebook in this folder; start one with 'rackbook new'.", file=str(folder))
    command, environment = lab_command(folder, first.name)
    raise typer.Exit(subprocess.call(command if browser else [*command, "--no-browser"], env=environment))


@app.command()
def check(
    folder: Folder,
    as_json: Annotated[bool, typer.Option("--json", help="Print every input, result and check as JSON.")] = False,
) -> None:
    """Compute the job and print its checks; exit 1 if one is not OK, 2 if the job is refused."""
    from .book import compute
    from .book.record import record
    from .job import load

    book = compute(load(folder))
    failing = [c for _, c in book.checks if c.word != "OK"]
    if as_json:
        typer.echo(json.dumps(record(book), indent=2, ensure_ascii=False, allow_nan=False))
        raise typer.Exit(FAILED if failing else 0)
    out = Console()
    table = Table(
        "Sheet", "Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result", title=Text(str(book.job.job.title))
    )
    for sheet, c in book.checks:
        cells = (sheet, c.name, *c.told, str(c.source), c.word)
        table.add_row(*(Text(cell) for cell in cells), style="" if c.word == "OK" else "bold")
    out.print(table)
    for c in failing:
        _say(out, f"{c.word}: {c.name}. {c.remedy}".rstrip())
    _say(out, f"{len(book.checks)} checks, {len(failing)} not OK. DRAFT until a licensed engineer seals it.")
    raise typer.Exit(FAILED if failing else 0)


@app.command()
def reactions(
    folder: Folder,
    combinations: Annotated[
        str, typer.Option("--set", help="strength, strength_overstrength, allowable or allowable_overstrength.")
    ] = "allowable",
) -> None:
    """Print what every base puts on its foundation under every load combination, as a table for a spreadsheet."""
    from .book import compute
    from .job import load
    from .structure.frame import reactions_csv

    typer.echo(reactions_csv(compute(load(folder)).results["frame"], combinations), nl=False)


@app.command()
def seek(
    folder: Folder,
    name: Annotated[
        str, typer.Argument(metavar="CHECK", help="Name of the check, or its beginning, as 'rackbook check' prints it.")
    ],
    path: Annotated[str, typer.Argument(metavar="INPUT", help="Path of a quantity in rack.yaml, such as piers.embedment.")],
) -> None:
    """Find the value of an input with which a check passes; the files stay as they are."""
    from .book.advice import seek as sought
    from .job import load

    console = Console(stderr=True)
    with console.status("Trying values"):
        found = sought(load(folder), name, path)
    _say(Console(), str(found))


@app.command()
def lightest(
    folder: Folder,
    part: Annotated[str, typer.Argument(help="post or rail.")],
    family: Annotated[str, typer.Argument(help="hss, pipes, channels, angles, wide_flanges or strut.")],
) -> None:
    """Find the lightest section of a family that passes; the files stay as they are."""
    from .book.advice import lightest as chosen
    from .job import load

    console = Console(stderr=True)
    with console.status("Trying sections"):
        found = chosen(load(folder), part, family)
    _say(Console(), str(found))


@app.command()
def bind(
    folder: Folder,
    out: Annotated[
        Path | None, typer.Option("--out", help="Folder for the print; 'submittal' in the job folder if left out.")
    ] = None,
) -> None:
    """Run the notebooks fresh from top to bottom and bind them as PDF and as one web page."""
    from .submittal.submit import submit

    console = Console(stderr=True)
    with console.status("Binding") as status:
        printed = submit(folder, out or folder / "submittal", lambda text: status.update(Text(text)))
    say = Console()
    _say(say, f"PDF:    {printed.pdf}  ({printed.pages} pages)")
    _say(say, f"HTML:   {printed.html}")
    _say(say, f"Checks: {printed.checks}")
    _say(say, f"Cases:  {printed.cases}")


def main() -> None:
    """Run a command; an error of the book is one plain message and exit code 2, never a traceback."""
    try:
        app(standalone_mode=True)
    except RackbookError as e:
        _say(Console(stderr=True), str(e), "bold")
        raise SystemExit(REFUSED) from None
    except KeyboardInterrupt:
        raise SystemExit(130) from None


if __name__ == "__main__":
    main()
