"""Tagged PDF (PDF/UA-1): the structure tree that a screen reader follows, and the pen that writes into it.

In: what is drawn, each stroke under an :class:`Element` of the tree or as an artifact. Out: a PDF document whose
structure tree, parent tree, page entries and metadata belong together. Sheets made so are "tagged for screen
readers"; nobody has certified them.

The tree is finished after the last page: one element may hold marks on several pages and a page's marks lead
back to their elements through the parent tree. A single child is written plainly, not as a list of one.
"""

from __future__ import annotations

import datetime
import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.utils import TimeStamp
from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from presenter.printing import fonts

__all__ = ["Element", "Pen"]


@dataclass
class _Mark:
    page: int
    number: int


@dataclass
class _Annotation:
    page: int
    name: str


@dataclass
class Element:
    """An element of the structure tree: a standard structure type and what it holds, in reading order.

    ``alternative`` stands for a figure, ``title`` names a block, ``scope`` is a header cell's ("Column", "Row"),
    ``box`` a figure's rectangle.
    """

    kind: str
    alternative: str = ""
    title: str = ""
    scope: str = ""
    numbering: str = ""
    spans: int = 1
    box: tuple[float, float, float, float] | None = None
    kids: list[tuple[float, Element | _Mark | _Annotation]] = field(default_factory=list)

    def child(self, kind: str, order: float = 0, **more: Any) -> Element:
        """A new element at the end of this one; ``order`` sorts children that are drawn out of order."""
        made = Element(kind, **more)
        self.kids.append((order, made))
        return made

    def number_kids(self) -> None:
        """Give the children the orders 0, 1, 2 …, so that others can be put between them."""
        self.kids = [(place, kid) for place, (_, kid) in enumerate(self.kids)]

    def full(self) -> bool:
        """Whether anything is drawn in it; an empty cell counts."""
        return self.kind in ("TD", "TH") or any(not isinstance(kid, Element) or kid.full() for _, kid in self.kids)


