package drawing

import (
	"fmt"
	"strings"
)

// ProbeRow is one device or block as the tip of a test probe finds it: its terminals in the order in which they stand.
type ProbeRow struct {
	ID, Title string
	Terminals []string
	Probes    []ProbeAt
}

// ProbeAt is a probe on the terminal with the index; Name is what the probe is called: "1".
type ProbeAt struct {
	Terminal int
	Name     string
}

// A probe picture is sized for a telephone held upright: at its width a millimetre is four of the screen's units, so that
// names are set as large as running text.
const (
	probeWidth  = 90.0
	probeHeight = 23.4
	probeCell   = 12.4 // width of a terminal
	probeTop    = 9.8  // of the row of terminals
	probeFoot   = 22.6
	probeMost   = 6 // terminals in one picture; of a longer row, those around the probes
)

// ProbeWindow returns which terminals of a row are drawn, from first to before end: all, or those around the probes. ok is false
// if the probes lie too far apart for one picture.
func ProbeWindow(terminals int, probes []ProbeAt) (first, end int, ok bool) {
	if terminals <= probeMost {
		return 0, terminals, true
	}
	low, high := terminals-1, 0
	for _, p := range probes {
		low, high = min(low, p.Terminal), max(high, p.Terminal)
	}
	if high-low >= probeMost {
		return 0, 0, false
	}
	first = min(max((low+high+1-probeMost)/2, 0), terminals-probeMost)
	return first, first + probeMost, true
}

// Probes draws the row with its probes. A row that is longer than the picture is torn off at its ends, with how many terminals
// are left out there.
func Probes(r ProbeRow) Figure {
	f := Figure{ID: r.ID, Title: r.Title, Width: probeWidth, Height: probeHeight}
	first, end, ok := ProbeWindow(len(r.Terminals), r.Probes)
	if !ok { // the first alone: the caller draws another picture for the other
		r.Probes = r.Probes[:1]
		first, end, _ = ProbeWindow(len(r.Terminals), r.Probes)
	}
	left := (probeWidth - float64(end-first)*probeCell) / 2
	var where []string
	for n := first; n < end; n++ {
		x := left + float64(n-first)*probeCell
		on := ""
		for _, p := range r.Probes {
			if p.Terminal == n {
				on = p.Name
				where = append(where, fmt.Sprintf("probe %s on terminal %s, the %s of %d", p.Name, r.Terminals[n], nth(n+1), len(r.Terminals)))
			}
		}
		f.terminal(x, r.Terminals[n], on)
	}
	f.torn(left, first, -1)
	f.torn(left+float64(end-first)*probeCell, len(r.Terminals)-end, +1)
	f.Alt = strings.Join(where, "; ")
	return f
}

// terminal draws one terminal with its left edge at x, and the probe that stands on it.
func (f *Figure) terminal(x float64, name, probe string) {
	edge := Line{Points: []Point{{x, probeTop}, {x + probeCell, probeTop}, {x + probeCell, probeFoot}, {x, probeFoot}}, Closed: true, Ink: Faint}
	centre := Point{x + probeCell/2, probeTop + 4.2}
	screw := Circle{Centre: centre, Radius: 2.6}
	slot := Line{Points: []Point{{centre.X - 1.6, centre.Y + 1.6}, {centre.X + 1.6, centre.Y - 1.6}}, Width: 0.5}
	label := Words{At: Point{centre.X, probeFoot - 1.9}, Text: name, Size: 4.2, Anchor: Middle}
	if probe != "" {
		label.Bold, label.Ink = true, Accent
	}
	if long := label.Length(); long > probeCell-1 {
		label.Size *= (probeCell - 1) / long
	}
	f.Items = append(f.Items, edge, screw, slot, label)
	if probe == "" {
		return
	}
	// The frame lies inside the cell, so that two neighbours' frames don't run into one another.
	const in = 0.5
	frame := Line{Points: []Point{{x + in, probeTop + in}, {x + probeCell - in, probeTop + in}, {x + probeCell - in, probeFoot - in}, {x + in, probeFoot - in}}, Closed: true, Width: 1, Ink: Accent}
	tip := Line{Points: []Point{{centre.X - 1.3, 7.4}, {centre.X + 1.3, 7.4}, centre}, Filled: true, Ink: Accent}
	head := Circle{Centre: Point{centre.X, 4.1}, Radius: 3.8, Filled: true, Ink: Accent}
	number := Words{At: Point{centre.X, 5.7}, Text: probe, Size: 4.7, Anchor: Middle, Ink: Paper, Bold: true}
	f.Items = append(f.Items, frame, tip, head, number)
}

// torn draws the end of a row that goes on: side is -1 at the left and +1 at the right.
func (f *Figure) torn(x float64, more int, side float64) {
	if more == 0 {
		return
	}
	for _, y := range []float64{probeTop, probeFoot} {
		f.Items = append(f.Items, Line{Points: []Point{{x, y}, {x + side*5, y}}, Ink: Faint, Dashed: true})
	}
	f.Items = append(f.Items, Words{At: Point{x + side*3.6, (probeTop+probeFoot)/2 + 1.3}, Text: fmt.Sprintf("+%d", more), Size: 3.6, Anchor: Middle, Ink: Faint})
}

// nth writes a place in a row: 1st, 2nd, 3rd, 4th.
func nth(n int) string {
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return fmt.Sprint(n, ending)
}
