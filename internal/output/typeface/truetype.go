package typeface

import (
	"encoding/binary"
	"errors"
	"sort"
)

// tables is what is read from a TrueType file. Source of the layout: ISO/IEC 14496-22 (Open Font Format), clause 5.
type tables struct {
	raw        map[string][]byte
	unitsPerEm int
	box        [4]int
	longOffset bool // of the loca table
	advances   []uint16
	glyphs     map[rune]uint16
	// common are the advance widths of the characters below it, which nearly all are, so that measuring needs no map.
	common [0x250]uint16
	// kerns is by how much a pair of ASCII characters moves together, in font units; nil for a face without.
	kerns *[128][128]int16
}

var errFont = errors.New("not a TrueType font that is understood here")

// glyph returns the number of the character's glyph, 0 if there is none.
func (t *tables) glyph(r rune) uint16 { return t.glyphs[r] }

// advance returns the glyph's advance width in font units.
func (t *tables) advance(glyph uint16) uint16 {
	if len(t.advances) == 0 {
		return 0
	}
	return t.advances[min(int(glyph), len(t.advances)-1)]
}

// parse reads the tables that setting and subsetting need.
func parse(data []byte) (*tables, error) {
	t := &tables{raw: map[string][]byte{}, glyphs: map[rune]uint16{}}
	if len(data) < 12 {
		return nil, errFont
	}
	for n := range int(u16(data, 4)) {
		entry := 12 + 16*n
		if entry+16 > len(data) {
			return nil, errFont
		}
		offset, length := int(u32(data, entry+8)), int(u32(data, entry+12))
		if offset+length > len(data) {
			return nil, errFont
		}
		t.raw[string(data[entry:entry+4])] = data[offset : offset+length]
	}
	for _, name := range []string{"head", "hhea", "hmtx", "maxp", "cmap", "loca", "glyf"} {
		if t.raw[name] == nil {
			return nil, errFont
		}
	}
	head := t.raw["head"]
	t.unitsPerEm = int(u16(head, 18))
	t.longOffset = u16(head, 50) != 0
	for n := range t.box {
		t.box[n] = int(int16(u16(head, 36+2*n))) * 1000 / t.unitsPerEm
	}
	measured := int(u16(t.raw["hhea"], 34))
	hmtx := t.raw["hmtx"]
	if len(hmtx) < 4*measured || measured == 0 {
		return nil, errFont
	}
	for n := range measured {
		t.advances = append(t.advances, u16(hmtx, 4*n))
	}
	if err := t.readCharacters(); err != nil {
		return nil, err
	}
	for r := range t.common {
		t.common[r] = t.advance(t.glyph(rune(r)))
	}
	t.readKerning()
	return t, nil
}

// readKerning reads the pairs of ASCII characters in the first subtable of the kern table (format 0), if there is one.
func (t *tables) readKerning() {
	kern := t.raw["kern"]
	if len(kern) < 18 || u16(kern, 2) == 0 || u16(kern, 8)>>8 != 0 {
		return
	}
	characters := map[uint16]rune{}
	for r := range rune(128) {
		if g := t.glyph(r); g != 0 {
			characters[g] = r
		}
	}
	t.kerns = &[128][128]int16{}
	for n := range int(u16(kern, 10)) {
		left, ok := characters[u16(kern, 18+6*n)]
		right, too := characters[u16(kern, 20+6*n)]
		if ok && too {
			t.kerns[left][right] = int16(u16(kern, 22+6*n))
		}
	}
}

// kern returns by how much the pair moves together.
func (t *tables) kern(left, right rune) int {
	if t.kerns == nil || left >= 128 || right >= 128 {
		return 0
	}
	return int(t.kerns[left][right])
}

// readCharacters reads the character map: the segmented one of the basic plane (format 4) of the Unicode platforms.
func (t *tables) readCharacters() error {
	cmap := t.raw["cmap"]
	for n := range int(u16(cmap, 2)) {
		offset := int(u32(cmap, 4+8*n+4))
		if offset+14 > len(cmap) || u16(cmap, offset) != 4 {
			continue
		}
		m := cmap[offset:]
		count := int(u16(m, 6)) / 2
		for s := range count {
			end, start := int(u16(m, 14+2*s)), int(u16(m, 16+2*count+2*s))
			delta, rangePlace := int(u16(m, 16+4*count+2*s)), 16+6*count+2*s
			rangeOffset := int(u16(m, rangePlace))
			for c := start; c <= end && c != 0xFFFF; c++ {
				g := c + delta
				if rangeOffset != 0 {
					place := rangePlace + rangeOffset + 2*(c-start)
					if place+2 > len(m) {
						return errFont
					}
					if g = int(u16(m, place)); g != 0 {
						g += delta
					}
				}
				if g &= 0xFFFF; g != 0 {
					t.glyphs[rune(c)] = uint16(g)
				}
			}
		}
		return nil
	}
	return errFont
}