class Pen:
    """Draws on the pages of one document and remembers what each stroke belongs to."""

    def __init__(self, title: str, author: str, subject: str, language: str, date: datetime.date) -> None:
        fonts.ready()
        self._made_of = (title, author, subject, language, date)
        self._file = io.BytesIO()
        self.canvas: Any = Canvas(
            self._file,
            invariant=1,
            pageCompression=1,
            pdfVersion=(1, 7),
            initialFontName=fonts.REGULAR,
            lang=language,
        )
        self.root = Element("Document")
        self._page = 0
        self._marks: list[list[Element]] = [[]]
        self._links: list[tuple[Any, Element, int]] = []
        self._bookmarked: set[str] = set()

    # --- pages

    def start_page(self, size: tuple[float, float]) -> None:
        """Begin a page of ``size`` points."""
        self.canvas.setPageSize(size)

    def end_page(self) -> None:
        """Close the page and give it its place in the parent tree."""
        self.canvas.showPage()
        page = self.canvas._doc.Pages.pages[-1]
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents = self._page
        page.Tabs = pdfdoc.PDFName("S")
        self._page += 1
        self._marks.append([])

    # --- marked content

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """What is drawn inside is decoration or belongs to the page: a screen reader leaves it out."""
        self.canvas._code.append("/Artifact BMC")
        yield
        self.canvas._code.append("EMC")

    @contextmanager
    def marked(self, element: Element, order: float = 0) -> Iterator[None]:
        """What is drawn inside belongs to ``element``."""
        marks = self._marks[self._page]
        element.kids.append((order, _Mark(self._page, len(marks))))
        self.canvas._code.append(f"/{element.kind} <</MCID {len(marks)}>> BDC")
        marks.append(element)
        yield
        self.canvas._code.append("EMC")

    @contextmanager
    def spoken(self, words: str) -> Iterator[None]:
        """What is drawn inside is read as ``words``."""
        code = words.encode("utf-16-be").hex().upper()
        self.canvas._code.append(f"/Span <</ActualText <FEFF{code}>>> BDC")
        yield
        self.canvas._code.append("EMC")

    def link(self, element: Element, box: tuple[float, float, float, float], address: str, words: str) -> None:
        """Make the ``box`` a link to an address, or to "#bookmark"."""
        entry = pdfdoc.PDFDictionary(
            {
                "Type": pdfdoc.PDFName("Annot"),
                "Subtype": pdfdoc.PDFName("Link"),
                "Rect": pdfdoc.PDFArray([round(side, 2) for side in box]),
                "Border": pdfdoc.PDFArray([0, 0, 0]),
                "F": 4,
                "Contents": pdfdoc.PDFString(words),
            }
        )
        if address.startswith("#"):
            entry["Dest"] = self.canvas._bookmarkReference(address[1:])
        else:
            uri = {"Type": pdfdoc.PDFName("Action"), "S": pdfdoc.PDFName("URI"), "URI": pdfdoc.PDFString(address)}
            entry["A"] = pdfdoc.PDFDictionary(uri)
        name = f"link{len(self._links)}"
        self.canvas._addAnnotation(entry, name)
        element.kids.append((0, _Annotation(self._page, self.canvas._doc.annotationName(name))))
        self._links.append((entry, element, self._page))

    def bookmark(self, name: str, left: float, top: float) -> None:
        """A place that links and the outline can lead to."""
        if name not in self._bookmarked:
            self._bookmarked.add(name)
            self.canvas.bookmarkHorizontalAbsolute(name, top, left)

    # --- words and lines

    def words(self, x: float, y: float, runs: list[tuple[str, bool, str]], size: float) -> None:
        """Runs of (text, strong, colour) on one baseline, as one text object."""
        text = self.canvas.beginText(x, y)
        for run, strong, colour in runs:
            text.setFont(fonts.font_of(strong), size)
            text.setFillColor(HexColor(colour))
            text.textOut(run)
        self.canvas.drawText(text)

    def rule(self, x: float, y: float, length: float, thickness: float, colour: str) -> None:
        """A level line; the caller says whether it is an artifact."""
        self.canvas.saveState()
        self.canvas.setStrokeColor(HexColor(colour))
        self.canvas.setLineWidth(thickness)
        self.canvas.line(x, y, x + length, y)
        self.canvas.restoreState()

    # --- the end

    def finish(self, outline: list[tuple[str, str, int]]) -> bytes:
        """The document. ``outline`` lists (bookmark, words, level from 0) in reading order."""
        canvas, doc = self.canvas, self.canvas._doc
        for bookmark, words, level in outline:
            canvas.addOutlineEntry(words, bookmark, level)
        if outline:
            canvas.showOutline()
        title, author, subject, language, date = self._made_of
        canvas.setTitle(title)
        canvas.setAuthor(author)
        canvas.setSubject(subject)
        canvas.setCreator("historical-brewing-presenter")
        canvas.setViewerPreference("DisplayDocTitle", "true")
        doc._timeStamp = _stamp(date)
        doc.Catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": pdfdoc.PDFtrue})
        doc.Catalog.StructTreeRoot = self._tree()
        doc.Catalog.Metadata = _metadata(title, author, subject, language, date)
        doc.SaveToFile(self._file, canvas)
        return self._file.getvalue()

    def _tree(self) -> Any:
        doc = self.canvas._doc
        pages = [doc.Reference(page) for page in doc.Pages.pages]
        root = pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("StructTreeRoot")})
        root_at = doc.Reference(root, "structure")
        names: dict[int, Any] = {}

        def place(element: Element, parent: Any) -> Any:
            entry = pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("StructElem"), "S": pdfdoc.PDFName(element.kind)})
            here = names[id(element)] = doc.Reference(entry, f"structure{len(names)}")
            entry["P"] = parent
            for key, words in (("Alt", element.alternative), ("T", element.title)):
                if words:
                    entry[key] = pdfdoc.PDFString(words)
            attributes = _attributes(element)
            if attributes:
                entry["A"] = attributes
            kids = [kid for _, kid in sorted(element.kids, key=lambda pair: pair[0])]
            kids = [kid for kid in kids if not isinstance(kid, Element) or kid.full()]
            marks = [kid for kid in kids if isinstance(kid, _Mark)]
            home = marks[0].page if marks else None
            if home is not None:
                entry["Pg"] = pages[home]
            written: list[Any] = []
            for kid in kids:
                if isinstance(kid, Element):
                    written.append(place(kid, here))
                elif isinstance(kid, _Annotation):
                    thing = {
                        "Type": pdfdoc.PDFName("OBJR"),
                        "Obj": pdfdoc.PDFObjectReference(kid.name),
                        "Pg": pages[kid.page],
                    }
                    written.append(pdfdoc.PDFDictionary(thing))
                elif kid.page == home:
                    written.append(kid.number)
                else:
                    thing = {"Type": pdfdoc.PDFName("MCR"), "Pg": pages[kid.page], "MCID": kid.number}
                    written.append(pdfdoc.PDFDictionary(thing))
            if written:
                entry["K"] = written[0] if len(written) == 1 else pdfdoc.PDFArray(written)
            return here

        root["K"] = place(self.root, root_at)
        numbers: list[Any] = []
        for page in range(self._page):
            owners = pdfdoc.PDFArray([names[id(owner)] for owner in self._marks[page]])
            numbers += [page, doc.Reference(owners, f"parents{page}")]
        for place_in_tree, (entry, element, _) in enumerate(self._links, self._page):
            entry["StructParent"] = place_in_tree
            numbers += [place_in_tree, names[id(element)]]
        tree = pdfdoc.PDFDictionary({"Nums": pdfdoc.PDFArray(numbers)})
        root["ParentTree"] = doc.Reference(tree, "parents")
        root["ParentTreeNextKey"] = self._page + len(self._links)
        return root


