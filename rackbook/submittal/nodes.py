"""Small readings and makings of pandoc's document nodes, and of the Typst text that stands among them."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from .glyphs import printable
from .pandoc import Node
from .spoken import spoken

_DECIDE = 24  # so many of the longest texts of a column are measured
_LONG = 300  # a cell of more letters may run over the end of a page


def text_of(node: Any) -> str:
    """Return the plain text of blocks or words."""
    if isinstance(node, list):
        return "".join(text_of(item) for item in node)
    if not isinstance(node, dict):
        return ""
    kind, content = node.get("t"), node.get("c", "")
    if kind == "Str":
        return str(content)
    if kind in ("Space", "SoftBreak", "LineBreak"):
        return " "
    if kind in ("Code", "Math"):
        return content[1] if kind == "Code" else spoken(content[1])
    if kind in ("RawInline", "RawBlock"):
        return ""
    if kind in ("Link", "Image", "Span", "Quoted"):
        return text_of(content[1])
    return text_of(content)


def deciding(table: Node, where: str) -> str:
    """Return what decides the widths of a table's columns, as arguments for the typesetter: only the longest texts count."""
    _, _, specs, head, bodies, foot = table["c"]
    rows = [row[1] for body in bodies for row in (*body[2], *body[3])] + [row[1] for row in foot[1]]
    if any(cell[2] != 1 or cell[3] != 1 for row in rows for cell in row):
        rows = []  # joined cells wrap where their columns end; the final measure of the page still sees them
    columns = []
    for n in range(len(specs)):
        heads = [text_of(row[1][n][4]) for row in head[1] if n < len(row[1])]
        cells = [text_of(row[n][4]) if n < len(row) else "" for row in rows]
        order = sorted(range(len(rows)), key=lambda i: -len(cells[i]))
        math = [i for i in order if n < len(rows[i]) and '"Math"' in json.dumps(rows[i][n])][:_DECIDE]
        words = sorted({w for cell in cells for w in printable(cell).split()}, key=lambda w: (-len(w), w))[:_DECIDE]
        texts = [printable(cells[i]) for i in order[:_DECIDE] if i not in math]
        columns.append(
            f"(heads: {_listed(map(printable, heads))}, cells: {_listed(texts)}, words: {_listed(words)}, "
            f"math: ({''.join(f'{i}, ' for i in math)}))"
        )
    long = [i * len(specs) + n for i, row in enumerate(rows) for n, cell in enumerate(row) if len(text_of(cell[4])) > _LONG]
    return f"where: {quoted(where)}, columns: ({', '.join(columns)},), long: ({''.join(f'{i}, ' for i in long)})"


def _listed(texts: Iterable[str]) -> str:
    return "(" + "".join(f"{quoted(text)}, " for text in texts) + ")"


def display(block: Node) -> str | None:
    """Return the TeX of a paragraph that is one display equation."""
    if block["t"] not in ("Para", "Plain"):
        return None
    words = [w for w in block["c"] if w["t"] not in ("Space", "SoftBreak")]
    if len(words) == 1 and words[0]["t"] == "Math" and words[0]["c"][0]["t"] == "DisplayMath":
        return words[0]["c"][1]
    return None


def label(block: Node) -> tuple[list[Node], list[Node]] | None:
    """Return the name and the clause of the line a paragraph announces, or None for an ordinary paragraph."""
    if block["t"] not in ("Para", "Plain") or not block["c"]:
        return None
    words = block["c"]
    notes = [w for w in words if w["t"] == "Span" and "clause" in w["c"][0][1]]
    if notes:
        return _trimmed([w for w in words if w not in notes]), [inner for w in notes for inner in w["c"][1]]
    if words[0]["t"] in ("Strong", "Emph"):
        return [words[0]], _trimmed(words[1:])
    return None


def _trimmed(words: list[Node]) -> list[Node]:
    """Drop the spaces, commas and colons that joined a name and its clause."""
    kept = list(words)
    while kept and (
        kept[0]["t"] in ("Space", "SoftBreak", "LineBreak") or (kept[0]["t"] == "Str" and not kept[0]["c"].strip(",:;—–-"))
    ):
        kept.pop(0)
    while kept and kept[-1]["t"] in ("Space", "SoftBreak", "LineBreak"):
        kept.pop()
    return kept


def undelimited(tex: str) -> str:
    r"""Return TeX without the ``$$``, ``\[`` or ``$`` around it."""
    tex = tex.strip()
    for start, end in (("$$", "$$"), (r"\[", r"\]"), ("$", "$"), (r"\(", r"\)")):
        if tex.startswith(start) and tex.endswith(end) and len(tex) >= len(start + end):
            return tex[len(start) : -len(end)].strip()
    return tex


def words_node(text: str) -> list[Node]:
    """Return words as a node list."""
    return [{"t": "Str", "c": text}]


def quoted(text: str) -> str:
    """Return a Typst string literal."""
    escapes = {"\n": "\\n", "\t": " ", "\\": "\\\\", '"': '\\"'}
    return '"' + "".join(escapes.get(c, "" if c < " " or c == "\x7f" else c) for c in text) + '"'


def raw(to: str, text: str) -> Node:
    """Return raw text among words."""
    return {"t": "RawInline", "c": [to, text]}


def typst(text: str) -> Node:
    """Return raw Typst among blocks."""
    return {"t": "RawBlock", "c": ["typst", text]}


def div(name: str, blocks: list[Node], label: str = "") -> Node:
    """Return blocks in a named division; one with a label can be reached by keyboard, so that it can be scrolled."""
    attributes = [["tabindex", "0"], ["role", "group"], ["aria-label", label]] if label else []
    return {"t": "Div", "c": [["", [name], attributes], blocks]}
