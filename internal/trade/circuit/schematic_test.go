package circuit_test

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"drivewright/examples"
	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// room is an A4 sheet at four steps to the millimetre, with texts a little wider than most faces set them.
var room = circuit.SchematicRoom{Width: 668, Height: 832, Narrow: 368, Measure: func(text string, bold bool) circuit.Step {
	n := circuit.Step(len([]rune(text)))
	if bold {
		return n * 6
	}
	return n * 11 / 2
}}

// mixtures is how many made circuits are drawn beside the examples and those written by hand.
const mixtures = 300

// sheetsOf is one circuit drawn by the habit of one rule set.
type sheetsOf struct {
	name    string
	circuit *circuit.Circuit
	sheets  []circuit.SchematicSheet
}

// drawings are circuits of every kind, each drawn both ways.
var drawings = sync.OnceValue(func() []sheetsOf {
	var all []sheetsOf
	add := func(name, text string) {
		file := job.Read(name, []byte(text))
		r := circuit.Make(circuit.Brief{Job: &file.Job, Set: explain.RuleSet(file.Job.Rules.Value)})
		for _, international := range []bool{false, true} {
			all = append(all, sheetsOf{fmt.Sprintf("%s, international %v", name, international), &r.Circuit, r.Circuit.Schematic(international, room).Sheets})
		}
	}
	for _, folder := range []fs.FS{examples.Files, os.DirFS("testdata/circuits")} {
		names, err := fs.Glob(folder, "*.job.yaml")
		if err != nil {
			return nil
		}
		for _, name := range names {
			text, err := fs.ReadFile(folder, name)
			if err != nil {
				return nil
			}
			for _, rules := range []string{"us", "iec"} {
				add(name+" "+rules, strings.Replace(string(text), "rules: us", "rules: "+rules, 1))
			}
		}
	}
	for n := range mixtures {
		add(fmt.Sprintf("made %d", n), randomJob(rand.New(rand.NewPCG(uint64(n), 7))))
	}
	return all
})

// grids returns every sheet of a drawing, on paper and on a phone.
func (d sheetsOf) grids() map[string]circuit.Grid {
	all := map[string]circuit.Grid{}
	for _, s := range d.sheets {
		all[fmt.Sprintf("%s, sheet %d", d.name, s.Number)] = s.Wide
		all[fmt.Sprintf("%s, sheet %d on a phone", d.name, s.Number)] = s.Narrow
	}
	return all
}

func TestThereAreDrawings(t *testing.T) {
	if n := len(drawings()); n < 2*(mixtures+10) {
		t.Errorf("only %d drawings: the checks look at too little", n)
	}
}

// TestEveryWireIsOnASheet: both ends of every wire are to be seen, on paper and on a phone.
func TestEveryWireIsOnASheet(t *testing.T) {
	for _, d := range drawings() {
		wide, narrow := map[circuit.Pin]bool{}, map[circuit.Pin]bool{}
		for _, s := range d.sheets {
			for _, p := range s.Wide.Pins {
				wide[p.Pin] = true
			}
			for _, p := range s.Narrow.Pins {
				narrow[p.Pin] = true
			}
		}
		for _, w := range d.circuit.Wires {
			for _, p := range []circuit.Pin{w.From, w.To} {
				if !wide[p] || !narrow[p] {
					t.Errorf("%s: wire %s ends at %s, which is on paper %v, on a phone %v", d.name, w.Name, p, wide[p], narrow[p])
				}
			}
		}
	}
}

// segment is a stretch of a conductor.
type segment struct{ a, b circuit.Spot }

func (s segment) on(p circuit.Spot) bool {
	return min(s.a.X, s.b.X) <= p.X && p.X <= max(s.a.X, s.b.X) && min(s.a.Y, s.b.Y) <= p.Y && p.Y <= max(s.a.Y, s.b.Y)
}

func segments(g circuit.Grid) []segment {
	var list []segment
	for _, l := range g.Lines {
		for n := 1; n < len(l.Points) && !l.Guide; n++ {
			list = append(list, segment{l.Points[n-1], l.Points[n]})
		}
	}
	return list
}

