package power

import "drivewright/internal/input/job"

// isSinglePhaseMotor reports whether the plate says that the motor is single-phase.
func isSinglePhaseMotor(m *job.Motor) bool { return m.Phases.Set && m.Phases.Value == 1 }
