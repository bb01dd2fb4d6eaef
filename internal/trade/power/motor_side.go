package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// motorSide fills the parts of r from the nameplate to the drive and what protects the motor, in the order in which one
// needs the other: voltage first, since nothing is worth sizing for volts that can't be made.
func motorSide(r *Result) {
	gain := firstGain(r)
	voltage(r, gain)
	motorCurrent(r)
	if better := driveRating(r); better.Value != gain.Value {
		// only a derated three-phase-input drive is large enough: it makes fewer volts, so all is done again for those
		voltage(r, better)
		motorCurrent(r)
		driveRating(r)
	}
	nameplate(r)
	leadSide(r)
	overload(r)
	cooling(r)
	motorLead(r)
	discharge(r)
	waysOut(r)
	wrongAnswers(r)
}

// firstGain is the gain of the user's own drive, or of the sort of typical drive that this supply asks for.
func firstGain(r *Result) explain.Known[quantity.Factor] {
	j := r.Job
	switch {
	case ownsDrive(&j.Drive):
		return ownGain(j)
	case wantsDoubler(j):
		return doublerGain()
	case j.Supply.Voltage.Set && j.Supply.Voltage.Value > 300 && supplyPhases(j).Value == 1:
		return deratedGain()
	}
	return plainGain()
}
