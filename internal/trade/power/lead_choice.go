package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Choice is one of several ways to join the leads between which only the plate's own diagram decides.
type Choice struct {
	Name  string // such as "star, coils in parallel"
	Joins []Join
	Text  string
	When  explain.Phrase // when it is the right one
}

// levelOf says which of the plate's voltages is to be connected for.
func levelOf(r *Result) string {
	low, high := plateVoltages(&r.Job.Motor)
	w := r.Voltage.Wanted
	switch {
	case !low.OK() || !high.OK() || !w.OK():
		return oneLevel
	case w.Value > (low.Value+high.Value)/2:
		return highLevel
	}
	return lowLevel
}

// joinLeads fills the joints of r.Connection for the winding and the wanted voltage, or says what stands in the way.
func joinLeads(r *Result, w *winding) {
	const name = "connection of the leads"
	m, c := &r.Job.Motor, &r.Connection
	refuse := func(p explain.Phrase, from explain.Because) {
		c.Problem = p
		c.Text = absentFrom[quantity.Text](name, p, from)
	}
	if !r.Voltage.Wanted.OK() {
		c.Text = absentFrom[quantity.Text](name, explain.Say("needs "+r.Voltage.Wanted.Why().Name), r.Voltage.Wanted)
		return
	}
	if m.Marked.Set && m.Marked.Value == "no" && w != &three {
		c.Procedure = unmarkedProcedure(w)
		c.Text = absentFrom[quantity.Text](name, explain.Say("the leads aren't marked: mark them first, as the steps say, then write the groups again with the true numbers"), m.Marked)
		return
	}
	level := levelOf(r)
	meaning := quantity.Text("")
	if r.Voltage.Meaning.OK() {
		meaning = r.Voltage.Meaning.Value
	}
	switch {
	case w == &three && level != oneLevel:
		refuse(explain.Say("only three leads come out, so the plate's {} has been chosen inside the motor: find out which by opening the end bell or by a motor shop", plateVolts(m)), m.Leads)
		return
	case w == &six && meaning == seriesParallel:
		refuse(explain.Say("six ends of three coils can only be joined in delta or star, a ratio of 1.73; the plate's {} asks for nine or twelve leads", plateVolts(m)), m.Voltages)
		return
	case (w == &nineStar || w == &nineDelta || w == &sixParts) && meaning == starDelta:
		refuse(explain.Say("the plate's {} is star and delta, which takes six or twelve leads; {} make series and parallel, a ratio of 2: read the plate again",
			plateVolts(m), quantity.Text(w.name)), m.Voltages)
		return
	case w == &twelve:
		twelveChoices(c, level, meaning)
		c.Text = absentFrom[quantity.Text](name, explain.Say("twelve leads go in star or in delta for the same voltage: the diagram on the plate or in the lid says which, and the wrong one burns the motor or leaves it weak"), m.Leads)
		return
	case w == &six && level == oneLevel:
		sixChoices(c)
		c.Text = absentFrom[quantity.Text](name, explain.Say("the plate gives one voltage and six leads come out: its diagram or its Y or Δ sign says whether that voltage is for star or for delta"), m.Voltages)
		return
	case (w == &nineStar || w == &nineDelta) && level == oneLevel:
		nineChoices(c, w)
		c.Text = absentFrom[quantity.Text](name, explain.Say("the plate gives one voltage, yet nine leads come out: it says which of the two connections that voltage is for"), m.Voltages)
		return
	case w == &sixParts && level != oneLevel:
		refuse(explain.Say("two stars of three leads run in parallel on one voltage; the plate's {} doesn't fit: is it a motor of two speeds", plateVolts(m)), m.Voltages)
		return
	}
	joins, err := joinsFor(w, level)
	if err != nil {
		refuse(explain.Say(err.Error()), m.Leads)
		return
	}
	c.Joins, c.Coils = joins, w.ends()
	word := explain.Chosen("voltage level to join for", quantity.Text(level), "{"+r.Voltage.Wanted.Why().Name+"} among the plate's voltages", explain.Source{}, r.Voltage.Wanted)
	c.Text = explain.Derive[quantity.Text](leadConnection, name, c.Winding, word)
	if w == &six {
		c.Text = c.Text.Noted(explain.Say("on an IEC motor 1, 2, 3 are U1, V1, W1 and 4, 5, 6 are U2, V2, W2"))
	}
}

