package power

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// circuit fills what the branch circuit must carry.
func circuit(r *Result) {
	b := &r.Branch
	b.Current = explain.Renamed("rated input current of the drive", r.Drive.Input)
	b.Others = otherLoads(r)
	b.Total = explain.Derive[quantity.Current](circuitCurrent, "current of the branch circuit", b.Current, b.Others)
	b.Least = citing(explain.Derive[quantity.Current](driveConductorAmpacity, "least ampacity of the branch conductor",
		b.Current, r.Code.DriveConductor, b.Others), r.Code.DriveConductor)
}

// branchConductor fills the rest of r.Branch: the conductor that carries the circuit as it is installed.
func branchConductor(r *Result) {
	b, supply := &r.Branch, &r.Job.Supply
	b.Device = deviceOnWire(r)
	b.Existing = supply.Conductor.Set
	b.Ambient = ambientOfRun(r.Job)
	b.Together = job.Or(supply.Bundled, max(supplyPhases(r.Job).Value, 2), explain.Practice("house wiring"),
		explain.Say("taken as the conductors of this circuit alone: count others that share the raceway or are strapped along"))
	if !r.Code.hasTables() {
		b.Terminals = untabled[quantity.Text](r.Code, "terminal temperature")
		b.Insulation = job.Known(supply.Insulation)
		b.Correction = untabled[quantity.Factor](r.Code, "correction for the air around the run")
		b.Adjustment = untabled[quantity.Ratio](r.Code, "adjustment for conductors together")
		b.Ampacity = untabled[quantity.Current](r.Code, "ampacity as installed")
		b.Smallest = untabled[quantity.Conductor](r.Code, "smallest branch conductor that passes")
		b.Conductor = untabled[quantity.Conductor](r.Code, "branch conductor")
		if b.Existing {
			b.Conductor = job.Known(supply.Conductor)
		}
		b.Used = explain.Renamed("branch conductor that counts", b.Conductor)
		b.UsedAmpacity = untabled[quantity.Current](r.Code, "ampacity that counts")
		return
	}
	b.Terminals = terminalColumn(r)
	b.Insulation = insulationOfRun(supply)
	starts := explain.Derive[quantity.Text](insulationColumn, "insulation temperature", b.Insulation)
	ends := explain.Derive[quantity.Text](finalColumn, "temperature column that counts in the end", b.Insulation, b.Terminals)
	b.Correction = explain.Derive[quantity.Factor](ampacityCorrection, "correction for the air around the run", b.Ambient, starts)
	b.Adjustment = explain.Derive[quantity.Ratio](ampacityAdjustment, "adjustment for conductors together", b.Together)
	keepExistingConductor(r)
	b.Smallest = explain.Derive[quantity.Conductor](smallestBranchConductor, "smallest branch conductor that passes",
		b.Least, b.Device, b.Insulation, b.Terminals, b.Ambient, b.Together)
	b.Conductor = explain.Renamed("branch conductor", b.Smallest)
	if b.Existing {
		b.Conductor = job.Known(supply.Conductor)
	}
	ampacity := func(of string, size explain.Known[quantity.Conductor]) explain.Known[quantity.Current] {
		byInsulation := explain.Derive[quantity.Current](conductorAmpacity, "ampacity"+of+" by its insulation", size, starts)
		corrected := explain.Derive[quantity.Current](correctedAmpacity, "ampacity"+of+" after correction and adjustment", byInsulation, b.Correction, b.Adjustment)
		byTerminals := explain.Derive[quantity.Current](conductorAmpacity, "ampacity"+of+" by its terminals", size, ends)
		return explain.Derive[quantity.Current](installedAmpacity, "ampacity"+of+" as installed", corrected, byTerminals)
	}
	b.Ampacity = ampacity("", b.Conductor)
	b.Used, b.UsedAmpacity = b.Conductor, b.Ampacity
	if b.Existing && !b.existingPasses() {
		b.Used = b.Smallest
		b.UsedAmpacity = ampacity(" of the smallest conductor that passes", b.Smallest)
	}
	b.Considered = consideredConductors(b)
}

// keepExistingConductor changes the device rather than the wire where that is enough: a conductor in the wall that carries the
// circuit but has too large a breaker ahead of it only wants a smaller breaker.
func keepExistingConductor(r *Result) {
	b, least := &r.Branch, r.Protection.Least
	i, known := catalogue.InsulationOf(string(b.Insulation.Value))
	if !b.Existing || !known || !least.OK() || !b.Device.OK() || !b.Ambient.OK() || !b.Together.OK() || !b.Terminals.OK() {
		return
	}
	size := r.Job.Supply.Conductor.Value
	amperes, ok := installed(size, i, columnOf(b.Terminals.Value), b.Ambient.Value, b.Together.Value)
	if ok && covers(amperes, b.Least.Value) && !suits(size, amperes, b.Device.Value) && suits(size, amperes, least.Value) {
		b.Device = explain.Renamed(b.Device.Why().Name, least).Noted(
			explain.Say("the one of {} at the source is too large for the {} that is there and has to be changed", r.Job.Supply.Breaker.Value, size))
	}
}

