package metalwork

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// Carried is what the bolts carry: a box of the size and weight that the plan knows; each may be missing.
type Carried struct {
	Weight               explain.Known[quantity.Mass]
	Width, Height, Depth explain.Known[quantity.Length]
}

// BoltResult is a box on its bolts.
type BoltResult struct {
	// Asked is true when the job says anything of bolts or of how the box hangs.
	Asked    bool
	Wanting  string // what is missing for the loads; the bolts are then only looked at one by one
	Mounting *job.Mounting
	Base     explain.Known[quantity.Text]
	HeldBy   explain.Known[quantity.Text]
	Weight   explain.Known[quantity.Mass]
	Shake    explain.Known[quantity.Factor]
	Overhang explain.Known[quantity.Length]
	Lean     explain.Known[quantity.Force]
	Height   explain.Known[quantity.Length] // of the push
	Load     explain.Known[quantity.Force]
	Tipping  explain.Known[quantity.Torque]
	Offset   explain.Known[quantity.Length] // of the load, to the right of the bolts' middle
	Bolts    []BoltLoad
	// Enough is true when every bolt and thread carries what comes to it; Worst is the largest share used.
	Enough bool
	Worst  explain.Known[quantity.Ratio]
	// Proposed are bolts that carry it, where those of the job don't or there are none.
	Proposed []ProposedBolt
}

// BoltLoad is one bolt with what it carries and what it may carry.
type BoltLoad struct {
	Bolt          *job.Bolt
	Name          string
	Grade         explain.Known[quantity.Text]
	Across, Pitch explain.Known[quantity.Length]
	Area          explain.Known[quantity.Area]
	Proof         explain.Known[quantity.Pressure]
	Shear, Pull   explain.Known[quantity.Force]
	// ShearX and ShearY are the load that it carries as an arrow, right and up.
	ShearX, ShearY quantity.Force
	Stress         explain.Known[quantity.Pressure]
	Used           explain.Known[quantity.Ratio]
	Engaged        explain.Known[quantity.Length] // thread that holds; missing where nobody said
	LeastThread    explain.Known[quantity.Length]
	PullOut        explain.Known[quantity.Force]
	ThreadUsed     explain.Known[quantity.Ratio]
	DrillDeep      explain.Known[quantity.Length]
	LeastEdge      explain.Known[quantity.Length]
	Preload        explain.Known[quantity.Force]
	Torque         explain.Known[quantity.Torque]
	x, y           float64
	tapped         bool
}

// ProposedBolt is a bolt that the program would take.
type ProposedBolt struct {
	Size string
	X, Y quantity.Length
}

// The sizes that are proposed, smallest first.
var proposedSizes = map[explain.RuleSet][]string{explain.US: {"1/4-20", "5/16-18", "3/8-16", "1/2-13", "5/8-11"}, explain.IEC: {"M6", "M8", "M10", "M12", "M16"}}

// Bolted works out the bolts of the job under what they carry.
func Bolted(j *job.Job, set explain.RuleSet, c Carried) BoltResult {
	m := &j.Mounting
	r := BoltResult{Mounting: m, Asked: len(j.Bolts) > 0 || m.Weight.Set || m.Overhang.Set || m.Base.Set || m.Thick.Set}
	if !r.Asked {
		return r
	}
	r.Base = job.Or(m.Base, "cast iron", explain.Practice("old machines"), explain.Say("taken as cast iron, the metal of most old machines"))
	r.HeldBy = job.Or(m.Through, "tapped holes", explain.Practice("bolts into a casting"), explain.Say("taken as tapped into the metal"))
	r.Shake = job.Or(m.Shake, 3, explain.Practice("control boxes on machines"), explain.Say("taken as on a running machine, three times its weight"))
	r.Lean = job.Or(m.Lean, 220, explain.Practice("a hand on an open door"), explain.Say("taken as a hand that leans on its upper edge"))
	r.Weight = job.Known(m.Weight)
	if !r.Weight.OK() && c.Weight.OK() {
		r.Weight = c.Weight
	}
	r.Overhang = job.Known(m.Overhang)
	if !r.Overhang.OK() && c.Depth.OK() {
		r.Overhang = explain.Chosen("overhang of the weight", c.Depth.Value/2, "half of {"+c.Depth.Why().Name+"}", explain.Practice("boxes filled evenly"), c.Depth)
	}
	for n := range j.Bolts {
		r.Bolts = append(r.Bolts, r.bolt(&j.Bolts[n], n))
	}
	r.Height = c.Height
	if !r.Height.OK() {
		top := quantity.Length(0)
		for _, b := range r.Bolts {
			top = max(top, b.Bolt.Y.Value)
		}
		r.Height = explain.Assume("height of the push", max(top, 300*quantity.Millimetre), explain.Practice("small control boxes"), explain.Say("the box's height isn't known: the push is taken at the highest bolt, 300 mm up at least"))
	}
	switch {
	case !r.Weight.OK():
		r.Wanting = "the weight of the box isn't known"
	case !r.Overhang.OK():
		r.Wanting = "neither the overhang of its weight nor the depth of the box is known"
	}
	r.Load = explain.Derive[quantity.Force](shockLoad, "load of the box", r.Weight, r.Shake)
	r.Tipping = explain.Derive[quantity.Torque](tippingMoment, "tipping moment of the box", r.Load, r.Overhang, r.Lean, r.Height)
	r.share(c)
	r.judge()
	if r.Wanting == "" && !r.Enough {
		r.propose(set, c)
	}
	return r
}

