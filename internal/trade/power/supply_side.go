package power

// supplySide fills the parts of r from the source breaker to the drive. motorSide has run. The order is that of need: the
// device that carries the circuit, the conductor that suits it, then what hangs on both.
func supplySide(r *Result) {
	circuit(r)
	leastDevice(r)
	branchConductor(r)
	overcurrentDevice(r)
	mainSwitch(r)
	cordAndPlug(r)
	leakage(r)
	equipmentGround(r)
	voltageDrop(r)
	faultCurrent(r)
	racewayFill(r)
}
