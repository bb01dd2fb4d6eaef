package prove

import (
	"fmt"
	"math"
	"slices"

	"drivewright/internal/base/explain"
)

// tale is a list of actions, with the place at which the fault happens in it.
type tale struct {
	does   []action
	struck int  // the fault happens before this action; -1: it is there from the beginning
	idle   bool // it happens while the machine stands
}

// told makes the report's fault of a verdict: each danger with its sequence, cut to what is needed, and what is seen at its end.
func (t *trial) told(w *worker, networks []*network, changes []Change, v verdict) Fault {
	f := Fault{Class: v.class, Reaches: v.reaches &^ besidesClass, LoadOnly: (v.class == EmergencyStopLost || v.reaches.Has(EmergencyStopLost)) && v.reaches&motorRunsOn == 0}
	if v.class >= Hidden && v.class != Other {
		f.Seen, f.Expected = "nothing", "nothing"
		return f
	}
	w.machine.fit(networks, changes)
	var worst Showing
	worst, f.when = t.showing(w, v, v.class)
	f.Sequence, f.Seen, f.Expected = worst.Sequence, worst.Seen, worst.Expected
	for c := v.class + 1; c < HiddenDanger; c++ {
		if v.reaches.Has(c) {
			also, _ := t.showing(w, v, c)
			f.Also = append(f.Also, also)
		}
	}
	return f
}

// showing makes what shows a class of a verdict, and says what its last action is meant to do. The machine must have its networks.
func (t *trial) showing(w *worker, v verdict, c Class) (Showing, aim) {
	story := t.shorten(w, t.story(v.shown[c]), func(found Classes) bool {
		return (found.Has(c) || c == IndicationLies && found&darkLamp != 0) && found.worst() >= v.class && (c != EmergencyStopLost || found&motorRunsOn == v.reaches&motorRunsOn)
	})
	_, end := t.replay(w, story)
	s := Showing{Class: c, Sequence: story.words()}
	s.Seen, s.Expected = t.seen(c, &end)
	return s, end.last.aim
}

// story returns the actions up to a spot.
func (t *trial) story(at spot) tale {
	story := tale{struck: -1}
	if at.segment == beforeAll {
		story.does = slices.Clone(t.script.first[:at.step+1])
		return story
	}
	s := &t.script.segments[at.segment]
	story.does = append(slices.Clone(t.script.first), s.does[:at.step+1]...)
	if at.struck {
		story.struck, story.idle = len(t.script.first)+s.strikes, s.idle
	}
	return story
}

func (s tale) words() []string {
	var list []string
	for n, a := range s.does {
		if n == s.struck {
			list = append(list, "the fault happens")
		}
		list = append(list, a.words)
	}
	if s.struck == len(s.does) {
		list = append(list, "the fault happens")
	}
	return list
}

// ending is what the last step of a tale shows.
type ending struct {
	last                   action
	before, now, was, want sight
}

// replay does the tale with the machine and with the whole circuit beside it, and judges its last step. There is none where
// the machine doesn't run at the strike, or, where it must stand, doesn't stand.
func (t *trial) replay(w *worker, s tale) (Classes, ending) {
	r, whole := w.machine, w.whole
	networks, held := slices.Clone(r.networks), r.held
	refit := func(k []*network) {
		h := r.held
		r.fit(k, nil)
		r.held = h
	}
	if s.struck >= 0 {
		refit(t.networks)
		r.held = bits{}
	}
	r.now.copyFrom(&t.dead)
	whole.now.copyFrom(&t.dead)
	at := make([]uint8, len(t.m.circuit.Devices))
	var e ending
	var found Classes
	strike := func() {
		refit(networks)
		r.held = held
		e = ending{striking, r.now.seen, sight{}, whole.now.seen, whole.now.seen}
		r.settle()
		e.now = r.now.seen
		found = t.judge(&e.last, t.holding(at), &e.before, &e.now, &e.was, &e.want)
	}
	ran := s.struck < 0
	for n := range s.does {
		if n == s.struck {
			ran = whole.now.seen.torque != s.idle
			strike()
		}
		a := &s.does[n]
		if a.device >= 0 {
			at[a.device] = a.to
		}
		e = ending{last: *a, before: r.now.seen, was: whole.now.seen}
		r.do(a)
		whole.do(a)
		e.now, e.want = r.now.seen, whole.now.seen
		found = t.judge(a, t.holding(at), &e.before, &e.now, &e.was, &e.want)
	}
	if s.struck == len(s.does) {
		ran = whole.now.seen.torque != s.idle
		strike()
	}
	if !ran {
		found = 0
	}
	r.networks = r.networks[:0]
	refit(networks)
	r.held = held
	return found, e
}

