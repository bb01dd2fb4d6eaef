package prove

import "drivewright/internal/trade/circuit"

// Judge says what the readings taken mean.
func (m *MeterSheet) Judge(c *circuit.Circuit, taken []Taken) Diagnosis { return Diagnosis{} }
