package web

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
)

// boxServer serves an example job with its real arrangement, the first that is found.
func boxServer(t testing.TB, example string) (store *memoryStore, s *httptest.Server, name string) {
	t.Helper()
	name = example + ".job.yaml"
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	store = newMemoryStore(map[string]string{name: string(text)})
	o := testOptions(store)
	o.Build = realSheet
	o.Arrange = func(b box.Brief, o box.Options) box.Result {
		o.Quick = true
		return box.Arrange(b, o)
	}
	h, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return store, started(t, h), name
}

// boxOf asks for the state of the box until it is arranged.
func boxAt(t testing.TB, address string) boxState {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		answer, err := http.Get(address + "/box/now")
		if err != nil {
			t.Fatal(err)
		}
		var state boxState
		err = json.NewDecoder(answer.Body).Decode(&state)
		answer.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		if len(state.Parts) > 0 && !state.Work.Arranging {
			return state
		}
		if time.Now().After(end) {
			t.Fatalf("never arranged: %+v", state)
		}
	}
}

// boxPost sends a request about the box and returns its state.
func boxPost(t testing.TB, address string, body any) (state boxState, status int) {
	t.Helper()
	sent, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.Post(address, "application/json", strings.NewReader(string(sent)))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	all, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(all, &state); err != nil {
		t.Fatalf("%s: %v", all, err)
	}
	return state, answer.StatusCode
}

func (s *boxState) part(t testing.TB, tag string) boxPart {
	t.Helper()
	for _, p := range s.Parts {
		if p.Tag == tag {
			return p
		}
	}
	t.Fatalf("there is no %s", tag)
	return boxPart{}
}

// corner is the place of a part on the plate.
func (s *boxState) corner(p boxPart) (x, y float64) {
	return p.At[0] - s.Plate.At[0], p.At[1] - s.Plate.At[1]
}

// shots are taken of a real box in every look.
func TestBoxPagePaints(t *testing.T) {
	_, s, name := boxServer(t, "tool-grinder")
	boxAt(t, s.URL+"/job/"+name)
	for _, l := range looks {
		t.Run(l.String(), func(t *testing.T) {
			p := window(t, l, s.URL+"/job/"+name+"/box")
			p.wait("the picture", `document.body.space?.painted`)
			p.shot("box-space-"+l.String(), false)
			p.run(`const d = document.getElementById("door"); d.value = 70; d.dispatchEvent(new Event("input", { bubbles: true })); const s = document.getElementById("pick"); s.value = "ASD1"; s.dispatchEvent(new Event("change", { bubbles: true }))`)
			p.do(chromedp.Sleep(200 * time.Millisecond))
			p.shot("box-open-"+l.String(), false)
			p.run(`document.querySelector('[data-view="plate"]').click()`)
			p.shot("box-plate-"+l.String(), false)
			p.run(`document.querySelector('[data-view="door"]').click()`)
			p.shot("box-door-"+l.String(), false)
			if wide := evaluate[float64](p, `document.documentElement.scrollWidth`); wide > float64(l.width) {
				t.Errorf("the page is %.0f px wide", wide)
			}
		})
	}
}

