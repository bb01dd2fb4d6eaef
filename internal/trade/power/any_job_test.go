package power

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// pieces are lines of job files by section, gathered from the rules' own jobs.
type pieces map[string][]string

func gatherPieces(t *testing.T) pieces {
	t.Helper()
	files, err := filepath.Glob("../../plan/testdata/rules/*/*.job.yaml")
	if err != nil || len(files) < 80 {
		t.Fatalf("got %d jobs (%v), want at least 80", len(files), err)
	}
	all := pieces{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		section := ""
		for _, line := range strings.Split(string(text), "\n") {
			switch {
			case strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "":
			case !strings.HasPrefix(line, " "):
				section = strings.TrimSuffix(strings.TrimSpace(strings.Split(line, " #")[0]), ":")
			case strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") && !strings.HasPrefix(line, "  -"):
				piece := strings.TrimRight(strings.Split(line, " #")[0], " ")
				if !slices.Contains(all[section], piece) {
					all[section] = append(all[section], piece)
				}
			}
		}
	}
	return all
}

// randomJob puts a job together from pieces: in each section some of the lines, no key twice.
func (p pieces) randomJob(random *rand.Rand) string {
	var b strings.Builder
	fmt.Fprintf(&b, "drivewright: 1\nrules: %s\n", []string{"us", "iec"}[random.IntN(2)])
	for _, section := range slices.Sorted(maps.Keys(p)) {
		if !slices.Contains([]string{"machine", "shop", "supply", "motor", "drive", "box"}, section) {
			continue
		}
		share := random.Float64()
		keys := map[string]bool{}
		var lines []string
		for _, n := range random.Perm(len(p[section])) {
			line := p[section][n]
			key, _, _ := strings.Cut(line, ":")
			if !keys[key] && random.Float64() < share {
				keys[key] = true
				lines = append(lines, line)
			}
		}
		if len(lines) > 0 {
			fmt.Fprintf(&b, "%s:\n%s\n", section, strings.Join(lines, "\n"))
		}
	}
	return b.String()
}

var brace = regexp.MustCompile(`\{([^}]*)\}`)

// TestAnyJobGivesSoundValues sizes two thousand jobs that nobody would write, put together at random from the rules' jobs. No
// number may be NaN or infinite or carry no reason; what is missing must say what it needs; a formula's words must name inputs
// that are there; and findings must be whole sentences.
func TestAnyJobGivesSoundValues(t *testing.T) {
	p := gatherPieces(t)
	random := rand.New(rand.NewPCG(11, 4))
	known, missing, found := 0, 0, map[string]int{}
	for range 2000 {
		text := p.randomJob(random)
		f := job.Read("random.job.yaml", []byte(text))
		r := Size(&f.Job)
		walk("", reflect.ValueOf(r), func(path string, why *explain.Reason) {
			if why.Name == "" && (strings.HasPrefix(path, ".Cord.") || path == ".Protection.MotorCurrent") {
				return // not asked for: the machine is hard-wired, or the code doesn't limit by the motor
			}
			if problem := unsound(why); problem != "" {
				t.Fatalf("%s, %q, %s, in\n%s", path, why.Name, problem, text)
			}
			if why.Origin == explain.Missing || why.Origin == explain.NotNeeded {
				missing++
			} else {
				known++
			}
		})
		for _, finding := range explain.Judge(Rules(), r.Code.Set, r) {
			found[finding.Rule]++
			for _, phrase := range []explain.Phrase{finding.Message, finding.Remedy} {
				if n := strings.Count(phrase.Format, "{}"); n != len(phrase.Values) || phrase.Empty() {
					t.Fatalf("%s: %d values for %d places in %q, in\n%s", finding.Rule, len(phrase.Values), n, phrase.Format, text)
				}
				if shown := phrase.Show(quantity.InchUnits); strings.Contains(shown, "NaN") || strings.Contains(shown, "without limit") || strings.HasSuffix(shown, ".") {
					t.Fatalf("%s says %q, in\n%s", finding.Rule, shown, text)
				}
			}
		}
		for _, phrase := range slices.Concat(r.Wrong, r.Voltage.WaysOut, r.Connection.Procedure, []explain.Phrase{r.Connection.Problem}) {
			if n := strings.Count(phrase.Format, "{}"); n != len(phrase.Values) {
				t.Fatalf("%d values for %d places in %q, in\n%s", len(phrase.Values), n, phrase.Format, text)
			}
		}
	}
	if known < 10_000 || missing < 10_000 {
		t.Errorf("%d known and %d missing values: the jobs no longer try both", known, missing)
	}
	for _, rule := range motorRules {
		if found[rule.Name] == 0 {
			t.Logf("%s was never reached by chance", rule.Name)
		}
	}
	if len(found) < 60 {
		t.Errorf("only %d rules were reached", len(found))
	}
}

// unsound says what is wrong with a reason, "" if nothing is.
func unsound(why *explain.Reason) string {
	if why.Name == "" {
		return "has no name"
	}
	if why.Origin == explain.Missing || why.Origin == explain.NotNeeded {
		switch {
		case why.Value != nil:
			return "is missing and has a value"
		case why.Note.Empty():
			return "is missing and doesn't say what it needs"
		}
		return ""
	}
	if why.Value == nil {
		return "has no value and isn't missing"
	}
	if si, ok := quantity.SI(why.Value); ok && (math.IsNaN(si) || math.IsInf(si, 0)) {
		return "is " + why.Value.Show(quantity.InchUnits)
	}
	if why.Origin == explain.Derived && len(why.Inputs) == 0 {
		return "is derived from nothing"
	}
	for _, m := range brace.FindAllStringSubmatch(why.Words, -1) {
		if !slices.ContainsFunc(why.Inputs, func(i explain.Input) bool { return i.As == m[1] }) {
			return fmt.Sprintf("speaks of %q in %q, which is no input", m[1], why.Words)
		}
	}
	return ""
}

// walk calls visit for every value with a reason in v, at any depth, with the path to it.
func walk(path string, v reflect.Value, visit func(string, *explain.Reason)) {
	if v.CanInterface() {
		switch x := v.Interface().(type) {
		case explain.Because:
			visit(path, x.Why())
			return
		case *explain.Reason, *job.Job, Code, explain.Source, explain.Phrase, quantity.Value:
			return
		}
	}
	switch v.Kind() { //nolint:exhaustive // the rest holds no reasons
	case reflect.Struct:
		for n := range v.NumField() {
			if v.Type().Field(n).IsExported() {
				walk(path+"."+v.Type().Field(n).Name, v.Field(n), visit)
			}
		}
	case reflect.Slice:
		for n := range v.Len() {
			walk(path, v.Index(n), visit)
		}
	}
}
