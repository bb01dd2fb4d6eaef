package sheet

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/output/pdf"
)

// gravity returns the colour of a severity; its word and its shape say the same to those who print in black.
func gravity(s explain.Severity) pdf.Colour {
	switch s {
	case explain.Danger:
		return pdf.Colour{R: 0.663, G: 0.078, B: 0.11}
	case explain.Must:
		return pdf.Colour{R: 0.56, G: 0.263, B: 0}
	case explain.Check:
		return pdf.Colour{R: 0.373, G: 0.345, B: 0}
	case explain.Note:
	}
	return pdf.Grey(0.34)
}

// drawMark draws the shape of a severity in a square of the size: a filled triangle for danger, a filled diamond for must, a
// ring for check, a bar for note.
func drawMark(p *pdf.Page, s explain.Severity, x, y, size float64) {
	c := gravity(s)
	at := func(u, v float64) pdf.Spot { return pdf.Spot{X: x + u*size, Y: y + v*size} }
	switch s {
	case explain.Danger:
		p.Area(c, at(0.5, 0.04), at(0.98, 0.92), at(0.02, 0.92))
		white := pdf.Stroke{Width: size * 0.11, Colour: pdf.Grey(1), Round: true}
		p.Line(white, false, at(0.5, 0.36), at(0.5, 0.6))
		p.Line(white, false, at(0.5, 0.765), at(0.5, 0.775))
	case explain.Must:
		p.Area(c, at(0.5, 0.02), at(0.98, 0.5), at(0.5, 0.98), at(0.02, 0.5))
	case explain.Check:
		p.Arc(pdf.Stroke{Width: size * 0.15, Colour: c}, at(0.5, 0.5), size*0.38, 0, 0)
	case explain.Note:
		p.Line(pdf.Stroke{Width: size * 0.16, Colour: c}, false, at(0.1, 0.5), at(0.9, 0.5))
	}
}

// drawBox draws an empty box to be ticked.
func drawBox(p *pdf.Page, x, y, size float64) {
	p.Frame(x, y, size, size, pdf.Stroke{Width: 0.3, Colour: inkColour})
}
