package web

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/chromedp/chromedp"
)

const grinder = "drivewright: 1\nmachine:\n  name: Tool grinder\n  knid: grinder\n"

// looks are how the pages are looked at: at a desk and in the hand, by day and by night.
var looks = []look{desk, deskNight, hand, handNight}

// The pages paint in every look: neither blank nor without ink, and dark is dark.
func TestPagesPaint(t *testing.T) {
	for _, l := range looks {
		t.Run(l.String(), func(t *testing.T) {
			s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe, "grinder.job.yaml": grinder}))
			p := window(t, l, s.URL+"/")
			p.shot("jobs-"+l.String(), true)
			p.visit(jobAddress(s))
			lightness := meanLightness(t, p.shot("sheet-"+l.String(), true))
			if l.dark && lightness > 0.3 || !l.dark && lightness < 0.7 {
				t.Errorf("mean lightness %.2f", lightness)
			}
			p.run(`document.querySelector("#v-least-branch-ampacity").open = true; document.querySelector("#v-least-branch-ampacity .inputs a").click()`)
			p.do(chromedp.ScrollIntoView(chromedp.CSS("#v-least-branch-ampacity")))
			p.shot("reason-"+l.String(), false)
			p.run(`document.querySelector("#drop-look").open = true`)
			p.shot("bar-"+l.String(), false)
		})
	}
}

func meanLightness(t *testing.T, picture []byte) float64 {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	sum, n := 0.0, 0
	for y := b.Min.Y; y < b.Max.Y; y += 7 {
		for x := b.Min.X; x < b.Max.X; x += 7 {
			r, g, bl, _ := img.At(x, y).RGBA()
			sum += float64(r+g+bl) / (3 * 0xffff)
			n++
		}
	}
	return sum / float64(n)
}

// At the width of a phone nothing may need scrolling sideways, with reasons and the list of contents open or not.
func TestNothingScrollsSidewaysOnAPhone(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe, "grinder.job.yaml": grinder}))
	real, name := realServer(t, "engine-lathe")
	for _, address := range []string{s.URL + "/", s.URL + "/job/lathe.job.yaml", s.URL + "/job/lathe.job.yaml/versions", s.URL + "/job/lathe.job.yaml/readings", real.URL + "/job/" + name, real.URL + "/job/" + name + "/readings"} {
		p := window(t, hand, address)
		if address == real.URL+"/job/"+name {
			p.wait("the proof", `document.getElementById("s-meter-sheet")`)
		}
		for _, opened := range []bool{false, true} {
			if opened {
				p.run(`for (const d of document.querySelectorAll("main details")) d.open = true; for (const a of document.querySelectorAll(".inputs > li > a")) a.click()`)
			}
			if wide := evaluate[float64](p, `document.documentElement.scrollWidth`); wide > 390 {
				worst := evaluate[string](p, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 391 && !e.closest(".paper")).slice(0, 5).map(e => e.outerHTML.slice(0, 90)).join("\n")`)
				t.Errorf("%s, opened %v: the page is %.0f px wide, because of\n%s", address, opened, wide, worst)
			}
		}
	}
}

// In the hand the bar takes one line of the screen, not two.
func TestTheBarFitsAPhone(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe}))
	p := window(t, hand, jobAddress(s))
	if high := evaluate[float64](p, `document.getElementById("bar").getBoundingClientRect().height`); high > 50 {
		t.Errorf("the bar is %.0f px high", high)
	}
}

// A phone shows the parts of each stage folded, each with a count of what is in it; whatever leads to a value
// opens its part, and paper shows all. A desk has room for them.
func TestAPhoneFoldsTheAnswers(t *testing.T) {
	s := serve(t, newMemoryStore(map[string]string{"lathe.job.yaml": lathe}))
	const shut = `document.querySelectorAll("details.asks:not([open])").length`
	p := window(t, hand, jobAddress(s))
	const parts = 9 // of the second level: five ask, the others tell
	p.wait("the proof", `document.querySelector("#s-meter-sheet")`)
	if got := evaluate[float64](p, shut); got != parts {
		t.Fatalf("%v parts are folded, want %d", got, parts)
	}
	if got, want := p.text("#s-supply .holds"), "3 values, 1 caution, 1 finding"; got != want {
		t.Errorf("the supply's part says %q, want %q", got, want)
	}
	const breaker = `document.querySelector('[data-path="supply.breaker"]')`
	p.do(media("print", "light"))
	p.wait("what is folded on the screen to be printed", breaker+`.checkVisibility() && `+breaker+`.getBoundingClientRect().height > 5`)
	p.do(media("", "light"))
	p.wait("it to be folded again", `!`+breaker+`.checkVisibility()`)
	p.run(`document.querySelector('#s-supply > details > summary').focus()`)
	p.key("\r")
	p.wait("the part to open by its key", breaker+`.checkVisibility()`)
	p.visit(jobAddress(s) + "?again#" + evaluate[string](p, breaker+`.closest(".line").id`))
	if !evaluate[bool](p, breaker+`.checkVisibility()`) || evaluate[float64](p, shut) != parts-1 {
		t.Error("an address that leads to a value doesn't open its part alone")
	}
	p.visit(jobAddress(s) + "?once-more")
	p.run(`document.querySelector('#contents a[href="#s-motor-nameplate"]').click()`)
	p.wait("the contents to open the part", `document.querySelector("#s-motor-nameplate > details").open`)
	d := window(t, desk, jobAddress(s))
	d.wait("the proof", `document.querySelector("#s-meter-sheet")`)
	if got := evaluate[float64](d, shut); got != 0 {
		t.Errorf("%v parts are folded at a desk", got)
	}
}
