package web

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// realSheet is the sheet as the program shows it.
func realSheet(p plan.Plan, v View) sheet.Document {
	return sheet.Build(p, sheet.Options{Units: v.Units, Proving: v.Proving, Arranging: v.Arranging})
}

// relayText is the hand-written three-wire circuit of trade/circuit.
func relayText(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../trade/circuit/testdata/circuits/three-wire-relay.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// relayOptions serve the three-wire circuit with its real readings.
func relayOptions(t testing.TB) (*memoryStore, Options) {
	t.Helper()
	store := newMemoryStore(map[string]string{"lathe.job.yaml": relayText(t)})
	o := testOptions(store)
	o.Build, o.Prove = realSheet, func(c *circuit.Circuit) prove.Proof { return prove.Proof{Meter: prove.Meter(c)} }
	return store, o
}

func relayServer(t testing.TB) (*memoryStore, *httptest.Server) {
	t.Helper()
	store, o := relayOptions(t)
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return store, started(t, h)
}

// relaySheet is the meter sheet of the three-wire circuit.
func relaySheet(t testing.TB) prove.MeterSheet {
	t.Helper()
	p := plan.Make(job.Read("lathe.job.yaml", []byte(relayText(t))))
	m := prove.Meter(&p.Circuit.Circuit)
	if len(m.Readings) < 8 {
		t.Fatalf("only %d readings", len(m.Readings))
	}
	return m
}

// soundKeys are the keys by which one types what a meter shows on a sound circuit.
func soundKeys(b prove.Band) []string {
	switch {
	case b.Continuity:
		return []string{"beep"}
	case b.Open:
		return []string{"open"}
	}
	ohms, unit := float64(b.Nominal), "ohm"
	if ohms <= 0 || math.IsInf(ohms, 0) {
		ohms = float64(b.Least) * 1.05
	}
	if ohms >= 1000 {
		ohms, unit = ohms/1000, "k"
	}
	var keys []string
	for _, c := range strconv.FormatFloat(ohms, 'f', 2, 64) {
		keys = append(keys, string(c))
	}
	return append(keys, unit)
}

// wrongKey is the key for what a meter can't show there on a sound circuit.
func wrongKey(b prove.Band) string {
	if b.Continuity {
		return "open"
	}
	return "beep"
}

// tapped presses keys of the page with a finger.
func (p *tab) tapped(keys ...string) {
	p.Helper()
	for _, key := range keys {
		p.run(fmt.Sprintf(`const k = document.querySelector('#hand [data-key=%q]'); if (!k.checkVisibility()) throw new Error("no such key in sight: %s"); k.click()`, key, key))
	}
}

// deed presses the button in sight that does it.
func (p *tab) deed(what string) {
	p.Helper()
	p.run(fmt.Sprintf(`const b = [...document.querySelectorAll('[data-do=%q]')].find(b => b.checkVisibility()); if (!b) throw new Error("no such button in sight: %s"); b.click()`, what, what))
}

const (
	cardInSight = `[...document.querySelectorAll("[data-card]")].find(c => c.checkVisibility())?.dataset.card`
	ruling      = `(document.querySelector("#verdict:not([hidden]) .ruling")?.className ?? "")`
	shownNow    = `document.getElementById("shown").textContent`
)

// reading goes to the reading by the list of all.
func (p *tab) reading(id string) {
	p.Helper()
	if evaluate[string](p, cardInSight) != "end" {
		p.run(`document.getElementById("list").click()`)
	}
	p.run(fmt.Sprintf(`document.querySelector('#all [data-go=%q]').click()`, id))
	if got := evaluate[string](p, cardInSight); got != id {
		p.Fatalf("got to %q, want %q", got, id)
	}
}

func (m *memoryStore) recorded(name string) []string {
	text, err := m.Records(name)
	if err != nil {
		return nil
	}
	return strings.FieldsFunc(string(text), func(c rune) bool { return c == '\n' })
}

func readingsAddress(s *httptest.Server) string { return jobAddress(s) + "/readings" }

// round opens the page and begins.
func round(t testing.TB, l look, s *httptest.Server) *tab {
	t.Helper()
	p := window(t, l, readingsAddress(s))
	p.wait("the readings to be chosen", `document.getElementById("begin")?.checkVisibility() && document.body.dataset.ready`)
	p.deed("begin")
	return p
}

// The whole round with one thumb: who and with what once, then each reading by its keys, judged at once, to the last.
func TestPageTheWholeRoundOfReadings(t *testing.T) {
	store, s := relayServer(t)
	m := relaySheet(t)
	p := window(t, hand, readingsAddress(s))
	p.wait("the readings to be chosen", `document.getElementById("begin")?.checkVisibility() && document.body.dataset.ready`)
	p.shot("round-begin", false)
	p.run(`document.getElementById("by").value = "AB"; document.getElementById("meter").value = "pocket | meter"`)
	p.deed("begin")
	for n, r := range m.Readings {
		if got := evaluate[string](p, cardInSight); got != r.ID {
			t.Fatalf("reading %d is %q, want %q", n+1, got, r.ID)
		}
		p.tapped(soundKeys(r.Expect)...)
		p.tapped("done")
		p.wait("reading "+r.ID+" to be judged", ruling+` === "ruling right"`)
		if n == 1 {
			p.shot("round-right", false)
		}
		p.deed("next")
	}
	if got := p.text("#end-text"); !strings.Contains(got, fmt.Sprintf("All %d are taken", len(m.Readings))) || !strings.Contains(got, "as expected") {
		t.Errorf("at the end the page says %q", got)
	}
	p.shot("round-end", false)
	lines := store.recorded("lathe.job.yaml")
	if len(lines) != len(m.Readings) {
		t.Fatalf("%d lines were written down, want %d", len(lines), len(m.Readings))
	}
	taken, problems := prove.ReadRecords("lathe.readings", []byte(strings.Join(lines, "\n")+"\n"))
	if len(problems) > 0 || len(taken) != len(lines) {
		t.Fatalf("%d of %d lines can be read: %v", len(taken), len(lines), problems)
	}
	for n, r := range taken {
		if r.Reading != m.Readings[n].ID || r.By != "AB" || r.Meter != "pocket | meter" || !takenAt.MatchString(r.At) {
			t.Errorf("line %d: %+v", n+1, r)
		}
	}
	// The sheet shows them.
	p.visit(jobAddress(s))
	p.wait("the sheet to show what was taken", fmt.Sprintf(`[%q, %q, "AB"].every(t => document.getElementById("s-readings-taken")?.textContent.includes(t))`, m.Readings[0].ID, m.Readings[len(m.Readings)-1].ID))
}

// A wrong reading says so, names what it may be, and offers what would tell; mended and measured again it is right.
func TestPageAWrongReading(t *testing.T) {
	store, s := relayServer(t)
	m := relaySheet(t)
	p := round(t, hand, s)
	// Where a reading proves wires whole, an open one has suspects.
	n := 0
	for ; n < len(m.Readings) && !m.Readings[n].Expect.Continuity; n++ {
	}
	r := m.Readings[n]
	p.reading(r.ID)
	p.tapped(wrongKey(r.Expect), "done")
	p.wait("it to be judged", ruling+` === "ruling wrong"`)
	p.shot("round-wrong", false)
	if got := p.text("#verdict"); !strings.Contains(got, "expected a beep") || !strings.Contains(got, "%") {
		t.Errorf("the page says %q", got)
	}
	if got := evaluate[float64](p, `document.querySelectorAll("#verdict .suspects li").length`); got < 1 || got > 3 {
		t.Errorf("%v suspects are named", got)
	}
	if evaluate[bool](p, `[...document.querySelectorAll("#verdict [data-do=best]")].some(b => b.checkVisibility())`) {
		p.deed("best")
		next := evaluate[string](p, cardInSight)
		if next == r.ID || next == "" {
			t.Fatalf("the next best is %q", next)
		}
		p.shot("round-next-best", false)
		p.tapped("open", "done")
		p.wait("the next best to be judged", ruling+` !== "" && !`+ruling+`.includes("kept")`)
		p.shot("round-next-best-taken", false)
	} else {
		t.Error("no next reading is offered")
	}
	p.reading(r.ID)
	p.deed("again")
	p.tapped("1", "delete", "beep", "done")
	p.wait("it to be right now", ruling+` === "ruling right"`)
	var latest string
	for _, line := range store.recorded("lathe.job.yaml") {
		if strings.HasPrefix(line, r.ID) {
			latest = line
		}
	}
	if !strings.Contains(latest, "beep") || len(store.recorded("lathe.job.yaml")) != 3 {
		t.Errorf("written down: %q", store.recorded("lathe.job.yaml"))
	}
}

// What the keys make of what is pressed.
func TestPageKeysOfTheMeter(t *testing.T) {
	_, s := relayServer(t)
	p := round(t, hand, s)
	for _, row := range []struct {
		keys []string
		want string
	}{
		{[]string{"4", ".", "7", "k"}, "4.7 kΩ"},
		{[]string{"0", "0", "5"}, "5 Ω"},
		{[]string{".", "3", "ohm"}, "0.3 Ω"},
		{[]string{"1", ".", ".", "5", "M"}, "1.5 MΩ"},
		{[]string{"1", "2", "k", "M"}, "12 MΩ"},
		{[]string{"1", "2", "k", "k"}, "12 Ω"},
		{[]string{"open", "4"}, "4 Ω"},
		{[]string{"4", "open"}, "open"},
		{[]string{"4", "7", "k", "delete", "delete"}, "4 Ω"},
		{[]string{"beep", "delete"}, "what the meter shows"},
		{[]string{"1", "2", "3", "4", "5", "6", "7", "8", "9"}, "12345678 Ω"},
	} {
		p.tapped(row.keys...)
		if got := evaluate[string](p, shownNow); got != row.want {
			t.Errorf("%v: got %q, want %q", row.keys, got, row.want)
		}
		p.tapped("open", "delete")
	}
	p.tapped("done")
	if got := p.text("#refusal"); !strings.Contains(got, "Type what the meter shows") {
		t.Errorf("nothing typed, and the page says %q", got)
	}
	// A keyboard does as well.
	p.key("1,2k")
	if got := evaluate[string](p, shownNow); got != "1.2 kΩ" {
		t.Errorf("typed at a keyboard: %q", got)
	}
	p.key("o\r")
	p.wait("the reading to be judged", ruling+` !== ""`)
}

// The expected value shows only when it is asked for.
func TestPageTheExpectedValueIsHidden(t *testing.T) {
	_, s := relayServer(t)
	m := relaySheet(t)
	p := round(t, hand, s)
	for _, r := range m.Readings[:3] {
		p.reading(r.ID)
		expect := shownBand(r.Expect)
		inSight := func() bool { return strings.Contains(evaluate[string](p, `document.body.innerText`), expect) }
		if inSight() {
			t.Errorf("%s shows %q before anything is typed", r.ID, expect)
		}
		p.deed("expected")
		if !inSight() {
			t.Errorf("%s doesn't show %q when it is asked for", r.ID, expect)
		}
		p.deed("expected")
		if inSight() {
			t.Errorf("%s doesn't hide it again", r.ID)
		}
	}
}

// After a reload, as after a locked screen, one is where one was, with what was half typed, and what was skipped is known.
func TestPageReadingsOutlastAReload(t *testing.T) {
	_, s := relayServer(t)
	m := relaySheet(t)
	p := round(t, hand, s)
	p.deed("skip")
	p.deed("skip")
	p.tapped("4", ".", "7", "k")
	p.visit(readingsAddress(s) + "?again")
	if got := evaluate[string](p, cardInSight); got != m.Readings[2].ID {
		t.Errorf("got to %q, want %q", got, m.Readings[2].ID)
	}
	if got := evaluate[string](p, shownNow); got != "4.7 kΩ" {
		t.Errorf("half typed was %q", got)
	}
	p.run(`document.getElementById("list").click()`)
	if got := evaluate[float64](p, `document.querySelectorAll("#all .skipped").length`); got != 2 {
		t.Errorf("%v are known as skipped, want 2", got)
	}
	p.deed("left")
	if got := evaluate[string](p, cardInSight); got != m.Readings[0].ID {
		t.Errorf("the first that is left is %q, want %q", got, m.Readings[0].ID)
	}
	p.tapped(soundKeys(m.Readings[0].Expect)...)
	p.tapped("done")
	p.wait("the reading to be judged", ruling+` === "ruling right"`)
	p.visit(readingsAddress(s) + "?once-more")
	if got := evaluate[string](p, ruling); got != "ruling right" {
		t.Errorf("after a reload the taken reading shows %q", got)
	}
	// A page that knows nothing, on another telephone, learns it from the program.
	other := window(t, hand, readingsAddress(s))
	other.wait("the readings", `document.getElementById("begin")?.checkVisibility()`)
	other.deed("begin")
	if got := evaluate[string](other, cardInSight); got != m.Readings[1].ID {
		t.Errorf("another telephone begins with %q, want %q", got, m.Readings[1].ID)
	}
}

// While the program is away one goes on measuring; when it is back each reading is written down once, also one whose answer got
// lost on the way.
func TestPageReadingsWhileTheProgramIsAway(t *testing.T) {
	store, o := relayOptions(t)
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	var away, loseAnswer atomic.Bool
	var cut atomic.Int32
	s := started(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if away.Load() {
			panic(http.ErrAbortHandler)
		}
		if r.Method == "POST" && loseAnswer.Load() {
			h.ServeHTTP(httptest.NewRecorder(), r)
			cut.Add(1)
			loseAnswer.Store(false)
			panic(http.ErrAbortHandler)
		}
		h.ServeHTTP(w, r)
	}))
	m := relaySheet(t)
	p := round(t, hand, s)
	away.Store(true)
	s.CloseClientConnections()
	for _, r := range m.Readings[:3] {
		p.tapped(soundKeys(r.Expect)...)
		p.tapped("done")
		p.wait("it to be kept", ruling+` === "ruling kept" && document.body.dataset.now === "gone"`)
		if r.ID == m.Readings[1].ID {
			p.shot("round-away", false)
			if got := p.text("#state"); !strings.Contains(got, "2 kept here") {
				t.Errorf("the page says %q", got)
			}
		}
		p.deed("next")
	}
	if got := store.recorded("lathe.job.yaml"); len(got) != 0 {
		t.Fatalf("written down while away: %q", got)
	}
	loseAnswer.Store(true)
	away.Store(false)
	const allSent = `document.body.dataset.now === "here" && document.getElementById("state").textContent === "" && JSON.parse(localStorage.getItem("drivewright readings lathe.job.yaml")).queue.length === 0`
	p.wait("all to be sent", allSent)
	if cut.Load() == 0 {
		t.Fatal("no answer was lost: the test tests nothing")
	}
	lines := store.recorded("lathe.job.yaml")
	if len(lines) != 3 {
		t.Errorf("%d lines are written down, want 3: %q", len(lines), lines)
	}
	for n, r := range m.Readings[:3] {
		if n < len(lines) && !strings.HasPrefix(lines[n], r.ID) {
			t.Errorf("line %d is %q, want %s", n+1, lines[n], r.ID)
		}
	}
	p.deed("back")
	if got := evaluate[string](p, ruling); got != "ruling right" {
		t.Errorf("the last one shows %q", got)
	}
}