// bolt looks at one bolt by itself.
func (r *BoltResult) bolt(b *job.Bolt, n int) BoltLoad {
	l := BoltLoad{Bolt: b, Name: string(b.Name.Value), x: float64(b.X.Value), y: float64(b.Y.Value)}
	if !b.Name.Set {
		l.Name = fmt.Sprintf("%d", n+1)
	}
	name := "bolt " + l.Name
	l.tapped = r.HeldBy.Value != "nuts behind"
	size := job.Known(b.Size)
	thread, ok := catalogue.TapHoleFor(string(b.Size.Value))
	if !ok {
		needed := explain.Say("write the size of the bolt")
		l.Across, l.Pitch = explain.Absent[quantity.Length](name+", diameter", needed), explain.Absent[quantity.Length](name+", pitch", needed)
	} else {
		l.Across = explain.Chosen(name+", diameter", thread.Major, "table, by {"+size.Why().Name+"}", thread.Source, size)
		l.Pitch = explain.Chosen(name+", pitch", thread.Pitch, "table, by {"+size.Why().Name+"}", thread.Source, size)
	}
	l.Area = explain.Derive[quantity.Area](threadStressArea, name+", stress area", l.Across, l.Pitch)
	l.Grade = job.Or(b.Grade, "unmarked", explain.Practice("bolts from the bin"), explain.Say("taken as the weakest there is, because its head isn't said"))
	if g, ok := catalogue.BoltGradeOf(string(l.Grade.Value)); ok {
		l.Proof = explain.Chosen(name+", proof stress", g.Proof, "table, by {"+l.Grade.Why().Name+"}", g.Source, l.Grade)
	}
	r.thread(&l, name, thread)
	return l
}

