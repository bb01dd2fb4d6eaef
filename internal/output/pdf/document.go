// Package pdf writes PDF files (ISO 32000-1, version 1.7): pages of text, lines and shapes, with embedded fonts, bookmarks,
// links and a structure tree for readers who can't see the page.
//
// Lengths are millimetres with the origin at the top left of a page, y down, so that a figure in millimetres comes out at true
// scale. It lays nothing out: output/sheet decides what stands where. The same calls give the same bytes: there is no clock
// and nothing random in it. Begin with New, Document.Page and the drawing calls of Page.
package pdf

import (
	"io"

	"drivewright/internal/output/typeface"
)

// Info is what the file says of itself.
type Info struct {
	Title    string
	Author   string
	Subject  string
	Producer string
	Language string // such as en-US
	Date     string // yyyy-mm-dd; anything else is left out
}

// Document is a PDF file in the making.
type Document struct {
	info      Info
	pages     []*Page
	root      *Element
	bookmarks []bookmark
	used      map[typeface.Face]map[uint16]rune // glyphs of each face that stand on a page, with their character
}

// New begins a document.
func New(info Info) *Document {
	return &Document{info: info, root: &Element{kind: "Document"}, used: map[typeface.Face]map[uint16]rune{}}
}

// Page adds a page of the size in millimetres.
func (d *Document) Page(width, height float64) *Page {
	p := &Page{document: d, width: width, height: height, number: len(d.pages)}
	d.pages = append(d.pages, p)
	return p
}

// Pages returns how many pages there are.
func (d *Document) Pages() int { return len(d.pages) }

// Root returns the root of the structure tree.
func (d *Document) Root() *Element { return d.root }

// bookmark is one entry of the outline.
type bookmark struct {
	level int
	title string
	to    *Place
}

// Bookmark adds an entry to the outline. Levels count from 1; a level more than one deeper than the entry before it counts as
// one deeper.
func (d *Document) Bookmark(level int, title string, to *Place) {
	if n := len(d.bookmarks); n == 0 {
		level = 1
	} else {
		level = min(max(level, 1), d.bookmarks[n-1].level+1)
	}
	d.bookmarks = append(d.bookmarks, bookmark{level, title, to})
}

// Place is where a bookmark or a link leads. A link may be made before its place is known: the place is filled in by Set.
type Place struct {
	page *Page
	y    float64
}

// Set says where the place is.
func (l *Place) Set(p *Page, y float64) { l.page, l.y = p, y }

// Element is one element of the structure tree: what a part of the page is, in reading order. Kinds are those of ISO 32000-1,
// 14.8.4: H1, P, Table, TR, TH, TD, L, LI, Lbl, LBody, Figure, Link.
type Element struct {
	kind     string
	alt      string
	children []any // *Element, content or *link
	object   int   // number of its PDF object, once written
}

// content is a stretch of a page that belongs to an element.
type content struct {
	page *Page
	id   int
}

// Add adds a child of the kind.
func (e *Element) Add(kind string) *Element {
	child := &Element{kind: kind}
	e.children = append(e.children, child)
	return child
}

// Alternative sets what is read out instead of a figure, and returns e.
func (e *Element) Alternative(text string) *Element {
	e.alt = text
	return e
}

// Write writes the file.
func (d *Document) Write(w io.Writer) error {
	return d.write(w)
}