// A circuit that is changed meanwhile has other readings: the page takes them up by itself.
func TestPageReadingsOfAChangedCircuit(t *testing.T) {
	store, s := relayServer(t)
	p := round(t, hand, s)
	before := evaluate[string](p, `document.body.dataset.mark`)
	store.editOutside("lathe.job.yaml", func(text string) string {
		return strings.Replace(text, `  - {name: 0b, from: "P1:X2", to: "K1:A2"}`+"\n", "", 1)
	})
	p.wait("the other readings", `document.body.dataset.mark !== "`+before+`" && !("proving" in document.body.dataset) && document.body.dataset.ready`)
	store.editOutside("lathe.job.yaml", func(text string) string { return "# a remark\n" + text })
	p.run(`window.stays = true`)
	p.wait("a moment", `new Promise(done => setTimeout(() => done(true), 400))`)
	if !evaluate[bool](p, `window.stays === true`) {
		t.Error("a remark in the job file makes the page load again")
	}
}

// One hand holds the telephone and its thumb types: every key is at least 9 mm high and wide (on a common telephone 390 px are some
// 65 mm wide, so that is 54 px), on a small one and elsewhere 48 px; all of them are in sight in the lower two thirds, nothing scrolls
// sideways, and where the probes go is in sight above.
func TestTheThumbReachesEveryKey(t *testing.T) {
	_, s := relayServer(t)
	m := relaySheet(t)
	for _, l := range []look{hand, {width: 390, height: 664, touch: true}, {width: 360, height: 640, touch: true}} {
		p := round(t, l, s)
		for _, r := range m.Readings[:6] {
			p.reading(r.ID)
			if wide := evaluate[float64](p, `document.documentElement.scrollWidth`); wide > float64(l.width) {
				t.Errorf("%v: %s is %.0f px wide", l, r.ID, wide)
			}
			if bad := evaluate[string](p, `[...document.querySelectorAll("#hand button, .top button, .top a")].filter(b => b.checkVisibility()).map(b => [b, b.getBoundingClientRect()])
				.filter(([b, r]) => (b.closest("#pad") && innerHeight > 800 && Math.min(r.height, r.width) < 54) || r.height < 47.9 || r.width < 47.9 || r.right > innerWidth || r.bottom > innerHeight || (b.closest("#hand") && r.top < innerHeight / 3)).map(([b, r]) => b.textContent + " " + JSON.stringify(r)).join("\n")`); bad != "" {
				t.Errorf("%v: %s: out of reach or too small:\n%s", l, r.ID, bad)
			}
			if seen := evaluate[bool](p, `document.querySelector("[data-card]:not([hidden]) .place").getBoundingClientRect().bottom < document.getElementById("hand").getBoundingClientRect().top`); !seen {
				t.Errorf("%v: %s: the place isn't in sight", l, r.ID)
			}
			if l == hand {
				if low := evaluate[float64](p, `document.querySelector("[data-card]:not([hidden]) .middle").getBoundingClientRect().bottom - document.getElementById("hand").getBoundingClientRect().top`); low > 0 {
					t.Errorf("%v: %s: %.0f px of where to measure are out of sight", l, r.ID, low)
				}
			}
		}
	}
}

