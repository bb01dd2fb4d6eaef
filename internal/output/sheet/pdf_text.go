package sheet

import (
	"slices"
	"strings"

	"drivewright/internal/output/pdf"
	"drivewright/internal/output/typeface"
)

// style is how a run of text looks. Sizes are in millimetres.
type style struct {
	face   typeface.Face
	size   float64
	colour pdf.Colour
}

// The colours of the binder. Each stays apart from the others when printed in black.
var (
	inkColour    = pdf.Grey(0.1)
	softColour   = pdf.Grey(0.36)
	ruleColour   = pdf.Grey(0.74)
	tintColour   = pdf.Grey(0.945)
	accentColour = pdf.Colour{R: 0.05, G: 0.353, B: 0.42}
)

// The styles of the binder: one size of text, one smaller for what stands beside it, and headings.
var (
	bodyStyle    = style{typeface.Regular, 9.6 * pdf.Point, inkColour}
	boldStyle    = style{typeface.Semibold, 9.6 * pdf.Point, inkColour}
	smallStyle   = style{typeface.Regular, 8.4 * pdf.Point, inkColour}
	softStyle    = style{typeface.Regular, 8.4 * pdf.Point, softColour}
	smallBold    = style{typeface.Semibold, 8.4 * pdf.Point, inkColour}
	slantedStyle = style{typeface.Italic, 8.4 * pdf.Point, softColour}
	monoStyle    = style{typeface.Mono, 7.4 * pdf.Point, softColour}
	headingStyle = style{typeface.Semibold, 17 * pdf.Point, inkColour}
	partStyle    = style{typeface.Semibold, 12.2 * pdf.Point, inkColour}
	leadStyle    = style{typeface.Regular, 9.6 * pdf.Point, softColour}
	titleStyle   = style{typeface.Semibold, 25 * pdf.Point, inkColour}
)

// width returns how wide the text is.
func (s style) width(text string) float64 { return s.face.Width(text, s.size) }

// leading is the distance from baseline to baseline, in parts of the size of type.
const leading = 1.34

// run is a piece of text in one style, with the place it leads to if it is a link.
type run struct {
	text string
	style
	to *pdf.Place
	// whole is true for a text that is not broken between its words.
	whole bool
}

// runsOf returns the runs of one text in one style.
func runsOf(text string, s style) []run { return []run{{text: text, style: s}} }

// piece is a part of a line, at x from the line's left end.
type piece struct {
	x, width float64
	run
}

// paragraph is text broken into lines.
type paragraph struct {
	lines  [][]piece
	height float64 // of one line
	size   float64
}

// total returns the height of all lines.
func (p paragraph) total() float64 { return float64(len(p.lines)) * p.height }

// cut returns at most so many of the paragraph's lines, the last ending in a mark that something was left out.
func (p paragraph) cut(most int) paragraph {
	most = max(most, 1)
	if len(p.lines) <= most {
		return p
	}
	line := slices.Clone(p.lines[most-1])
	last := &line[len(line)-1]
	letters := []rune(last.text)
	last.text = string(letters[:max(len(letters)-3, 0)]) + " …"
	return paragraph{append(slices.Clone(p.lines[:most-1]), line), p.height, p.size}
}

// slabs cuts paragraphs that stand beside one another into slabs no taller than the height: one if all fit, and never none.
func slabs(cells []paragraph, tallest float64) [][]paragraph {
	var out [][]paragraph
	for {
		var head, rest []paragraph
		more := false
		for _, p := range cells {
			fit := len(p.lines)
			if p.height > 0 {
				fit = min(fit, max(int((tallest+0.01)/p.height), 1))
			}
			head = append(head, paragraph{p.lines[:fit], p.height, p.size})
			rest = append(rest, paragraph{p.lines[fit:], p.height, p.size})
			more = more || fit < len(p.lines)
		}
		out = append(out, head)
		if !more {
			return out
		}
		cells = rest
	}
}

// tallestOf returns the height of the tallest of paragraphs that stand beside one another.
func tallestOf(cells []paragraph) float64 {
	height := 0.0
	for _, p := range cells {
		height = max(height, p.total())
	}
	return height
}

// breakLines breaks the runs into lines no wider than the width. A word that is wider than a line is broken where it must.
func breakLines(runs []run, width float64) paragraph {
	p := paragraph{}
	for _, r := range runs {
		p.size = max(p.size, r.size)
	}
	p.height = p.size * leading
	var line []piece
	x, space := 0.0, 0.0
	end := func() {
		if len(line) > 0 {
			p.lines = append(p.lines, line)
		}
		line, x, space = nil, 0, 0
	}
	put := func(text string, r run, w float64) {
		if n := len(line); n > 0 && line[n-1].style == r.style && line[n-1].to == r.to {
			if space > 0 {
				line[n-1].text += " "
			}
			line[n-1].text += text
			line[n-1].width = x + space + w - line[n-1].x
		} else {
			part := r
			part.text = text
			line = append(line, piece{x + space, w, part})
		}
		x += space + w
		space = 0
	}
	glued := false // the run before ended without a space
	for _, r := range runs {
		text := printable(r.text)
		if !strings.HasPrefix(text, " ") && glued {
			space = 0
		}
		parts := figureWords(text)
		if r.whole {
			parts = []string{strings.TrimSpace(text)}
		}
		for n, word := range parts {
			if n > 0 || strings.HasPrefix(text, " ") || !glued {
				if x > 0 {
					space = r.face.Width(" ", r.size)
				}
			}
			w := r.face.Width(word, r.size)
			if x > 0 && x+space+w > width+1e-9 {
				end()
			}
			for w > width+1e-9 {
				fit := fitting(word, r.style, width)
				put(word[:fit], r, r.face.Width(word[:fit], r.size))
				end()
				word = word[fit:]
				w = r.face.Width(word, r.size)
			}
			put(word, r, w)
		}
		glued = text != "" && !strings.HasSuffix(text, " ")
	}
	end()
	return p
}

// fitting returns how many bytes of the word fit into the width: at least one character, and rather up to a mark at which a
// word may be parted.
func fitting(word string, s style, width float64) int {
	fit, good := 0, 0
	for n, r := range word {
		next := n + len(string(r))
		if s.face.Width(word[:next], s.size) > width {
			break
		}
		fit = next
		if strings.ContainsRune("-/_.:,", r) {
			good = next
		}
	}
	if good > 0 {
		return good
	}
	if fit == 0 {
		for _, r := range word {
			return len(string(r))
		}
	}
	return fit
}

// natural returns the width of the text on one line, and that of its longest word.
func natural(text string, s style) (line, word float64) {
	text = printable(text)
	for _, w := range figureWords(text) {
		for part := range strings.SplitAfterSeq(w, "-") {
			word = max(word, s.face.Width(part, s.size))
		}
	}
	return s.face.Width(strings.Join(strings.Fields(text), " "), s.size), word
}

// substitutes are characters that the faces lack, with what is printed for them.
var substitutes = strings.NewReplacer("⌀", "Ø", "∅", "Ø", "⏚", "ground", "⚠", "!", "\u00a0", " ", "\u202f", " ", "\u2011", "-", "\u200b", "")

// printable returns the text with what the faces lack replaced.
func printable(text string) string { return substitutes.Replace(visible(text)) }
