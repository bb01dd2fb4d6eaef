package sheet

import (
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/examples"
	"drivewright/internal/input/job"
	"drivewright/internal/output/drawing"
	"drivewright/internal/plan"
)

// schematicJobs are the examples by both rule sets, and mixtures of what the controls may be asked to do.
func schematicJobs(t *testing.T) map[string]string {
	t.Helper()
	jobs := map[string]string{}
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, rules := range []string{"us", "iec"} {
			jobs[name+" "+rules] = strings.Replace(string(text), "rules: us", "rules: "+rules, 1)
		}
	}
	for n := range 80 {
		r := rand.New(rand.NewPCG(uint64(n), 11))
		pick := func(values ...string) string { return values[r.IntN(len(values))] }
		text := "drivewright: 1\nrules: " + pick("us", "iec") + "\nsupply:\n  voltage: 240 V\nmotor:\n  cable screened: " + pick("yes", "no") + "\n"
		text += "machine:\n  reverse: " + pick("yes", "no") + "\ncontrols:\n  emergency stop: " + pick("safe torque off", "cuts the power", "ramp then cuts the power", "a drive input") +
			"\n  run held by: " + pick("the drive", "a relay") + "\n  jog: " + pick("yes", "no") + "\n  reverse by: " + pick("selector switch", "buttons") + "\n  speed by: " + pick("knob", "steps", "serial line") +
			"\n  guard switch: " + pick("none", "stops the run", "acts as an emergency stop") + "\n  reset: " + pick("yes", "no") + "\n  readout: " + pick("yes", "no") +
			"\n  supply: " + pick("the drive's 24 V", "a power supply", "a transformer") + "\n  run lamp: yes\n  power lamp: " + pick("yes", "no") + "\ndrive control:\n  inputs switch to: " + pick("0 V", "24 V") + "\nstations:\n"
		for k := range 1 + r.IntN(3) {
			text += fmt.Sprintf("  - name: %s\n    kind: box on the machine\n    has: start, stop, emergency stop%s\n", pick("headstock", "apron", "infeed end of the long table", "door")+fmt.Sprint(k), pick("", ", jog, reverse", ", speed, run lamp", ", readout, reset"))
		}
		jobs[fmt.Sprintf("mixture %d", n)] = text
	}
	return jobs
}

// schematicFigures returns the figures of the circuit of a job, on paper and on a phone.
func schematicFigures(text string) []drawing.Figure {
	b := &builder{plan: plan.Make(job.Read("a.job.yaml", []byte(text))), findings: map[string][]int{}}
	b.section(1, "circuit", "")
	b.schematic()
	var list []drawing.Figure
	for _, block := range b.sections[0].Blocks {
		if f, ok := block.(Figure); ok {
			list = append(list, f.Figure, *f.Narrow)
		}
	}
	return list
}

// touches reports whether the stretch from p to q, as broad as its stroke, comes into the rectangle.
func touches(p, q drawing.Point, half float64, r drawing.Bounds) bool {
	r = drawing.Bounds{Left: r.Left - half, Top: r.Top - half, Right: r.Right + half, Bottom: r.Bottom + half}
	from, to := 0.0, 1.0
	for _, side := range [][3]float64{{p.X, q.X - p.X, 0}, {p.Y, q.Y - p.Y, 1}} {
		low, high := r.Left, r.Right
		if side[2] == 1 {
			low, high = r.Top, r.Bottom
		}
		if math.Abs(side[1]) < 1e-9 {
			if side[0] <= low || side[0] >= high {
				return false
			}
			continue
		}
		a, b := (low-side[0])/side[1], (high-side[0])/side[1]
		from, to = max(from, min(a, b)), min(to, max(a, b))
	}
	return from < to
}

