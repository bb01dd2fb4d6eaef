package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/http"
	"regexp"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// boxState is what the box's page shows. Lengths are in millimetres from the enclosure's lower left back corner: x right, y up, z towards the
// door; whatever is read is a text in the reader's units already.
type boxState struct {
	Token   string     `json:"token"`
	Mark    string     `json:"mark"` // of what was arranged: a move is of this arrangement
	Beside  string     `json:"beside"`
	Units   string     `json:"units"`
	Undo    string     `json:"undo"`
	Redo    string     `json:"redo"`
	Work    boxWork    `json:"work"`
	Lead    string     `json:"lead"`
	Trial   bool       `json:"trial"` // it is around places that aren't written into the job yet
	Step    float64    `json:"step"`  // to which a dragged part snaps
	Hinge   string     `json:"hinge"`
	Size    triple     `json:"size"`  // of the enclosure
	Sheet   float64    `json:"sheet"` // its thickness
	Plate   solid      `json:"plate"`
	Parts   []boxPart  `json:"parts"`
	Rails   []solid    `json:"rails"`
	Entries []boxEntry `json:"entries"`
}

type triple [3]float64

// solid is a block: its lower left back corner and its size.
type solid struct {
	At   triple `json:"at"`
	Size triple `json:"size"`
}

type boxPart struct {
	solid
	Tag     string     `json:"tag"`
	Name    string     `json:"name"`
	Face    string     `json:"face"`
	Air     [6]float64 `json:"air"` // left, right, below, above, behind, before
	Power   bool       `json:"power"`
	Turned  bool       `json:"turned"`
	MayTurn bool       `json:"mayTurn"`
	Settled bool       `json:"settled"` // the job file says where it stands
	Movable bool       `json:"movable"`
	// What its panel says.
	Place   string   `json:"place"`
	Figures string   `json:"figures"`
	Wants   string   `json:"wants"`
	Clashes []string `json:"clashes"`
}

type boxEntry struct {
	Name string  `json:"name"`
	Face string  `json:"face"`
	At   triple  `json:"at"` // the middle of its hole
	Hole float64 `json:"hole"`
}

// openBox is the arrangement that a job's box pages show, for the moves that they ask about.
type openBox struct {
	mark   string
	result *box.Result
}

// handPlace is where a hand has put a part.
type handPlace struct {
	Tag    string  `json:"tag"`
	X      float64 `json:"x"` // millimetres from the lower left corner of its face
	Y      float64 `json:"y"`
	Turned bool    `json:"turned"`
}

func mm(l quantity.Length) float64 { return float64(l / quantity.Millimetre) }

// boxOf is the state of the job's box as the file is now. The bench's lock is held.
func (s *server) boxOf(name string, b *bench, units string) (boxState, plan.Plan, error) {
	text, token, err := s.Store.Load(name)
	if err != nil {
		return boxState{}, plan.Plan{}, err
	}
	b.timeline.see(token, text, changedElsewhere)
	worked := s.plan(name, text)
	work := s.arrange(b, &worked)
	u := worked.Units()
	if asked := system(units); asked != nil {
		u = *asked
	}
	state := boxState{Size: triple{}, Units: u.String(), Work: work, Lead: "There is nothing to arrange yet: the parts follow from the sheet."}
	if r := worked.Arranged; r != nil {
		b.box = openBox{plan.BoxMark(&r.Brief), r}
		state = stateOf(r, u)
		state.Work, state.Mark = work, b.box.mark
	} else if work.Arranging {
		state.Lead = work.Said
	}
	state.Token, state.Beside, state.Undo, state.Redo = token, s.beside(name, b), b.timeline.undo(), b.timeline.redo()
	return state, worked, nil
}

