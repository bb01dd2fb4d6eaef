package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// relay is a circuit that a change of one value makes another.
const relay = `drivewright: 1
rules: us
controls:
  circuit: by hand only
drive control:
  start logic: two-wire
devices:
  - {tag: G1, kind: power supply, voltage: 24 V}
  - {tag: S1, kind: push button, does: stop, at: door}
  - {tag: S2, kind: push button, does: start, at: door}
  - {tag: K1, kind: relay, does: holds the run, contacts: 11-14 open}
  - {tag: T1, kind: drive}
wires:
  - {name: 1, from: "G1:+", to: "S1:11"}
  - {name: 2a, from: "S1:12", to: "S2:13"}
  - {name: 2b, from: "S2:13", to: "K1:11"}
  - {name: 3a, from: "S2:14", to: "K1:A1"}
  - {name: 3b, from: "K1:14", to: "K1:A1"}
  - {name: 0, from: "K1:A2", to: "G1:-"}
`

// slowProver proves circuits one at a time, each when it is let.
type slowProver struct {
	begun  chan struct{} // one is sent as each begins
	let    chan struct{}
	mu     sync.Mutex
	proved []string
}

func (s *slowProver) prove(c *circuit.Circuit) prove.Proof {
	s.begun <- struct{}{}
	<-s.let
	s.mu.Lock()
	defer s.mu.Unlock()
	s.proved = append(s.proved, proofName(c))
	return testProof(c)
}

// slowServer serves the relay's job with proofs that come when they are let.
func slowServer(t testing.TB) (*memoryStore, *httptest.Server, *slowProver) {
	t.Helper()
	prover := &slowProver{begun: make(chan struct{}, 100), let: make(chan struct{})}
	store := newMemoryStore(map[string]string{"lathe.job.yaml": relay})
	o := testOptions(store)
	o.Prove = prover.prove
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return store, started(t, h), prover
}

// proofShown returns what the painting's Prove stage says; the client must not have had it before.
func proofShown(t testing.TB, p painting) string {
	t.Helper()
	for _, part := range p.Parts {
		if part.ID == "s-broken-on-purpose" {
			_, after, _ := strings.Cut(string(part.HTML), "<p>")
			text, _, _ := strings.Cut(after, "</p>")
			return text
		}
	}
	return ""
}

// expected is the proof of the job file as it is.
func expected(text string) string {
	p := plan.Make(job.Read("lathe.job.yaml", []byte(text)))
	return proofName(&p.Circuit.Circuit)
}

func TestTheProofComesLaterAndIsOfItsCircuit(t *testing.T) {
	store, s, prover := slowServer(t)
	fresh := func() painting {
		_, p := newClient(t, s).get()
		return p
	}
	waitFor := func(want string) {
		t.Helper()
		for end := time.Now().Add(5 * time.Second); ; time.Sleep(2 * time.Millisecond) {
			p := fresh()
			if got := proofShown(t, p); !p.Proving && got == want {
				return
			} else if got != "" && got != want {
				t.Fatalf("the sheet shows %q, want %q", got, want)
			}
			if time.Now().After(end) {
				t.Fatalf("the proof %q never came", want)
			}
		}
	}
	if p := fresh(); !p.Proving || proofShown(t, p) != "" {
		t.Fatalf("a proof is shown before there is one: %q", proofShown(t, p))
	}
	prover.let <- struct{}{}
	<-prover.begun
	first := expected(relay)
	waitFor(first)

	c := newClient(t, s)
	if status, p, _ := c.set("machine.name", "Another name"); status != 200 || p.Proving {
		t.Errorf("a name changes the circuit: %d", status)
	}
	start := time.Now()
	status, p, _ := c.set("drive control.start logic", "three-wire")
	if took := time.Since(start); status != 200 || !p.Proving || took > 2*time.Second {
		t.Errorf("the change waits for the proof: %d, proving %v, after %v", status, p.Proving, took)
	}
	if got := proofShown(t, fresh()); got != "" {
		t.Errorf("the changed circuit has the proof %q", got)
	}
	<-prover.begun
	// Changed twice more before the proof is done: what was between isn't worked out at all.
	c.set("wires[5].to", "G1:L")
	c.set("wires[5].to", "G1:N")
	prover.let <- struct{}{}
	prover.let <- struct{}{}
	waitFor(expected(store.text("lathe.job.yaml")))
	prover.mu.Lock()
	if n := len(prover.proved); n != 3 {
		t.Errorf("%d proofs were worked out, want 3: %q", n, prover.proved)
	}
	prover.mu.Unlock()
	// Back to what has its proof already.
	c.set("wires[5].to", "G1:-")
	if status, p, _ := c.set("drive control.start logic", "two-wire"); status != 200 || p.Proving {
		t.Errorf("a proof that was there is worked out again")
	}
	if got := proofShown(t, fresh()); got != first {
		t.Errorf("got %q, want %q", got, first)
	}
	close(prover.let)
}

