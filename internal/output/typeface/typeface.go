// Package typeface holds the four faces of the sheet (an open-licensed sans in regular, semibold and italic, and its mono) and
// their measures, so that paper and screen use the same files and a text's width is known before it is set.
//
// It sets no text. Begin with Face; Files is what a server hands to a browser. The files are cut by font/make.py, which
// says from what; figures are of equal width in every face.
package typeface

import (
	"embed"
	"io/fs"
	"sync"
)

//go:embed font/*.ttf font/LICENCE.md
var files embed.FS

// Files returns the font files (sans-regular.ttf, sans-semibold.ttf, sans-italic.ttf, mono-regular.ttf) and their licence.
func Files() fs.FS {
	sub, err := fs.Sub(files, "font")
	if err != nil { // can't be: the folder is embedded
		return files
	}
	return sub
}

// Face is one of the faces.
type Face int

// The faces.
const (
	Regular Face = iota
	Semibold
	Italic
	Mono
	faceLimit
)

// Faces lists all faces.
var Faces = [...]Face{Regular, Semibold, Italic, Mono}

// File returns the face's file name in Files.
func (f Face) File() string {
	return [faceLimit]string{"sans-regular.ttf", "sans-semibold.ttf", "sans-italic.ttf", "mono-regular.ttf"}[f.sound()]
}

// Name returns the face's PostScript name, as a PDF carries it.
func (f Face) Name() string {
	return [faceLimit]string{"DrivewrightSans-Regular", "DrivewrightSans-Semibold", "DrivewrightSans-Italic", "DrivewrightMono-Regular"}[f.sound()]
}

// Heights of the faces, in parts of the font size; alike in all four but for a hair.
const (
	CapHeight = 0.66  // of a capital letter
	XHeight   = 0.486 // of a small x
	Descent   = 0.205 // of a p below the baseline
)

// Width returns how wide the text is at the font size, in the size's own unit, with kerning. A character that the face lacks
// counts as wide as the box that stands for it.
func (f Face) Width(text string, size float64) float64 {
	t := f.tables()
	units, last := 0, rune(128) // no character: beyond all pairs
	for _, r := range text {
		units += t.kern(last, r)
		last = r
		if r < rune(len(t.common)) {
			units += int(t.common[r])
		} else {
			units += int(t.advance(t.glyph(r)))
		}
	}
	return float64(units) * size / float64(t.unitsPerEm)
}

// Has reports whether the face has the character.
func (f Face) Has(r rune) bool { return f.tables().glyph(r) != 0 }

// Glyph returns the number of the character's glyph; 0 if the face lacks it.
func (f Face) Glyph(r rune) uint16 { return f.tables().glyph(r) }

// Advance returns how far the glyph moves on, in thousandths of the font size.
func (f Face) Advance(glyph uint16) int {
	t := f.tables()
	return (int(t.advance(glyph))*1000 + t.unitsPerEm/2) / t.unitsPerEm
}

// Kern returns by how much two characters that follow one another move apart, in thousandths of the font size; most that do
// move together, and the number is negative.
func (f Face) Kern(left, right rune) int {
	t := f.tables()
	k := t.kern(left, right) * 1000
	if k < 0 {
		return (k - t.unitsPerEm/2) / t.unitsPerEm
	}
	return (k + t.unitsPerEm/2) / t.unitsPerEm
}

// Box returns the face's bounding box, in thousandths of the font size: left, bottom, right, top.
func (f Face) Box() [4]int { return f.tables().box }

func (f Face) sound() Face {
	if f < 0 || f >= faceLimit {
		return Regular
	}
	return f
}

// readers read each face once, when it is first asked for.
var readers = [faceLimit]func() *tables{
	sync.OnceValue(func() *tables { return read(Regular) }),
	sync.OnceValue(func() *tables { return read(Semibold) }),
	sync.OnceValue(func() *tables { return read(Italic) }),
	sync.OnceValue(func() *tables { return read(Mono) }),
}

func (f Face) tables() *tables { return readers[f.sound()]() }

func read(f Face) *tables {
	data, err := files.ReadFile("font/" + f.File())
	if err == nil {
		if t, err := parse(data); err == nil {
			return t
		}
	}
	return &tables{unitsPerEm: 1000} // a test proves that all four files are read
}