// thread works out what the metal's thread holds, where there is one.
func (r *BoltResult) thread(l *BoltLoad, name string, thread catalogue.TapHole) {
	metal, ok := catalogue.ThreadEngagementIn(string(r.Base.Value))
	switch {
	case !ok:
		why := explain.Say("no thread is cut in {}: anchors or through bolts hold there, by their own sheets", r.Base.Value)
		l.Engaged, l.LeastThread, l.DrillDeep, l.LeastEdge = explain.Needless[quantity.Length](name+", thread", why), explain.Needless[quantity.Length](name+", least thread", why), explain.Needless[quantity.Length](name+", drill depth", why), explain.Needless[quantity.Length](name+", least edge", why)
		l.PullOut, l.ThreadUsed = explain.Needless[quantity.Force](name+", pull-out", why), explain.Needless[quantity.Ratio](name+", thread used", why)
		l.Preload, l.Torque = explain.Needless[quantity.Force](name+", preload", why), explain.Needless[quantity.Torque](name+", torque", why)
		return
	}
	edge := explain.Constant("edge distance in diameters", metal.Edge, metal.Source)
	l.LeastEdge = explain.Derive[quantity.Length](leastEdge, name+", least edge", l.Across, edge)
	wet := explain.Constant("torque coefficient, dry", quantity.Factor(0.2), wentzell.At("example 6.1"))
	if !l.tapped {
		why := explain.Say("nuts hold it, not a thread in the metal")
		l.Engaged, l.LeastThread, l.DrillDeep = explain.Needless[quantity.Length](name+", thread", why), explain.Needless[quantity.Length](name+", least thread", why), explain.Needless[quantity.Length](name+", drill depth", why)
		l.PullOut, l.ThreadUsed = explain.Needless[quantity.Force](name+", pull-out", why), explain.Needless[quantity.Ratio](name+", thread used", why)
		// a nut of the bolt's own grade is stronger than the bolt
		l.Preload = explain.Chosen(name+", preload", quantity.Force(0.75*float64(l.Proof.Value)*float64(l.Area.Value)), "75 % of {"+name+", proof stress} × {"+name+", stress area}", explain.Practice("75 % of proof for joints that are undone again"), l.Proof, l.Area)
		if !l.Area.OK() {
			l.Preload = explain.Absent[quantity.Force](name+", preload", explain.Say("write the size of the bolt"))
		}
		l.Torque = explain.Derive[quantity.Torque](tighteningTorque, name+", torque", wet, l.Across, l.Preload)
		return
	}
	diameters := explain.Constant("least thread in diameters", metal.Least, metal.Source)
	l.LeastThread = explain.Derive[quantity.Length](leastEngagement, name+", least thread", l.Across, diameters)
	switch thick := r.Mounting.Thick; {
	case l.Bolt.Depth.Set && thick.Set && thick.Value < l.Bolt.Depth.Value:
		l.Engaged = explain.Renamed(name+", thread", job.Known(thick))
	case l.Bolt.Depth.Set:
		l.Engaged = explain.Renamed(name+", thread", job.Known(l.Bolt.Depth))
	case thick.Set:
		l.Engaged = explain.Renamed(name+", thread", job.Known(thick)).Noted(explain.Say("tapped right through"))
	default:
		l.Engaged = explain.Absent[quantity.Length](name+", thread", explain.Say("write thread in the metal of the bolt, or metal there under mounting"))
	}
	shear := explain.Constant("shear strength of "+metal.Metal, metal.Shear, metal.Source)
	l.PullOut = explain.Derive[quantity.Force](threadHolds, name+", pull-out", l.Across, l.Pitch, l.Engaged, shear)
	tap := explain.Constant(name+", tap drill", thread.Across, thread.Source)
	l.DrillDeep = explain.Derive[quantity.Length](drillDepth, name+", drill depth", l.Engaged, l.Pitch, tap)
	l.Preload = explain.Derive[quantity.Force](boltPreload, name+", preload", l.Proof, l.Area, l.PullOut)
	l.Torque = explain.Derive[quantity.Torque](tighteningTorque, name+", torque", wet, l.Across, l.Preload)
}

// share gives each bolt its part of the load.
func (r *BoltResult) share(c Carried) {
	n := len(r.Bolts)
	if n == 0 {
		return
	}
	var because []explain.Because
	var places []point
	high := 0.0
	for _, b := range r.Bolts {
		if !b.Bolt.X.Set || !b.Bolt.Y.Set {
			r.Wanting = "bolt " + b.Name + " has no place"
			return
		}
		places = append(places, point{b.x, b.y})
		because = append(because, job.Known(b.Bolt.X), job.Known(b.Bolt.Y))
		high += square(max(0, b.y))
	}
	middle, sum := middleOf(places), 0.0
	for _, p := range places {
		sum += square(p.to(middle))
	}
	if c.Width.OK() {
		r.Offset = explain.Chosen("load off the bolts' middle", c.Width.Value/2-quantity.Length(middle.x), "half of {"+c.Width.Why().Name+"} − middle of the bolts", explain.Physics("geometry"), append([]explain.Because{c.Width}, because...)...)
	} else {
		r.Offset = explain.Assume("load off the bolts' middle", quantity.Length(0), explain.Practice("boxes hung in their middle"), explain.Say("the box's width isn't known: its weight is taken in the middle of the bolts"))
	}
	count := explain.Chosen("bolts", quantity.Count(n), "counted", explain.Physics("counting"), because...)
	squares := explain.Chosen("sum of squares from the bolts' middle", quantity.Area(sum), "added up", explain.Physics("geometry"), because...)
	heights := explain.Chosen("sum of squares of the bolts' heights", quantity.Area(high), "added up", explain.Physics("geometry"), because...)
	for k := range r.Bolts {
		b := &r.Bolts[k]
		name := "bolt " + b.Name
		right := explain.Chosen(name+", right of the middle", quantity.Length(b.x-middle.x), "its x − mean of all", explain.Physics("geometry"), job.Known(b.Bolt.X))
		above := explain.Chosen(name+", above the middle", quantity.Length(b.y-middle.y), "its y − mean of all", explain.Physics("geometry"), job.Known(b.Bolt.Y))
		b.Shear = explain.Derive[quantity.Force](boltShear, name+", shear", r.Load, count, r.Offset, right, above, squares)
		if v, e := float64(r.Load.Value), float64(r.Offset.Value); b.Shear.OK() {
			b.ShearY = quantity.Force(-v / float64(n))
			if sum > 0 {
				b.ShearX = quantity.Force(v * e / sum * (b.y - middle.y))
				b.ShearY -= quantity.Force(v * e / sum * (b.x - middle.x))
			}
		}
		b.Pull = explain.Derive[quantity.Force](boltTension, name+", pull", r.Tipping, job.Known(b.Bolt.Y), heights, r.Lean, count)
		b.Stress = explain.Derive[quantity.Pressure](combinedStress, name+", stress", b.Pull, b.Shear, b.Area)
		b.Used = explain.Derive[quantity.Ratio](shareOfProof, name+", used", b.Stress, b.Proof)
		if b.PullOut.Why().Origin != explain.NotNeeded {
			b.ThreadUsed = explain.Derive[quantity.Ratio](threadShareUsed, name+", thread used", b.Pull, b.PullOut)
		}
	}
}

