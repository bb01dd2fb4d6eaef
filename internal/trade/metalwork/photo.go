package metalwork

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// PhotoResult is what a photo with a sheet of known size in it gives.
type PhotoResult struct {
	Used bool
	// Refused says why the photo can't be used; empty if it can, or if there is none.
	Refused string
	// Tap is how far a tap on the picture may be off, in dots, as a standard deviation; Dot is how large a dot is at the sheet.
	Tap explain.Known[quantity.Count]
	Dot explain.Known[quantity.Length]
	// Squashed is the sheet's sides in the picture against its true ones; 1 from straight above.
	Squashed explain.Known[quantity.Factor]
	Upright  bool // the sheet's long side goes up the picture
	// Camera is the distance that the parallax of a sheet above the face is reckoned with; missing where the sheet lies on the face.
	Camera explain.Known[quantity.Length]
	places map[int]seenPlace
}

// seenPlace is a hole in the sheet's axes, in millimetres, with the standard deviations.
type seenPlace struct{ at, off point }

// pages are sheets of known size, short side first. Sources: ANSI/ASME Y14.1 (letter), ISO 216 (A sizes), ISO/IEC 7810 ID-1 (card); legal by
// North American practice.
var pages = map[string][2]float64{"letter": {215.9, 279.4}, "legal": {215.9, 355.6}, "a4": {210, 297}, "a5": {148, 210}, "card": {53.98, 85.60}}

const tapSpread = 3 // dots: a fingertip or mouse on an enlarged picture; common practice

const cameraAway = 500 * quantity.Millimetre

// dots reads "1010, 1300".
func dots(text string) (point, bool) {
	x, y, found := strings.Cut(text, ",")
	a, err := strconv.ParseFloat(strings.TrimSpace(x), 64)
	b, err2 := strconv.ParseFloat(strings.TrimSpace(y), 64)
	return point{a, b}, found && err == nil && err2 == nil && !math.IsNaN(a+b) && !math.IsInf(a+b, 0)
}

// homography maps one plane onto another, row by row.
type homography [9]float64

func (h homography) of(p point) point {
	w := h[6]*p.x + h[7]*p.y + h[8]
	return point{(h[0]*p.x + h[1]*p.y + h[2]) / w, (h[3]*p.x + h[4]*p.y + h[5]) / w}
}

// weight is the denominator at p: it must not change its sign among the points that are looked at.
func (h homography) weight(p point) float64 { return h[6]*p.x + h[7]*p.y + h[8] }

func (h homography) after(g homography) (r homography) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				r[3*i+j] += h[3*i+k] * g[3*k+j]
			}
		}
	}
	return r
}

// fourPoints is the homography that maps from onto to: the direct linear transformation, with both sets shifted and scaled first so that the
// equations are well conditioned; false where three points lie in a row. Source: R. Hartley and A. Zisserman, Multiple View Geometry, 4.1 and
// 4.4 (from memory).
func fourPoints(from, to [4]point) (homography, bool) {
	scaled := func(p [4]point) (s [4]point, into, back homography) {
		m, d := middleOf(p[:]), 0.0
		for _, q := range p {
			d += q.to(m) / 4
		}
		if d == 0 {
			d = 1
		}
		k := math.Sqrt2 / d
		for i, q := range p {
			s[i] = q.minus(m).along(k)
		}
		return s, homography{k, 0, -k * m.x, 0, k, -k * m.y, 0, 0, 1}, homography{1 / k, 0, m.x, 0, 1 / k, m.y, 0, 0, 1}
	}
	a, into, _ := scaled(from)
	b, _, back := scaled(to)
	var rows [8][9]float64
	for i := range 4 {
		x, y, u, v := a[i].x, a[i].y, b[i].x, b[i].y
		rows[2*i] = [9]float64{x, y, 1, 0, 0, 0, -u * x, -u * y, u}
		rows[2*i+1] = [9]float64{0, 0, 0, x, y, 1, -v * x, -v * y, v}
	}
	for c := range 8 {
		pivot := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(rows[r][c]) > math.Abs(rows[pivot][c]) {
				pivot = r
			}
		}
		if math.Abs(rows[pivot][c]) < 1e-9 {
			return homography{}, false
		}
		rows[c], rows[pivot] = rows[pivot], rows[c]
		for r := range 8 {
			if r != c {
				k := rows[r][c] / rows[c][c]
				for j := c; j < 9; j++ {
					rows[r][j] -= k * rows[c][j]
				}
			}
		}
	}
	h := homography{8: 1}
	for c := range 8 {
		h[c] = rows[c][8] / rows[c][c]
	}
	return back.after(h).after(into), true
}