// TestTheDrawingReadsBack: a person who follows the drawn conductors, who takes lines that end on one another as joined and
// lines that cross as not, finds only terminals together that wires or jumpers join; and where three conductors meet there
// is a dot.
func TestTheDrawingReadsBack(t *testing.T) {
	for _, d := range drawings() {
		potential := potentials(d.circuit)
		for sheet, g := range d.grids() {
			lines := segments(g)
			parent := make([]int, len(lines))
			for n := range parent {
				parent[n] = n
			}
			var root func(int) int
			root = func(n int) int {
				if parent[n] != n {
					parent[n] = root(parent[n])
				}
				return parent[n]
			}
			for n, a := range lines {
				for m, b := range lines[:n] {
					if a.on(b.a) || a.on(b.b) || b.on(a.a) || b.on(a.b) {
						parent[root(n)] = root(m)
					}
				}
			}
			found := map[int]circuit.Pin{}
			for _, p := range g.Pins {
				for n, l := range lines {
					ends := false
					for _, e := range []circuit.Spot{l.a, l.b} {
						dx, dy := e.X-p.At.X, e.Y-p.At.Y
						ends = ends || dx*dx+dy*dy <= p.Ring*p.Ring
					}
					if !ends {
						continue
					}
					other, there := found[root(n)]
					if !there {
						found[root(n)] = p.Pin
					} else if potential[other] != potential[p.Pin] {
						t.Errorf("%s: %s and %s are drawn as joined", sheet, other, p.Pin)
					}
				}
			}
			for _, spot := range meetings(lines) {
				if !slices.Contains(g.Dots, spot) {
					t.Errorf("%s: three conductors meet at %v without a dot", sheet, spot)
				}
			}
		}
	}
}

// meetings returns where more than two conductors leave one spot.
func meetings(lines []segment) []circuit.Spot {
	var list []circuit.Spot
	for _, l := range lines {
		for _, spot := range []circuit.Spot{l.a, l.b} {
			var ways [4]bool
			for _, o := range lines {
				if !o.on(spot) {
					continue
				}
				for _, e := range []circuit.Spot{o.a, o.b} {
					ways[0] = ways[0] || e.X > spot.X
					ways[1] = ways[1] || e.X < spot.X
					ways[2] = ways[2] || e.Y > spot.Y
					ways[3] = ways[3] || e.Y < spot.Y
				}
			}
			n := 0
			for _, w := range ways {
				if w {
					n++
				}
			}
			if n > 2 && !slices.Contains(list, spot) {
				list = append(list, spot)
			}
		}
	}
	return list
}

// potentials numbers the pins by what wires and jumpers of terminal blocks join.
func potentials(c *circuit.Circuit) map[circuit.Pin]circuit.Pin {
	parent := map[circuit.Pin]circuit.Pin{}
	var root func(circuit.Pin) circuit.Pin
	root = func(p circuit.Pin) circuit.Pin {
		if q, there := parent[p]; there && q != p {
			return root(q)
		}
		return p
	}
	for _, w := range c.Wires {
		if a, b := root(w.From), root(w.To); a != b {
			parent[a] = b
		}
	}
	for _, d := range c.Devices {
		for _, e := range d.Elements {
			if a, b := root(d.Pin(e.A)), root(d.Pin(e.B)); d.Kind == circuit.TerminalBlock && e.Kind == circuit.Link && a != b {
				parent[a] = b
			}
		}
	}
	all := map[circuit.Pin]circuit.Pin{}
	for _, d := range c.Devices {
		for _, t := range d.Terminals {
			all[d.Pin(t)] = root(d.Pin(t))
		}
	}
	return all
}

// box is a rectangle on the grid.
type box struct{ left, top, right, bottom circuit.Step }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

func (s segment) box() box {
	return box{min(s.a.X, s.b.X), min(s.a.Y, s.b.Y), max(s.a.X, s.b.X) + 1, max(s.a.Y, s.b.Y) + 1}
}

func textBox(t circuit.GridText) box {
	w := room.Measure(t.Text, t.Bold)
	left := t.At.X - w*circuit.Step(t.Anchor+1)/2
	return box{left, t.At.Y - 8, left + w, t.At.Y + 2}
}

// symbolBox is the part of a symbol that no conductor may lie in: its body, without the leads.
func symbolBox(s circuit.GridSymbol) (box, bool) {
	at := func(along, across circuit.Step) box {
		if s.Down {
			return box{s.At.X - across, s.At.Y - along, s.At.X + across, s.At.Y + along}
		}
		return box{s.At.X - along, s.At.Y - across, s.At.X + along, s.At.Y + across}
	}
	switch {
	case s.Shape == circuit.ScreenShape || s.Shape == circuit.EarthSign || s.Shape == circuit.ArrowShape:
		return box{}, false
	case s.Shape == circuit.TerminalShape:
		return at(3, 3), true
	case s.From != s.To:
		return box{min(s.From.X, s.To.X) + 1, min(s.From.Y, s.To.Y) + 1, max(s.From.X, s.To.X) - 1, max(s.From.Y, s.To.Y) - 1}, true
	}
	return at(19, 6), true
}

