package power

import (
	"math"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// isSinglePhaseMotor reports whether the plate says that the motor is single-phase.
func isSinglePhaseMotor(m *job.Motor) bool { return m.Phases.Set && m.Phases.Value == 1 }

// maybeSinglePhase reports whether a motor of which nobody wrote the phases looks like a single-phase one: its number of leads
// is no three-phase motor's, or it takes so much current for its power that three of its phases would waste most of it. A single-phase
// motor's power, volts and amperes, read as a three-phase one's, give √3 times too little efficiency × power factor.
func maybeSinglePhase(r *Result) bool {
	m := &r.Job.Motor
	if m.Phases.Set || m.Phases.Wrong || severalSpeeds(m) || m.Groups.Set {
		return false
	}
	few := m.Leads.Set && (m.Leads.Value == 2 || m.Leads.Value == 4 || m.Leads.Value == 5)
	return few || (!m.Leads.Set || m.Leads.Value <= 5) && wastefulOnThree(r) && drawsLikeSinglePhase(r)
}

// wastefulOnThree reports whether power, volts and amperes of the plate, on three phases, leave an efficiency × power factor that no
// three-phase motor has.
func wastefulOnThree(r *Result) bool {
	m, v, i := &r.Job.Motor, r.Voltage.Wanted, r.Motor.Nameplate
	return m.Currents.Set && m.Power.Set && v.OK() && i.OK() &&
		float64(m.Power.Value)/(math.Sqrt(3)*float64(v.Value)*float64(i.Value)) < leastEfficiencyFactor(m.Power.Value)
}

// drawsLikeSinglePhase reports whether the plate's current is about that of a single-phase motor of its power. The figure only
// serves to recognise one, whatever the rule set; it sizes nothing.
func drawsLikeSinglePhase(r *Result) bool {
	row, _, err := catalogue.SinglePhaseCurrent(r.Job.Motor.Power.Value, r.Voltage.Wanted.Value)
	if err != nil {
		return false
	}
	usual := row.Current * quantity.Current(row.Column/r.Voltage.Wanted.Value)
	return math.Abs(float64(r.Motor.Nameplate.Value/usual)-1) < 0.3
}

// notThreePhase reports whether the motor is single-phase, or looks it until someone says otherwise: what is wrong with it as a
// three-phase motor is then beside the point.
func notThreePhase(r *Result) bool { return isSinglePhaseMotor(&r.Job.Motor) || maybeSinglePhase(r) }
