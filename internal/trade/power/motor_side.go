package power

// motorSide fills the parts of r from the nameplate to the drive and what protects the motor.
func motorSide(r *Result) {}
