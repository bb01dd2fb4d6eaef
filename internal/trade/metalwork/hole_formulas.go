package metalwork

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// holeFormulas are the relations of holes and drills, in the order of the sheet.
var holeFormulas = []*explain.Formula{clearanceHole, tapDrill, nearestDrill, threadTurns, entryHole, printerStretch}

var screwParameter = explain.Parameter{Name: "screw", Kind: quantity.KindText, Help: "its size", Example: "No. 10"}

var clearanceHole = &explain.Formula{
	Name: "clearance-hole", Title: "hole for a screw to go through", Words: "table, by {screw} and {fit}",
	Inputs: []explain.Parameter{screwParameter, {Name: "fit", Kind: quantity.KindText, Help: "how much room the screw has", Example: "normal", Default: "normal", Choices: []string{"close", "normal", "loose"}}},
	Result: quantity.KindLength, Source: explain.Source{Work: "ISO 273 and ASME B18.2.8"},
	Compute: explain.Of2(func(screw, fit quantity.Text) (explain.Answer, error) {
		h, ok := catalogue.ClearanceHoleFor(string(screw), string(fit))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s fit for %q", fit, screw)
		}
		return explain.Answer{Value: h.Across, Source: h.Source, Looked: true}, nil
	}),
}

var threadParameter = explain.Parameter{Name: "thread", Kind: quantity.KindText, Help: "its size and pitch", Example: "10-32"}

var tapDrill = &explain.Formula{
	Name: "tap-drill", Title: "hole that a thread is cut in", Words: "table, by {thread}", Inputs: []explain.Parameter{threadParameter},
	Result: quantity.KindLength, Source: explain.Source{Work: "Machinery's Handbook", Edition: "31", Place: "tap drills"},
	Compute: explain.Of1(func(thread quantity.Text) (explain.Answer, error) {
		h, ok := catalogue.TapHoleFor(string(thread))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no thread %q", thread)
		}
		return explain.Answer{Value: h.Across, Source: h.Source, Looked: true}, nil
	}),
}

var nearestDrill = &explain.Formula{
	Name: "nearest-drill", Title: "drill of a set that comes nearest to a hole", Words: "the drill of the {set} nearest to {hole}, {least} or more",
	Inputs: []explain.Parameter{{Name: "hole", Kind: quantity.KindLength, Help: "as it should be", Example: "5.5 mm"}, {Name: "least", Kind: quantity.KindLength, Help: "the smallest that will do", Example: "5.3 mm"},
		{Name: "set", Kind: quantity.KindText, Help: "the drills that there are", Example: "inch drills", Choices: []string{"inch drills", "metric drills", "both"}}},
	Result: quantity.KindLength, Source: explain.Source{Work: "ASME B94.11M", Edition: "1993", Place: "drill sizes", Trust: explain.FromMemory},
	Compute: explain.Of3(func(hole, least quantity.Length, set quantity.Text) (explain.Answer, error) {
		d, ok := drillOf(hole, least, set)
		if !ok {
			return explain.Answer{}, fmt.Errorf("no drill up to 13 mm or 1/2 in is near enough: punch it, step-drill it or saw it out")
		}
		return explain.Answer{Value: d.Across, Source: d.Source, Looked: true, Note: explain.Say("a drill of " + d.Name)}, nil
	}),
}

// drillOf is the drill of the set of the job file's words.
func drillOf(hole, least quantity.Length, set quantity.Text) (catalogue.Drill, bool) {
	return catalogue.NearestDrill(hole, least, set != "metric drills", set != "inch drills")
}

var threadTurns = &explain.Formula{
	Name: "thread-turns", Title: "threads that hold in a sheet", Words: "{thickness} ÷ pitch of {thread}",
	Inputs: []explain.Parameter{{Name: "thickness", Kind: quantity.KindLength, Help: "of the sheet", Example: "0.1 in"}, threadParameter},
	Result: quantity.KindCount, Source: explain.Physics("geometry of a thread"),
	Compute: explain.Of2(func(thick quantity.Length, thread quantity.Text) (explain.Answer, error) {
		h, ok := catalogue.TapHoleFor(string(thread))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no thread %q", thread)
		}
		return explain.Is(quantity.Count(float64(thick) / float64(h.Pitch)))
	}),
}

var entryHole = &explain.Formula{
	Name: "entry-hole", Title: "hole for a conduit fitting or cable gland", Words: "table, by {size}",
	Inputs: []explain.Parameter{{Name: "size", Kind: quantity.KindText, Help: "trade size or metric thread", Example: "3/4"}},
	Result: quantity.KindLength, Source: explain.Source{Work: "UL 514B and EN 62444", Trust: explain.FromMemory},
	Compute: explain.Of1(func(size quantity.Text) (explain.Answer, error) {
		h, ok := catalogue.EntryHoleFor(string(size))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the tables have no entry of size %q", size)
		}
		return explain.Answer{Value: h.Across, Source: h.Source, Looked: true}, nil
	}),
}

var printerStretch = &explain.Formula{
	Name: "printer-stretch", Title: "what a drawing is stretched by for a printer", Words: "100 mm ÷ {measured bar}",
	Inputs: []explain.Parameter{{Name: "measured bar", Kind: quantity.KindLength, Help: "the check bar of 100 mm, by caliper", Example: "97.0 mm"}},
	Result: quantity.KindFactor, Source: explain.Physics("ratio"),
	Compute: explain.Of1(func(bar quantity.Length) (explain.Answer, error) {
		if bar <= 0 {
			return explain.Answer{}, fmt.Errorf("the bar must be longer than nothing")
		}
		return explain.Is(quantity.Factor(float64(100*quantity.Millimetre) / float64(bar)))
	}),
}

// threadName is the thread that a screw's size stands for: 10-32 for No. 10.
func threadName(screw string) string {
	if h, ok := catalogue.TapHoleFor(screw); ok {
		return h.Thread
	}
	return screw
}