// A part is dragged with the mouse into another: both say so while it is held; it is put where it has its air, settled, taken back.
func TestDraggingAPart(t *testing.T) {
	store, s, name := boxServer(t, "tool-grinder")
	address := s.URL + "/job/" + name
	state := boxAt(t, address)
	before, _, err := store.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	p := window(t, desk, address+"/box")
	p.run(`document.querySelector('[data-view="plate"]').click()`)
	const disc = `document.querySelector('#flat [data-tag="DISC1"] .body').getBoundingClientRect()`
	x, y := evaluate[float64](p, disc+".x+"+disc+".width/2"), evaluate[float64](p, disc+".y+"+disc+".height/2")
	to := `document.querySelector('#flat [data-tag="CON1"] .body').getBoundingClientRect()`
	tox, toy := evaluate[float64](p, to+".x+"+to+".width/2"), evaluate[float64](p, to+".y+"+to+".height/2")
	p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	for n := range 20 {
		f := float64(n+1) / 20
		p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x+(tox-x)*f, y+(toy-y)*f, chromedp.ButtonLeft))
	}
	p.wait("both to say that they are in one place", `document.querySelector("#part .clashes")?.textContent.includes("DISC1") && document.querySelector('#flat [data-tag="CON1"]').classList.contains("clash")`)
	t.Logf("frames were checked in %s ms, there and back", evaluate[string](p, `(async () => {
		const took = [], body = JSON.stringify({ mark: JSON.parse(document.body.dataset.state).mark, units: "", places: [{ tag: "DISC1", x: 20, y: 30, turned: false }] });
		for (let n = 0; n < 40; n++) { const began = performance.now(); await (await fetch(location.pathname + "/try", { method: "POST", headers: { "Content-Type": "application/json" }, body })).json(); took.push(performance.now() - began); }
		took.sort((a, b) => a - b);
		return took[20].toFixed(1) + " (the middle one), " + took[36].toFixed(1) + " (nine in ten)";
	})()`))
	p.shot("box-clash", false)
	up := -260.0 // px, to the free room of the plate
	p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y+up, chromedp.ButtonLeft), chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y+up, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	p.wait("it to have its air", `document.querySelector("#part .clear") && !document.querySelector("#flat .clash")`)
	p.shot("box-moved", false)
	if text, _, _ := store.Load(name); string(text) != string(before) {
		t.Error("a drag alone writes into the file")
	}
	p.deed("settle")
	p.wait("the undo", `!document.querySelector('[data-do="undo"]').disabled`)
	text, _, _ := store.Load(name)
	j := job.Read(name, text).Job
	part := j.Parts[len(j.Parts)-1]
	if part.Tag.Value != "DISC1" || !part.X.Set || !part.Y.Set {
		t.Fatalf("the file doesn't say where it stands:\n%s", text[max(0, len(text)-300):])
	}
	for _, line := range strings.Split(string(before), "\n") {
		if strings.Contains(line, "#") && !strings.Contains(string(text), line) {
			t.Errorf("the remark is gone: %s", line)
		}
	}
	after := boxAt(t, address)
	ax, ay := after.corner(after.part(t, "DISC1"))
	if math.Abs(ax-mm(part.X.Value)) > 0.11 || math.Abs(ay-mm(part.Y.Value)) > 0.11 || !after.part(t, "DISC1").Settled {
		t.Errorf("DISC1 stands at %.1f, %.1f and the file says %v, %v", ax, ay, mm(part.X.Value), mm(part.Y.Value))
	}
	p.wait("the rest to be arranged around it", `!document.body.classList.contains("waiting")`)
	p.shot("box-settled", false)
	p.deed("undo")
	p.wait("it to be taken back", `!document.querySelector('[data-do="redo"]').disabled`)
	if text, _, _ := store.Load(name); string(text) != string(before) {
		t.Error("undo doesn't bring back the text")
	}
	if again := boxAt(t, address); again.part(t, "DISC1").At != state.part(t, "DISC1").At {
		t.Error("the same job gives another arrangement")
	}
}

// A part that is held somewhere is checked against all others within a frame of the screen, 16 ms.
func BenchmarkBoxTry(b *testing.B) {
	_, s, name := boxServer(b, "tool-grinder")
	address := s.URL + "/job/" + name
	state := boxAt(b, address)
	body := map[string]any{"mark": state.Mark, "places": []handPlace{{Tag: "DISC1", X: 20, Y: 30}}}
	for b.Loop() {
		if got, status := boxPost(b, address+"/box/try", body); status != http.StatusOK || got.part(b, "DISC1").Clashes == nil {
			b.Fatal("the drive isn't struck")
		}
	}
}

// A finger does on a phone's screen what the mouse does at a desk; the arrow keys do it too, in round figures.
func TestMovingByFingerAndKeys(t *testing.T) {
	_, s, name := boxServer(t, "engine-lathe")
	address := s.URL + "/job/" + name
	boxAt(t, address)
	p := window(t, hand, address+"/box")
	p.run(`document.querySelector('[data-view="plate"]').click()`)
	const disc = `document.querySelector('#flat [data-tag="DISC1"] .body').getBoundingClientRect()`
	x, y := evaluate[float64](p, disc+".x+"+disc+".width/2"), evaluate[float64](p, disc+".y+"+disc+".height/2")
	touch := func(kind input.DispatchTouchEventType, at ...*input.TouchPoint) {
		t.Helper()
		p.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: at})
			return err
		}))
	}
	touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	for n := range 12 {
		touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 4*float64(n+1), Y: y})
	}
	touch(input.DispatchTouchEventTypeTouchEnd)
	p.shot("box-finger", false)
	p.wait("the part to have followed", fmt.Sprintf(`Math.abs(%s.x+%s.width/2 - %f) < 8 && !document.querySelector('[data-do="settle"]').hidden`, disc, disc, x+48))
	p.shot("box-finger", false)
	p.deed("back")
	p.wait("it to be put back", fmt.Sprintf(`Math.abs(%s.x+%s.width/2 - %f) < 2`, disc, disc, x))
	p.run(`document.querySelector('#flat [data-tag="DISC1"]').focus()`)
	p.key(kb.ArrowRight)
	p.key(kb.ArrowRight)
	p.wait("the keys to have moved it", `document.querySelector("#part dd").textContent.startsWith(""+Math.round(parseFloat(document.querySelector("#part dd").textContent)*16)/16) && document.activeElement.dataset.tag === "DISC1" && !document.querySelector('[data-do="settle"]').hidden`)
}

