package drawing

import (
	"fmt"
	"math"
	"slices"
)

// Printing is how a template goes onto paper.
type Printing struct {
	// Width and Height are the room on a page, in millimetres.
	Width, Height float64
	// Across and Along stretch the drawing, so that it comes out true on a printer that makes everything a little smaller or larger: 100
	// divided by what its bar of 100 mm really measured. 0 stands for 1.
	Across, Along float64
}

// What a page of a template keeps for itself: the bars at its upper and left edge, and the overlap with its neighbours.
const (
	tileHead  = 17.0
	tileSide  = 9.0
	tileFoot  = 5.0
	overlap   = 12.0
	checkBar  = 100.0
	joinCross = 2.5
)

// Tiles draws the template at true scale on as many pages as it needs, row by row from the upper left. Each page carries two check
// bars, one each way, the side that it is laid on, and crosses in the overlap that come to lie on those of the next page. A cross also says where it stands
// from the datum, so that a page can be laid down by itself: pages on which no hole falls are left out.
func (t Template) Tiles(p Printing) []Figure {
	sx, sy := p.Across, p.Along
	if sx <= 0 {
		sx = 1
	}
	if sy <= 0 {
		sy = 1
	}
	// the sheet's rim of 2 mm shows that nothing is cut off
	const rim = 2.0
	wide, tall := (p.Width-tileSide-0.5)/sx, (p.Height-tileHead-tileFoot)/sy
	columns, rows := pagesFor(t.Width+2*rim, wide), pagesFor(t.Height+2*rim, tall)
	var figures []Figure
	for row := range rows {
		for column := range columns {
			left := -rim + float64(column)*(wide-overlap)
			top := t.Height + rim - float64(row)*(tall-overlap)
			width, height := min(wide, t.Width+rim-left), min(tall, top+rim)
			if !t.holesIn(left, top-height, width, height) {
				continue
			}
			w := window{t: t, left: left, low: top - height, wide: width, tall: height, sx: sx, sy: sy, off: Point{tileSide, tileHead}}
			name := pageName(column, row)
			title := t.Title
			if columns*rows > 1 {
				title = fmt.Sprintf("%s, page %s of %d", t.Title, name, columns*rows)
			}
			w.head(title, p)
			w.joins(column, row, columns, rows, wide, tall, rim)
			w.draw(false)
			figures = append(figures, Figure{ID: fmt.Sprintf("%s-%s", t.ID, name), Title: title, Alt: t.Alt, Width: p.Width, Height: max(tileHead+height*sy+tileFoot, tileHead+checkBar*sy+tileFoot), TrueScale: true, WholePage: true, Items: w.items})
		}
	}
	return figures
}

// holesIn reports whether a hole reaches into the rectangle of the drawn view; a template without holes is shown whole.
func (t Template) holesIn(left, low, width, height float64) bool {
	return len(t.Holes) == 0 || slices.ContainsFunc(t.Holes, func(h TemplateHole) bool {
		at, e := t.view(h.At), h.edge()
		return at.X+e > left && at.X-e < left+width && at.Y+e > low && at.Y-e < low+height
	})
}

// fromDatum writes a place of the drawn view as it is measured from the datum.
func (t Template) fromDatum(p Point) string {
	d := t.view(t.Datum)
	x, y := math.Abs(p.X-d.X), math.Abs(p.Y-d.Y)
	if t.Inch {
		return fmt.Sprintf("%.3f, %.3f in", x/25.4, y/25.4)
	}
	return fmt.Sprintf("%.1f, %.1f mm", x, y)
}

// pagesFor is how many pages of a length cover the whole with their overlaps.
func pagesFor(whole, page float64) int {
	if whole <= page {
		return 1
	}
	return 1 + int(math.Ceil((whole-page)/(page-overlap)-1e-9))
}

