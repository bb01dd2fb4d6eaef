package circuit_test

import (
	"io/fs"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"drivewright/examples"
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// alike compares circuits by what they are, not by why: values by themselves, a value that isn't there as its zero.
var alike = cmp.Options{
	cmp.Comparer(func(a, b explain.Known[quantity.Text]) bool { return true }), // reasons are those of the hand that wrote it
	cmp.Comparer(func(a, b explain.Known[quantity.Conductor]) bool { return a.Value == b.Value }),
	cmp.Comparer(func(a, b explain.Known[quantity.Length]) bool {
		return math.Abs(float64(a.Value-b.Value)) <= 1e-9*float64(b.Value)
	}),
	cmp.Comparer(func(a, b explain.Known[quantity.Voltage]) bool { return a.Value == b.Value }),
	fourDigits[quantity.Current](), fourDigits[quantity.Power](), fourDigits[quantity.Resistance](),
	cmpopts.EquateEmpty(),
	cmpopts.IgnoreFields(circuit.Circuit{}, "Places", "Drive"),
}

// fourDigits takes two figures of a kind as one where they agree to four digits, in which a computed one is written: half a step
// in the fourth digit is at most one part in two thousand.
func fourDigits[T ~float64]() cmp.Option {
	return cmp.Comparer(func(a, b T) bool {
		return a == b || math.Abs(float64(a-b)) <= math.Abs(float64(a))/2000
	})
}

// checkRoundTrip writes a circuit as a job file, reads it and compares what comes out, and what is written of it again.
func checkRoundTrip(t *testing.T, first circuit.Result) {
	t.Helper()
	text := first.Write()
	_, second := made(t, "written.job.yaml", text)
	for _, m := range second.Mistakes {
		t.Errorf("mistake %s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
	}
	if d := cmp.Diff(first.Circuit, second.Circuit, alike); d != "" {
		t.Errorf("the circuit that is read isn't the one that was written (- made, + read):\n%s", d)
	}
	if d := cmp.Diff(first.Circuit.Drive, second.Circuit.Drive, cmpopts.EquateEmpty()); d != "" {
		t.Errorf("the drive behaves otherwise (- made, + read):\n%s", d)
	}
	if again := second.Write(); again != text {
		t.Errorf("written twice, it differs:\n%s", cmp.Diff(text, again))
	}
	if t.Failed() {
		t.Log(text)
	}
}

// TestWrittenCircuitReadsBack holds for every example and for a hundred and fifty mixtures of functions.
func TestWrittenCircuitReadsBack(t *testing.T) {
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) < 3 {
		t.Fatalf("got %d examples (%v)", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		_, r := made(t, name, string(text))
		checkRoundTrip(t, r)
	}
	random := rand.New(rand.NewPCG(3, 4))
	for range 150 {
		text := randomJob(random)
		_, r := made(t, "mixture.job.yaml", text)
		checkRoundTrip(t, r)
		if t.Failed() {
			t.Fatalf("mixture:\n%s", text)
		}
	}
}
