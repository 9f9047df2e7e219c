"""From the pieces of a job to two documents of one content: blocks for the printed page and blocks for the web page.

Everything a piece may hold is either set in both or refused by name; nothing vanishes. Calculation lines are found by their
form: a paragraph that begins in bold or italics (or holds a ``clause`` span) directly before a display equation names that
line; the rest of the paragraph is the clause it stands on, set beside the equation.
"""

from __future__ import annotations

import base64
import copy
import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote_to_bytes

from ..trace.errors import SheetError
from .cells import PICTURES, Piece
from .glyphs import printable
from .pandoc import Node, read
from .spoken import for_screen, rows, spoken, whole

_HARMLESS = re.compile(
    r"^<!--.*-->$|^</?(?:span|div|p|b|strong|i|em|u|sub|sup|small|center|font|a|br|hr)\b[^<>]*>$|^<style\b.*</style>$",
    re.S | re.I,
)
_NUMBER = re.compile(r"^[-+−–]?[\d.,]*\d[\d.,]*(?:e[-+]?\d+)?%?$")
_PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
_DECIDE = 24  # so many of the longest texts of a column are measured
_LONG = 300  # a cell of more letters may run over the end of a page
_MEDIA = {suffix: mime for mime, suffix in PICTURES.items()}


@dataclass
class Story:
    """The two documents as they grow. ``contents`` rows are (level, text, identifier)."""

    folder: Path
    paper: list[Node] = field(default_factory=list)
    web: list[Node] = field(default_factory=list)
    contents: list[tuple[int, str, str]] = field(default_factory=list)
    pictures: dict[str, bytes] = field(default_factory=dict)
    sheet: str = ""
    where: str = ""
    counts: list[int] = field(default_factory=list)
    attached: dict[str, Piece] = field(default_factory=dict)
    renamed: dict[str, str] = field(default_factory=dict)

    def add(self, pieces: list[Piece]) -> None:
        """Add pieces in order.

        Raises:
            SheetError: A piece holds something that cannot be printed.
        """
        self.attached = {piece.text: piece for piece in pieces if piece.kind == "attachment"}
        texts = [piece for piece in pieces if piece.kind in ("markdown", "html")]
        parsed = iter(read([(piece.text, piece.kind) for piece in texts]))
        for piece in pieces:
            self.where = piece.where
            if piece.kind in ("markdown", "html"):
                self._blocks(next(parsed))
            elif piece.kind == "math":
                self._calculation(_undelimited(piece.text), None, None)
            elif piece.kind == "picture":
                self._picture(piece.data, piece.suffix, piece.alt, piece.caption)
            elif piece.kind == "output":
                self._output(piece.text)

    def one_page(self, piece: Piece) -> None:
        """Add a piece whose body, below its heading, has to fit one page."""
        self.where = piece.where
        (blocks,) = read([(piece.text, "markdown")])
        self._blocks(blocks[:1])
        self.paper.append(_typst(f"#one-page(where: {_quoted(self._place())})["))
        self._blocks(blocks[1:])
        self.paper.append(_typst("]"))

    # ---- blocks

    def _blocks(self, blocks: list[Node]) -> None:
        at = 0
        while at < len(blocks):
            block = blocks[at]
            following = _display(blocks[at + 1]) if at + 1 < len(blocks) else None
            if following is not None and (label := _label(block)):
                self._calculation(following, *label)
                at += 2
                continue
            self._block(block)
            at += 1

    def _block(self, block: Node) -> None:
        kind = block["t"]
        if kind == "Header":
            self._heading(block)
        elif (tex := _display(block)) is not None:
            self._calculation(tex, None, None)
        elif kind in ("Para", "Plain") and len(block["c"]) == 1 and block["c"][0]["t"] == "Image":
            self._image(block["c"][0])
        elif kind == "Table":
            self._table(block)
        elif kind == "CodeBlock":
            self._output(block["c"][1])
        elif kind == "Div":
            self._blocks(block["c"][1])
        elif kind == "RawBlock":
            self._raw(block)
        elif kind == "HorizontalRule":
            return  # a rule on screen; headings divide the print
        elif kind == "Figure":
            self._blocks(block["c"][2])
        else:
            self.paper.append(self._inside(block, paper=True))
            self.web.append(self._inside(block, paper=False))

    def _heading(self, block: Node) -> None:
        level, (given, _, _), words = block["c"]
        level = min(level, 5)
        name = text_of(words)
        if level <= 2:
            self.sheet = name
        self.counts = [*self.counts[:level], *[0] * (level - len(self.counts))]
        self.counts[level - 1] += 1
        identifier = "s" + "-".join(str(n) for n in self.counts)
        self.renamed.setdefault(given, identifier)
        self.contents.append((level, name, identifier))
        paper, web = self._inside(block, paper=True), self._inside(block, paper=False)
        paper["c"][0], web["c"][0] = level, level + 1
        for copied in (paper, web):
            copied["c"][1] = [identifier, [], []]
        self.paper.append(paper)
        self.web.append(web)

    def _calculation(self, tex: str, name: list[Node] | None, note: list[Node] | None) -> None:
        said = [spoken(row) for row in rows(tex)] or ["equation"]
        where = self._place()
        paper: list[Node] = [_raw("typst", f"#calculation(where: {_quoted(where)}, alts: ({', '.join(map(_quoted, said))},), ")]
        for key, words in (("name", name), ("note", note)):
            if words:
                paper += [_raw("typst", f"{key}: ["), *self._inside(words, paper=True), _raw("typst", "], ")]
        paper += [{"t": "Math", "c": [{"t": "DisplayMath"}, whole(tex)]}, _raw("typst", ")")]
        self.paper.append({"t": "Para", "c": paper})
        web: list[Node] = []
        if name:
            web.append(_div("name", [{"t": "Para", "c": self._inside(name, paper=False)}]))
        web.append(
            _div(
                "scroll",
                [{"t": "Para", "c": [{"t": "Math", "c": [{"t": "DisplayMath"}, whole(for_screen(tex))]}]}],
                label="; ".join(said),
            )
        )
        if note:
            web.append(_div("clause", [{"t": "Para", "c": self._inside(note, paper=False)}]))
        self.web.append(_div("line", web))

    def _table(self, block: Node) -> None:
        block = copy.deepcopy(block)
        _, _, columns, head, bodies, _ = block["c"]
        for n, column in enumerate(columns):
            column[1] = {"t": "ColWidthDefault"}
            cells = [row[1][n] for body in bodies for row in body[3] if n < len(row[1])]
            said = [text_of(cell[4]).strip() for cell in cells]
            if (
                column[0]["t"] == "AlignDefault"
                and any(said)
                and all(_NUMBER.match(s) for s in said if s not in ("", "–", "-"))
            ):
                column[0] = {"t": "AlignRight"}
        if not any(text_of(cell[4]).strip() for row in head[1] for cell in row[1]):
            head[1] = []
        self.paper += self._one(block, paper=True)
        self.web.append(_div("scroll", [self._inside(block, paper=False)], label="table"))

    def _output(self, text: str) -> None:
        self.paper.append(_typst(f"#output({_quoted(printable(text.expandtabs(4)))})"))
        self.web.append({"t": "CodeBlock", "c": [["", [], []], text]})

    def _raw(self, block: Node) -> None:
        kind, text = block["c"]
        if kind in ("tex", "latex") and text.lstrip().startswith("\\begin{"):
            self._calculation(text, None, None)
        elif not (kind == "html" and _HARMLESS.match(text.strip())):
            raise self._refused(text)

    def _refused(self, text: str) -> SheetError:
        return SheetError(
            f"{self.where}: {' '.join(text.split())[:60]!r} cannot be printed. Sheets are markdown: write a pipe table for a table, "
            "![words](file) for a picture, and put free text through rackbook.submittal.escape."
        )

    # ---- pictures

    def _image(self, image: Node) -> None:
        _, words, (address, title) = image["c"]
        data, suffix = self._fetched(address)
        self._picture(data, suffix, text_of(words), title or text_of(words))

    def _fetched(self, address: str) -> tuple[bytes, str]:
        if address in self.attached:
            return self.attached[address].data, self.attached[address].suffix
        if found := re.match(r"data:([\w/+.-]+)(;base64)?,(.*)", address, re.S):
            suffix = PICTURES.get(found[1], "")
            data = base64.b64decode(found[3]) if found[2] else unquote_to_bytes(found[3])
        elif re.match(r"[a-z][a-z0-9+.-]*:", address, re.I):
            raise SheetError(
                f"{self.where}: picture {address[:60]!r} is not on this machine. Save it in the job folder and name the file."
            )
        else:
            path = (self.folder / address).resolve()
            if not path.is_relative_to(self.folder.resolve()) or not path.is_file():
                raise SheetError(f"{self.where}: picture {address[:60]!r} is not in the job folder.")
            data, suffix = path.read_bytes(), path.suffix.lstrip(".").lower().replace("jpeg", "jpg")
        if suffix not in _MEDIA:
            raise SheetError(f"{self.where}: picture {address[:60]!r} is not SVG, PNG or JPEG.")
        return data, suffix

    def _picture(self, data: bytes, suffix: str, alt: str, caption: str) -> None:
        path = f"picture-{len(self.pictures) + 1}.{suffix}"
        self.pictures[path] = data
        alt = alt or caption or f"Drawing on sheet {self.sheet}"
        words = f", caption: {_quoted(printable(caption))}" if caption else ""
        self.paper.append(_typst(f"#picture({_quoted(path)}, alt: {_quoted(alt)}{words})"))
        address = f"data:{_MEDIA[suffix]};base64,{base64.b64encode(data).decode()}"
        shown: list[Node] = [{"t": "Plain", "c": [{"t": "Image", "c": [["", [], []], _words(alt), [address, ""]]}]}]
        if caption:
            shown.append(_div("caption", [{"t": "Para", "c": _words(caption)}]))
        self.web.append(_div("picture", shown))

    # ---- inside blocks

    def _inside(self, node: object, *, paper: bool) -> object:
        """Return a copy fit for one of the two documents: math with words, no raw markup, no dead link."""
        if isinstance(node, list):
            return [new for item in node for new in self._one(item, paper=paper)]
        return self._one(node, paper=paper)[0]

    def _one(self, node: object, *, paper: bool, table: bool = False) -> list:
        if isinstance(node, list):
            return [self._inside(node, paper=paper)]
        if not isinstance(node, dict):
            return [node]
        kind = node.get("t")
        if kind == "Str" and paper:
            return [
                _raw("typst", _PUNCTUATION.sub(r"\\\1", printable(node["c"])))
            ]  # no letter or digit is markup, every mark may be
        if kind == "Code" and paper:
            return [_raw("typst", f"#raw({_quoted(printable(node['c'][1]))});")]
        if kind == "CodeBlock" and paper:
            return [_typst(f"#output({_quoted(printable(node['c'][1]))})")]
        if kind == "Table" and paper and not table:
            return [
                _typst(f"#fit-table({_measured(node, self._place())})["),
                *self._one(node, paper=True, table=True),
                _typst("]"),
            ]
        if kind == "Math":
            node = {"t": "Math", "c": [node["c"][0], whole(node["c"][1])]}
        if kind == "Math" and paper:
            said = "; ".join(spoken(row) for row in rows(node["c"][1])) or "math"
            return [_raw("typst", f"#worded({_quoted(said)}, "), node, _raw("typst", ")")]
        if kind == "Math":
            return [node]
        if kind == "RawInline":
            if node["c"][0] == "html" and re.match(r"<br\b", node["c"][1], re.I):
                return [{"t": "LineBreak"}]
            if node["c"][0] == "html" and _HARMLESS.match(node["c"][1].strip()):
                return []
            raise self._refused(node["c"][1])
        if kind == "RawBlock":
            if node["c"][0] == "html" and _HARMLESS.match(node["c"][1].strip()):
                return [{"t": "Plain", "c": []}]
            raise self._refused(node["c"][1])
        if kind == "Image":
            data, suffix = self._fetched(node["c"][2][0])
            alt = text_of(node["c"][1]) or f"Drawing on sheet {self.sheet}"
            if paper:
                path = f"picture-{len(self.pictures) + 1}.{suffix}"
                self.pictures[path] = data
                return [_raw("typst", f"#box(image({_quoted(path)}, alt: {_quoted(alt)}))")]
            address = f"data:{_MEDIA[suffix]};base64,{base64.b64encode(data).decode()}"
            return [{"t": "Image", "c": [["", [], []], _words(alt), [address, ""]]}]
        if kind == "Link":
            words = self._inside(node["c"][1], paper=paper)
            address = node["c"][2][0]
            if re.match(r"(https?|mailto):", address):
                return [{"t": "Link", "c": [["", [], []], words, [address, ""]]}]
            return words if isinstance(words, list) else [words]
        if "c" in node:
            return [{**node, "c": self._inside(node["c"], paper=paper)}]
        return [node]

    def _place(self) -> str:
        return ", ".join(part for part in (self.sheet and f"sheet '{self.sheet}'", self.where) if part)