// head draws the check bars and says how the paper lies.
func (w *window) head(title string, p Printing) {
	bar := checkBar
	across, along := bar*w.sx, bar*w.sy
	say := func(x, y, size float64, text string, bold bool, ink Ink) {
		w.items = append(w.items, Words{At: Point{x, y}, Text: text, Size: size, Bold: bold, Ink: ink})
	}
	x, y := tileSide, 11.5
	w.items = append(w.items, Line{Points: []Point{{x, y}, {x + across, y}}, Width: 0.3}, Line{Points: []Point{{x, y - 2}, {x, y + 2}}, Width: 0.2}, Line{Points: []Point{{x + across, y - 2}, {x + across, y + 2}}, Width: 0.2})
	for n := 1; n < 10; n++ {
		w.items = append(w.items, Line{Points: []Point{{x + float64(n)*across/10, y - 1}, {x + float64(n)*across/10, y}}, Width: 0.15})
	}
	say(x+across+2, y+1, 2.4, "100 mm across", false, Faint)
	top := tileHead + 2
	low := top + along
	w.items = append(w.items, Line{Points: []Point{{4, top}, {4, low}}, Width: 0.3}, Line{Points: []Point{{2, top}, {6, top}}, Width: 0.2}, Line{Points: []Point{{2, low}, {6, low}}, Width: 0.2})
	for n := 1; n < 10; n++ {
		w.items = append(w.items, Line{Points: []Point{{3, top + float64(n)*along/10}, {4, top + float64(n)*along/10}}, Width: 0.15})
	}
	w.items = append(w.items, Words{At: Point{7.4, top + along/2 + 8}, Text: "100 mm along", Size: 2.4, Ink: Faint, Turned: true})
	head := Words{At: Point{tileSide, 5.5}, Text: title + ": " + w.t.side(), Size: 4, Bold: true}
	for head.Length() > p.Width-tileSide && head.Size > 2 {
		head.Size -= 0.1
	}
	w.items = append(w.items, head)
	if w.sx != 1 || w.sy != 1 {
		say(tileSide, 15.6, 2.2, fmt.Sprintf("stretched %.4f across and %.4f along for your printer: both bars must now measure 100 mm", w.sx, w.sy), false, Faint)
	} else {
		say(tileSide, 15.6, 2.2, "print at 100 %; if a bar isn't 100 mm long, write both lengths under “marking out” in the job file and print again", false, Faint)
	}
}

// joins draws the crosses of the overlaps, and the line along which a page is cut.
func (w *window) joins(column, row, columns, rows int, wide, tall, rim float64) {
	t := w.t
	cross := func(at Point, name string) {
		if !w.inside(at) || slices.ContainsFunc(t.Holes, func(h TemplateHole) bool {
			return math.Hypot(t.view(h.At).X-at.X, t.view(h.At).Y-at.Y) < h.edge()+2*joinCross
		}) {
			return
		}
		w.polyline([]Point{{at.X - joinCross, at.Y}, {at.X + joinCross, at.Y}}, Line{Ink: Alarm, Width: 0.15})
		w.polyline([]Point{{at.X, at.Y - joinCross}, {at.X, at.Y + joinCross}}, Line{Ink: Alarm, Width: 0.15})
		w.ring(at, 1.2, Line{Ink: Alarm, Width: 0.15})
		m := w.spot(at)
		w.taken = append(w.taken, Bounds{m.X - joinCross, m.Y - joinCross, m.X + joinCross, m.Y + joinCross})
		if lines := []string{name, t.fromDatum(at)}; !w.write(lines, Point{m.X + joinCross + 0.5, m.Y - 1}, Start) {
			w.write(lines, Point{m.X - joinCross - 0.5, m.Y - 1}, End)
		}
	}
	for n := 1; n < columns; n++ { // between column n-1 and n
		x := -rim + float64(n)*(wide-overlap) + overlap/2
		for k := range 2*rows + 1 {
			cross(Point{x, float64(k) * t.Height / float64(2*rows)}, fmt.Sprintf("%c%d", 'p'+n-1, k+1))
		}
		if n == column || n == column+1 {
			w.polyline([]Point{{x, -rim}, {x, t.Height + rim}}, Line{Ink: Faint, Width: 0.12, Dashed: true})
		}
	}
	for n := 1; n < rows; n++ {
		y := t.Height + rim - float64(n)*(tall-overlap) - overlap/2
		for k := range 2*columns + 1 {
			cross(Point{float64(k) * t.Width / float64(2*columns), y}, fmt.Sprintf("%c%d", 'u'+n-1, k+1))
		}
		if n == row || n == row+1 {
			w.polyline([]Point{{-rim, y}, {t.Width + rim, y}}, Line{Ink: Faint, Width: 0.12, Dashed: true})
		}
	}
}

// InOnePiece draws the whole template at true scale on one page as large as it needs.
func (t Template) InOnePiece(across, along float64) Figure {
	const rim = 2.0
	sx, sy := max(across, 0.1), max(along, 0.1)
	return t.Tiles(Printing{Width: (t.Width+2*rim)*sx + tileSide + 1, Height: (t.Height+2*rim)*sy + tileHead + tileFoot + 0.5, Across: across, Along: along})[0]
}
