"""SVG as matplotlib leaves it, made into what a page and a sheet of paper need: only what is seen, and small.

What lays out paper walks every element and reads every style as a style sheet of its own, so that groups without a
meaning and invisible shapes would take a third of a record's time.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

_SVG, _LINK = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
_TO_ID = re.compile(r"(?<=url\(#)[^)]+|(?<=^#).+")
#: What matplotlib's style sheet says of all elements.
_LINES = {"stroke-linejoin": "round", "stroke-linecap": "butt"}
#: Elements that are nothing when nothing is in them.
_HOLDERS = ("g", "defs")


def embedded(text: str, name: str) -> str:
    """The ``<svg>`` element of a file, to stand within a page; ids begin with ``name``, the page gives the size."""
    root = ElementTree.fromstring(text)
    root.attrib = {"viewBox": root.attrib["viewBox"], "aria-hidden": "true", "focusable": "false", **_LINES}
    for element in root.iter():
        element.tag = element.tag.removeprefix(_SVG)
        element.tail = None
        if element.tag != "text":
            element.text = None
        if _LINK in element.attrib:
            element.set("href", element.attrib.pop(_LINK))
    _rename(root, name)
    _thin(root)
    return ElementTree.tostring(root, encoding="unicode")


def of_its_own(text: str, title: str, says: str) -> str:
    """An embedded element as a file: with title and description, and styles as attributes."""
    root = ElementTree.fromstring(text)
    for element in root.iter():
        for declared in filter(str.strip, element.attrib.pop("style", "").split(";")):
            name, _, value = declared.partition(":")
            element.set(name.strip(), value.strip())
    for name in ("aria-hidden", "focusable"):
        del root.attrib[name]
    root.attrib |= {"role": "img", "xmlns": "http://www.w3.org/2000/svg"}
    for place, (tag, words) in enumerate((("title", title), ("desc", says))):
        said = Element(tag)
        said.text = words
        root.insert(place, said)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{ElementTree.tostring(root, encoding="unicode")}\n'


def _rename(root: Element, name: str) -> None:
    """Ids that something refers to are the picture's own; others go."""
    wanted = set()
    for element in root.iter():
        for key, value in element.attrib.items():
            if key != "id" and (found := _TO_ID.search(value)):
                wanted.add(found[0])
                element.set(key, _TO_ID.sub(rf"{name}-\g<0>", value))
    for element in root.iter():
        if (mark := element.attrib.pop("id", None)) in wanted:
            element.set("id", f"{name}-{mark}")


def _thin(element: Element) -> None:
    """Without style sheet, metadata, shapes that are not seen and groups that say nothing."""
    kept: list[Element] = []
    for child in element:
        _thin(child)
        if child.tag in ("style", "metadata") or _unseen(child):
            continue
        kept += child if child.tag == "g" and not child.attrib else [child]
    element[:] = kept


def _unseen(element: Element) -> bool:
    if element.tag in _HOLDERS:
        return not len(element)
    return element.tag == "path" and "id" not in element.attrib and element.get("style") == "fill: none"
