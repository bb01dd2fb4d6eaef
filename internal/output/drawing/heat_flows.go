package drawing

import (
	"fmt"
	"math"
)

// HeatPicture shows where heat comes from and where it goes: bands into the box on the left, out of it on the right, each as wide as its watts.
type HeatPicture struct {
	ID, Title, Alt string
	In, Out        []HeatBand
	// Inside is what the air in the box comes to, in words.
	Inside string
}

// HeatBand is one flow.
type HeatBand struct {
	Name  string
	Watts float64
	Words string // the watts as printed
}

// Figure draws the picture at the width.
func (h HeatPicture) Figure(id string, width float64) Figure {
	const row, gap, top, text = 7.0, 1.4, 4.0, 2.8
	in, out := bandsOf(h.In), bandsOf(h.Out)
	most := max(sumOf(in), sumOf(out), 1e-9)
	rows := max(len(in), len(out))
	tall := max(float64(rows)*(row+gap), 30)
	f := Figure{ID: id, Title: h.Title, Alt: h.Alt, Width: width, Height: tall + 2*top}
	side := width * 0.36
	left, right := side, width-side
	f.Items = append(f.Items, Line{Points: []Point{{left, top}, {right, top}, {right, top + tall}, {left, top + tall}}, Closed: true, Width: 0.5})
	band := func(list []HeatBand, from, to float64, coming bool) {
		y := top + (tall-float64(len(list))*(row+gap))/2 + gap/2
		for _, b := range list {
			thick := max(row*math.Sqrt(b.Watts/most), 0.35)
			middle := y + row/2
			head := 2.2
			f.Items = append(f.Items, Line{Points: []Point{{from, middle - thick/2}, {to - head, middle - thick/2}, {to - head, middle - thick/2 - 1}, {to, middle}, {to - head, middle + thick/2 + 1}, {to - head, middle + thick/2}, {from, middle + thick/2}}, Closed: true, Filled: true, Ink: Accent})
			words := Words{At: Point{from - 1.5, middle + text*0.35}, Text: fmt.Sprintf("%s  %s", b.Name, b.Words), Size: text, Anchor: End}
			if !coming {
				words.At.X, words.Anchor = to+1.5, Start
			}
			for words.Length() > side-14 && words.Size > 1.8 {
				words.Size -= 0.2
			}
			f.Items = append(f.Items, words)
			y += row + gap
		}
	}
	band(in, left-9, left+5, true)
	band(out, right-5, right+9, false)
	for n, line := range wrap(h.Inside, Words{}.face(), 3, right-left-14) {
		f.Items = append(f.Items, Words{At: Point{width / 2, top + tall/2 + float64(n)*4}, Text: line, Size: 3, Anchor: Middle, Bold: n == 0})
	}
	return f
}

// bandsOf leaves out what is nothing.
func bandsOf(list []HeatBand) []HeatBand {
	var kept []HeatBand
	for _, b := range list {
		if b.Watts > 0.05 {
			kept = append(kept, b)
		}
	}
	return kept
}

func sumOf(list []HeatBand) float64 {
	sum := 0.0
	for _, b := range list {
		sum += b.Watts
	}
	return sum
}