// choose appends a way to join the winding.
func (c *Connection) choose(w *winding, name string, how connection, when explain.Phrase) {
	if joins := w.links(how); joins != nil {
		c.Choices = append(c.Choices, Choice{Name: name, Joins: joins, Text: joinText(joins), When: when})
	}
}

func twelveChoices(c *Connection, level string, meaning quantity.Text) {
	if meaning == starDelta {
		c.choose(&twelve, "delta, coils in parallel", connection{parallel: true, delta: true}, explain.Say("if each coil is made for the lower voltage"))
		c.choose(&twelve, "star, coils in parallel", connection{parallel: true}, explain.Say("the same coils for the higher voltage"))
		return
	}
	parallel := level != highLevel
	how := "coils in series"
	if parallel {
		how = "coils in parallel"
	}
	c.choose(&twelve, "delta, "+how, connection{parallel: parallel, delta: true}, explain.Say("the usual case: a motor made to be started in star and run in delta"))
	c.choose(&twelve, "star, "+how, connection{parallel: parallel}, explain.Say("only where the plate's diagram shows a star for running"))
}

func sixChoices(c *Connection) {
	c.choose(&six, "delta", connection{delta: true}, explain.Say("the plate shows Δ, or it was started star-delta: the plate's voltage is for delta, and star is for 1.73 times as much"))
	c.choose(&six, "star", connection{}, explain.Say("the plate shows Y: the plate's voltage is for star, and delta is for that voltage divided by 1.73"))
}

func nineChoices(c *Connection, w *winding) {
	delta := w == &nineDelta
	c.choose(w, "coils in series", connection{delta: delta}, explain.Say("if the plate's voltage is the higher of the two, as 460 V is: half of it is for the parallel links"))
	c.choose(w, "coils in parallel", connection{parallel: true, delta: delta}, explain.Say("if the plate's voltage is the lower of the two, as 230 V is"))
}

// unmarkedProcedure names the steps by which unmarked leads get their numbers.
// Source: common practice of the motor-repair trade.
func unmarkedProcedure(w *winding) []explain.Phrase {
	steps := []explain.Phrase{
		explain.Say("tie a tag of your own on each lead and leave the windings unlinked"),
		explain.Say("by ohmmeter sort the leads into groups with continuity; pairs and groups must read alike within 5 %"),
	}
	switch w {
	case &nineStar:
		steps = append(steps,
			explain.Say("the group of three is 7, 8 and 9 in any order: run the motor unloaded on it at reduced voltage, by a motor shop's test set or an isolating variable transformer, never from the wall"),
			explain.Say("while it turns, measure between each pair and each of 7, 8, 9: join one end of a pair to a lead of the group; the pair belongs to that lead when the volts from its free end to the other two are equal and highest, and that free end is 1, 2 or 3"),
		)
	case &nineDelta:
		steps = append(steps,
			explain.Say("in each group of three the lead that reads the same to both others is 1, 2 or 3; the others read twice as much to one another"),
			explain.Say("which of the others is which needs a reduced-voltage run or a phase test: have a motor shop do it"),
		)
	case &six, &twelve:
		steps = append(steps,
			explain.Say("find the beginning of each coil: touch a 9 V battery to one coil and watch a meter's needle on another; ends that kick the same way are alike"),
			explain.Say("call one coil 1-4, the next 2-5, the third 3-6 with like ends 1, 2, 3; if the motor hums and doesn't start at low drive volts, one coil is turned round: stop at once"),
		)
	}
	return append(steps, explain.Say("let a motor-repair shop do it if any step is new to you: a coil turned round burns the winding in seconds"))
}
