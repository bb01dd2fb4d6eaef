package web

import (
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const (
	ampacity = `document.querySelector("#v-least-branch-ampacity .figure").textContent`
	saved    = `document.getElementById("state").textContent === "saved"`
)

// said is the condition that the line at the foot of the page holds the text.
func said(text string) string {
	return fmt.Sprintf(`document.getElementById("said").textContent.includes(%q)`, text)
}

func refusalAt(path string) string {
	return fmt.Sprintf(`document.querySelector('[data-path=%q]').closest(".line").querySelector(".refusal").textContent`, path)
}

func latheServer(t testing.TB) (*memoryStore, *httptest.Server) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	return store, serve(t, store)
}

// The tests hear what the browser complains of: a script that fails, and a script within the page, which the content policy
// refuses.
func TestPageComplaintsAreHeard(t *testing.T) {
	_, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.run(`setTimeout(() => { throw new Error("planted") })`)
	p.run(`const e = document.createElement("script"); e.textContent = "window.slipped = true"; document.body.append(e)`)
	p.wait("a turn of the page", `new Promise(done => setTimeout(() => done(true), 50))`)
	time.Sleep(100 * time.Millisecond)
	heard := strings.Join(p.heard(), "\n")
	if !strings.Contains(heard, "planted") || !strings.Contains(heard, "Content Security Policy") {
		t.Errorf("heard only: %s", heard)
	}
	if evaluate[bool](p, `window.slipped === true`) {
		t.Error("a script within the page was run")
	}
}

func TestPageChangeAValueAndSeeTheSheetAgain(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	if got := evaluate[string](p, ampacity); got != "16.8 A" {
		t.Fatalf("ampacity before: %q", got)
	}
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.wait("the sheet to be worked out again", ampacity+` === "20 A"`)
	p.wait("the message", said("worked out again"))
	if !strings.Contains(store.text("lathe.job.yaml"), "current: 16/8 A") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	if got := evaluate[string](p, `document.activeElement.dataset.path`); got != "motor.current" {
		t.Errorf("the focus went to %q", got)
	}
	// Leaving the field takes the value as well.
	p.write("supply.run", "60 ft")
	p.key(kb.Tab)
	p.wait("the value to be saved", saved)
	if !strings.Contains(store.text("lathe.job.yaml"), "run: 60 ft") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageAWordIsChosen(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.run(`const c = document.querySelector('[data-path="machine.kind"]'); c.value = "mill"; c.dispatchEvent(new Event("change", { bubbles: true }))`)
	p.wait("the word to be saved", saved+` && document.getElementById("said").textContent`)
	if !strings.Contains(store.text("lathe.job.yaml"), "kind: mill") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

// Arrow keys run through the words; only the one at which they stop is taken.
func TestPageAWordIsChosenByKeys(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.run(`document.querySelector('[data-path="machine.kind"]').focus()`)
	p.key(kb.ArrowDown)
	p.key(kb.ArrowDown)
	p.wait("the last word to be saved", said("worked out again")+" && "+saved)
	if !strings.Contains(store.text("lathe.job.yaml"), "kind: drill press") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	if kept, err := store.Versions("lathe.job.yaml"); err != nil || len(kept) != 1 {
		t.Errorf("%d changes were made, %v", len(kept), err)
	}
	if got := evaluate[string](p, `document.activeElement.dataset.path`); got != "machine.kind" {
		t.Errorf("the focus went to %q", got)
	}
}

// Typing on while a value is under way loses nothing, and one's own change is no one else's.
func TestPageTypingOnWhileAValueIsUnderWay(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("machine.name", "Lathe one")
	p.key(kb.Enter + " and a half" + kb.Enter)
	p.wait("all to be saved", saved+` && localStorage.getItem("drivewright drafts lathe.job.yaml") === null && document.title === "Lathe one and a half"`)
	if !strings.Contains(store.text("lathe.job.yaml"), "name: Lathe one and a half") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	if got := evaluate[string](p, refusalAt("machine.name")); got != "" {
		t.Errorf("refused: %s", got)
	}
}

func TestPageSomethingNotYetWrittenIsAddedAndTakenOut(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("shop.warmest", "95 °F")
	p.key(kb.Enter)
	p.wait("the finding to go", `!document.getElementById("f-shop-heat-unknown")`)
	if got := evaluate[string](p, `document.activeElement.dataset.path`); got != "shop.warmest" {
		t.Errorf("the focus went to %q", got)
	}
	if !strings.Contains(store.text("lathe.job.yaml"), "warmest: 95 °F") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	p.run(`const c = document.querySelector('[data-path="shop.warmest"]'); c.focus(); c.select()`)
	p.key(kb.Delete)
	p.key(kb.Enter)
	p.wait("the finding to come back", `document.getElementById("f-shop-heat-unknown")`)
	if strings.Contains(store.text("lathe.job.yaml"), "warmest") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageABadValueIsRefusedAtTheFieldAndStaysTyped(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("supply.breaker", "40 V")
	p.key(kb.Enter)
	p.wait("the refusal", refusalAt("supply.breaker"))
	if got := p.value("supply.breaker"); got != "40 V" {
		t.Errorf("what was typed became %q", got)
	}
	if !evaluate[bool](p, `(() => { const c = document.querySelector('[data-path="supply.breaker"]'); return c.getAttribute("aria-invalid") === "true" && document.getElementById(c.getAttribute("aria-describedby")).textContent !== "" })()`) {
		t.Error("the field isn't marked as invalid, or doesn't name its refusal")
	}
	// It outlasts a repaint of its section, and a reload.
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "45 ft", "46 ft", 1) })
	p.wait("the other change to show", `document.querySelector('[data-path="supply.run"]').value === "46 ft"`)
	if got := p.value("supply.breaker"); got != "40 V" {
		t.Errorf("after a repaint: %q", got)
	}
	p.visit(jobAddress(s))
	if got := p.value("supply.breaker"); got != "40 V" {
		t.Errorf("after a reload: %q", got)
	}
	// Escape puts back what the file says.
	p.run(`document.querySelector('[data-path="supply.breaker"]').focus()`)
	p.key(kb.Escape)
	if got := p.value("supply.breaker"); got != "30 A" {
		t.Errorf("after Escape: %q", got)
	}
	if got := evaluate[string](p, refusalAt("supply.breaker")); got != "" {
		t.Errorf("the refusal still says %q", got)
	}
}