// The box is turned by hand and by keys, parts are chosen in it, and its pictures hold to the rules of access like the others.
func TestTheBoxInSpace(t *testing.T) {
	axe := axeScript(t)
	_, s, name := boxServer(t, "engine-lathe")
	address := s.URL + "/job/" + name
	boxAt(t, address)
	for _, l := range []look{desk, handNight} {
		p := window(t, l, address+"/box")
		p.wait("the picture", `document.body.space?.painted`)
		const span = `[...document.querySelectorAll("#tags span")].find((s) => s.textContent === "ASD1").getBoundingClientRect()`
		x, y := evaluate[float64](p, span+".x"), evaluate[float64](p, span+".y")
		p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
			chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		p.wait("the drive to be chosen", `document.getElementById("pick").value === "ASD1" && document.querySelector("#part dd").textContent.includes("from the left")`)
		was := evaluate[string](p, `document.body.space.looks.join()`)
		p.run(`document.getElementById("space").focus()`)
		p.key(kb.ArrowLeft)
		p.wait("it to be turned", fmt.Sprintf("document.body.space.looks.join() !== %q", was))
		judge := p.judgedBy(axe)
		judge("the box in space", "document")
		p.run(`document.querySelector('[data-view="plate"]').click()`)
		judge("the plate", "document")
		p.visit(address + "/photo")
		judge("the photo's page", "document")
		p.shot("photo-empty-"+l.String(), false)
		if wide := evaluate[float64](p, `document.documentElement.scrollWidth`); wide > float64(l.width) {
			t.Errorf("the page is %.0f px wide", wide)
		}
	}
}

// Where a browser has no WebGL the sheet's drawings stand in.
func TestWithoutWebGL(t *testing.T) {
	_, s, name := boxServer(t, "engine-lathe")
	address := s.URL + "/job/" + name
	boxAt(t, address)
	p := window(t, desk, s.URL+"/")
	p.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: `const get = HTMLCanvasElement.prototype.getContext; HTMLCanvasElement.prototype.getContext = function (kind, ...more) { return kind.startsWith("webgl") ? null : get.call(this, kind, ...more); }`})
		return err
	}))
	p.visit(address + "/box")
	if evaluate[string](p, `document.body.dataset.space`) != "no" || evaluate[float64](p, `document.querySelectorAll("#drawings svg").length`) < 3 || !evaluate[bool](p, `document.querySelector("#drawings svg").checkVisibility()`) {
		t.Error("no drawings stand in")
	}
	p.shot("box-without-webgl", false)
}

