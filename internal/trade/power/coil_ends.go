package power

import "slices"

// CoilEnds is one coil of a winding by the marks at its ends. An end that doesn't come out carries the mark of the lead
// that it is joined to inside the motor, or "" where it is joined to no lead.
type CoilEnds struct{ From, To string }

// ends returns the winding's coils by the marks at their ends.
func (w *winding) ends() []CoilEnds {
	mark := func(terminal int) string {
		if slices.Contains(w.leads, terminal) {
			return leadName(terminal)
		}
		for _, group := range w.inside {
			if !slices.Contains(group, terminal) {
				continue
			}
			for _, t := range group {
				if slices.Contains(w.leads, t) {
					return leadName(t)
				}
			}
		}
		return ""
	}
	var list []CoilEnds
	for _, c := range w.coils {
		list = append(list, CoilEnds{mark(c.start), mark(c.finish)})
	}
	return list
}