def text_of(node: object) -> str:
    """Return the plain text of blocks or words."""
    if isinstance(node, list):
        return "".join(text_of(item) for item in node)
    if not isinstance(node, dict):
        return ""
    kind, content = node.get("t"), node.get("c")
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


def _measured(table: Node, where: str) -> str:
    """Return what decides the widths of a table's columns, as arguments for the typesetter: only the longest texts count."""
    _, _, specs, head, bodies, foot = table["c"]
    rows = [row[1] for body in bodies for row in (*body[2], *body[3])] + [row[1] for row in foot[1]]
    if any(cell[2] != 1 or cell[3] != 1 for row in rows for cell in row):
        rows = []  # joined cells wrap where their columns end; the final measure of the page still sees them
    columns = []
    for n in range(len(specs)):
        heads = [text_of(row[1][n][4]) for row in head[1] if n < len(row[1])]
        cells = [text_of(row[n][4]) if n < len(row) else "" for row in rows]
        order = sorted(range(len(rows)), key=lambda i: -len(cells[i]))  # noqa: B023
        math = [i for i in order if n < len(rows[i]) and '"Math"' in json.dumps(rows[i][n])][:_DECIDE]
        words = sorted({w for cell in cells for w in printable(cell).split()}, key=lambda w: (-len(w), w))[:_DECIDE]
        texts = [printable(cells[i]) for i in order[:_DECIDE] if i not in math]
        columns.append(
            f"(heads: {_listed(map(printable, heads))}, cells: {_listed(texts)}, words: {_listed(words)}, math: ({''.join(f'{i}, ' for i in math)}))"
        )
    long = [i * len(specs) + n for i, row in enumerate(rows) for n, cell in enumerate(row) if len(text_of(cell[4])) > _LONG]
    return f"where: {_quoted(where)}, columns: ({', '.join(columns)},), long: ({''.join(f'{i}, ' for i in long)})"