// A place is written, changed and freed without touching what else the file says of the part.
func TestSettlingInTheFile(t *testing.T) {
	const text = "drivewright: 1\nunits: metric\n\nparts:\n  - tag: ASD1          # by its data sheet\n    width: 140 mm\n"
	file := job.Read("a.job.yaml", []byte(text))
	settled, what, err := settlePlaces(file, request{Places: []handPlace{{Tag: "ASD1", X: 20.04, Y: 30, Turned: true}, {Tag: "FU1", X: 0, Y: -0.01}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"# by its data sheet", "width: 140 mm", "x: 20 mm", "y: 30 mm", "turned: \"yes\"", "FU1", "y: 0 mm"} {
		if !strings.Contains(strings.ReplaceAll(string(settled), "'", "\""), want) && !strings.Contains(string(settled), strings.ReplaceAll(want, "\"", "")) {
			t.Errorf("%s: %q isn't in\n%s", what, want, settled)
		}
	}
	freed, _, err := freePlace(job.Read("a.job.yaml", settled), request{Item: "ASD1"})
	if err != nil {
		t.Fatal(err)
	}
	if got := string(freed); strings.Contains(got, "20 mm") || !strings.Contains(got, "140 mm") || !strings.Contains(got, "FU1") {
		t.Errorf("freed:\n%s", got)
	}
	inch, _, err := settlePlaces(job.Read("a.job.yaml", []byte("drivewright: 1\nunits: inch\n")), request{Places: []handPlace{{Tag: "U1", X: 25.4 / 16 * 3, Y: 25.4}}})
	if err != nil || !strings.Contains(string(inch), "x: 0.188 in") || !strings.Contains(string(inch), "y: 1 in") {
		t.Errorf("%v\n%s", err, inch)
	}
}

// What is finished around a held part leaves it where it is, and what is settled there afterwards is arranged in the same way.
func TestFinishAround(t *testing.T) {
	store, s, name := boxServer(t, "engine-lathe")
	address := s.URL + "/job/" + name
	state := boxAt(t, address)
	x, y := state.corner(state.part(t, "DISC1"))
	places := []handPlace{{Tag: "DISC1", X: x, Y: y - 6.35}}
	before, token, _ := store.Load(name)
	around, status := boxPost(t, address+"/box/around", map[string]any{"mark": state.Mark, "places": places})
	if status != http.StatusOK || len(around.Parts) == 0 {
		t.Fatalf("%d %+v", status, around)
	}
	if gotX, gotY := around.corner(around.part(t, "DISC1")); math.Abs(gotX-x) > 0.11 || math.Abs(gotY-y+6.35) > 0.11 {
		t.Errorf("DISC1 was moved to %.1f, %.1f", gotX, gotY)
	}
	for _, p := range around.Parts {
		if p.Clashes != nil {
			t.Errorf("%s: %q", p.Tag, p.Clashes)
		}
	}
	if now, _, _ := store.Load(name); string(now) != string(before) {
		t.Error("it is written already")
	}
	if _, status := boxPost(t, address+"/box/settle", map[string]any{"token": token, "places": places}); status != http.StatusOK {
		t.Fatalf("settling answers %d", status)
	}
	settled := boxAt(t, address)
	for _, p := range settled.Parts {
		if was := around.part(t, p.Tag); was.At != p.At {
			t.Errorf("%s stood at %v in what was shown, and stands at %v", p.Tag, was.At, p.At)
		}
	}
	if _, status := boxPost(t, address+"/box/try", map[string]any{"mark": "another", "places": places}); status != http.StatusConflict {
		t.Errorf("a move in another arrangement answers %d", status)
	}
}

// Everything settled as it stands stays as it stands.
func TestSettlingEverything(t *testing.T) {
	for _, example := range []string{"engine-lathe", "tool-grinder"} {
		store, s, name := boxServer(t, example)
		address := s.URL + "/job/" + name
		state := boxAt(t, address)
		var places []handPlace
		for _, p := range state.Parts {
			switch p.Face {
			case "plate":
				x, y := state.corner(p)
				places = append(places, handPlace{p.Tag, x, y, p.Turned})
			case "door":
				places = append(places, handPlace{p.Tag, p.At[0], p.At[1], p.Turned})
			}
		}
		_, token, err := store.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, status := boxPost(t, address+"/box/settle", map[string]any{"token": token, "places": places}); status != http.StatusOK {
			t.Fatalf("%s: settling answers %d", example, status)
		}
		settled := boxAt(t, address)
		if settled.Size != state.Size {
			t.Errorf("%s: the box was %v and is %v", example, state.Size, settled.Size)
		}
		for _, p := range settled.Parts {
			was := state.part(t, p.Tag)
			for axis := range 3 {
				if math.Abs(was.At[axis]-p.At[axis]) > 0.11 {
					t.Errorf("%s: %s stood at %v and stands at %v", example, p.Tag, was.At, p.At)
					break
				}
			}
			if p.Clashes != nil || p.Settled != p.Movable {
				t.Errorf("%s: %s: settled %v, %q", example, p.Tag, p.Settled, p.Clashes)
			}
		}
	}
}

// A place where nothing can be is said to be so; the part stays in sight and can be freed.
func TestSettlingWhereNothingCanBe(t *testing.T) {
	store, s, name := boxServer(t, "engine-lathe")
	address := s.URL + "/job/" + name
	boxAt(t, address)
	p := window(t, desk, address+"/box")
	p.run(`document.querySelector('[data-view="plate"]').click(); document.querySelector('#flat [data-tag="TB1"]').focus()`)
	for range 70 {
		p.key(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift))
	}
	p.wait("it to stick out", `document.querySelector("#part .clashes")?.textContent.includes("sticks out")`)
	p.deed("settle")
	p.wait("the words", `document.getElementById("lead").textContent.includes("sticks out of the plate")`)
	p.shot("box-nowhere", false)
	p.deed("free")
	p.wait("everything to be arranged again", `document.getElementById("lead").textContent.startsWith("Everything goes into") && !document.body.classList.contains("waiting")`)
	if text, _, _ := store.Load(name); strings.Contains(string(text), "x: -") {
		t.Error("the place still stands in the file")
	}
}
