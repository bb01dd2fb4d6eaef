package metalwork

import (
	"fmt"
	"math"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// HoleRules returns the rules that judge holes and how they are marked out, in the order of the sheet.
func HoleRules() []explain.Rule[Result] {
	return []explain.Rule[Result]{viewNotSaid, barsNotMeasured, barsFarOff, barsDiffer, holeOffSheet, holesOverlap, webTooThin, holeInRim, headsTooClose, tooFewThreads, noDrill,
		holeWithoutSize, glandAndCable}
}

// about is what a finding on a hole is about: its place, where the user wrote it, or the marking out as a whole.
func (r *Result) about(h MarkedHole) explain.Because {
	if h.Reason != nil {
		return explain.Wrap[quantity.Length](h.Reason)
	}
	return r.Datum
}

// called is the hole in words: "D3 (S1, start button)".
func (h MarkedHole) called() string {
	if h.For == "" {
		return h.Name
	}
	return h.Name + " (" + h.For + ")"
}

// half is how far the hole reaches from its middle along x and y.
func (h MarkedHole) half() (x, y quantity.Length) {
	if h.Shape == Square || h.Shape == Slot {
		x, y = h.Width.Value/2, h.Height.Value/2
		if h.Turned {
			x, y = y, x
		}
		return x, y
	}
	return h.Make.Across.Value / 2, h.Make.Across.Value / 2
}

// web is the metal that is left between two holes; negative if they overlap.
func web(a, b MarkedHole) quantity.Length {
	square := func(h MarkedHole) bool { return h.Shape == Square || h.Shape == Slot }
	if square(b) && !square(a) {
		a, b = b, a
	}
	ax, ay := a.half()
	bx, by := b.half()
	dx, dy := math.Abs(float64(a.X-b.X)), math.Abs(float64(a.Y-b.Y))
	switch {
	case !square(a):
		return quantity.Length(math.Hypot(dx, dy)) - ax - bx
	case square(b):
		return gapOf(dx-float64(ax+bx), dy-float64(ay+by))
	}
	return gapOf(dx-float64(ax), dy-float64(ay)) - bx
}

// gapOf is the distance between two boxes that are apart by dx and dy on the axes; negative where they overlap.
func gapOf(dx, dy float64) quantity.Length {
	if dx < 0 && dy < 0 {
		return quantity.Length(max(dx, dy))
	}
	return quantity.Length(math.Hypot(max(dx, 0), max(dy, 0)))
}

// pairs calls f with every two holes of each sheet.
func (r *Result) pairs(f func(s Marked, a, b MarkedHole)) {
	for _, s := range r.Sheets {
		for n, a := range s.Holes {
			for _, b := range s.Holes[n+1:] {
				f(s, a, b)
			}
		}
	}
}

// each calls f with every hole.
func (r *Result) each(f func(s Marked, h MarkedHole)) {
	for _, s := range r.Sheets {
		for _, h := range s.Holes {
			f(s, h)
		}
	}
}

var drillingPractice = explain.Practice("sheet-metal work")

var viewNotSaid = explain.Rule[Result]{
	Name: "side-to-mark-not-said", Title: "it isn't said from which side the sheets are marked", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a template laid on the wrong side gives a mirrored pattern, and the door is scrap",
	Source: explain.Practice("marking out from the back is the commonest spoiled door"),
	Check: func(r Result, report *explain.Report) {
		for _, s := range r.Sheets {
			if len(s.Holes) > 0 && s.Name != "plate" && !r.Brief.Job.Marking.View.Set {
				report.At(r.View, explain.Say("the templates are drawn for the outside of doors and walls, because nothing is said"), explain.Say("write view: outside, or inside, under marking out"))
				return
			}
		}
	},
}

var barsNotMeasured = explain.Rule[Result]{
	Name: "check-bars-not-measured", Title: "the check bars of the printed template haven't been measured", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a printer that fits to the page makes every distance about 3 % short, and no part fits its holes",
	Source: explain.Practice("printed templates"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Brief.Job.Marking
		if !holesAnywhere(&r) || m.PrintedX.Set && m.PrintedY.Set {
			return
		}
		missing := explain.Because(r.Across)
		if m.PrintedX.Set {
			missing = r.Along
		}
		report.At(missing, explain.Say("no length is written for the check bars, so the templates are drawn at 100 %"), explain.Say("print one page, measure both bars with a caliper, and write bar across and bar along under marking out before you drill"))
	},
}

func holesAnywhere(r *Result) bool {
	found := false
	r.each(func(Marked, MarkedHole) { found = true })
	return found
}

// The most that a check bar may be off before something else than the printer is to blame: fitting A4 onto Letter or the other way makes 3 to
// 6 %. Common practice.
const printerMost = 0.08

var barsFarOff = explain.Rule[Result]{
	Name: "check-bar-far-off", Title: "a check bar is so far off that it can't be the printer alone", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a correction of a wrong reading puts every hole in the wrong place",
	Source: explain.Practice("printed templates: fitting to the page changes the size by 3 to 6 %"),
	Check: func(r Result, report *explain.Report) {
		for _, g := range []job.Given[quantity.Length]{r.Brief.Job.Marking.PrintedX, r.Brief.Job.Marking.PrintedY} {
			if off := math.Abs(float64(g.Value)/0.1 - 1); g.Set && off > printerMost {
				report.At(job.Known(g), explain.Say("the bar of 100 mm is said to measure {}, {} off", g.Value, quantity.Ratio(off)), explain.Say("print at 100 %, without fitting to the page, and measure from line to line"))
			}
		}
	},
}

var barsDiffer = explain.Rule[Result]{
	Name: "check-bars-differ", Title: "the two check bars differ", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "paper that slips in the printer stretches one way only, and seldom twice alike",
	Source: explain.Practice("printed templates"),
	Check: func(r Result, report *explain.Report) {
		x, y := r.Brief.Job.Marking.PrintedX, r.Brief.Job.Marking.PrintedY
		if !x.Set || !y.Set {
			return
		}
		if apart := math.Abs(float64(x.Value-y.Value)) / 0.1; apart > 0.01 {
			report.At(job.Known(y), explain.Say("the bars measure {} across and {} along, {} apart", x.Value, y.Value, quantity.Ratio(apart)), explain.Say("print again and measure again; if they stay apart, the correction takes care of it"))
		}
	},
}

var holeOffSheet = explain.Rule[Result]{
	Name: "hole-off-the-sheet", Title: "a hole that isn't all on its sheet", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it opens the edge, and the sheet is scrap",
	Source: drillingPractice,
	Check: func(r Result, report *explain.Report) {
		r.each(func(s Marked, h MarkedHole) {
			x, y := h.half()
			if h.X-x < 0 || h.Y-y < 0 || h.X+x > s.Width.Value || h.Y+y > s.Height.Value {
				report.At(r.about(h), explain.Say("hole "+h.called()+" at {}, {} runs over the edge of the "+s.Name+", which is {} × {}", h.X, h.Y, s.Width.Value, s.Height.Value), explain.Say("move it in, or take a larger sheet"))
			}
		})
	},
}

var holesOverlap = explain.Rule[Result]{
	Name: "holes-run-together", Title: "two holes that run into one another", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the drill or punch wanders into the first hole, and neither fits",
	Source: drillingPractice,
	Check: func(r Result, report *explain.Report) {
		r.pairs(func(s Marked, a, b MarkedHole) {
			if left := web(a, b); left <= 0 {
				report.At(r.aboutEither(a, b), explain.Say("holes "+a.called()+" and "+b.called()+" of the "+s.Name+" overlap by {}", -left), explain.Say("move one of them"))
			}
		})
	},
}

// aboutEither is the hole of two that stands in the job file.
func (r *Result) aboutEither(a, b MarkedHole) explain.Because {
	if a.Reason != nil {
		return r.about(a)
	}
	return r.about(b)
}

var webTooThin = explain.Rule[Result]{
	Name: "too-little-metal-between-holes", Title: "too little metal between two holes", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the strip between them bulges under the punch and tears when a screw is tightened",
	Source: explain.Practice("punching: twice the sheet's thickness, 3 mm at least"),
	Check: func(r Result, report *explain.Report) {
		r.pairs(func(s Marked, a, b MarkedHole) {
			least := max(2*s.Thick.Value, 3*quantity.Millimetre)
			if left := web(a, b); left > 0 && left < least {
				report.At(r.aboutEither(a, b), explain.Say("{} of metal is left between holes "+a.called()+" and "+b.called()+" of the "+s.Name, left), explain.Say("leave {}", least))
			}
		})
	},
}

// zoneOf is how far a hole reaches into a zone: the gap between them, negative where they overlap.
func zoneGap(h MarkedHole, z Zone) quantity.Length {
	x, y := h.half()
	dx := math.Abs(float64(h.X-z.X-z.Width/2)) - float64(x+z.Width/2)
	dy := math.Abs(float64(h.Y-z.Y-z.Height/2)) - float64(y+z.Height/2)
	return gapOf(dx, dy)
}

var holeInRim = explain.Rule[Result]{
	Name: "hole-where-none-may-be", Title: "a hole in a bent rim, a seal or a hinge", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the seal leaks, the hinge binds, and a punch can't be put on",
	Source: drillingPractice,
	Check: func(r Result, report *explain.Report) {
		r.each(func(s Marked, h MarkedHole) {
			for _, z := range s.Zones {
				if z.Behind == 0 && zoneGap(h, z) < 0 {
					report.At(r.about(h), explain.Say("hole "+h.called()+" of the "+s.Name+" at {}, {} lies in the "+z.What, h.X, h.Y), explain.Say("move it by {} or more", -zoneGap(h, z)))
				}
			}
		})
	},
}

var headsTooClose = explain.Rule[Result]{
	Name: "heads-too-close", Title: "two devices whose heads meet on the outside", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "two buttons are pressed by one thumb, a mushroom head covers its neighbour, a locknut can't be turned",
	Source: explain.Source{Work: "IEC 60947-5-1", Place: "minimum centres of mounting holes", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		r.pairs(func(s Marked, a, b MarkedHole) {
			if a.Head == 0 || b.Head == 0 {
				return
			}
			between := quantity.Length(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
			if need := (a.Head + b.Head) / 2; between < need-sameRow {
				report.At(r.aboutEither(a, b), explain.Say("{} lie between the middles of "+a.called()+" and "+b.called()+" of the "+s.Name+"; their heads or nuts want {}", between, need), explain.Say("move them apart"))
			}
		})
	},
}

var tooFewThreads = explain.Rule[Result]{
	Name: "too-few-threads-in-the-sheet", Title: "a thread in a sheet that is too thin for it", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it strips when the screw is tightened, and a heavy part hangs on the others",
	Source: explain.Practice("sheet metal: two to three full threads at least"),
	Check: func(r Result, report *explain.Report) {
		told := map[string]bool{}
		r.each(func(s Marked, h MarkedHole) {
			key := s.Name + h.Screw
			if !h.Tapped || told[key] || !h.Make.Turns.OK() || h.Make.Turns.Value >= 2 {
				return
			}
			told[key] = true
			thread := threadName(h.Screw)
			report.At(h.Make.Turns, explain.Say("{} of the "+s.Name+" hold {} turns of "+thread, s.Thick.Value, h.Make.Turns.Value), explain.Say("take a finer thread or a rivet nut, or go through with a nut behind"))
		})
	},
}

var noDrill = explain.Rule[Result]{
	Name: "no-drill-of-the-set-fits", Title: "a hole for which the set has no drill near enough", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "a tap in a hole that is too large cuts no thread, a screw in a tight one doesn't go in",
	Source: explain.Source{Work: "ISO 273 and ASME B18.2.8"},
	Check: func(r Result, report *explain.Report) {
		told := map[string]bool{}
		r.each(func(s Marked, h MarkedHole) {
			if h.Screw == "" || told[h.Screw] || !h.Make.Across.OK() {
				return
			}
			limit := 0.2 * quantity.Millimetre
			if !h.Tapped {
				if loose, ok := catalogue.ClearanceHoleFor(h.Screw, "loose"); ok {
					limit = loose.Across - h.Make.Across.Value
				}
			}
			if off := h.Make.Drill.Value - h.Make.Across.Value; !h.Make.Drill.OK() || off > limit {
				told[h.Screw] = true
				report.At(r.Drills, explain.Say("the hole for "+h.Screw+" should be {}, and the nearest drill is "+h.drillWords(), h.Make.Across.Value), explain.Say("get a drill of {}, or write drills: both under marking out", h.Make.Across.Value))
			}
		})
	},
}

func (h MarkedHole) drillWords() string {
	if h.Make.Name == "" {
		return "not in the set"
	}
	return h.Make.Name
}

var holeWithoutSize = explain.Rule[Result]{
	Name: "own-hole-not-finished", Title: "a hole of your own without a size or a place", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is on no template, and is missed when the box is full of parts",
	Source: explain.Practice("marking out"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Brief.Job.OwnHoles {
			o := &r.Brief.Job.OwnHoles[n]
			var lacks []string
			for _, m := range []struct {
				set  bool
				word string
			}{{o.Face.Set, "face"}, {o.X.Set, "x"}, {o.Y.Set, "y"}, {o.Across.Set || o.Thread.Set || o.Width.Set && o.Height.Set, "diameter, or width and height, or tapped"}} {
				if !m.set {
					lacks = append(lacks, m.word)
				}
			}
			if len(lacks) > 0 {
				report.At(job.Known(o.Name), explain.Say("own hole "+ownName(o, n)+" lacks "+strings.Join(lacks, "; ")), explain.Say("write it"))
			}
		}
	},
}

func ownName(o *job.OwnHole, n int) string {
	if o.Name.Set {
		return string(o.Name.Value)
	}
	return fmt.Sprintf("%d", n+1)
}

var glandAndCable = explain.Rule[Result]{
	Name: "cable-does-not-suit-its-gland", Title: "a cable that is too thick or too thin for its gland", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a thick one doesn't go in; a thin one isn't gripped, pulls on its terminals and lets dust in",
	Source: explain.Source{Work: "EN 62444", Place: "cable ranges by catalogue practice", Trust: explain.CommonPractice},
	Check: func(r Result, report *explain.Report) {
		for n := range r.Brief.Job.CableIn {
			e := &r.Brief.Job.CableIn[n]
			h, ok := catalogue.EntryHoleFor(string(e.Size.Value))
			if !ok || !e.OD.Set {
				continue
			}
			from, to := h.CableFrom, h.CableUpTo
			if to == 0 {
				to = 0.75 * h.Across
			}
			if od := e.OD.Value; od < from || od > to {
				better := "a larger one"
				if fit, ok := catalogue.EntryFor(od, h.CableUpTo > 0); ok {
					better = fit.Size
				}
				report.At(job.Known(e.OD), explain.Say("the cable is {} thick, and entry {} takes {} to {}", od, e.Size.Value, from, to), explain.Say("take "+better))
			}
		}
	},
}