func TestPageWhyOpensInPlaceDownToTheJobFile(t *testing.T) {
	_, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.do(chromedp.Click(chromedp.CSS("#v-least-branch-ampacity > summary")))
	why := p.text("#v-least-branch-ampacity .reason")
	for _, want := range []string{"least branch ampacity = motor current × share", "13.4/6.7 A × 125 % = 16.8 A", "NFPA 70, 2023, 430.122(A)"} {
		if !strings.Contains(why, want) {
			t.Errorf("the reason lacks %q: %s", want, why)
		}
	}
	p.do(chromedp.Click(chromedp.CSS("#v-least-branch-ampacity .inputs > li:nth-child(1) > a")))
	if got := p.text("#v-least-branch-ampacity .inputs > li:nth-child(1) .reason"); !strings.Contains(got, "line 21") && !strings.Contains(got, "Written in line") {
		t.Errorf("the input's reason: %q", got)
	}
	p.do(chromedp.Click(chromedp.CSS("#v-least-branch-ampacity .inputs > li:nth-child(2) > a")))
	if got := p.text("#v-least-branch-ampacity .inputs > li:nth-child(2) .reason"); !strings.Contains(got, "430.122(A)") {
		t.Errorf("the table's reason: %q", got)
	}
	// Opened reasons stay open, and show the new figures, when the value is worked out again.
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.wait("the new figure within the reason", `document.querySelector("#v-least-branch-ampacity .reason").textContent.includes("16/8 A × 125 %")`)
	if n := evaluate[int](p, `document.querySelectorAll("#v-least-branch-ampacity .inputs > li > .reason").length`); n != 2 {
		t.Errorf("%d of the two opened inputs are still open", n)
	}
	// The link at the end goes to the control.
	p.do(chromedp.Click(chromedp.CSS("#v-least-branch-ampacity .inputs > li:nth-child(1) .go")))
	p.wait("the focus to reach the value", `document.activeElement.dataset.path === "motor.current"`)
}