var dotSize = &explain.Formula{
	Name: "photo-dot-size", Title: "size of one picture dot at the sheet", Words: "{side of the sheet} ÷ {its length in the picture}",
	Inputs: []explain.Parameter{{Name: "side of the sheet", Kind: quantity.KindLength, Help: "its true length", Example: "279.4 mm"}, {Name: "its length in the picture", Kind: quantity.KindCount, Help: "in dots", Example: "1900"}},
	Result: quantity.KindLength, Source: explain.Physics("ratio"),
	Compute: explain.Of2(func(side quantity.Length, dots quantity.Count) (explain.Answer, error) {
		if dots <= 0 {
			return explain.Answer{}, fmt.Errorf("the side must be longer than no dots")
		}
		return explain.Is(quantity.Length(float64(side) / float64(dots)))
	}),
}

// readPhoto finds the holes in the photo. Not used and not refused means that there is none.
func readPhoto(p *job.Pattern, holes []PatternPlace) (r PhotoResult) {
	corners := [4]job.Given[quantity.Text]{p.LowerLeft, p.LowerRight, p.UpperRight, p.UpperLeft}
	set := 0
	var seen [4]point
	for n, c := range corners {
		if !c.Set {
			continue
		}
		set++
		at, ok := dots(string(c.Value))
		if !ok {
			r.Refused = "the corner " + strconv.Quote(string(c.Value)) + " isn't two numbers, dots to the right and dots down"
			return r
		}
		seen[n] = point{at.x, -at.y} // up is up
	}
	taps := map[int]point{}
	for n, h := range holes {
		if !h.Hole.Seen.Set {
			continue
		}
		at, ok := dots(string(h.Hole.Seen.Value))
		if !ok {
			r.Refused = "the place " + strconv.Quote(string(h.Hole.Seen.Value)) + " of hole " + h.Name + " isn't two numbers, dots to the right and dots down"
			return r
		}
		taps[n] = point{at.x, -at.y}
	}
	page, known := pages[string(p.Page.Value)]
	switch {
	case set == 0 && len(taps) == 0:
		return r
	case !p.Page.Set || !known:
		r.Refused = "it isn't said which sheet lies in the picture"
	case set < 4:
		r.Refused = fmt.Sprintf("%d of the sheet's four corners are tapped", set)
	case len(taps) == 0:
		r.Refused = "no hole is tapped in it"
	default:
		r.Refused = tooSlanted(seen)
	}
	if r.Refused != "" {
		return r
	}
	across, up := (seen[0].to(seen[1])+seen[3].to(seen[2]))/2, (seen[0].to(seen[3])+seen[1].to(seen[2]))/2
	upright, lying := up/across*page[0]/page[1], up/across*page[1]/page[0]
	r.Upright = math.Abs(math.Log(upright)) <= math.Abs(math.Log(lying))
	squashed, width, height := upright, page[0], page[1]
	if !r.Upright {
		squashed, width, height = lying, page[1], page[0]
	}
	if other := max(math.Abs(math.Log(upright)), math.Abs(math.Log(lying))); other-math.Abs(math.Log(squashed)) < math.Log(1.1) || max(squashed, 1/squashed) > 1.9 {
		r.Refused = "the sheet's sides in the picture don't tell its long side from its short one: take it from more nearly above"
		return r
	}
	plane := [4]point{{0, 0}, {width, 0}, {width, height}, {0, height}}
	h, ok := fourPoints(seen, plane)
	if !ok {
		r.Refused = "three corners lie in a row"
		return r
	}
	for n, at := range taps {
		if h.weight(at)*h.weight(seen[0]) <= 0 {
			r.Refused = "hole " + holes[n].Name + " lies beyond the picture's horizon"
			return r
		}
	}
	r.Tap = explain.Assume(string(p.Name.Value)+", spread of a tap", quantity.Count(tapSpread), explain.Practice("taps on an enlarged picture"), explain.Say("a tap is taken as good to {} dots, as a standard deviation", quantity.Count(tapSpread)))
	inDots := explain.Chosen(string(p.Name.Value)+", sheet's side in the picture", quantity.Count(math.Round(up)), "mean of both sides, in dots", explain.Physics("ratio"), job.Known(p.LowerLeft), job.Known(p.LowerRight), job.Known(p.UpperRight), job.Known(p.UpperLeft))
	r.Dot = explain.Derive[quantity.Length](dotSize, string(p.Name.Value)+", size of a dot", explain.Constant("side of the "+string(p.Page.Value)+" sheet", length(height), explain.Source{Work: "ISO 216, ASME Y14.1 and ISO/IEC 7810", Trust: explain.FromMemory}), inDots)
	r.Squashed = explain.Chosen(string(p.Name.Value)+", sheet squashed in the picture", quantity.Factor(squashed), "its sides in the picture ÷ its true sides", explain.Physics("ratio"), inDots)
	lift := 0.0
	r.Camera = explain.Needless[quantity.Length](string(p.Name.Value)+", camera distance", explain.Say("the sheet lies on the face"))
	if p.Above.Set && p.Above.Value != 0 {
		r.Camera = explain.Assume(string(p.Name.Value)+", camera distance", cameraAway, explain.Practice("photos of a part at arm's length"), explain.Say("the camera is taken as {} away, give or take half of it: lay the sheet on the face and it doesn't matter", cameraAway))
		lift = float64(p.Above.Value / cameraAway)
	}
	r.Used, r.places = true, map[int]seenPlace{}
	var all []point
	for n := range holes {
		if at, ok := taps[n]; ok {
			all = append(all, h.of(at))
		}
	}
	centre := middleOf(all)
	for n, at := range taps {
		place := h.of(at)
		off := spreadOf(seen, plane, at)
		// The face lies deeper than a sheet above it, so it looks smaller.
		out := place.minus(centre)
		r.places[n] = seenPlace{centre.plus(out.along(1 + lift)), point{math.Hypot(off.x, out.x*lift/2), math.Hypot(off.y, out.y*lift/2)}}
	}
	return r
}

