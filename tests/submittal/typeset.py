"""A reader of the typesetter's own understanding of an equation: its content tree, worked out on numbers."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Any

from rackbook.trace import maths

_FUNCTIONS = {
    "exp": maths.exp, "ln": maths.log, "sin": maths.sin, "cos": maths.cos, "tan": maths.tan, "∑": maths.sum, "max": maths.max,
    "min": maths.min, "arcsin": maths.asin, "arccos": maths.acos, "arctan": maths.atan, "abs": maths.abs, "log10": maths.log10,
}  # fmt: skip
_CLOSING = {"(": ")", "|": "|", "⌈": "⌉"}
_ACCENTS = {"\u0304": "bar"}


class Unread(Exception):
    """The tree holds something that the reader does not know; nothing is guessed."""


def flat(node: Any) -> list[Any]:
    """Return the parts of a tree in their order, without the spaces between them."""
    if node is None:
        return []
    kind = node["func"]
    if kind in ("space", "h", "linebreak", "align-point"):
        return []
    if kind == "sequence":
        return [part for child in node["children"] for part in flat(child)]
    if kind == "styled":
        return flat(node["child"])
    return [node]


def word(node: Any) -> str:
    """Return a tree as the letters a reader sees, scripts behind their base; a bar over a letter as ``bar``."""
    kind = node["func"]
    if kind in ("symbol", "text"):
        return unicodedata.normalize("NFKC", node["text"])
    if kind == "op":
        return word(node["text"])
    if kind == "attach" and "t" not in node:
        return "".join(word(node[key]) for key in ("base", "b", "tr") if node.get(key))
    if kind == "primes":
        return "'" * node["count"]
    if kind == "accent" and node["accent"] in _ACCENTS:
        return word(node["base"]) + _ACCENTS[node["accent"]]
    if kind in ("sequence", "styled"):
        return "".join(map(word, flat(node)))
    raise Unread(f"a {kind} where a symbol stands")


def sides(body: Any) -> list[list[Any]]:
    """Return the parts of an equation between its signs of equality."""
    out: list[list[Any]] = [[]]
    for part in flat(body):
        if part["func"] == "symbol" and part["text"] == "=":
            out.append([])
        else:
            out[-1].append(part)
    return out


class Reading:
    """One side of an equation, read as it is set.

    Args:
        parts: The parts of the side.
        symbols: What each symbol, as a word, stands for.

    """

    def __init__(self, parts: list[Any], symbols: Mapping[str, float]) -> None:
        self.parts, self.at, self.symbols = parts, 0, symbols

    def value(self) -> Any:
        """Return what all the parts say."""
        result = self.sum()
        if self.at < len(self.parts):
            raise Unread(f"{self.parts[self.at]['func']} left over")
        return result

    def within(self, node: Any) -> Any:
        """Return what a part of a part says."""
        return Reading(flat(node), self.symbols).value()

    def take(self, sign: str) -> bool:
        """Take a sign if it comes next."""
        found = self.at < len(self.parts) and self.parts[self.at].get("text") == sign
        self.at += found
        return found

    def sum(self) -> Any:
        """Read terms between plus and minus signs."""
        result = -self.product() if self.take("−") else self.product()
        while self.at < len(self.parts):
            if self.take("+"):
                result = result + self.product()
            elif self.take("−"):
                result = result - self.product()
            else:
                break
        return result

    def product(self) -> Any:
        """Read factors between dots; side by side is no product."""
        result = self.factor()
        while self.take("⋅"):
            result = result * self.factor()
        return result

    def factor(self) -> Any:
        """Read one part, and the bracket behind a function."""
        if self.at == len(self.parts):
            raise Unread("nothing where a number stands")
        node = self.parts[self.at]
        self.at += 1
        try:
            function = _FUNCTIONS.get(word(node))
        except Unread:
            function = None
        if function is None:
            return self.one(node)
        self.at += 1
        return function(*self.arguments(self.parts[self.at - 1]))

    def one(self, node: Any) -> Any:
        """Read a number, a symbol, a fraction, a root, a power or a bracket."""
        kind = node["func"]
        if kind == "frac":
            return self.within(node["num"]) / self.within(node["denom"])
        if kind == "root" and not node.get("index"):
            return maths.sqrt(self.within(node["radicand"]))
        if kind == "attach" and "t" in node:
            base = {k: v for k, v in node.items() if k != "t"}
            return self.one(base if len(base) > 2 else node["base"]) ** self.within(node["t"])
        if kind == "lr":
            (inside,) = self.arguments(node)
            return {"(": lambda x: x, "|": maths.abs, "⌈": maths.ceil}[flat(node["body"])[0]["text"]](inside)
        name = word(node)
        if name in self.symbols:
            return self.symbols[name]
        if name == "π":
            return maths.pi
        try:
            return float(name.replace(",", ""))
        except ValueError:
            raise Unread(f"'{name}' stands for nothing") from None

    def arguments(self, node: Any) -> list[Any]:
        """Read what stands in brackets, parts between commas."""
        parts = flat(node["body"]) if node["func"] == "lr" else []
        if not parts or _CLOSING.get(parts[0].get("text")) != parts[-1].get("text"):
            raise Unread(f"{node['func']} where a bracket stands")
        lists: list[list[Any]] = [[]]
        for part in parts[1:-1]:
            if part.get("text") == ",":
                lists.append([])
            else:
                lists[-1].append(part)
        return [Reading(each, self.symbols).value() for each in lists]
