package power

// supplySide fills the parts of r from the source breaker to the drive. motorSide has run.
func supplySide(r *Result) {}
