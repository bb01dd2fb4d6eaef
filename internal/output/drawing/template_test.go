package drawing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/output/pdf"
	"drivewright/internal/output/pdf/pdftest"
)

// templateFixture is a plate larger than a page each way, with holes 200 mm apart on the first page.
func templateFixture() Template {
	t := Template{ID: "plate", Title: "Back plate, from the front", Alt: "holes", Width: 380, Height: 430, Side: "front of the back plate"}
	for n, at := range []Point{{20, 410}, {160, 410}, {20, 210}, {160, 210}, {200, 215}, {206, 215}, {212, 215}, {300, 20}, {370, 425}} {
		t.Holes = append(t.Holes, TemplateHole{Name: fmt.Sprintf("P%d", n+1), Note: "drill 5.5 mm", At: at, Size: 5.5})
	}
	t.Holes = append(t.Holes, TemplateHole{Name: "P10", At: Point{250, 300}, Shape: SquareHole, Width: 60, Height: 30}, TemplateHole{Name: "P11", At: Point{100, 100}, Shape: NotchedHole, Size: 22.3, Notch: 24.1, NotchWidth: 3.2},
		TemplateHole{Name: "P12", At: Point{60, 60}, Shape: SlotHole, Size: 6, Width: 20, Height: 6})
	t.Zones = []TemplateZone{{What: "bent rim", At: Point{0, 0}, Width: 12, Height: 430}, {What: "drive", At: Point{40, 220}, Width: 100, Height: 180}}
	return t
}

// TestEveryHoleStandsOnAPage: each hole's middle is drawn at its place on every page that it falls on, and on one at least.
func TestEveryHoleStandsOnAPage(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		tpl := templateFixture()
		tpl.Mirrored = mirrored
		figures := tpl.Tiles(Printing{Width: 190, Height: 246})
		if len(figures) != 5 && !mirrored || len(figures) != 6 && mirrored { // 3 × 2; on one of them no hole falls
			t.Fatalf("mirrored %v: %d pages", mirrored, len(figures))
		}
		crosses := map[string][]Point{}
		seen := map[string]int{}
		for _, f := range figures {
			w := windowOf(tpl, f, 190, 246)
			for _, h := range tpl.Holes {
				at := tpl.view(h.At)
				if !w.inside(at) {
					continue
				}
				seen[h.Name]++
				if h.edge() > 2*pilotRadius && !hasCircle(f, w.spot(at), pilotRadius) && w.inside(Point{at.X - 1, at.Y - 1}) && w.inside(Point{at.X + 1, at.Y + 1}) {
					t.Errorf("mirrored %v, %s: %s has no middle at %v", mirrored, f.Title, h.Name, w.spot(at))
				}
			}
			for _, i := range f.Items { // a cross of the overlap and its name stand at the same place of the sheet on every page
				if c, ok := i.(Circle); ok && c.Ink == Alarm {
					back := Point{w.left + (c.Centre.X - w.off.X), w.low + w.tall - (c.Centre.Y - w.off.Y)}
					key := fmt.Sprintf("%.3f %.3f", back.X, back.Y)
					crosses[key] = append(crosses[key], back)
				}
			}
		}
		for _, h := range tpl.Holes {
			if seen[h.Name] == 0 {
				t.Errorf("%s stands on no page", h.Name)
			}
		}
		shared := 0
		for _, c := range crosses {
			if len(c) > 1 {
				shared++
			}
		}
		if shared < 8 {
			t.Errorf("only %d crosses stand on more than one page", shared)
		}
	}
}

// windowOf finds the part of the sheet that a page shows, from its name.
func windowOf(tpl Template, f Figure, width, height float64) window {
	name := f.ID[len(f.ID)-2:]
	column, row := int(name[0]-'A'), int(name[1]-'1')
	const rim = 2.0
	wide, tall := width-tileSide-0.5, height-tileHead-tileFoot
	left, top := -rim+float64(column)*(wide-overlap), tpl.Height+rim-float64(row)*(tall-overlap)
	w, h := min(wide, tpl.Width+rim-left), min(tall, top+rim)
	return window{t: tpl, left: left, low: top - h, wide: w, tall: h, sx: 1, sy: 1, off: Point{tileSide, tileHead}}
}

func hasCircle(f Figure, at Point, r float64) bool {
	for _, i := range f.Items {
		if c, ok := i.(Circle); ok && near(c.Centre, at) && math.Abs(c.Radius-r) < 1e-9 {
			return true
		}
	}
	return false
}

// TestNothingStandsOnAHolesMiddle: no text and no line covers the middle of a hole, where the punch goes, and no text another.
func TestNothingStandsOnAHolesMiddle(t *testing.T) {
	tpl := templateFixture()
	for _, f := range tpl.Tiles(Printing{Width: 190, Height: 246}) {
		w := windowOf(tpl, f, 190, 246)
		var texts []Words
		for _, i := range f.Items {
			switch i := i.(type) {
			case Words:
				for _, o := range texts {
					if a, b := i.Bounds(), o.Bounds(); a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom {
						t.Errorf("%s: %q lies on %q", f.Title, i.Text, o.Text)
					}
				}
				texts = append(texts, i)
			case Line:
				for n := 1; n < len(i.Points); n++ {
					for _, h := range tpl.Holes {
						if m := w.spot(tpl.view(h.At)); w.inside(tpl.view(h.At)) && i.Ink != Faint && distanceTo(m, i.Points[n-1], i.Points[n]) < middleClear-1e-6 {
							t.Errorf("%s: a line passes the middle of %s", f.Title, h.Name)
						}
					}
				}
			}
		}
		for _, h := range tpl.Holes {
			m := w.spot(tpl.view(h.At))
			for _, x := range texts {
				if b := x.Bounds(); m.X > b.Left && m.X < b.Right && m.Y > b.Top && m.Y < b.Bottom {
					t.Errorf("%s: %q stands on the middle of %s", f.Title, x.Text, h.Name)
				}
			}
		}
	}
}

