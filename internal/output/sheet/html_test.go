package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"html"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
)

var (
	idOf   = regexp.MustCompile(`\bid="([^"]*)"`)
	hrefOf = regexp.MustCompile(`\bhref="#([^"]*)"`)
	forOf  = regexp.MustCompile(`\b(?:for|aria-labelledby|aria-controls)="([^"]*)"`)
)

func writeParts(t testing.TB, d Document, mode HTMLMode) string {
	t.Helper()
	parts, err := HTMLParts(d, mode)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString(string(Marks()))
	for _, p := range parts {
		b.WriteString(string(p.HTML))
	}
	return b.String()
}

// Every id must be unique, and every link, label and reference must lead to one: HTML Standard 3.2.3.1 and WCAG 4.1.1/1.3.1.
func TestEveryLinkOfThePageLeadsSomewhere(t *testing.T) {
	for name, d := range map[string]Document{"fixture": pageFixture(), "engine-lathe": exampleDocument(t, "engine-lathe"), "drum-sander": exampleDocument(t, "drum-sander"), "proved": provedFixture(t)} {
		t.Run(name, func(t *testing.T) { everyLinkLeadsSomewhere(t, d) })
	}
}

func everyLinkLeadsSomewhere(t *testing.T, d Document) {
	for _, mode := range []HTMLMode{StaticPage, LivePage} {
		page := writeParts(t, d, mode)
		ids := map[string]bool{}
		for _, m := range idOf.FindAllStringSubmatch(page, -1) {
			if ids[m[1]] {
				t.Errorf("mode %d: id %q stands twice", mode, m[1])
			}
			if m[1] == "" || strings.ContainsAny(m[1], " \t") {
				t.Errorf("mode %d: %q is no id", mode, m[1])
			}
			ids[m[1]] = true
		}
		links := 0
		for _, pattern := range []*regexp.Regexp{hrefOf, forOf} {
			for _, m := range pattern.FindAllStringSubmatch(page, -1) {
				for id := range strings.FieldsSeq(m[1]) {
					links++
					if !ids[id] {
						t.Errorf("mode %d: nothing has the id %q", mode, id)
					}
				}
			}
		}
		if links < 30 {
			t.Errorf("mode %d: only %d links found: the pattern no longer fits the page", mode, links)
		}
	}
}

// The parts as they are written, to be read when they change: the styles and fonts around them are left out.
func TestHTMLGolden(t *testing.T) {
	golden(t, "page.static.html", []byte(writeParts(t, pageFixture(), StaticPage)))
	golden(t, "page.live.html", []byte(writeParts(t, pageFixture(), LivePage)))
}

// Each element that is opened is closed in its turn, seen by a parser that nobody here wrote.
func TestPartsAreWellNested(t *testing.T) {
	for _, mode := range []HTMLMode{StaticPage, LivePage} {
		d := xml.NewDecoder(strings.NewReader("<page>" + writeParts(t, pageFixture(), mode) + "</page>"))
		d.Strict = false
		d.AutoClose = []string{"input"}
		d.Entity = xml.HTMLEntity
		for {
			_, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("mode %d: %v", mode, err)
			}
		}
	}
}

func TestTheStaticPageNeedsNothingElse(t *testing.T) {
	var b bytes.Buffer
	if err := WriteHTML(&b, pageFixture()); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, foreign := range []string{"<script", "http:", "https:", "src=\"/", "<link", "<iframe", "javascript:"} {
		if strings.Contains(page, foreign) {
			t.Errorf("the page holds %q", foreign)
		}
	}
	if strings.Contains(page, "data-path=") || strings.Contains(page, "<button") {
		t.Error("the static page offers to change something")
	}
	if n := strings.Count(page, "@font-face"); n != 4 {
		t.Errorf("got %d faces, want 4", n)
	}
	var again bytes.Buffer
	if err := WriteHTML(&again, pageFixture()); err != nil {
		t.Fatal(err)
	}
	if again.String() != page {
		t.Error("the same document gave two different pages")
	}
}

func TestThePageShowsAllThatTheDocumentHolds(t *testing.T) {
	d := pageFixture()
	for _, mode := range []HTMLMode{StaticPage, LivePage} {
		page := strings.ReplaceAll(html.UnescapeString(writeParts(t, d, mode)), "\u00a0", " ")
		want := []string{d.Title, d.Verdict.Headline, d.Verdict.Detail, "NFPA 70, 2023, 430.122(A) (from memory)", "drivewright formula branch-ampacity",
			"line 12", "share for continuous duty", "23 A × 125 %"}
		for _, s := range d.Sections {
			want = append(want, s.Title, s.Lead)
			for _, b := range s.Blocks {
				switch b := b.(type) {
				case Paragraph:
					want = append(want, b.Text)
				case Caution:
					want = append(want, b.Text, b.Severity.String())
				case Values:
					for _, v := range b.Rows {
						want = append(want, v.Label, v.Text)
					}
				case Table:
					want = append(append(want, b.Head...), slices.Concat(b.Rows...)...)
				case Figure:
					want = append(want, b.Title, b.Alt)
				case Numbered:
					want = append(want, b.Items...)
				case Ticks:
					for _, tick := range b.Items {
						want = append(want, tick.Text, tick.Expect)
					}
				}
			}
		}
		for _, f := range d.Findings {
			want = append(want, f.Rule, f.Message, f.Remedy, f.Why, f.Source, f.Place, f.Accepted, f.Severity.String())
		}
		for _, text := range want {
			if !strings.Contains(page, text) {
				t.Errorf("mode %d: the page lacks %q", mode, text)
			}
		}
	}
}

