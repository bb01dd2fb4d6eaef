package web

import (
	"os"
	"strings"
	"testing"
	"time"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// slowArranger arranges one brief at a time: it shows a first arrangement when it is let, and ends when it is let or stopped.
type slowArranger struct {
	first chan struct{}
	end   chan struct{}
	begun chan string // the mark of each brief as it begins
}

func (a *slowArranger) arrange(b box.Brief, o box.Options) box.Result {
	a.begun <- plan.BoxMark(&b)
	quick := box.Arrange(b, box.Options{Quick: true})
	until := func(c chan struct{}) {
		for !o.Stop() {
			select {
			case <-c:
				return
			case <-time.After(time.Millisecond):
			}
		}
	}
	until(a.first)
	if o.Stop() {
		return quick
	}
	o.Watch(quick)
	until(a.end)
	return quick
}

// arranging serves the lathe with arrangements that come when they are let.
func arranging(t *testing.T) (store *memoryStore, c *client, a *slowArranger, name string) {
	t.Helper()
	text, err := os.ReadFile("../../examples/engine-lathe.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	store = newMemoryStore(map[string]string{"lathe.job.yaml": string(text)})
	a = &slowArranger{make(chan struct{}), make(chan struct{}), make(chan string, 20)}
	o := testOptions(store)
	o.Build, o.Arrange = realSheet, a.arrange
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return store, newClient(t, started(t, h)), a, "lathe.job.yaml"
}

// boxIs asks for the sheet until the arrangement stands as wanted.
func boxIs(t *testing.T, c *client, what string, want func(boxWork) bool) painting {
	t.Helper()
	for end := time.Now().Add(5 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		_, p := c.get()
		if want(p.Box) {
			return p
		}
		if time.Now().After(end) {
			t.Fatalf("waited in vain for %s; it is %+v", what, p.Box)
		}
	}
}

func TestTheArrangementComesBesideAndStops(t *testing.T) {
	_, c, a, _ := arranging(t)
	boxIs(t, c, "the search to begin", func(w boxWork) bool { return w.Arranging && !w.Found })
	first := <-a.begun
	a.first <- struct{}{}
	p := boxIs(t, c, "a first arrangement", func(w boxWork) bool { return w.Arranging && w.Found })
	if !strings.Contains(p.Box.Said, "best arrangement so far, in ") {
		t.Errorf("it says %q", p.Box.Said)
	}
	if status, _, _ := c.ask("POST", "stop-arranging", request{}); status != 200 {
		t.Fatalf("stopping answers %d", status)
	}
	boxIs(t, c, "the stopped one", func(w boxWork) bool { return !w.Arranging && w.Found && w.Stopped })

	// Taken up again it is the same brief, and this time it comes to its end.
	if status, _, _ := c.ask("POST", "arrange-on", request{}); status != 200 {
		t.Fatal("it isn't taken up again")
	}
	if again := <-a.begun; again != first {
		t.Error("another brief is searched than the one that was stopped")
	}
	a.first <- struct{}{}
	a.end <- struct{}{}
	boxIs(t, c, "the whole search", func(w boxWork) bool { return !w.Arranging && w.Found && !w.Stopped })

	// What leaves the parts alone leaves the arrangement alone; what changes them ends the search for the old ones.
	change := func(path, text string) {
		t.Helper()
		status, p, refused := c.set(path, text)
		if status != 200 {
			t.Fatalf("%s: %d %+v", path, status, refused)
		}
		c.see(p)
	}
	change("machine.name", "Lathe at the wall")
	if _, p := c.get(); p.Box.Arranging || !p.Box.Found {
		t.Errorf("another name of the machine has its box arranged anew: %+v", p.Box)
	}
	change("enclosure.most height", "20 in")
	second := <-a.begun
	if second == first {
		t.Error("the search for less room is the one before")
	}
	change("enclosure.most height", "24 in") // nobody lets the second go on: it is stopped
	if third := <-a.begun; third == second {
		t.Error("the search goes on for a box that has been changed again")
	}
	a.first <- struct{}{}
	a.end <- struct{}{}
	boxIs(t, c, "the last one", func(w boxWork) bool { return !w.Arranging && w.Found })
}

// The mark is of what is to be arranged, wherever it stands in the file.
func TestBoxMark(t *testing.T) {
	text, err := os.ReadFile("../../examples/engine-lathe.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	mark := func(text string) string {
		p := plan.Make(job.Read("lathe.job.yaml", []byte(text)))
		b := p.Boxed()
		return plan.BoxMark(&b)
	}
	as := mark(string(text))
	if mark("# a remark\n\n"+string(text)) != as {
		t.Error("a remark changes the mark")
	}
	if mark(string(text)+"\nparts:\n  - tag: ASD1\n    x: 1 in\n    y: 1 in\n") == as {
		t.Error("a settled place leaves the mark as it is")
	}
	if mark(string(text)+"\nparts:\n  - tag: ASD1\n    width: 5 in\n") == as {
		t.Error("another width leaves the mark as it is")
	}
}

// The page shows how the search stands, stops it, takes it up again, and marks what is of the parts before.
func TestThePageShowsTheSearch(t *testing.T) {
	_, c, a, _ := arranging(t)
	p := window(t, desk, c.server.URL+"/job/lathe.job.yaml")
	<-a.begun
	p.wait("the search to be told of", `document.querySelector("#box-work p").textContent === "The parts are being arranged."`)
	a.first <- struct{}{}
	p.wait("the first arrangement", `document.getElementById("s-where-everything-stands") && document.querySelector("#box-work p").textContent.includes("best arrangement so far") && document.getElementById("box-work").previousElementSibling.id === "s-box"`)
	p.run(`document.getElementById("s-box").scrollIntoView()`)
	p.shot("sheet-arranging", false)
	p.deed("stop-arranging")
	p.wait("it to be stopped", `document.querySelector('#box-work [data-do="arrange-on"]')`)
	p.deed("arrange-on")
	<-a.begun
	a.first <- struct{}{}
	a.end <- struct{}{}
	p.wait("the end", `!document.getElementById("box-work")`)

	p.write("enclosure.most height", "24 in")
	p.key("\r")
	<-a.begun
	p.wait("the old one to be marked", `document.querySelector("#s-where-everything-stands[aria-busy]") && document.getElementById("box-work")`)
	a.first <- struct{}{}
	p.wait("the new one", `document.querySelector("#s-where-everything-stands:not([aria-busy])") && document.querySelector("#box-work p").textContent.includes("so far")`)
	a.end <- struct{}{}
	p.wait("the end", `!document.getElementById("box-work") && !document.querySelector("[aria-busy]")`)
	if evaluate[string](p, `document.querySelector('#s-box .measure a').getAttribute("href")`) != "/job/lathe.job.yaml/box" {
		t.Error("no way leads to the box's page")
	}
}
