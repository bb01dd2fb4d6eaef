package drawing

import (
	"bufio"
	"html"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// SVGOptions say what the drawing is written for.
type SVGOptions struct {
	// Inline leaves out what only a file of its own needs (name space, style, fonts): the drawing goes into a page that carries
	// Style once and sets the inks, for instance for dark and light.
	Inline bool
	// Fluid lets the drawing shrink and grow with the page; never for a true-scale figure.
	Fluid bool
}

// Style is the style of every drawing. A page may set --drawing-main, --drawing-faint, --drawing-accent, --drawing-alarm and
// --drawing-paper; the defaults are for white paper.
const Style = `.drawing-figure{--m:var(--drawing-main,#1a1c1e);--f:var(--drawing-faint,#6b7075);--a:var(--drawing-accent,#0d5a6b);--d:var(--drawing-alarm,#a9141c);--p:var(--drawing-paper,#fff)}
.drawing-figure .s{fill:none;stroke-linecap:round;stroke-linejoin:round}
.drawing-figure .s.m{stroke:var(--m)}.drawing-figure .s.f{stroke:var(--f)}.drawing-figure .s.a{stroke:var(--a)}.drawing-figure .s.d{stroke:var(--d)}
.drawing-figure .b.m{fill:var(--m)}.drawing-figure .b.f{fill:var(--f)}.drawing-figure .b.a{fill:var(--a)}.drawing-figure .b.d{fill:var(--d)}.drawing-figure .b.p{fill:var(--p)}
.drawing-figure text{font-family:"Sheet","Drivewright Sans","Source Sans 3","Noto Sans",Arial,sans-serif;font-kerning:normal;white-space:pre}
.drawing-figure .k{font-weight:600}
`

// WriteSVG writes the figure. Its width and height are in millimetres, so that a true-scale figure prints true; lines carry the
// classes s (stroke), fills b (body), and m, f, a, d for the inks. Numbers have at most three decimals: the same figure gives the
// same bytes. The error is the writer's.
func WriteSVG(w io.Writer, f Figure, o SVGOptions) error {
	s := &svgWriter{b: bufio.NewWriter(w)}
	s.print(`<svg class="drawing-figure"`)
	if !o.Inline {
		s.print(` xmlns="http://www.w3.org/2000/svg"`)
	}
	if !o.Fluid || f.TrueScale {
		s.print(` width="`, num(f.Width), `mm" height="`, num(f.Height), `mm"`)
	}
	s.print(` viewBox="0 0 `, num(f.Width), " ", num(f.Height), `" role="img" aria-labelledby="`, escaped(f.ID), "-t ", escaped(f.ID), `-d">`, "\n")
	s.print(`<title id="`, escaped(f.ID), `-t">`, escaped(f.Title), "</title>\n")
	s.print(`<desc id="`, escaped(f.ID), `-d">`, escaped(f.Alt), "</desc>\n")
	if !o.Inline {
		s.print("<style>", Style, "</style>\n")
		s.print(`<rect class="b p" width="`, num(f.Width), `" height="`, num(f.Height), `"/>`, "\n")
	}
	for _, item := range f.Items {
		s.item(item)
	}
	s.print("</svg>\n")
	if s.err != nil {
		return s.err
	}
	return s.b.Flush()
}

type svgWriter struct {
	b   *bufio.Writer
	err error
}

func (s *svgWriter) print(parts ...string) {
	for _, p := range parts {
		if s.err == nil {
			_, s.err = s.b.WriteString(p)
		}
	}
}

// ink returns the class letter of the ink.
func (i Ink) class() string {
	switch i {
	case Faint:
		return "f"
	case Accent:
		return "a"
	case Alarm:
		return "d"
	case Paper:
		return "p"
	case Main:
	}
	return "m"
}

func (s *svgWriter) item(item Item) {
	switch i := item.(type) {
	case Line:
		s.line(i)
	case Circle:
		s.circle(i)
	case Words:
		s.words(i)
	}
}

// draws writes the attributes of a stroke or a fill.
func (s *svgWriter) draws(ink Ink, filled, dashed bool, width float64) {
	if filled {
		s.print(` class="b `, ink.class(), `"`)
		return
	}
	s.print(` class="s `, ink.class(), `" stroke-width="`, num(strokeOf(width)), `"`)
	if dashed {
		s.print(` stroke-dasharray="1.6 1.1"`)
	}
}

func (s *svgWriter) line(l Line) {
	if len(l.Points) < 2 {
		return
	}
	s.print(`<path d="`)
	for n, p := range l.Points {
		if n == 0 {
			s.print("M")
		} else {
			s.print("L")
		}
		s.print(num(p.X), " ", num(p.Y))
	}
	if l.Closed || l.Filled {
		s.print("Z")
	}
	s.print(`"`)
	s.draws(l.Ink, l.Filled, l.Dashed, l.Width)
	s.print("/>\n")
}

func (s *svgWriter) circle(c Circle) {
	if c.From == c.To {
		s.print(`<circle cx="`, num(c.Centre.X), `" cy="`, num(c.Centre.Y), `" r="`, num(c.Radius), `"`)
	} else {
		from, to := c.at(c.From), c.at(c.To)
		large := "0"
		if sweep := math.Mod(c.To-c.From+720, 360); sweep > 180 {
			large = "1"
		}
		s.print(`<path d="M`, num(from.X), " ", num(from.Y), "A", num(c.Radius), " ", num(c.Radius), " 0 ", large, " 1 ", num(to.X), " ", num(to.Y), `"`)
	}
	s.draws(c.Ink, c.Filled, false, c.Width)
	s.print("/>\n")
}

func (s *svgWriter) words(t Words) {
	if t.Knockout {
		box := t.Bounds()
		s.print(`<rect class="b p" x="`, num(box.Left), `" y="`, num(box.Top), `" width="`, num(box.Right-box.Left), `" height="`, num(box.Bottom-box.Top), `"/>`, "\n")
	}
	s.print(`<text class="b `, t.Ink.class())
	if t.Bold {
		s.print(" k")
	}
	s.print(`" font-size="`, num(t.Size), `"`)
	if t.Turned {
		s.print(` transform="translate(`, num(t.At.X), " ", num(t.At.Y), `) rotate(-90)"`)
	} else {
		s.print(` x="`, num(t.At.X), `" y="`, num(t.At.Y), `"`)
	}
	switch t.Anchor {
	case Middle:
		s.print(` text-anchor="middle"`)
	case End:
		s.print(` text-anchor="end"`)
	case Start:
	}
	s.print(">", escaped(t.Text), "</text>\n")
}

// escaped returns the text as it may stand in the drawing: markup escaped, control characters, which XML forbids, as spaces.
func escaped(text string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "?")))
}

// num prints a length with at most three decimals.
func num(x float64) string {
	x = math.Round(x*1000) / 1000
	if x == 0 {
		x = 0 // no -0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// strokeOf returns the width of a stroke in millimetres.
func strokeOf(width float64) float64 {
	if width == 0 {
		return 0.35
	}
	return width
}

// at returns the point of the circle at an angle in degrees, clockwise from east.
func (c Circle) at(degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{c.Centre.X + c.Radius*cos, c.Centre.Y + c.Radius*sin}
}
