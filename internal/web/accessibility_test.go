package web

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
)

// violation is one rule that axe-core found broken.
type violation struct {
	ID     string
	Impact string
	Help   string
	Nodes  []struct {
		HTML           string
		FailureSummary string
	}
}

// The pages hold to WCAG 2.2 A and AA as far as a program can tell, judged by axe-core 4.14.1 (testdata/axe-core, with its
// licence), which nobody here wrote: with everything folded, with everything opened, with a refused value and a message, by day and by night,
// at a desk and in the hand. Anything serious or critical fails; lesser things are logged.
func TestAccessibility(t *testing.T) {
	axe := axeScript(t)
	for _, l := range looks {
		t.Run(l.String(), func(t *testing.T) {
			t.Parallel()
			store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe, "grinder.job.yaml": grinder})
			s := serve(t, store)
			p := window(t, l, s.URL+"/")
			judge := p.judgedBy(axe)
			judge("the list", "document")
			p.visit(jobAddress(s))
			judge("the sheet", "document")
			p.run(`for (const d of document.querySelectorAll("main details")) d.open = true; for (const a of document.querySelectorAll(".inputs > li > a")) a.click()`)
			judge("the sheet with all opened", "document")
			// What is laid over the sheet hides links beneath it, so it is judged by itself.
			p.run(`document.getElementById("keys").hidden = false; for (const d of document.querySelectorAll(".bar details, #contents details")) d.open = true`)
			judge("the menus and the keys", `{ include: [["#bar"], ["#contents"], ["#keys"]] }`)
			p.run(`document.getElementById("keys").hidden = true; for (const d of document.querySelectorAll(".bar details, #contents details")) d.open = false`)
			p.write("supply.breaker", "40 V")
			p.key("\r")
			p.wait("the refusal", refusalAt("supply.breaker"))
			p.write("supply.run", "50 ft")
			p.key("\r")
			p.wait("the message", `document.getElementById("said").dataset.now === "shown"`)
			judge("the sheet with a refused value and a message", "document")
			p.visit(jobAddress(s) + "/versions")
			judge("the versions", "document")
			real, name := realServer(t, "drum-sander")
			p.visit(real.URL + "/job/" + name)
			judge("the sander's sheet", "document")
			if l == desk || l == handNight {
				p.run(`for (const d of document.querySelectorAll("main details")) d.open = true`)
				judge("the sander's sheet with all opened", "document")
			}
		})
	}
}