// postReadings sends what the page would.
func postReadings(t *testing.T, s *httptest.Server, body any) (int, readingsState) {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.Post(s.URL+"/job/lathe.job.yaml/readings", "application/json", strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var state readingsState
	if err := json.NewDecoder(answer.Body).Decode(&state); err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, state
}

// line is what a page sends of a sound reading.
func soundLine(r prove.Reading) takenLine {
	value := "open"
	if keys := soundKeys(r.Expect); len(keys) > 1 {
		value = strings.Join(keys[:len(keys)-1], "") + " " + map[string]string{"ohm": "ohm", "k": "kohm"}[keys[len(keys)-1]]
	} else {
		value = keys[0]
	}
	return takenLine{Key: "key " + r.ID, Reading: r.ID, Value: value, At: "2026-11-25 11:30:00"}
}

// What nobody could understand, or what isn't of this circuit, is refused with a reason and not written down; the rest is.
func TestReadingsThatCantBeWrittenDown(t *testing.T) {
	store, s := relayServer(t)
	m := relaySheet(t)
	for range 3 { // the proof may not be there at once: nothing is written then
		if _, state := postReadings(t, s, takenRequest{}); !state.Proving {
			break
		}
		if got := store.recorded("lathe.job.yaml"); len(got) > 0 {
			t.Fatalf("written down before it could be judged: %q", got)
		}
		waitForProof(t, s)
	}
	good := soundLine(m.Readings[0])
	with := func(key string, change func(*takenLine)) takenLine {
		l := good
		l.Key = key
		change(&l)
		return l
	}
	sent := []takenLine{
		with("no number", func(l *takenLine) { l.Value = "about four" }),
		with("nothing", func(l *takenLine) { l.Value = "  " }),
		with("nobody's reading", func(l *takenLine) { l.Reading = "RZZZZZ" }),
		with("no reading", func(l *takenLine) { l.Reading = "" }),
		with("a line's end", func(l *takenLine) { l.Value = "open\nR1 | open" }),
		with("a line's end in a name", func(l *takenLine) { l.By = "AB\nR1 | open" }),
		with("no time", func(l *takenLine) { l.At = "" }),
		with("a time that is none", func(l *takenLine) { l.At = "2026-11-25 11:30 | x" }),
		with("a novel", func(l *takenLine) { l.Meter = strings.Repeat("x", 200) }),
		good,
	}
	status, state := postReadings(t, s, takenRequest{Taken: sent})
	if status != 200 {
		t.Fatalf("got %d", status)
	}
	for _, l := range sent[:len(sent)-1] {
		if state.Refused[l.Key] == "" {
			t.Errorf("%q wasn't refused", l.Key)
		}
	}
	if why := state.Refused[good.Key]; why != "" {
		t.Errorf("the good one was refused: %s", why)
	}
	if got := store.recorded("lathe.job.yaml"); len(got) != 1 || !strings.HasPrefix(got[0], good.Reading+" | ") {
		t.Errorf("written down: %q", got)
	}
	// Once more: it is there already.
	if status, again := postReadings(t, s, takenRequest{Taken: []takenLine{good}}); status != 200 || again.Taken[good.Reading].Verdict != "right" || len(store.recorded("lathe.job.yaml")) != 1 {
		t.Errorf("sent again: %d, %+v, %q", status, again.Taken, store.recorded("lathe.job.yaml"))
	}
	if got := store.text("lathe.job.yaml"); got != relayText(t) {
		t.Error("the job file was changed")
	}
}

// waitForProof waits until the sheet has its proof.
func waitForProof(t *testing.T, s *httptest.Server) {
	t.Helper()
	answer, err := http.Get(s.URL + "/job/lathe.job.yaml/as/json") // it waits for the proof
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
}

// Tests are made on the same page: a resistance is typed, the others are passed or not, with the caution at the point.
func TestPageTests(t *testing.T) {
	store, s := latheServer(t)
	p := window(t, hand, readingsAddress(s))
	p.wait("the tests", `document.querySelectorAll('[data-kind="test"]').length === 2 && document.body.dataset.ready`)
	p.run(`document.querySelector('[data-view="test"]').click()`)
	p.tapped(".", "0", "5", "done")
	p.wait("the bonding to be right", ruling+` === "ruling right"`)
	p.shot("test-right", false)
	p.deed("next")
	if got := evaluate[bool](p, `document.querySelector("[data-card]:not([hidden]) .caution").checkVisibility()`); !got {
		t.Error("the caution isn't in sight where the hand is about to move")
	}
	p.shot("test-caution", false)
	p.tapped("failed")
	p.wait("the failed test to be wrong", ruling+` === "ruling wrong" && document.getElementById("verdict").textContent.includes("No power")`)
	p.shot("test-failed", false)
	p.deed("again")
	p.tapped("passed")
	p.wait("the test to be passed", ruling+` === "ruling right"`)
	lines := strings.Join(store.recorded("lathe.job.yaml"), "\n")
	for _, want := range []string{"T1 | 0.05 ohm | ", "T2 | failed | ", "T2 | passed | "} {
		if !strings.Contains(lines, want) {
			t.Errorf("%q isn't among what was written down:\n%s", want, lines)
		}
	}
}

// Of a reading that was taken again the later counts, whoever wrote it down.
func TestTheLaterReadingCounts(t *testing.T) {
	store, s := relayServer(t)
	m := relaySheet(t)
	waitForProof(t, s)
	good := soundLine(m.Readings[0])
	bad := good
	bad.Value, bad.At = wrongKey(m.Readings[0].Expect), "2026-11-25 11:00:00"
	if _, state := postReadings(t, s, takenRequest{Taken: []takenLine{bad}}); state.Taken[bad.Reading].Verdict != "wrong" || len(state.Suspects) == 0 {
		t.Errorf("the wrong one is %+v, suspects %v", state.Taken[bad.Reading], state.Suspects)
	}
	_, state := postReadings(t, s, takenRequest{Taken: []takenLine{good}})
	if state.Taken[good.Reading].Verdict != "right" || len(state.Suspects) > 0 {
		t.Errorf("mended, it is %+v, suspects %v", state.Taken[good.Reading], state.Suspects)
	}
	// A line by hand, and one that nobody can read.
	if _, err := store.Record("lathe.job.yaml", bad.Reading+" | "+bad.Value); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{bad.Reading + " | fie", "this is no reading"} {
		if _, err := store.Record("lathe.job.yaml", line); err != nil {
			t.Fatal(err)
		}
	}
	if _, state := postReadings(t, s, takenRequest{}); state.Taken[bad.Reading].Verdict != "wrong" {
		t.Errorf("written by hand, it is %+v", state.Taken[bad.Reading])
	}
	_, p := newClient(t, s).get()
	if page := fmt.Sprint(p.Parts); !strings.Contains(page, "reading-unreadable") || !strings.Contains(page, "lathe.readings:5:") {
		t.Error("the sheet doesn't report the line that can't be read")
	}
}
