package metalwork

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

var loadOfBoltsNotKnown = explain.Rule[Patterned]{
	Name: "load-of-the-bolts-not-known", Title: "bolts whose load can't be worked out", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "nobody knows whether they hold the box on a shaking machine",
	Source: explain.Physics("moments"),
	Check: func(p Patterned, report *explain.Report) {
		if r := p.Bolted; r.Asked && r.Wanting != "" {
			about := explain.Because(r.Weight)
			if r.Weight.OK() {
				about = job.Known(r.Mounting.Overhang)
			}
			report.At(about, explain.Say("the load of the bolts isn't worked out: "+r.Wanting), explain.Say("write weight and overhang under mounting, and x and y of each bolt"))
		}
	},
}

var boltsNotEnough = explain.Rule[Patterned]{
	Name: "bolts-not-enough", Title: "bolts that don't hold the box", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the box tears off a running machine and falls with live wires on it",
	Source: shigley,
	Check: func(p Patterned, report *explain.Report) {
		r := p.Bolted
		if r.Wanting != "" || len(r.Bolts) == 0 || r.Enough || !r.Worst.OK() {
			return
		}
		for _, b := range r.Bolts {
			if !b.Bolt.Size.Set {
				return // another rule asks for it
			}
		}
		remedy := explain.Say("hang it on a shelf or foot of its own: no bolts up to 5/8 in or M16 do here")
		if n := len(r.Proposed); n > 0 {
			var at []string
			var values []quantity.Value
			for _, b := range r.Proposed {
				at = append(at, "{}, {}")
				values = append(values, b.X, b.Y)
			}
			remedy = explain.Say(fmt.Sprintf("take %d of %s, even unmarked ones, at ", n, r.Proposed[0].Size)+strings.Join(at, "; ")+" from the box's lower left corner", values...)
		}
		what := explain.Say(fmt.Sprintf("the %d bolts are used to {} of what they and their threads may carry, with shock and push", len(r.Bolts)), r.Worst.Value)
		if len(r.Bolts) == 1 {
			what = explain.Say("the one bolt is used to {} of what it and its thread may carry, with shock and push", r.Worst.Value)
		}
		for _, b := range r.Bolts {
			if !b.Shear.OK() || !b.Pull.OK() {
				what = explain.Say("bolt "+b.Name+" can't hold it: {}", quantity.Text(b.Used.Why().Note.Show(quantity.InchUnits)))
			}
		}
		report.At(job.Known(r.Bolts[0].Bolt.Size), what, remedy)
	},
}

var boltSizeNotSaid = explain.Rule[Patterned]{
	Name: "bolt-not-finished", Title: "a bolt without a size or a place", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "what it holds can't be worked out, and its hole is on no template",
	Source: explain.Practice("bolted joints"),
	Check: func(p Patterned, report *explain.Report) {
		for _, b := range p.Bolted.Bolts {
			var lacks []string
			for _, m := range []struct {
				set  bool
				word string
			}{{b.Bolt.Size.Set, "size"}, {b.Bolt.X.Set, "x"}, {b.Bolt.Y.Set, "y"}} {
				if !m.set {
					lacks = append(lacks, m.word)
				}
			}
			if len(lacks) > 0 {
				about := explain.Because(job.Known(b.Bolt.Name))
				if !b.Bolt.Name.Set && b.Bolt.Size.Set {
					about = job.Known(b.Bolt.Size)
				}
				report.At(about, explain.Say("bolt "+b.Name+" lacks "+strings.Join(lacks, ", ")), explain.Say("write it"))
			}
		}
	},
}

var boltGradeNotSaid = explain.Rule[Patterned]{
	Name: "bolt-grade-not-said", Title: "bolts whose strength isn't known", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "an unmarked bolt breaks at a third of what a marked one carries",
	Source: explain.Source{Work: "ISO 898-1 and SAE J429", Trust: explain.FromMemory},
	Check: func(p Patterned, report *explain.Report) {
		for _, b := range p.Bolted.Bolts {
			if !b.Bolt.Grade.Set && b.Bolt.Size.Set {
				report.At(job.Known(b.Bolt.Size), explain.Say("the grade of bolt "+b.Name+" isn't said: taken as the weakest, with a proof stress of {}", b.Proof.Value), explain.Say("look on its head and write grade"))
				return
			}
		}
	},
}

