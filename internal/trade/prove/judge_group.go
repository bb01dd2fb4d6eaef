package prove

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
)

// effect is what a mistake does to the circuit, as far as a reading shows it.
type effect int

const (
	breaks    effect = iota // a way is open that should be joined
	joins                   // two things are joined that should be apart
	misplaced               // something is in another place or of another kind
)

// effectOf sorts a change.
func effectOf(k ChangeKind) effect {
	switch k {
	case WireOff, StuckOpen, Dead:
		return breaks
	case Bridged, StuckClosed:
		return joins
	case WireMoved, WiresSwapped, Inverted, Turned, NeverMoves:
	}
	return misplaced
}

// lookalikes are some hypotheses that the readings taken can't tell apart and that do the same.
type lookalikes struct {
	members []hypothesis // likeliest first
	effect  effect
	odds    float64
	exact   bool
}

// Of the groups that explain every reading, and of the places of one group, no more are told one by one. Source: common practice,
// what somebody keeps in mind on the way to the machine.
const (
	mostExact  = 3
	mostPlaces = 12
)

// grouped puts together the hypotheses, likeliest first, that explain every reading alike and do the same, and returns the
// likeliest groups.
func (w *weighing) grouped(list []hypothesis) []lookalikes {
	type key struct {
		seen   string
		effect effect
	}
	at := map[key]int{}
	var groups []lookalikes
	for _, h := range list {
		k := key{h.seen, effectOf(w.mistakes[h.mistake].Changes[0].Kind)}
		if !h.exact {
			k.seen += w.mistakes[h.mistake].Name // what doesn't fit stands by itself
		}
		n, there := at[k]
		if !there {
			n = len(groups)
			at[k] = n
			groups = append(groups, lookalikes{effect: k.effect, exact: h.exact})
		}
		groups[n].members = append(groups[n].members, h)
		groups[n].odds += h.odds
	}
	groups = gathered(groups)
	// What explains every reading is told, however unlikely it was before them.
	groups = slices.DeleteFunc(groups, func(g lookalikes) bool { return g.odds < leastOdds && !g.exact })
	return groups[:min(len(groups), mostSuspects)]
}

// gathered puts the unlikeliest of the groups that explain every reading together, those that do the same, until there are few enough,
// and returns all, likeliest first.
func gathered(groups []lookalikes) []lookalikes {
	for {
		slices.SortStableFunc(groups, func(a, b lookalikes) int { return -cmp.Compare(a.odds, b.odds) })
		count, last := 0, [misplaced + 1][]int{} // the exact ones of each effect
		for n, g := range groups {
			if g.exact {
				count++
				last[g.effect] = append(last[g.effect], n)
			}
		}
		into, from := -1, -1
		for _, list := range last {
			if k := len(list); k > 1 && list[k-2] > into {
				into, from = list[k-2], list[k-1]
			}
		}
		if count <= mostExact || into < 0 {
			return groups
		}
		one, other := &groups[into], &groups[from]
		one.members = append(one.members, other.members...)
		one.odds += other.odds
		slices.SortStableFunc(one.members, func(a, b hypothesis) int { return -cmp.Compare(a.odds, b.odds) })
		groups = slices.Delete(groups, from, from+1)
	}
}

// suspect tells a group in words: by itself, or as one thing with several places.
func (w *weighing) suspect(g lookalikes, all []evidence) Suspect {
	first := &w.mistakes[g.members[0].mistake]
	s := Suspect{Mistake: g.members[0].mistake, Name: first.Name, Odds: quantity.Ratio(g.odds), Remedy: first.Look}
	if len(g.members) == 1 {
		return s
	}
	var wires, rest []string
	for n, h := range g.members {
		m := &w.mistakes[h.mistake]
		if h.mistake != s.Mistake {
			s.Others = append(s.Others, h.mistake)
		}
		if n >= mostPlaces {
			continue
		}
		if c := m.Changes[0]; c.Kind == WireOff {
			wires = append(wires, w.box.wiring.Circuit.Wires[c.Wire].Name)
		} else {
			rest = append(rest, m.Name)
		}
	}
	var places []string
	if wires != nil {
		places = append(places, fmt.Sprintf("wire %s off", either(wires)))
	}
	places = append(places, rest...)
	if more := len(g.members) - mostPlaces; more > 0 {
		places = append(places, fmt.Sprintf("one of %d less likely ones", more))
	}
	wrong := all[slices.IndexFunc(all, func(e evidence) bool { return !e.right })]
	from, to := wrong.From.String(), wrong.To.String()
	switch g.effect {
	case breaks:
		if n := slices.IndexFunc(all, func(e evidence) bool { return !e.right && math.IsInf(e.value.ohms, 1) }); n >= 0 {
			from, to = all[n].From.String(), all[n].To.String()
		}
		s.Name = fmt.Sprintf("the way from %s to %s is broken: %s", from, to, strings.Join(places, ", or "))
		s.Remedy = fmt.Sprintf("keep one probe on %s and go along the way to %s, the switches as in the reading: the break lies before the first terminal that reads open; pull on both ends of each wire", from, to)
	case joins:
		s.Name = fmt.Sprintf("something joins on the way from %s to %s: %s", from, to, strings.Join(places, ", or "))
		s.Remedy = w.looks(g)
	case misplaced:
		s.Name = fmt.Sprintf("something is in the wrong place between %s and %s: %s", from, to, strings.Join(places, ", or "))
		s.Remedy = w.looks(g)
	}
	return s
}

// looks says where to look for the members of a group, the likeliest first.
func (w *weighing) looks(g lookalikes) string {
	var list []string
	for _, h := range g.members[:min(len(g.members), 3)] {
		list = append(list, w.mistakes[h.mistake].Look)
	}
	return strings.Join(list, "; then ")
}

// either names a list as people do where one of it is meant: 1, 2 or 3.
func either(list []string) string {
	last := len(list) - 1
	if last == 0 {
		return list[0]
	}
	return strings.Join(list[:last], ", ") + " or " + list[last]
}