// shorten leaves out every action that isn't needed: a press goes together with its letting go. What is left is tried again
// each time, so that it still shows the same at its end.
func (t *trial) shorten(w *worker, s tale, same func(Classes) bool) tale {
	kept := len(t.script.first)
	for n := kept; n < len(s.does)-1 || n < len(s.does) && s.struck == len(s.does); {
		cut := t.without(s, n)
		if len(cut.does) > 0 && len(cut.does) < len(s.does) && len(cut.does) >= kept {
			if found, _ := t.replay(w, cut); same(found) {
				s = cut
				continue
			}
		}
		n++
	}
	return s
}

// without leaves out action n, and what takes it back. The last action stays, unless the fault itself comes last.
func (t *trial) without(s tale, n int) tale {
	out := tale{struck: s.struck, idle: s.idle}
	undo := -1
	if d := s.does[n].device; d >= 0 && s.does[n].to != 0 {
		for k := n + 1; k < len(s.does); k++ {
			if s.does[k].device == d {
				undo = k
				break
			}
		}
	} else if d < 0 && s.does[n].aim == aimLost {
		for k := n + 1; k < len(s.does); k++ {
			if s.does[k].device < 0 && s.does[k].aim == aimPower {
				undo = k
				break
			}
		}
	}
	if undo == len(s.does)-1 && s.struck != len(s.does) {
		return s
	}
	for k, a := range s.does {
		if k == n || k == undo {
			if k < s.struck {
				out.struck--
			}
			continue
		}
		out.does = append(out.does, a)
	}
	return out
}

// seen says in words what the last step shows, and what it should.
func (t *trial) seen(class Class, e *ending) (is, should string) {
	switch class {
	case RunsAway:
		return fmt.Sprintf("the motor goes to %s speed", percent(e.now.speed)), fmt.Sprintf("it runs at %s speed", percent(e.want.speed))
	case WrongWay:
		return "the motor runs " + way(e.now.reverse), "it runs " + way(e.want.reverse)
	case IndicationLies:
		for n, d := range t.m.circuit.Devices {
			want := e.want.lamps.has(n)
			if t.shows.has(n) {
				want = e.now.torque
			}
			if e.now.lamps.has(n) != want {
				run := "stands"
				if e.now.torque {
					run = "runs"
				}
				return fmt.Sprintf("%s (%s) is %s while the motor %s", d.Tag, d.Words, lit(!want), run), "it is " + lit(want)
			}
		}
	case StopsLate:
		return "the motor stops only now: it was driven until the delay had run out", "it stops at once"
	case EmergencyStopLost:
		if !e.now.torque || e.want.torque {
			return t.seenLoad(e)
		}
	case Other:
		return t.seenOther(e)
	case StartsByItself, StopLost, HiddenDanger, ProtectionLost, StopsByItself, CannotStart, Hidden, Harmless:
	}
	return motion(&e.before, &e.now), motion(&e.was, &e.want)
}

func (t *trial) seenOther(e *ending) (is, should string) {
	switch {
	case e.now.torque != e.want.torque:
		return motion(&e.before, &e.now), motion(&e.was, &e.want)
	case e.now.speed != e.want.speed && e.now.torque:
		return fmt.Sprintf("the motor runs at %s speed", percent(e.now.speed)), fmt.Sprintf("it runs at %s speed", percent(e.want.speed))
	case e.now.chatters != e.want.chatters:
		return "a relay chatters", "it comes to rest"
	case e.now.overload != e.want.overload:
		return t.m.overloaded(&e.now) + " is shorted or overloaded", "it isn't"
	}
	return t.seenLoad(e)
}

// seenLoad says which load has power or has none.
func (t *trial) seenLoad(e *ending) (is, should string) {
	for n, d := range t.m.circuit.Devices {
		if e.now.loads.has(n) != e.want.loads.has(n) {
			words := map[bool]string{true: "has power", false: "has no power"}
			return fmt.Sprintf("%s (%s) %s", d.Tag, d.Words, words[e.now.loads.has(n)]), "it " + words[e.want.loads.has(n)]
		}
	}
	return "something differs", "it is as before"
}