func u16(b []byte, at int) uint16 {
	if at < 0 || at+2 > len(b) {
		return 0
	}
	return binary.BigEndian.Uint16(b[at:])
}

func u32(b []byte, at int) uint32 {
	if at < 0 || at+4 > len(b) {
		return 0
	}
	return binary.BigEndian.Uint32(b[at:])
}

// Subset returns the face as a TrueType file in which only the given glyphs (and those that they are composed of, and
// glyph 0) keep their outlines. Glyph numbers stay as they are, so that a PDF may use them as character codes.
func (f Face) Subset(glyphs []uint16) []byte {
	t := f.tables()
	if t.raw == nil {
		return nil
	}
	glyf, count := t.raw["glyf"], int(u16(t.raw["maxp"], 4))
	keep := map[uint16]bool{}
	queue := append([]uint16{0}, glyphs...)
	for len(queue) > 0 {
		g := queue[0]
		queue = queue[1:]
		if keep[g] || int(g) >= count {
			continue
		}
		keep[g] = true
		queue = append(queue, components(t.outline(glyf, g))...)
	}
	var outlines []byte
	loca := make([]byte, 0, 4*(count+1))
	for g := range count {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(outlines)))
		if keep[uint16(g)] {
			outlines = append(outlines, t.outline(glyf, uint16(g))...)
			for len(outlines)%4 != 0 {
				outlines = append(outlines, 0)
			}
		}
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(outlines)))
	head := append([]byte(nil), t.raw["head"]...)
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	binary.BigEndian.PutUint32(head[8:], 0)  // no checksum: a PDF reader doesn't look at it
	return assemble(map[string][]byte{"head": head, "hhea": t.raw["hhea"], "hmtx": t.raw["hmtx"], "maxp": t.raw["maxp"],
		"loca": loca, "glyf": outlines})
}

// outline returns the glyph's data in the glyf table.
func (t *tables) outline(glyf []byte, g uint16) []byte {
	loca := t.raw["loca"]
	var from, to int
	if t.longOffset {
		from, to = int(u32(loca, 4*int(g))), int(u32(loca, 4*int(g)+4))
	} else {
		from, to = 2*int(u16(loca, 2*int(g))), 2*int(u16(loca, 2*int(g)+2))
	}
	if from >= to || to > len(glyf) {
		return nil
	}
	return glyf[from:to]
}

// components returns the glyphs that a composite glyph is made of.
func components(outline []byte) []uint16 {
	if len(outline) < 10 || int16(u16(outline, 0)) >= 0 {
		return nil
	}
	const wordArguments, oneScale, more, twoScales, matrix = 1, 8, 32, 64, 128
	var parts []uint16
	for at := 10; at+4 <= len(outline); {
		flags := u16(outline, at)
		parts = append(parts, u16(outline, at+2))
		at += 6
		if flags&wordArguments != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&matrix != 0:
			at += 8
		}
		if flags&more == 0 {
			break
		}
	}
	return parts
}

// assemble writes a TrueType file of the tables.
func assemble(content map[string][]byte) []byte {
	var names []string
	for name := range content {
		names = append(names, name)
	}
	sort.Strings(names)
	power, log := 1, 0
	for power*2 <= len(names) {
		power, log = power*2, log+1
	}
	file := []byte{0, 1, 0, 0}
	for _, n := range []int{len(names), 16 * power, log, 16 * (len(names) - power)} {
		file = binary.BigEndian.AppendUint16(file, uint16(n))
	}
	offset := 12 + 16*len(names)
	var body []byte
	for _, name := range names {
		data := content[name]
		file = append(file, name...)
		file = binary.BigEndian.AppendUint32(file, checksum(data))
		file = binary.BigEndian.AppendUint32(file, uint32(offset+len(body)))
		file = binary.BigEndian.AppendUint32(file, uint32(len(data)))
		body = append(body, data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	return append(file, body...)
}

func checksum(data []byte) uint32 {
	sum := uint32(0)
	for at := 0; at < len(data); at += 4 {
		var word [4]byte
		copy(word[:], data[at:])
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}
