package metalwork

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Result is every sheet as it is marked out.
type Result struct {
	Brief Brief
	// Datum is the corner that holes are measured from; View the side of the metal that is marked; Drills the set that is chosen from. Fit is
	// the fit of clearance holes.
	Datum, View, Drills, Fit explain.Known[quantity.Text]
	// Across and Along are what the drawing is stretched by for the user's printer, 1 where nothing was measured.
	Across, Along explain.Known[quantity.Factor]
	Sheets        []Marked
}

// Marked is a sheet with its holes.
type Marked struct {
	Sheet
	Letter string // before the numbers of its holes
	// Side is where the template is laid: "outside of the door". Mirrored is true when that is the side from which left and right are changed.
	Side     string
	Mirrored bool
	// At is the datum corner, on the sheet as given.
	At    [2]quantity.Length
	Holes []MarkedHole // row by row from the datum
}

// MarkedHole is a hole with its name, its place from the datum and how it is made.
type MarkedHole struct {
	Hole
	// FromSide and FromEnd are the middle's distances from the datum, across and along.
	FromSide, FromEnd quantity.Length
	Make              Making
}

// Making is how a hole is made.
type Making struct {
	// Words say what to do: "drill 7/32 in", "drill No. 21, tap 10-32", "punch 22.5 mm", "saw out 68 × 33 mm".
	Words explain.Phrase
	// Drill is the drill that it begins with, or is finished with; missing where none in the set will do.
	Drill explain.Known[quantity.Length]
	Name  string // of that drill: "7/32 in"
	// Across is the hole as finished.
	Across explain.Known[quantity.Length]
	// Turns is the number of threads that hold, of a tapped hole.
	Turns explain.Known[quantity.Count]
}

// letters are the first letters of the names of holes, by sheet.
var letters = map[string]string{"door": "D", "left wall": "L", "right wall": "R", "top": "T", "bottom": "B", "back": "K", "plate": "P"}

// Mark lays out every sheet: names, places from the datum, drills.
func Mark(b Brief) Result {
	m := &b.Job.Marking
	r := Result{Brief: b,
		Datum: job.Or(m.Datum, "lower left", explain.Practice("marking out"), explain.Say("measured from the lower left corner, as drawings are")),
		View:  job.Or(m.View, "outside", explain.Practice("marking out"), explain.Say("doors and walls are marked and drilled from outside, where the paint shows")),
		Fit: explain.Assume("fit of clearance holes", quantity.Text("normal"), explain.Source{Work: "ISO 273 and ASME B18.2.8", Trust: explain.CommonPractice},
			explain.Say("normal fit: room for a hole that is a little off")),
	}
	set := quantity.Text("metric drills")
	if b.Set == explain.US {
		set = "inch drills"
	}
	r.Drills = job.Or(m.Drills, set, explain.Practice("the drills of the country"), explain.Say("the set that is usual there"))
	r.Across, r.Along = stretch(m.PrintedX, "across"), stretch(m.PrintedY, "along")
	for n, s := range b.Sheets {
		r.Sheets = append(r.Sheets, r.mark(n, s))
	}
	return r
}

// stretch is what the drawing is stretched by so that a bar that measured so long comes out at 100 mm.
func stretch(measured job.Given[quantity.Length], way string) explain.Known[quantity.Factor] {
	if !measured.Set {
		k := explain.Assume("stretch "+way, quantity.Factor(1), explain.Practice("printing"), explain.Say("the check bar hasn't been measured yet"))
		k.Why().Path = measured.Path
		return k
	}
	return explain.Derive[quantity.Factor](printerStretch, "stretch "+way, job.Known(measured))
}

// mark lays out sheet n of the brief.
func (r *Result) mark(n int, s Sheet) Marked {
	m := Marked{Sheet: s, Letter: letters[s.Name], Side: "outside of the " + s.Name}
	if m.Letter == "" {
		m.Letter = strings.ToUpper(s.Name[:min(1, len(s.Name))])
	}
	switch {
	case s.Name == "plate":
		m.Side = "front of the back plate"
	case r.View.Value == "inside":
		m.Side, m.Mirrored = "inside of the "+s.Name, true
	}
	m.At = datumCorner(string(r.Datum.Value), m.Mirrored, s)
	for _, h := range r.Brief.Holes {
		if h.Sheet == n {
			m.Holes = append(m.Holes, r.made(h, s))
		}
	}
	for k := range r.Brief.Job.OwnHoles {
		if own := &r.Brief.Job.OwnHoles[k]; string(own.Face.Value) == s.Name {
			if h, ok := ownHole(own, n); ok {
				m.Holes = append(m.Holes, r.made(h, s))
			}
		}
	}
	for k := range m.Holes {
		h := &m.Holes[k]
		h.FromSide, h.FromEnd = fromDatum(m.At[0], h.X, s.Width.Value), fromDatum(m.At[1], h.Y, s.Height.Value)
	}
	slices.SortStableFunc(m.Holes, func(a, b MarkedHole) int {
		switch {
		case a.FromEnd < b.FromEnd-sameRow:
			return -1
		case a.FromEnd > b.FromEnd+sameRow:
			return 1
		case a.FromSide < b.FromSide:
			return -1
		case a.FromSide > b.FromSide:
			return 1
		}
		return 0
	})
	for k := range m.Holes {
		m.Holes[k].Name = fmt.Sprintf("%s%d", m.Letter, k+1)
	}
	return m
}