// stateOf lays an arrangement out for the page.
func stateOf(r *box.Result, u quantity.System) boxState {
	s := boxState{Units: u.String(), Step: 1, Hinge: r.Brief.Hinge(), Sheet: mm(r.Brief.Sheet().Value)}
	if u == quantity.InchUnits {
		s.Step = 25.4 / 16
	}
	room, found := r.Room()
	if !found {
		s.Lead = "No size that may be chosen holds all the parts. The sheet says of each why not."
		for n, c := range r.Clashes {
			if n == 0 {
				s.Lead += " Of the places that are settled, in the largest one:"
			}
			s.Lead += " " + c.What.Show(u) + "."
		}
		return s
	}
	s.Lead = fmt.Sprintf("Everything goes into %s: outside %s high, %s wide, %s deep.", room.Name, room.Height.Value.Show(u), room.Width.Value.Show(u), room.Depth.Value.Show(u))
	left, low := room.PlateCorner()
	face := room.PlateFace(r.Brief.Sheet().Value)
	in := func(at [3]quantity.Length) triple { return triple{mm(at[0] + left), mm(at[1] + low), mm(at[2] + face)} }
	s.Size = triple{mm(room.Width.Value), mm(room.Height.Value), mm(room.Depth.Value)}
	s.Plate = solid{triple{mm(left), mm(low), mm(face) - 2}, triple{mm(room.PlateWidth.Value), mm(room.PlateHeight.Value), 2}}
	for _, p := range r.Placed {
		if p.Face == box.Outside || p.Face == box.BackWall {
			continue
		}
		body := r.Brief.Bodies[p.Body]
		part := boxPart{solid: solid{in(p.At), triple{mm(p.Size[0]), mm(p.Size[1]), mm(p.Size[2])}}, Tag: body.Tag, Name: body.Name, Face: p.Face.String(), Power: body.Power,
			Turned: p.Turned, MayTurn: body.MayTurn, Settled: body.Spot != nil, Movable: p.Face == box.Plate || p.Face == box.Door, Air: airAround(&body, &p),
			Place: placeInWords(&p, u), Figures: fmt.Sprintf("%s wide, %s high, %s deep", body.Width.Value.Show(u), body.Height.Value.Show(u), body.Depth.Value.Show(u)), Wants: airInWords(&body, u)}
		s.Parts = append(s.Parts, part)
	}
	for _, c := range r.Brief.Check(&room, r.Placed) {
		s.tellClash(r, c, u)
	}
	for _, rail := range r.Rails {
		// a top-hat rail is 35 mm wide and 7.5 mm high (IEC 60715, from memory)
		at, size := triple{mm(rail.X + left), mm(rail.Y+low) - 17.5, mm(face)}, triple{mm(rail.Length), 35, 7.5}
		if rail.Upright {
			at, size = triple{mm(rail.X+left) - 17.5, mm(rail.Y + low), mm(face)}, triple{35, mm(rail.Length), 7.5}
		}
		s.Rails = append(s.Rails, solid{at, size})
	}
	for _, n := range r.Entries {
		s.Entries = append(s.Entries, boxEntry{n.Cable, n.Face.String(), inRoom(n, room), mm(n.Hole.Value)})
	}
	return s
}

// tellClash writes a clash to the parts that it is between.
func (s *boxState) tellClash(r *box.Result, c box.Clash, u quantity.System) {
	for n := range s.Parts {
		for _, body := range []int{c.A, c.B} {
			if body >= 0 && r.Brief.Bodies[body].Tag == s.Parts[n].Tag {
				s.Parts[n].Clashes = append(s.Parts[n].Clashes, c.What.Show(u))
			}
		}
	}
}

// airAround is the free air around a part as it stands: a quarter turn anticlockwise brings its top to the left.
func airAround(b *box.Body, p *box.Placed) [6]float64 {
	if p.Face != box.Plate {
		return [6]float64{}
	}
	side, above, below, front := mm(b.Sides.Value), mm(max(b.Above.Value, b.Bend.Value)), mm(max(b.Below.Value, b.Bend.Value)), mm(b.Front.Value)
	if p.Turned {
		return [6]float64{above, below, side, side, 0, front}
	}
	return [6]float64{side, side, below, above, 0, front}
}