// TestASchematicCanBeRead holds the drawn strokes against the set texts: no text lies on another or on a stroke, none is smaller
// than capitals of 1.8 mm (the least of ISO 3098), nothing leaves the figure, and the figure fits the paper or the phone.
func TestASchematicCanBeRead(t *testing.T) {
	for name, text := range schematicJobs(t) {
		figures := schematicFigures(text)
		if len(figures) < 4 {
			t.Errorf("%s: only %d figures", name, len(figures))
		}
		for n, f := range figures {
			where := name + ", " + f.ID
			if limit := []float64{schematicWidth, schematicNarrow}[n%2]; f.Width > limit+0.01 || n%2 == 0 && f.Height > schematicHeight+0.01 {
				t.Errorf("%s is %.1f × %.1f mm", where, f.Width, f.Height)
			}
			if len(f.Alt) < 20 || !strings.HasSuffix(f.Alt, ".") {
				t.Errorf("%s says of itself only %q", where, f.Alt)
			}
			readable(t, where, f)
		}
	}
}

func readable(t *testing.T, where string, f drawing.Figure) {
	t.Helper()
	var words []drawing.Words
	for _, item := range f.Items {
		if w, ok := item.(drawing.Words); ok {
			words = append(words, w)
		}
	}
	inside := func(what string, b drawing.Bounds) {
		if b.Left < -0.01 || b.Top < -0.01 || b.Right > f.Width+0.01 || b.Bottom > f.Height+0.01 {
			t.Errorf("%s: %s at %.1f, %.1f leaves the figure", where, what, b.Left, b.Top)
		}
	}
	for n, w := range words {
		b := w.Bounds()
		inside("the text "+w.Text, b)
		if w.Size < 2.72 {
			t.Errorf("%s: the text %q is only %.2f mm", where, w.Text, w.Size)
		}
		for _, o := range words[:n] {
			if c := o.Bounds(); b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom {
				t.Errorf("%s: the texts %q and %q overlap at %.1f, %.1f", where, w.Text, o.Text, w.At.X, w.At.Y)
			}
		}
		for _, item := range f.Items {
			switch i := item.(type) {
			case drawing.Line:
				points := i.Points
				if i.Closed {
					points = append(append([]drawing.Point{}, points...), points[0])
				}
				for k := 1; k < len(points); k++ {
					if touches(points[k-1], points[k], i.Width/2, drawing.Bounds{Left: b.Left + 0.05, Top: b.Top + 0.05, Right: b.Right - 0.05, Bottom: b.Bottom - 0.15}) {
						t.Errorf("%s: a line from %.1f, %.1f to %.1f, %.1f runs into the text %q at %.1f, %.1f", where, points[k-1].X, points[k-1].Y, points[k].X, points[k].Y, w.Text, w.At.X, w.At.Y)
					}
				}
			case drawing.Circle:
				from, sweep := i.From, math.Mod(i.To-i.From+720, 360)
				if i.From == i.To {
					from, sweep = 0, 360
				}
				for k := range 49 {
					sin, cos := math.Sincos((from + sweep*float64(k)/48) * math.Pi / 180)
					x, y := i.Centre.X+i.Radius*cos, i.Centre.Y+i.Radius*sin
					if b.Left < x && x < b.Right && b.Top < y && y < b.Bottom-0.15 {
						t.Errorf("%s: a circle of %.1f at %.1f, %.1f runs into the text %q at %.1f, %.1f", where, i.Radius, i.Centre.X, i.Centre.Y, w.Text, w.At.X, w.At.Y)
						break
					}
				}
			}
		}
	}
	for _, item := range f.Items {
		switch i := item.(type) {
		case drawing.Line:
			for _, p := range i.Points {
				inside("a line", drawing.Bounds{Left: p.X, Top: p.Y, Right: p.X, Bottom: p.Y})
			}
		case drawing.Circle:
			inside("a circle", drawing.Bounds{Left: i.Centre.X - i.Radius, Top: i.Centre.Y - i.Radius, Right: i.Centre.X + i.Radius, Bottom: i.Centre.Y + i.Radius})
		}
	}
}