// axeScript is the judge's script.
func axeScript(t testing.TB) string {
	t.Helper()
	axe, err := os.ReadFile("testdata/axe-core/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	return string(axe)
}

// judgedBy returns what judges the page as it stands: what says which state it is in, within is what is looked at.
func (p *tab) judgedBy(axe string) func(what, within string) {
	return func(what, within string) {
		p.Helper()
		if !evaluate[bool](p, `"axe" in window`) {
			p.run(axe)
		}
		// At the top nothing is half hidden beneath the bar: axe would take what is for too small a target.
		p.run(`scrollTo({ top: 0, behavior: "instant" })`)
		result := evaluate[string](p, `axe.run(`+within+`, { resultTypes: ["violations"], runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }).then(r => JSON.stringify({ passes: r.passes.length, violations: r.violations }))`)
		var found struct {
			Passes     int
			Violations []violation
		}
		if err := json.Unmarshal([]byte(result), &found); err != nil {
			p.Fatal(err)
		}
		if found.Passes < 15 {
			p.Errorf("%s: only %d rules applied: the page can't have been there", what, found.Passes)
		}
		for _, v := range found.Violations {
			var b strings.Builder
			for _, n := range v.Nodes[:min(len(v.Nodes), 4)] {
				fmt.Fprintf(&b, "\n    %.200s\n      %s", n.HTML, strings.ReplaceAll(n.FailureSummary, "\n", "\n      "))
			}
			if v.Impact == "serious" || v.Impact == "critical" {
				p.Errorf("%s: %s: %s (%s)%s", what, v.Impact, v.ID, v.Help, b.String())
			} else {
				p.Logf("%s: %s: %s (%s)%s", what, v.Impact, v.ID, v.Help, b.String())
			}
		}
	}
}

// The same for the page of readings, in each state that it has.
func TestReadingsAccessibility(t *testing.T) {
	axe := axeScript(t)
	for _, l := range []look{hand, handNight} {
		t.Run(l.String(), func(t *testing.T) {
			t.Parallel()
			_, relay := relayServer(t)
			p := window(t, l, readingsAddress(relay))
			judge := p.judgedBy(axe)
			p.wait("the readings", `document.getElementById("begin")?.checkVisibility() && document.body.dataset.ready`)
			judge("before the readings", "document")
			p.deed("begin")
			judge("a reading", "document")
			p.deed("expected")
			p.tapped("done")
			judge("a reading with nothing typed and the expected value shown", "document")
			p.tapped("4", ".", "7", "k", "done")
			p.wait("it to be judged", ruling+` === "ruling wrong"`)
			judge("a wrong reading", "document")
			p.deed("again")
			p.tapped("open", "done")
			p.wait("it to be judged again", ruling+` === "ruling right"`)
			judge("a right reading", "document")
			p.deed("next")
			p.run(`document.getElementById("list").click()`)
			judge("all readings", "document")
			p.run(`document.querySelector('[data-view="work"]').click()`)
			judge("the order of work", "document")
			_, s := latheServer(t)
			p.visit(readingsAddress(s))
			p.wait("the tests", `document.querySelectorAll('[data-kind="test"]').length === 2 && document.body.dataset.ready`)
			p.run(`document.querySelector('[data-view="test"]').click()`)
			judge("a test", "document")
			p.deed("skip")
			judge("a test that is passed or not, with a caution", "document")
			p.tapped("failed")
			p.wait("it to be written down", ruling+` === "ruling wrong"`)
			judge("a test with a caution that failed", "document")
		})
	}
}

// realServer serves the real sheet of an example job.
func realServer(t testing.TB, example string) (s *httptest.Server, name string) {
	t.Helper()
	name = example + ".job.yaml"
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", name))
	if err != nil {
		t.Fatal(err)
	}
	o := testOptions(newMemoryStore(map[string]string{name: string(text)}))
	o.Build, o.Prove = realSheet, plan.ProofOf
	o.Downloads = []Download{{Label: "web page", Ending: "html", Type: "text/html; charset=utf-8", Write: sheet.WriteHTML}}
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return started(t, h), name
}

// The static page and the live sheet look the same: what stands in both stands in the same place and type.
func TestTheStaticPageLooksLikeTheLiveSheet(t *testing.T) {
	s, name := realServer(t, "engine-lathe")
	answer, err := http.Get(s.URL + "/job/" + name + "/as/html")
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(file, page, 0o644); err != nil {
		t.Fatal(err)
	}
	const measure = `document.fonts.ready.then(() => JSON.stringify(["h1", "h2", "h3", ".lead", "#v-motor-voltage-to-connect-for .label", "#v-motor-voltage-to-connect-for .figure",
		"#v-motor-voltage-to-connect-for .half", "table", "td", ".drawing svg", ".ticks li", "#contents a", ".beside"].map(s => { const e = document.querySelector("main " + s) ?? document.querySelector(s), r = e.getBoundingClientRect(), c = getComputedStyle(e);
		return [s, Math.round(r.left), Math.round(r.width), c.fontSize, c.fontWeight, c.fontFamily, c.color, document.fonts.check("16px Sheet")] }), null, 1))`
	for _, l := range looks {
		live := window(t, l, s.URL+"/job/"+name)
		static := window(t, l, "file://"+file)
		if diff := cmp.Diff(evaluate[string](live, measure), evaluate[string](static, measure)); diff != "" {
			t.Errorf("%s: live (-) and static (+) differ:\n%s", l, diff)
		}
		if wide := evaluate[float64](static, `document.documentElement.scrollWidth`); wide > float64(l.width) {
			t.Errorf("%s: the static page is %.0f px wide", l, wide)
		}
	}
}

// A finger needs 44 px: every control and link that stands by itself is at least that high on a phone (WCAG 2.1, 2.5.5; a link
// within a sentence is excepted there).
func TestTouchTargetsOnAPhone(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe, "grinder.job.yaml": grinder}))
	for _, path := range []string{"/", "/job/lathe.job.yaml", "/job/lathe.job.yaml/versions"} {
		p := window(t, hand, s.URL+path)
		p.run(`for (const d of document.querySelectorAll("main details, .drop")) d.open = true`)
		small := evaluate[string](p, `[...document.querySelectorAll("button, select, summary, input, textarea, a")].filter(e => {
			const box = e.closest("label") ?? e; // a tick's label is touched as well
			const r = box.getBoundingClientRect();
			if (r.width === 0 || e.matches(".skip") || e.closest(".formula")) return false;
			return r.height < 43.5;
		}).map(e => Math.round(e.getBoundingClientRect().height) + " " + e.outerHTML.slice(0, 120)).join("\n")`)
		if small != "" {
			t.Errorf("%s: lower than 44 px:\n%s", path, small)
		}
	}
}

// On paper the sheet has neither bar nor frames around values, and what is open on the screen is printed.
func TestTheLiveSheetPrintsLikeThePage(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe}))
	p := window(t, deskNight, jobAddress(s))
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	if folder := os.Getenv("DRIVEWRIGHT_SHOTS"); folder != "" {
		if err := os.WriteFile(folder+"/print.pdf", pdf, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if len(pdf) < 5000 || !strings.HasPrefix(string(pdf), "%PDF") {
		t.Errorf("printed %d bytes", len(pdf))
	}
	p.do(media("print", "dark"))
	for what, condition := range map[string]string{
		"the bar is printed":              `getComputedStyle(document.getElementById("bar")).display !== "none"`,
		"the contents are printed":        `getComputedStyle(document.getElementById("contents")).display !== "none"`,
		"a value is printed with a frame": `getComputedStyle(document.querySelector("[data-path]")).borderBottomStyle !== "none"`,
		"the paper is dark":               `getComputedStyle(document.body).backgroundColor !== "rgb(255, 255, 255)"`,
		"the ink is light":                `getComputedStyle(document.body).color !== "rgb(0, 0, 0)"`,
	} {
		if evaluate[bool](p, condition) {
			t.Error(what)
		}
	}
}
