package main

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"drivewright/internal/trade/pack"
)

type packCommand struct {
	Problem string  `arg:"" name:"file" help:"A packing problem as JSON: task, bin or boxes, items, nets."`
	Seconds float64 `help:"Give up after so many seconds; the answer then says what is not known." default:"60"`
	Format  string  `help:"How to print: ${enum}." enum:"text,json" default:"text"`
	Seed    uint64  `help:"Number that the random choices begin with; the same one gives the same answer." default:"1"`
}

// packAnswer is the answer as data. Lengths are in the file's unit, and wire is weight × length.
type packAnswer struct {
	Verdict    string          `json:"verdict"`
	Why        string          `json:"why"`
	Bin        packBin         `json:"bin"`
	Placements []packPlacement `json:"placements"`
	Size       *int            `json:"size,omitempty"` // the area or the height that was to be least
	Wire       *float64        `json:"wire,omitempty"`
	Bound      *float64        `json:"bound,omitempty"` // what Size or Wire is proved not to go below
	Tried      []packTried     `json:"tried,omitempty"`
	DeadEnds   int64           `json:"dead_ends"`
	ElapsedMS  float64         `json:"elapsed_ms"`
}

type packBin struct {
	W int `json:"w"`
	H int `json:"h"`
	D int `json:"d,omitempty"`
}

type packPlacement struct {
	Item   int    `json:"item"`
	X      int    `json:"x"`
	Y      int    `json:"y"`
	Z      *int   `json:"z,omitempty"`
	Turned bool   `json:"turned"`
	Axes   string `json:"axes,omitempty"` // of a brick: which of its own axes lie along x, y and z
}

type packTried struct {
	W       int    `json:"w"`
	H       int    `json:"h"`
	Verdict string `json:"verdict"`
	Why     string `json:"why"`
}

// verdictWords are the verdicts in the words of the answer.
var verdictWords = map[pack.Verdict]string{pack.NotFound: "not found", pack.Found: "found", pack.Impossible: "proved impossible"}

// turnAxes are the axes of a brick that lie along x, y and z in each turn.
var turnAxes = map[pack.Turn]string{pack.AsGiven: "xyz", pack.Quarter: "yxz", pack.Tipped: "xzy", pack.Rolled: "zyx", pack.TurnXYZ: "yzx", pack.TurnZXY: "zxy"}

// Run solves a packing problem by itself, so that the search can be measured on problems with known answers.
func (c packCommand) Run(b *bench) error {
	text, err := os.ReadFile(c.Problem)
	if err != nil {
		return usage("%w", err)
	}
	if c.Seconds <= 0 {
		return usage("--seconds must be above 0")
	}
	in, err := pack.ReadInstance(text)
	if err != nil {
		var at *pack.FileError
		if errors.As(err, &at) {
			return usage("%s:%w", c.Problem, at)
		}
		return usage("%s: %w", c.Problem, err)
	}
	start := b.now()
	limit := time.Duration(c.Seconds * float64(time.Second))
	s := pack.Solve(in, pack.Options{Seed: c.Seed, Stop: func() bool { return b.now().Sub(start) > limit }})
	answer := packAnswerOf(in, &s)
	answer.ElapsedMS = float64(b.now().Sub(start).Microseconds()) / 1000
	if c.Format == "json" {
		return writeJSON(b, answer)
	}
	_, err = fmt.Fprint(b.out, answer.text())
	return err
}

// packAnswerOf puts a solution into the form of the answer.
func packAnswerOf(in *pack.Instance, s *pack.Solution) packAnswer {
	a := packAnswer{Verdict: verdictWords[s.Verdict], Why: s.Why, Bin: packBin{W: s.Room[0], H: s.Room[1]}, Placements: []packPlacement{}, DeadEnds: s.Steps}
	solid := s.Room[2] > 1
	if solid {
		a.Bin.D = s.Room[2]
	}
	for n, place := range s.Places {
		p := packPlacement{Item: n, X: place.At[0], Y: place.At[1], Turned: place.Turn != pack.AsGiven}
		if solid {
			p.Z, p.Axes = &place.At[2], turnAxes[place.Turn]
		}
		a.Placements = append(a.Placements, p)
	}
	switch in.Task {
	case pack.LeastArea, pack.Floor, pack.StripTop:
		size, bound := s.Room[1], float64(s.Bound)
		if in.Task != pack.StripTop {
			size *= s.Room[0]
		}
		a.Size, a.Bound = &size, &bound
	case pack.Plates:
		if s.Verdict == pack.Found && len(in.Nets) > 0 {
			wire, bound := float64(s.Wire)/2, float64(s.Bound)/2
			a.Wire, a.Bound = &wire, &bound
		}
	}
	for _, t := range s.Tried {
		a.Tried = append(a.Tried, packTried{t.Room[0], t.Room[1], verdictWords[t.Verdict], t.Why})
	}
	return a
}

// text returns the answer for a reader.
func (a *packAnswer) text() string {
	var t strings.Builder
	size := fmt.Sprintf("%d × %d", a.Bin.W, a.Bin.H)
	if a.Bin.D > 0 {
		size += fmt.Sprintf(" × %d", a.Bin.D)
	}
	fmt.Fprintf(&t, "%s in %s: %s\n", a.Verdict, size, a.Why)
	if a.Size != nil {
		fmt.Fprintf(&t, "size %d, proved not to go below %g\n", *a.Size, *a.Bound)
	}
	if a.Wire != nil {
		fmt.Fprintf(&t, "wire %g, proved not to go below %g\n", *a.Wire, *a.Bound)
	}
	for _, tried := range a.Tried {
		fmt.Fprintf(&t, "%8d × %-8d %-18s %s\n", tried.W, tried.H, tried.Verdict, tried.Why)
	}
	for _, p := range a.Placements {
		fmt.Fprintf(&t, "item %3d  x %6d  y %6d", p.Item, p.X, p.Y)
		if p.Z != nil {
			fmt.Fprintf(&t, "  z %6d  %s", *p.Z, p.Axes)
		} else if p.Turned {
			t.WriteString("  turned")
		}
		t.WriteByte('\n')
	}
	fmt.Fprintf(&t, "%g ms, %d dead ends\n", a.ElapsedMS, a.DeadEnds)
	return t.String()
}
