package catalogue

import (
	"testing"

	"drivewright/internal/base/explain"
)

// TestVerificationFigures: the figures of both standards' insulation test (500 V, 1 Mohm: IEC 60204-1 and NFPA 79, 18.3, from memory), of
// bonding (0.1 ohm, common practice) and of residual voltage (60 V: IEC 60204-1, 6.2.4), each with its trust.
func TestVerificationFigures(t *testing.T) {
	if _, err := readTable(verificationFile); err != nil {
		t.Fatal(err)
	}
	for set, work := range map[explain.RuleSet]string{explain.US: "NFPA 79", explain.IEC: "IEC 60204-1"} {
		volts, least, source := InsulationTest(set)
		if volts != 500 || least != 1e6 || source.Work != work || source.Place != "18.3" || source.Trust != explain.FromMemory {
			t.Errorf("%s: got %v V, %v ohm, %s, want 500 V, 1 Mohm, %s 18.3 from memory", set, volts, least, source, work)
		}
	}
	most, limit, current, method := BondingTest()
	if most != 0.1 || limit.Trust != explain.CommonPractice || current != 0.2 || method.Place != "18.2.2" {
		t.Errorf("bonding: got %v ohm (%s), %v A (%s)", most, limit, current, method)
	}
	if volts, source := ResidualVoltage(); volts != 60 || source.String() != "IEC 60204-1, 2016, 6.2.4" {
		t.Errorf("residual voltage: got %v V (%s), want 60 V, IEC 60204-1, 2016, 6.2.4", volts, source)
	}
}