func distanceTo(p, a, b Point) float64 {
	d := Point{b.X - a.X, b.Y - a.Y}
	k := 0.0
	if l := d.X*d.X + d.Y*d.Y; l > 0 {
		k = min(1, max(0, ((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y)/l))
	}
	return math.Hypot(p.X-a.X-k*d.X, p.Y-a.Y-k*d.Y)
}

// The page as another program draws it, at 600 dots to the inch: the pilot circles of two holes 200 mm apart along the page, and of two 140 mm
// apart across, stand there within 0.1 mm; the check bars too. Once with a printer that makes everything 3 % smaller, where what
// is drawn must be larger by as much.
func TestATemplateIsTrueOnPaper(t *testing.T) {
	for _, c := range []struct{ across, along float64 }{{1, 1}, {100.0 / 97, 100.0 / 98}} {
		tpl := Template{ID: "plate", Title: "Plate", Width: 165, Height: 215, Side: "front", Holes: []TemplateHole{{Name: "A", At: Point{10, 207}, Size: 30}, {Name: "B", At: Point{150, 207}, Size: 30}, {Name: "C", At: Point{10, 7}, Size: 30}}}
		f := tpl.Tiles(Printing{Width: 192, Height: 250, Across: c.across, Along: c.along})[0]
		out := pdf.New(pdf.Info{Title: "template", Language: "en-US"})
		page := out.Page(210, 297)
		page.Begin(nil)
		Paint(page, f, 9, 19, 1)
		page.End()
		var written bytes.Buffer
		if err := out.Write(&written); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), "page")
		pdftest.Run(t, written.Bytes(), "pdftoppm", "-r", "600", "-gray", "-singlefile", "FILE", to)
		picture, err := os.ReadFile(to + ".pgm")
		if err != nil {
			t.Fatal(err)
		}
		var width, height, most int
		if _, err := fmt.Fscanf(bytes.NewReader(picture), "P5\n%d %d\n%d\n", &width, &height, &most); err != nil {
			t.Fatal(err)
		}
		dots := picture[len(picture)-width*height:]
		dark := func(x, y int) bool { return dots[y*width+x] < 128 }
		perMM := 600 / 25.4
		// the pilot circle's middle: the middle of its dark dots, near where it is meant to be
		middle := func(at Point) Point {
			w := window{t: tpl, left: -2, low: -2, wide: 169, tall: 219, sx: c.across, sy: c.along, off: Point{tileSide, tileHead}}
			s := w.spot(at)
			x0, y0 := int((s.X+9)*perMM), int((s.Y+19)*perMM)
			r := int(1.15 * pilotRadius * perMM * 1.05)
			lx, hx, ly, hy := width, 0, height, 0
			for y := y0 - r; y <= y0+r; y++ {
				for x := x0 - r; x <= x0+r; x++ {
					dx, dy := float64(x-x0), float64(y-y0)
					if d := math.Hypot(dx, dy); dark(x, y) && d < float64(r) && math.Abs(dx) > 2 && math.Abs(dy) > 2 {
						lx, hx, ly, hy = min(lx, x), max(hx, x), min(ly, y), max(hy, y)
					}
				}
			}
			if hx == 0 {
				t.Fatalf("no circle at %v", at)
			}
			return Point{float64(lx+hx) / 2 / perMM, float64(ly+hy) / 2 / perMM}
		}
		a, b, low := middle(Point{10, 207}), middle(Point{150, 207}), middle(Point{10, 7})
		if got := (b.X - a.X) / c.across; math.Abs(got-140) > 0.1 {
			t.Errorf("holes 140 mm apart across measure %.3f mm", got)
		}
		if got := (low.Y - a.Y) / c.along; math.Abs(got-200) > 0.1 {
			t.Errorf("holes 200 mm apart along measure %.3f mm", got)
		}
		// the bar across: its line is the longest dark run near its height
		longest := 0
		for y := int((19 + 11) * perMM); y < int((19+12)*perMM); y++ {
			run := 0
			for x := range width {
				if dark(x, y) {
					run++
					longest = max(longest, run)
				} else {
					run = 0
				}
			}
		}
		if got := float64(longest) / perMM / c.across; math.Abs(got-100) > 0.35 { // the line ends in half a stroke each side
			t.Errorf("the bar across measures %.2f mm", got)
		}
	}
}

// TestPaperAndSVGAgree: the two writers put the holes at the same places: circles of the figure are all in the SVG, in millimetres.
func TestPaperAndSVGAgree(t *testing.T) {
	f := templateFixture().Tiles(Printing{Width: 190, Height: 246})[0]
	var b strings.Builder
	if err := WriteSVG(&b, f, SVGOptions{}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if !strings.Contains(text, fmt.Sprintf(`width="%smm" height="%smm"`, num(f.Width), num(f.Height))) {
		t.Error("the file doesn't give its size in millimetres")
	}
	circles := 0
	for _, i := range f.Items {
		if c, ok := i.(Circle); ok {
			circles++
			if !strings.Contains(text, fmt.Sprintf(`cx="%s" cy="%s" r="%s"`, num(c.Centre.X), num(c.Centre.Y), num(c.Radius))) {
				t.Errorf("no circle at %v in the file", c.Centre)
			}
		}
	}
	if circles < 8 {
		t.Errorf("only %d circles", circles)
	}
}
