package drawing

import (
	"drivewright/internal/output/pdf"
)

// Paint draws the figure onto a page with its top left corner at x, y, both in millimetres, at true scale times the factor
// scale (1 for a figure of TrueScale).
func Paint(p *pdf.Page, f Figure, x, y, scale float64) {
	spot := func(at Point) pdf.Spot { return pdf.Spot{X: x + at.X*scale, Y: y + at.Y*scale} }
	stroke := func(width float64, ink Ink, dashed bool) pdf.Stroke {
		s := pdf.Stroke{Width: strokeOf(width) * scale, Colour: inkOnPaper(ink), Round: true}
		if dashed {
			s.Dash = []float64{1.6 * scale, 1.1 * scale}
		}
		return s
	}
	for _, item := range f.Items {
		switch i := item.(type) {
		case Line:
			spots := make([]pdf.Spot, len(i.Points))
			for n, at := range i.Points {
				spots[n] = spot(at)
			}
			if i.Filled {
				p.Area(inkOnPaper(i.Ink), spots...)
			} else {
				p.Line(stroke(i.Width, i.Ink, i.Dashed), i.Closed, spots...)
			}
		case Circle:
			if i.Filled {
				p.Disc(inkOnPaper(i.Ink), spot(i.Centre), i.Radius*scale)
			} else {
				p.Arc(stroke(i.Width, i.Ink, false), spot(i.Centre), i.Radius*scale, i.From, i.To)
			}
		case Words:
			paintWords(p, i, spot, scale)
		}
	}
}

func paintWords(p *pdf.Page, w Words, spot func(Point) pdf.Spot, scale float64) {
	if w.Knockout {
		b := w.Bounds()
		corner := spot(Point{b.Left, b.Top})
		p.Rectangle(corner.X, corner.Y, (b.Right-b.Left)*scale, (b.Bottom-b.Top)*scale, pdf.Grey(1))
	}
	back := 0.0
	switch w.Anchor {
	case Middle:
		back = w.Length() / 2
	case End:
		back = w.Length()
	case Start:
	}
	if w.Turned {
		at := spot(Point{w.At.X, w.At.Y + back})
		p.TurnedText(at.X, at.Y, w.face(), w.Size*scale, inkOnPaper(w.Ink), w.Text)
		return
	}
	at := spot(Point{w.At.X - back, w.At.Y})
	p.Text(at.X, at.Y, w.face(), w.Size*scale, inkOnPaper(w.Ink), w.Text)
}

// inkOnPaper returns the colour of the ink on white paper; each stays apart from the others in grey as well.
func inkOnPaper(i Ink) pdf.Colour {
	switch i {
	case Faint:
		return pdf.Grey(0.42)
	case Accent:
		return pdf.Colour{R: 0.05, G: 0.353, B: 0.42}
	case Alarm:
		return pdf.Colour{R: 0.663, G: 0.078, B: 0.11}
	case Paper:
		return pdf.Grey(1)
	case Main:
	}
	return pdf.Grey(0.1)
}
