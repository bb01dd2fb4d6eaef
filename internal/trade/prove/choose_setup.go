package prove

import (
	"slices"
)

// mostSetups is how many ways for the switches to stand are weighed at the most: one by one first, then two at a time.
const mostSetups = 48

// setups returns the ways for the switches to stand that are worth measuring in: all at rest, each wired device in each of its
// other positions, and two of them together where their contacts meet on one wire and no more than one has to be held by hand.
func (b *deadBox) setups() []setup {
	none, _ := b.setupOf(nil)
	list := []setup{none}
	moves := b.moves()
	for _, m := range moves {
		if s, ok := b.setupOf([]Setting{m.Setting}); ok {
			list = append(list, s)
		}
	}
	meets := b.meetings()
	for i, one := range moves {
		for _, other := range moves[i+1:] {
			if len(list) >= mostSetups {
				return list
			}
			if one.device == other.device || !meets[[2]int{one.device, other.device}] {
				continue
			}
			if s, ok := b.setupOf([]Setting{one.Setting, other.Setting}); ok && s.held < 2 {
				list = append(list, s)
			}
		}
	}
	return list
}

// move is a device brought out of its rest.
type move struct {
	Setting
	device int
}

// moves returns what a hand can do to the wired devices, in the circuit's order.
func (b *deadBox) moves() []move {
	wired := map[int]bool{}
	for _, n := range b.probes {
		wired[n] = true
	}
	does := map[int]bool{} // devices with a contact or track that is wired
	for _, c := range b.contacts {
		if wired[c.a] && wired[c.b] {
			does[c.device] = true
		}
	}
	for _, k := range b.knobs {
		does[k.device] = true
	}
	var list []move
	for n, d := range b.devices {
		if !does[n] || d.pulled {
			continue
		}
		for _, p := range d.positions[min(1, len(d.positions)):] {
			list = append(list, move{Setting{b.wiring.Circuit.Devices[n].Tag, p}, n})
		}
	}
	return list
}

// meetings tells of which two devices contacts meet on one wire or terminal.
func (b *deadBox) meetings() map[[2]int]bool {
	var v view
	m := unaltered
	s := setup{position: make([]int, len(b.devices))}
	bare := *b
	bare.contacts, bare.resists, bare.knobs = nil, nil, nil
	bare.look(&v, &s, &m)
	on := map[int][]int{} // devices by group
	for _, c := range b.contacts {
		for _, n := range []int{c.a, c.b} {
			if g := v.group[n]; !slices.Contains(on[g], c.device) {
				on[g] = append(on[g], c.device)
			}
		}
	}
	meets := map[[2]int]bool{}
	for _, devices := range on {
		for _, d := range devices {
			for _, e := range devices {
				meets[[2]int{min(d, e), max(d, e)}] = true
			}
		}
	}
	return meets
}
