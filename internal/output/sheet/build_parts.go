package sheet

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/trade/power"
)

// part is one line of the parts table: what is asked for, what the user has, and where findings about it stand.
type part struct {
	name   string
	need   string // what is to be done about it when there is none yet
	asked  explain.Because
	owned  explain.Because
	places []string // job-file paths and value IDs
}

// aboutTheRun are the places of findings that rule out the conductor in the wall: itself, or the circumstance that makes it too
// small.
var aboutTheRun = []string{"supply.conductor", "supply.conductor metal", "supply.insulation", "supply.wires together", "supply.run temperature", "shop.warmest"}

// parts adds what the whole stage comes to, in one table: what is asked for beside what is there.
func (b *builder) parts(r power.Result) {
	j := b.plan.Job
	list := []part{
		{"drive, output current", "to be got", r.Drive.Needed, j.Drive.Output, []string{"drive.output current", r.Drive.Output.Why().ID()}},
		{"source overcurrent device", "to be got", r.Protection.AtSource, j.Supply.Breaker, []string{"supply.breaker", "supply.breaker kind"}},
		{"device in the box", "to be got", r.Protection.InBox, j.Control.Device, []string{"box.overcurrent device", "box.device kind", "box.interrupting rating"}},
		{"branch conductor", "to be got", r.Branch.Smallest, j.Supply.Conductor, aboutTheRun},
		{"equipment grounding conductor", "to be got", r.Grounding.Least, j.Control.Grounding, []string{"box.grounding conductor"}},
		{"raceway", "to be got", r.Raceway.Size, j.Supply.RacewaySize, []string{"supply.raceway size"}},
		{"receptacle and plug", "to be got", r.Cord.Receptacle, j.Supply.Receptacle, []string{"supply.receptacle"}},
		{"cord", "to be got", r.Cord.Smallest, j.Supply.Cord, []string{"supply.cord"}},
		{"main switch", "to be got", r.Disconnect.Smallest, j.Control.Disconnect, []string{"box.disconnect", "box.disconnect category", "box.disconnect horsepower"}},
		{"short-circuit rating of the box", "to be marked on it", r.Fault.Rating, j.Control.ShortCircuit, []string{"box.short-circuit rating"}},
		{"motor cable", "to be got", r.MotorLead.Smallest, j.Motor.CableSize, []string{"motor.cable conductor"}},
		{"overload setting", "to be set", r.Overload.Setting, j.Drive.ThermalSet, []string{"drive.overload setting"}},
	}
	t := Table{Title: "What it comes to", Head: []string{"part", "asked for", "yours", ""}, Numeric: []bool{false, true, true, false}, Chosen: -1,
		Note: "Asked for is the least that passes, or the setting to make; each is explained in its own part below."}
	for _, p := range list {
		asked, owned := p.asked.Why(), p.owned.Why()
		if asked.Name == "" || asked.Origin == explain.NotNeeded && !owned.There() {
			continue
		}
		t.Rows = append(t.Rows, []string{p.name, asked.Show(b.units), ownedText(b, owned), b.standing(p)})
	}
	b.add(t)
}

func ownedText(b *builder, owned *explain.Reason) string {
	if !owned.There() {
		return "—"
	}
	return owned.Show(b.units)
}

// standing says in a word or two how what is owned stands to what is asked.
func (b *builder) standing(p part) string {
	asked, owned := p.asked.Why(), p.owned.Why()
	switch {
	case b.alarmed(p.places...):
		return "no: see the findings"
	case asked.Origin == explain.NotNeeded:
		return "not needed"
	case !asked.There():
		return b.needs(asked)
	case !owned.There():
		return p.need
	}
	return "passes"
}