func percent(thousandths int16) string {
	if thousandths >= 995 {
		return "full"
	}
	return fmt.Sprintf("%.0f %%", math.Round(float64(thousandths)/10))
}

func way(reverse bool) string {
	if reverse {
		return "backwards"
	}
	return "forward"
}

func lit(on bool) string {
	if on {
		return "lit"
	}
	return "dark"
}

// motion says what the motor does.
func motion(before, now *sight) string {
	switch {
	case now.torque && before.torque:
		return "the motor keeps running"
	case now.torque && now.reverse:
		return "the motor starts backwards"
	case now.torque:
		return "the motor starts"
	case before.torque:
		return "the motor stops"
	}
	return "the motor stands still"
}

// wholeDangers are what the circuit does with nothing broken: of each class and occasion what is seen first.
func (t *trial) wholeDangers() []Fault {
	var list []Fault
	type occasion struct {
		class Class
		when  aim
	}
	found := map[occasion]bool{}
	add := func(c Class, does []action, before, now *sight) {
		last := &does[len(does)-1]
		o := occasion{c, last.aim}
		if c == Other {
			o.when = aimPower // once is enough
		}
		if c == none || found[o] {
			return
		}
		found[o] = true
		f := Fault{Name: "nothing is broken", Class: c, when: last.aim, Seen: motion(before, now), Expected: expectedOf(c), Remedy: t.wholeRemedy(c), Place: t.placeOfWhole(does)}
		switch {
		case c == IndicationLies:
			f.Seen = "the run lamp is lit while the motor stands"
			f.Place = t.placeOfDevice(func(n int) bool { return t.m.runLamp(n) && now.lamps.has(n) })
		case c == Other && now.chatters:
			f.Seen = "a relay chatters"
		case c == Other:
			tag := t.m.overloaded(now)
			f.Seen = tag + " is shorted or overloaded"
			f.Place = t.placeOfDevice(func(n int) bool { return t.m.circuit.Devices[n].Tag == tag })
		}
		for _, a := range does {
			f.Sequence = append(f.Sequence, a.words)
		}
		list = append(list, f)
	}
	look := func(does []action, n int, h hands, before, now *sight) {
		add(t.judgeWhole(&does[n], h, before, now), does[:n+1], before, now)
		if now.chatters || now.overload != 0 {
			add(Other, does[:n+1], before, now)
		}
	}
	before := t.dead.seen
	for n := range t.script.first {
		look(t.script.first, n, hands{}, &before, &t.first[n])
		before = t.first[n]
	}
	for n, s := range t.script.segments {
		does := append(slices.Clone(t.script.first), s.does...)
		before := t.base.seen
		for k := range s.does {
			look(does, len(t.script.first)+k, t.holds[n][k], &before, &t.shown[n][k])
			before = t.shown[n][k]
		}
	}
	slices.SortStableFunc(list, func(x, y Fault) int { return int(x.Class - y.Class) })
	return list
}

// placeOfWhole finds the device to point at: the last that starts the machine and stays where it is turned, else the last moved.
func (t *trial) placeOfWhole(does []action) *explain.Reason {
	moved := -1
	for n := len(does) - 1; n >= 0; n-- {
		d := does[n].device
		if d < 0 {
			continue
		}
		if moved < 0 {
			moved = d
		}
		if does[n].aim == aimStart && !t.m.circuit.Devices[d].Springs {
			moved = d
			break
		}
	}
	if moved < 0 {
		return nil
	}
	return placeOf(t.m.circuit.Devices[moved].Why)
}

// placeOfDevice finds the first device that is meant.
func (t *trial) placeOfDevice(meant func(n int) bool) *explain.Reason {
	for n := range t.m.circuit.Devices {
		if meant(n) {
			return placeOf(t.m.circuit.Devices[n].Why)
		}
	}
	return nil
}

func expectedOf(c Class) string {
	switch c {
	case StartsByItself:
		return "the motor stands still until somebody starts it"
	case EmergencyStopLost, StopLost:
		return "the motor stops, and stays so"
	case CannotStart:
		return "the motor starts"
	case StopsByItself:
		return "the motor keeps running"
	case IndicationLies:
		return "the run lamp is lit only while the motor runs"
	case StopsLate, RunsAway, WrongWay, HiddenDanger, ProtectionLost, Hidden, Other, Harmless:
	}
	return "nothing of the kind"
}
