package sheet

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/power"
)

// singleLine adds the drawing of the power path: what stands between the utility's transformer and the motor, with the size
// of each. A part with a danger or a must against it is marked.
func (b *builder) singleLine(r power.Result) {
	path := drawing.Path{ID: "power-path", Title: "Power path", Standard: drawing.American, Parts: b.pathParts(r), Ground: b.known("", r.Grounding.Conductor)}
	if r.Code.Set == explain.IEC {
		path.Standard = drawing.International
	}
	path.Alt = "From the supply to the motor:"
	for _, part := range path.Parts {
		if part.Tag != "" {
			path.Alt += " " + part.Tag + ","
		}
		for _, label := range part.Labels {
			path.Alt += " " + label + ","
		}
	}
	path.Alt = path.Alt[:len(path.Alt)-1] + "."
	wide := drawing.SingleLine(path)
	path.ID, path.Narrow = "power-path-narrow", true
	narrow := drawing.SingleLine(path)
	b.add(Figure{Figure: wide, Narrow: &narrow})
}

func (b *builder) pathParts(r power.Result) []drawing.PathPart {
	j := b.plan.Job
	wires := 2
	if j.Supply.Phases.Set && j.Supply.Phases.Value == 3 {
		wires = 3
	}
	parts := []drawing.PathPart{
		{Kind: drawing.Utility, Tag: "utility", Labels: b.labels(j.Supply.Transformer, j.Supply.Voltage), Alarm: b.alarmed("supply.voltage", "supply.system")},
		{Kind: drawing.Conductor, Wires: wires, Labels: b.labels(j.Supply.ServiceWire, j.Supply.ServiceRun)},
		{Kind: drawing.Breaker, Tag: "source breaker", Group: "panel", Labels: b.labels(firstKnown(explain.Because(j.Supply.Breaker), r.Protection.AtSource)), Alarm: b.alarmed("supply.breaker", "supply.breaker kind")},
		{Kind: drawing.Conductor, Wires: wires, Labels: b.labels(r.Branch.Conductor, j.Supply.Run), Alarm: b.alarmed(append(slices.Clone(aboutTheRun), r.Branch.Conductor.Why().ID())...)},
	}
	if string(j.Supply.Connection.Value) == "cord and plug" {
		parts = append(parts,
			drawing.PathPart{Kind: drawing.Plug, Tag: "receptacle and plug", Labels: b.labels(firstKnown(explain.Because(j.Supply.Receptacle), r.Cord.Receptacle)), Alarm: b.alarmed("supply.receptacle")},
			drawing.PathPart{Kind: drawing.Conductor, Wires: wires, Labels: b.labels(firstKnown(explain.Because(j.Supply.Cord), r.Cord.Conductor), j.Supply.CordLength), Alarm: b.alarmed("supply.cord")})
	}
	const box = "box on the machine"
	parts = append(parts, drawing.PathPart{Kind: drawing.Switch, Tag: "main switch", Group: box,
		Labels: b.labels(firstKnown(explain.Because(j.Control.Disconnect), r.Disconnect.Size)), Alarm: b.alarmed("box.disconnect", "box.disconnect category")})
	if j.Control.Device.Set {
		kind := drawing.Fuse
		if string(j.Control.DeviceType.Value) == "inverse time breaker" {
			kind = drawing.Breaker
		}
		parts = append(parts, drawing.PathPart{Kind: kind, Tag: "device in the box", Group: box, Labels: b.labels(j.Control.Device), Alarm: b.alarmed("box.overcurrent device")})
	}
	if filter := string(j.Drive.Filter.Value); filter == "separate" {
		parts = append(parts, drawing.PathPart{Kind: drawing.LineFilter, Tag: "line filter", Group: box, Labels: b.labels(r.Drive.Input), Alarm: b.alarmed("drive.filter")})
	}
	if choke := string(j.Drive.Choke.Value); choke != "" && choke != "none" {
		parts = append(parts, drawing.PathPart{Kind: drawing.Choke, Tag: choke, Group: box, Labels: b.labels(r.Drive.Input)})
	}
	motor := drawing.ThreePhaseMotor
	if j.Motor.Phases.Set && j.Motor.Phases.Value == 1 {
		motor = drawing.OnePhaseMotor
	}
	return append(parts,
		drawing.PathPart{Kind: drawing.DriveSymbol, Tag: "drive", Group: box, Alarm: b.alarmed("drive.output current", r.Drive.Output.Why().ID()),
			Labels: slices.DeleteFunc([]string{b.known("in ", r.Drive.Input), b.known("out ", r.Drive.Output)}, func(label string) bool { return label == "" })},
		drawing.PathPart{Kind: drawing.Conductor, Wires: 3, Labels: b.labels(r.MotorLead.Conductor, j.Motor.Cable), Alarm: b.alarmed("motor.cable")},
		drawing.PathPart{Kind: motor, Tag: "motor", Labels: b.labels(j.Motor.Power, r.Motor.Nameplate), Alarm: b.alarmed("motor.voltage", "motor.lead groups")})
}

// firstKnown returns the first value that is there; the last one when none is.
func firstKnown(values ...explain.Because) explain.Because {
	for _, v := range values {
		if v.Why().Origin != explain.Missing {
			return v
		}
	}
	return values[len(values)-1]
}

// labels shows the values that are known, a line each.
func (b *builder) labels(values ...explain.Because) []string {
	var lines []string
	for _, v := range values {
		if text := b.known("", v); text != "" {
			lines = append(lines, text)
		}
	}
	return lines
}

// known shows the value behind the prefix; "" when it isn't known.
func (b *builder) known(prefix string, v explain.Because) string {
	if v.Why().Origin == explain.Missing || v.Why().Value == nil {
		return ""
	}
	return prefix + v.Why().Value.Show(b.units)
}

// alarmed reports whether a danger or a must stands against one of the paths or values.
func (b *builder) alarmed(places ...string) bool {
	for _, place := range places {
		for _, n := range b.findings[place] {
			if b.plan.Findings[n].Severity.Blocks() {
				return true
			}
		}
	}
	return false
}

// leadFigure adds the drawing of which lead goes where.
func (b *builder) leadFigure(r power.Result) {
	c := r.Connection
	if len(c.Joins) == 0 {
		return
	}
	leads := drawing.Leads{ID: "motor-leads", Title: "Motor leads", Alt: c.Text.Why().Show(b.units)}
	for _, j := range c.Joins {
		leads.Joints = append(leads.Joints, drawing.Joint{Line: j.Line, Leads: j.Leads})
	}
	for _, coil := range c.Coils {
		leads.Coils = append(leads.Coils, drawing.Coil{From: coil.From, To: coil.To})
	}
	wide := drawing.LeadLinks(leads)
	leads.ID, leads.Narrow = "motor-leads-narrow", true
	narrow := drawing.LeadLinks(leads)
	b.add(Figure{Figure: wide, Narrow: &narrow})
}
