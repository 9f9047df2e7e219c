"""A drawing as a reader sees it: every text with the room its letters take, every named figure, read from the SVG itself.

Nothing here asks the library that drew it: letters are the outlines stored in the SVG, placed by its own transforms.
"""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import numpy as np

SVG, LINK = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
NUMBER = re.compile(r"[-+]?\d*\.?\d+(?:e[-+]?\d+)?")
#: Words written in one piece take up to this much of each other's side bearings [in].
TOUCH = 0.002


@dataclass(frozen=True)
class Room:
    """Words and the rectangle of paper they take, inches from the upper left corner."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Room) -> bool:
        return (
            self.left < other.right - TOUCH
            and other.left < self.right - TOUCH
            and self.top < other.bottom - TOUCH
            and other.top < self.bottom - TOUCH
        )


class Seen:
    """What is on the paper of one SVG."""

    def __init__(self, svg: str) -> None:
        parser = ET.XMLParser(target=ET.TreeBuilder(insert_comments=True))
        self.root = ET.fromstring(svg.encode(), parser)
        self.width, self.height = (float(self.root.get(n).removesuffix("pt")) / 72 for n in ("width", "height"))
        self.letters = {
            node.get("id"): _moved(_matrix(node.get("transform", "")), _points(node.get("d", "")))
            for node in self.root.iter(f"{SVG}path")
            if "DejaVu" in (node.get("id") or "")
        }
        self.texts = [self._room(g) for g in self.root.iter(f"{SVG}g") if (g.get("id") or "").startswith("text_")]

    @property
    def words(self) -> list[str]:
        return [t.words for t in self.texts]

    @property
    def said(self) -> str:
        return "\n".join(self.words)

    def clashes(self) -> list[tuple[str, str]]:
        """Return every pair of texts that overlap."""
        return [(a.words, b.words) for a, b in itertools.combinations(self.texts, 2) if a.meets(b)]

    def clipped(self) -> list[str]:
        """Return every text that does not stand whole on the paper."""
        return [t.words for t in self.texts if t.left < 0 or t.top < 0 or t.right > self.width or t.bottom > self.height]

    def smallest(self) -> float:
        """Return the size of the smallest letters [pt]."""
        sizes = []
        for group in self.root.iter(f"{SVG}g"):
            found = re.search(r"scale\(([\d.]+) -", group.get("transform", ""))
            if found:
                sizes.append(float(found.group(1)) * 100)
        return min(sizes)

    def points(self, name: str) -> np.ndarray:
        """Return the corners of a named figure, inches of paper from the upper left corner."""
        (group,) = [g for g in self.root.iter(f"{SVG}g") if g.get("id") == name]
        return np.vstack([_points(p.get("d")) for p in group.iter(f"{SVG}path")]) / 72

    def style(self, name: str) -> str:
        """Return how a named figure is drawn."""
        (group,) = [g for g in self.root.iter(f"{SVG}g") if g.get("id") == name]
        return next(p.get("style") for p in group.iter(f"{SVG}path"))

    def figure(self, name: str) -> tuple[float, float, float, float]:
        """Return left, top, width and height of a named figure, inches of paper."""
        points = self.points(name)
        low, high = points.min(axis=0), points.max(axis=0)
        return (*low, *(high - low))

    def names(self) -> list[str]:
        return [g.get("id") for g in self.root.iter(f"{SVG}g") if g.get("id")]

    def _room(self, group: ET.Element) -> Room:
        words = next((c.text.strip() for c in group.iter() if c.tag is ET.Comment), "")
        found = []
        for node in group.iter(f"{SVG}g"):
            if "scale(" not in node.get("transform", ""):
                continue
            outer = _matrix(node.get("transform"))
            for use in node.iter(f"{SVG}use"):
                letter = self.letters[use.get(LINK).removeprefix("#")]
                if len(letter):
                    inner = _matrix(use.get("transform", ""))
                    found.append(_moved(outer @ inner, letter))
        if not found:
            return Room(words, 0, 0, 0, 0)
        points = np.vstack(found) / 72
        (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
        return Room(words, left, top, right, bottom)


def _points(path: str) -> np.ndarray:
    """Return the corners and control points of a path of absolute commands (curves stay between them)."""
    return np.array([float(n) for n in NUMBER.findall(path)]).reshape(-1, 2)


def _moved(matrix: np.ndarray, points: np.ndarray) -> np.ndarray:
    return points @ matrix[:2, :2].T + matrix[:2, 2]


def _matrix(transform: str) -> np.ndarray:
    made = np.eye(3)
    for name, inside in re.findall(r"(\w+)\(([^)]*)\)", transform):
        n = [float(x) for x in NUMBER.findall(inside)]
        step = np.eye(3)
        if name == "translate":
            step[:2, 2] = n[0], n[1] if len(n) > 1 else 0
        elif name == "scale":
            step[0, 0], step[1, 1] = n[0], n[-1]
        elif name == "rotate":
            c, s = np.cos(np.radians(n[0])), np.sin(np.radians(n[0]))
            step[:2, :2] = [[c, -s], [s, c]]
        else:
            raise AssertionError(name)
        made = made @ step
    return made
