package drawing

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew; read their diff")

// lathe is the path of a lathe with everything on it.
func lathe() Path {
	return Path{ID: "power-path", Title: "From the utility to the motor", Alt: "utility, 40 A breaker, receptacle, switch, fuses, filter, choke, drive, motor",
		Ground: "10 AWG",
		Parts: []PathPart{
			{Kind: Utility, Tag: "utility", Labels: []string{"120/240 V 1-phase", "25 kVA"}},
			{Kind: Conductor, Wires: 2},
			{Kind: Breaker, Tag: "panel breaker", Labels: []string{"40 A, 2-pole", "10 kA"}, Group: "house panel"},
			{Kind: Conductor, Labels: []string{"8 AWG copper, 75 °C", "35 ft in EMT ½"}, Wires: 2},
			{Kind: Plug, Tag: "receptacle and plug", Labels: []string{"30 A is too small"}, Alarm: true},
			{Kind: Conductor, Labels: []string{"10 AWG cord, 8 ft"}, Wires: 2},
			{Kind: Switch, Tag: "main switch", Labels: []string{"40 A, 5 hp", "lockable"}, Group: "control box on the lathe"},
			{Kind: Fuse, Tag: "fuses", Labels: []string{"40 A class J"}, Group: "control box on the lathe"},
			{Kind: LineFilter, Tag: "filter", Labels: []string{"36 A, 3.5 mA"}, Group: "control box on the lathe"},
			{Kind: Choke, Tag: "choke", Labels: []string{"3 %, 1.2 mH"}, Group: "control box on the lathe"},
			{Kind: DriveSymbol, Tag: "drive", Labels: []string{"5 hp, 240 V 1-phase in", "15.2 A out"}, Group: "control box on the lathe"},
			{Kind: Conductor, Labels: []string{"12 AWG shielded, 10 ft"}, Wires: 3},
			{Kind: ThreePhaseMotor, Tag: "motor", Labels: []string{"5 hp, 230/460 V", "13.2 A at 230 V"}},
		}}
}

func paths() map[string]Path {
	all := map[string]Path{}
	for _, narrow := range []bool{false, true} {
		for _, standard := range []Standard{American, International} {
			p := lathe()
			p.Narrow, p.Standard = narrow, standard
			name := fmt.Sprintf("lathe-%v-%v", map[bool]string{false: "wide", true: "narrow"}[narrow], map[Standard]string{American: "us", International: "iec"}[standard])
			all[name] = p
			few := p
			few.Ground = ""
			few.Parts = append([]PathPart{p.Parts[0], p.Parts[1], p.Parts[2], {Kind: Conductor, Wires: 2, Labels: []string{"10 AWG"}}}, p.Parts[10:]...)
			all["few-"+name] = few
			long := p
			long.Parts = nil
			for _, part := range p.Parts {
				part.Labels = append([]string{"a rating in rather more words than one would like to see here"}, part.Labels...)
				long.Parts = append(long.Parts, part)
			}
			long.Parts = append(long.Parts[:2:2], append([]PathPart{{Kind: FusedSwitch, Tag: "service switch"}, {Kind: Contactor, Tag: "contactor"}, {Kind: RotaryConverter, Tag: "converter"},
				{Kind: OverloadRelay, Tag: "overload relay"}, {Kind: Conductor}}, long.Parts[2:]...)...)
			all["long-"+name] = long
		}
	}
	return all
}

// overlaps reports whether two rectangles share more than their edges.
func (b Bounds) overlaps(c Bounds) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}

// inside reports whether b lies within c.
func (b Bounds) inside(c Bounds) bool {
	return b.Left >= c.Left && b.Right <= c.Right && b.Top >= c.Top && b.Bottom <= c.Bottom
}

