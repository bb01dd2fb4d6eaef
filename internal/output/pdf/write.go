package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf16"

	"drivewright/internal/output/typeface"
)

// file collects the numbered objects of a PDF.
type file struct {
	objects [][]byte // object n is at n-1; nil while it is only reserved
	streams map[int]bool
	packer  *zlib.Writer // made once: a new one takes over a megabyte
}

// reserve returns a number for an object that is written later.
func (f *file) reserve() int {
	f.objects = append(f.objects, nil)
	return len(f.objects)
}

// put writes the object of the number.
func (f *file) put(number int, format string, arguments ...any) {
	f.objects[number-1] = fmt.Appendf(nil, format, arguments...)
}

// add writes an object and returns its number.
func (f *file) add(format string, arguments ...any) int {
	n := f.reserve()
	f.put(n, format, arguments...)
	return n
}

// stream writes a compressed stream with further entries in its dictionary.
func (f *file) stream(entries string, data []byte) (int, error) {
	var packed bytes.Buffer
	if f.packer == nil {
		f.packer = zlib.NewWriter(&packed)
	} else {
		f.packer.Reset(&packed)
	}
	if _, err := f.packer.Write(data); err != nil {
		return 0, err
	}
	if err := f.packer.Close(); err != nil {
		return 0, err
	}
	n := f.add("<< %s /Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream", entries, packed.Len(), packed.Bytes())
	f.streams[n] = true
	return n, nil
}

func (d *Document) write(w io.Writer) error {
	f := &file{streams: map[int]bool{}}
	catalog, pages := f.reserve(), f.reserve()
	fonts, err := d.writeFonts(f)
	if err != nil {
		return err
	}
	numbers := make([]int, len(d.pages))
	for n := range d.pages {
		numbers[n] = f.reserve()
	}
	var links []*link // those that lead somewhere; their keys in the way back follow the pages'
	for _, p := range d.pages {
		for _, l := range p.links {
			if l.to.page != nil {
				l.object = f.reserve()
				links = append(links, l)
			}
		}
	}
	tree := d.writeStructure(f, numbers, links)
	for n, l := range links {
		l.write(f, len(d.pages)+n, numbers)
	}
	var kids strings.Builder
	for n, p := range d.pages {
		p.End()
		stream, err := f.stream("", p.ops)
		if err != nil {
			return err
		}
		f.put(numbers[n], "<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources << /Font << %s >> >> /Contents %d 0 R /StructParents %d /Tabs /S%s >>",
			pages, number(p.width*Millimetre), number(p.height*Millimetre), fonts, stream, n, p.annotations())
		fmt.Fprintf(&kids, "%d 0 R ", numbers[n])
	}
	f.put(pages, "<< /Type /Pages /Count %d /Kids [%s] >>", len(d.pages), strings.TrimSpace(kids.String()))
	outline := d.writeOutline(f, numbers)
	language := ""
	if d.info.Language != "" {
		language = " /Lang " + textString(d.info.Language)
	}
	// PrintScaling None: a reader that fits pages to paper would spoil true-scale figures.
	f.put(catalog, "<< /Type /Catalog /Version /1.7 /Pages %d 0 R /StructTreeRoot %d 0 R /MarkInfo << /Marked true >>%s%s /ViewerPreferences << /DisplayDocTitle true /PrintScaling /None >> >>",
		pages, tree, outline, language)
	return f.finish(w, catalog, d.writeInfo(f))
}

