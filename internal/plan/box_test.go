package plan_test

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
)

func example(t testing.TB, name string) plan.Plan {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return plan.Make(job.Read(name+".job.yaml", text))
}

// TestExamplesAreArranged: each example has an enclosure that holds everything, by the check that knows nothing of the search; every smaller size
// has its verdict with a reason; the next smaller one of the lathe is proved impossible.
func TestExamplesAreArranged(t *testing.T) {
	for _, name := range []string{"engine-lathe", "drum-sander", "tool-grinder"} {
		t.Run(name, func(t *testing.T) {
			p := example(t, name)
			p.Arrange(box.Options{Effort: 4000})
			r := p.Arranged
			room, ok := r.Room()
			if !ok {
				t.Fatalf("no enclosure holds it: %+v", r.Tried)
			}
			for _, c := range r.Brief.Check(&room, r.Placed) {
				t.Errorf("%s: %s", room.Name, c.What.Show(quantity.MetricUnits))
			}
			for _, c := range r.Clashes {
				t.Errorf("%s: %s", room.Name, c.What.Show(quantity.MetricUnits))
			}
			for _, tried := range r.Tried[:r.Chosen] {
				if tried.Why == "" || tried.Verdict == box.Holds {
					t.Errorf("%s has no verdict with a reason", tried.Room.Name)
				}
			}
			if name == "engine-lathe" { // of what is smaller, the largest that the heat doesn't rule out
				next := r.Chosen - 1
				for next > 0 && r.Tried[next].Verdict == box.TooWarm {
					next--
				}
				if r.Tried[next].Verdict != box.Impossible {
					t.Errorf("the next smaller size, %s, isn't proved impossible: %s", r.Tried[next].Room.Name, r.Tried[next].Why)
				}
			}
			if len(r.Entries) != len(r.Brief.Entries) {
				t.Errorf("%d of %d cables have an entry", len(r.Entries), len(r.Brief.Entries))
			}
			if !r.Shaft.OK() || r.Shaft.Value <= 0 {
				t.Error("the shaft of the main switch has no length")
			}
			everyDeviceHasItsBody(t, &p)
		})
	}
}