// lengthIn is a length in words; nothing is nought of the small unit.
func lengthIn(l quantity.Length, u quantity.System) string {
	switch {
	case math.Abs(mm(l)) > 0.005:
		return l.Show(u)
	case u == quantity.InchUnits:
		return "0 in"
	}
	return "0 mm"
}

func placeInWords(p *box.Placed, u quantity.System) string {
	text := fmt.Sprintf("%s from the left, %s from below, on the %s", lengthIn(p.X, u), lengthIn(p.Y, u), p.Face)
	if p.Turned {
		text += ", on its side"
	}
	return text
}

func airInWords(b *box.Body, u quantity.System) string {
	var list []string
	for _, a := range []struct {
		where string
		much  quantity.Length
	}{{"above", max(b.Above.Value, b.Bend.Value)}, {"below", max(b.Below.Value, b.Bend.Value)}, {"at each side", b.Sides.Value}, {"in front", b.Front.Value}} {
		if a.much > 0 {
			list = append(list, a.much.Show(u)+" "+a.where)
		}
	}
	if list == nil {
		return "none"
	}
	return strings.Join(list, ", ")
}

// inRoom puts an entry's place on its face back into the enclosure.
func inRoom(n box.Entry, r box.Room) triple {
	w, h, d, x, y := mm(r.Width.Value), mm(r.Height.Value), mm(r.Depth.Value), mm(n.X), mm(n.Y)
	switch n.Face {
	case box.LeftWall:
		return triple{0, y, x}
	case box.RightWall:
		return triple{w, y, d - x}
	case box.TopWall:
		return triple{x, h, d - y}
	case box.BottomWall:
		return triple{x, 0, y}
	case box.BackWall:
		return triple{w - x, y, 0}
	case box.Door, box.Plate, box.Outside:
	}
	return triple{x, y, d}
}

// boxPage shows the page.
func (s *server) boxPage(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.missing(w)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	asked := r.FormValue("units")
	state, worked, err := s.boxOf(name, b, asked)
	if err != nil {
		s.missing(w)
		return
	}
	drawn, title, err := s.drawings(worked, asked)
	if err != nil {
		s.fail(w, err)
		return
	}
	written, err := json.Marshal(state)
	if err != nil {
		s.fail(w, err)
		return
	}
	s.show(w, "box.tmpl", struct {
		Name, Title, State, Asked string
		Drawings                  template.HTML
	}{name, title, string(written), asked, drawn})
}

var figures = regexp.MustCompile(`(?s)<figure.*?</figure>`)

// drawings are the sheet's own of the box: they stand in where a browser can't show it in space.
func (s *server) drawings(p plan.Plan, units string) (drawn template.HTML, title string, err error) {
	d := s.Build(p, View{Units: system(units)})
	parts, err := sheet.HTMLParts(d, sheet.LivePage)
	if err != nil {
		return "", "", err
	}
	for _, part := range parts {
		if part.ID == "s-where-everything-stands" {
			for _, f := range figures.FindAllString(string(part.HTML), -1) {
				drawn += template.HTML(f) // written by the sheet, which escapes every text
			}
		}
	}
	return drawn, d.Title, nil
}

// boxNow answers a page that wants the state of the box.
func (s *server) boxNow(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.fail(w, ErrMissing)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	s.answerBox(w, name, b, request{Units: r.FormValue("units")}, "")
}

// answerBox answers with the state of the box. The bench's lock is held.
func (s *server) answerBox(w http.ResponseWriter, name string, b *bench, q request, _ string) {
	state, _, err := s.boxOf(name, b, q.Units)
	if err != nil {
		s.fail(w, err)
		return
	}
	s.answer(w, http.StatusOK, state)
}