// sameRow is how far apart along the sheet two holes may be and still be counted in one row.
const sameRow = 0.05 * quantity.Millimetre

// datumCorner is the corner of the name on the sheet as given. A template that is turned over has its corners turned over too: its lower left
// is the sheet's lower right.
func datumCorner(name string, mirrored bool, s Sheet) [2]quantity.Length {
	right, upper := strings.Contains(name, "right"), strings.Contains(name, "upper")
	if name == "middle" {
		return [2]quantity.Length{s.Width.Value / 2, s.Height.Value / 2}
	}
	var at [2]quantity.Length
	if right != mirrored {
		at[0] = s.Width.Value
	}
	if upper {
		at[1] = s.Height.Value
	}
	return at
}

// fromDatum is the distance of a place from the datum on one axis: from an edge always into the sheet, from the middle with a sign.
func fromDatum(datum, place, whole quantity.Length) quantity.Length {
	if datum == whole {
		return datum - place
	}
	return place - datum
}

// ownHole turns the user's own hole into one of ours; false while its place isn't known.
func ownHole(o *job.OwnHole, sheet int) (Hole, bool) {
	if !o.X.Set || !o.Y.Set {
		return Hole{}, false
	}
	h := Hole{Sheet: sheet, For: string(o.Name.Value), X: o.X.Value, Y: o.Y.Value, Reason: o.X.Why()}
	switch {
	case o.Thread.Set:
		h.Screw, h.Tapped = string(o.Thread.Value), true
	case o.Across.Set:
		h.Across = job.Known(o.Across)
	case o.Width.Set && o.Height.Set:
		h.Shape, h.Width, h.Height = Square, job.Known(o.Width), job.Known(o.Height)
	default:
		return Hole{}, false
	}
	return h, true
}

// made says how a hole is made.
func (r *Result) made(h Hole, s Sheet) MarkedHole {
	m := MarkedHole{Hole: h}
	switch {
	case h.Tapped:
		m.Make.Across = explain.Derive[quantity.Length](tapDrill, "tap drill for "+h.Screw, name("thread", h.Screw))
		m.Make.Turns = explain.Derive[quantity.Count](threadTurns, "threads of "+h.Screw+" in the "+s.Name, s.Thick, name("thread", h.Screw))
		m.drillWith(r, 0)
		m.Make.Words = explain.Say("drill "+m.drillName()+", tap {}", quantity.Text(threadName(h.Screw)))
	case h.Screw != "":
		m.Make.Across = explain.Derive[quantity.Length](clearanceHole, "hole for a "+h.Screw+" screw", name("screw", h.Screw), r.Fit)
		close := explain.Derive[quantity.Length](clearanceHole, "closest hole for a "+h.Screw+" screw", name("screw", h.Screw), name("fit", "close"))
		m.drillWith(r, close.Value)
		m.Make.Words = explain.Say("drill " + m.drillName())
	case h.Shape == Square:
		m.Make.Across = h.Width
		m.Make.Words = explain.Say("drill the corners, saw and file out {} × {}", h.Width.Value, h.Height.Value)
	case h.Shape == Slot:
		m.Make.Across = h.Across
		m.drillWith(r, h.Across.Value)
		m.Make.Words = explain.Say("drill both ends "+m.drillName()+", saw out {} long", h.Width.Value)
	default:
		m.Make.Across = h.Across
		m.drillWith(r, h.Across.Value)
		switch {
		case h.Shape == Notched:
			m.Make.Words = explain.Say("punch or step-drill {}, notch upwards", h.Across.Value)
		case m.Make.Drill.OK():
			m.Make.Words = explain.Say("drill " + m.drillName())
		default:
			m.Make.Words = explain.Say("punch, step-drill or saw {}", h.Across.Value)
		}
	}
	return m
}

// drillWith finds the drill of the user's set for the hole, not smaller than least.
func (h *MarkedHole) drillWith(r *Result, least quantity.Length) {
	if !h.Make.Across.OK() {
		return
	}
	if least == 0 {
		least = h.Make.Across.Value - 0.1*quantity.Millimetre // a tap drill may be a hair under, never much
	}
	floor := explain.Constant("smallest that will do", least, explain.Practice("drilling"))
	h.Make.Drill = explain.Derive[quantity.Length](nearestDrill, "drill for "+fmtHole(h.Make.Across), h.Make.Across, floor, r.Drills)
	if d, ok := drillOf(h.Make.Across.Value, least, r.Drills.Value); ok {
		h.Make.Name = d.Name
	}
}

func (h *MarkedHole) drillName() string {
	if h.Make.Name == "" {
		return "it"
	}
	return h.Make.Name
}

// fmtHole tells holes of different sizes apart in the names of reasons.
func fmtHole(across explain.Known[quantity.Length]) string { return across.Why().Name }

// name is a word of the brief as a value.
func name(what, word string) explain.Known[quantity.Text] {
	return explain.Constant(what, quantity.Text(word), explain.Source{})
}