func TestWhatTheUserWroteIsTextAndNotMarkup(t *testing.T) {
	for _, mode := range []HTMLMode{StaticPage, LivePage} {
		page := writeParts(t, pageFixture(), mode)
		if strings.Contains(page, "<script>") || strings.Contains(page, "<cu>") {
			t.Errorf("mode %d: a text became markup", mode)
		}
	}
}

func TestLiveValuesAreLabelledControls(t *testing.T) {
	page := writeParts(t, pageFixture(), LivePage)
	for _, want := range []string{
		`<input id="e-motor-current-on-the-plate" data-path="motor.current" data-was="13.4/6.7 A" value="13.4/6.7 A"`,
		`<label class="label" for="e-motor-current-on-the-plate">`,
		`<label class="label" for="e-motor-current-on-the-plate-2">`, // the same value in its second place
		`<select id="e-dust" data-path="shop.dust" data-was=""`,
		`<option>wood</option>`,
		`placeholder="86 °F"`, // assumed: 30 °C in inch units
		`data-do="accept" data-rule="warm-shop"`,
		`data-do="unaccept" data-rule="warm-shop"`,
		`data-do="add" data-item="loads"`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if strings.Contains(page, `data-do="accept" data-rule="breaker-too-small"`) {
		t.Error("a danger is offered to be accepted")
	}
}

func TestOnePartChangesWithOneValue(t *testing.T) {
	before, err := HTMLParts(pageFixture(), LivePage)
	if err != nil {
		t.Fatal(err)
	}
	d := pageFixture()
	d.Sections[0].Blocks[1] = Caution{0, "Another caution."}
	after, err := HTMLParts(d, LivePage)
	if err != nil {
		t.Fatal(err)
	}
	var changed []string
	for n := range before {
		if before[n].HTML != after[n].HTML {
			changed = append(changed, before[n].ID)
		}
	}
	if !slices.Equal(changed, []string{"s-survey"}) {
		t.Errorf("changed parts: got %v, want [s-survey]", changed)
	}
}

func TestFiguresKeepTheirUnits(t *testing.T) {
	for text, want := range map[string]string{
		"a drive makes 240 V of 460 V": "a drive makes 240\u00a0V of 460\u00a0V",
		"at 75 °F, 2.5 mm² or 14 AWG":  "at 75\u00a0°F, 2.5\u00a0mm² or 14\u00a0AWG",
		"30 %":                         "30\u00a0%",
		"3 ways in 2 steps":            "3 ways in 2 steps",
		"2 amps, 4 inches, 5 men":      "2 amps, 4 inches, 5 men",
	} {
		if got := together(text); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestListItem(t *testing.T) {
	for path, want := range map[string]string{"loads[0].power": "loads[0]", "loads[12].name": "loads[12]", "motor.power": "", "": ""} {
		if got := listItem(path); got != want {
			t.Errorf("listItem(%q): got %q, want %q", path, got, want)
		}
	}
}

func BenchmarkHTMLParts(b *testing.B) {
	d := pageFixture()
	for b.Loop() {
		if _, err := HTMLParts(d, LivePage); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteHTML(b *testing.B) {
	d := pageFixture()
	for b.Loop() {
		if err := WriteHTML(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}

// A value without which the job can't go on is what the reader of the live sheet begins with: its part isn't folded, and the
// heading leads there. Once it is written, nothing of that is left.
func TestTheLiveSheetLeadsToWhatIsNeededFirst(t *testing.T) {
	value := Value{ID: "supply-voltage", Label: "supply voltage", Path: "supply.voltage", Origin: explain.Missing, Findings: []int{0}}
	d := Document{Findings: []Finding{{Rule: "supply-voltage-not-known", Severity: explain.Must, Message: "it isn't given", ValueID: value.ID}},
		Sections: []Section{{ID: "supply", Title: "Supply", Level: 2, Asks: true, Blocks: []Block{Values{Rows: []Value{value, value}}}}}}
	written := func(mode HTMLMode) string {
		parts, err := HTMLParts(d, mode)
		if err != nil {
			t.Fatal(err)
		}
		var all strings.Builder
		for _, p := range parts {
			all.WriteString(string(p.HTML))
		}
		return all.String()
	}
	const first, open = `<h2 id="first-title">Begin with</h2><ul><li><a href="#v-supply-voltage">supply voltage</a></li></ul>`, `id="s-supply-answers" open>`
	if page := written(LivePage); !strings.Contains(page, first) || !strings.Contains(page, open) {
		t.Errorf("a live sheet that lacks the voltage doesn't lead to it:\n%s", page)
	}
	if page := written(StaticPage); strings.Contains(page, "Begin with") || !strings.Contains(page, open) {
		t.Errorf("a page where nothing can be written asks for something, or folds what it can't open:\n%s", page)
	}
	d.Sections[0].Blocks = []Block{Values{Rows: []Value{{ID: value.ID, Path: value.Path, Text: "240 V", Origin: explain.Given}}}}
	d.Findings = nil
	if page := written(LivePage); strings.Contains(page, "Begin with") || strings.Contains(page, open) {
		t.Errorf("a live sheet with the voltage still leads to it:\n%s", page)
	}
}