def _listed(texts: Iterable[str]) -> str:
    return "(" + "".join(f"{_quoted(text)}, " for text in texts) + ")"


def _display(block: Node) -> str | None:
    """Return the TeX of a paragraph that is one display equation."""
    if block["t"] not in ("Para", "Plain"):
        return None
    words = [w for w in block["c"] if w["t"] not in ("Space", "SoftBreak")]
    if len(words) == 1 and words[0]["t"] == "Math" and words[0]["c"][0]["t"] == "DisplayMath":
        return words[0]["c"][1]
    return None


def _label(block: Node) -> tuple[list[Node], list[Node]] | None:
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


def _undelimited(tex: str) -> str:
    r"""Return TeX without the ``$$``, ``\[`` or ``$`` around it."""
    tex = tex.strip()
    for start, end in (("$$", "$$"), (r"\[", r"\]"), ("$", "$"), (r"\(", r"\)")):
        if tex.startswith(start) and tex.endswith(end) and len(tex) >= len(start + end):
            return tex[len(start) : -len(end)].strip()
    return tex


def _words(text: str) -> list[Node]:
    return [{"t": "Str", "c": text}]


def _quoted(text: str) -> str:
    """Return a Typst string literal."""
    escapes = {"\n": "\\n", "\t": " ", "\\": "\\\\", '"': '\\"'}
    return '"' + "".join(escapes.get(c, "" if c < " " or c == "\x7f" else c) for c in text) + '"'


def _raw(to: str, text: str) -> Node:
    return {"t": "RawInline", "c": [to, text]}


def _typst(text: str) -> Node:
    return {"t": "RawBlock", "c": ["typst", text]}


def _div(name: str, blocks: list[Node], label: str = "") -> Node:
    attributes = [["tabindex", "0"], ["role", "group"], ["aria-label", label]] if label else []
    return {"t": "Div", "c": [["", [name], attributes], blocks]}
