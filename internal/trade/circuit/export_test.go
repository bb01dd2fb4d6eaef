package circuit

// EndsOf returns the wire ends that the task brings under a screw.
func EndsOf(t Task) []Pin { return t.ends }