// existingPasses reports whether the conductor in the wall carries the circuit and may have the device ahead of it.
func (b *Branch) existingPasses() bool {
	return b.Ampacity.OK() && b.Least.OK() && b.Device.OK() && covers(b.Ampacity.Value, b.Least.Value) &&
		suits(b.Conductor.Value, b.Ampacity.Value, b.Device.Value)
}

// otherLoads adds up what else hangs on the machine's circuit. A load that is fed from the drive or from another circuit
// doesn't count; one whose feed isn't written does. A load whose current can't be had is left out, and the note says so.
func otherLoads(r *Result) explain.Known[quantity.Current] {
	j := r.Job
	const name = "current of the other loads on the circuit"
	var each []explain.Because
	var without []string
	sum := quantity.Current(0)
	for n := range j.Loads {
		l := &j.Loads[n]
		if !onCircuit(l) {
			continue
		}
		i := currentOfLoad(l, r, n)
		if !i.OK() {
			// The rest is worth knowing without it; a rule asks for the figure.
			without = append(without, loadName(l, n))
			continue
		}
		each = append(each, i)
		sum += i.Value
	}
	left := explain.Say("without " + strings.Join(without, " and ") + ", whose current isn't known")
	if len(each) == 0 {
		k := explain.Assume(name, quantity.Current(0), explain.Practice("job file"), explain.Say("no load on this circuit is written under loads"))
		if len(without) > 0 {
			k = k.Noted(left)
		}
		return k
	}
	words := ""
	for n, i := range each {
		if n > 0 {
			words += " + "
		}
		words += "{" + i.Why().Name + "}"
	}
	k := explain.Chosen(name, sum, words, explain.Physics("currents of loads side by side add"), each...)
	if len(without) > 0 {
		k = k.Noted(left)
	}
	return k
}

// onCircuit reports whether the load draws from the machine's own circuit; one whose feed isn't written is taken to.
func onCircuit(l *job.Load) bool {
	return l.Fed.Value != "drive output" && l.Fed.Value != "another circuit"
}

func loadName(l *job.Load, n int) string {
	if l.Name.Set {
		return string(l.Name.Value)
	}
	return fmt.Sprintf("load %d", n+1)
}

// currentOfLoad is what one load draws: volt-amperes over volts, or the rule set's table of single-phase motors. A rule set
// that has no such table needs the volt-amperes.
func currentOfLoad(l *job.Load, r *Result, n int) explain.Known[quantity.Current] {
	name := "current of " + loadName(l, n)
	volts := job.Known(r.Job.Supply.Voltage)
	if l.Voltage.Set {
		volts = job.Known(l.Voltage)
	}
	if l.VA.Set {
		return explain.Derive[quantity.Current](loadCurrent, name, job.Known(l.VA), volts)
	}
	table := r.Code.Motor.SinglePhase
	if table == nil {
		return explain.Absent[quantity.Current](name, explain.Say("needs the volt-amperes of {}", quantity.Text(loadName(l, n))))
	}
	return explain.Derive[quantity.Current](table, name, job.Known(l.Power), volts)
}

// deviceOnWire is the device that the conductor must suit. A breaker that is there and large enough stays, and the wire is
// chosen for it; one that is too small has to be replaced anyway.
func deviceOnWire(r *Result) explain.Known[quantity.Current] {
	const name = "overcurrent device that the conductor must suit"
	least := r.Protection.Least
	breaker := job.Known(r.Job.Supply.Breaker)
	if !breaker.OK() || !least.OK() || !covers(breaker.Value, r.Branch.Total.Value) {
		return explain.Renamed(name, least)
	}
	k := explain.Chosen(name, breaker.Value, "{"+breaker.Why().Name+"}, which is not below {"+r.Branch.Total.Why().Name+"}",
		explain.Practice("a device that is there and large enough stays"), breaker, r.Branch.Total)
	if breaker.Value > least.Value {
		k = k.Noted(explain.Say("one of {} would do, and may allow a thinner conductor", least.Value))
	}
	return k
}

// terminalColumn is the temperature that the weakest terminal allows: as marked, but never above 75 °C, which is as far as
// breakers, receptacles and drives of this size are marked.
func terminalColumn(r *Result) explain.Known[quantity.Text] {
	const name = "terminal temperature"
	given := job.Known(r.Job.Supply.Terminals)
	if given.OK() {
		return explain.Derive[quantity.Text](markedTerminal, name, given)
	}
	k := explain.Derive[quantity.Text](unmarkedTerminal, name, r.Branch.Least)
	if k.OK() {
		k.Why().Path = r.Job.Supply.Terminals.Path
		k.Why().Origin = explain.Assumed
	}
	return k
}