func TestPageUndoAndRedoAlsoAfterAReload(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.wait("the change", ampacity+` === "20 A"`)
	p.visit(jobAddress(s))
	if got := evaluate[string](p, `document.querySelector('.bar [data-do="undo"]').title`); got != "motor.current: 13.4/6.7 A → 16/8 A" {
		t.Errorf("undo says %q", got)
	}
	p.do(chromedp.Click(chromedp.CSS(`.bar [data-do="undo"]`)))
	p.wait("the undo", ampacity+` === "16.8 A"`)
	if store.text("lathe.job.yaml") != lathe {
		t.Errorf("the file isn't what it was:\n%s", store.text("lathe.job.yaml"))
	}
	p.key("z", chromedp.KeyModifiers(chromedp.ModifierCtrl|chromedp.ModifierShift))
	p.wait("the redo by keys", ampacity+` === "20 A"`)
	p.key("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.wait("the undo by keys", ampacity+` === "16.8 A"`)
}

func TestPageASecondTabIsNoticed(t *testing.T) {
	_, s := latheServer(t)
	one := window(t, desk, jobAddress(s))
	two := one.another(desk, jobAddress(s))
	two.write("motor.current", "16/8 A")
	two.key(kb.Enter)
	two.wait("the change in the second tab", ampacity+` === "20 A"`)
	one.wait("the change in the first tab", ampacity+` === "20 A"`)
	one.wait("the first tab to say so", said("Changed elsewhere"))
	if got := one.value("motor.current"); got != "16/8 A" {
		t.Errorf("the first tab's field: %q", got)
	}
}

func TestPageAnEditorIsNoticedAndWhatIsBeingTypedStays(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("supply.breaker", "50")
	store.editOutside("lathe.job.yaml", func(s string) string {
		return strings.NewReplacer("13.4/6.7 A", "16/8 A", "45 ft", "80 ft").Replace(s)
	})
	p.wait("the editor's change", ampacity+` === "20 A"`)
	if got := p.value("supply.breaker"); got != "50" {
		t.Errorf("what was being typed became %q", got)
	}
	if got := evaluate[string](p, `document.activeElement.dataset.path`); got != "supply.breaker" {
		t.Errorf("the focus went to %q", got)
	}
	p.key(" A" + kb.Enter)
	p.wait("both changes in the file", saved)
	p.wait("the message", said("worked out again"))
	if text := store.text("lathe.job.yaml"); !strings.Contains(text, "breaker: 50 A") || !strings.Contains(text, "80 ft") {
		t.Errorf("the file holds\n%s", text)
	}
}

func TestPageTwoWhoChangeTheSameValueBothSeeBothTexts(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("supply.breaker", "50 A")
	store.editOutside("lathe.job.yaml", func(s string) string { return strings.Replace(s, "30 A", "35 A", 1) })
	p.wait("the warning while typing", refusalAt("supply.breaker")+`.includes("35 A")`)
	p.key(kb.Enter)
	p.wait("the choice", `document.querySelector(".refusal .choice")`)
	text := evaluate[string](p, refusalAt("supply.breaker"))
	for _, want := range []string{"35 A", "50 A", "Nothing is lost", "breaker: 30 A"} {
		if !strings.Contains(text, want) {
			t.Errorf("the choice lacks %q: %s", want, text)
		}
	}
	p.shot("conflict", false)
	if !strings.Contains(store.text("lathe.job.yaml"), "35 A") {
		t.Error("the other's text was overwritten before the choice")
	}
	p.run(`document.querySelector(".refusal .choice button").click()`)
	p.wait("mine to be written", saved)
	p.wait("the refusal to go", `!`+refusalAt("supply.breaker"))
	if !strings.Contains(store.text("lathe.job.yaml"), "breaker: 50 A") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

// stoppable is a server that can be taken away and brought back at the same address.
type stoppable struct {
	t       testing.TB
	handler http.Handler
	address string
	server  *http.Server
}

func (s *stoppable) start() {
	s.t.Helper()
	var listener net.Listener
	var err error
	for range 50 {
		if listener, err = net.Listen("tcp", s.address); err == nil {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if err != nil {
		s.t.Fatal(err)
	}
	s.address = listener.Addr().String()
	s.server = &http.Server{Handler: s.handler}
	go s.server.Serve(listener) //nolint:errcheck // it ends with the test
}

func TestPageTheServerGoesAndComesBackAndNothingTypedIsLost(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	h, err := New(testOptions(store))
	if err != nil {
		t.Fatal(err)
	}
	s := &stoppable{t: t, handler: h, address: "127.0.0.1:0"}
	s.start()
	t.Cleanup(func() { s.server.Close() })
	p := window(t, desk, "http://"+s.address+"/job/lathe.job.yaml")
	if err := s.server.Close(); err != nil {
		t.Fatal(err)
	}
	p.wait("the banner", `document.getElementById("banner").textContent.includes("isn't answering")`)
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.write("supply.run", "60 ft")
	p.key(kb.Tab)
	p.wait("the drafts to be kept", `localStorage.getItem("drivewright drafts lathe.job.yaml").includes("60 ft")`)
	p.shot("gone", false)
	s.start()
	p.wait("the banner to go", `!document.getElementById("banner").textContent`)
	p.wait("what was typed to be worked out", ampacity+` === "20 A"`)
	p.wait("all to be sent", `localStorage.getItem("drivewright drafts lathe.job.yaml") === null`)
	if text := store.text("lathe.job.yaml"); !strings.Contains(text, "current: 16/8 A") || !strings.Contains(text, "run: 60 ft") {
		t.Errorf("the file holds\n%s", text)
	}
}

func TestPageWhatWasTypedWhileTheServerWasGoneOutlastsAReload(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	h, err := New(testOptions(store))
	if err != nil {
		t.Fatal(err)
	}
	s := &stoppable{t: t, handler: h, address: "127.0.0.1:0"}
	s.start()
	t.Cleanup(func() { s.server.Close() })
	address := "http://" + s.address + "/job/lathe.job.yaml"
	p := window(t, desk, address)
	if err := s.server.Close(); err != nil {
		t.Fatal(err)
	}
	p.wait("the banner", `document.getElementById("banner").textContent`)
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.wait("the draft to be kept", `localStorage.getItem("drivewright drafts lathe.job.yaml").includes("16/8 A")`)
	p.do(chromedp.Navigate("about:blank"))
	s.start()
	p.visit(address)
	p.wait("the draft to be sent", ampacity+` === "20 A"`)
	if !strings.Contains(store.text("lathe.job.yaml"), "current: 16/8 A") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageTheFileIsMovedAwayAndPutBack(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.wait("the stream", `performance.getEntriesByType("resource").length > 0`)
	store.remove("lathe.job.yaml")
	p.wait("the banner", `document.getElementById("banner").textContent.includes("gone from its folder")`)
	p.write("supply.breaker", "40 A")
	p.key(kb.Enter)
	p.wait("the refusal", refusalAt("supply.breaker"))
	if got := p.value("supply.breaker"); got != "40 A" {
		t.Errorf("what was typed became %q", got)
	}
	store.editOutside("lathe.job.yaml", func(string) string { return lathe })
	p.wait("the banner to go", `!document.getElementById("banner").textContent`)
	p.key(kb.Enter)
	p.wait("the value to be saved", saved+" && "+said("worked out again"))
	if !strings.Contains(store.text("lathe.job.yaml"), "breaker: 40 A") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageByKeyboardAlone(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, s.URL+"/")
	active := `document.activeElement.outerHTML.slice(0, 160)`
	// The list: skip link, then the first job's link, then Enter.
	p.key(kb.Tab)
	if got := evaluate[string](p, `document.activeElement.className`); got != "skip" {
		t.Fatalf("the first stop is %s", evaluate[string](p, active))
	}
	p.key(kb.Tab)
	p.key(kb.Enter)
	p.wait("the sheet", `document.body.dataset.ready === "yes"`)
	// The sheet: skip the bar, then walk by Tab to the breaker; every stop must be visible and have a name.
	p.key(kb.Tab)
	p.key(kb.Enter)
	reached := false
	for range 120 {
		p.key(kb.Tab)
		stop := evaluate[string](p, `(() => { const e = document.activeElement, r = e.getBoundingClientRect(), s = getComputedStyle(e);
			if (r.width === 0 || r.height === 0) return "no size: " + e.outerHTML.slice(0, 120);
			if (s.outlineStyle === "none" && s.boxShadow === "none") return "no focus to be seen: " + e.outerHTML.slice(0, 120);
			return e.dataset.path ?? "" })()`)
		if strings.Contains(stop, ":") {
			t.Fatal(stop)
		}
		if stop == "supply.breaker" {
			reached = true
			break
		}
	}
	if !reached {
		t.Fatalf("the breaker was never reached; the last stop was %s", evaluate[string](p, active))
	}
	p.key("40 A")
	p.key(kb.Enter)
	p.wait("the finding to go", `!document.getElementById("f-breaker-too-small")`)
	if got := evaluate[string](p, `document.activeElement.dataset.path`); got != "supply.breaker" {
		t.Errorf("the focus went to %s", evaluate[string](p, active))
	}
	if !strings.Contains(store.text("lathe.job.yaml"), "breaker: 40 A") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	// Its reason opens by Enter and is folded away by Escape.
	p.key(kb.Tab)
	p.key(kb.Enter)
	p.wait("the reason", `document.activeElement.closest("details")?.open`)
	p.key(kb.Escape)
	p.wait("the reason to fold", `!document.activeElement.closest("details")?.open`)
	// Keys that work anywhere but in a text.
	p.key("?")
	p.wait("the keys", `!document.getElementById("keys").hidden`)
	p.shot("keys", false)
	p.key(kb.Escape)
	p.wait("the keys to go", `document.getElementById("keys").hidden`)
	p.key("n")
	p.wait("the first finding", `document.activeElement.classList.contains("finding")`)
}

func TestPageUnitsAreSwitchedAndKeptInTheAddress(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.run(`document.querySelector('[name="units"][value="metric"]').click()`)
	p.wait("metres", `document.querySelector("#v-length-of-the-run").textContent.includes("13.7 m")`)
	if got := evaluate[string](p, `location.search`); got != "?units=metric" {
		t.Errorf("the address ends in %q", got)
	}
	if store.text("lathe.job.yaml") != lathe {
		t.Error("looking in other units changed the file")
	}
	p.do(chromedp.Reload())
	p.wait("the page", `document.body.dataset.ready === "yes"`)
	if !strings.Contains(p.text("#v-length-of-the-run"), "13.7 m") {
		t.Error("after a reload the units are lost")
	}
	if got := evaluate[string](p, `document.querySelector("[data-units-link]").href`); !strings.HasSuffix(got, "/as/json?units=metric") {
		t.Errorf("the download's address: %q", got)
	}
}

func TestPageDarkAndLightAreChosenByHand(t *testing.T) {
	_, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	background := `getComputedStyle(document.body).backgroundColor`
	day := evaluate[string](p, background)
	p.run(`document.querySelector('[name="light"][value="dark"]').click()`)
	night := evaluate[string](p, background)
	if day == night {
		t.Fatalf("dark and light are both %s", day)
	}
	p.visit(s.URL + "/")
	if got := evaluate[string](p, background); got != night {
		t.Errorf("on the next page: %s, want %s", got, night)
	}
}

func TestPageAFindingIsAcceptedWithAReason(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.run(`document.querySelector("#f-shop-heat-unknown-accept").open = true; document.querySelector("#f-shop-heat-unknown-because").focus()`)
	p.key("a cellar" + kb.Enter)
	p.wait("the acceptance", `document.querySelector("#f-shop-heat-unknown .acceptance")?.textContent.includes("a cellar")`)
	if !strings.Contains(store.text("lathe.job.yaml"), "shop-heat-unknown") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
	p.do(chromedp.Click(chromedp.CSS("#f-shop-heat-unknown form button")))
	p.wait("the acceptance to go", `!document.querySelector("#f-shop-heat-unknown .acceptance")`)
}

func TestPageLoadsComeAndGo(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.do(chromedp.Click(chromedp.CSS(`[data-do="add"][data-item="loads"]`)))
	p.wait("the second load", `document.querySelector('[data-path="loads[1].name"]')`)
	p.do(chromedp.Click(chromedp.CSS(`[data-do="remove"][data-item="loads[0]"]`)))
	p.wait("one load", `!document.querySelector('[data-path="loads[1].name"]')`)
	if strings.Contains(store.text("lathe.job.yaml"), "lamp") {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageAnEarlierVersionIsBroughtBack(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	p.write("motor.current", "16/8 A")
	p.key(kb.Enter)
	p.wait("the change", ampacity+` === "20 A"`)
	p.visit(jobAddress(s) + "/versions")
	p.shot("versions", false)
	p.do(chromedp.Click(chromedp.CSS(`[data-do="bring-back"]`)))
	p.wait("the sheet with the old value", `document.body.dataset.ready === "yes" && `+ampacity+` === "16.8 A"`)
	if store.text("lathe.job.yaml") != lathe {
		t.Errorf("the file holds\n%s", store.text("lathe.job.yaml"))
	}
}

func TestPageANewJobIsMadeFromTheList(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, hand, s.URL+"/")
	p.run(`document.getElementById("new-title").focus()`)
	p.key("Old planer" + kb.Enter)
	p.wait("the new sheet", `document.body.dataset.job === "old-planer.job.yaml"`)
	if !strings.Contains(store.text("old-planer.job.yaml"), "Old planer") {
		t.Errorf("the file holds\n%s", store.text("old-planer.job.yaml"))
	}
}

func TestPageTheLineBeingWorkedInStaysWhereItIsOnTheScreen(t *testing.T) {
	_, s := latheServer(t)
	p := window(t, desk, jobAddress(s))
	top := `Math.round(document.querySelector('[data-path="supply.breaker"]').getBoundingClientRect().top)`
	p.write("supply.breaker", "40 A")
	before := evaluate[int](p, top)
	p.key(kb.Enter)
	p.wait("the finding to go from above", `!document.getElementById("f-breaker-too-small")`)
	if after := evaluate[int](p, top); after-before > 1 || before-after > 1 {
		t.Errorf("the line moved from %d to %d", before, after)
	}
}
