package metalwork

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Drilling is what a drilling program is made with.
type Drilling struct {
	// Safe is the height of the tool over the work between holes; Near the height from which it feeds.
	Safe, Near explain.Known[quantity.Length]
	// Cutting is the cutting speed from which spindle speeds follow, and PerTurn the feed of one turn as a part of the drill's diameter.
	Cutting explain.Known[quantity.Speed]
	PerTurn explain.Known[quantity.Ratio]
	// Spindle and Feed, if the user gave them, serve all drills.
	Spindle explain.Known[quantity.Rotation]
	Feed    explain.Known[quantity.Speed]
}

// DrillingOf reads what the job says of drilling, and assumes the rest.
func DrillingOf(j *job.Job) Drilling {
	m := &j.Marking
	return Drilling{
		Safe:    job.Or(m.DrillFrom, 25*quantity.Millimetre, explain.Practice("drilling on a small mill"), explain.Say("over clamps and the chuck's key")),
		Near:    explain.Assume("height from which the drill feeds", 2*quantity.Millimetre, explain.Practice("drilling on a small mill"), explain.Say("over sheet that may bulge")),
		Cutting: explain.Assume("cutting speed", quantity.Speed(20.0/60), explain.Practice("high-speed steel drills in mild steel"), explain.Say("20 m/min; twice as much in aluminium")),
		PerTurn: explain.Assume("feed of one turn", quantity.Ratio(0.02), explain.Practice("twist drills: about a fiftieth of the diameter"), explain.Say("of the drill's diameter")),
		Spindle: job.Known(m.Spindle), Feed: job.Known(m.Feed),
	}
}

// mostSpindle is the fastest that a program turns a small drill where nothing is said: small mills don't go much faster.
const mostSpindle = quantity.Rotation(3000.0 / 60)

// pilotMost is the largest drill of a program: what is larger is drilled as a pilot hole and opened by hand.
const pilotMost = 13 * quantity.Millimetre

// pilotHole is the hole that a punch or step drill starts from.
const pilotHole = 3 * quantity.Millimetre

// programTool are the holes that one drill makes.
type programTool struct {
	across quantity.Length
	name   string
	holes  []MarkedHole
}

// Program writes a drilling program for the sheet (ISO 6983-1: preparatory functions G0, G17, G20 or G21, G80, G81, G90, G94, G98;
// miscellaneous functions M3, M5, M6, M30), with its origin at the datum corner, x to the right and y up as the sheet lies on the table, marked
// side up, and z at its surface. One tool after the other, smallest first; holes too large for a drill get a pilot hole. Square holes
// aren't in it. Comments say what it assumes. A sheet without holes gives a program without moves.
func (r *Result) Program(m Marked, d Drilling) string {
	inch := r.Drills.Value == "inch drills"
	unit, word, decimals := float64(quantity.Millimetre), "G21", 3
	if inch {
		unit, word, decimals = float64(quantity.Inch), "G20", 4
	}
	number := func(x float64) string {
		text := strings.TrimRight(fmt.Sprintf("%.*f", decimals, x/unit), "0")
		if text == "-0." || text == "-0" {
			text = "0."
		}
		return text
	}
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("%%")
	what := m.Name
	if machine := r.Brief.Job.Machine.Name.Typed; machine != "" {
		what = machine + ": " + what
	}
	line("(%s)", plainASCII(what))
	line("(%s UP, X0 Y0 AT %s, Z0 ON THE SURFACE)", plainASCII(m.Side), plainASCII(string(r.Datum.Value)))
	line("(CLAMP ON A WASTE BOARD, CHECK EVERY PLACE WITH THE TOOL UP FIRST)")
	line("%s G17 G40 G80 G90 G94", word)
	tools := programTools(m)
	for n, t := range tools {
		spindle := quantity.Rotation(min(float64(mostSpindle), float64(d.Cutting.Value)/(math.Pi*float64(t.across))))
		if d.Spindle.OK() {
			spindle = d.Spindle.Value
		}
		feed := float64(spindle) * float64(d.PerTurn.Value) * float64(t.across) // metres a second
		if d.Feed.OK() {
			feed = float64(d.Feed.Value)
		}
		// the point of a drill of 118 degrees is 0.3 of its diameter long; then a little into the waste board
		depth := float64(m.Thick.Value) + 0.3*float64(t.across) + float64(quantity.Millimetre)
		line("T%d M6 (%s)", n+1, plainASCII(t.name))
		line("S%.0f M3", float64(spindle)*60)
		line("G0 Z%s", number(float64(d.Safe.Value)))
		for k, h := range t.holes {
			x, y := float64(h.X-m.At[0]), float64(h.Y-m.At[1])
			if m.Mirrored {
				x = -x
			}
			at := fmt.Sprintf("X%s Y%s", number(x), number(y))
			if k == 0 {
				line("G98 G81 %s Z%s R%s F%s (%s)", at, number(-depth), number(float64(d.Near.Value)), number(rounded(feed*60, unit)), h.Name)
				continue
			}
			line("%s (%s)", at, h.Name)
		}
		line("G80")
		line("M5")
	}
	for _, h := range m.Holes {
		if h.Shape == Square {
			line("(%s IS SQUARE: NOT IN THIS PROGRAM)", h.Name)
		}
	}
	line("M30")
	line("%%")
	return b.String()
}

// rounded is a feed to two digits behind the point in inches, to whole millimetres.
func rounded(feed, unit float64) float64 {
	if unit == float64(quantity.Inch) {
		return math.Round(feed/unit*100) / 100 * unit
	}
	return math.Round(feed/unit) * unit
}

// programTools are the drills of a program, smallest first, each with its holes in the order of their names.
func programTools(m Marked) []programTool {
	var tools []programTool
	for _, h := range m.Holes {
		if h.Shape == Square {
			continue
		}
		t := programTool{across: h.Make.Drill.Value, name: "drill " + h.Make.Name}
		if !h.Make.Drill.OK() || t.across > pilotMost {
			t = programTool{across: pilotHole, name: "pilot hole 3 mm or 1/8 in, opened afterwards"}
		}
		k := slices.IndexFunc(tools, func(o programTool) bool { return o.name == t.name })
		if k < 0 {
			k = len(tools)
			tools = append(tools, t)
		}
		tools[k].holes = append(tools[k].holes, h)
	}
	slices.SortStableFunc(tools, func(a, b programTool) int { return int(math.Copysign(1, float64(a.across-b.across))) })
	return tools
}

// plainASCII is a text as a comment of a program may hold it: capitals, figures and few signs.
func plainASCII(text string) string {
	var b strings.Builder
	for _, c := range strings.ToUpper(text) {
		switch {
		case c >= ' ' && c < 0x7f && c != '(' && c != ')' && c != '%':
			b.WriteRune(c)
		default:
			b.WriteByte('-')
		}
	}
	return b.String()
}
