package circuit

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// post is a place with controls on it: a station of the job, the door where it has none, a guard or treadle by itself.
type post struct {
	name  string
	kind  PlaceKind
	has   []string
	why   explain.Because
	run   explain.Known[quantity.Length]
	moves bool
	metal explain.Known[quantity.Text]
	bond  explain.Known[quantity.Text]
}

// has reports what is on the post.
func (p post) have(what string) bool { return slices.Contains(p.has, what) }

// planPosts settles which control stands where. What no station has, though the controls ask for it, goes to the door or the
// first station; a guard switch or a treadle gets a place of its own.
func (m *maker) planPosts() {
	m.door = "door"
	for n := range m.job.Stations {
		s := &m.job.Stations[n]
		name := string(s.Name.Value)
		where := string(s.Where.Value)
		if name == "" {
			name = fmt.Sprintf("station %d", n+1)
			if where == "door of the box" {
				name = "door"
			}
		}
		if slices.ContainsFunc(m.post, func(p post) bool { return p.name == name }) || slices.Contains([]string{"box", "motor", "supply", "casting"}, name) {
			name = fmt.Sprintf("%s %d", name, n+1) // each place has a name of its own
		}
		p := post{name: name, kind: Station, has: s.Has.Value, why: givenOf(s.Has, name), moves: s.Moves.Value == "yes"}
		metal, why := quantity.Text("yes"), "most boxes on a machine are metal"
		switch where {
		case "door of the box":
			p.kind = Door
			if !slices.ContainsFunc(m.post, func(q post) bool { return q.kind == Door }) {
				m.door = name
			}
			metal, why = "no", "it is the door, which has a bond of its own"
		case "pendant":
			p.moves = s.Moves.Value != "no"
			metal, why = "no", "most pendants are plastic"
		}
		p.metal = job.Or(givenOf(s.Metal, name), metal, usual, explain.Say(why))
		p.bond = job.Or(givenOf(s.Bonded, name), "yes", bondingOf, explain.Say("a metal box gets a ground wire"))
		p.run = job.Or(givenOf(s.Cable, name), m.usualRun(), usual, explain.Say("not measured yet"))
		if p.kind == Door {
			p.run = m.pick.ToDoor
		}
		m.post = append(m.post, p)
	}
	if len(m.post) == 0 {
		m.post = append(m.post, post{name: "door", kind: Door, run: m.pick.ToDoor, why: m.pick.StartStop})
	}
	for _, f := range m.functions() {
		m.home(f.name, f.wanted, f.why)
	}
	m.places()
}

func (m *maker) usualRun() quantity.Length {
	if m.set == explain.IEC {
		return 3
	}
	return 10 * quantity.Foot
}

// function is one that needs a control on a post.
type function struct {
	name   string
	wanted bool
	why    explain.Because
}

func (m *maker) functions() []function {
	p := m.pick
	yes := func(k explain.Known[quantity.Text]) bool { return k.Value == "yes" }
	buttons := p.StartStop.Value == "buttons at the drive terminals"
	return []function{
		{"stop", buttons, p.StartStop},
		{"start", buttons || p.StartStop.Value == "maintained switch at the drive terminals", p.StartStop},
		{"emergency stop", p.EmergencyStop.Value != "none", p.EmergencyStop},
		{"reset", yes(p.Reset), p.Reset},
		{"jog", yes(p.Jog), p.Jog},
		{"reverse", p.Reverse.Value == "selector switch" || p.Reverse.Value == "buttons" && buttons, p.Reverse},
		{"speed", p.Speed.Value == "knob" || p.Speed.Value == "steps", p.Speed},
		{"run lamp", yes(p.RunLamp), p.RunLamp},
		{"power lamp", yes(p.PowerLamp), p.PowerLamp},
		{"readout", yes(p.Readout), p.Readout},
		{"guard switch", p.Guard.Value != "none", p.Guard},
		{"foot brake", p.FootBrake.Value != "none", p.FootBrake},
	}
}

// home gives a function that is wanted a post if no post has it, and takes away what isn't wanted.
func (m *maker) home(name string, wanted bool, why explain.Because) {
	if !wanted {
		keep := name == "stop" && m.pick.StartStop.Value != "buttons at the drive terminals" // a stop beside a switch that stays is useful
		for n := range m.post {
			if !keep {
				m.post[n].has = slices.DeleteFunc(slices.Clone(m.post[n].has), func(h string) bool { return h == name })
			}
		}
		return
	}
	if slices.ContainsFunc(m.post, func(p post) bool { return p.have(name) }) {
		return
	}
	if name == "guard switch" || name == "foot brake" {
		place := map[string]string{"guard switch": "guard", "foot brake": "treadle"}[name]
		if slices.ContainsFunc(m.post, func(p post) bool { return p.name == place }) {
			place = name
		}
		m.post = append(m.post, post{name: place, kind: Station, has: []string{name}, why: why, run: explain.Assume("run to the "+place, m.usualRun(), usual, explain.Say("not measured yet")),
			metal: explain.Assume("switch of the "+place+" is metal", quantity.Text("yes"), usual, explain.Say("a switch in a metal housing has a ground screw")),
			bond:  explain.Assume("switch of the "+place+" bonded", quantity.Text("yes"), bondingOf, explain.Say("a metal housing gets a ground wire"))})
		return
	}
	at := max(0, slices.IndexFunc(m.post, func(p post) bool { return p.have("start") }))
	m.post[at].has = append(slices.Clone(m.post[at].has), name)
}

// places adds the posts to the circuit's places. The door that a station stands for takes the place of the plain one.
func (m *maker) places() {
	for n := range m.c.Places {
		if m.c.Places[n].Kind == Door {
			m.c.Places[n] = Place{Name: m.door, Kind: Door, Run: m.pick.ToDoor}
		}
	}
	if p := m.c.Place("motor"); p != nil {
		p.Run = job.Or(m.job.Motor.Cable, m.usualRun(), usual, explain.Say("not measured yet"))
	}
	for _, p := range m.post {
		if p.name != m.door {
			m.c.Places = append(m.c.Places, Place{Name: p.name, Kind: p.kind, Run: p.run})
		}
	}
}

// each runs f on every post that has the control.
func (m *maker) each(what string, f func(p post)) {
	for _, p := range m.post {
		if p.have(what) {
			f(p)
		}
	}
}
