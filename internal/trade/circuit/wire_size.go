package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// chooseWire settles the sizes of the control wires and what the control cables are rated for. Where a supply of its own has a
// fuse, the wires behind it must carry what the fuse lets through.
func chooseWire(r *Result, p *Choices) {
	c := &r.Job.Controls
	least, core, rating := quantity.AWG(18), quantity.AWG(20), quantity.Voltage(300)
	if r.Brief.Set == explain.IEC {
		least, core = quantity.SquareMillimetres(0.75), quantity.SquareMillimetres(0.5)
	}
	if p.Supply.Value == "a transformer" && p.Voltage.Value > 50 {
		rating = 600
	}
	fuse := quantity.Current(0)
	if p.SupplyCurrent.OK() {
		fuse = min(p.SupplyCurrent.Value, mostControlFuse)
	}
	p.Wire = job.Or(c.Wire, carrying(r.Brief.Set, least, fuse), usual, explain.Say("the usual size: strong enough not to break at a screw, and it carries what the control supply can give"))
	p.CableWire = job.Or(c.CableWire, carrying(r.Brief.Set, core, fuse), usual, explain.Say("the usual size of the cores of a control cable"))
	p.CableRating = job.Or(c.CableRating, rating, usual, explain.Say("the usual rating of control cable: read what is printed on yours"))
}

// withWritten takes the sizes that stand in the job where Power couldn't work any out. A ground wire as thick as the conductors beside it
// is always enough. Source: NFPA 70, 250.122(A); IEC 60204-1, 5.2, Table 1, for copper up to 16 mm².
func (b Brief) withWritten() Brief {
	if b.Job == nil {
		return b
	}
	if s := b.Job.Supply.Conductor; !b.Branch.OK() && s.Set && s.Value.Known() {
		b.Branch = job.Known(s)
	}
	if s := b.Job.Motor.CableSize; !b.Lead.OK() && s.Set && s.Value.Known() {
		b.Lead = job.Known(s)
	}
	if !b.Ground.OK() && b.Branch.OK() && (b.Set != explain.IEC || b.Branch.Value.Area() <= quantity.SquareMillimetres(16).Area()*1.001) {
		source := explain.Source{Work: "NFPA 70", Place: "250.122(A)"}.Remembered()
		if b.Set == explain.IEC {
			source = explain.Source{Work: "IEC 60204-1", Place: "5.2, Table 1"}.Remembered()
		}
		b.Ground = explain.Chosen("ground wire", b.Branch.Value, "as thick as {"+b.Branch.Why().Name+"}, which is always enough", source, b.Branch)
	}
	return b
}

// mostControlFuse is the most that the fuse behind the control supply is chosen for. Common practice: 20 AWG and 0.5 mm² stand it.
const mostControlFuse quantity.Current = 4

// smallSizes are the sizes of small conductors that are sold by the metre, by rule set.
func smallSizes(set explain.RuleSet) []quantity.Conductor {
	if set == explain.IEC {
		var sizes []quantity.Conductor
		for _, mm2 := range []float64{0.34, 0.5, 0.75, 1, 1.5, 2.5, 4} {
			sizes = append(sizes, quantity.SquareMillimetres(mm2))
		}
		return sizes
	}
	var sizes []quantity.Conductor
	for gauge := 22; gauge >= 14; gauge -= 2 {
		sizes = append(sizes, quantity.AWG(gauge))
	}
	return sizes
}

// carrying is the smallest size, from least on, that carries the current.
func carrying(set explain.RuleSet, least quantity.Conductor, i quantity.Current) quantity.Conductor {
	for _, size := range smallSizes(set) {
		if most, _, ok := catalogue.ControlAmpacity(size); ok && size.Area() >= least.Area()*0.999 && most >= i {
			return size
		}
	}
	return least
}

// wireFor is the size of a wire of the mains behind a fuse: of power circuits the smallest that may be used at all is 14 AWG or
// 1.5 mm²; larger ones by the small-conductor rule (US) or Table 6 (IEC). It is missing for a fuse that the tables don't reach.
func (m *maker) wireFor(rating explain.Known[quantity.Current]) explain.Known[quantity.Conductor] {
	name := "wire behind the " + rating.Why().Name
	if m.set == explain.IEC {
		for _, mm2 := range []float64{1.5, 2.5, 4} {
			size := quantity.SquareMillimetres(mm2)
			if most, source, ok := catalogue.ControlAmpacity(size); ok && most >= rating.Value {
				return explain.Chosen(name, size, "the smallest from 1.5 mm² on that carries {"+rating.Why().Name+"}", source, rating)
			}
		}
	} else {
		for _, gauge := range []int{14, 12, 10} {
			size := quantity.AWG(gauge)
			if most, source, ok := catalogue.SmallConductorDevice(size); ok && most >= rating.Value {
				return explain.Chosen(name, size, "the smallest from 14 AWG on that {"+rating.Why().Name+"} may protect", source, rating)
			}
		}
	}
	return m.r.Brief.Branch
}
