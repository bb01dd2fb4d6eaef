package web

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"drivewright/internal/input/job"
	"drivewright/internal/trade/metalwork"
)

// camera looks from above at a face on which a letter sheet lies, leaning a little: a pinhole, worked out here from its definition.
func camera(x, y float64) (right, down float64) {
	const lean, away, focus = 0.25, 600.0, 2600.0 // radians, millimetres, dots
	cx, cy := x-110, y-140                        // the middle of the picture is over the sheet's middle
	up, depth := cy*math.Cos(lean), away+cy*math.Sin(lean)
	return 1600 + focus*cx/depth, 1200 - focus*up/depth
}

// A photo that a camera of known place makes is tapped with the mouse: the holes come out where they were. The picture isn't sent.
func TestHolesInAPhoto(t *testing.T) {
	store := newMemoryStore(map[string]string{"lathe.job.yaml": lathe})
	s := serve(t, store)
	p := window(t, desk, jobAddress(s)+"/photo")
	holes := map[string][2]float64{"A": {250, 60}, "B": {250, 180}, "C": {-40, 100}}
	corners := [4][2]float64{{0, 0}, {215.9, 0}, {215.9, 279.4}, {0, 279.4}}
	var paint strings.Builder
	paint.WriteString(`const c = document.createElement("canvas"); c.width = 3200; c.height = 2400; const g = c.getContext("2d"); g.fillStyle = "#68707a"; g.fillRect(0, 0, 3200, 2400); g.fillStyle = "#fff"; g.beginPath();`)
	for _, at := range corners {
		x, y := camera(at[0], at[1])
		fmt.Fprintf(&paint, "g.lineTo(%f, %f);", x, y)
	}
	paint.WriteString(`g.fill(); g.fillStyle = "#111";`)
	for _, name := range []string{"A", "B", "C"} {
		x, y := camera(holes[name][0], holes[name][1])
		fmt.Fprintf(&paint, "g.beginPath(); g.arc(%f, %f, 22, 0, 7); g.fill();", x, y)
	}
	paint.WriteString(`c.toBlob((b) => { const d = new DataTransfer(); d.items.add(new File([b], "boss.png", { type: "image/png" })); const f = document.getElementById("file"); f.files = d.files; f.dispatchEvent(new Event("change", { bubbles: true })) })`)
	p.run(paint.String())
	p.wait("the picture", `!document.getElementById("picture").hidden`)
	p.run(`const n = document.getElementById("pattern"); n.value = "starter boss"; n.dispatchEvent(new Event("change", { bubbles: true }))`)
	tap := func(at [2]float64) {
		t.Helper()
		right, down := camera(at[0], at[1])
		const place = `(() => { const r = document.getElementById("picture").getBoundingClientRect(), k = Math.min(r.width / 3200, r.height / 2400); return [r.x + (r.width - 3200 * k) / 2, r.y + (r.height - 2400 * k) / 2, k].join(" ") })()`
		var left, top, scale float64
		if _, err := fmt.Sscan(evaluate[string](p, place), &left, &top, &scale); err != nil {
			t.Fatal(err)
		}
		x, y := left+right*scale, top+down*scale
		p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
			chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
	}
	for _, at := range corners {
		tap(at)
	}
	tap(holes["A"])
	for _, name := range []string{"B", "C"} {
		p.deed("hole")
		tap(holes[name])
	}
	p.shot("photo-tapped", false)
	p.deed("write")
	p.wait("what was found", `document.querySelector("#found .clear, #found .refusal")`)
	p.shot("photo-found", false)
	text, _, err := store.Load("lathe.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(text), lathe) {
		t.Errorf("what stood in the file was touched:\n%s", text)
	}
	file := job.Read("lathe.job.yaml", text)
	found := metalwork.Patterns(&file.Job)
	if len(found) != 1 || !found[0].Photo.Used {
		t.Fatalf("the photo isn't used: %+v\n%s", found, text)
	}
	at := map[string][2]float64{}
	for _, h := range found[0].Holes {
		at[h.Name] = [2]float64{mm(h.X.Value), mm(h.Y.Value)}
	}
	for _, two := range [][2]string{{"A", "B"}, {"A", "C"}, {"B", "C"}} {
		a, b := two[0], two[1]
		want := math.Hypot(holes[a][0]-holes[b][0], holes[a][1]-holes[b][1])
		got := math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1])
		// a tap of the mouse is a dot of the screen, three of the picture and 0.7 mm of the face
		if math.Abs(got-want) > 2 {
			t.Errorf("%s to %s: %.2f mm, it is %.2f", a, b, got, want)
		}
	}
	p.deed("undo")
	p.wait("it to be taken back", `document.querySelector('[data-do="undo"]').disabled`)
	if text, _, _ := store.Load("lathe.job.yaml"); string(text) != lathe {
		t.Errorf("undo leaves\n%s", text)
	}
}

// What isn't a photo's numbers is refused, and nothing is written.
func TestPhotoIsRefused(t *testing.T) {
	full := map[string]string{"sheet in the photo": "a4", "lower left corner": "10, 900", "lower right corner": "900, 900", "upper right corner": "900, 10", "upper left corner": "10, 10"}
	file := job.Read("lathe.job.yaml", []byte(lathe))
	for what, q := range map[string]request{
		"no name of the pattern": {Values: full, Places: []handPlace{{Tag: "A", X: 1, Y: 1}}},
		"three corners":          {Item: "boss", Values: map[string]string{"sheet in the photo": "a4", "lower left corner": "1, 2"}},
		"a hole without a name":  {Item: "boss", Values: full, Places: []handPlace{{X: 1, Y: 1}}},
		"a hole out of it":       {Item: "boss", Values: full, Places: []handPlace{{Tag: "A", X: -5, Y: 1}}},
		"no number":              {Item: "boss", Values: full, Places: []handPlace{{Tag: "A", X: math.NaN(), Y: 1}}},
	} {
		if text, _, err := seenInPhoto(file, q); err == nil {
			t.Errorf("%s: written\n%s", what, text)
		}
	}
	q := request{Item: "boss", Values: full, Places: []handPlace{{Tag: "A", X: 100.4, Y: 50.6}}}
	text, _, err := seenInPhoto(file, q)
	if err != nil || !strings.Contains(string(text), "100, 51") {
		t.Fatalf("%v\n%s", err, text)
	}
	// Once more it changes the same lines.
	q.Places[0].X = 300
	again, _, err := seenInPhoto(job.Read("lathe.job.yaml", text), q)
	if err != nil || strings.Count(string(again), "\n") != strings.Count(string(text), "\n") || !strings.Contains(string(again), "300, 51") {
		t.Errorf("%v\n%s", err, again)
	}
}