def _attributes(element: Element) -> Any:
    def of(owner: str, **more: Any) -> Any:
        return pdfdoc.PDFDictionary({"O": pdfdoc.PDFName(owner), **more})

    if element.scope:
        return of("Table", Scope=pdfdoc.PDFName(element.scope))
    if element.numbering:
        return of("List", ListNumbering=pdfdoc.PDFName(element.numbering))
    if element.box is not None:
        box = pdfdoc.PDFArray([round(side, 2) for side in element.box])
        return of("Layout", BBox=box, Placement=pdfdoc.PDFName("Block"))
    return None


def _stamp(date: datetime.date) -> Any:
    """The time stamp of the document: noon, universal time, on the lesson's date; never the clock."""
    stamp = TimeStamp(invariant=1)
    moment = datetime.datetime(date.year, date.month, date.day, 12, tzinfo=datetime.UTC)
    stamp.t, stamp.lt, stamp.YMDhms = moment.timestamp(), moment.timetuple(), tuple(moment.timetuple())[:6]
    return stamp


def _metadata(title: str, author: str, subject: str, language: str, date: datetime.date) -> Any:
    when = f"{date.isoformat()}T12:00:00Z"
    text = f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{escape(title)}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{escape(author)}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{escape(subject)}</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>{escape(language)}</rdf:li></rdf:Bag></dc:language>
<xmp:CreateDate>{when}</xmp:CreateDate><xmp:ModifyDate>{when}</xmp:ModifyDate>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>
"""
    stream = pdfdoc.PDFStream(content=text.encode("utf-8"))
    stream.dictionary["Type"] = pdfdoc.PDFName("Metadata")
    stream.dictionary["Subtype"] = pdfdoc.PDFName("XML")
    stream.filters = []
    return stream