// bounds returns the box of a line with half its stroke.
func (l Line) bounds() Bounds {
	b := Bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	half := strokeOf(l.Width) / 2
	if l.Filled {
		half = 0
	}
	for _, p := range l.Points {
		b.Left, b.Right = min(b.Left, p.X-half), max(b.Right, p.X+half)
		b.Top, b.Bottom = min(b.Top, p.Y-half), max(b.Bottom, p.Y+half)
	}
	return b
}

// bounds returns the box of a circle, for an arc that of the whole circle.
func (c Circle) bounds() Bounds {
	r := c.Radius
	if !c.Filled {
		r += strokeOf(c.Width) / 2
	}
	return Bounds{c.Centre.X - r, c.Centre.Y - r, c.Centre.X + r, c.Centre.Y + r}
}

// checkClear fails if a text overlaps another text or a drawn thing, or if anything leaves the figure. Frames, which hold
// things, and thin lines are checked by their strokes.
func checkClear(t *testing.T, name string, f Figure) {
	t.Helper()
	sheet := Bounds{0, 0, f.Width, f.Height}
	var words []Words
	for _, item := range f.Items {
		if w, ok := item.(Words); ok {
			words = append(words, w)
		}
	}
	if len(words) < 3 {
		t.Errorf("%s: only %d texts: the check looks at nothing", name, len(words))
	}
	for place, item := range f.Items {
		var parts []Bounds
		label := ""
		switch i := item.(type) {
		case Words:
			parts, label = []Bounds{i.Bounds()}, "text "+i.Text
		case Circle:
			parts, label = []Bounds{i.bounds()}, "circle"
		case Line:
			label = "line"
			points := i.Points
			if i.Closed {
				points = append(append([]Point{}, points...), points[0])
			}
			for n := 1; n < len(points); n++ {
				parts = append(parts, Line{Points: points[n-1 : n+1], Width: i.Width}.bounds())
			}
		}
		for _, b := range parts {
			if !b.inside(sheet) {
				t.Errorf("%s: %s at %.1f, %.1f leaves the figure of %.1f × %.1f", name, label, b.Left, b.Top, f.Width, f.Height)
			}
			for _, w := range words {
				if item == Item(w) {
					continue
				}
				c, isCircle := item.(Circle)
				if isCircle && w.Bounds().inside(c.bounds()) {
					continue // a letter in its ring
				}
				if l, ok := item.(Line); ok && l.Filled {
					continue
				}
				if b.overlaps(w.Bounds()) && !cleared(f.Items[place+1:], w) {
					t.Errorf("%s: %s at %.1f, %.1f runs into the text %q at %.1f, %.1f", name, label, b.Left, b.Top, w.Text, w.At.X, w.At.Y)
				}
			}
		}
	}
}

// cleared reports whether the ground beneath the words is cleared by one of the items, which lie above what is asked about.
func cleared(above []Item, w Words) bool {
	for _, item := range above {
		if item == Item(w) {
			return false
		}
		if c, ok := item.(Circle); ok && c.Ink == Paper && c.Filled && w.Bounds().inside(c.bounds()) {
			return true
		}
	}
	return false
}

func TestNothingOverlapsInASingleLineDiagram(t *testing.T) {
	for name, p := range paths() {
		checkClear(t, name, SingleLine(p))
	}
}

func TestSVGIsAsBefore(t *testing.T) {
	for _, name := range []string{"lathe-wide-us", "lathe-narrow-iec"} {
		golden(t, name, SingleLine(paths()[name]))
	}
}

func golden(t *testing.T, name string, f Figure) {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, f, SVGOptions{}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join("testdata", name+".svg.golden")
	if *update {
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, b.Bytes()) {
		t.Errorf("%s differs from %s: run with -update and read the diff", name, file)
	}
}

func BenchmarkSingleLine(b *testing.B) {
	for b.Loop() {
		SingleLine(lathe())
	}
}

func BenchmarkWriteSVG(b *testing.B) {
	f := SingleLine(lathe())
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteSVG(&out, f, SVGOptions{Inline: true}); err != nil {
			b.Fatal(err)
		}
	}
}