// bodyOf is the part of a symbol that lies between its leads, beside which terminal numbers may stand.
func bodyOf(s circuit.GridSymbol) box {
	along, across := circuit.Step(8), circuit.Step(6)
	if s.Shape == circuit.TerminalShape {
		along, across = 4, 4
	}
	if s.Down {
		along, across = across, along
	}
	return box{s.At.X - along, s.At.Y - across, s.At.X + along, s.At.Y + across}
}

// TestNothingIsDrawnOverAnything: no text on a text, no conductor through a text or a symbol, no symbol on a text or a symbol,
// nothing beyond the sheet.
func TestNothingIsDrawnOverAnything(t *testing.T) {
	for _, d := range drawings() {
		for sheet, g := range d.grids() {
			whole := box{0, 0, g.Width, g.Height}
			within := func(what string, b box) {
				if b.left < whole.left || b.top < whole.top || b.right > whole.right+1 || b.bottom > whole.bottom+1 {
					t.Errorf("%s: %s at %v leaves the sheet of %d × %d", sheet, what, b, g.Width, g.Height)
				}
			}
			lines := segments(g)
			for n, a := range g.Texts {
				within("the text "+a.Text, textBox(a))
				for _, b := range g.Texts[:n] {
					if textBox(a).meets(textBox(b)) {
						t.Errorf("%s: the texts %q and %q overlap at %v", sheet, a.Text, b.Text, a.At)
					}
				}
				for _, l := range lines {
					if textBox(a).meets(l.box()) {
						t.Errorf("%s: a conductor runs through the text %q at %v", sheet, a.Text, a.At)
					}
				}
			}
			for n, s := range g.Symbols {
				b, solid := symbolBox(s)
				if !solid {
					continue
				}
				within("a symbol", b)
				for _, l := range lines {
					if b.meets(l.box()) {
						t.Errorf("%s: a conductor from %v to %v runs through the symbol %d at %v", sheet, l.a, l.b, s.Shape, s.At)
					}
				}
				for _, o := range g.Symbols[:n] {
					if p, solid := symbolBox(o); solid && b.meets(p) {
						t.Errorf("%s: the symbols %d at %v and %d at %v overlap", sheet, s.Shape, s.At, o.Shape, o.At)
					}
				}
				for _, x := range g.Texts {
					inside := s.From != s.To // the names of ports stand in the body
					if !inside && bodyOf(s).meets(textBox(x)) {
						t.Errorf("%s: the symbol %d at %v lies on the text %q", sheet, s.Shape, s.At, x.Text)
					}
				}
			}
		}
	}
}

// TestTheSheetsFitThePaper: no sheet is larger than the room.
func TestTheSheetsFitThePaper(t *testing.T) {
	for _, d := range drawings() {
		for _, s := range d.sheets {
			if s.Wide.Width > room.Width || s.Wide.Height > room.Height || s.Narrow.Width > room.Narrow {
				t.Errorf("%s, sheet %d: %d × %d on paper, %d wide on a phone", d.name, s.Number, s.Wide.Width, s.Wide.Height, s.Narrow.Width)
			}
		}
	}
}

// crossings counts where one conductor runs over another without ending there.
func crossings(g circuit.Grid) int {
	count := 0
	lines := segments(g)
	for n, a := range lines {
		for _, b := range lines[:n] {
			if (a.a.X == a.b.X) == (b.a.X == b.b.X) {
				continue
			}
			spot := circuit.Spot{X: a.a.X, Y: b.a.Y}
			if a.a.X != a.b.X {
				spot = circuit.Spot{X: b.a.X, Y: a.a.Y}
			}
			if a.on(spot) && b.on(spot) && spot != a.a && spot != a.b && spot != b.a && spot != b.b {
				count++
			}
		}
	}
	return count
}

// TestNoConductorCrossesWhereNoneMust: these control circuits can be drawn without a crossing: each by hand on paper, with the
// rows in the order of the drawing. The power path of two conductors with one branch and a ground wire beneath them crosses
// itself three times: the branch from the outer one must pass the inner, and both must pass the ground wire.
func TestNoConductorCrossesWhereNoneMust(t *testing.T) {
	looked := 0
	for _, d := range drawings() {
		if strings.HasPrefix(d.name, "made") {
			continue
		}
		for _, s := range d.sheets {
			most := 0
			switch {
			case s.Title == "Control circuit":
			case s.Title == "Power" && strings.HasPrefix(d.name, "three-wire-relay"):
				most = 3
			default:
				continue
			}
			looked++
			if n := crossings(s.Wide); n > most {
				t.Errorf("%s, sheet %d: %d crossings, want at most %d", d.name, s.Number, n, most)
			}
		}
	}
	if looked < 10 {
		t.Errorf("only %d sheets looked at", looked)
	}
}

