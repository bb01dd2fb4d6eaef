package drawing

import (
	"strings"

	"drivewright/internal/output/typeface"
)

// Bounds is a rectangle in a figure, in millimetres, y down.
type Bounds struct{ Left, Top, Right, Bottom float64 }

// face returns the face that the words are set in.
func (w Words) face() typeface.Face {
	if w.Bold {
		return typeface.Semibold
	}
	return typeface.Regular
}

// Length returns how long the words are, in millimetres.
func (w Words) Length() float64 { return w.face().Width(w.Text, w.Size) }

// Bounds returns the box of the words, from the tops of capitals to the feet of small letters.
func (w Words) Bounds() Bounds {
	length := w.Length()
	from := 0.0
	switch w.Anchor {
	case Middle:
		from = -length / 2
	case End:
		from = -length
	case Start:
	}
	up, down := w.Size*(typeface.CapHeight+0.06), w.Size*typeface.Descent
	if w.Turned {
		return Bounds{w.At.X - up, w.At.Y - from - length, w.At.X + down, w.At.Y - from}
	}
	return Bounds{w.At.X + from, w.At.Y - up, w.At.X + from + length, w.At.Y + down}
}

// wrap breaks a text into lines no wider than the width where its spaces allow it, as evenly as they can be.
func wrap(text string, face typeface.Face, size, width float64) []string {
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	space := face.Width(" ", size)
	widths := make([]float64, len(words))
	longest := 0.0
	for n, w := range words {
		widths[n] = face.Width(w, size)
		longest = max(longest, widths[n])
	}
	// lines returns how many lines the limit makes
	lines := func(limit float64) int {
		count, x := 1, widths[0]
		for _, w := range widths[1:] {
			if x+space+w <= limit {
				x += space + w
			} else {
				count, x = count+1, w
			}
		}
		return count
	}
	if few := lines(width); few > 1 {
		// the narrowest setting with as few lines, to a tenth of a millimetre
		narrow, wide := min(longest, width), width
		for wide-narrow > 0.1 {
			if middle := (narrow + wide) / 2; lines(middle) == few {
				wide = middle
			} else {
				narrow = middle
			}
		}
		width = wide
	}
	out, x := []string{words[0]}, widths[0]
	for n, w := range widths[1:] {
		if x+space+w <= width {
			out[len(out)-1] += " " + words[n+1]
			x += space + w
		} else {
			out, x = append(out, words[n+1]), w
		}
	}
	return out
}

// widest returns the width of the widest line.
func widest(lines []string, face typeface.Face, size float64) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, face.Width(l, size))
	}
	return w
}