// judge says whether the bolts are enough.
func (r *BoltResult) judge() {
	var because []explain.Because
	worst := quantity.Ratio(0)
	r.Enough = len(r.Bolts) > 0 && r.Wanting == ""
	for _, b := range r.Bolts {
		for _, k := range []explain.Known[quantity.Ratio]{b.Used, b.ThreadUsed} {
			if k.OK() {
				because, worst = append(because, k), max(worst, k.Value)
			}
		}
		if !b.Used.OK() {
			r.Enough = false
		}
	}
	if worst > 1 {
		r.Enough = false
	}
	if len(because) == 0 {
		r.Worst = explain.Absent[quantity.Ratio]("most used of the bolts", explain.Say("sizes, places and the load are wanted"))
		return
	}
	r.Worst = explain.Chosen("most used of the bolts", worst, "largest of bolts and threads", explain.Physics("comparison"), because...)
}

// propose finds the fewest and smallest bolts that carry it: two high up, or four at the corners.
func (r *BoltResult) propose(set explain.RuleSet, c Carried) {
	width, height := 200*quantity.Millimetre, 300*quantity.Millimetre
	if c.Width.OK() {
		width = c.Width.Value
	}
	if c.Height.OK() {
		height = c.Height.Value
	}
	sizes := proposedSizes[set]
	if sizes == nil {
		sizes = proposedSizes[explain.IEC]
	}
	grade := quantity.Text("unmarked")
	thick := r.Mounting.Thick.Value
	for _, size := range sizes {
		thread, ok := catalogue.TapHoleFor(size)
		if !ok {
			continue
		}
		// Two high up; four at the corners, a fifth of the box in from its edges.
		left, right, low, high := width/5, width-width/5, height/5, height-height/5
		for _, places := range [][][2]quantity.Length{{{left, high}, {right, high}}, {{left, high}, {right, high}, {left, low}, {right, low}}} {
			if r.carries(thread, grade, thick, places) {
				for _, p := range places {
					r.Proposed = append(r.Proposed, ProposedBolt{size, p[0], p[1]})
				}
				return
			}
		}
	}
}

// carries reports whether bolts of the thread at the places, alike on both sides of the box's middle, carry the load.
func (r *BoltResult) carries(thread catalogue.TapHole, grade quantity.Text, thick quantity.Length, places [][2]quantity.Length) bool {
	g, _ := catalogue.BoltGradeOf(string(grade))
	area := math.Pi / 4 * square(float64(thread.Major)-0.9382*float64(thread.Pitch))
	high, most := 0.0, 0.0
	for _, p := range places {
		high, most = high+square(float64(p[1])), max(most, float64(p[1]))
	}
	pull := float64(r.Tipping.Value)*most/high + float64(r.Lean.Value)/float64(len(places))
	shear := float64(r.Load.Value) / float64(len(places))
	if 2*math.Sqrt(pull*pull+3*shear*shear)/area > float64(g.Proof) {
		return false
	}
	metal, threaded := catalogue.ThreadEngagementIn(string(r.Base.Value))
	if !threaded || r.HeldBy.Value == "nuts behind" {
		return true
	}
	engaged := quantity.Scale(thread.Major, metal.Least)
	if thick > 0 {
		if thick < engaged {
			return false
		}
		engaged = min(thick, quantity.Scale(thread.Major, metal.Good))
	}
	return 3*pull <= math.Pi*float64(thread.Major)*7/8*float64(engaged-thread.Pitch)*float64(metal.Shear)
}