// insulationOfRun is the insulation to size with. Flexible cord is no wiring for a wall: a rule says so, and the run is sized
// as if it were building wire.
func insulationOfRun(s *job.Supply) explain.Known[quantity.Text] {
	if _, ok := catalogue.InsulationOf(string(s.Insulation.Value)); s.Insulation.Set && ok {
		return job.Known(s.Insulation)
	}
	insulation, where := quantity.Text("THWN-2"), "taken as building wire in a raceway: look at the letters on the wire"
	if s.Raceway.Value == "cable" {
		insulation, where = "NM-B", "taken as house cable: look at the letters on the sheath"
	}
	k := explain.Assume("conductor insulation", insulation, explain.Practice("house wiring"), explain.Say(where))
	k.Why().Path = s.Insulation.Path
	return k
}

// ambientOfRun is the hottest place along the run.
func ambientOfRun(j *job.Job) explain.Known[quantity.Temperature] {
	if j.Supply.WireAmbient.Set {
		return job.Known(j.Supply.WireAmbient)
	}
	if j.Shop.Ambient.Set {
		return explain.Renamed("air around the run", job.Known(j.Shop.Ambient)).Noted(
			explain.Say("the shop's own heat is taken: if the run crosses an attic, write run temperature"))
	}
	k := explain.Assume("air around the run", quantity.Celsius(30), explain.Practice("the basis of ampacity tables"), explain.Say("an attic in summer is far hotter"))
	k.Why().Path = j.Supply.WireAmbient.Path
	return k
}

// installed is the ampacity of a size as it is installed; false where the tables don't have it.
func installed(size quantity.Conductor, i catalogue.Insulation, terminals, ambient quantity.Temperature, together quantity.Count) (quantity.Current, bool) {
	byInsulation, _, ok := catalogue.Ampacity(size, i.Starts)
	if !ok {
		return 0, false
	}
	factor, _, ok := catalogue.AmpacityCorrection(ambient, i.Starts)
	if !ok {
		return 0, false
	}
	share, _ := catalogue.AmpacityAdjustment(together)
	byTerminals, _, ok := catalogue.Ampacity(size, min(terminals, i.Ends))
	if !ok {
		return 0, false
	}
	return min(quantity.Scale(quantity.Scale(byInsulation, factor), share), byTerminals), true
}

// covers reports whether what there is reaches what is asked for: 125 % of 24 A computed as 30.000000001 A is still 30 A.
func covers[V quantity.Number](there, asked V) bool { return float64(there) >= float64(asked)*(1-1e-9) }

// suits reports whether the device may protect a conductor of that size and ampacity.
func suits(size quantity.Conductor, ampacity, device quantity.Current) bool {
	if small, _, ok := catalogue.SmallConductorDevice(size); ok && device > small {
		return false
	}
	next, ok := catalogue.USRatings().AtLeast(ampacity, false)
	return device <= ampacity || ok && device <= next && device <= 800
}

// consideredConductors lists the sizes around the ones that matter, with why each failed or passed.
func consideredConductors(b *Branch) []Candidate {
	i, ok := catalogue.InsulationOf(string(b.Insulation.Value))
	if !ok || !b.Least.OK() || !b.Smallest.OK() || !b.Ambient.OK() || !b.Together.OK() || !b.Terminals.OK() {
		return nil
	}
	var list []Candidate
	for _, size := range catalogue.ConductorSizes() {
		amperes, ok := installed(size, i, columnOf(b.Terminals.Value), b.Ambient.Value, b.Together.Value)
		if !ok {
			continue
		}
		c := Candidate{Name: size.Show(quantity.InchUnits), Figures: []quantity.Value{amperes, b.Least.Value}}
		small, _, limited := catalogue.SmallConductorDevice(size)
		switch {
		case !covers(amperes, b.Least.Value):
			c.Verdict = explain.Say("carries {}, asked for {}", amperes, b.Least.Value)
		case limited && small < b.Device.Value:
			c.Verdict = explain.Say("may have {} ahead of it at most, here it is {}", small, b.Device.Value)
		case !suits(size, amperes, b.Device.Value):
			c.Verdict = explain.Say("isn't protected by {}", b.Device.Value)
		default:
			c.Passes, c.Verdict = true, explain.Say("carries {}, asked for {}", amperes, b.Least.Value)
		}
		list = append(list, c)
		if size == b.Smallest.Value {
			break
		}
	}
	return list[max(0, len(list)-4):]
}
