package drawing

import (
	"math"
	"slices"

	"drivewright/internal/output/typeface"
)

// picture is a drawing that is still to be put somewhere.
type picture struct {
	items         []Item
	width, height float64
}

// chain is a row of coils from a line to another line or to a star point.
type chain struct {
	from, to int // number of the line; to is -1-n for the star point n
	coils    []Coil
}

// coilPicture draws the coils as the joints connect them: one star or delta, or several that are fed together. It reports false
// if the joints make neither of the coils.
func coilPicture(l Leads) (picture, bool) {
	lines, chains, ok := follow(l)
	if !ok {
		return picture{}, false
	}
	delta := chains[0].to >= 0
	count := len(chains) / 3
	groups := make([][]chain, count)
	if delta {
		// side n runs from line n to line n+1
		for n := range 3 {
			sides := slices.DeleteFunc(slices.Clone(chains), func(c chain) bool { return c.from != n || c.to != (n+1)%3 })
			if len(sides) != count {
				return picture{}, false
			}
			for g := range count {
				groups[g] = append(groups[g], sides[g])
			}
		}
	} else {
		for n := range 3 {
			arms := slices.DeleteFunc(slices.Clone(chains), func(c chain) bool { return c.from != n || c.to >= 0 })
			if len(arms) != count {
				return picture{}, false
			}
			for g := range count {
				// the arms of one star meet in one point
				match := 0
				if n > 0 {
					match = max(0, slices.IndexFunc(arms, func(c chain) bool { return c.to == groups[g][0].to }))
				}
				groups[g] = append(groups[g], arms[match])
				arms = slices.Delete(arms, match, match+1)
			}
		}
	}
	long := len(chains[0].coils)
	s := scaleOf(long, count)
	var each []picture
	abreast, tallest, broadest := 0.0, 0.0, 0.0
	for _, g := range groups {
		one := s.star(g, lines)
		if delta {
			one = s.delta(g, lines)
		}
		each = append(each, one)
		abreast, tallest, broadest = abreast+one.width, max(tallest, one.height), max(broadest, one.width)
	}
	var all picture
	if abreast+3*float64(count-1) <= room(l.Narrow) {
		for n, one := range each {
			all.items = append(all.items, moved(one.items, all.width+3*float64(min(n, 1)), (tallest-one.height)/2)...)
			all.width += one.width + 3*float64(min(n, 1))
		}
		all.height = tallest
	} else {
		for n, one := range each {
			all.items = append(all.items, moved(one.items, (broadest-one.width)/2, all.height+3*float64(min(n, 1)))...)
			all.height += one.height + 3*float64(min(n, 1))
		}
		all.width = broadest
	}
	note := Words{At: Point{all.width / 2, all.height + 5}, Text: connectionName(delta, count, long), Size: tagSize, Anchor: Middle, Bold: true}
	if need := note.Length() + 1; need > all.width {
		all.items, all.width = moved(all.items, (need-all.width)/2, 0), need
		note.At.X = need / 2
	}
	all.items = append(all.items, note)
	all.height += 6.5
	return all, true
}

// room is how wide the coil picture may become: beside the terminal box on a page, beneath it on a phone.
func room(narrow bool) float64 {
	if narrow {
		return 90
	}
	return 108
}

// connectionName says in words what the picture shows.
func connectionName(delta bool, count, long int) string {
	name := "star"
	if delta {
		name = "delta"
	}
	switch {
	case count > 1:
		return "two " + name + "s, fed side by side"
	case long > 1:
		return name + ", two coils in series"
	}
	return name
}

