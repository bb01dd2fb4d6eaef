package circuit

// Figures are what the controls draw, drop and load, each with its reason.
type Figures struct {
}

// workOut traces the finished circuit and works out its figures.
func workOut(r *Result) {
	r.traced = trace(&r.Circuit)
}

// nets returns the circuit as potentials.
func (r *Result) nets() *nets {
	if r.traced == nil {
		r.traced = trace(&r.Circuit)
	}
	return r.traced
}
