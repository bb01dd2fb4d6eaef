package plan_test

import (
	"io/fs"
	"reflect"
	"testing"

	"drivewright/examples"
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

// eachExample runs f on the plan of each example job.
func eachExample(t *testing.T, f func(t *testing.T, p plan.Plan)) {
	t.Helper()
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) < 3 {
		t.Fatalf("got %d example jobs (%v), want at least 3", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(name, func(t *testing.T) {
			file := job.Read(name, text)
			for _, p := range file.Problems {
				t.Errorf("%s:%d: %s", name, p.Span.Line, p.Message.Show(quantity.InchUnits))
			}
			f(t, plan.Make(file))
		})
	}
}

// TestEveryReasonEndsSomewhere walks every value of the examples down to where it comes from: a place in the job file, a
// published or common figure, a typical part, or an assumption that says why. Nothing may end in the air.
func TestEveryReasonEndsSomewhere(t *testing.T) {
	eachExample(t, func(t *testing.T, p plan.Plan) {
		for _, r := range p.Values() {
			switch r.Origin {
			case explain.Given:
				if !r.Span.Known() || r.Path == "" || r.Typed == "" {
					t.Errorf("%s is given, but not where", r.Name)
				}
			case explain.Derived:
				if r.Words == "" || len(r.Inputs) == 0 && r.Source == (explain.Source{}) {
					t.Errorf("%s is derived from nothing (%d inputs, words %q)", r.Name, len(r.Inputs), r.Words)
				}
			case explain.Looked:
				if r.Source == (explain.Source{}) {
					t.Errorf("%s comes from a table without a name", r.Name)
				}
			case explain.Assumed, explain.Missing, explain.NotNeeded:
				if r.Note.Empty() {
					t.Errorf("%s is %s without a word why", r.Name, r.Origin)
				}
			case explain.Catalogue:
				if r.Source.Place == "" {
					t.Errorf("%s is a typical part's figure, but which part's", r.Name)
				}
			}
			if r.There() == (r.Origin == explain.Missing || r.Origin == explain.NotNeeded) {
				t.Errorf("%s is %s with the value %v", r.Name, r.Origin, r.Value)
			}
		}
	})
}

// TestOneNameOneValue: no two values of a plan may have the same name and differ, or a reader asking why gets the wrong answer.
func TestOneNameOneValue(t *testing.T) {
	eachExample(t, func(t *testing.T, p plan.Plan) {
		byID := map[string]*explain.Reason{}
		var walk func(r *explain.Reason)
		walk = func(r *explain.Reason) {
			if first := byID[r.ID()]; first != nil {
				if !reflect.DeepEqual(first.Value, r.Value) {
					t.Errorf("%q stands for %s and for %s", r.Name, first.Show(quantity.InchUnits), r.Show(quantity.InchUnits))
				}
				return
			}
			byID[r.ID()] = r
			for _, i := range r.Inputs {
				walk(i.Reason)
			}
		}
		for _, r := range p.Values() {
			walk(r)
		}
		if len(byID) < 50 {
			t.Errorf("got only %d values: the walk is broken", len(byID))
		}
	})
}

// TestSameJobSamePlan: two runs on the same file give the same findings and values.
func TestSameJobSamePlan(t *testing.T) {
	eachExample(t, func(t *testing.T, p plan.Plan) {
		again := plan.Make(job.Read(p.Job.Source, mustRead(t, p.Job.Source)))
		if !reflect.DeepEqual(shown(p), shown(again)) {
			t.Errorf("the second run differs from the first")
		}
	})
}

func mustRead(t *testing.T, name string) []byte {
	t.Helper()
	text, err := fs.ReadFile(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func shown(p plan.Plan) []string {
	var lines []string
	for _, f := range p.Findings {
		lines = append(lines, f.Rule+": "+f.Message.Show(quantity.InchUnits)+" / "+f.Remedy.Show(quantity.MetricUnits))
	}
	for _, r := range p.Values() {
		lines = append(lines, r.Name+": "+r.Show(quantity.InchUnits)+" "+r.Figures(quantity.MetricUnits))
	}
	return lines
}