var shakeNotSaid = explain.Rule[Patterned]{
	Name: "shake-of-the-box-not-said", Title: "it isn't said how much the box is shaken", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "a machine's jolts are several times the weight of what hangs on it",
	Source: explain.Practice("control boxes on machines"),
	Check: func(p Patterned, report *explain.Report) {
		if r := p.Bolted; len(r.Bolts) > 0 && r.Wanting == "" && !r.Mounting.Shake.Set {
			report.At(r.Weight, explain.Say("the shock isn't said: the bolts are worked out for {} times the weight of the box", r.Shake.Value), explain.Say("write shake under mounting: 3 on a running machine, 1.5 on a wall"))
		}
	},
}

var tooLittleThread = explain.Rule[Patterned]{
	Name: "too-little-thread-in-the-metal", Title: "a bolt with too little thread in the metal", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the thread tears out of the casting, at the latest when it is tightened",
	Source: explain.Practice("thread engagement: 1.25 diameters in cast iron, 1 in steel, 2 in aluminium"),
	Check: func(p Patterned, report *explain.Report) {
		for _, b := range p.Bolted.Bolts {
			if b.Engaged.OK() && b.LeastThread.OK() && b.Engaged.Value < b.LeastThread.Value-1e-6 {
				report.At(b.Engaged, explain.Say("bolt "+b.Name+" has {} of thread in {}, which wants {}", b.Engaged.Value, p.Bolted.Base.Value, b.LeastThread.Value), explain.Say("go deeper, take a thinner bolt, or go through with a nut behind"))
			}
		}
	},
}

var drillThroughTheMetal = explain.Rule[Patterned]{
	Name: "drill-deeper-than-the-metal", Title: "a blind hole that comes out on the other side", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the drill comes out into oil, a bearing or a cavity, and chips fall where nobody gets at them",
	Source: explain.Practice("tapping blind holes: thread, three pitches for the tap, point of the drill"),
	Check: func(p Patterned, report *explain.Report) {
		r := p.Bolted
		for _, b := range r.Bolts {
			if !b.Bolt.Depth.Set || !r.Mounting.Thick.Set || !b.tapped || !b.DrillDeep.OK() || r.HeldBy.Value == "existing bosses" {
				continue
			}
			thick := r.Mounting.Thick.Value
			switch {
			case b.Bolt.Depth.Value > thick:
				report.At(job.Known(b.Bolt.Depth), explain.Say("bolt "+b.Name+" is to have {} of thread in metal that is {} thick", b.Bolt.Depth.Value, thick), explain.Say("write what the metal has room for"))
			case b.DrillDeep.Value > thick:
				report.At(job.Known(b.Bolt.Depth), explain.Say("for {} of thread bolt "+b.Name+" is drilled {} deep, and the metal is {} thick", b.Bolt.Depth.Value, b.DrillDeep.Value, thick), explain.Say("find out what lies behind; use a bottoming tap, drill right through on purpose, or be content with less thread"))
			}
		}
	},
}

var boltTooNearTheEdge = explain.Rule[Patterned]{
	Name: "bolt-too-near-the-edge", Title: "a bolt too near an edge, a rib or a cavity", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the edge breaks out of the casting under the bolt, or the drill runs off along the rib",
	Source: explain.Practice("edge distance of bolts"),
	Check: func(p Patterned, report *explain.Report) {
		for _, b := range p.Bolted.Bolts {
			if b.Bolt.Edge.Set && b.LeastEdge.OK() && b.Bolt.Edge.Value < b.LeastEdge.Value-1e-6 {
				report.At(job.Known(b.Bolt.Edge), explain.Say("bolt "+b.Name+" is {} from the nearest edge, rib or cavity; {} wants {}", b.Bolt.Edge.Value, p.Bolted.Base.Value, b.LeastEdge.Value), explain.Say("move it, or take a thinner bolt"))
			}
		}
	},
}

var threadLengthNotSaid = explain.Rule[Patterned]{
	Name: "thread-in-the-metal-not-said", Title: "nobody knows how much thread holds the bolts", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a bolt that is strong enough holds no more than the thread it sits in",
	Source: explain.Practice("thread engagement"),
	Check: func(p Patterned, report *explain.Report) {
		for _, b := range p.Bolted.Bolts {
			if b.tapped && b.Bolt.Size.Set && b.Engaged.Why().Origin == explain.Missing {
				report.At(job.Known(b.Bolt.Size), explain.Say("the thread of bolt "+b.Name+" in the {} isn't said", p.Bolted.Base.Value), explain.Say("write thread in the metal of the bolt, {} at least, or metal there under mounting", b.LeastThread.Value))
				return
			}
		}
	},
}