// Whatever is changed in whatever order, a sheet never shows another circuit's proof.
func TestNoProofStandsBesideAnotherCircuit(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": relay})
	o := testOptions(store)
	o.Prove = func(c *circuit.Circuit) prove.Proof {
		time.Sleep(time.Duration(len(c.Wires)) * time.Millisecond)
		return testProof(c)
	}
	shown := 0
	var mu sync.Mutex
	o.Build = func(p plan.Plan, v View) sheet.Document {
		if p.Proof != nil {
			mu.Lock()
			shown++
			mu.Unlock()
			if got, want := p.Proof.Report.Faults[0].Name, proofName(&p.Circuit.Circuit); got != want {
				t.Errorf("the circuit of %q is shown with %q", want, got)
			}
		}
		if v.Proving == (p.Proof != nil) {
			t.Errorf("proving %v, and there is a proof: %v", v.Proving, p.Proof != nil)
		}
		return testSheet(p, v)
	}
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	s := started(t, h)
	var all sync.WaitGroup
	for who := range 3 {
		all.Go(func() {
			c := newClient(t, s)
			for n := range 30 {
				logic := []string{"two-wire", "three-wire"}[(n+who)%2]
				c.ask("PUT", "value", request{Path: "drive control.start logic", Text: logic, Over: true})
				if n%5 == who {
					store.editOutside("lathe.job.yaml", func(text string) string {
						return text + fmt.Sprintf("  - {name: %d%c, from: \"G1:+\", to: \"S1:11\"}\n", n, 'a'+who)
					})
				}
				_, p := c.get()
				c.see(p)
				if n%10 == 9 { // long enough for a proof to be begun
					time.Sleep(settled + 150*time.Millisecond)
				}
			}
		})
	}
	all.Wait()
	last := newClient(t, s)
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if _, p := last.get(); !p.Proving {
			break
		}
		if time.Now().After(end) {
			t.Fatal("when all is quiet there is still no proof")
		}
	}
	mu.Lock()
	defer mu.Unlock()
	if shown == 0 {
		t.Error("no sheet had a proof at all")
	}
}

// What is taken along has its proof: it waits for it.
func TestADownloadWaitsForTheProof(t *testing.T) {
	_, s, prover := slowServer(t)
	go func() { prover.let <- struct{}{} }()
	answer, err := http.Get(s.URL + "/job/lathe.job.yaml/as/json")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var d struct {
		Title  string `json:"title"`
		Proved bool   `json:"proved"`
	}
	if err := json.NewDecoder(answer.Body).Decode(&d); err != nil || !d.Proved {
		t.Errorf("got %+v, %v", d, err)
	}
}

// The page shows the old proof as old while the new one is worked out, and the new one when it is there; typing goes on meanwhile.
func TestPageAnOldProofIsMarkedUntilTheNewOneIsThere(t *testing.T) {
	_, s, prover := slowServer(t)
	p := window(t, desk, jobAddress(s))
	if got := p.text("#s-prove"); !strings.Contains(got, "being worked out") {
		t.Errorf("before any proof the sheet says %q", got)
	}
	const proof = `document.querySelector("#s-broken-on-purpose p")?.textContent`
	prover.let <- struct{}{}
	p.wait("the first proof", proof+` === "proof of 6 wires, three-wire false" && !document.querySelector(".behind")`)
	set := func(logic string) {
		p.run(`const c = document.querySelector('[data-path="drive control.start logic"]'); c.value = "` + logic + `"; c.dispatchEvent(new Event("change", { bubbles: true }))`)
	}
	set("three-wire")
	p.wait("the old proof to be marked", `document.querySelector("#s-prove > .behind") && document.querySelectorAll("#s-broken-on-purpose[aria-busy=true]").length === 1`)
	if got := evaluate[string](p, proof); got != "proof of 6 wires, three-wire false" {
		t.Errorf("in between stands %q", got)
	}
	p.write("machine.name", "Typed meanwhile")
	p.key("\r")
	p.wait("what is typed meanwhile", `document.title === "Typed meanwhile"`)
	if !evaluate[bool](p, `document.querySelectorAll(".behind").length === 1`) {
		t.Error("the mark is gone or stands twice after another change")
	}
	prover.let <- struct{}{}
	const clean = `!document.querySelector(".behind") && !document.querySelector("[aria-busy]")`
	p.wait("the new proof", proof+` === "proof of 6 wires, three-wire true" && `+clean)
	set("two-wire") // its proof is there already
	p.wait("the first proof again", proof+` === "proof of 6 wires, three-wire false" && `+clean)
	close(prover.let)
}