// TestReferencesLeadSomewhere: what stands at an arrow, a rail or a coil as sheet and rung is there, and it isn't where it
// stands.
func TestReferencesLeadSomewhere(t *testing.T) {
	reference := regexp.MustCompile(`(?:^|→ |coil |from )([0-9]+)\.([0-9]+)$`)
	count := 0
	for _, d := range drawings() {
		rungs := make([]int, len(d.sheets)+1)
		for _, s := range d.sheets {
			for _, x := range s.Wide.Texts {
				if n, err := strconv.Atoi(x.Text); err == nil && x.Faint {
					rungs[s.Number] = max(rungs[s.Number], n)
				}
			}
		}
		for name, g := range d.grids() {
			for _, x := range g.Texts {
				m := reference.FindStringSubmatch(x.Text)
				if m == nil {
					continue
				}
				count++
				sheet, err1 := strconv.Atoi(m[1])
				rung, err2 := strconv.Atoi(m[2])
				if err1 != nil || err2 != nil || sheet < 1 || sheet >= len(rungs) || rung < 1 || rung > rungs[sheet] {
					t.Errorf("%s: %q leads nowhere", name, x.Text)
				}
			}
		}
	}
	if count < 1000 {
		t.Errorf("only %d references: the check looks at too little", count)
	}
}

// TestACoilListsItsContacts checks the references beside the coils of the circuit with two reversing contactors. That a coil
// lists its contacts by the number of their line, normally closed ones underlined, is the habit of NFPA 79 drawings; from
// memory.
func TestACoilListsItsContacts(t *testing.T) {
	for _, d := range drawings() {
		if !strings.HasPrefix(d.name, "reversing-contactors.job.yaml us, international false") {
			continue
		}
		var plain, underlined []string
		for _, x := range d.sheets[1].Wide.Texts {
			if x.At.X > room.Width-19*4 && strings.Contains(x.Text, ".") {
				if x.Underlined {
					underlined = append(underlined, x.Text)
				} else {
					plain = append(plain, x.Text)
				}
			}
		}
		// K1: three main contacts on sheet 1 and its holding contact, then K2 the same; each with one closed contact in the
		// way of the other's coil.
		if len(plain) != 8 || len(underlined) != 2 {
			t.Errorf("got %v and underlined %v, want 8 and 2", plain, underlined)
		}
		return
	}
	t.Error("the circuit isn't among the drawings")
}

// TestTheSameCircuitGivesTheSameSchematic: no order of a map shows.
func TestTheSameCircuitGivesTheSameSchematic(t *testing.T) {
	for n, d := range drawings() {
		if n >= 60 {
			break
		}
		if again := d.circuit.Schematic(n%2 == 1, room).Sheets; fmt.Sprint(again) != fmt.Sprint(d.sheets) {
			t.Errorf("%s: two drawings of it differ", d.name)
		}
	}
}

func BenchmarkSchematic(b *testing.B) {
	text, err := fs.ReadFile(examples.Files, "engine-lathe.job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	file := job.Read("engine-lathe.job.yaml", text)
	r := circuit.Make(circuit.Brief{Job: &file.Job})
	for b.Loop() {
		r.Circuit.Schematic(false, room)
	}
}

// TestAnyWiringIsDrawn joins terminals of made circuits at random, as no one would: nothing is lost, and the drawing ends.
func TestAnyWiringIsDrawn(t *testing.T) {
	for n := range 120 {
		r := rand.New(rand.NewPCG(uint64(n), 23))
		file := job.Read("any", []byte(randomJob(r)))
		c := circuit.Make(circuit.Brief{Job: &file.Job}).Circuit
		var pins []circuit.Pin
		for _, d := range c.Devices {
			for _, terminal := range d.Terminals {
				pins = append(pins, d.Pin(terminal))
			}
		}
		for k := range c.Wires {
			if r.IntN(3) == 0 {
				c.Wires[k].To = pins[r.IntN(len(pins))]
			}
		}
		for _, s := range []bool{false, true} {
			seen := map[circuit.Pin]bool{}
			for _, sheet := range c.Schematic(s, room).Sheets {
				for _, p := range sheet.Wide.Pins {
					seen[p.Pin] = true
				}
			}
			for _, w := range c.Wires {
				if w.From != w.To && (!seen[w.From] || !seen[w.To]) {
					t.Errorf("wiring %d: wire %s from %s to %s isn't drawn", n, w.Name, w.From, w.To)
				}
			}
		}
	}
}
