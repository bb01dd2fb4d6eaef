package drawing

import (
	"drivewright/internal/output/typeface"
)

// Leads is how the leads of a motor are joined.
type Leads struct {
	ID, Title, Alt string
	// Joints are the joints in the terminal box, those with a line first.
	Joints []Joint
	// Coils are the coils by the marks of their ends; the coil picture is left out when there are none, or when the joints don't
	// make a star or a delta of them.
	Coils  []Coil
	Narrow bool
}

// Joint is one joint: a line (such as L1; "" for a splice that no line goes to) and the leads that meet there.
type Joint struct {
	Line  string
	Leads []string
}

// Coil is a coil between two marks. An end of "" is joined to the other such ends inside the motor.
type Coil struct{ From, To string }

// Sizes in a picture of leads, millimetres.
const (
	ringRadius = 3.1
	lineSize   = 3.8
)

// LeadLinks draws which lead goes where: on one side the joints as they are made in the terminal box, on the other the
// coils with the marks at their ends, as the joints connect them.
func LeadLinks(l Leads) Figure {
	f := Figure{ID: l.ID, Title: l.Title, Alt: l.Alt}
	items, width, height := terminalBox(l.Joints)
	f.Items, f.Width, f.Height = items, width, height
	picture, ok := coilPicture(l)
	if !ok {
		return f
	}
	if l.Narrow {
		f.Items = append(f.Items, moved(picture.items, max((90-picture.width)/2, 0), height+3)...)
		f.Width, f.Height = max(width, picture.width, 90), height+3+picture.height
		return f
	}
	f.Items = append(f.Items, moved(picture.items, width+6, max((height-picture.height)/2, 0))...)
	f.Width, f.Height = width+6+picture.width, max(height, picture.height)
	return f
}

// terminalBox draws the joints one beneath the other: the line's terminal at the left, the joint, and from it each lead through
// a ring with its mark into the motor at the right.
func terminalBox(joints []Joint) (items []Item, width, height float64) {
	const left, top, joint, ring, motor = 4.0, 12.0, 22.0, 36.0, 47.0
	const row, gap = 7.4, 3.4
	width = motor + 8
	y := top
	for _, j := range joints {
		middle := y + row*float64(max(len(j.Leads), 1)-1)/2
		if j.Line != "" {
			items = append(items, Line{Points: []Point{{left + 10, middle}, {joint, middle}}, Width: 1, Ink: Accent})
			items = append(items, terminal(left, middle, j.Line)...)
		} else {
			items = append(items, Words{At: Point{left - 1, middle - 0.6}, Text: "no line: join", Size: labelSize, Ink: Faint},
				Words{At: Point{left - 1, middle + 2.6}, Text: "and insulate", Size: labelSize, Ink: Faint})
		}
		for n, lead := range j.Leads {
			at := Point{ring, y + row*float64(n)}
			items = append(items, Line{Points: []Point{{joint, middle}, {joint + 6, at.Y}, {motor, at.Y}}, Width: wireWidth})
			items = append(items, ringed(at, lead, ringRadius)...)
		}
		items = append(items, Circle{Centre: Point{joint, middle}, Radius: 1.5, Filled: true})
		y += row*float64(max(len(j.Leads), 1)) + gap
	}
	height = y - gap - row/2 + 6
	bottom := height - 0.5
	items = append(items, Line{Points: []Point{{motor, top - 7}, {1, top - 7}, {1, bottom}, {motor, bottom}}, Dashed: true, Width: 0.25, Ink: Faint})
	items = append(items, Line{Points: []Point{{motor, top - 7}, {motor, bottom}}, Width: 0.9})
	items = append(items, Words{At: Point{1, top - 8.6}, Text: "in the motor's terminal box", Size: labelSize, Ink: Faint})
	items = append(items, Words{At: Point{motor + 4.4, (top - 7 + bottom) / 2}, Text: "motor", Size: lineSize, Anchor: Middle, Bold: true, Turned: true})
	return items, width, height
}

// terminal draws the terminal of a line with its middle at the height y.
func terminal(left, y float64, line string) []Item {
	return []Item{
		Line{Points: []Point{{left, y - 3.2}, {left + 10, y - 3.2}, {left + 10, y + 3.2}, {left, y + 3.2}}, Closed: true, Width: 0.5, Ink: Accent},
		Words{At: Point{left + 5, y + lineSize*typeface.CapHeight/2}, Text: line, Size: lineSize, Anchor: Middle, Bold: true, Ink: Accent},
	}
}

// ringed draws a mark in its ring.
func ringed(at Point, mark string, radius float64) []Item {
	size := radius * 1.12
	if w := typeface.Semibold.Width(mark, size); w > 1.5*radius {
		size *= 1.5 * radius / w
	}
	return []Item{
		Circle{Centre: at, Radius: radius, Ink: Paper, Filled: true},
		Circle{Centre: at, Radius: radius, Width: 0.45},
		Words{At: Point{at.X, at.Y + size*typeface.CapHeight/2}, Text: mark, Size: size, Anchor: Middle, Bold: true},
	}
}

// moved returns the items shifted to the right and down.
func moved(items []Item, x, y float64) []Item {
	out := make([]Item, 0, len(items))
	for _, item := range items {
		switch i := item.(type) {
		case Line:
			points := make([]Point, len(i.Points))
			for n, p := range i.Points {
				points[n] = Point{p.X + x, p.Y + y}
			}
			i.Points = points
			out = append(out, i)
		case Circle:
			i.Centre = Point{i.Centre.X + x, i.Centre.Y + y}
			out = append(out, i)
		case Words:
			i.At = Point{i.At.X + x, i.At.Y + y}
			out = append(out, i)
		}
	}
	return out
}