// finish writes header, objects and cross-references. Objects that aren't streams are packed together (ISO 32000-1, 7.5.7),
// which halves the file: most of it is structure. The file's identifier is a digest of its content.
func (f *file) finish(w io.Writer, catalog, info int) error {
	const perPack = 200
	type place struct{ kind, at, index int } // kind 1: at the offset; 2: the index in the packed object
	var small []int
	for n := range f.objects {
		if !f.streams[n+1] {
			small = append(small, n+1)
		}
	}
	places := map[int]place{}
	for pack := range slices.Chunk(small, perPack) {
		var head, body bytes.Buffer
		number := len(f.objects) + 1
		for n, object := range pack {
			fmt.Fprintf(&head, "%d %d ", object, body.Len())
			body.Write(f.objects[object-1])
			body.WriteByte('\n')
			places[object] = place{2, number, n}
		}
		if _, err := f.stream(fmt.Sprintf("/Type /ObjStm /N %d /First %d", len(pack), head.Len()), append(head.Bytes(), body.Bytes()...)); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	out.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	for n, object := range f.objects {
		if f.streams[n+1] {
			places[n+1] = place{1, out.Len(), 0}
			fmt.Fprintf(&out, "%d 0 obj\n%s\nendobj\n", n+1, object)
		}
	}
	digest := sha256.Sum256(out.Bytes())
	start := out.Len()
	table := []byte{0, 0, 0, 0, 0, 255, 255} // object 0 heads the list of free ones
	for n := range f.objects {
		p := places[n+1]
		table = append(table, byte(p.kind), byte(p.at>>24), byte(p.at>>16), byte(p.at>>8), byte(p.at), byte(p.index>>8), byte(p.index))
	}
	self := len(f.objects) + 1
	table = append(table, 1, byte(start>>24), byte(start>>16), byte(start>>8), byte(start), 0, 0)
	if _, err := f.stream(fmt.Sprintf("/Type /XRef /Size %d /W [1 4 2] /Root %d 0 R /Info %d 0 R /ID [<%X> <%X>]", self+1, catalog, info, digest[:16], digest[:16]), table); err != nil {
		return err
	}
	fmt.Fprintf(&out, "%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n", self, f.objects[self-1], start)
	_, err := w.Write(out.Bytes())
	return err
}

func (d *Document) writeInfo(f *file) int {
	var entries strings.Builder
	for _, e := range []struct{ key, text string }{
		{"Title", d.info.Title}, {"Author", d.info.Author}, {"Subject", d.info.Subject}, {"Producer", d.info.Producer}, {"Creator", d.info.Producer},
	} {
		if e.text != "" {
			fmt.Fprintf(&entries, " /%s %s", e.key, textString(e.text))
		}
	}
	if date := strings.ReplaceAll(d.info.Date, "-", ""); len(date) == 8 && strings.Trim(date, "0123456789") == "" {
		fmt.Fprintf(&entries, " /CreationDate (D:%s000000Z) /ModDate (D:%s000000Z)", date, date)
	}
	return f.add("<<%s >>", entries.String())
}

// writeFonts writes each used face with the glyphs that are used, and returns the entries of the font dictionary.
func (d *Document) writeFonts(f *file) (string, error) {
	var entries strings.Builder
	for _, face := range typeface.Faces {
		used := d.used[face]
		if len(used) == 0 {
			continue
		}
		glyphs := slices.Sorted(maps.Keys(used))
		digest := sha256.New()
		var widths, characters strings.Builder
		for n, g := range glyphs {
			fmt.Fprintf(&widths, "%d [%d] ", g, face.Advance(g))
			if n%100 == 0 {
				if n > 0 {
					characters.WriteString("endbfchar\n")
				}
				fmt.Fprintf(&characters, "%d beginbfchar\n", min(100, len(glyphs)-n))
			}
			fmt.Fprintf(&characters, "<%04X> <%X>\n", g, utf16Bytes(string(used[g])))
			fmt.Fprintf(digest, "%d,", g)
		}
		characters.WriteString("endbfchar\n")
		sum := digest.Sum(nil)
		tag := make([]byte, 6) // names the subset, as ISO 32000-1, 9.6.4 asks
		for n := range tag {
			tag[n] = 'A' + sum[n]%26
		}
		name := string(tag) + "+" + face.Name()
		program, err := f.stream("", face.Subset(glyphs))
		if err != nil {
			return "", err
		}
		unicode, err := f.stream("", []byte("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"+
			"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"+
			"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"+characters.String()+
			"endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"))
		if err != nil {
			return "", err
		}
		const sansSymbolic, italicBit, fixedBit = 4, 64, 1
		flags, angle := sansSymbolic, 0
		switch face {
		case typeface.Italic:
			flags, angle = flags|italicBit, -11
		case typeface.Mono:
			flags |= fixedBit
		}
		box := face.Box()
		descriptor := f.add("<< /Type /FontDescriptor /FontName /%s /Flags %d /FontBBox [%d %d %d %d] /ItalicAngle %d /Ascent 750 /Descent -%d /CapHeight %d /XHeight %d /StemV 84 /FontFile2 %d 0 R >>",
			name, flags, box[0], box[1], box[2], box[3], angle, int(typeface.Descent*1000), int(typeface.CapHeight*1000), int(typeface.XHeight*1000), program)
		descendant := f.add("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %d 0 R /CIDToGIDMap /Identity /DW 1000 /W [%s] >>",
			name, descriptor, strings.TrimSpace(widths.String()))
		font := f.add("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%d 0 R] /ToUnicode %d 0 R >>", name, descendant, unicode)
		fmt.Fprintf(&entries, "/F%d %d 0 R ", int(face)+1, font)
	}
	return strings.TrimSpace(entries.String()), nil
}

// annotations returns the entry of the page's dictionary for its links. Links to places that were never set are left out.
func (p *Page) annotations() string {
	var list strings.Builder
	for _, l := range p.links {
		if l.object != 0 {
			fmt.Fprintf(&list, "%d 0 R ", l.object)
		}
	}
	if list.Len() == 0 {
		return ""
	}
	return " /Annots [" + strings.TrimSpace(list.String()) + "]"
}

// write writes the link's annotation.
func (l *link) write(f *file, key int, pages []int) {
	height := l.page.height
	f.put(l.object, "<< /Type /Annot /Subtype /Link /Rect [%s %s %s %s] /Border [0 0 0] /F 4 /StructParent %d /Dest %s >>",
		number(l.x*Millimetre), number((height-l.y-l.h)*Millimetre), number((l.x+l.w)*Millimetre), number((height-l.y)*Millimetre), key, l.to.destination(pages))
}

// destination returns the place as an explicit destination that keeps the reader's zoom.
func (l *Place) destination(pages []int) string {
	return fmt.Sprintf("[%d 0 R /XYZ null %s null]", pages[l.page.number], number((l.page.height-l.y)*Millimetre))
}

// writeOutline writes the bookmarks and returns the entries of the catalogue.
func (d *Document) writeOutline(f *file, pages []int) string {
	if len(d.bookmarks) == 0 {
		return ""
	}
	type node struct {
		object, parent, previous, next, first, last, count int
	}
	root := f.reserve()
	nodes := make([]node, len(d.bookmarks))
	top := node{object: root}
	at := []*node{&top} // the open node at each level
	for n, b := range d.bookmarks {
		nodes[n].object = f.reserve()
		at = at[:b.level]
		parent := at[b.level-1]
		nodes[n].parent = parent.object
		if parent.last != 0 {
			nodes[n].previous = parent.last
			for m := range n {
				if nodes[m].object == parent.last {
					nodes[m].next = nodes[n].object
				}
			}
		} else {
			parent.first = nodes[n].object
		}
		parent.last = nodes[n].object
		for _, above := range at {
			above.count++
		}
		at = append(at, &nodes[n])
	}
	for n, b := range d.bookmarks {
		var more strings.Builder
		for _, e := range []struct {
			key    string
			object int
		}{{"Prev", nodes[n].previous}, {"Next", nodes[n].next}, {"First", nodes[n].first}, {"Last", nodes[n].last}} {
			if e.object != 0 {
				fmt.Fprintf(&more, " /%s %d 0 R", e.key, e.object)
			}
		}
		if nodes[n].count > 0 {
			fmt.Fprintf(&more, " /Count %d", nodes[n].count)
		}
		if b.to.page != nil {
			fmt.Fprintf(&more, " /Dest %s", b.to.destination(pages))
		}
		f.put(nodes[n].object, "<< /Title %s /Parent %d 0 R%s >>", textString(b.title), nodes[n].parent, more.String())
	}
	f.put(root, "<< /Type /Outlines /First %d 0 R /Last %d 0 R /Count %d >>", top.first, top.last, top.count)
	return fmt.Sprintf(" /Outlines %d 0 R /PageMode /UseOutlines", root)
}

// writeStructure writes the structure tree and the way back from each page's marked stretches to it, and returns the
// tree's root.
func (d *Document) writeStructure(f *file, pages []int, links []*link) int {
	tree := f.reserve()
	d.root.number(f)
	d.root.write(f, tree, pages)
	var parents strings.Builder
	for n, p := range d.pages {
		var owners strings.Builder
		for _, e := range p.owners {
			fmt.Fprintf(&owners, "%d 0 R ", e.object)
		}
		fmt.Fprintf(&parents, "%d [%s] ", n, strings.TrimSpace(owners.String()))
	}
	for n, l := range links {
		fmt.Fprintf(&parents, "%d %d 0 R ", len(d.pages)+n, l.element.object)
	}
	parentTree := f.add("<< /Nums [%s] >>", strings.TrimSpace(parents.String()))
	f.put(tree, "<< /Type /StructTreeRoot /K [%d 0 R] /ParentTree %d 0 R /ParentTreeNextKey %d >>", d.root.object, parentTree, len(d.pages)+len(links))
	return tree
}

// number reserves objects for the element and all below it.
func (e *Element) number(f *file) {
	e.object = f.reserve()
	for _, c := range e.children {
		if child, ok := c.(*Element); ok {
			child.number(f)
		}
	}
}

func (e *Element) write(f *file, parent int, pages []int) {
	var kids strings.Builder
	for _, c := range e.children {
		switch c := c.(type) {
		case *Element:
			c.write(f, e.object, pages)
			fmt.Fprintf(&kids, "%d 0 R ", c.object)
		case content:
			fmt.Fprintf(&kids, "<< /Type /MCR /Pg %d 0 R /MCID %d >> ", pages[c.page.number], c.id)
		case *link:
			if c.object != 0 {
				fmt.Fprintf(&kids, "<< /Type /OBJR /Pg %d 0 R /Obj %d 0 R >> ", pages[c.page.number], c.object)
			}
		}
	}
	more := ""
	if e.alt != "" {
		more += " /Alt " + textString(e.alt)
	}
	switch e.kind {
	case "TH":
		more += " /A << /O /Table /Scope /Column >>"
	case "Figure":
		more += " /A << /O /Layout /Placement /Block >>"
	}
	f.put(e.object, "<< /Type /StructElem /S /%s /P %d 0 R /K [%s]%s >>", e.kind, parent, strings.TrimSpace(kids.String()), more)
}

// textString writes a text of the file's own entries: as it is if it is plain ASCII, else in UTF-16.
func textString(text string) string {
	plain := true
	for _, r := range text {
		plain = plain && r >= ' ' && r < 0x7F
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(text) + ")"
	}
	return fmt.Sprintf("<FEFF%X>", utf16Bytes(text))
}

func utf16Bytes(text string) []byte {
	var b []byte
	for _, u := range utf16.Encode([]rune(text)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return b
}

func number(x float64) string { return string(appendNumber(nil, x)) }