// everyDeviceHasItsBody: what the circuit puts in the box or on its door stands in the arrangement once; only parts that hang in terminals don't.
func everyDeviceHasItsBody(t *testing.T, p *plan.Plan) {
	t.Helper()
	for _, d := range p.Circuit.Circuit.Devices {
		place := p.Circuit.Circuit.Place(d.Place)
		if place == nil || place.Kind != circuit.Box && place.Kind != circuit.Door || d.Kind == circuit.Diode || d.Kind == circuit.Resistor {
			continue
		}
		n := 0
		for _, b := range p.Arranged.Brief.Bodies {
			if b.Tag == d.Tag {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s stands %d times in the box", d.Tag, n)
		}
	}
}

// TestHandleIsOnItsShaft: a handle that turns a switch on the plate has its hole on the door where the shaft comes through (IEC 60204-1, 5.3: the
// switch is worked from outside). The place is worked out here from the outside sizes alone.
func TestHandleIsOnItsShaft(t *testing.T) {
	p := example(t, "drum-sander")
	p.Arrange(box.Options{Effort: 4000})
	r := p.Arranged
	room, ok := r.Room()
	if !ok {
		t.Fatal("no enclosure holds it")
	}
	shafts := 0
	for _, placed := range r.Placed {
		b := r.Brief.Bodies[placed.Body]
		if !b.Shaft || placed.Face != box.Plate {
			continue
		}
		shafts++
		wantX := (room.Width.Value-room.PlateWidth.Value)/2 + placed.At[0] + placed.Size[0]/2
		wantY := (room.Height.Value-room.PlateHeight.Value)/2 + placed.At[1] + placed.Size[1]/2
		found := false
		for _, h := range p.Marked.Brief.Holes {
			if strings.HasPrefix(h.For, "handle of "+b.Tag) && p.Marked.Brief.Sheets[h.Sheet].Name == "door" {
				found = true
				if math.Abs(float64(h.X-wantX)) > 1e-6 || math.Abs(float64(h.Y-wantY)) > 1e-6 {
					t.Errorf("handle of %s at %v, %v; its shaft at %v, %v", b.Tag, h.X, h.Y, wantX, wantY)
				}
			}
		}
		if !found {
			t.Errorf("no hole on the door for the handle of %s", b.Tag)
		}
	}
	if shafts == 0 {
		t.Fatal("the example has no switch with a shaft")
	}
}

// TestWiresInTheBoxHaveLengths: the length of a wire is the way between its two parts as they stand, square to the edges, with what both
// ends take.
func TestWiresInTheBoxHaveLengths(t *testing.T) {
	p := example(t, "engine-lathe")
	p.Arrange(box.Options{Quick: true})
	r := p.Arranged
	at := func(tag string) (*box.Placed, bool) {
		for n := range r.Placed {
			if r.Brief.Bodies[n].Tag == tag {
				return &r.Placed[n], true
			}
		}
		return nil, false
	}
	checked := 0
	for _, w := range p.Circuit.Circuit.Wires {
		x, ok := at(w.From.Device)
		y, there := at(w.To.Device)
		if !ok || !there || w.Cable != "" || w.From.Device == w.To.Device || x.Face != box.Plate || y.Face != box.Plate {
			continue
		}
		checked++
		want := 0.150 + float64(x.Size[2]+y.Size[2])/2
		for axis := range 2 {
			want += math.Abs(float64(x.At[axis] + x.Size[axis]/2 - y.At[axis] - y.Size[axis]/2))
		}
		if got := float64(w.Length.Value); math.Abs(got-want) > 1e-9 || w.Length.Why().Origin != explain.Derived {
			t.Errorf("wire %s from %s to %s: %g m, want %g m", w.Name, w.From, w.To, got, want)
		}
	}
	if checked < 10 {
		t.Errorf("only %d wires were checked", checked)
	}
}

// TestSizesAreSortedAndLimited: by volume, then by walls, and none beyond what the place has room for.
func TestSizesAreSortedAndLimited(t *testing.T) {
	p := plan.Make(job.Read("x.job.yaml", []byte("drivewright: 1\nrules: us\nunits: metric\nenclosure: {most height: 500 mm, most depth: 200 mm}\nown sizes:\n  - {name: tin, height: 310 mm, width: 210 mm, depth: 150 mm}\n  - {name: chest, height: 600 mm, width: 210 mm, depth: 150 mm}\n")))
	rooms := p.Boxed().Rooms
	volume := func(r box.Room) float64 {
		return float64(r.Height.Value) * float64(r.Width.Value) * float64(r.Depth.Value)
	}
	names := []string{}
	for n, r := range rooms {
		names = append(names, r.Name)
		if n > 0 && volume(rooms[n-1]) > volume(r)+1e-9 {
			t.Errorf("%s stands before %s", rooms[n-1].Name, r.Name)
		}
		if r.Height.Value > 0.5+1e-9 || r.Depth.Value > 0.2+1e-9 || strings.HasSuffix(r.Name, " in") {
			t.Errorf("%s may not be chosen", r.Name)
		}
		// 1.5 mm of sheet twice and 15 mm behind the plate's face
		if d := float64(r.Depth.Value-r.Before.Value) - 0.018; math.Abs(d) > 1e-9 {
			t.Errorf("%s: %g m before the plate", r.Name, float64(r.Before.Value))
		}
	}
	if !slices.Contains(names, "tin") || slices.Contains(names, "chest") || len(names) < 6 {
		t.Errorf("got %v", names)
	}
}

// TestPartsReplaceTypicalBodies: what the job file says of a part goes before the typical figure, and the rest stays typical.
func TestPartsReplaceTypicalBodies(t *testing.T) {
	p := example(t, "drum-sander")
	for _, b := range p.Boxed().Bodies {
		switch b.Tag {
		case "ASD1":
			if b.Width.Why().Origin != explain.Given || math.Abs(float64(b.Width.Value/quantity.Inch)-7.0625) > 1e-6 || b.Fixing.Screw != "No. 10" {
				t.Errorf("the drive of the booklet is %v wide, %s", b.Width.Value, b.Fixing.Screw)
			}
		case "CON1":
			if b.Width.Why().Origin != explain.Catalogue {
				t.Errorf("the contactor isn't marked as typical")
			}
		}
	}
}

func BenchmarkFirstArrangement(b *testing.B) {
	for _, name := range []string{"engine-lathe", "drum-sander", "tool-grinder"} {
		b.Run(name, func(b *testing.B) {
			p := example(b, name)
			brief := p.Boxed()
			for b.Loop() {
				done := false
				box.Arrange(brief, box.Options{Quick: true, Watch: func(box.Result) { done = true }, Stop: func() bool { return done }})
			}
		})
	}
}

func BenchmarkWholeArrangement(b *testing.B) {
	for _, name := range []string{"engine-lathe", "drum-sander", "tool-grinder"} {
		b.Run(name, func(b *testing.B) {
			p := example(b, name)
			brief := p.Boxed()
			var r box.Result
			for b.Loop() {
				r = box.Arrange(brief, box.Options{})
			}
			b.ReportMetric(float64(r.Wire.Value), "m-wire")
		})
	}
}

// BenchmarkDrag is one checked frame of a part that is dragged.
func BenchmarkDrag(b *testing.B) {
	p := example(b, "drum-sander")
	p.Arrange(box.Options{Quick: true})
	n := 0
	for b.Loop() {
		n++
		box.Move(p.Arranged, n%len(p.Arranged.Placed), quantity.Length(n%300)*quantity.Millimetre, quantity.Length(n%200)*quantity.Millimetre)
	}
}
