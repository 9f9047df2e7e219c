"""From the pieces of a job to two documents of one content: blocks for the printed page and blocks for the web page.

Everything a piece may hold is either set in both or refused by name; nothing vanishes. Calculation lines are found by their
form: a paragraph that begins in bold or italics (or holds a ``clause`` span) directly before a display equation names that
line; the rest of the paragraph is the clause it stands on, set beside the equation.
"""

from __future__ import annotations

import base64
import copy
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes

from ..trace.errors import SheetError
from .brackets import fractions
from .cells import Piece
from .glyphs import printable
from .nodes import deciding, display, div, label, quoted, raw, text_of, typst, undelimited, words_node
from .pandoc import Node, read
from .pictures import MEDIA, drawn_in, fetched
from .spoken import for_screen, rows, spoken, whole

_HARMLESS = re.compile(
    r"^<!--.*-->$|^</?(?:span|div|p|b|strong|i|em|u|sub|sup|small|center|font|a|br|hr)\b[^<>]*>$|^<style\b.*</style>$",
    re.S | re.I,
)
_NUMBER = re.compile(r"^[-+−–]?[\d.,]*\d[\d.,]*(?:e[-+]?\d+)?%?$")
_PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")


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
        for n, piece in enumerate(pieces, 1):
            self.where = piece.where
            if piece.kind in ("markdown", "html"):
                self._blocks(next(parsed), announce=n < len(pieces) and pieces[n].kind == "picture")
            elif piece.kind == "math":
                self._calculation(undelimited(piece.text), None, None)
            elif piece.kind == "picture":
                self._picture(piece.data, piece.suffix, piece.alt, piece.caption)
            elif piece.kind == "output":
                self._output(piece.text)

    def new_page(self) -> None:
        """Let what follows begin a page."""
        self.paper.append(typst("#pagebreak(weak: true)"))

    @property
    def section(self) -> str:
        """The last heading of the first level."""
        return next((name for level, name, _ in reversed(self.contents) if level == 1), "")

    # ---- blocks

    def _blocks(self, blocks: list[Node], *, announce: bool = False) -> None:
        """Set blocks in order; ``announce`` says that the last of them belongs to the picture that follows."""
        at = 0
        while at < len(blocks):
            block = blocks[at]
            following = display(blocks[at + 1]) if at + 1 < len(blocks) else None
            if following is not None and (announced := label(block)):
                self._calculation(following, *announced)
                at += 2
                continue
            titles = at + 1 < len(blocks) and blocks[at + 1]["t"] == "Table" and block["t"] == "Para"
            titles = titles and [word["t"] for word in block["c"]] == ["Strong"]
            if titles or (announce and at + 1 == len(blocks) and block["t"] == "Para"):
                # the title of a table stays with it, and the words before a picture
                self.paper += [typst("#block(sticky: true)["), self._inside(block, paper=True), typst("]")]
                self.web.append(self._inside(block, paper=False))
            else:
                self._block(block)
            at += 1

    def _block(self, block: Node) -> None:
        kind = block["t"]
        if kind == "Header":
            self._heading(block)
        elif (tex := display(block)) is not None:
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
        paper: list[Node] = [raw("typst", f"#calculation(where: {quoted(where)}, alts: ({', '.join(map(quoted, said))},), ")]
        for key, words in (("name", name), ("note", note)):
            if words:
                paper += [raw("typst", f"{key}: ["), *self._inside(words, paper=True), raw("typst", "], ")]
        paper += [{"t": "Math", "c": [{"t": "DisplayMath"}, fractions(whole(tex))]}, raw("typst", ")")]
        self.paper.append({"t": "Para", "c": paper})
        web: list[Node] = []
        if name:
            web.append(div("name", [{"t": "Para", "c": self._inside(name, paper=False)}]))
        web.append(
            div(
                "scroll",
                [{"t": "Para", "c": [{"t": "Math", "c": [{"t": "DisplayMath"}, whole(for_screen(tex))]}]}],
                label="; ".join(said),
            )
        )
        if note:
            web.append(div("clause", [{"t": "Para", "c": self._inside(note, paper=False)}]))
        self.web.append(div("line", web))

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
        self.web.append(div("scroll", [self._inside(block, paper=False)], label="table"))

    def _output(self, text: str) -> None:
        self.paper.append(typst(f"#output({quoted(printable(text.expandtabs(4)))})"))
        self.web.append({"t": "CodeBlock", "c": [["", [], []], text]})

    def _raw(self, block: Node) -> None:
        kind, text = block["c"]
        if kind in ("tex", "latex") and text.lstrip().startswith("\\begin{"):
            self._calculation(text, None, None)
        elif not (kind == "html" and _HARMLESS.match(text.strip())):
            raise self._refused(text)

    def _refused(self, text: str) -> SheetError:
        return SheetError(
            f"{self.where}: {' '.join(text.split())[:60]!r} cannot be printed. Sheets are markdown: write a pipe table for a "
            "table, ![words](file) for a picture, and put free text through rackbook.submittal.escape."
        )

    # ---- pictures

    def _image(self, image: Node) -> None:
        _, words, (address, title) = image["c"]
        data, suffix = fetched(address, self.attached, self.folder, self.where)
        self._picture(data, suffix, text_of(words), title or text_of(words))

    def _picture(self, data: bytes, suffix: str, alt: str, caption: str) -> None:
        path = f"picture-{len(self.pictures) + 1}.{suffix}"
        self.pictures[path] = data
        alt = alt or caption or f"Drawing on sheet {self.sheet}"
        if caption and suffix == "svg" and drawn_in(data, caption):
            caption = ""
        words = f", caption: {quoted(printable(caption))}" if caption else ""
        self.paper.append(typst(f"#picture({quoted(path)}, alt: {quoted(alt)}{words})"))
        address = f"data:{MEDIA[suffix]};base64,{base64.b64encode(data).decode()}"
        shown: list[Node] = [{"t": "Plain", "c": [{"t": "Image", "c": [["", [], []], words_node(alt), [address, ""]]}]}]
        if caption:
            shown.append(div("caption", [{"t": "Para", "c": words_node(caption)}]))
        self.web.append(div("picture", shown))

    # ---- inside blocks

    def _inside(self, node: Any, *, paper: bool) -> Any:
        """Return a copy fit for one of the two documents: math with words, no raw markup, no dead link."""
        if isinstance(node, list):
            return [new for item in node for new in self._one(item, paper=paper)]
        return self._one(node, paper=paper)[0]

    def _one(self, node: Any, *, paper: bool, table: bool = False) -> list:
        if isinstance(node, list):
            return [self._inside(node, paper=paper)]
        if not isinstance(node, dict):
            return [node]
        kind = node.get("t")
        if kind == "Str" and paper:
            return [
                raw("typst", _PUNCTUATION.sub(r"\\\1", printable(node["c"])))
            ]  # no letter or digit is markup, every mark may be
        if kind == "Code" and paper:
            return [raw("typst", f"#raw({quoted(printable(node['c'][1]))});")]
        if kind == "CodeBlock" and paper:
            return [typst(f"#output({quoted(printable(node['c'][1]))})")]
        if kind == "Table" and paper and not table:
            return [
                typst(f"#fit-table({deciding(node, self._place())})["),
                *self._one(node, paper=True, table=True),
                typst("]"),
            ]
        if kind == "Math":
            node = {"t": "Math", "c": [node["c"][0], whole(node["c"][1])]}
        if kind == "Math" and paper:
            said = "; ".join(spoken(row) for row in rows(node["c"][1])) or "math"
            math = {"t": "Math", "c": [node["c"][0], fractions(node["c"][1])]}
            return [raw("typst", f"#worded({quoted(said)}, "), math, raw("typst", ")")]
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
            data, suffix = fetched(node["c"][2][0], self.attached, self.folder, self.where)
            alt = text_of(node["c"][1]) or f"Drawing on sheet {self.sheet}"
            if paper:
                path = f"picture-{len(self.pictures) + 1}.{suffix}"
                self.pictures[path] = data
                return [raw("typst", f"#box(image({quoted(path)}, alt: {quoted(alt)}))")]
            address = f"data:{MEDIA[suffix]};base64,{base64.b64encode(data).decode()}"
            return [{"t": "Image", "c": [["", [], []], words_node(alt), [address, ""]]}]
        if kind == "Link":
            words = self._inside(node["c"][1], paper=paper)
            address = node["c"][2][0]
            if paper and address.startswith("#"):
                name = quoted(unquote_to_bytes(address[1:]).decode())
                return [*(words if isinstance(words, list) else [words]), raw("typst", f"#page-of({name})")]
            if re.match(r"(https?|mailto):", address):
                return [{"t": "Link", "c": [["", [], []], words, [address, ""]]}]
            return words if isinstance(words, list) else [words]
        if "c" in node:
            return [{**node, "c": self._inside(node["c"], paper=paper)}]
        return [node]

    def _place(self) -> str:
        return ", ".join(part for part in (self.sheet and f"sheet '{self.sheet}'", self.where) if part)