// follow walks along the coils from each line and returns the lines' names and the chains found. It reports false unless there
// are three lines, every coil is used once, and all chains are alike.
func follow(l Leads) (lines []string, chains []chain, ok bool) {
	node := map[string]int{"": -1} // the joint of each mark; -1 is the star point inside the motor
	for n, j := range l.Joints {
		if j.Line != "" {
			lines = append(lines, j.Line)
			if n != len(lines)-1 {
				return nil, nil, false // lines come first
			}
		}
		for _, mark := range j.Leads {
			node[mark] = n
		}
	}
	if len(lines) != 3 || len(l.Coils) == 0 {
		return nil, nil, false
	}
	ends := map[int]int{} // how many coil ends meet in each joint
	for _, c := range l.Coils {
		for _, mark := range []string{c.From, c.To} {
			n, known := node[mark]
			if !known {
				return nil, nil, false
			}
			ends[n]++
		}
	}
	used := make([]bool, len(l.Coils))
	next := func(at int) (Coil, bool) {
		for n, c := range l.Coils {
			if used[n] {
				continue
			}
			if node[c.From] == at {
				used[n] = true
				return c, true
			}
			if node[c.To] == at {
				used[n] = true
				return Coil{From: c.To, To: c.From}, true
			}
		}
		return Coil{}, false
	}
	for line := range 3 {
		for {
			c, found := next(line)
			if !found {
				break
			}
			this := chain{from: line, coils: []Coil{c}}
			at := node[c.To]
			for at >= 3 && ends[at] == 2 {
				if c, found = next(at); !found {
					return nil, nil, false
				}
				this.coils = append(this.coils, c)
				at = node[c.To]
			}
			this.to = at
			if at < 0 || at >= 3 {
				this.to = -2 - at // -1 for the point inside, then the joints
			}
			chains = append(chains, inSense(this))
		}
	}
	if slices.Contains(used, false) || len(chains)%3 != 0 || len(chains) > 6 {
		return nil, nil, false
	}
	for _, c := range chains {
		if len(c.coils) != len(chains[0].coils) || len(c.coils) > 2 || c.to >= 0 != (chains[0].to >= 0) || c.to == c.from {
			return nil, nil, false
		}
	}
	return lines, chains, true
}

// inSense turns a side of a delta so that it runs from a line to the next.
func inSense(c chain) chain {
	if c.to < 0 || c.to == (c.from+1)%3 {
		return c
	}
	c.from, c.to = c.to, c.from
	slices.Reverse(c.coils)
	for n := range c.coils {
		c.coils[n].From, c.coils[n].To = c.coils[n].To, c.coils[n].From
	}
	return c
}

// scale are the sizes of a coil picture.
type scale struct{ ring, coil, link, centre, label float64 }

func scaleOf(long, count int) scale {
	if long > 1 || count > 1 {
		return scale{ring: 2.7, coil: 6.8, link: 2, centre: 4.4, label: 8}
	}
	return scale{ring: ringRadius, coil: 11, link: 2.5, centre: 5.4, label: 10}
}

// run draws the chain from a to the direction of the angle (degrees, clockwise from east) and returns the length used.
func (s scale) run(items *[]Item, coils []Coil, from Point, degrees float64, skipFirst, skipLast bool) float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	at := func(d float64) Point { return Point{from.X + d*cos, from.Y + d*sin} }
	var marks []Item
	d := 0.0
	mark := func(text string) {
		marks = append(marks, ringed(at(d+s.ring), text, s.ring)...)
		d += 2 * s.ring
	}
	for n, c := range coils {
		if n > 0 {
			*items = append(*items, Line{Points: []Point{at(d), at(d + s.link)}, Width: wireWidth})
			d += s.link
		}
		if c.From != "" && (n > 0 || !skipFirst) {
			mark(c.From)
		}
		r := s.coil / 8
		for k := range 4 {
			*items = append(*items, Circle{Centre: at(d + r*float64(2*k+1)), Radius: r, From: degrees + 180, To: degrees + 360, Width: wireWidth})
		}
		d += s.coil
		if c.To != "" && (n < len(coils)-1 || !skipLast) {
			mark(c.To)
		}
	}
	*items = append(*items, marks...)
	return d
}

// arms are the directions of a star's arms: up, lower right, lower left.
var arms = [3]float64{270, 30, 150}

