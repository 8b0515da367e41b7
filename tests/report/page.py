"""Reads a page as a browser would: its tree, its words and its numbers."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser


@dataclass
class Node:
    """An element."""

    tag: str
    attributes: dict[str, str | None]
    parent: Node | None = None
    children: list[Node] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All words in it, in order."""
        return "".join(self.words)

    def all(self, *tags: str) -> list[Node]:
        """Every element of these names under it."""
        found = []
        for child in self.children:
            if child.tag in tags:
                found.append(child)
            found += child.all(*tags)
        return found

    def within(self, tag: str) -> bool:
        """Whether it stands in an element of this name."""
        node = self.parent
        while node is not None:
            if node.tag == tag:
                return True
            node = node.parent
        return False


class Page(HTMLParser):
    """A page; ``faults`` has every tag that is not closed where it should be."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Node("", {})
        self.here = self.root
        self.faults: list[str] = []
        self.feed(text)
        self.close()
        if self.here is not self.root:
            self.faults.append(f"{self.here.tag} is never closed")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        twice = [name for name, count in Counter(name for name, _ in attrs).items() if count > 1]
        self.faults += [f"{tag} has {name} twice" for name in twice]
        node = Node(tag, dict(attrs), self.here)
        self.here.children.append(node)
        if tag not in ("meta", "br", "hr", "img"):
            self.here = node

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.here.children.append(Node(tag, dict(attrs), self.here))

    def handle_endtag(self, tag: str) -> None:
        if self.here.tag != tag:
            self.faults.append(f"</{tag}> closes {self.here.tag} at {self.getpos()}")
        if self.here.parent is not None:
            self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        node: Node | None = self.here
        while node is not None:
            node.words.append(data)
            node = node.parent
