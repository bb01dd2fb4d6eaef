package plan_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/prove"
)

var kebabCase = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$`)

// TestRulesHaveTheirPapers holds every rule to the same form: a name a fitter can read, a title, a reason, a source.
func TestRulesHaveTheirPapers(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range plan.Rules() {
		switch {
		case !kebabCase.MatchString(r.Name):
			t.Errorf("rule %q: the name isn't kebab-case words", r.Name)
		case seen[r.Name]:
			t.Errorf("rule %s is registered twice", r.Name)
		case r.Title == "" || r.Why == "":
			t.Errorf("rule %s: title or why is empty", r.Name)
		case r.Source == (explain.Source{}):
			t.Errorf("rule %s has no source", r.Name)
		case len(r.Sets) == 0:
			t.Errorf("rule %s belongs to no rule set", r.Name)
		case strings.HasSuffix(r.Title, ".") || strings.HasSuffix(r.Why, "."):
			t.Errorf("rule %s: title and why have no full stop", r.Name)
		}
		seen[r.Name] = true
	}
	if len(seen) < 40 {
		t.Errorf("got %d rules on these stages, want at least 40", len(seen))
	}
}

// TestEveryRuleTripsAndStaysQuiet runs each rule's two jobs: in trips.job.yaml it reports on the marked lines and nowhere else,
// in clean.job.yaml it says nothing.
func TestEveryRuleTripsAndStaysQuiet(t *testing.T) {
	folders := map[string]bool{}
	entries, err := os.ReadDir("testdata/rules")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		folders[e.Name()] = true
	}
	for _, r := range plan.Rules() {
		t.Run(r.Name, func(t *testing.T) {
			if !folders[r.Name] {
				t.Fatalf("no folder testdata/rules/%s with trips.job.yaml and clean.job.yaml", r.Name)
			}
			trips(t, r.Name)
			for _, f := range findings(t, filepath.Join("testdata/rules", r.Name, "clean.job.yaml")) {
				if f.Rule == r.Name {
					t.Errorf("clean.job.yaml: got %q at line %d, want silence", f.Message.Show(quantity.InchUnits), f.Span.Line)
				}
				if slices.ContainsFunc(job.Mistakes(), func(p explain.Paper) bool { return p.Name == f.Rule }) {
					t.Errorf("clean.job.yaml:%d isn't a well-formed job: %s", f.Span.Line, f.Message.Show(quantity.InchUnits))
				}
			}
		})
		delete(folders, r.Name)
	}
	for orphan := range folders {
		t.Errorf("testdata/rules/%s belongs to no rule", orphan)
	}
}

// want is a mark in a job file: the rule must report there with words that match.
type want struct {
	line  int // 0: about the whole job, or about something that isn't written in a section
	words *regexp.Regexp
	met   bool
}

var wantMark = regexp.MustCompile(`# want(-whole)? "(.*)"\s*$`)

func trips(t *testing.T, rule string) {
	t.Helper()
	file := filepath.Join("testdata/rules", rule, "trips.job.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var wants []want
	for n, line := range strings.Split(string(text), "\n") {
		if m := wantMark.FindStringSubmatch(line); m != nil {
			w := want{line: n + 1, words: regexp.MustCompile(m[2])}
			if m[1] != "" {
				w.line = 0
			}
			wants = append(wants, w)
		}
	}
	if len(wants) == 0 {
		t.Fatalf("%s has no # want mark", file)
	}
	for _, f := range findings(t, file) {
		if slices.ContainsFunc(job.Mistakes(), func(p explain.Paper) bool { return p.Name == f.Rule }) {
			t.Errorf("%s:%d isn't a well-formed job: %s", file, f.Span.Line, f.Message.Show(quantity.InchUnits))
		}
		if f.Rule != rule {
			continue
		}
		message := f.Message.Show(quantity.InchUnits)
		expected := false
		for n := range wants {
			if w := &wants[n]; (w.line == f.Span.Line || w.line == 0 && f.Span.Column == 1) && w.words.MatchString(message) {
				w.met, expected = true, true
			}
		}
		if !expected {
			t.Errorf("%s:%d: got unexpected %q", file, f.Span.Line, message)
		}
		if f.Remedy.Empty() {
			t.Errorf("%s:%d: the finding says no remedy", file, f.Span.Line)
		}
	}
	for _, w := range wants {
		if !w.met {
			t.Errorf("%s:%d: got no finding of %s that matches %q", file, w.line, rule, w.words)
		}
	}
}

func findings(t *testing.T, file string) []explain.Finding {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.Make(job.Read(filepath.Base(file), text))
	rule := filepath.Base(filepath.Dir(file))
	if plan.ByArrangement(rule) {
		p.Arrange(box.Options{Quick: true})
		return p.Findings
	}
	if !provenBySimulation(rule) {
		return p.Findings
	}
	p.Prove()
	return append(p.Findings, bySimulation(&p)...)
}

// TestRuleJobsAreShownWithoutTheirMarks: the jobs that explain a rule are the tested ones, and the marks for the test don't
// reach the reader.
func TestRuleJobsAreShownWithoutTheirMarks(t *testing.T) {
	for _, r := range plan.Rules() {
		trips, quiet := plan.RuleJobs(r.Name)
		if len(trips) == 0 || len(quiet) == 0 {
			t.Errorf("%s has no jobs to show", r.Name)
			continue
		}
		if strings.Contains(string(trips), "# want") {
			t.Errorf("%s: the tripping job is shown with its mark", r.Name)
		}
		p := plan.Make(job.Read("trips.job.yaml", trips))
		if plan.ByArrangement(r.Name) {
			p.Arrange(box.Options{Quick: true})
		}
		found := p.Findings
		if provenBySimulation(r.Name) {
			p.Prove()
			found = bySimulation(&p)
		}
		if !slices.ContainsFunc(found, func(f explain.Finding) bool { return f.Rule == r.Name }) {
			t.Errorf("%s: the job that is shown doesn't trip it", r.Name)
		}
	}
	if trips, quiet := plan.RuleJobs("no-such-rule"); trips != nil || quiet != nil {
		t.Errorf("a rule that doesn't exist has jobs")
	}
}

// provenBySimulation reports whether the rule judges what the simulation shows.
func provenBySimulation(rule string) bool {
	return slices.ContainsFunc(prove.Rules(), func(r explain.Rule[prove.Proof]) bool { return r.Name == rule })
}

// bySimulation returns what the rules on the simulation find by themselves, also where a plan tells it beside another finding.
func bySimulation(p *plan.Plan) []explain.Finding {
	return explain.Judge(prove.Rules(), p.Power.Code.Set, *p.Proof)
}

// TestOneDangerIsToldOnce: a maintained switch that restarts the machine is one finding, at the line that makes it so, with what the
// simulation saw beside it.
func TestOneDangerIsToldOnce(t *testing.T) {
	trips, _ := plan.RuleJobs("restarts-when-the-supply-returns")
	p := plan.Make(job.Read("trips.job.yaml", trips))
	p.Prove()
	beside := 0
	for _, f := range p.Findings {
		if f.Rule == "restarts-when-the-supply-returns" {
			t.Errorf("the restart is told twice: %s", f.Message.Show(quantity.InchUnits))
		}
		for _, r := range f.Related {
			if strings.Contains(r.Message.Show(quantity.InchUnits), "the supply returns: the motor starts") {
				beside++
			}
		}
	}
	if beside != 1 {
		t.Errorf("what the simulation saw stands beside %d findings, want 1", beside)
	}
}
