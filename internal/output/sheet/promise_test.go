package sheet

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"drivewright/examples"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// promise is what no sheet may say of a machine: it says what it checked and what it found.
var promise = regexp.MustCompile(`(?i)\b(safe|safely|compliant|complies|compliance|certified|approved)\b`)

// term is what a standard calls an input of a drive that takes the torque away (IEC 61800-5-2: safe torque off). It promises nothing.
var term = regexp.MustCompile(`(?i)\bsafe[- ](torque[- ])?off\b`)

func TestTheSheetPromisesNothing(t *testing.T) {
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal("no examples", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		p := plan.Make(job.Read(name, text))
		p.Arrange(box.Options{Quick: true})
		if err := WriteText(&b, Build(p, Options{}), 200, false); err != nil {
			t.Fatal(err)
		}
		if b.Len() < 5000 {
			t.Errorf("%s: the sheet is only %d bytes long", name, b.Len())
		}
		said := term.ReplaceAllString(b.String(), "…")
		for _, found := range promise.FindAllStringIndex(said, -1) {
			t.Errorf("%s: the sheet says %q", name, said[max(0, found[0]-40):min(len(said), found[1]+40)])
		}
	}
	for _, r := range plan.Rules() {
		if said := promise.FindString(term.ReplaceAllString(r.Title+" "+r.Why, "…")); said != "" {
			t.Errorf("rule %s says %q", r.Name, said)
		}
	}
	for _, f := range plan.Formulas() {
		if said := promise.FindString(term.ReplaceAllString(f.Title+" "+f.Words, "…")); said != "" {
			t.Errorf("formula %s says %q", f.Name, said)
		}
	}
}
