package box

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// settledEntry is the section of the job file that settles an entry, if there is one.
func (r *Result) settledEntry(cable string) (explain.Because, bool) {
	for n := range r.Brief.Entries {
		e := &r.Brief.Entries[n]
		if e.Cable == cable && e.Said != nil {
			return e.Said, true
		}
	}
	return nil, false
}

// atEntry reports at the entry's section, or of the whole job.
func (r *Result) atEntry(report *explain.Report, cable string, message, remedy explain.Phrase) {
	if at, ok := r.settledEntry(cable); ok {
		report.At(at, message, remedy)
		return
	}
	report.Whole(message, remedy)
}

var cableHasNoEntry = explain.Rule[Result]{
	Name: "cable-has-no-entry", Title: "a cable has no free place to come in",
	Why:      "the nut of its fitting meets a part, or another nut, or the rim of the box",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("fittings: room for nut and bushing inside"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Clashes {
			if c := &r.Clashes[n]; c.Kind == noEntry {
				r.atEntry(report, c.Cable, c.What, explain.Say("let it come in by another wall, or leave its place free"))
			}
		}
	},
}

var entryInTheTop = explain.Rule[Result]{
	Name: "entry-in-the-top-under-dust", Title: "a cable comes in at the top where dust, chips or coolant fall",
	Why:      "whatever runs down the cable, or past an old seal, falls on live terminals",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("machine tools: cables come in from below"),
	Check: func(r Result, report *explain.Report) {
		dust := string(r.Brief.Job.Shop.Dust.Value)
		if dust == "" || dust == "clean" {
			return
		}
		for n := range r.Brief.Entries {
			if e := &r.Brief.Entries[n]; e.Face == TopWall {
				r.atEntry(report, e.Cable, explain.Say("the cable "+e.Cable+" comes in at the top, in a shop with "+dust+" dust"), explain.Say("bring it in at the bottom with a drip loop, or in the top with a fitting that is listed for the box's protection"))
			}
		}
	},
}

var entryOverLivePart = explain.Rule[Result]{
	Name: "entry-over-a-live-part", Title: "a hole in the top is right above a part that carries power",
	Why:      "chips of the drilling, a dropped nut or a drip land on live terminals",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("panel building: no entries above live parts"),
	Check: func(r Result, report *explain.Report) {
		room, ok := r.Room()
		if !ok {
			return
		}
		left, _ := room.PlateCorner()
		for _, e := range r.Entries {
			if e.Face != TopWall {
				continue
			}
			x := e.X - left
			for n := range r.Placed {
				p := &r.Placed[n]
				if d := &r.Brief.Bodies[n]; d.Power && p.Face == Plate && x > p.At[0] && x < p.At[0]+p.Size[0] {
					r.atEntry(report, e.Cable, explain.Say("the entry of "+e.Cable+" is above "+d.Tag), explain.Say("move it to the side, or cover "+d.Tag+" while you drill and after"))
					break
				}
			}
		}
	},
}

var entriesTooNear = explain.Rule[Result]{
	Name: "power-and-control-enter-together", Title: "a power cable and a control cable are settled to come in side by side",
	Why:      "they then run side by side outside too, and the motor cable's pulses come into the controls",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("installation notes of drives: control and motor cables apart"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Entries {
			for m := range r.Entries {
				a, b := &r.Entries[n], &r.Entries[m]
				x, y := r.Brief.inlet(a.Cable), r.Brief.inlet(b.Cable)
				if x < 0 || y < 0 || a.Face != b.Face {
					continue
				}
				e, o := &r.Brief.Entries[x], &r.Brief.Entries[y]
				gap := max(a.X-b.X, b.X-a.X, a.Y-b.Y, b.Y-a.Y)
				if e.Power && !o.Power && e.At.OK() && o.At.OK() && gap < apartEntry-slack {
					report.At(o.At, explain.Say("the entries of "+e.Cable+" and "+o.Cable+" are {} apart, {} is usual", gap, apartEntry), explain.Say("move one of them {} further", quantity.Length(apartEntry-gap)))
				}
			}
		}
	},
}