// star draws three arms that meet in a point, the line at the outer end of each.
func (s scale) star(chains []chain, lines []string) picture {
	var items []Item
	length := s.link + s.chainLength(chains[0], false, false)
	reach := s.centre + length
	if chains[0].coils[len(chains[0].coils)-1].To == "" {
		reach = 2 + length
	}
	middle := Point{reach*math.Cos(math.Pi/6) + s.label, reach + 6.6}
	for n, c := range chains {
		sin, cos := math.Sincos(arms[n] * math.Pi / 180)
		outer := Point{middle.X + reach*cos, middle.Y + reach*sin}
		var arm []Item
		used := s.run(&arm, c.coils, Point{outer.X - s.link*cos, outer.Y - s.link*sin}, arms[n]+180, false, false)
		inner := Point{outer.X - (s.link+used)*cos, outer.Y - (s.link+used)*sin}
		items = append(items, Line{Points: []Point{inner, middle}, Width: wireWidth},
			Line{Points: []Point{outer, {outer.X - s.link*cos, outer.Y - s.link*sin}}, Width: 1, Ink: Accent})
		items = append(items, arm...)
		items = append(items, lineMark(outer, n, lines[n])...)
	}
	items = append(items, Circle{Centre: middle, Radius: 1, Filled: true})
	return picture{items, 2 * middle.X, middle.Y + reach/2 + 4}
}

// delta draws a triangle, a line at each corner.
func (s scale) delta(chains []chain, lines []string) picture {
	// a lead on two coils that meet in a corner has its ring in the corner
	shared := func(n int) bool {
		last := chains[(n+2)%3].coils
		return chains[n].coils[0].From == last[len(last)-1].To
	}
	corner := s.centre
	if shared(0) && shared(1) && shared(2) {
		corner = s.ring
	}
	side := 2*corner + s.chainLength(chains[0], shared(0), shared(1))
	h := side * math.Sqrt(3) / 2
	top := Point{side/2 + s.label + 2, 9.2}
	corners := [3]Point{top, {top.X + side/2, top.Y + h}, {top.X - side/2, top.Y + h}}
	var items, marks []Item
	for n, c := range chains {
		from, to := corners[n], corners[(n+1)%3]
		degrees := math.Atan2(to.Y-from.Y, to.X-from.X) * 180 / math.Pi
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		start := Point{from.X + corner*cos, from.Y + corner*sin}
		used := s.run(&items, c.coils, start, degrees, shared(n), shared((n+1)%3))
		items = append(items, Line{Points: []Point{from, start}, Width: wireWidth}, Line{Points: []Point{{start.X + used*cos, start.Y + used*sin}, to}, Width: wireWidth})
		outward := [3]float64{270, 30, 150}[n]
		sin, cos = math.Sincos(outward * math.Pi / 180)
		end := Point{from.X + 4.2*cos, from.Y + 4.2*sin}
		marks = append(marks, Line{Points: []Point{from, end}, Width: 1, Ink: Accent})
		marks = append(marks, lineMark(end, n, lines[n])...)
		if shared(n) {
			marks = append(marks, ringed(from, c.coils[0].From, s.ring)...)
		} else {
			marks = append(marks, Circle{Centre: from, Radius: 1, Filled: true})
		}
	}
	return picture{append(items, marks...), 2 * top.X, top.Y + h + 7}
}

// chainLength returns how long run draws the chain.
func (s scale) chainLength(c chain, skipFirst, skipLast bool) float64 {
	length := s.coil*float64(len(c.coils)) + s.link*float64(len(c.coils)-1)
	for n, coil := range c.coils {
		if coil.From != "" && (n > 0 || !skipFirst) {
			length += 2 * s.ring
		}
		if coil.To != "" && (n < len(c.coils)-1 || !skipLast) {
			length += 2 * s.ring
		}
	}
	return length
}

// lineMark sets the line's name beyond the end of its wire, for the arm or corner n.
func lineMark(end Point, n int, line string) []Item {
	w := Words{At: Point{end.X, end.Y - 1.5}, Text: line, Size: lineSize, Anchor: Middle, Bold: true, Ink: Accent}
	switch n {
	case 1:
		w.At, w.Anchor = Point{end.X + 1.2, end.Y + 2.4}, Start
	case 2:
		w.At, w.Anchor = Point{end.X - 1.2, end.Y + 2.4}, End
	}
	if w.At.Y-lineSize*typeface.CapHeight < 0 {
		w.At.Y = lineSize
	}
	return []Item{w}
}