// spreadOf is the standard deviation of a hole that is seen at the place: every tap, of the corners and of the hole, moved by its own.
func spreadOf(seen, plane [4]point, at point) (off point) {
	moved := func(change func(c *[4]point, p *point)) point {
		c, p := seen, at
		change(&c, &p)
		h, ok := fourPoints(c, plane)
		if !ok {
			return point{}
		}
		return h.of(p)
	}
	add := func(change func(by float64) func(c *[4]point, p *point)) {
		// a step of a tenth keeps the quotient linear
		d := moved(change(0.1)).minus(moved(change(-0.1))).along(tapSpread / 0.2)
		off.x, off.y = math.Hypot(off.x, d.x), math.Hypot(off.y, d.y)
	}
	for n := range 4 {
		add(func(by float64) func(*[4]point, *point) { return func(c *[4]point, _ *point) { c[n].x += by } })
		add(func(by float64) func(*[4]point, *point) { return func(c *[4]point, _ *point) { c[n].y += by } })
	}
	add(func(by float64) func(*[4]point, *point) { return func(_ *[4]point, p *point) { p.x += by } })
	add(func(by float64) func(*[4]point, *point) { return func(_ *[4]point, p *point) { p.y += by } })
	return off
}

// tooSlanted says why a view of the sheet can't be used; "" if it can. The limits are where the error of a tap has grown to several times
// that of a view from above.
func tooSlanted(c [4]point) string {
	turns := 0
	for n := range 4 {
		a, b, d := c[n], c[(n+1)%4], c[(n+3)%4]
		p, q := b.minus(a), d.minus(a)
		length := math.Hypot(p.x, p.y) * math.Hypot(q.x, q.y)
		if length == 0 {
			return "two corners are the same"
		}
		angle := math.Atan2(p.cross(q), p.x*q.x+p.y*q.y) * 180 / math.Pi
		if angle < 0 {
			turns++
			continue
		}
		if angle < 40 || angle > 140 {
			return fmt.Sprintf("it is taken too much from the side: a corner of the sheet shows %.0f° in place of 90°", angle)
		}
	}
	switch {
	case turns == 4:
		return "its corners go round the wrong way: the picture is mirrored, or left and right are mixed up"
	case turns > 0:
		return "its corners cross over: lower left, lower right, upper right and upper left are mixed up"
	}
	for n := range 2 {
		a, b := c[n].to(c[n+1]), c[(n+2)%4].to(c[(n+3)%4])
		if a > 2*b || b > 2*a {
			return "it is taken too much from the side: one side of the sheet looks more than twice as long as the other"
		}
		if min(a, b) < 100 {
			return "the sheet is too small in it: a side has fewer than 100 dots"
		}
	}
	return ""
}
